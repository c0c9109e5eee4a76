//! Every code at length: why, what to do, a wrong and a right example.
//!
//! What the rules of item writing say is told by the rules themselves; the faults of the format are in [`faults`], those of
//! computed numbers in [`numbers`].

mod faults;
mod numbers;
mod pictures;

use super::check::{self, RULES};
use super::read::nearest;
use crate::diagnostic::Severity;
use faults::FAULTS;
use numbers::NUMBERS;
use pictures::PICTURES;

/// A code at length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Explanation {
    /// The code, such as `deck::key-longest`.
    pub code: &'static str,
    /// How bad it is; some rules have milder cases.
    pub severity: Severity,
    /// Why it matters, with the published guideline.
    pub why: &'static str,
    /// What to do.
    pub help: &'static str,
    /// An example of it: lines of a deck, or a question with `*` before its key.
    pub wrong: &'static str,
    /// The same, mended.
    pub right: &'static str,
    /// Whether an item may break it on purpose.
    pub can_be_allowed: bool,
}

/// All codes in order.
#[must_use]
pub fn explanations() -> Vec<Explanation> {
    let of_rules = RULES.iter().map(|rule| Explanation {
        code: rule.code,
        severity: rule.severity,
        why: rule.why,
        help: rule.help,
        wrong: rule.wrong,
        right: rule.right,
        can_be_allowed: check::codes().any(|code| code == rule.code),
    });
    let mut all: Vec<Explanation> = of_rules
        .chain(FAULTS.iter().copied())
        .chain(NUMBERS.iter().copied())
        .chain(PICTURES.iter().copied())
        .collect();
    all.sort_by_key(|told| told.code);
    all
}

/// What there is to say about a code; `deck::` may be left out.
///
/// # Errors
/// The code that was probably meant, if there is one like it.
pub fn explain(code: &str) -> Result<Explanation, Option<&'static str>> {
    let bare = code.trim().trim_start_matches("deck::");
    let name = |told: &Explanation| told.code.trim_start_matches("deck::");
    let all = explanations();
    match all.iter().find(|told| name(told) == bare) {
        Some(told) => Ok(*told),
        None => Err(nearest(bare, all.iter().map(name))
            .and_then(|near| all.iter().find(|told| name(told) == near))
            .map(|told| told.code)),
    }
}
