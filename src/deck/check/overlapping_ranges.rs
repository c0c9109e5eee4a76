//! Ranges that share values, or leave some out.

use super::asked::Asked;
use super::quantity::{Quantity, comparable, quantities};
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::overlapping-ranges",
    severity: Severity::Warning,
    why: "a value in two ranges makes two options right; a value in none may have no option \
          (Haladyna, Downing & Rodriguez 2002, guideline 22: keep choices independent)",
    help: "let each range begin behind the end of the one before",
    wrong: "How long after an extraction does a dry socket usually start to hurt?\nkeep_order: true\n- 0 to 1 days\n* 1 to 4 days\n- 3 to 9 days",
    right: "How long after an extraction does a dry socket usually start to hurt?\nkeep_order: true\n- Under 1 day\n* 1 to 4 days\n- Over 4 days",
    find: Find::Item(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let Some(all) = quantities(asked).and_then(comparable) else {
        return;
    };
    let ranges = all.iter().filter(|one| one.low < one.high).count();
    if ranges < 2 {
        return;
    }
    let mut placed: Vec<_> = all.iter().zip(&asked.options).collect();
    placed.sort_by(|one, two| {
        one.0
            .low
            .total_cmp(&two.0.low)
            .then(one.0.high.total_cmp(&two.0.high))
    });
    for pair in placed.windows(2) {
        let [(one, first), (two, second)] = pair else {
            continue;
        };
        let flaw = |message: &str, label: &str| {
            Flaw::new(message, second.span, label).related(first.span, "with this one")
        };
        match lie(one, two) {
            Lie::Apart => {}
            Lie::Overlap => flaws.push(flaw("two ranges overlap", "shares values")),
            Lie::Touch => flaws.push(
                flaw(
                    "two ranges share an end",
                    "which holds the value at the end?",
                )
                .advice(),
            ),
            Lie::Gap => flaws.push(
                flaw(
                    "two ranges leave values out between them",
                    "starts after a gap",
                )
                .advice(),
            ),
        }
    }
}

enum Lie {
    Apart,
    Touch,
    Overlap,
    Gap,
}

/// How two quantities lie, the lower first.
fn lie(one: &Quantity, two: &Quantity) -> Lie {
    let is_range = one.low < one.high && two.low < two.high;
    if one.high > two.low {
        return Lie::Overlap;
    }
    // Both ends are the same number here, as it was written.
    if one.high.total_cmp(&two.low).is_eq() {
        return if one.high_open || two.low_open {
            Lie::Apart
        } else {
            Lie::Touch
        };
    }
    // Between whole numbers nothing is left out: 1 to 4, 5 to 9.
    let is_whole = one.high.fract() == 0.0 && two.low.fract() == 0.0;
    let step = if is_whole { 1.0 } else { 0.1 + 1e-9 };
    // A gap as wide as the ranges themselves is meant: 1 to 2, 10 to 12.
    let width = (one.high - one.low).min(two.high - two.low);
    let gap = two.low - one.high;
    if is_range && gap > step && gap < width && one.unit == two.unit {
        Lie::Gap
    } else {
        Lie::Apart
    }
}
