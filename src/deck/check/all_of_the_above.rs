//! "All of the above": who sees that two options are right need not know the third.

use super::about_options::{Says, report};
use super::asked::Asked;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::all-of-the-above",
    severity: Severity::Warning,
    why: "whoever knows two options to be right has found the key without the rest, and shuffled options have no \
          \"above\" (Haladyna, Downing & Rodriguez 2002, guideline 26; NBME item-writing guide)",
    help: "make the kind `multiple`, or write a distractor in its place",
    wrong: "Which nerve is a branch of V3?\n* All of the above\n- Lingual nerve\n- Buccal nerve",
    right: "Which nerve is a branch of the maxillary nerve?\n* Infraorbital nerve\n- Lingual nerve\n- Buccal nerve",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    report(
        asked,
        Says::All,
        "an option that stands for all others",
        flaws,
    );
}
