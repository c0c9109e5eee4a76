//! A word of the stem that comes back in the key alone.

use std::collections::HashSet;

use super::about_options::of_others;
use super::asked::Asked;
use super::words::{Prose, stem};
use super::{Find, Flaw, Rule};
use crate::deck::model::Body;
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::clang",
    severity: Severity::Warning,
    why: "a word that stem and key share, and no distractor has, leads a guesser to the key by its sound; \
          a typed answer that stands in the stem is copied (Haladyna, Downing & Rodriguez 2002, guideline 28b; NBME item-writing guide)",
    help: "use another word in the stem, or let a distractor share it as well",
    wrong: "A root tip has been displaced into the antrum. Which complication follows?\n* Displaced root sinusitis\n- Dry socket\n- Trismus",
    right: "A root tip has been pushed into the antrum. Which complication follows?\n* Sinusitis\n- Dry socket\n- Trismus",
    find: Find::EnglishItem(find),
};

/// Shortest common part of two longer words that is heard.
const PART: usize = 6;
/// Length from which a whole word of the stem within one of the key is heard.
const LOUD: usize = 8;

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    if matches!(asked.item.body, Body::Short(_)) {
        flaws.extend(given_away(asked));
    }
    let Some((key, others)) = asked.single() else {
        return;
    };
    let Some(first) = asked.stems.first().filter(|_| others.len() > 1) else {
        return;
    };
    // "All of the listed drugs" has the stem's words and no sound of its own.
    let place = asked.options.iter().position(|given| given.option.key);
    if of_others(&key.text, place.unwrap_or_default(), asked.options.len()).is_some() {
        return;
    }
    let in_stem: HashSet<&str> = first.text.content().collect();
    let is_elsewhere = |word: &str| {
        others
            .iter()
            .any(|given| given.text.content().any(|other| other == word))
    };
    let echo = key.text.words.iter().find(|word| {
        word.root()
            .is_some_and(|root| in_stem.contains(root) && !is_elsewhere(root) && !is_generic(root))
    });
    if let Some(word) = echo {
        let span = asked.pin(key.span, word.raw);
        let flaw = Flaw::new(
            format!(
                "`{}` is in the stem, in the key and in no distractor",
                word.raw
            ),
            span,
            "sounds like the stem",
        );
        // In a short key the word is most of what there is to hear, unless a distractor has an echo of its own.
        let words = key.text.content().count();
        let in_key = |word: &str| key.text.content().any(|other| other == word);
        let shares = others.iter().any(|given| {
            let mut words = given.text.content();
            words.any(|word| in_stem.contains(word) && !is_generic(word) && !in_key(word))
        });
        flaws.push(if words <= 3 && !shares {
            flaw
        } else {
            flaw.advice()
        });
    } else if let Some((word, part)) = part(
        &key.text,
        &first.text,
        &others.iter().map(|given| &given.text).collect::<Vec<_>>(),
    ) {
        let span = asked.pin(key.span, &word);
        let message = format!("`{part}` is part of a word of the stem and of the key alone");
        let flaw = Flaw::new(message, span, "sounds like the stem");
        // A whole long word within another is heard as well as the word itself.
        let is_loud = part.len() >= LOUD && word.to_lowercase().contains(&part);
        flaws.push(if is_loud && first.text.has(&part) {
            flaw
        } else {
            flaw.advice()
        });
    }
}

/// A typed answer all of whose words are in the stem.
fn given_away(asked: &Asked<'_>) -> Option<Flaw> {
    let Body::Short(short) = &asked.item.body else {
        return None;
    };
    let stem = &asked.stems.first()?.text;
    let answer = Prose::new(short.accept.first()?);
    let is_told = |root: &str| stem.content().any(|other| other == root);
    let is_all = answer.content().all(is_told) && answer.content().any(|root| !is_generic(root));
    let node = asked.node.get("accept")?.nodes().first()?;
    is_all.then(|| {
        Flaw::new(
            "every word of the answer is in the stem",
            node.span,
            "can be copied from the stem",
        )
    })
}

/// Stems of words that are in many stems and keys by chance.
const GENERIC: [&str; 41] = [
    "tooth",
    "teeth",
    "bone",
    "nerve",
    "artery",
    "socket",
    "molar",
    "root",
    "extract",
    "surgeon",
    "surg",
    "surgical",
    "flap",
    "tissue",
    "wound",
    "mandible",
    "maxilla",
    "mandibular",
    "maxillary",
    "third",
    "line",
    "area",
    "time",
    "hour",
    "days",
    "week",
    "month",
    "risk",
    "treat",
    "treatment",
    "manage",
    "management",
    "pain",
    "bleed",
    "clinic",
    "clinical",
    "dental",
    "dentist",
    "oral",
    "mouth",
    "high",
];

/// Whether a word, cut to its stem, is in many stems and keys by chance.
fn is_generic(root: &str) -> bool {
    GENERIC.iter().any(|word| stem(word) == root)
}

/// A word of the key with a part that a longer word of the stem shares and no distractor has.
fn part(key: &Prose<'_>, asked: &Prose<'_>, others: &[&Prose<'_>]) -> Option<(String, String)> {
    let is_long = |root: &&str| root.len() >= PART;
    for word in &key.words {
        let Some(own) = word.root().filter(is_long) else {
            continue;
        };
        for other in asked.content().filter(is_long) {
            let common = if own.contains(other) {
                other
            } else if other.contains(own) {
                own
            } else {
                // Another ending than a crude stem knows: follicle, follicular.
                let letters = own.bytes().zip(other.bytes());
                let length = letters.take_while(|(one, two)| one == two).count();
                own.get(..length)
                    .filter(|_| length >= PART)
                    .unwrap_or_default()
            };
            if common.is_empty() {
                continue;
            }
            let is_elsewhere = others
                .iter()
                .any(|text| text.low().any(|word| word.contains(common)));
            if own != other && !is_elsewhere && !GENERIC.iter().any(|word| common.starts_with(word))
            {
                return Some((word.raw.to_owned(), common.to_owned()));
            }
        }
    }
    None
}
