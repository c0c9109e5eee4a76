//! Two options that are each other's opposite, one of them the key.

use super::asked::Asked;
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::paired-opposites",
    severity: Severity::Advice,
    why: "one of two opposites must be right, so the other options can be struck out \
          (Haladyna, Downing & Rodriguez 2002, guideline 28e)",
    help: "make two pairs of opposites, or none",
    wrong: "What does a wider flap base do to the blood supply of the margin?\n* Increases the blood supply\n- Decreases the blood supply\n- Has no effect on healing\n- Turns the flap pale",
    right: "What does a wider flap base do for the margin?\n* Increases the blood supply\n- Shortens the incision\n- Spares the papilla\n- Moves the release",
    find: Find::EnglishItem(find),
};

const OPPOSITES: &[[&str; 2]] = &[
    ["increase", "decrease"],
    ["increases", "decreases"],
    ["increased", "decreased"],
    ["increased", "reduced"],
    ["raised", "lowered"],
    ["raise", "lower"],
    ["raises", "lowers"],
    ["rises", "falls"],
    ["rising", "falling"],
    ["higher", "lower"],
    ["high", "low"],
    ["longer", "shorter"],
    ["faster", "slower"],
    ["more", "less"],
    ["greater", "smaller"],
    ["wider", "narrower"],
    ["deeper", "shallower"],
    ["thicker", "thinner"],
    ["widens", "narrows"],
    ["hypertension", "hypotension"],
    ["hyperkalaemia", "hypokalaemia"],
    ["hypercalcaemia", "hypocalcaemia"],
    ["hyperglycaemia", "hypoglycaemia"],
    ["tachycardia", "bradycardia"],
    ["acidosis", "alkalosis"],
    ["prolonged", "shortened"],
    ["prolongs", "shortens"],
    ["vasoconstriction", "vasodilation"],
    ["start", "stop"],
    ["slows", "hastens"],
    ["slows", "speeds"],
    ["reduces", "increases"],
    ["reduces", "raises"],
    ["mesial", "distal"],
    ["above", "below"],
    ["early", "late"],
    ["accelerates", "delays"],
    ["hastens", "delays"],
    ["same", "opposite"],
    ["forwards", "backwards"],
    ["upwards", "downwards"],
    ["inwards", "outwards"],
    ["widened", "narrowed"],
    ["dilates", "constricts"],
    ["stronger", "weaker"],
    ["lengthens", "shortens"],
    ["positive", "negative"],
    ["present", "absent"],
    ["opens", "closes"],
    ["up", "down"],
    ["forward", "backward"],
    ["left", "right"],
    ["better", "worse"],
    ["before", "after"],
    ["with", "without"],
];

/// Sides of the body: opposites where they say where something is, not in the names of nerves and vessels.
const SIDES: &[[&str; 2]] = &[
    ["buccal", "lingual"],
    ["buccal", "palatal"],
    ["labial", "lingual"],
    ["labial", "palatal"],
    ["anterior", "posterior"],
    ["superior", "inferior"],
    ["medial", "lateral"],
    ["coronal", "apical"],
];

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let Some((key, others)) = asked.single() else {
        return;
    };
    if others.len() < 2 {
        return;
    }
    let Some(opposite) = others
        .iter()
        .find(|given| are_opposite(&key.text, &given.text))
    else {
        return;
    };
    let rest: Vec<_> = others
        .iter()
        .filter(|given| given.span != opposite.span)
        .collect();
    let is_balanced = rest
        .iter()
        .any(|one| rest.iter().any(|two| are_opposite(&one.text, &two.text)));
    // Variations of one sentence are a family, not a pair.
    let is_family = key.text.words.len() > 1
        && rest
            .iter()
            .all(|given| differences(&key.text, &given.text).is_some());
    if !is_balanced && !is_family {
        flaws.push(
            Flaw::new(
                "the key and one distractor are opposites",
                key.span,
                "one of these two",
            )
            .related(opposite.span, "the other"),
        );
    }
}

fn are_opposite(one: &Prose<'_>, two: &Prose<'_>) -> bool {
    let is_pair = |one: &str, two: &str| {
        OPPOSITES
            .iter()
            .any(|pair| *pair == [one, two] || *pair == [two, one])
    };
    if one.words.len() == two.words.len() {
        let words = one.words.iter().zip(&two.words).enumerate();
        let differing: Vec<_> = words.filter(|(_, (one, two))| one.low != two.low).collect();
        // "The low pH leaves less" and "The high pH leaves more": both words turn round.
        return (1..=2).contains(&differing.len())
            && differing.iter().all(|(at, (a, b))| {
                is_pair(&a.low, &b.low) || (is_place(one, *at) && is_side(&a.low, &b.low))
            });
    }
    // "Slows the uptake" and "Hastens the uptake by vessels": the same start but for the pair.
    let shorter = one.words.len().min(two.words.len());
    let mut differing = one.low().zip(two.low()).filter(|(one, two)| one != two);
    one.words.len().abs_diff(two.words.len()) <= 3
        && shorter > 1
        && differing.next().is_some_and(|(one, two)| is_pair(one, two))
        && differing.next().is_none()
}

fn is_side(one: &str, two: &str) -> bool {
    SIDES
        .iter()
        .any(|pair| *pair == [one, two] || *pair == [two, one])
}

/// Whether the word at a place says where something is: it ends the text or goes on with "to" or "of".
fn is_place(text: &Prose<'_>, at: usize) -> bool {
    text.words
        .get(at + 1)
        .is_none_or(|next| matches!(next.low.as_ref(), "to" | "of" | "side" | "aspect"))
}

/// The two words in which texts of equal length differ, if it is one pair.
fn differences<'a>(one: &'a Prose<'_>, two: &'a Prose<'_>) -> Option<[&'a str; 2]> {
    if one.words.len() != two.words.len() {
        return None;
    }
    let mut differing = one.low().zip(two.low()).filter(|(one, two)| one != two);
    let (first, second) = differing.next()?;
    differing.next().is_none().then_some([first, second])
}
