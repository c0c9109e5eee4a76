//! Numbers at the start of a text, in digits or in words.

use super::measure::{measure, singular};

/// A number at the start of a text, in digits or in words, and the rest.
pub(super) fn number(text: &str) -> Option<(f64, &str)> {
    if text.starts_with(|first: char| first.is_alphabetic()) {
        return number_in_words(text);
    }
    let mut end = digits(text);
    // Thousands set off by a space: `200 000`.
    while (1..=3).contains(&digits(text))
        && let Some(group) = text
            .get(end..)
            .and_then(|rest| rest.strip_prefix([' ', '\u{a0}', '\u{202f}']))
        && digits(group) == 3
    {
        end = text.len() - group.len() + 3;
    }
    let (digits, rest) = text.split_at(end);
    let cut = digits.trim_end_matches(['.', ',']);
    let rest = if cut.len() < digits.len() {
        text.get(cut.len()..)?
    } else {
        rest
    };
    let value: f64 = plain(cut)?.parse().ok()?;
    // A fraction, but no ratio, and no pair such as a blood pressure: `1/2`, not `1:2`, not `120/80`.
    if let Some(after) = rest.strip_prefix('/')
        && let Some((divisor, rest)) = number(after)
    {
        let is_fraction = value < divisor && value.fract() + divisor.fract() <= 0.0;
        return is_fraction.then_some((value / divisor, rest));
    }
    Some((value, rest))
}

/// Digits with a point at most: commas before three digits set off thousands (`1,000`), another one is the decimal
/// sign (`0,5`).
fn plain(digits: &str) -> Option<String> {
    let digits: String = digits
        .chars()
        .filter(|character| !character.is_whitespace())
        .collect();
    let whole = digits.split('.').next().unwrap_or_default();
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    let is_grouped = (1..=3).contains(&first.len())
        && !first.starts_with('0')
        && groups.all(|group| group.len() == 3);
    if is_grouped {
        Some(digits.replace(',', ""))
    } else {
        let is_one = digits.matches([',', '.']).count() <= 1;
        is_one.then(|| digits.replace(',', "."))
    }
}

/// Whether a text has a number whose sign before three digits is that of thousands in one country and of decimals in
/// the next: `1.500`, `1,500`.
pub(super) fn is_ambiguous(text: &str) -> bool {
    text.match_indices(['.', ',']).any(|(at, _)| {
        let before = text.get(..at).unwrap_or_default();
        let before = before.trim_start_matches(|character: char| !character.is_ascii_digit());
        let after = text.get(at + 1..).unwrap_or_default();
        before.ends_with(|last: char| last.is_ascii_digit())
            && before != "0"
            && after.bytes().take_while(u8::is_ascii_digit).count() == 3
    })
}

/// Bytes of a number in digits at the start of a text.
fn digits(text: &str) -> usize {
    text.find(|character: char| !character.is_ascii_digit() && character != '.' && character != ',')
        .unwrap_or(text.len())
}

/// A number word in lower case.
pub(super) fn worded(word: &str) -> Option<f64> {
    const WORDS: [&str; 20] = [
        "zero",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
    ];
    const TENS: [&str; 8] = [
        "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
    ];
    let place = |words: &[&str]| {
        let place = words.iter().position(|other| *other == word)?;
        u8::try_from(place).ok().map(f64::from)
    };
    if !(3..=9).contains(&word.len()) {
        return None;
    }
    match word {
        "half" => Some(0.5),
        "quarter" => Some(0.25),
        "hundred" => Some(100.0),
        "thousand" => Some(1000.0),
        _ => place(&WORDS).or_else(|| place(&TENS).map(|ten| 10.0 * (ten + 2.0))),
    }
}

/// A number in words at the start of a text, and the rest: `twenty-one`, `two hundred`, `half an`, `a` before a unit.
fn number_in_words(text: &str) -> Option<(f64, &str)> {
    let (word, rest) = text.split_once(' ').unwrap_or((text, ""));
    if matches!(word, "a" | "an") {
        let counted = rest.split(' ').next().unwrap_or_default();
        let is_one = measure(singular(counted)).is_some();
        return if is_one {
            Some((1.0, rest))
        } else {
            number(rest).filter(|_| counted != "one")
        };
    }
    let value = match word.split_once('-') {
        None => worded(word)?,
        Some((tens, ones)) => {
            let (tens, ones) = (worded(tens)?, worded(ones)?);
            let is_sum = (20.0..100.0).contains(&tens) && (1.0..10.0).contains(&ones);
            is_sum.then_some(tens + ones)?
        }
    };
    // "Half an hour", "a quarter of an hour"; "half the dose" is no number of doses.
    if value < 1.0 && value > 0.0 {
        let rest = rest.strip_prefix("of ").unwrap_or(rest);
        let rest = rest.strip_prefix("an ").or_else(|| rest.strip_prefix("a "));
        return rest.map(|rest| (value, rest));
    }
    let (next, behind) = rest.split_once(' ').unwrap_or((rest, ""));
    match next {
        "hundred" => Some((value * 100.0, behind)),
        "thousand" => Some((value * 1000.0, behind)),
        "and" => match behind.strip_prefix("a half ") {
            Some(unit) => Some((value + 0.5, unit)),
            None => Some((value, text.get(word.len()..)?)),
        },
        _ => Some((value, text.get(word.len()..)?)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_and_words_give_the_same_number() {
        for (text, value, rest) in [
            ("200 000", 200_000.0, ""),
            ("1,000 mg", 1000.0, " mg"),
            ("1,200,000", 1_200_000.0, ""),
            ("1,000.5 mg", 1000.5, " mg"),
            ("0,5 mg", 0.5, " mg"),
            ("0,125 mg", 0.125, " mg"),
            ("12,25 mm", 12.25, " mm"),
            ("3/4 full", 0.75, " full"),
            ("twenty-one days", 21.0, " days"),
            ("two hundred", 200.0, ""),
            ("half an hour", 0.5, "hour"),
            ("a quarter of an hour", 0.25, "hour"),
            ("one and a half hours", 1.5, "hours"),
            ("a week", 1.0, "week"),
        ] {
            assert_eq!(number(text), Some((value, rest)), "{text}");
        }
        for text in [
            "one-tooth flap",
            "half the dose",
            "a clot",
            "someone",
            "120/80 mmHg",
            "0,5,5",
        ] {
            assert_eq!(number(text), None, "{text}");
        }
        assert!(is_ambiguous("1.500 mg") && is_ambiguous("1,500"));
        assert!(!is_ambiguous("0,125 mg") && !is_ambiguous("1,5 mg") && !is_ambiguous("1 500"));
    }
}
