//! What an item holds to be right, in 16 hexadecimal digits.
//!
//! Answers keep the fingerprint of the item they were given to. A new edition of a deck may mend a comma, and the
//! history must stay; it may also move the key, and answers to the old key must not count for the new. So the
//! fingerprint looks at what is right and, of each text, only at what could turn its meaning: numbers with their units,
//! terms that exclude others, short names in capitals, words of up to three letters (`lip`, `gas`) that do more than join
//! others, and the first letters of longer words. A mended letter, accent or inflection of those changes none of these, nor does
//! another order of the options in the file.
//!
//! Limits: a letter mended in a word of up to four letters, in a first letter, in a telling beginning (`hypo-`), or one that
//! makes or breaks an `ae` counts as a change; a rewording that keeps all first letters does not. The first only restarts an item's schedule.

mod quantity;

use sha2::{Digest as _, Sha256};

use super::model::{Body, Choice, FlapTask, Item, Locate, Match, Short, Step};
use super::numeric::numeric_signature;
use super::terms;
use crate::figure::teeth::Tooth;
use crate::flap::{Defect, Family, Rule};
use crate::text;
use quantity::{joins, number_length, number_word, unit, value};

/// The fingerprint of what is right about an item.
#[must_use]
pub fn fingerprint(item: &Item) -> String {
    let mut parts = match &item.body {
        Body::Single(choice) => options(choice)
            .into_iter()
            .filter(|part| part.starts_with("in "))
            .collect(),
        Body::Multiple(choice) => options(choice),
        Body::Order(steps) => sequence(steps),
        Body::Match(matching) => pairs(matching),
        Body::Short(short) => forms(short),
        Body::Numeric(numeric) => vec![numeric_signature(numeric)],
        Body::Locate(locate) => places(locate),
        Body::Flap(task) => rules(task),
        Body::Case(case) => case
            .parts
            .iter()
            .map(|part| fingerprint(&part.item))
            .collect(),
    };
    if !matches!(item.body, Body::Order(_) | Body::Case(_)) {
        parts.sort_unstable();
    }
    let mut hash = Sha256::new();
    hash.update(item.body.kind());
    for part in parts {
        // A text holds no line break once it has become a signature.
        hash.update("\n");
        hash.update(part);
    }
    let digest = hash.finalize();
    let first = digest.iter().take(8);
    let number = first.fold(0_u64, |number, byte| (number << 8) | u64::from(*byte));
    format!("{number:016x}")
}

fn options(choice: &Choice) -> Vec<String> {
    let texts: Vec<&str> = choice
        .options
        .iter()
        .map(|option| option.text.as_str())
        .collect();
    let signed = signatures(&texts).into_iter().zip(&choice.options);
    signed
        .map(|(signature, option)| format!("{} {signature}", if option.key { "in" } else { "out" }))
        .collect()
}

fn sequence(steps: &[Step]) -> Vec<String> {
    let texts: Vec<&str> = steps.iter().map(|step| step.text.as_str()).collect();
    signatures(&texts)
}

fn pairs(matching: &Match) -> Vec<String> {
    let lefts: Vec<&str> = matching
        .pairs
        .iter()
        .map(|pair| pair.left.as_str())
        .collect();
    let rights: Vec<&str> = matching
        .pairs
        .iter()
        .map(|pair| pair.right.as_str())
        .collect();
    let pairs = signatures(&lefts).into_iter().zip(signatures(&rights));
    pairs
        .map(|(left, right)| format!("{left} = {right}"))
        .collect()
}

fn forms(short: &Short) -> Vec<String> {
    let accepted = short.accept.first().into_iter().map(String::as_str);
    let refused = short.refuse.iter().map(|refused| refused.text.as_str());
    let texts: Vec<&str> = accepted.chain(refused).collect();
    let signed = signatures(&texts).into_iter().enumerate();
    signed
        .map(|(index, signature)| format!("{} {signature}", if index == 0 { "in" } else { "out" }))
        .collect()
}

/// The right places: their names, and where they lie to a tenth of a millimetre.
fn places(locate: &Locate) -> Vec<String> {
    let figure = &locate.figure;
    let names: Vec<&str> = figure
        .places
        .iter()
        .map(|place| place.name.as_str())
        .collect();
    let signed = signatures(&names);
    let keys = locate.keys.iter().filter_map(|&key| {
        let extent = figure.region(key).map_or_else(
            || {
                figure
                    .places
                    .get(key)
                    .map(|place| vec![place.at])
                    .unwrap_or_default()
            },
            |region| region.points,
        );
        let points: Vec<String> = extent
            .iter()
            .map(|at| format!("{:.1},{:.1}", tenth(at.x), tenth(at.y)))
            .collect();
        Some(format!("{} {}", signed.get(key)?, points.join(" ")))
    });
    keys.collect()
}

