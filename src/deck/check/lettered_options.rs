//! Options that bring letters or numbers of their own.

use super::asked::{Asked, Given};
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::lettered-options",
    severity: Severity::Warning,
    why: "options get their letters when they are shown, in another order at each asking: a second letter in the text \
          contradicts the first (common practice)",
    help: "take the letters out of the texts",
    wrong: "What is done first?\n* a) Locate the tip\n- b) Enlarge the socket\n- c) Raise a flap",
    right: "What is done first?\n* Locate the tip\n- Enlarge the socket\n- Raise a flap",
    find: Find::Item(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    if let [first, second, ..] = lettered(&asked.options).as_slice() {
        let message = "the options have letters of their own";
        let flaw = Flaw::new(message, first.span, "a letter in the text");
        flaws.push(flaw.related(second.span, "and here"));
    }
}

/// The options with a letter or number in front that tells no more than their place.
pub(super) fn lettered<'a, 't>(options: &'a [Given<'t>]) -> Vec<&'a Given<'t>> {
    let (marks, lettered): (Vec<Mark>, Vec<_>) = options
        .iter()
        .filter_map(|given| Some((mark(given.text.raw)?, given)))
        .unzip();
    // "S. aureus" and "E. coli", "N. facialis" and "N. lingualis" are names: letters of places are the first ones.
    let mut letters: Vec<u8> = marks
        .iter()
        .filter(|mark| !mark.is_sure)
        .map(|mark| mark.letter)
        .collect();
    letters.sort_unstable();
    let is_lettering = letters.is_empty() || (b'a'..).zip(&letters).all(|(one, two)| one == *two);
    if is_lettering { lettered } else { Vec::new() }
}

/// A letter or digit in front of a text.
struct Mark {
    /// In lower case.
    letter: u8,
    /// No name has it: there is a bracket.
    is_sure: bool,
}

/// "a) ...", "B. ...", "(c) ...", "1) ..."; "1. ..." may be a number and is left alone.
fn mark(text: &str) -> Option<Mark> {
    let (mark, _) = text.split_once(' ')?;
    let mark = mark.strip_prefix('(').unwrap_or(mark);
    let (letter, is_sure) = match mark.as_bytes() {
        [letter, b')'] if letter.is_ascii_alphanumeric() => (letter, true),
        [letter, b'.' | b':'] if letter.is_ascii_alphabetic() => (letter, false),
        _ => return None,
    };
    Some(Mark {
        letter: letter.to_ascii_lowercase(),
        is_sure,
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{told_by, told_in_german_by};

    const CODE: &str = "deck::lettered-options";

    #[test]
    fn short_names_are_no_letters_of_options() {
        let told = |options: &str| told_by(CODE, &format!("Which of them is it?\n{options}")).len();
        assert_eq!(told("* S. aureus\n- E. coli\n- C. albicans"), 0);
        assert_eq!(told("* A. facialis\n- A. lingualis\n- V. jugularis"), 0);
        assert_eq!(told("* A. Staphylococci\n- B. Colibacilli\n- C. Yeasts"), 1);
        assert_eq!(told("- b. Colibacilli\n* a. Staphylococci\n- Yeasts"), 1);
        assert_eq!(told("- 2) Colibacilli\n* 1) Staphylococci\n- 3) Yeasts"), 1);
        let nerves = "Welcher Nerv?\n* N. lingualis\n- N. mentalis\n- N. facialis";
        assert_eq!(told_in_german_by(CODE, nerves), [""; 0]);
    }
}
