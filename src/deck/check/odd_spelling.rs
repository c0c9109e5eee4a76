//! A word that is a slip away from one that the decks use often.

use std::collections::HashMap;

use super::measure::{measure, singular};
use super::{Find, Flaw, Outline, Rule};
use crate::deck::Reading;
use crate::diagnostic::{Diagnostic, Severity};

pub(super) const RULE: Rule = Rule {
    code: "deck::odd-spelling",
    severity: Severity::Advice,
    why: "a misspelt term, or two spellings of one, makes candidates doubt whether another thing is meant \
          (Haladyna, Downing & Rodriguez 2002, guideline 12: edit and proof items)",
    help: "write it as the other items do; if the word is right, allow the rule on the item and say so",
    wrong: "Which nerve leaves the mandible through the mental foraman?\n* Mental nerve\n- Lingual nerve\n- Facial nerve",
    right: "Which nerve leaves the mandible through the mental foramen?\n* Mental nerve\n- Lingual nerve\n- Facial nerve",
    find: Find::Across,
};

/// Uses from which a word is taken to be spelt rightly.
const OFTEN: u32 = 4;
/// Letters from which a word may be two slips away.
const LONG: usize = 11;
/// Pairs of words that are looked at, so that made-up words cannot hold up a check; the decks of this house make two
/// thousand.
const MOST_PAIRS: usize = 1_000_000;

/// Finds words used once that are a slip away from a word used often in all decks together.
pub(super) fn find(
    readings: &[Reading],
    outlines: &[&Outline],
    known: &[Outline],
) -> Vec<(usize, Diagnostic)> {
    let mut times: HashMap<&str, u32> = HashMap::new();
    for outline in outlines
        .iter()
        .copied()
        .chain(known)
        .filter(|outline| outline.is_english)
    {
        #[expect(clippy::iter_over_hash_type, reason = "a sum knows no order")]
        for (word, usage) in &outline.vocabulary {
            *times.entry(word).or_default() += usage.times;
        }
    }
    // A slip leaves the first letters or the last ones as they are.
    let mut by_start: HashMap<&str, Vec<(&str, u32)>> = HashMap::new();
    let mut often: Vec<&str> = times
        .iter()
        .filter(|(_, count)| **count >= OFTEN)
        .map(|(word, _)| *word)
        .collect();
    often.sort_unstable();
    for word in often {
        by_start
            .entry(word.get(..3).unwrap_or(word))
            .or_default()
            .push((word, letters(word)));
    }
    let mut left = MOST_PAIRS;
    let mut found = Vec::new();
    for (number, outline) in outlines
        .iter()
        .enumerate()
        .filter(|(_, outline)| outline.is_english)
    {
        let mut rare: Vec<_> = outline
            .vocabulary
            .iter()
            .filter(|(word, _)| times.get(word.as_str()) == Some(&1))
            .collect();
        rare.sort_unstable_by_key(|(_, usage)| usage.span);
        for (word, usage) in rare {
            let near = by_start.get(word.get(..3).unwrap_or(word));
            let near = near.map_or(&[][..], |words| words.get(..left).unwrap_or(words));
            left -= near.len();
            let own = letters(word);
            let right = near.iter().find(|(right, theirs)| {
                (own ^ theirs).count_ones() <= 2 * slips(right) && is_slip(word, right)
            });
            let Some((right, _)) = right else {
                continue;
            };
            let Some((item, reading)) = outline.items.get(usage.item).zip(readings.get(number))
            else {
                continue;
            };
            if item.allowed.contains(&RULE.code) {
                continue;
            }
            let message = format!("`{word}` is used once and `{right}` often");
            let flaw = Flaw::new(message, usage.span, format!("is `{right}` meant?"));
            found.push((
                number,
                RULE.diagnostic(&reading.source, flaw, Some(&item.id)),
            ));
        }
    }
    found
}

/// The letters of a word as a set: one exchanged for another changes two of its bits.
fn letters(word: &str) -> u32 {
    word.bytes()
        .filter(u8::is_ascii_lowercase)
        .fold(0, |set, byte| set | 1 << (byte - b'a'))
}

/// How many slips away from a word another may be.
const fn slips(right: &str) -> u32 {
    if right.len() >= LONG { 2 } else { 1 }
}