/// What a design is judged by: the case, the numbers and grades that the deck sets, the kind asked for. A sound design more or
/// less changes nothing.
fn rules(task: &FlapTask) -> Vec<String> {
    let case = &task.case;
    let mut site: Vec<u8> = case.site().iter().map(|tooth| tooth.number()).collect();
    site.sort_unstable();
    let missing: Vec<u8> = Tooth::all()
        .filter(|&tooth| !case.has(tooth))
        .map(Tooth::number)
        .collect();
    let bone = case.block();
    let around = case.surroundings();
    let mut defects: Vec<String> = around
        .defects
        .iter()
        .map(|Defect { tooth, bone }| format!("{tooth} {} {}", bone.top_mm, bone.bottom_mm))
        .collect();
    defects.sort_unstable();
    let mut eminences: Vec<u8> = around
        .eminences
        .iter()
        .map(|tooth| tooth.number())
        .collect();
    eminences.sort_unstable();
    let table = case.thresholds();
    let limits: Vec<String> = table
        .all()
        .map(|limit| format!("{}={}", limit.limit.word(), limit.value))
        .collect();
    let grades = Rule::ALL.into_iter().filter_map(|rule| {
        table
            .given_grade(rule)
            .map(|grade| format!("{}={grade:?}", rule.word()))
    });
    let grades: Vec<String> = grades.collect();
    vec![
        format!(
            "{} {} {}",
            case.jaw().word(),
            case.quadrant().word(),
            case.aspect().word()
        ),
        format!("site {site:?} missing {missing:?}"),
        format!("bone {} {}", bone.low.apical_mm, bone.high.apical_mm),
        format!(
            "limits {} papilla {}",
            limits.join(" "),
            table.papilla_start().is_some()
        ),
        format!("grades {}", grades.join(" ")),
        format!("kind {}", task.family.map_or("any", Family::word)),
        format!(
            "defects {defects:?} eminences {eminences:?} spares margin {}",
            around.spares_margin
        ),
    ]
}

fn tenth(mm: f64) -> f64 {
    // Adding 0 turns -0 into 0.
    (mm * 10.0).round() / 10.0 + 0.0
}

/// The signature of each text. Texts that would share one (`bleeding` and `bruising`) are told apart by as many
/// more letters as it takes, so that exchanging them is seen.
fn signatures(texts: &[&str]) -> Vec<String> {
    /// Past this many letters of each word the texts themselves are taken.
    const DEEPEST: usize = 12;
    let shallow: Vec<String> = texts.iter().map(|text| signature(text, 1)).collect();
    let told_apart = |(text, signed): (&&str, &String)| {
        let others = texts.iter().zip(&shallow);
        let twins: Vec<&str> = others
            .filter(|(other, same)| *same == signed && text::alike(other) != text::alike(text))
            .map(|(other, _)| *other)
            .collect();
        (1..=DEEPEST)
            .find(|depth| {
                twins
                    .iter()
                    .all(|twin| signature(twin, *depth) != signature(text, *depth))
            })
            .map_or_else(|| text::alike(text), |depth| signature(text, depth))
    };
    texts.iter().zip(&shallow).map(told_apart).collect()
}

/// What could turn the meaning of a text, with the first `depth` letters of each word of four letters or more. Shorter words count
/// whole; those that only join others count beyond the first letter.
fn signature(text: &str, depth: usize) -> String {
    let text = text.replace("per cent", "%");
    let words: Vec<Word<'_>> = words(&text).collect();
    let mut parts: Vec<String> = Vec::new();
    let mut at = 0;
    while let Some(word) = words.get(at) {
        at += 1;
        let number = match word {
            Word::Number(digits) => Some(value(digits)),
            Word::Letters(letters) => number_word(&letters.to_lowercase()).map(str::to_owned),
            Word::Sign(_) => None,
        };
        if let Some(number) = number {
            let unit = match words.get(at) {
                Some(Word::Letters(next)) => unit(next),
                Some(Word::Sign(next @ ('%' | '°'))) => unit(next.encode_utf8(&mut [0; 4])),
                _ => None,
            };
            at += usize::from(unit.is_some());
            let mut part = format!("{number}{}", unit.unwrap_or_default());
            // 7 mg/kg, 2 mL/kg/h, 7 mg per kg.
            while let Some((denominator, length)) = denominator(words.get(at..).unwrap_or_default())
            {
                part.push('/');
                part.push_str(&denominator);
                at += length;
            }
            parts.push(part);
            continue;
        }
        match word {
            Word::Letters(letters) => parts.extend(of_word(letters, at == 1, depth)),
            Word::Sign('/') | Word::Number(_) => {}
            Word::Sign(sign) => parts.push(sign.to_string()),
        }
    }
    parts.join(" ")
}

