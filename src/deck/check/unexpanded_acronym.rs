//! Short names in capitals that the deck never spells out.

use std::collections::HashSet;

use super::words::Prose;
use super::{Find, Flaw, Rule, Whole};
use crate::deck::model::Body;
use crate::deck::yaml::Node;
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
    for stem in items().filter_map(|item| item.stems.first()) {
        if has_capitals(stem) {
            let words = Prose::new(stem).words;
            let short = words.into_iter().map(|word| word.raw);
            unknown.extend(short.filter(|word| is_acronym(word) && !KNOWN.contains(word)));
        }
    }
    if unknown.is_empty() {
        return Vec::new();
    }
    for item in items() {
        let stems = item.stems.iter().map(String::as_str);
        for text in texts(&item.body)
            .chain(stems)
            .chain([item.rationale.as_str()])
        {
            // Anything in brackets, or in front of a bracket, is spelt out there, wherever in the deck.
            for spelt in in_brackets(text) {
                unknown.remove(spelt);
            }
            // A word that the deck also has in small letters is in capitals for stress.
            for word in Prose::new(text).words {
                if unknown.contains(word.raw.to_uppercase().as_str()) && !is_acronym(word.raw) {
                    unknown.remove(word.raw.to_uppercase().as_str());
                }
            }
        }
    }
    let mut flaws = Vec::new();
    for (number, placed) in whole.draft.items.iter().enumerate() {
        let Some(stem) = placed.part.stems.first().filter(|stem| has_capitals(stem)) else {
            continue;
        };
        let span = placed
            .node
            .get("stem")
            .map_or(placed.node.span, |node: &Node<'_>| node.span);
        for word in Prose::new(stem).words {
            if unknown.remove(word.raw) {
                let at = whole.source.slice(span).find(word.raw).map_or(span, |at| {
                    let start = span.start() + at;
                    whole.source.span(start..start + word.raw.len())
                });
                let message = format!("`{}` is never spelt out", word.raw);
                let flaw = Flaw::new(message, at, "what does it stand for?");
                flaws.push(flaw.of_item(number));
            }
        }
    }
    flaws
}

fn texts(body: &Body) -> Box<dyn Iterator<Item = &str> + '_> {
    match body {
        Body::Single(choice) | Body::Multiple(choice) => {
            Box::new(choice.options.iter().map(|option| option.text.as_str()))
        }
        Body::Order(steps) => Box::new(steps.iter().map(|step| step.text.as_str())),
        Body::Match(matching) => Box::new(
            matching
                .pairs
                .iter()
                .flat_map(|pair| [pair.left.as_str(), pair.right.as_str()]),
        ),
        Body::Case(case) => Box::new(case.parts.iter().flat_map(|part| {
            let stems = part.item.stems.iter().map(String::as_str);
            stems.chain(texts(&part.item.body))
        })),
        Body::Short(short) => Box::new(short.accept.iter().map(String::as_str)),
        Body::Locate(_) | Body::Flap(_) => Box::new(std::iter::empty()),
        Body::Numeric(numeric) => Box::new(std::iter::once(numeric.solution.as_str())),
    }
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
