//! Options that are quantities: numbers and ranges with a unit.

use super::asked::Asked;
use super::measure::{SHARE, measure, singular};
use super::numeral::{is_ambiguous, number, worded};
use super::words::Prose;

/// A number or a range, ends included or not, with its unit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Quantity {
    pub(super) low: f64,
    pub(super) high: f64,
    /// An open end: `more than 5` does not hold 5.
    pub(super) low_open: bool,
    pub(super) high_open: bool,
    /// In lower case, singular, without full stop; empty if there is none.
    pub(super) unit: String,
}

/// The options of an item as quantities, if every one is one and nothing else.
pub(super) fn quantities(asked: &Asked<'_>) -> Option<Vec<Quantity>> {
    let all: Option<Vec<Quantity>> = asked
        .options
        .iter()
        .map(|given| given.quantity.clone())
        .collect();
    all.filter(|all| all.len() > 1)
}

/// Reads `2 to 3 mm`, `more than 5 days`, `0.5%`, `1/2`, `1:200 000`, `5 in 100`, `twenty-one days`, `half an hour`.
pub(super) fn quantity(text: &Prose<'_>, is_english: bool) -> Option<Quantity> {
    let is_candidate = text.raw.len() < 60
        && (text.raw.bytes().any(|byte| byte.is_ascii_digit())
            || text.low().take(4).any(|word| worded(word).is_some())
            || is_one_of_a_unit(text));
    // Where the decimal sign is a comma, "1.500 mg" may be either.
    if !is_candidate || (!is_english && is_ambiguous(text.raw)) {
        return None;
    }
    let text = text
        .raw
        .to_lowercase()
        .replace(['–', '—', '−'], "-")
        .replace("per cent", "%");
    let mut rest = text.trim().trim_end_matches('.');
    for about in [
        "about ",
        "approximately ",
        "around ",
        "roughly ",
        "some ",
        "after ",
        "at ",
        "for ",
        "within ",
        "~",
        "≈",
        "every ",
        "the ",
    ] {
        // "At least 3 mm" is a bound, "at 3 mm" a number.
        if bound(rest).0 == Bound::None {
            rest = rest.strip_prefix(about).unwrap_or(rest);
        }
    }
    let (bound, after) = bound(rest);
    let (first, after) = number(after)?;
    if let Some((whole, unit)) = ratio(after) {
        return (bound == Bound::None && first <= whole).then(|| Quantity {
            low: first / whole,
            high: first / whole,
            low_open: false,
            high_open: false,
            unit,
        });
    }
    let (unit_of_first, after) = unit_before_range(after);
    let (second, after) = second(after, bound == Bound::Between);
    let (high, after) = second.map_or((first, after), |high| (high, after));
    let (bound, after) = trailing_bound(bound, after);
    let unit = unit(after)?;
    let unit = if unit.is_empty() {
        unit_of_first.to_owned()
    } else {
        unit
    };
    let (low, high, low_open, high_open) = match bound {
        Bound::Below => (0.0, high, false, true),
        Bound::AtMost => (0.0, high, false, false),
        Bound::Above => (first, f64::INFINITY, true, true),
        Bound::AtLeast => (first, f64::INFINITY, false, true),
        Bound::None | Bound::Between => (first, high, false, false),
    };
    (low <= high).then_some(Quantity {
        low,
        high,
        low_open,
        high_open,
        unit,
    })
}

