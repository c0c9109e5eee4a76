//! From bytes to a text that may be parsed and shown.
//!
//! YAML readers let escape sequences, reordering characters and strange line breaks through or trip over them
//! without a place. Here each is found where it stands, before any parser sees the file.

use crate::diagnostic::{Diagnostic, Diagnostics, Severity};
use crate::source::SourceFile;
use crate::text;

/// Largest deck that is read, in bytes. Whoever opens a file should look at its size first.
pub const CAP: usize = 16 * 1024 * 1024;

/// What came of the bytes.
pub(super) struct Clean {
    /// The text, as far as there is one.
    pub(super) source: SourceFile,
    /// Whether a parser would see the text as its author does.
    pub(super) can_parse: bool,
}

/// Decodes a file and lists what may not stand in it.
pub(super) fn clean(name: &str, bytes: &[u8], found: &mut Diagnostics) -> Clean {
    let refused = |source| Clean {
        source,
        can_parse: false,
    };
    if bytes.len() > CAP {
        let source = SourceFile::new(name, "");
        found.push(too_large(&source, bytes.len()));
        return refused(source);
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => {
            let source = SourceFile::new(name, text);
            let hides = forbidden(&source, found);
            let tabs = tab_indentation(&source, found);
            Clean {
                source,
                can_parse: !hides && !tabs,
            }
        }
        Err(error) => {
            let source = SourceFile::new(name, String::from_utf8_lossy(bytes));
            found.push(not_utf_8(&source, bytes, error.valid_up_to()));
            refused(source)
        }
    }
}

fn too_large(source: &SourceFile, size: usize) -> Diagnostic {
    Diagnostic::error(
        "deck::too-large",
        format!("a deck of {size} bytes is not read; the most is {CAP}"),
        source.span(0..0),
        "",
    )
    .help("split it into several decks; topics with the same id stay one topic")
}

fn not_utf_8(source: &SourceFile, bytes: &[u8], at: usize) -> Diagnostic {
    let byte = bytes.get(at).copied().unwrap_or_default();
    let help = if bytes.starts_with(b"\xFF\xFE") || bytes.starts_with(b"\xFE\xFF") {
        "this looks like UTF-16: save the file as UTF-8"
    } else {
        "save the file as UTF-8"
    };
    // Up to `at` the replaced text and the bytes are the same.
    Diagnostic::error(
        "deck::not-utf-8",
        "the file is not UTF-8 text",
        source.span(at..at + 1),
        format!("byte {byte:#04x} does not belong here"),
    )
    .help(help)
}

/// Forbidden characters of one line that are told one by one.
const MOST_A_LINE: usize = 10;

/// Reports every forbidden character; true if one of them means something else to a parser than to the eye.
fn forbidden(source: &SourceFile, found: &mut Diagnostics) -> bool {
    let mut hides = false;
    // Plain ASCII, as nearly every deck is, needs no second look.
    if source
        .text()
        .bytes()
        .all(|byte| matches!(byte, b'\n' | b'\t' | b' '..=b'~'))
    {
        return hides;
    }
    let mut harmful = text::harmful(source.text()).peekable();
    while let Some((first, _)) = harmful.peek() {
        let line = source.line(source.line_at(*first));
        let mut count = 0;
        let is_here = |(at, _): &(usize, char)| *at <= line.end();
        while let Some((at, character)) = harmful.next_if(is_here) {
            hides |=
                character.is_control() || matches!(character, '\u{2028}' | '\u{2029}' | '\u{FEFF}');
            count += 1;
            if count <= MOST_A_LINE {
                found.push_with(Severity::Error, || {
                    forbidden_character(source, at, character)
                });
            }
        }
        if count > MOST_A_LINE {
            let more = format!("{} more such characters in this line", count - MOST_A_LINE);
            let span = source.first_line(line);
            found.push(
                Diagnostic::error("deck::forbidden-character", more, span, "here")
                    .help("see whether this is text at all; if it is, take them out"),
            );
        }
    }
    hides
}

