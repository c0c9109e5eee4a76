//! Numeric options belong in numeric order.

use super::{Asked, Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::numbers-out-of-order",
    severity: Severity::Warning,
    why: "searching a jumble of numbers costs time and tests nothing (Haladyna, Downing & Rodriguez 2002, guideline 21)",
    help: "write the options from the lowest to the highest and set `keep_order: true` on the item",
    find: Find::Item(find),
};

fn find(asked: &Asked<'_>) -> Vec<Flaw> {
    let Some(choice) = asked.choice() else {
        return Vec::new();
    };
    let options: Option<Vec<(f64, String)>> = choice
        .options
        .iter()
        .map(|option| number(&option.text))
        .collect();
    let Some(options) = options.filter(|options| options.len() > 2) else {
        return Vec::new();
    };
    if options.windows(2).any(|pair| pair[0].1 != pair[1].1) {
        return Vec::new();
    }
    let span = asked.key_span("options");
    let is_sorted = options.is_sorted_by(|one, two| one.0 <= two.0)
        || options.is_sorted_by(|one, two| one.0 >= two.0);
    if !is_sorted {
        vec![Flaw::new(
            "the options are numbers out of order",
            span,
            "neither rising nor falling",
        )]
    } else if !choice.keep_order {
        vec![Flaw::new(
            "the options are numbers and will be shuffled",
            span,
            "the item has no `keep_order: true`",
        )]
    } else {
        Vec::new()
    }
}

/// The number that a text starts with, and the rest with every further number left out: options with the same rest
/// are of one unit.
fn number(text: &str) -> Option<(f64, String)> {
    let text = text.trim_start_matches(['<', '>', '≤', '≥', '~', ' ']);
    let end = text.find(|character: char| !character.is_ascii_digit() && character != '.');
    let (digits, rest) = text.split_at(end.unwrap_or(text.len()));
    let number = digits.trim_end_matches('.').parse().ok()?;
    let unit = rest
        .chars()
        .filter(|character| !character.is_ascii_digit() && *character != '.')
        .collect();
    Some((number, unit))
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn options_of_one_unit_have_one_rest() {
        assert_eq!(number("2.5 mm"), Some((2.5, " mm".to_owned())));
        assert_eq!(number("2 to 3 mm"), Some((2.0, " to  mm".to_owned())));
        assert_eq!(number("> 10").map(|found| found.0), Some(10.0));
        assert_eq!(number("Tooth 38"), None);
        assert_eq!(number("."), None);
    }
}
