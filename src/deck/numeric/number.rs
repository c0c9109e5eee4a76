//! Numbers as they are shown: decimals as on paper, never an exponent, never minus nothing.

use super::super::expression::{nearest, same};

/// Decimals that a number is shown with at most.
const MOST: usize = 4;

/// A number with the decimals it has, at most four.
#[must_use]
pub fn plain(number: f64) -> String {
    let text = fixed(number, MOST);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    text.to_owned()
}

/// A number with so many decimals, halves away from 0.
#[must_use]
pub fn fixed(number: f64, decimals: usize) -> String {
    let decimals = decimals.min(9);
    let power = power_of_ten(decimals);
    let scaled = number * power;
    // Past this a float has no such decimals.
    let rounded = if scaled.abs() < 1e15 {
        nearest(scaled) / power
    } else {
        number
    };
    format!("{:.decimals$}", rounded + 0.0)
}

/// A product of a whole number and a decimal without the last digits of a float: 3 x 0.1 is 0.3.
pub(super) fn tidy(number: f64) -> f64 {
    (0..=6)
        .map(power_of_ten)
        .find(|power| {
            let scaled = number * power;
            scaled.abs() < 1e15 && same(scaled, scaled.round())
        })
        .map_or(number, |power| (number * power).round() / power)
}

pub(super) fn power_of_ten(decimals: usize) -> f64 {
    (0..decimals).fold(1.0, |power, _| power * 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_look_as_on_paper() {
        for (number, shown) in [
            (3.0, "3"),
            (0.0275, "0.0275"),
            (11.666_666, "11.6667"),
            (-0.0, "0"),
            (-2.5, "-2.5"),
            (1200.0, "1200"),
            (0.1 + 0.2, "0.3"),
            (100.0, "100"),
            (0.000_01, "0"),
            (-0.000_01, "0"),
            (1e20, "100000000000000000000"),
        ] {
            assert_eq!(plain(number), shown);
        }
        assert_eq!(fixed(2.65, 1), "2.7");
        assert_eq!(fixed(3.0, 1), "3.0");
        assert_eq!(fixed(92.5, 0), "93");
        assert_eq!(format!("{}", tidy(3.0 * 0.1)), "0.3");
        assert_eq!(format!("{}", tidy(1.0 / 3.0)), format!("{}", 1.0 / 3.0));
    }
}
