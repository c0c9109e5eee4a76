//! Two options of the same value.

use super::asked::Asked;
use super::quantity::{Kind, measure};
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
    let mut met: Vec<(Option<Kind>, String, f64, f64, Span)> = Vec::new();
    for given in &asked.options {
        let Some(value) = &given.quantity else {
            continue;
        };
        let (kind, size) =
            measure(&value.unit).map_or((None, 1.0), |(kind, size)| (Some(kind), size));
        let same_unit = |unit: &str| kind.is_some() || unit == value.unit;
        let close = |one: f64, two: f64| {
            one.total_cmp(&two).is_eq() || (one - two).abs() <= 1e-9 * one.abs()
        };
        let twin = met.iter().find(|(other, unit, low, high, _)| {
            *other == kind
                && same_unit(unit)
                && close(*low, value.low * size)
                && close(*high, value.high * size)
        });
        if let Some((_, _, _, _, span)) = twin {
            flaws.push(
                Flaw::new(
                    "two options have the same value",
                    given.span,
                    "the same again",
                )
                .related(*span, "as this one"),
            );
        } else {
            met.push((
                kind,
                value.unit.clone(),
                value.low * size,
                value.high * size,
                given.span,
            ));
        }
    }
}
