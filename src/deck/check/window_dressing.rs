//! A long story that the question does not need.

use std::collections::HashSet;

use super::asked::Asked;
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::window-dressing",
    severity: Severity::Advice,
    why: "words that play no part in the answer test reading speed (Haladyna, Downing & Rodriguez 2002, guidelines 13 and 16; \
          real vignettes must be long, so a person has to judge)",
    help: "leave out what neither options nor rationale take up, or take it up in the rationale",
    wrong: "On a rainy Tuesday in late November the practice beside the railway station had been busy since half past seven, the autoclave had broken down twice, the receptionist was on leave, and a retired bus driver \
            who keeps pigeons, plays the accordion and had driven forty miles through heavy traffic with his sister to reach you came in with a letter from his former dentist. Which nerve supplies the lower lip?\n* Mental nerve\n- Lingual nerve\n- Facial nerve",
    right: "Which nerve gives feeling to the lower lip?\n* Mental nerve\n- Lingual nerve\n- Facial nerve",
    find: Find::EnglishItem(find),
};

const LONG: usize = 60;

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let Some(stem) = asked
        .stems
        .first()
        .filter(|stem| stem.text.words.len() > LONG)
    else {
        return;
    };
    let rationale = Prose::new(&asked.item.rationale);
    let reasons: Vec<Prose<'_>> = asked
        .options
        .iter()
        .filter_map(|given| given.option.why.as_deref())
        .map(Prose::new)
        .collect();
    let options = asked.options.iter().map(|given| &given.text);
    let taken_up: HashSet<&str> = options
        .chain([&rationale])
        .chain(&reasons)
        .flat_map(Prose::content)
        .collect();
    let told: HashSet<&str> = stem.text.content().collect();
    let used = told.iter().filter(|word| taken_up.contains(*word)).count();
    if used * 5 < told.len() && !told.is_empty() {
        let message = format!(
            "{} of the {} telling words of a long stem come up nowhere else",
            told.len() - used,
            told.len()
        );
        flaws.push(Flaw::new(message, stem.span, "is all of this needed?"));
    }
}