fn forbidden_character(source: &SourceFile, at: usize, character: char) -> Diagnostic {
    let breaks_line = matches!(character, '\r' | '\u{85}' | '\u{2028}' | '\u{2029}');
    let span = source.span(at..at + character.len_utf8());
    Diagnostic::error(
        "deck::forbidden-character",
        format!("a deck may not hold {} here", named(character)),
        span,
        "unseen, or changes what is seen",
    )
    .help("take it out")
    .patch(span, if breaks_line { " " } else { "" })
}

/// A character by its code point and, if it often gets into texts, its name.
pub(super) fn named(character: char) -> String {
    let name = match character {
        '\0' => "null",
        '\u{7}' => "bell",
        '\u{8}' => "backspace",
        '\r' => "a carriage return without a line feed",
        '\u{1B}' => "escape",
        '\u{7F}' => "delete",
        '\u{85}' => "next line",
        '\u{AD}' => "soft hyphen",
        '\u{200B}' => "zero-width space",
        '\u{200C}' => "zero-width non-joiner",
        '\u{200D}' => "zero-width joiner",
        '\u{200E}' => "left-to-right mark",
        '\u{200F}' => "right-to-left mark",
        '\u{2028}' => "line separator",
        '\u{2029}' => "paragraph separator",
        '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' => "reorders the text",
        '\u{2060}' => "word joiner",
        '\u{FEFF}' => "byte order mark",
        _ => return text::code_point(character),
    };
    format!("{} ({name})", text::code_point(character))
}

/// YAML indents with spaces; a tab looks the same and is a syntax error far from its cause.
fn tab_indentation(source: &SourceFile, found: &mut Diagnostics) -> bool {
    let mut any = false;
    let mut start = 0;
    for line in source.text().split_inclusive('\n') {
        let (blank, rest) = line.split_at(indentation(line));
        if let Some(tab) = blank.find('\t').filter(|_| !rest.trim().is_empty()) {
            any = true;
            let diagnostic = Diagnostic::error(
                "deck::tab-indentation",
                "a tab in the indentation",
                source.span(start + tab..start + blank.len()),
                "YAML counts spaces only",
            )
            .help("indent with spaces, two a level");
            found.push(diagnostic);
        }
        start += line.len();
    }
    any
}

/// Bytes before what a line says: blanks, and the dashes of list entries.
fn indentation(line: &str) -> usize {
    let mut rest = line;
    while let Some(after) = rest.strip_prefix([' ', '\t']).or_else(|| {
        rest.strip_prefix('-')
            .filter(|after| after.starts_with([' ', '\t']))
    }) {
        rest = after;
    }
    line.len() - rest.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(bytes: &[u8]) -> (Vec<&'static str>, bool) {
        let mut found = Diagnostics::default();
        let clean = clean("a.yaml", bytes, &mut found);
        (found.iter().map(|one| one.code).collect(), clean.can_parse)
    }

    #[test]
    fn clean_text_passes_with_or_without_a_mark_at_the_start() {
        assert_eq!(codes("a: 下顎\r\n".as_bytes()), (vec![], true));
        assert_eq!(codes(b"\xEF\xBB\xBFa: b\n"), (vec![], true));
    }

    #[test]
    fn what_a_parser_would_misread_is_refused() {
        let forbidden = vec!["deck::forbidden-character"];
        assert_eq!(codes(b"a: \x1b[2J"), (forbidden.clone(), false));
        assert_eq!(codes("a: b\u{85}c".as_bytes()), (forbidden.clone(), false));
        assert_eq!(codes("a: no\u{202e}t".as_bytes()), (forbidden, true));
        // A line full of them is told in a few reports.
        let line = format!("a: {}\nb: \u{202e}", "\u{7}".repeat(5000));
        assert_eq!(codes(line.as_bytes()).0.len(), MOST_A_LINE + 2);
        let tab = vec!["deck::tab-indentation"];
        assert_eq!(codes(b"a:\n\tb: c"), (tab.clone(), false));
        assert_eq!(codes(b"a:\n- \tb"), (tab, false));
        assert_eq!(codes(b"a: b\tc\n\t\n- -1"), (vec![], true));
        assert_eq!(codes(b"a: \xff"), (vec!["deck::not-utf-8"], false));
        assert_eq!(
            codes(&vec![b'a'; CAP + 1]),
            (vec!["deck::too-large"], false)
        );
    }
}
