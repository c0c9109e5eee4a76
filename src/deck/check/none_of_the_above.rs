//! "None of the above": being right about what is wrong is not knowing what is right.

use super::about_options::{Says, report};
use super::asked::Asked;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::none-of-the-above",
    severity: Severity::Warning,
    why: "as a key it shows only that the candidate knows what is wrong, and shuffled options have no \"above\" \
          (Haladyna, Downing & Rodriguez 2002, guideline 25; NBME item-writing guide)",
    help: "name the right answer, or write a distractor in its place",
    wrong: "Which nerve is a branch of V1?\n* None of the above\n- Lingual nerve\n- Mental nerve",
    right: "Which nerve is a branch of V1?\n* Supraorbital nerve\n- Lingual nerve\n- Mental nerve",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    report(asked, Says::None, "an option that denies all others", flaws);
}
