//! Units that answers come in: which spellings are one unit, and which units measure the same.
//!
//! A deck's own unit may be any word; this table only knows the usual ones, so that `g` can be told from `mg` and
//! converted, and `mL` can be told to be another thing.

/// A unit.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// Spellings, folded; the first is the symbol.
    pub names: &'static [&'static str],
    /// What it measures.
    pub measures: &'static str,
    /// Its size in the smallest unit of what it measures.
    pub size: f64,
}

const fn unit(measures: &'static str, size: f64, names: &'static [&'static str]) -> Unit {
    Unit {
        names,
        measures,
        size,
    }
}

/// The usual units.
const UNITS: [Unit; 35] = [
    unit("mass", 1.0, &["ug", "mcg", "microgram", "microgramme"]),
    unit("mass", 1e3, &["mg", "milligram", "milligramme"]),
    unit("mass", 1e6, &["g", "gram", "gramme"]),
    unit("mass", 1e9, &["kg", "kilo", "kilogram", "kilogramme"]),
    unit("weight in pounds", 1.0, &["lb", "lbs", "pound"]),
    unit("volume", 1.0, &["ml", "cc", "millilitre", "milliliter"]),
    unit("volume", 1e3, &["l", "litre", "liter"]),
    unit("length", 1.0, &["um", "micron", "micrometre", "micrometer"]),
    unit("length", 1e3, &["mm", "millimetre", "millimeter"]),
    unit("length", 1e4, &["cm", "centimetre", "centimeter"]),
    unit("length", 1e6, &["m", "metre", "meter"]),
    unit("time", 1.0, &["s", "sec", "second"]),
    unit("time", 60.0, &["min", "mins", "minute"]),
    unit("time", 3600.0, &["h", "hr", "hrs", "hour"]),
    unit("time", 86_400.0, &["d", "day"]),
    unit("time", 604_800.0, &["wk", "week"]),
    unit("months", 1.0, &["month"]),
    unit("years", 1.0, &["yr", "yrs", "year"]),
    unit("share", 1.0, &["%", "percent", "pct"]),
    unit("pressure", 1.0, &["mmhg"]),
    unit("pressure in kilopascals", 1.0, &["kpa"]),
    unit("concentration", 1.0, &["mg/ml"]),
    unit("dose by weight", 1.0, &["mg/kg"]),
    unit("glucose by mass", 1.0, &["mg/dl"]),
    unit("glucose by amount", 1.0, &["mmol/l"]),
    unit("body mass index", 1.0, &["kg/m2", "kg/m^2", "kg/m²"]),
    unit("flow", 1.0, &["l/min"]),
    unit("flow by the hour", 1.0, &["ml/h", "ml/hr"]),
    unit("count of cartridges", 1.0, &["cartridge", "cartridges"]),
    unit(
        "count of tablets",
        1.0,
        &["tablet", "tablets", "tab", "tabs"],
    ),
    unit("count of capsules", 1.0, &["capsule", "capsules", "caps"]),
    unit("count of doses", 1.0, &["dose", "doses"]),
    unit("count of patients", 1.0, &["patient", "patients", "people"]),
    unit("score", 1.0, &["point", "points"]),
    unit("angle", 1.0, &["°", "degree", "deg"]),
];

/// A spelling without what does not count: case, spaces, full stops, the plural, the two signs for micro.
#[must_use]
pub fn folded(spelling: &str) -> String {
    let plain: String = spelling
        .chars()
        .filter(|character| !character.is_whitespace() && *character != '.')
        .flat_map(char::to_lowercase)
        .map(|character| match character {
            'µ' | 'μ' => 'u',
            other => other,
        })
        .collect();
    match plain.strip_suffix('s') {
        Some(one) if one.chars().count() >= 3 && !one.ends_with(['s', '/']) => one.to_owned(),
        _ => plain,
    }
}

/// Whether two spellings are of one unit.
#[must_use]
pub fn is_same(one: &str, two: &str) -> bool {
    folded(one) == folded(two)
        || known(one).is_some_and(|unit| known(two).is_some_and(|other| other == unit))
}

/// The usual unit with this spelling.
#[must_use]
pub fn known(spelling: &str) -> Option<&'static Unit> {
    let folded = folded(spelling);
    UNITS.iter().find(|unit| {
        unit.names
            .iter()
            .any(|name| *name == folded || self::folded(name) == folded)
    })
}

/// How many of `to` one of `from` is, if both measure the same.
#[must_use]
pub fn factor(from: &str, to: &str) -> Option<f64> {
    let (from, to) = (known(from)?, known(to)?);
    (from.measures == to.measures).then(|| from.size / to.size)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_of_one_unit_are_one() {
        for (one, two) in [
            ("mg", "MG"),
            ("mg", "milligrams"),
            ("µg", "mcg"),
            ("μg", "micrograms"),
            ("mL", "cc"),
            ("ml", "millilitres"),
            ("cartridges", "cartridge"),
            ("%", "per cent"),
            ("kg/m2", "kg / m²"),
            ("points", "point."),
            ("carpules", "carpule"),
            ("min", "minutes"),
        ] {
            assert!(is_same(one, two), "{one} {two}");
        }
        for (one, two) in [
            ("mg", "mL"),
            ("mg", "g"),
            ("mmHg", "mm"),
            ("carpule", "cartridge"),
        ] {
            assert!(!is_same(one, two), "{one} {two}");
        }
    }

    #[test]
    fn units_of_one_measure_convert() {
        assert_eq!(factor("g", "mg"), Some(1000.0));
        assert_eq!(factor("micrograms", "mg"), Some(0.001));
        assert_eq!(factor("h", "min"), Some(60.0));
        assert_eq!(factor("mL", "mg"), None);
        assert_eq!(factor("lb", "kg"), None);
        assert_eq!(factor("widgets", "mg"), None);
    }

    #[test]
    fn no_spelling_has_two_meanings() {
        let mut seen: Vec<(String, usize)> = Vec::new();
        for (number, unit) in UNITS.iter().enumerate() {
            for name in unit.names.iter().map(|name| folded(name)) {
                assert!(
                    !seen
                        .iter()
                        .any(|(other, owner)| *other == name && *owner != number),
                    "{name}"
                );
                seen.push((name, number));
            }
        }
    }
}
