//! A computed number: right if it lies near enough to the key, in its unit or in one that measures the same.
//!
//! A right number in a unit of something else is wrong and told as such: who writes mL for mg gives another dose. A wrong
//! number that a declared slip gives is explained by the slip's name.

use super::typed_number::{self, Typed, is_wanted};
use super::{Line, Pose, Standing, Unfit, Verdict};
use crate::deck::numeric::{Drawn, Numeric, Slip, Values, fill};
use crate::deck::unit;

/// A text of the item with the values of this asking.
pub(super) fn shown(text: &str, numeric: &Numeric, pose: &Pose) -> String {
    asked_with(text, numeric, &pose.drawn)
}

/// A text of the item with these values.
pub(super) fn asked_with(text: &str, numeric: &Numeric, drawn: &[Drawn]) -> String {
    with_values(text, &numeric.values(drawn))
}

fn with_values(text: &str, values: &Values) -> String {
    fill(text, |name, decimals| values.shown(name, decimals))
}

/// A computed number worked out with the values of one asking, for whoever shows it without an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// The key, in the item's unit.
    pub key: f64,
    /// The least and the greatest number that count as right, in that unit.
    pub limits: (f64, f64),
    /// The way to the key.
    pub solution: String,
    /// What typical errors lead to: the number with its unit, and what is to be said of it.
    pub slips: Vec<(String, String)>,
}

/// The key of a computed number in this pose; nothing if its numbers do not work out, which the checker refuses.
#[must_use]
pub fn worked(numeric: &Numeric, pose: &Pose) -> Option<Worked> {
    let mut values = numeric.values(&pose.drawn);
    let key = numeric.key(&mut values).ok()?;
    // The last digits of a computer's fractions are no error.
    let room = numeric.room(key).max(1e-9 * key.abs().max(1.0));
    let numbers: Vec<Option<f64>> = numeric
        .slips
        .iter()
        .map(|slip| numeric.slipped(slip, &mut values).ok())
        .collect();
    values.know_answer(key);
    let slips = numeric
        .slips
        .iter()
        .zip(numbers)
        .filter_map(|(slip, number)| {
            let number = number.filter(|number| !numeric.accepts(key, *number))?;
            let why = format!("{}: {}", slip.name, with_values(&slip.why, &values));
            Some((numeric.with_unit(number), why))
        });
    Some(Worked {
        key,
        limits: (key - room, key + room),
        slips: slips.collect(),
        solution: with_values(&numeric.solution, &values),
    })
}

pub(super) fn mark(numeric: &Numeric, pose: &Pose, text: &str) -> Result<Verdict, Unfit> {
    let typed = typed_number::read(text, numeric.unit.as_deref(), &numeric.units)?;
    let mut values = numeric.values(&pose.drawn);
    let key = numeric.key(&mut values).map_err(|_| Unfit::Unsound)?;
    let number = in_unit(numeric, &typed);
    let right = number.is_some_and(|number| numeric.accepts(key, number));
    let slips = if right {
        Vec::new()
    } else {
        numeric.slips_of(&mut values, key, number.unwrap_or(typed.number))
    };
    let unit = unit_told(numeric, &typed, key).filter(|_| !right);
    values.know_answer(key);
    let mut lines = Vec::new();
    if !right {
        lines.push(Line {
            label: String::new(),
            text: text.trim().to_owned(),
            standing: Standing::Wrong,
            given: None,
            why: why_wrong(unit, &slips, &values),
        });
    }
    lines.push(Line {
        label: String::new(),
        text: numeric.with_unit(key),
        standing: if right {
            Standing::Hit
        } else {
            Standing::Missed
        },
        given: right.then(|| format!("you typed {}", text.trim())),
        why: Some(with_values(&numeric.solution, &values)),
    });
    Ok(Verdict {
        right,
        key: vec![numeric.with_unit(key)],
        logged: vec![text.trim().to_owned()],
        lines,
        // Which of several errors it was nobody can tell.
        beliefs: match slips.as_slice() {
            [slip] => slip.belief.clone().into_iter().collect(),
            _ => Vec::new(),
        },
    })
}

/// The number typed, in the unit of the key; nothing if it measures something else.
fn in_unit(numeric: &Numeric, typed: &Typed) -> Option<f64> {
    match (&typed.unit, &numeric.unit) {
        (Some(given), Some(wanted)) if !is_wanted(given, wanted, &numeric.units) => {
            unit::factor(given, wanted).map(|factor| typed.number * factor)
        }
        _ => Some(typed.number),
    }
}

