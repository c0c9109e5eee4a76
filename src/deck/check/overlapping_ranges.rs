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
    help: "let each range begin behind the end of the one before; if a limit is asked for, let the options be plain numbers",
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
    // "Below 2", "below 4" are limits, unless it is asked how often a thing happens: then two are right.
    let is_nested = !asks_how_often(asked)
        && (all.iter().all(|one| one.high.is_infinite())
            || all.iter().all(|one| one.low <= 0.0 && one.low < one.high));
    if is_nested {
        let message = "each range lies within the next, so that a value is in several";
        let span = asked.key_span("options");
        flaws.push(Flaw::new(message, span, "is the limit asked for?").advice());
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

fn asks_how_often(asked: &Asked<'_>) -> bool {
    const OFTEN: [&str; 8] = [
        "common",
        "frequency",
        "frequent",
        "incidence",
        "often",
        "percentage",
        "prevalence",
        "proportion",
    ];
    let mut stems = asked.stems.iter();
    stems.any(|stem| stem.lead_in.has_any(&OFTEN))
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

#[cfg(test)]
mod tests {
    use super::super::trial::told_by;

    fn told(options: &str) -> Vec<String> {
        let question = format!("Which is the limit here?\nkeep_order: true\n{options}");
        told_by("deck::overlapping-ranges", &question)
    }

    #[test]
    fn limits_on_one_side_are_told_as_advice() {
        for options in [
            "- Below 2\n* Below 4\n- Below 6",
            "- < 2.0\n* < 4.0\n- < 6.0",
            "- At least 1 mm\n* At least 2 mm\n- At least 4 mm",
        ] {
            let told = told(options);
            assert_eq!(told.len(), 1, "{options}");
            assert!(told[0].starts_with("advice: each range lies"), "{told:?}");
        }
        assert_eq!(told("- 2\n* 4\n- 6"), [""; 0]);
        let often =
            "How often is the lip numb for good?\nkeep_order: true\n- Below 1 %\n* Below 10 %";
        assert_eq!(
            told_by("deck::overlapping-ranges", often),
            ["warning: two ranges overlap"]
        );
    }

    #[test]
    fn bounds_in_words_overlap_as_others_do() {
        for options in [
            "- At most 2 mm\n- 1 to 4 mm\n* At least 3 mm",
            "- 2 mm or less\n- 1 to 4 mm\n* 3 mm or greater",
        ] {
            assert_eq!(told(options), ["warning: two ranges overlap"; 2]);
        }
        assert_eq!(
            told("- At most 1 mm\n- 2 to 3 mm\n* At least 4 mm"),
            [""; 0]
        );
    }
}
