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
    let mut lettered = asked.options.iter().filter(|given| is_lettered(given));
    if let (Some(first), Some(second)) = (lettered.next(), lettered.next()) {
        let message = "the options have letters of their own";
        let flaw = Flaw::new(message, first.span, "a letter in the text");
        flaws.push(flaw.related(second.span, "and here"));
    }
}

/// "a) ...", "B. ...", "(c) ...", "1) ..."; "1. ..." may be a number and is left alone.
pub(super) fn is_lettered(given: &Given<'_>) -> bool {
    let Some((mark, _)) = given.text.raw.split_once(' ') else {
        return false;
    };
    let mark = mark.strip_prefix('(').unwrap_or(mark);
    match mark.as_bytes() {
        [letter, b')'] => letter.is_ascii_alphanumeric(),
        [letter, b'.' | b':'] => letter.is_ascii_alphabetic(),
        _ => false,
    }
}