/// Whether one word is the other with a slip, and no other form of it.
fn is_slip(word: &str, right: &str) -> bool {
    let most = slips(right) as usize;
    // A unit is another unit, however near.
    let is_unit = |word: &str| measure(singular(word)).is_some();
    if word.len().abs_diff(right.len()) > most
        || is_unit(word)
        || strsim::osa_distance(word, right) > most
    {
        return false;
    }
    // One letter for another makes another word as often as a slip: only vowels are mixed up in spelling.
    let mut exchanged = word
        .bytes()
        .zip(right.bytes())
        .filter(|(one, two)| one != two);
    let is_vowel = |byte: u8| b"aeiouy".contains(&byte);
    if word.len() == right.len()
        && let Some((one, two)) = exchanged.next()
        && exchanged.next().is_none()
        && !(is_vowel(one) && is_vowel(two))
    {
        return false;
    }
    let common = word
        .bytes()
        .zip(right.bytes())
        .take_while(|(one, two)| one == two)
        .count();
    let tails = [word, right].map(|word| word.get(common..).unwrap_or_default());
    // Forms of one word: they share all but an ending, or one goes on where the other ends.
    let is_form = tails
        .iter()
        .all(|tail| tail.is_empty() || ENDINGS.contains(tail))
        && !MIXED_UP
            .iter()
            .any(|pair| tails.iter().all(|tail| pair.contains(tail)));
    let is_pair = PAIRS.iter().any(|[one, two]| {
        (word.contains(one) && right.contains(two)) || (word.contains(two) && right.contains(one))
    });
    !is_form && !is_pair
}

/// Endings that make another form of a word.
const ENDINGS: &[&str] = &[
    "a", "ae", "al", "ally", "ant", "ar", "ary", "d", "e", "ed", "er", "es", "ence", "ent", "i",
    "ia", "ic", "ied", "ies", "ing", "ion", "ions", "is", "ity", "ive", "ly", "n", "on", "or",
    "ors", "ous", "r", "s", "se", "sed", "ses", "t", "te", "ted", "ting", "um", "us", "y", "ble",
    "bly", "ce", "cy", "ts", "ze", "sis", "tic", "ine", "in", "ial", "ism", "ist", "le", "ling",
    "l", "c", "cs", "able", "ation", "ations", "m", "ve",
];

/// Endings that are taken for each other in spelling and make no two forms of one word.
const MIXED_UP: &[[&str; 2]] = &[
    ["ar", "er"],
    ["ar", "or"],
    ["er", "or"],
    ["on", "ion"],
    ["ons", "ions"],
    ["ant", "ent"],
    ["ance", "ence"],
    ["able", "ible"],
];

/// Words a letter or two apart that are both right.
const PAIRS: &[[&str; 2]] = &[
    ["hyper", "hypo"],
    ["inter", "intra"],
    ["inter", "infra"],
    ["infra", "intra"],
    ["lingual", "lingula"],
    ["adduct", "abduct"],
    ["peri", "pre"],
    ["post", "pre"],
    ["unilateral", "bilateral"],
    ["proxim", "prox"],
    ["condylar", "condyloid"],
    ["preced", "proceed"],
    ["complement", "compliment"],
    ["resect", "reject"],
    ["infect", "inject"],
    ["confirm", "conform"],
    ["principal", "principle"],
];

#[cfg(test)]
mod tests {
    use super::{is_slip, letters, slips};

    #[test]
    fn a_slip_is_told_from_another_form() {
        for [word, right] in [
            ["foraman", "foramen"],
            ["alvoelar", "alveolar"],
            ["anesthesia", "anaesthesia"],
            ["lidociane", "lidocaine"],
            ["mandibuler", "mandibular"],
            ["extracton", "extraction"],
        ] {
            assert!(is_slip(word, right), "{word}");
            let differing = letters(word) ^ letters(right);
            assert!(differing.count_ones() <= 2 * slips(right), "{word}");
        }
        for [word, right] in [
            ["extracted", "extracts"],
            ["foramina", "foramen"],
            ["hypotension", "hypertension"],
            ["maxillae", "maxilla"],
            ["lingula", "lingual"],
            ["extractor", "extraction"],
            ["millimetres", "millilitres"],
        ] {
            assert!(!is_slip(word, right), "{word}");
        }
    }
}
