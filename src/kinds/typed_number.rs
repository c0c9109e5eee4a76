//! A number as people type it: `3`, `3.0`, `3,0`, `1 200`, `3 cartridges`.
//!
//! Taken: a sign; decimals after a point or a comma; thousands parted by thin or plain spaces, or by commas or points
//! where nothing else can be meant; a unit behind it. Refused with what to type instead: a single comma before exactly three
//! digits (1,234 is read in two ways), fractions, sums, ranges, powers of ten, units that are not known. A point before
//! three digits is a decimal point. Nothing here is ever infinite or not a number.

use super::Unfit;
use crate::deck::unit;

/// A number with the unit it was given in.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Typed {
    pub(super) number: f64,
    /// As typed; nothing if there was none.
    pub(super) unit: Option<String>,
}

/// Reads a number wanted in `unit`, of which `also` are further spellings.
pub(super) fn read(text: &str, unit: Option<&str>, also: &[String]) -> Result<Typed, Unfit> {
    let text = text.trim();
    if text.is_empty() {
        return Err(Unfit::NotANumber);
    }
    let unsigned = text.trim_start_matches(['-', '−', '+']);
    let signs: Vec<char> = text
        .chars()
        .take(text.chars().count() - unsigned.chars().count())
        .collect();
    let sign = match signs.as_slice() {
        [] | ['+'] => 1.0,
        ['-' | '−'] => -1.0,
        _ => return Err(Unfit::NotANumber),
    };
    let unsigned = unsigned.trim_start();
    let length = number_length(unsigned);
    let (digits, rest) = unsigned.split_at_checked(length).unwrap_or((unsigned, ""));
    let rest = rest.trim();
    let is_fraction = |character: char| {
        matches!(
            character,
            '½' | '¼' | '¾' | '⅓' | '⅔' | '⅛' | '⅜' | '⅝' | '⅞'
        )
    };
    let slash = rest.strip_prefix(['/', '⁄']).map(str::trim_start);
    if rest.starts_with(is_fraction)
        || slash.is_some_and(|rest| rest.starts_with(|next: char| next.is_ascii_digit()))
    {
        return Err(Unfit::Fraction);
    }
    let number = sign * value(digits)?;
    Ok(Typed {
        // -0 would be shown with its sign.
        number: number + 0.0,
        unit: unit_of(rest, unit, also)?,
    })
}

/// Bytes of the digits at the start, with points and commas, and spaces before a digit.
fn number_length(text: &str) -> usize {
    let mut length = 0;
    let mut characters = text.char_indices().peekable();
    while let Some((at, character)) = characters.next() {
        let before_digit = characters
            .peek()
            .is_some_and(|(_, next)| next.is_ascii_digit());
        if character.is_ascii_digit()
            || matches!(character, '.' | ',')
            || (is_space(character) && before_digit)
        {
            length = at + character.len_utf8();
        } else {
            break;
        }
    }
    length
}

/// The spaces that part thousands: plain, no-break, thin, narrow no-break.
const fn is_space(character: char) -> bool {
    matches!(character, ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}')
}

fn value(digits: &str) -> Result<f64, Unfit> {
    let digits = digits.strip_suffix('.').unwrap_or(digits);
    let marks: Vec<char> = digits
        .chars()
        .filter(|mark| matches!(mark, '.' | ','))
        .collect();
    let has_spaces = digits.contains(is_space);
    // What ends in a decimal mark has no decimals; groups alone have no such mark.
    let mut has_mark = true;
    let (whole, decimals) = match marks.as_slice() {
        [] => {
            has_mark = false;
            (digits, "")
        }
        ['.'] => parted(digits, '.'),
        [','] => {
            let (whole, decimals) = parted(digits, ',');
            let is_ambiguous = is_group(decimals)
                && !has_spaces
                && (1..=3).contains(&whole.len())
                && !whole.starts_with('0');
            if is_ambiguous {
                return Err(Unfit::TwoReadings {
                    typed: digits.to_owned(),
                    whole: format!("{whole}{decimals}"),
                    decimal: format!("{whole}.{decimals}"),
                });
            }
            (whole, decimals)
        }
        [first @ .., last] => {
            // 1,234,567 has groups only; in 1,234.5 and 1.234,5 the last mark is the decimal one.
            if first.contains(last) {
                if first.iter().any(|mark| mark != last) {
                    return Err(Unfit::NotANumber);
                }
                has_mark = false;
                (digits, "")
            } else {
                parted(digits, *last)
            }
        }
    };
    let whole = grouped(whole)?;
    let is_good = (!whole.is_empty() || !decimals.is_empty())
        && decimals.bytes().all(|byte| byte.is_ascii_digit())
        && (!has_mark || !decimals.is_empty());
    if !is_good {
        return Err(Unfit::NotANumber);
    }
    let number: f64 = format!("0{whole}.{decimals}0")
        .parse()
        .map_err(|_| Unfit::NotANumber)?;
    if number.is_finite() {
        Ok(number)
    } else {
        Err(Unfit::NotANumber)
    }
}

