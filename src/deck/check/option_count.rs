//! Too few options to choose from, or more than anybody fills with plausible ones.

use super::asked::Asked;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::option-count",
    severity: Severity::Warning,
    why: "of two options a guesser gets one item in two; past four, the further distractors are hardly ever chosen \
          (Rodriguez 2005: three options are optimal; Haladyna, Downing & Rodriguez 2002, guideline 18)",
    help: "three or four options, each of which a candidate could believe",
    wrong: "Does the lingual nerve carry taste?\n* Yes, by the chorda tympani\n- No, that is the facial nerve",
    right: "Which fibres carry taste in the lingual nerve?\n* Chorda tympani\n- Lesser petrosal\n- Auriculotemporal",
    find: Find::Item(find),
};

const LEAST: usize = 3;
const MOST: usize = 5;

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let count = asked.options.len();
    let span = asked.key_span("options");
    if asked.choice().is_some() && count < LEAST {
        flaws.push(Flaw::new(
            "only two options",
            span,
            "half of all guesses are right",
        ));
    } else if count > MOST {
        flaws.push(
            Flaw::new(
                format!("{count} options"),
                span,
                "more than candidates tell apart",
            )
            .advice(),
        );
    }
}
