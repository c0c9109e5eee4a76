//! A long story that the question does not need.

use std::collections::HashSet;

use super::asked::{Asked, behind_stem};
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
    // The parts of a case are what its vignette is for.
    let behind: Vec<Prose<'_>> = behind_stem(asked.item).map(Prose::new).collect();
    let taken_up: HashSet<&str> = behind.iter().flat_map(Prose::content).collect();
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

#[cfg(test)]
mod tests {
    use super::super::trial::told_of_cases_by;

    #[test]
    fn parts_take_up_the_vignette_of_their_case() {
        let vignette = "A 62-year-old retired teacher with osteoporosis has taken alendronate for six years and \
            prednisolone for polymyalgia. Her lower molar broke while chewing last week. The roots are retained, the \
            gingiva bleeds on probing, percussion hurts, and a film shows a radiolucency around the distal root. Her \
            pressure is raised, she smokes ten cigarettes daily, and she fears needles more than anything else.";
        let told = |rationale: &str| {
            let part = format!(
                "stem: What is the risk?, rationale: {rationale:?}, \
                 options: [{{text: Necrosis, key: true}}, {{text: Bleeding, why: Wrong.}}]"
            );
            told_of_cases_by(super::RULE.code, 1, vignette, &part).len()
        };
        assert_eq!(told("The jaw dies."), 1);
        let taken_up = "Alendronate and prednisolone for years, smoking of cigarettes, retained roots, bleeding \
            gingiva, percussion and a radiolucency raise it.";
        assert_eq!(told(taken_up), 0);
    }
}
