//! Options that are quantities: numbers and ranges with a unit.

use super::asked::Asked;

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
        .map(|given| quantity(given.text.raw))
        .collect();
    all.filter(|all| all.len() > 1)
}

/// Reads `2 to 3 mm`, `more than 5 days`, `0.5%`, `1/2`.
pub(super) fn quantity(text: &str) -> Option<Quantity> {
    let is_candidate = text.len() < 60 && text.bytes().any(|byte| byte.is_ascii_digit());
    if !is_candidate {
        return None;
    }
    let text = text
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
        "a ",
    ] {
        rest = rest.strip_prefix(about).unwrap_or(rest);
    }
    let (bound, after) = bound(rest);
    let (first, after) = number(after)?;
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
    const BOUNDS: [(&str, Bound); 23] = [
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
        (" or above", Bound::AtLeast),
        (" or over", Bound::AtLeast),
        (" or longer", Bound::AtLeast),
        (" or higher", Bound::AtLeast),
        (" and above", Bound::AtLeast),
        (" and over", Bound::AtLeast),
        (" or less", Bound::AtMost),
        (" or fewer", Bound::AtMost),
        (" or below", Bound::AtMost),
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

/// A number at the start of a text, and the rest.
fn number(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|character: char| {
        !character.is_ascii_digit() && character != '.' && character != ','
    });
    let (digits, rest) = text.split_at(end.unwrap_or(text.len()));
    let cut = digits.trim_end_matches(['.', ',']);
    let rest = if cut.len() < digits.len() {
        text.get(cut.len()..)?
    } else {
        rest
    };
    let value: f64 = cut.replace(',', "").parse().ok()?;
    // A fraction, but no ratio: `1/2`, not `1:2`.
    if let Some(after) = rest.strip_prefix('/')
        && let Some((divisor, rest)) = number(after)
        && divisor > 0.0
    {
        return Some((value / divisor, rest));
    }
    Some((value, rest))
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
    let text = text.trim();
    let is_unit = text.split_whitespace().count() <= 4
        && text.chars().all(|character| {
            character.is_alphabetic()
                || matches!(character, ' ' | '%' | '°' | '/' | '²' | '³' | 'µ' | '\'')
        });
    if !is_unit {
        return None;
    }
    let unit = text
        .strip_suffix('s')
        .filter(|unit| unit.len() > 2)
        .unwrap_or(text);
    Some(unit.to_owned())
}

/// What a unit measures and how many of the smallest unit of its kind it holds.
pub(super) fn measure(unit: &str) -> Option<(Kind, f64)> {
    let found = match unit {
        "ng" => (Kind::Mass, 1e-3),
        "microgram" | "µg" | "μg" | "mcg" | "ug" => (Kind::Mass, 1.0),
        "mg" | "milligram" => (Kind::Mass, 1e3),
        "g" | "gram" => (Kind::Mass, 1e6),
        "kg" | "kilogram" => (Kind::Mass, 1e9),
        "µm" | "μm" | "micrometre" | "micron" => (Kind::Length, 1e-3),
        "mm" | "millimetre" | "millimeter" => (Kind::Length, 1.0),
        "cm" | "centimetre" | "centimeter" => (Kind::Length, 10.0),
        "m" | "metre" | "meter" => (Kind::Length, 1e3),
        "inch" | "inche" => (Kind::Length, 25.4),
        "µl" | "microlitre" => (Kind::Volume, 1e-3),
        "ml" | "millilitre" | "milliliter" => (Kind::Volume, 1.0),
        "l" | "litre" | "liter" => (Kind::Volume, 1e3),
        "second" | "sec" => (Kind::Time, 1.0),
        "min" | "minute" => (Kind::Time, 60.0),
        "h" | "hour" | "hr" => (Kind::Time, 3_600.0),
        "day" => (Kind::Time, 86_400.0),
        "week" => (Kind::Time, 604_800.0),
        "month" => (Kind::Time, 2_629_800.0),
        "year" => (Kind::Time, 31_557_600.0),
        _ => return None,
    };
    Some(found)
}

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Mass,
    Length,
    Volume,
    Time,
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
        quantity(text).map(|found| (found.low, found.high, found.unit))
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
        is("1/2", 0.5, 0.5, "");
        is("1,000 mg.", 1000.0, 1000.0, "mg");
        for text in [
            "Tooth 38",
            "V2",
            "1:80,000",
            "2 to 3 sutures placed at the papilla",
            ".",
        ] {
            assert_eq!(ends(text), None, "{text}");
        }
    }
}
