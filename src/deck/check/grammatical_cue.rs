//! Options that do not fit the sentence they complete.

use super::asked::{Asked, Given, Stem};
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::grammatical-cue",
    severity: Severity::Warning,
    why: "whoever listens to the sentence can strike out what does not fit it, without knowing the matter \
          (Haladyna, Downing & Rodriguez 2002, guideline 28c; NBME item-writing guide)",
    help: "end the stem so that every option can follow: move `a` or `an` into the options, or ask a whole question",
    wrong: "A cyst around the crown of an unerupted tooth is an\n* Eruption or dentigerous cyst\n- Radicular cyst\n- Nasopalatine cyst",
    right: "A cyst around the crown of an unerupted tooth is called\n* an eruption or dentigerous cyst\n- a radicular cyst\n- a nasopalatine cyst",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    if asked.options.len() < 2 {
        return;
    }
    for stem in &asked.stems {
        article(asked, stem, flaws);
        number(asked, stem, flaws);
        verb(asked, stem, flaws);
    }
}

/// A stem that ends in `a` or `an`.
fn article(asked: &Asked<'_>, stem: &Stem<'_>, flaws: &mut Vec<Flaw>) {
    let ending = stem
        .text
        .raw
        .trim_end_matches([':', '.', '…', '_', ' ', '-', '–', '?']);
    let Some(last) = stem.text.words.last() else {
        return;
    };
    let is_article =
        matches!(last.raw, "a" | "an") && ending.ends_with(last.raw) && !ending.ends_with("/an");
    if !is_article {
        return;
    }
    let wants_vowel = last.low == "an";
    let misfit = asked
        .options
        .iter()
        .find(|given| vowel_sound(&given.text).is_some_and(|vowel| vowel != wants_vowel));
    if let Some(given) = misfit {
        let message = format!(
            "the stem ends in `{}` and not every option can follow it",
            last.raw
        );
        flaws.push(Flaw::new(message, given.span, "cannot follow").related(stem.span, "ends here"));
    }
}

/// Whether a text starts with the sound of a vowel; `None` where only the speaker knows.
fn vowel_sound(text: &Prose<'_>) -> Option<bool> {
    let first = text.words.first()?;
    let low = first.low.as_ref();
    if matches!(low, "a" | "an" | "the") {
        return None;
    }
    if low.bytes().all(|byte| byte.is_ascii_digit()) {
        return Some(low.starts_with('8') || matches!(low, "11" | "18"));
    }
    let is_letter = first.raw.len() == 1;
    // "S. aureus": as the name or as the letter.
    let behind = text.raw.get(first.at + first.raw.len()..);
    if is_letter && behind.is_some_and(|behind| behind.starts_with('.')) {
        return None;
    }
    let is_name = first.raw.len() <= 5
        && first
            .raw
            .chars()
            .all(|character| character.is_ascii_uppercase());
    let letter = low.chars().next()?;
    if is_name {
        // Read letter by letter ("an MRI") unless it is read as a word ("a NICE guideline").
        // A vowel between consonants makes a word of it.
        let inner = first
            .raw
            .get(1..first.raw.len().max(2) - 1)
            .unwrap_or_default();
        let has_vowel = inner.chars().any(|character| "AEIOU".contains(character));
        return (!has_vowel).then(|| "aefhilmnorsx".contains(letter));
    }
    let silent_h = ["hour", "honest", "honour", "heir"]
        .iter()
        .any(|start| low.starts_with(start));
    let spoken_y = [
        "uni", "use", "usu", "util", "eu", "one", "once", "ubiq", "ureth", "urete", "uric", "uvul",
        "uter", "ewe",
    ]
    .iter()
    .any(|start| low.starts_with(start))
        && !["unin", "unim", "unid"]
            .iter()
            .any(|start| low.starts_with(start));
    Some(silent_h || ("aeiou".contains(letter) && !spoken_y))
}

/// A stem that asks for one thing or for several, and options that give the other.
fn number(asked: &Asked<'_>, stem: &Stem<'_>, flaws: &mut Vec<Flaw>) {
    let Some((key, others)) = asked.single() else {
        return;
    };
    let Some(wants_plural) = wanted(&stem.lead_in) else {
        return;
    };
    let fits = |given: &Given<'_>| is_plural(&given.text) == wants_plural;
    let misfits = others.iter().filter(|given| !fits(given)).count();
    // The key alone fits, or one option alone does not.
    if fits(key) && misfits > 0 && (misfits == others.len() || (misfits == 1 && others.len() > 1)) {
        let shown = others
            .iter()
            .find(|given| !fits(given))
            .map_or(key.span, |given| given.span);
        let what = if wants_plural {
            "several things"
        } else {
            "one thing"
        };
        flaws.push(
            Flaw::new(
                format!("the stem asks for {what} and not every option gives that"),
                shown,
                "does not fit",
            )
            .advice(),
        );
    }
}

