//! Two options of the same value.

use super::asked::Asked;
use super::measure::measure;
use super::quantity::Quantity;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;
use crate::source::Span;

pub(super) const RULE: Rule = Rule {
    code: "deck::equal-options",
    severity: Severity::Warning,
    why: "of two options of one value neither can be the one best answer, so both can be struck out \
          (Haladyna, Downing & Rodriguez 2002, guideline 22: keep choices independent)",
    help: "change one of them, or drop it",
    wrong: "What dose of adrenaline is given for anaphylaxis in an adult?\n* 0.5 mg\n- 500 micrograms\n- 5 mg",
    right: "What dose of adrenaline is given for anaphylaxis in an adult?\nkeep_order: true\n- 0.05 mg\n* 0.5 mg\n- 5 mg",
    find: Find::Item(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let mut met: Vec<(&Quantity, Span)> = Vec::new();
    for given in &asked.options {
        let Some(value) = &given.quantity else {
            continue;
        };
        let twin = met.iter().find(|(other, _)| is_same(other, value));
        if let Some((_, span)) = twin {
            flaws.push(
                Flaw::new(
                    "two options have the same value",
                    given.span,
                    "the same again",
                )
                .related(*span, "as this one"),
            );
        } else {
            met.push((value, given.span));
        }
    }
}

fn is_same(one: &Quantity, two: &Quantity) -> bool {
    let sizes = match (measure(&one.unit), measure(&two.unit)) {
        (Some((kind, size)), Some((other, other_size))) if kind == other => (size, other_size),
        (None, None) if one.unit == two.unit => (1.0, 1.0),
        _ => return false,
    };
    let is_close = |one: f64, two: f64| {
        let (one, two) = (one * sizes.0, two * sizes.1);
        // Of two numbers without end the difference is none.
        one.total_cmp(&two).is_eq() || (one.is_finite() && (one - two).abs() <= 1e-9 * one.abs())
    };
    is_close(one.low, two.low)
        && is_close(one.high, two.high)
        && (one.low_open, one.high_open) == (two.low_open, two.high_open)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{told_by, told_in_german_by};

    const CODE: &str = "deck::equal-options";

    fn told(options: &str) -> usize {
        let question = format!("How much is needed here?\nkeep_order: true\n{options}");
        told_by(CODE, &question).len()
    }

    #[test]
    fn an_open_range_is_no_number() {
        assert_eq!(told("- More than 5 mm\n* 5 mm\n- Less than 5 mm"), 0);
        assert_eq!(told("- More than 5 mm\n* 5 mm or more"), 0);
        assert_eq!(told("- 5 mm or more\n* At least 0.5 cm"), 1);
        assert_eq!(told("- 1 cc\n* 1 mL\n- 2 mL"), 1);
    }

    #[test]
    fn a_decimal_comma_is_none_of_thousands() {
        let german = |options: &str| {
            let question = format!("Welche Dosis?\nkeep_order: true\n{options}");
            told_in_german_by(CODE, &question).len()
                + told_in_german_by("deck::numbers-out-of-order", &question).len()
        };
        let doses = "- 0,5 mg\n* 1,5 mg\n- 5 mg\n- 10 mg";
        assert_eq!(german(doses) + told(doses), 0);
        assert_eq!(german("- 0,5 mg\n* 500 µg\n- 5 mg"), 1);
    }

    #[test]
    fn a_blood_pressure_is_no_fraction() {
        assert_eq!(
            told("- 120/80 mmHg\n- 140/90 mmHg\n- 160/100 mmHg\n* 180/120 mmHg"),
            0
        );
        assert_eq!(told("- 1/4\n* 1/2\n- 2/4"), 1);
    }
}
