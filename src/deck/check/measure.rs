//! Units and what they measure.

/// The unit of ratios.
pub(super) const SHARE: &str = ":";

/// A word without the `s` of the plural.
pub(super) fn singular(unit: &str) -> &str {
    unit.strip_suffix('s')
        .filter(|unit| unit.len() > 2)
        .unwrap_or(unit)
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
        "ml" | "cc" | "millilitre" | "milliliter" => (Kind::Volume, 1.0),
        "l" | "litre" | "liter" => (Kind::Volume, 1e3),
        "s" | "second" | "sec" => (Kind::Time, 1.0),
        "min" | "minute" => (Kind::Time, 60.0),
        "h" | "hour" | "hr" => (Kind::Time, 3_600.0),
        "d" | "day" => (Kind::Time, 86_400.0),
        "wk" | "week" => (Kind::Time, 604_800.0),
        "fortnight" => (Kind::Time, 1_209_600.0),
        "month" => (Kind::Time, 2_629_800.0),
        "yr" | "year" => (Kind::Time, 31_557_600.0),
        SHARE => (Kind::Share, 1.0),
        "%" | "percent" => (Kind::Share, 0.01),
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
    /// Of a whole.
    Share,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_names_of_units_measure_what_long_ones_do() {
        for [short, long] in [
            ["cc", "ml"],
            ["s", "second"],
            ["d", "day"],
            ["wk", "week"],
            ["yr", "year"],
        ] {
            assert!(measure(short).is_some() && measure(short) == measure(long));
        }
        assert_eq!(measure("root"), None);
    }
}
