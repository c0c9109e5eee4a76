//! Keys that stand in one place too often, in a row, or by a pattern.
//!
//! Only items that keep the order of their options are looked at: the others are shuffled at each asking.

use super::{Find, Flaw, Rule, Whole};
use crate::deck::model::Body;
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::key-places",
    severity: Severity::Advice,
    why: "places of keys that can be predicted help a guesser (Haladyna, Downing & Rodriguez 2002, guideline 20); only items with \
          `keep_order: true` are counted, since the options of others are shuffled",
    help: "move the key in some of these items: choose distractors on its other side",
    wrong: "Twenty items in fixed order, the key in the last place in sixteen",
    right: "Twenty items in fixed order, the key in each place about equally often",
    find: Find::Deck(find),
};

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    // By number of options, the place of each key.
    let mut by_count: Vec<(usize, Vec<usize>, Vec<usize>)> = Vec::new();
    let items = whole.draft.items.iter().enumerate();
    let items = items.flat_map(|(number, placed)| {
        let items = placed.part.with_parts();
        items.map(move |item| (number, item))
    });
    for (number, item) in items {
        let Body::Single(choice) = &item.body else {
            continue;
        };
        let place = choice.options.iter().position(|option| option.key);
        let Some(place) = place.filter(|_| choice.keep_order) else {
            continue;
        };
        let count = choice.options.len();
        match by_count.iter_mut().find(|(other, ..)| *other == count) {
            Some((_, places, numbers)) => {
                places.push(place);
                numbers.push(number);
            }
            None => by_count.push((count, vec![place], vec![number])),
        }
    }
    let mut flaws = Vec::new();
    for (count, places, numbers) in by_count {
        let Some(first) = numbers
            .first()
            .and_then(|number| whole.draft.items.get(*number))
        else {
            continue;
        };
        let head = whole
            .source
            .line(whole.source.position(first.node.span.start()).line);
        let mut tell = |message: String| {
            let label = "in the items from here on that keep their order";
            flaws.push(Flaw::new(message, head, label));
        };
        let items = places.len();
        if is_uneven(&places, count) {
            let times: Vec<String> = (0..count)
                .map(|place| {
                    places
                        .iter()
                        .filter(|other| **other == place)
                        .count()
                        .to_string()
                })
                .collect();
            tell(format!(
                "the keys of {items} items with {count} options stand unevenly: {} by place",
                times.join(", ")
            ));
        }
        let run = places
            .chunk_by(|one, two| one == two)
            .map(<[usize]>::len)
            .max()
            .unwrap_or_default();
        if run >= 3 && expected_runs(items, count, run) < 0.01 {
            tell(format!("{run} keys in a row stand in the same place"));
        } else if let Some(period) = period(&places, count) {
            tell(format!(
                "the places of the keys repeat every {period} items"
            ));
        }
    }
    flaws
}

/// Whether places differ from an even spread more than chance would have it in 1 of 100 (Pearson's chi-square, 1900).
#[expect(clippy::cast_precision_loss, reason = "counts of items")]
fn is_uneven(places: &[usize], count: usize) -> bool {
    // Critical values at p = 0.01 for 1 to 7 degrees of freedom (standard table).
    const CRITICAL: [f64; 7] = [6.635, 9.210, 11.345, 13.277, 15.086, 16.812, 18.475];
    if places.len() < 5 * count {
        return false;
    }
    let expected = places.len() as f64 / count as f64;
    let square = |place| {
        let found = places.iter().filter(|other| **other == place).count() as f64;
        (found - expected).powi(2) / expected
    };
    let sum: f64 = (0..count).map(square).sum();
    count
        .checked_sub(2)
        .and_then(|index| CRITICAL.get(index))
        .is_some_and(|critical| sum > *critical)
}

/// How many runs of at least this length chance alone makes on average.
#[expect(clippy::cast_precision_loss, reason = "counts of items")]
fn expected_runs(items: usize, count: usize, run: usize) -> f64 {
    let share = 1.0 / count as f64;
    let power = i32::try_from(run - 1).unwrap_or(i32::MAX);
    (items - run + 1) as f64 * (1.0 - share) * share.powi(power)
}

/// A period of at most twice the options that is kept up three times over the whole list.
fn period(places: &[usize], count: usize) -> Option<usize> {
    (2..=2 * count)
        .filter(|period| places.len() >= 3 * period.max(&4))
        .find(|period| {
            places
                .iter()
                .zip(places.iter().skip(*period))
                .all(|(one, two)| one == two)
        })
}

#[cfg(test)]
mod tests {
    use super::super::trial::told_of_cases_by;
    use super::*;

    #[test]
    fn parts_of_cases_count_as_items_do() {
        let told = |keep_order: bool| {
            let part = format!(
                "stem: What is seen?, rationale: Told at length., keep_order: {keep_order}, \
                 options: [{{text: Pus, key: true}}, {{text: Blood, why: Wrong.}}]"
            );
            told_of_cases_by(RULE.code, 20, "A man of 30 has pain.", &part).len()
        };
        assert!(told(true) > 0);
        assert_eq!(told(false), 0);
    }

    /// The lengths for 40 items follow from (n - r + 1)(1 - 1/k)(1/k)^(r - 1) < 0.01.
    #[test]
    fn a_run_is_odd_from_a_length_that_depends_on_the_options() {
        for (count, run) in [(3, 9), (4, 7), (5, 6)] {
            assert!(expected_runs(40, count, run) < 0.01);
            assert!(expected_runs(40, count, run - 1) >= 0.01);
        }
    }

    #[test]
    fn uneven_places_and_patterns_are_seen() {
        assert!(is_uneven(&[0; 20], 4));
        assert!(!is_uneven(&[0, 1, 2, 3].repeat(5), 4));
        assert!(!is_uneven(&[0; 10], 4));
        assert_eq!(period(&[0, 2, 1].repeat(4), 3), Some(3));
        assert_eq!(period(&[0, 2, 1, 1, 0, 2, 2, 0, 1, 0, 0, 1], 3), None);
    }
}