/// What is to be said of a unit that is not the key's.
fn unit_told(numeric: &Numeric, typed: &Typed, key: f64) -> Option<String> {
    let (given, wanted) = (typed.unit.as_ref()?, numeric.unit.as_ref()?);
    if is_wanted(given, wanted, &numeric.units) {
        return None;
    }
    let number_fits = numeric.accepts(key, typed.number);
    Some(if number_fits {
        format!(
            "The number is right but the unit is not: the answer is in {wanted}, not in {given}."
        )
    } else if unit::factor(given, wanted).is_some() {
        format!("The answer is asked in {wanted}; what you typed was converted from {given}.")
    } else {
        format!("The answer is in {wanted}; {given} measures something else.")
    })
}

fn why_wrong(unit: Option<String>, slips: &[&Slip], values: &Values) -> Option<String> {
    let slips: Vec<String> = slips
        .iter()
        .map(|slip| format!("{}: {}", slip.name, with_values(&slip.why, values)))
        .collect();
    let slips = (!slips.is_empty()).then(|| slips.join(" Or: "));
    let told: Vec<String> = unit.into_iter().chain(slips).collect();
    (!told.is_empty()).then(|| told.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::expression::Expression;
    use crate::deck::numeric::{Choices, Quantity, Tolerance, Variable};

    fn item() -> Numeric {
        let read = |text| Expression::read(text).unwrap();
        Numeric {
            draw: vec![Variable {
                name: "kg".into(),
                choices: Choices::List(vec![Quantity::Number(60.0)]),
            }],
            rows: None,
            derive: Vec::new(),
            require: None,
            answer: read("min(kg * 7, 500)"),
            round: None,
            tolerance: Some(Tolerance::Absolute(1.0)),
            unit: Some("mg".into()),
            units: Vec::new(),
            allow_negative: false,
            slips: vec![Slip {
                name: "Per cent read as mg/mL".into(),
                gives: read("kg * 0.7"),
                why: "2 % is 20 mg/mL, so {kg} kg may have more.".into(),
                belief: Some("per-cent".into()),
            }],
            solution: "7 x {kg} = {answer} mg.".into(),
        }
    }

    fn verdict(text: &str) -> Verdict {
        let numeric = item();
        let pose = Pose {
            wording: 0,
            order: Vec::new(),
            targets: Vec::new(),
            drawn: numeric.draw(1),
        };
        mark(&numeric, &pose, text).unwrap()
    }

    #[test]
    fn the_key_is_right_in_every_spelling_and_the_way_to_it_is_told() {
        for text in [
            "420",
            "420.0",
            "420,0",
            "420 mg",
            "421",
            "419",
            "0.42 g",
            "420000 micrograms",
        ] {
            assert!(verdict(text).right, "{text}");
        }
        let verdict = verdict("420.5 mg");
        assert_eq!(verdict.key, ["420 mg"]);
        assert_eq!(verdict.lines.len(), 1);
        assert_eq!(verdict.lines[0].why.as_deref(), Some("7 x 60 = 420 mg."));
        assert_eq!(
            verdict.lines[0].given.as_deref(),
            Some("you typed 420.5 mg")
        );
    }

    #[test]
    fn a_right_number_in_a_wrong_unit_is_wrong_and_told() {
        for (text, told) in [
            (
                "420 mL",
                "The number is right but the unit is not: the answer is in mg, not in mL.",
            ),
            (
                "420 g",
                "The number is right but the unit is not: the answer is in mg, not in g.",
            ),
            ("21 mL", "The answer is in mg; mL measures something else."),
            (
                "0.3 g",
                "The answer is asked in mg; what you typed was converted from g.",
            ),
        ] {
            let verdict = verdict(text);
            assert!(!verdict.right, "{text}");
            assert_eq!(verdict.lines[0].why.as_deref(), Some(told));
            assert_eq!(verdict.lines[1].standing, Standing::Missed);
        }
    }

    #[test]
    fn a_slip_is_explained_by_name() {
        let slipped = verdict("42 mg");
        assert!(!slipped.right);
        assert_eq!(
            slipped.lines[0].why.as_deref(),
            Some("Per cent read as mg/mL: 2 % is 20 mg/mL, so 60 kg may have more.")
        );
        assert_eq!(slipped.beliefs, ["per-cent"]);
        assert_eq!(verdict("43").beliefs, Vec::<String>::new());
    }
}
