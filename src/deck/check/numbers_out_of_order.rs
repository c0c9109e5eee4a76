//! Numeric options belong in numeric order.

use super::asked::Asked;
use super::quantity::{comparable, quantities};
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::numbers-out-of-order",
    severity: Severity::Warning,
    why: "searching a jumble of numbers costs time and tests nothing (Haladyna, Downing & Rodriguez 2002, guideline 21)",
    help: "write the options from the lowest to the highest and set `keep_order: true` on the item",
    wrong: "How long is the needle for an inferior alveolar nerve block in an adult?\nkeep_order: true\n* 32 mm\n- 10 mm\n- 50 mm",
    right: "How long is the needle for an inferior alveolar nerve block in an adult?\nkeep_order: true\n- 10 mm\n* 32 mm\n- 50 mm",
    find: Find::Item(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let Some(choice) = asked.choice() else {
        return;
    };
    let numbers = quantities(asked).and_then(comparable).map(|all| {
        all.iter()
            .map(|one| (one.low, one.high))
            .collect::<Vec<_>>()
    });
    let Some(numbers) = numbers
        .or_else(|| stages(asked))
        .filter(|all| all.len() > 2)
    else {
        return;
    };
    let span = asked.key_span("options");
    let is_sorted =
        numbers.is_sorted_by(|one, two| one <= two) || numbers.is_sorted_by(|one, two| one >= two);
    if !is_sorted {
        flaws.push(Flaw::new(
            "the options are numbers out of order",
            span,
            "neither rising nor falling",
        ));
    } else if !choice.keep_order {
        flaws.push(Flaw::new(
            "the options are numbers and will be shuffled",
            span,
            "the item has no `keep_order: true`",
        ));
    }
}

/// The options as numbers if all are stages of one scale: `Class II`, `grade 3`.
fn stages(asked: &Asked<'_>) -> Option<Vec<(f64, f64)>> {
    let mut scale = None;
    let numbers = asked.options.iter().map(|given| {
        let (name, number) = stage(&given.text)?;
        let first = scale.get_or_insert_with(|| name.clone());
        (*first == name).then_some((number, number))
    });
    numbers.collect()
}

fn stage(text: &Prose<'_>) -> Option<(String, f64)> {
    let [name, number] = text.words.as_slice() else {
        return None;
    };
    let is_scale = [
        "class", "grade", "stage", "degree", "category", "level", "phase", "score",
    ]
    .contains(&name.low.as_ref());
    let roman = ["i", "ii", "iii", "iv", "v", "vi", "vii", "viii"];
    let number = number.low.parse().ok().or_else(|| {
        roman
            .iter()
            .position(|other| *other == number.low)
            .map(|at| f64::from(u8::try_from(at + 1).unwrap_or(u8::MAX)))
    });
    number
        .filter(|_| is_scale)
        .map(|number| (name.low.to_string(), number))
}