/// Whether a text has `a week`, `an hour` near its start.
fn is_one_of_a_unit(text: &Prose<'_>) -> bool {
    text.words.windows(2).take(4).any(|pair| {
        matches!(pair[0].low.as_ref(), "a" | "an") && measure(singular(&pair[1].low)).is_some()
    })
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Bound {
    None,
    Between,
    Below,
    AtMost,
    Above,
    AtLeast,
}

fn bound(text: &str) -> (Bound, &str) {
    const BOUNDS: [(&str, Bound); 26] = [
        ("greater than or equal to ", Bound::AtLeast),
        ("more than or equal to ", Bound::AtLeast),
        ("less than or equal to ", Bound::AtMost),
        ("not more than ", Bound::AtMost),
        ("no more than ", Bound::AtMost),
        ("not less than ", Bound::AtLeast),
        ("no less than ", Bound::AtLeast),
        ("less than ", Bound::Below),
        ("fewer than ", Bound::Below),
        ("lower than ", Bound::Below),
        ("under ", Bound::Below),
        ("below ", Bound::Below),
        ("up to ", Bound::AtMost),
        ("at most ", Bound::AtMost),
        ("more than ", Bound::Above),
        ("greater than ", Bound::Above),
        ("higher than ", Bound::Above),
        ("over ", Bound::Above),
        ("above ", Bound::Above),
        ("at least ", Bound::AtLeast),
        ("between ", Bound::Between),
        ("from ", Bound::Between),
        ("<=", Bound::AtMost),
        (">=", Bound::AtLeast),
        ("<", Bound::Below),
        (">", Bound::Above),
    ];
    for (words, bound) in BOUNDS {
        if let Some(rest) = text.strip_prefix(words) {
            return (bound, rest.trim_start());
        }
    }
    match text
        .strip_prefix('≤')
        .map(|rest| (Bound::AtMost, rest))
        .or_else(|| text.strip_prefix('≥').map(|rest| (Bound::AtLeast, rest)))
    {
        Some((bound, rest)) => (bound, rest.trim_start()),
        None => (Bound::None, text),
    }
}

/// A bound behind its number: `5 mm or more`.
fn trailing_bound(bound: Bound, text: &str) -> (Bound, &str) {
    for (words, found) in [
        (" or more", Bound::AtLeast),
        (" and more", Bound::AtLeast),
        (" or greater", Bound::AtLeast),
        (" or above", Bound::AtLeast),
        (" or over", Bound::AtLeast),
        (" or longer", Bound::AtLeast),
        (" or higher", Bound::AtLeast),
        (" and above", Bound::AtLeast),
        (" and over", Bound::AtLeast),
        (" or less", Bound::AtMost),
        (" or fewer", Bound::AtMost),
        (" or below", Bound::AtMost),
        (" or lower", Bound::AtMost),
        (" or shorter", Bound::AtMost),
        (" or under", Bound::AtMost),
    ] {
        if bound == Bound::None
            && let Some(rest) = text.strip_suffix(words)
        {
            return (found, rest);
        }
    }
    (bound, text)
}

/// The second number of a ratio behind the first, with its unit: `:200 000`, ` in 100`, ` out of 20 patients`.
fn ratio(text: &str) -> Option<(f64, String)> {
    let trimmed = text.trim_start();
    let after = [":", "in ", "out of ", "of ", "per "]
        .iter()
        .find_map(|join| trimmed.strip_prefix(join))?;
    let (whole, after) = number(after.trim_start())?;
    let counted = unit(after)?;
    // "2 in 3 days" tells how fast, and no share.
    (whole > 0.0 && measure(&counted).is_none()).then(|| (whole, SHARE.to_owned()))
}

/// A unit that stands at both ends of a range: `2 mm to 3 mm`.
fn unit_before_range(text: &str) -> (&str, &str) {
    for join in [" to ", " and ", "-", " - "] {
        if let Some((unit, after)) = text.split_once(join)
            && !unit.trim().is_empty()
            && unit
                .trim()
                .chars()
                .all(|character| character.is_alphabetic() || matches!(character, '%' | '°'))
            && after
                .trim_start()
                .starts_with(|first: char| first.is_ascii_digit())
        {
            return (unit.trim(), text.get(unit.len()..).unwrap_or_default());
        }
    }
    ("", text)
}

fn second(text: &str, is_between: bool) -> (Option<f64>, &str) {
    let trimmed = text.trim_start();
    let joined = trimmed
        .strip_prefix("to ")
        .or_else(|| trimmed.strip_prefix('-'))
        .or_else(|| trimmed.strip_prefix("and ").filter(|_| is_between));
    match joined.and_then(|rest| number(rest.trim_start())) {
        Some((high, rest)) => (Some(high), rest),
        None => (None, text),
    }
}

/// At most three words of letters: `mg`, `mg per kg`, `days`.
fn unit(text: &str) -> Option<String> {
    // "27-gauge"
    let text = text.strip_prefix('-').unwrap_or(text).trim();
    let is_unit = text.split_whitespace().count() <= 4
        && text.chars().all(|character| {
            character.is_alphabetic()
                || matches!(character, ' ' | '%' | '°' | '/' | '²' | '³' | 'µ' | '\'')
        });
    if !is_unit {
        return None;
    }
    Some(singular(text).to_owned())
}

/// The quantities in one unit, if they can be compared.
pub(super) fn comparable(mut all: Vec<Quantity>) -> Option<Vec<Quantity>> {
    let first = all.first()?.unit.clone();
    if all.iter().all(|quantity| quantity.unit == first) {
        return Some(all);
    }
    let (kind, _) = measure(&first)?;
    for quantity in &mut all {
        let (own, size) = measure(&quantity.unit)?;
        if own != kind {
            return None;
        }
        quantity.low *= size;
        quantity.high *= size;
    }
    Some(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ends(text: &str) -> Option<(f64, f64, String)> {
        quantity(&Prose::new(text), true).map(|found| (found.low, found.high, found.unit))
    }

    #[test]
    fn numbers_and_ranges_are_read_with_their_unit() {
        let is = |text: &str, low: f64, high: f64, unit: &str| {
            assert_eq!(ends(text), Some((low, high, unit.to_owned())), "{text}");
        };
        is("2.5 mm", 2.5, 2.5, "mm");
        is("2 to 3 mm", 2.0, 3.0, "mm");
        is("5-10 days", 5.0, 10.0, "day");
        is("5–10 days", 5.0, 10.0, "day");
        is("2 mm to 3 mm", 2.0, 3.0, "mm");
        is("Between 10 and 12 minutes", 10.0, 12.0, "minute");
        is("Less than 5%", 0.0, 5.0, "%");
        is("20 per cent or more", 20.0, f64::INFINITY, "%");
        is("At least 3 mm", 3.0, f64::INFINITY, "mm");
        is("For at most 3 days", 0.0, 3.0, "day");
        is("3 mm or greater", 3.0, f64::INFINITY, "mm");
        is("2 mm or lower", 0.0, 2.0, "mm");
        is("Greater than or equal to 2 mm", 2.0, f64::INFINITY, "mm");
        is("0,5 mg", 0.5, 0.5, "mg");
        is("1/2", 0.5, 0.5, "");
        is("1,000 mg.", 1000.0, 1000.0, "mg");
        is("40 000", 40_000.0, 40_000.0, "");
        is("27-gauge", 27.0, 27.0, "gauge");
        for text in [
            "Tooth 38",
            "V2",
            "2 to 3 sutures placed at the papilla",
            ".",
        ] {
            assert_eq!(ends(text), None, "{text}");
        }
    }

    #[test]
    fn a_number_that_reads_two_ways_is_none_outside_english() {
        let value =
            |text: &str, is_english| quantity(&Prose::new(text), is_english).map(|found| found.low);
        assert_eq!(value("1,500 mg", true), Some(1500.0));
        assert_eq!(value("1,500 mg", false), None);
        assert_eq!(value("1,5 mg", false), Some(1.5));
    }

    #[test]
    fn ratios_and_number_words_are_numbers() {
        let is = |text: &str, value: f64, unit: &str| {
            assert_eq!(ends(text), Some((value, value, unit.to_owned())), "{text}");
        };
        is("1:80,000", 1.0 / 80_000.0, SHARE);
        is("1:200 000", 1.0 / 200_000.0, SHARE);
        is("5 in 100", 0.05, SHARE);
        is("One out of twenty patients", 0.05, SHARE);
        is("twenty-one days", 21.0, "day");
        is("Two hundred milligrams", 200.0, "milligram");
        is("half an hour", 0.5, "hour");
        is("About a week", 1.0, "week");
        is("One and a half hours", 1.5, "hour");
        is("Four", 4.0, "");
        for text in [
            "One-tooth flap",
            "Half the dose",
            "A clot",
            "2 in 3 days",
            "Someone else",
        ] {
            assert_eq!(ends(text), None, "{text}");
        }
    }
}
