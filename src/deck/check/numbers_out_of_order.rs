//! Numeric options belong in numeric order.

use super::asked::Asked;
use super::numeral::worded;
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

/// The options as numbers if all are stages of one scale: `Class II`, `grade 3`, or `II` where all are such.
fn stages(asked: &Asked<'_>) -> Option<Vec<(f64, f64)>> {
    let mut scale = None;
    let romans = asked.options.iter().map(|given| lone_roman(&given.text));
    if let Some(numbers) = romans.collect::<Option<Vec<_>>>() {
        return Some(numbers.into_iter().map(|one| (one, one)).collect());
    }
    let numbers = asked.options.iter().map(|given| {
        let (name, number) = stage(&given.text)?;
        let first = *scale.get_or_insert(name);
        (first == name).then_some((number, number))
    });
    numbers.collect()
}

fn stage<'a>(text: &'a Prose<'_>) -> Option<(&'a str, f64)> {
    const SCALES: [&str; 14] = [
        "class", "grade", "stage", "degree", "category", "level", "phase", "score", "asa", "age",
        "day", "week", "year", "size",
    ];
    let words = text.words.as_slice();
    let words = match words {
        [first, rest @ ..] if matches!(first.low.as_ref(), "on" | "at" | "in" | "by" | "after") => {
            rest
        }
        _ => words,
    };
    let [name, number] = words else {
        return None;
    };
    let number = number
        .low
        .parse()
        .ok()
        .or_else(|| roman(&number.low))
        .or_else(|| worded(&number.low))?;
    SCALES
        .contains(&name.low.as_ref())
        .then_some((name.low.as_ref(), number))
}

/// A Roman numeral that is all of an option.
fn lone_roman(text: &Prose<'_>) -> Option<f64> {
    match text.words.as_slice() {
        [only] if only.raw.len() == text.raw.trim_end_matches('.').len() => roman(&only.low),
        _ => None,
    }
}

/// A small Roman numeral in lower case.
fn roman(word: &str) -> Option<f64> {
    const ROMAN: [&str; 8] = ["i", "ii", "iii", "iv", "v", "vi", "vii", "viii"];
    let place = ROMAN.iter().position(|other| *other == word)?;
    u8::try_from(place + 1).ok().map(f64::from)
}

#[cfg(test)]
mod tests {
    use super::super::trial::told_by;
    use super::*;

    #[test]
    fn bare_roman_numerals_are_numbers_if_all_options_are() {
        let told = |keys: &str| {
            let question = format!("Which ASA class is this?\n{keys}");
            told_by("deck::numbers-out-of-order", &question).len()
        };
        assert_eq!(told("keep_order: true\n- I\n* II\n- III\n- IV"), 0);
        assert_eq!(told("- I\n* II\n- III\n- IV"), 1);
        assert_eq!(told("keep_order: true\n- II\n* I\n- IV"), 1);
        assert_eq!(told("- I\n* II\n- Neither of the classes"), 0);
    }

    #[test]
    fn stages_of_a_scale_are_numbers() {
        for (text, name, number) in [
            ("Class II", "class", 2.0),
            ("ASA III", "asa", 3.0),
            ("On day three", "day", 3.0),
            ("Stage 0", "stage", 0.0),
        ] {
            assert_eq!(stage(&Prose::new(text)), Some((name, number)), "{text}");
        }
        for text in ["Tooth 38", "Class", "Nerve VII", "Day of surgery"] {
            assert_eq!(stage(&Prose::new(text)), None, "{text}");
        }
    }
}
