//! Numbers and units, each in one spelling: `10,000 units` and `10000 iu` are the same amount.

/// Bytes of a number: digits, and `.`, `,` or `:` between digits.
pub(super) fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let is_digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let is_part = |at: usize| {
        is_digit(at) || (matches!(bytes.get(at), Some(b'.' | b',' | b':')) && is_digit(at + 1))
    };
    (0..bytes.len())
        .find(|at| !is_part(*at))
        .unwrap_or(bytes.len())
}

/// A number in one spelling: no commas between thousands, no zeros that say nothing.
pub(super) fn value(digits: &str) -> String {
    let parts: Vec<&str> = digits.split(',').collect();
    let is_thousands = parts.len() > 1
        && parts
            .iter()
            .skip(1)
            .all(|part| part.split(['.', ':']).next().map_or(0, str::len) == 3);
    let digits = digits.replace(',', if is_thousands { "" } else { "." });
    let ratio: Vec<String> = digits.split(':').map(plain).collect();
    ratio.join(":")
}

fn plain(number: &str) -> String {
    let (whole, fraction) = number.split_once('.').unwrap_or((number, ""));
    let (whole, fraction) = (
        whole.trim_start_matches('0'),
        fraction.trim_end_matches('0'),
    );
    let whole = if whole.is_empty() { "0" } else { whole };
    if fraction.is_empty() {
        whole.to_owned()
    } else {
        format!("{whole}.{fraction}")
    }
}

/// The number that a word names.
pub(super) fn number_word(word: &str) -> Option<&'static str> {
    const WORDS: [(&str, &str); 15] = [
        ("zero", "0"),
        ("one", "1"),
        ("two", "2"),
        ("three", "3"),
        ("four", "4"),
        ("five", "5"),
        ("six", "6"),
        ("seven", "7"),
        ("eight", "8"),
        ("nine", "9"),
        ("ten", "10"),
        ("eleven", "11"),
        ("twelve", "12"),
        ("once", "1x"),
        ("twice", "2x"),
    ];
    WORDS
        .iter()
        .find(|(name, _)| *name == word)
        .map(|(_, number)| *number)
}

/// Whether a short word only joins others, or is the rest of one behind an apostrophe.
pub(super) fn joins(word: &str) -> bool {
    const WORDS: [&str; 40] = [
        "a", "an", "and", "are", "as", "at", "be", "but", "by", "can", "did", "do", "for", "had",
        "has", "he", "her", "him", "his", "how", "if", "in", "is", "it", "its", "may", "of", "on",
        "or", "s", "she", "so", "the", "to", "too", "was", "we", "who", "why", "you",
    ];
    WORDS.contains(&word)
}

/// The unit that a word names, in one spelling.
pub(super) fn unit(word: &str) -> Option<&'static str> {
    const UNITS: [&[&str]; 25] = [
        &[
            "mm",
            "millimetre",
            "millimetres",
            "millimeter",
            "millimeters",
        ],
        &[
            "cm",
            "centimetre",
            "centimetres",
            "centimeter",
            "centimeters",
        ],
        &["µm", "micrometre", "micrometres", "micron", "microns"],
        &["m", "metre", "metres", "meter", "meters"],
        &["mg", "milligram", "milligrams"],
        &["µg", "mcg", "microgram", "micrograms"],
        &["g", "gram", "grams"],
        &["kg", "kilogram", "kilograms"],
        &[
            "ml",
            "millilitre",
            "millilitres",
            "milliliter",
            "milliliters",
        ],
        &["l", "litre", "litres", "liter", "liters"],
        &["s", "second", "seconds", "sec"],
        &["min", "minute", "minutes", "mins"],
        &["h", "hour", "hours", "hr", "hrs"],
        &["day", "days", "d"],
        &["week", "weeks", "wk"],
        &["month", "months"],
        &["year", "years", "yr", "yrs"],
        &["%", "percent"],
        &["°", "degree", "degrees"],
        &["mmhg"],
        &["kpa"],
        &["mmol"],
        &["n", "newton", "newtons"],
        &["iu", "units", "unit"],
        &["gy", "gray"],
    ];
    // The sign for micro has two code points.
    let word = word.to_lowercase().replace('μ', "µ");
    UNITS
        .iter()
        .find(|names| names.contains(&word.as_str()))
        .and_then(|names| names.first().copied())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_one_spelling() {
        for (digits, plain) in [
            ("10,000", "10000"),
            ("1,000.50", "1000.5"),
            ("0.50", "0.5"),
            ("1,5", "1.5"),
            ("007", "7"),
            ("1:100,000", "1:100000"),
        ] {
            assert_eq!(value(digits), plain, "{digits}");
        }
        assert_eq!(number_length("1:100,000 of"), 9);
        assert_eq!(number_length("5."), 1);
    }

    #[test]
    fn units_have_one_spelling() {
        assert_eq!(unit("Minutes"), unit("min"));
        assert_eq!(unit("mcg"), unit("μg"));
        assert_ne!(unit("mm"), unit("cm"));
        assert_eq!(unit("teeth"), None);
    }
}
