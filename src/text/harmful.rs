//! Which characters of a text could steer a terminal or deceive its reader.

use std::iter;

use unicode_normalization::char::is_combining_mark;
use unicode_width::UnicodeWidthChar as _;

/// Marks a base character may carry; more is no writing system's need and climbs over other lines.
const MARKS_A_BASE: usize = 4;

/// Every character of a text that may not stand where it does, with its byte offset: a deck that holds one is
/// refused, a screen shows its code point.
///
/// Line breaks (also CR LF) and tabs are not among them. Joiners may stand between letters or pictographs only, marks
/// not at the start of a line or word and not more than four on a base.
pub fn harmful(text: &str) -> impl Iterator<Item = (usize, char)> {
    let mut characters = text.char_indices().peekable();
    let mut before = Before::Start;
    iter::from_fn(move || {
        loop {
            let (at, character) = characters.next()?;
            let next = characters.peek().map(|(_, next)| *next);
            let (is_harmful, now) = judge(before, character, next);
            before = now;
            if is_harmful {
                return Some((at, character));
            }
        }
    })
}

/// What a character follows, as far as marks and joiners care.
#[derive(Clone, Copy)]
enum Before {
    /// A line's start, a space or an escaped character: nothing to carry a mark.
    Start,
    /// A base with so many marks.
    Base { joins: bool, marks: usize },
}

fn judge(before: Before, character: char, next: Option<char>) -> (bool, Before) {
    let base = |joins| Before::Base { joins, marks: 0 };
    match character {
        '\n' | ' ' | '\t' => (false, Before::Start),
        '\r' if next == Some('\n') => (false, Before::Start),
        '!'..='~' => (false, base(character.is_ascii_alphabetic())),
        '\u{200C}' | '\u{200D}' => match before {
            Before::Base { joins: true, .. } if next.is_some_and(joins) => (false, base(false)),
            _ => (true, Before::Start),
        },
        _ if is_forbidden(character) => (true, Before::Start),
        _ if is_combining_mark(character) => match before {
            Before::Base { joins, marks } if marks < MARKS_A_BASE => {
                let marks = marks + 1;
                (false, Before::Base { joins, marks })
            }
            Before::Base { .. } | Before::Start => (true, Before::Start),
        },
        _ => (false, base(joins(character))),
    }
}

/// Whether a joiner may touch the character: letters, and the blocks that hold pictographs.
fn joins(character: char) -> bool {
    character.is_alphabetic()
        || matches!(character, '\u{2190}'..='\u{2BFF}' | '\u{1F000}'..='\u{1FAFF}')
}

/// Whether a character may stand nowhere: controls, invisible and reordering characters, fillers, tags,
/// noncharacters, and whatever else takes no cell and is no mark.
#[must_use]
pub fn is_forbidden(character: char) -> bool {
    match character {
        // Conjoining vowels and finals of Hangul take no cell of their own but are seen.
        '\n'
        | '\t'
        | '\u{200C}'
        | '\u{200D}'
        | '\u{1161}'..='\u{11FF}'
        | '\u{D7B0}'..='\u{D7FF}' => false,
        '\u{00AD}'
        | '\u{034F}'
        | '\u{061C}'
        | '\u{115F}'..='\u{1160}'
        | '\u{17B4}'..='\u{17B5}'
        | '\u{180B}'..='\u{180F}'
        | '\u{200B}'
        | '\u{200E}'..='\u{200F}'
        | '\u{2028}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}'
        | '\u{3164}'
        | '\u{FDD0}'..='\u{FDEF}'
        | '\u{FEFF}'
        | '\u{FFA0}'
        | '\u{FFF0}'..='\u{FFFB}'
        | '\u{E0000}'..='\u{E0FFF}' => true,
        _ if u32::from(character) & 0xFFFE == 0xFFFE => true,
        _ if character.is_control() => true,
        _ => character.width() == Some(0) && !is_combining_mark(character),
    }
}
