//! Short names in capitals that the deck never spells out.

use std::collections::HashSet;

use super::asked::{Asked, texts};
use super::words::{Prose, Word};
use super::{Find, Flaw, Rule, Whole};
use crate::deck::model::{Body, Item};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::unexpanded-acronym",
    severity: Severity::Advice,
    why: "a candidate from another school may know the matter and not the short form \
          (Haladyna, Downing & Rodriguez 2002, guideline 8: keep vocabulary simple)",
    help: "spell it out where the item first uses it: \"inferior alveolar nerve (IAN)\"",
    wrong: "What does the ZQR test show?\n* Deep bite\n- Cross bite\n- Open bite",
    right: "What does the zonal quadrant ratio (ZQR) show?\n* Deep bite\n- Cross bite\n- Open bite",
    find: Find::EnglishItems(find),
};

/// Short forms that every candidate for a licence knows, and words that are put in capitals to stress them.
const KNOWN: &[&str] = &[
    "ABC",
    "ABCDE",
    "ACE",
    "ADA",
    "AED",
    "AIDS",
    "ALL",
    "ALWAYS",
    "AND",
    "ANY",
    "ASA",
    "BDA",
    "BDJ",
    "BEST",
    "BMI",
    "BNF",
    "BP",
    "CBCT",
    "COPD",
    "CPR",
    "CT",
    "DNA",
    "ECG",
    "EXCEPT",
    "FALSE",
    "FBC",
    "FDA",
    "FDI",
    "FIRST",
    "GP",
    "HIV",
    "HPV",
    "ICU",
    "II",
    "III",
    "IM",
    "INR",
    "ISO",
    "IU",
    "IV",
    "IX",
    "LAST",
    "LEAST",
    "MAIN",
    "MAOI",
    "MOST",
    "MRI",
    "NEVER",
    "NHS",
    "NICE",
    "NO",
    "NONE",
    "NOT",
    "NSAID",
    "NSAIDS",
    "ONE",
    "ONLY",
    "OR",
    "PH",
    "PPE",
    "RNA",
    "SI",
    "SSRI",
    "TB",
    "TMJ",
    "TRUE",
    "TWO",
    "UK",
    "US",
    "USA",
    "VI",
    "VII",
    "VIII",
    "WHO",
    "XI",
    "XII",
    "XIII",
    "BOTH",
    "WITHOUT",
    "WORST",
    "CORRECT",
    "INCORRECT",
    "NEXT",
    "OPG",
    "UV",
    "LED",
    "PVP",
    "EDTA",
    "PTFE",
    "ENT",
    "GDC",
    "IQ",
    "DVT",
    "HCL",
    "AM",
    "PM",
    "USP",
    "CONTRAINDICATED",
    "UNLIKELY",
];

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    let items = || whole.draft.items.iter().map(|placed| &placed.part);
    let mut unknown: HashSet<&str> = HashSet::new();
    for text in items().flat_map(Item::with_parts).flat_map(asked_in) {
        if has_capitals(text) {
            let words = Prose::new(text).words;
            let short = words.into_iter().map(|word| word.raw);
            unknown.extend(short.filter(|word| is_acronym(word) && !KNOWN.contains(word)));
        }
    }
    for text in items().flat_map(texts) {
        if unknown.is_empty() {
            return Vec::new();
        }
        // Anything in brackets, or in front of a bracket, is spelt out there, wherever in the deck.
        for spelt in in_brackets(text) {
            unknown.remove(spelt);
        }
        let words = Prose::new(text).words;
        unknown.retain(|short| !has_initials(&words, short));
        // A word that the deck also has in small letters is in capitals for stress.
        for word in words {
            if unknown.contains(word.raw.to_uppercase().as_str()) && !is_acronym(word.raw) {
                unknown.remove(word.raw.to_uppercase().as_str());
            }
        }
    }
    let mut flaws = Vec::new();
    for (number, placed) in whole.draft.items.iter().enumerate() {
        if unknown.is_empty() {
            break;
        }
        for asked in Asked::all(whole.source, &placed.part, placed.node, true) {
            let stems = asked.stems.iter().map(|stem| (&stem.text, stem.span));
            let options = asked.options.iter().map(|given| (&given.text, given.span));
            for (text, span) in stems.chain(options) {
                for word in text.words.iter().filter(|word| unknown.remove(word.raw)) {
                    let message = format!("`{}` is never spelt out", word.raw);
                    let at = asked.pin(span, word.raw);
                    let flaw = Flaw::new(message, at, "what does it stand for?");
                    flaws.push(flaw.of_item(number));
                }
            }
        }
    }
    flaws
}

