//! Numbers of one kind in several units.

use super::asked::Asked;
use super::measure::{Kind, measure};
use super::quantity::quantities;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::mixed-units",
    severity: Severity::Advice,
    why: "options in several units test the conversion, not the knowledge, and in a dose they invite a tenfold slip \
          (common practice; Institute for Safe Medication Practices on dose expressions, from memory)",
    help: "write all options in one unit; if the conversion is what is tested, say so in the rationale",
    wrong: "What is the usual adult dose of amoxicillin by mouth?\n* 500 mg\n- 2 g\n- 50 mg",
    right: "What is the usual adult dose of amoxicillin by mouth?\nkeep_order: true\n- 50 mg\n* 500 mg\n- 2000 mg",
    find: Find::Item(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let Some(all) = quantities(asked) else { return };
    let Some(first) = all.first() else { return };
    // "One nerve", "two arteries" are counted things and no units.
    if !all.iter().all(|one| is_unit(&one.unit)) {
        return;
    }
    let differing = all
        .iter()
        .zip(&asked.options)
        .find(|(one, _)| bare(&one.unit) != bare(&first.unit));
    let Some((other, given)) = differing else {
        return;
    };
    // Spans of time are told in the unit that fits each: 24 hours, 2 weeks.
    let is_time = |unit: &str| matches!(measure(unit), Some((Kind::Time, _)));
    if all.iter().all(|one| is_time(&one.unit)) {
        return;
    }
    let message = if first.unit.is_empty() || other.unit.is_empty() {
        "some options have a unit and some have none"
    } else {
        "the options are in several units"
    };
    flaws.push(Flaw::new(
        message,
        given.span,
        "another unit than the first option",
    ));
}

/// A unit without what it is a unit of: `mg` of "mg amoxicillin", `mg per kg`.
fn bare(unit: &str) -> &str {
    match unit.split_once(' ') {
        Some((first, rest)) if !rest.starts_with("per ") => first,
        _ => unit,
    }
}

/// Whether it is a unit, or there is none: `mg/kg`, `mm`, not `roots`.
fn is_unit(unit: &str) -> bool {
    let first = unit.split([' ', '/']).next().unwrap_or_default();
    unit.is_empty() || !first.chars().all(char::is_alphabetic) || measure(first).is_some()
}

#[cfg(test)]
mod tests {
    use super::super::trial::told_by;

    #[test]
    fn a_drug_behind_a_unit_makes_no_other_unit() {
        let told = |options| {
            let question = format!("What is given to her?\nkeep_order: true\n{options}");
            told_by("deck::mixed-units", &question).len()
        };
        assert_eq!(told("- 2% lidocaine\n* 3% mepivacaine\n- 4% articaine"), 0);
        assert_eq!(
            told("- 150 mg clindamycin\n* 400 mg metronidazole\n- 500 mg amoxicillin"),
            0
        );
        assert_eq!(
            told("- 150 mg clindamycin\n* 400 mg metronidazole\n- 2 g amoxicillin"),
            1
        );
        assert_eq!(told("- 5 mg per kg\n* 300 mg\n- 500 mg"), 1);
    }
}
