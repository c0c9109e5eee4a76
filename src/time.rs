//! Moments and study days as plain values.
//!
//! A study day is a calendar day that turns over in the small hours, not at midnight. It is
//! fixed when an answer is given and never worked out again, so that travel and clock
//! changes cannot rewrite what happened. Nothing here reads a clock.

use std::fmt;

use chrono::{DateTime, Datelike, Days, FixedOffset, NaiveDate, TimeDelta, Utc};

/// Hour of local time at which a study day turns over unless set otherwise.
pub const TURNOVER_HOUR: u8 = 3;

const MS_A_DAY: f64 = 86_400_000.0;

/// A local study day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(NaiveDate);

impl Day {
    /// The study day with this calendar date.
    #[must_use]
    pub const fn new(date: NaiveDate) -> Self {
        Self(date)
    }

    /// The year of the calendar.
    #[must_use]
    pub fn year(self) -> i32 {
        self.0.year()
    }

    /// Reads `YYYY-MM-DD`; `None` if it is no such date.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        // chrono alone also takes "2026-1-5" and "2026- 1-05": the stored form has one spelling only.
        let is_form = |(at, byte): (usize, u8)| match at {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        };
        (text.len() == 10 && text.bytes().enumerate().all(is_form))
            .then(|| NaiveDate::parse_from_str(text, "%Y-%m-%d").ok())
            .flatten()
            .map(Self)
    }

    /// The study day that `number` days after 1970-01-01 falls on; the nearest date that
    /// can be told where the calendar ends.
    #[must_use]
    pub fn from_number(number: i64) -> Self {
        let epoch = NaiveDate::default();
        let day = TimeDelta::try_days(number).and_then(|delta| epoch.checked_add_signed(delta));
        Self(day.unwrap_or(if number < 0 {
            NaiveDate::MIN
        } else {
            NaiveDate::MAX
        }))
    }

    /// Days since 1970-01-01.
    #[must_use]
    pub fn number(self) -> i64 {
        (self.0 - NaiveDate::default()).num_days()
    }

    /// The day `days` later, or the last day of the calendar.
    #[must_use]
    pub fn plus(self, days: u32) -> Self {
        Self(
            self.0
                .checked_add_days(Days::new(days.into()))
                .unwrap_or(NaiveDate::MAX),
        )
    }

    /// Days from `earlier` to `self`; negative if `earlier` comes later.
    #[must_use]
    pub fn since(self, earlier: Self) -> i64 {
        self.number() - earlier.number()
    }

    /// The calendar date.
    #[must_use]
    pub const fn date(self) -> NaiveDate {
        self.0
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.format("%Y-%m-%d").fmt(f)
    }
}

/// A point in time with the study day it belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moment {
    /// Milliseconds since 1970-01-01T00:00:00Z.
    pub utc_ms: i64,
    /// Local study day.
    pub day: Day,
    /// Local time minus UTC, in minutes.
    pub offset_min: i32,
}

impl Moment {
    /// The moment of a local time; the study day turns over at `turnover_hour` (0 to 23).
    #[must_use]
    pub fn new(local: DateTime<FixedOffset>, turnover_hour: u8) -> Self {
        let shifted = local.naive_local() - TimeDelta::hours(turnover_hour.into());
        Self {
            utc_ms: local.timestamp_millis(),
            day: Day(shifted.date()),
            offset_min: local.offset().local_minus_utc() / 60,
        }
    }

    /// Time since 1970 in days, for memory estimates (which reckon with real elapsed time and
    /// not with calendar days).
    #[must_use]
    #[expect(
        clippy::cast_precision_loss,
        reason = "milliseconds since 1970 fit into 53 bits for 285,000 years"
    )]
    pub fn days(self) -> f64 {
        self.utc_ms as f64 / MS_A_DAY
    }

    /// RFC 3339 in UTC with milliseconds.
    #[must_use]
    pub fn rfc3339(self) -> String {
        DateTime::<Utc>::from_timestamp_millis(self.utc_ms)
            .unwrap_or_default()
            .to_rfc3339_opts(chrono::SecondsFormat::Millis, true)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn moment(text: &str) -> Moment {
        Moment::new(DateTime::parse_from_rfc3339(text).unwrap(), TURNOVER_HOUR)
    }

    #[test]
    fn the_day_turns_over_at_three_in_the_morning() {
        assert_eq!(
            moment("2027-03-02T02:59:59+01:00").day.to_string(),
            "2027-03-01"
        );
        assert_eq!(
            moment("2027-03-02T03:00:00+01:00").day.to_string(),
            "2027-03-02"
        );
        assert_eq!(
            moment("2028-03-01T01:00:00-05:00").day.to_string(),
            "2028-02-29"
        );
        assert_eq!(
            moment("2027-01-01T00:30:00+14:00").day.to_string(),
            "2026-12-31"
        );
    }

    #[test]
    fn the_day_is_local_wherever_it_is() {
        // One instant, two places: the same time in UTC, each with its own day.
        let kiritimati = moment("2027-03-02T12:00:00+14:00");
        let baker = moment("2027-03-01T10:00:00-12:00");
        assert_eq!(kiritimati.utc_ms, baker.utc_ms);
        assert_eq!(kiritimati.day.since(baker.day), 1);
        assert_eq!((kiritimati.offset_min, baker.offset_min), (840, -720));
    }

    #[test]
    fn dates_have_one_spelling() {
        assert_eq!(Day::parse("2027-03-02").unwrap().to_string(), "2027-03-02");
        for bad in ["2027-3-2", "2027-02-30", "", "2027-03-02 ", "+2027-03-0"] {
            assert_eq!(Day::parse(bad), None, "{bad}");
        }
    }

    #[test]
    fn numbers_and_days_are_one_to_one() {
        for number in [-1, 0, 1, 20_000, 59, 60] {
            assert_eq!(Day::from_number(number).number(), number);
        }
        assert_eq!(Day::from_number(i64::MAX).date(), NaiveDate::MAX);
        assert_eq!(
            Day::parse("2027-12-31").unwrap().plus(1).to_string(),
            "2028-01-01"
        );
    }
}
