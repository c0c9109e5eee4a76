//! Numbers, times and days in words, the same on every screen.

use crate::time::Day;
use crate::words::minutes;

/// Seconds as a length of work: `less than a minute`, `about 12 minutes`.
pub(super) fn about_minutes(seconds: f64) -> String {
    match whole_minutes(seconds) {
        0 => minutes(seconds),
        _ => format!("about {}", minutes(seconds)),
    }
}

/// Seconds in whole minutes, the nearest.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float turned into an integer keeps within its bounds, and no time here is negative"
)]
pub(super) fn whole_minutes(seconds: f64) -> usize {
    (seconds / 60.0).round() as usize
}

/// `Wednesday 25 November 2026`.
pub(super) fn date(day: Day) -> String {
    day.date().format("%A %-d %B %Y").to_string()
}

/// A coming day as seen from `today`: `tomorrow, Thursday 26 November`.
pub(super) fn coming(day: Day, today: Day) -> String {
    let date = day.date().format("%A %-d %B");
    match day.since(today) {
        ..=0 => "today".to_owned(),
        1 => format!("tomorrow, {date}"),
        days @ 2..=180 => format!("in {days} days, {date}"),
        _ => format!("on {}", self::date(day)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_told_in_words() {
        assert_eq!(about_minutes(20.0), "less than a minute");
        assert_eq!(about_minutes(61.0), "about 1 minute");
        assert_eq!(about_minutes(300.0), "about 5 minutes");
        assert_eq!(whole_minutes(f64::NAN), 0);
        assert_eq!(whole_minutes(-90.0), 0);
    }

    #[test]
    fn days_are_told_from_today() {
        let today = Day::parse("2026-11-25").unwrap();
        assert_eq!(date(today), "Wednesday 25 November 2026");
        let told: Vec<String> = [0, 1, 6, 400]
            .iter()
            .map(|ahead| coming(today.plus(*ahead), today))
            .collect();
        assert_eq!(told[..2], ["today", "tomorrow, Thursday 26 November"]);
        assert_eq!(
            told[2..],
            [
                "in 6 days, Tuesday 1 December",
                "on Thursday 30 December 2027"
            ]
        );
    }
}