/// The stems and options of an item, without its parts.
fn asked_in(item: &Item) -> impl Iterator<Item = &str> {
    let options = match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => choice.options.as_slice(),
        _ => &[],
    };
    let stems = item.stems.iter().map(String::as_str);
    stems.chain(options.iter().map(|option| option.text.as_str()))
}

/// Whether words one behind the other begin with the letters of a short form: "American Heart Association" and AHA.
fn has_initials(words: &[Word<'_>], short: &str) -> bool {
    let initials = words
        .iter()
        .filter(|word| !matches!(word.low.as_ref(), "and" | "for" | "in" | "of" | "the"))
        .map(|word| word.low.as_bytes().first().copied().unwrap_or_default());
    let initials: Vec<u8> = initials.collect();
    initials
        .windows(short.len())
        .any(|some| some.eq_ignore_ascii_case(short.as_bytes()))
}

/// Spares most texts the search.
fn has_capitals(text: &str) -> bool {
    text.as_bytes()
        .windows(2)
        .any(|pair| pair.iter().all(u8::is_ascii_uppercase))
}

fn is_acronym(word: &str) -> bool {
    (2..=6).contains(&word.len()) && word.bytes().all(|byte| byte.is_ascii_uppercase())
}

/// Short forms that a bracket explains: `nerve (IAN)`, `IAN (inferior alveolar nerve)`.
fn in_brackets(text: &str) -> impl Iterator<Item = &str> {
    text.match_indices('(').flat_map(move |(at, _)| {
        let before = text.get(..at).unwrap_or_default().trim_end();
        let before = before
            .rsplit(|character: char| !character.is_alphanumeric())
            .next();
        let inside = text.get(at + 1..).unwrap_or_default();
        let inside = inside.split(')').next().unwrap_or_default();
        let inside = inside.split(|character: char| !character.is_alphanumeric());
        before
            .into_iter()
            .chain(inside)
            .filter(|word| is_acronym(word))
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{told_by, told_of_cases_by};

    const CODE: &str = "deck::unexpanded-acronym";

    #[test]
    fn options_are_searched_as_stems_are() {
        let told = |option: &str| {
            told_by(
                CODE,
                &format!("Which route is used?\n* {option}\n- The lower one"),
            )
            .len()
        };
        assert_eq!(told("The QQT route"), 1);
        assert_eq!(told("The quick quiet turn (QQT) route"), 0);
    }

    #[test]
    fn the_words_themselves_spell_it_out() {
        let told = |name: &str| {
            let options = "* Yes\n- No\n- At times";
            let questions = format!(
                "What does the {name} say of it?\n{options}\n\nWhat does the SOJ say of age?\n{options}"
            );
            told_by(CODE, &questions).len()
        };
        assert_eq!(told("Society of Our Jaws"), 0);
        assert_eq!(told("Society of Jaws"), 1);
    }

    #[test]
    fn parts_of_a_case_are_searched_as_items_are() {
        let told = |stem: &str| {
            let part = format!(
                "stem: {stem}, rationale: Told at length., options: [{{text: Pus, key: true}}, {{text: Blood, why: Wrong.}}]"
            );
            told_of_cases_by(CODE, 1, "A man of 30 has pain.", &part).len()
        };
        assert_eq!(told("What does the ZQR test show?"), 1);
        assert_eq!(told("What does the zonal quadrant ratio (ZQR) show?"), 0);
    }
}
