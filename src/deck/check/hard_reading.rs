//! Sentences that must be read twice.

use super::asked::Asked;
use super::words::{Prose, sentences};
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::hard-reading",
    severity: Severity::Advice,
    why: "reading takes time from thinking, and most from those who read in a second language \
          (Haladyna, Downing & Rodriguez 2002, guidelines 8 and 13)",
    help: "make two sentences of it, and take one bracket out of the other",
    wrong: "Which structure is most at risk when, after a mucoperiosteal flap has been raised on the lingual side of a lower third molar that lies deep and tilted towards the tongue, a bur is taken through the lingual plate without anything to guard the soft tissue behind it?\n* Lingual nerve\n- Mental nerve\n- Facial nerve",
    right: "A bur is taken through the lingual plate beside a lower third molar with nothing behind it. Which structure is most at risk?\n* Lingual nerve\n- Mental nerve\n- Facial nerve",
    find: Find::EnglishItem(find),
};

const MOST: usize = 35;

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    for stem in &asked.stems {
        let starts = sentences(stem.text.raw);
        let ends = starts.iter().skip(1).copied().chain([stem.text.raw.len()]);
        let longest = starts
            .iter()
            .zip(ends)
            .map(|(start, end)| {
                stem.text
                    .words
                    .iter()
                    .filter(|word| (*start..end).contains(&word.at))
                    .count()
            })
            .max()
            .unwrap_or_default();
        if longest > MOST {
            flaws.push(Flaw::new(
                format!("a sentence of {longest} words"),
                stem.span,
                format!("past {MOST} words many read twice"),
            ));
        }
    }
    let texts = asked
        .stems
        .iter()
        .map(|stem| (&stem.text, stem.span))
        .chain(asked.options.iter().map(|given| (&given.text, given.span)));
    if let Some((_, span)) = texts.into_iter().find(|(text, _)| nests(text)) {
        flaws.push(Flaw::new(
            "a bracket within a bracket",
            span,
            "hard to read",
        ));
    }
}

fn nests(text: &Prose<'_>) -> bool {
    let mut depth = 0_usize;
    text.raw.chars().any(|character| {
        match character {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        depth > 1
    })
}