/// A stem that lacks its verb, which one option alone begins with: "the surgeon first / removes bone".
fn verb(asked: &Asked<'_>, stem: &Stem<'_>, flaws: &mut Vec<Flaw>) {
    // Behind these a noun goes on: "arises from the ...", "is called ...".
    const WANTS_NOUN: [&str; 18] = [
        "is", "are", "was", "were", "be", "called", "from", "by", "to", "of", "in", "with",
        "through", "for", "include", "includes", "the", "and",
    ];
    let Some(last) = stem.text.words.last() else {
        return;
    };
    let is_open = stem.text.raw.trim_end().ends_with(char::is_alphabetic);
    if !is_open || WANTS_NOUN.contains(&last.low.as_ref()) {
        return;
    }
    let is_noun = |given: &&Given<'_>| {
        let mut low = given.text.low();
        matches!(low.next(), Some("the" | "a" | "an")) || low.next() == Some("of")
    };
    let mut verbs = asked.options.iter().filter(|given| !is_noun(given));
    let (Some(one), None) = (verbs.next(), verbs.next()) else {
        return;
    };
    let first = one.text.low().next().unwrap_or_default();
    let is_verb = first.len() > 3
        && first.ends_with('s')
        && !["ss", "us", "is"].iter().any(|end| first.ends_with(end));
    if is_verb && asked.options.len() > 2 {
        flaws.push(
            Flaw::new(
                "one option alone has the verb that the stem lacks",
                one.span,
                "completes the sentence",
            )
            .advice(),
        );
    }
}

/// Nouns by which a lead-in says how many things it asks for.
const NOUNS: [&str; 14] = [
    "nerve",
    "artery",
    "vein",
    "muscle",
    "drug",
    "tooth",
    "structure",
    "space",
    "bone",
    "instrument",
    "sign",
    "branch",
    "suture",
    "organism",
];

/// Whether a lead-in asks for several things; `None` if its grammar leaves that open.
fn wanted(lead_in: &Prose<'_>) -> Option<bool> {
    let words: Vec<&str> = lead_in.low().collect();
    if matches!(words.last().copied(), Some("are" | "were" | "include")) {
        return Some(true);
    }
    let which = words
        .iter()
        .position(|word| matches!(*word, "which" | "what" | "name"))?;
    let next = words.get(which + 1)?;
    // "Which are the nerves that ...".
    if matches!(*next, "two" | "three" | "four" | "pair" | "are" | "were") {
        return Some(true);
    }
    if NOUNS.contains(next) {
        return Some(false);
    }
    let singular = next.strip_suffix("ies").map_or_else(
        || next.trim_end_matches('s').to_owned(),
        |start| format!("{start}y"),
    );
    (NOUNS.contains(&singular.as_str()) || *next == "teeth").then_some(true)
}

/// Whether an option names several things.
fn is_plural(option: &Prose<'_>) -> bool {
    let words: Vec<&str> = option.low().collect();
    if words.contains(&"and") {
        return true;
    }
    let end = words
        .iter()
        .position(|word| {
            matches!(
                *word,
                "of" | "in" | "with" | "from" | "to" | "on" | "at" | "for"
            )
        })
        .unwrap_or(words.len());
    let Some(noun) = end.checked_sub(1).and_then(|at| words.get(at)) else {
        return false;
    };
    let ends_plural = noun.len() > 3
        && noun.ends_with('s')
        && !["ss", "us", "is", "ps", "ns", "ys"]
            .iter()
            .any(|end| noun.ends_with(end));
    ends_plural
        || matches!(
            *noun,
            "teeth" | "foramina" | "bacteria" | "nuclei" | "muscles"
        )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sound_and_not_spelling_decides() {
        let sound = |text| vowel_sound(&Prose::new(text));
        for text in [
            "Ulcer",
            "hour",
            "MRI scan",
            "elevator",
            "8 mm bur",
            "X-ray from the side",
            "L-shaped flap",
            "unerupted tooth",
        ] {
            assert_eq!(sound(text), Some(true), "{text}");
        }
        for text in [
            "unilateral cleft",
            "CT scan",
            "European guideline",
            "uvula",
            "bur",
            "haematoma",
            "U-shaped flap",
            "Z-plasty",
        ] {
            assert_eq!(sound(text), Some(false), "{text}");
        }
        assert_eq!(sound("NICE guideline"), None);
        assert_eq!(sound("a cyst"), None);
        assert_eq!(sound("S. aureus"), None);
    }

    #[test]
    fn a_verb_says_how_many_are_asked_for() {
        let told = |lead_in: &str| {
            let options = "* Superior alveolar branches\n- The lingual nerve\n- The mental nerve";
            super::super::trial::told_by(
                "deck::grammatical-cue",
                &format!("{lead_in} that serve the pulps?\n{options}"),
            )
            .len()
        };
        assert_eq!(told("Which are the nerves"), 1);
        assert_eq!(told("By what is it done, of all"), 0);
    }

    #[test]
    fn several_things_are_told_from_one() {
        for text in [
            "Lingual and buccal nerves",
            "Medial pterygoids",
            "Branches of the facial artery",
        ] {
            assert!(is_plural(&Prose::new(text)), "{text}");
        }
        for text in [
            "Masseter",
            "Levator labii superioris",
            "Nerve to the buccal roots",
            "Forceps",
        ] {
            assert!(!is_plural(&Prose::new(text)), "{text}");
        }
    }
}