fn parted(digits: &str, mark: char) -> (&str, &str) {
    digits.rsplit_once(mark).unwrap_or((digits, ""))
}

fn is_group(text: &str) -> bool {
    text.len() == 3 && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// The digits of a whole number whose thousands may be parted, all in the same way.
fn grouped(whole: &str) -> Result<String, Unfit> {
    let is_mark = |character: char| is_space(character) || matches!(character, '.' | ',');
    let mut groups = whole.split(is_mark);
    let first = groups.next().unwrap_or_default();
    let rest: Vec<&str> = groups.collect();
    let mut marks = whole.chars().filter(|character| is_mark(*character));
    let kind = |mark: char| if is_space(mark) { ' ' } else { mark };
    let is_even = marks
        .next()
        .is_none_or(|mark| marks.all(|other| kind(other) == kind(mark)));
    let is_good = rest.is_empty()
        || (is_even && (1..=3).contains(&first.len()) && rest.iter().all(|group| is_group(group)));
    if is_good {
        Ok(format!("{first}{}", rest.concat()))
    } else {
        Err(Unfit::NotANumber)
    }
}

/// What stands behind the number, if it is a unit that can be told.
fn unit_of(rest: &str, unit: Option<&str>, also: &[String]) -> Result<Option<String>, Unfit> {
    if rest.is_empty() {
        return Ok(None);
    }
    let is_of_unit = |character: char| {
        character.is_alphanumeric()
            || is_space(character)
            || matches!(character, '%' | '°' | '/' | '.' | '^' | '-' | '·')
    };
    let starts_well = rest.starts_with(|first: char| first.is_alphabetic() || "%°".contains(first));
    let has_number = rest
        .split(is_space)
        .any(|word| word.starts_with(|first: char| first.is_ascii_digit()));
    let is_power = rest
        .strip_prefix(['e', 'E'])
        .and_then(|power| power.chars().next())
        .is_some_and(|next| next.is_ascii_digit() || next == '-' || next == '+');
    if !starts_well || has_number || is_power || !rest.chars().all(is_of_unit) {
        return Err(Unfit::NotANumber);
    }
    let Some(wanted) = unit else {
        return Err(Unfit::NoUnit(rest.to_owned()));
    };
    let is_wanted = is_wanted(rest, wanted, also);
    if is_wanted || unit::known(rest).is_some() {
        Ok(Some(rest.to_owned()))
    } else {
        Err(Unfit::UnknownUnit {
            typed: rest.to_owned(),
            unit: wanted.to_owned(),
        })
    }
}

/// Whether a spelling is one of the unit wanted.
pub(super) fn is_wanted(typed: &str, unit: &str, also: &[String]) -> bool {
    unit::is_same(typed, unit) || also.iter().any(|other| unit::is_same(typed, other))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn number(text: &str) -> Result<f64, Unfit> {
        read(text, Some("cartridges"), &["carpules".into()]).map(|typed| typed.number)
    }

    #[test]
    fn a_number_is_taken_however_it_is_written() {
        for (text, value) in [
            ("3", 3.0),
            (" 3.0 ", 3.0),
            ("3,0", 3.0),
            ("3.", 3.0),
            (".5", 0.5),
            (",5", 0.5),
            ("0,125", 0.125),
            ("0.125", 0.125),
            ("1.234", 1.234),
            ("1234,567", 1234.567),
            ("1,2345", 1.2345),
            ("1 200", 1200.0),
            ("1\u{2009}200", 1200.0),
            ("1\u{202f}200\u{a0}300", 1_200_300.0),
            ("1 200,5", 1200.5),
            ("1 200,125", 1200.125),
            ("1,200,300", 1_200_300.0),
            ("1,200.5", 1200.5),
            ("1.200,5", 1200.5),
            ("1.200.300", 1_200_300.0),
            ("007", 7.0),
            ("-3", -3.0),
            ("−3", -3.0),
            ("+3", 3.0),
            ("-0", 0.0),
            ("3 cartridges", 3.0),
            ("3cartridges", 3.0),
            ("3.0 Cartridge.", 3.0),
            ("3 carpules", 3.0),
            ("1 200 mg", 1200.0),
            ("36 mg/mL", 36.0),
            ("24.5 kg/m2", 24.5),
            ("12 %", 12.0),
        ] {
            assert_eq!(number(text), Ok(value), "{text}");
        }
        assert!(!number("-0").unwrap().is_sign_negative());
    }

    #[test]
    fn what_is_not_clear_is_refused_with_what_to_type() {
        let two = |typed: &str, whole: &str, decimal: &str| Unfit::TwoReadings {
            typed: typed.into(),
            whole: whole.into(),
            decimal: decimal.into(),
        };
        assert_eq!(number("1,234"), Err(two("1,234", "1234", "1.234")));
        assert_eq!(number("12,345 mg"), Err(two("12,345", "12345", "12.345")));
        for text in ["1/2", "1 1/2", "1 / 2", "½", "1½", "3 ½"] {
            assert_eq!(number(text), Err(Unfit::Fraction), "{text}");
        }
        for text in [
            "",
            "three",
            "~3",
            "about 3",
            "3-4",
            "3 to 4",
            "3 or 4",
            "3+4",
            "2 x 3",
            "2*3",
            "1e3",
            "1E-3",
            "10^3",
            "--3",
            "+-3",
            "-",
            ".",
            ",",
            "3,",
            "1..2",
            "1,,2",
            "12 00",
            "1 2",
            "1,20,300",
            "1,200.300,4",
            "1 200.300.400",
            "3 = 3",
            "inf",
            "nan",
            "NaN",
            "-inf",
            "٣",
            "3 mg\u{202e}",
            "0x10",
        ] {
            assert!(
                matches!(
                    number(text),
                    Err(Unfit::NotANumber | Unfit::UnknownUnit { .. })
                ),
                "{text}: {:?}",
                number(text)
            );
        }
        let unknown = number("3 cartrigdes").unwrap_err().to_string();
        assert_eq!(
            unknown,
            "type the number alone or in cartridges; cartrigdes is no unit known here"
        );
        assert_eq!(read("3 mg", None, &[]), Err(Unfit::NoUnit("mg".into())));
    }

    proptest! {
        #[test]
        fn nothing_typed_makes_a_number_that_is_none(text in ".{0,40}|[0-9., eE+/-]{0,40}|[0-9]{0,400}") {
            if let Ok(typed) = read(&text, Some("mg"), &[]) {
                prop_assert!(typed.number.is_finite());
            }
        }

        #[test]
        fn every_spelling_of_a_number_is_that_number(thousandths in 0_u32..200_000_000) {
            let number = f64::from(thousandths) / 1000.0;
            let text = format!("{number}");
            prop_assert_eq!(read(&text, None, &[]).unwrap().number.to_bits(), number.to_bits());
            let (whole, decimals) = text.split_once('.').unwrap_or((&text, ""));
            // A fourth decimal makes the comma clear.
            let comma = format!("{whole},{decimals:0<4}");
            prop_assert_eq!(read(&comma, None, &[]).unwrap().number.to_bits(), number.to_bits());
            let mut spaced = String::new();
            for (place, digit) in whole.chars().enumerate() {
                if place > 0 && (whole.len() - place) % 3 == 0 {
                    spaced.push('\u{2009}');
                }
                spaced.push(digit);
            }
            let spaced = format!("{spaced}.{decimals:0<1}");
            prop_assert_eq!(read(&spaced, None, &[]).unwrap().number.to_bits(), number.to_bits());
        }
    }
}