/// What an amount is divided by, and how many words say so.
fn denominator(words: &[Word<'_>]) -> Option<(String, usize)> {
    match words {
        [Word::Sign('/'), Word::Letters(letters), ..] => Some((
            unit(letters).map_or_else(|| terms::folded(letters), str::to_owned),
            2,
        )),
        [Word::Letters(per), Word::Letters(letters), ..] if per.eq_ignore_ascii_case("per") => {
            Some((unit(letters)?.to_owned(), 2))
        }
        _ => None,
    }
}

/// What of an ordinary word could turn a meaning.
fn of_word(letters: &str, is_first: bool, depth: usize) -> Vec<String> {
    let folded = terms::folded(letters);
    let mut parts: Vec<String> = Vec::new();
    let names = terms::terms(&folded);
    let length = folded.chars().count();
    if !names.is_empty() {
        parts.push(names.join("+"));
    } else if is_name(letters) && !(is_first && letters == "A") {
        // CT, IAN, class II, type B: short, and one letter makes another thing of them.
        parts.push(letters.to_owned());
    } else if let Some(beginning) = terms::beginning(&folded) {
        parts.push(format!("{beginning}-"));
    }
    if length >= 4 || (depth > 1 && joins(&folded)) {
        parts.push(folded.chars().take(depth).collect());
    } else if depth > 1 || (parts.is_empty() && !joins(&folded)) {
        parts.push(folded);
    }
    parts
}

/// Whether a word is a short name in capitals or a Roman numeral.
fn is_name(letters: &str) -> bool {
    let length = letters.chars().count();
    let is_numeral = length == 4 && letters.chars().all(|letter| "IVXLC".contains(letter));
    letters.chars().all(char::is_uppercase) && (length <= 3 || is_numeral)
}

/// A stretch of a text.
#[derive(Debug, PartialEq)]
enum Word<'t> {
    Letters(&'t str),
    /// Digits, with points, commas and colons between them.
    Number(&'t str),
    /// A sign that changes a number's meaning, or the stroke of a unit.
    Sign(char),
}

/// Splits a text; spaces, hyphens and punctuation mean nothing here.
fn words(text: &str) -> impl Iterator<Item = Word<'_>> {
    let mut rest = text;
    std::iter::from_fn(move || {
        loop {
            let first = rest.chars().next()?;
            let length = if first.is_ascii_digit() {
                number_length(rest)
            } else if first.is_alphabetic() {
                let is_letter =
                    |character: char| character.is_alphabetic() || terms::is_mark(character);
                rest.find(|character| !is_letter(character))
                    .unwrap_or(rest.len())
            } else {
                first.len_utf8()
            };
            let (word, after) = rest.split_at(length);
            rest = after;
            match first {
                _ if first.is_ascii_digit() => return Some(Word::Number(word)),
                _ if first.is_alphabetic() => return Some(Word::Letters(word)),
                '<' | '>' | '≤' | '≥' | '±' | '+' | '−' | '=' | '%' | '°' | '/' | '½' | '¼'
                | '¾' => {
                    return Some(Word::Sign(first));
                }
                _ => {}
            }
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn same(one: &str, two: &str) -> bool {
        signature(one, 1) == signature(two, 1)
    }

    #[test]
    fn mended_spellings_mean_the_same() {
        for (one, two) in [
            ("the lingaul nerve", "the lingual nerve"),
            ("Haemorrhage from the socket", "hemorrhage from the socket."),
            ("10,000 units", "10000 iu"),
            ("1.80 ml", "1.8 mL"),
            ("after two weeks", "after 2 weeks"),
            ("1:100,000", "1:100000"),
            ("5 per cent", "5%"),
            ("a slow-healing wound", "a slow healing wound"),
            ("NOT the buccal side", "not the bucal side"),
            ("7 mg/kg", "7 mg per kilogram"),
            ("2 ml/kg/h", "2.0 mL / kg / hr"),
            ("Lip and chin", "the lip, the chin"),
            ("the patient's tongue", "the patients tongue"),
        ] {
            assert!(
                same(one, two),
                "{one:?} {} / {two:?} {}",
                signature(one, 1),
                signature(two, 1)
            );
        }
    }

    #[test]
    fn turned_meanings_are_seen() {
        for (one, two) in [
            ("the buccal nerve", "the lingual nerve"),
            ("1.8 ml", "18 ml"),
            ("5 mm", "5 cm"),
            ("1:100,000", "1:200,000"),
            ("bone is raised", "bone is not raised"),
            ("< 5 mm", "> 5 mm"),
            ("class II", "class III"),
            ("the first molar", "the third molar"),
            ("hypodontia", "hyperdontia"),
            ("on CT", "on MRI"),
            ("vitamin K", "vitamin C"),
            ("wait two weeks", "wait three weeks"),
            ("medial pterygoid", "lateral pterygoid"),
            ("lip", "jaw"),
            ("Pus", "Gas"),
            ("7 mg/kg", "7 mg/h"),
            ("At most 7 mg/kg", "At most 7 mg"),
            ("2 mL/kg/h", "2 mL/kg"),
            ("60 min", "60/min"),
            ("4 mg/tooth", "4 mg/quadrant"),
        ] {
            assert!(!same(one, two), "{one:?} / {two:?}: {}", signature(one, 1));
        }
    }

    #[test]
    fn texts_that_share_their_initials_are_told_apart() {
        let signed = signatures(&["Bleeding", "Bruising", "Swelling", "Red", "Tan"]);
        assert_eq!(signed, ["bl", "br", "s", "red", "tan"]);
        let signed = signatures(&["5*", "5**"]);
        assert_ne!(signed[0], signed[1]);
    }
}
