//! What the schedule is told: items, the plan of study, and answers as it sees them.
//!
//! Plain values. Nothing here decides anything.

use chrono::{Datelike, Weekday};

use crate::answer::{Confidence, Quality, RoundKind};
use crate::time::{Day, Moment};

/// What the schedule knows about an item before anyone answers it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ItemFacts {
    /// Share of the exam that this item stands for; see [`super::blueprint`].
    pub weight: f64,
    /// Chance of a right answer without any knowledge, 0 to 1.
    pub chance: f64,
    /// Number of its topic.
    pub topic: usize,
    /// A wrong answer could harm a patient.
    pub safety: bool,
}

/// The exam that a candidate prepares for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exam {
    /// When it begins, in days since 1970 as [`Moment::days`] counts them.
    pub at_days: f64,
    /// Its study day.
    pub day: Day,
}

/// Days of the week without study.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RestDays(u8);

impl RestDays {
    /// Every day is a study day.
    pub const NONE: Self = Self(0);

    /// These and `weekday`.
    #[must_use]
    pub const fn with(self, weekday: Weekday) -> Self {
        Self(self.0 | 1 << (weekday as u8))
    }

    /// Whether nobody studies on this day of the week.
    #[must_use]
    pub const fn has(self, weekday: Weekday) -> bool {
        self.0 & (1 << (weekday as u8)) != 0
    }

    /// Whether nobody studies on `day`.
    #[must_use]
    pub fn contains(self, day: Day) -> bool {
        self.has(day.date().weekday())
    }

    /// Whether no study day is left in the week.
    #[must_use]
    pub const fn is_whole_week(self) -> bool {
        self.0 & 0x7f == 0x7f
    }
}

/// How a candidate means to study. It may change on any day: nothing that is remembered of
/// an item depends on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StudyPlan {
    /// The exam, if one is set.
    pub exam: Option<Exam>,
    /// Seconds of study on a study day.
    pub seconds_a_day: f64,
    /// Days of the week without study.
    pub rest: RestDays,
}

impl StudyPlan {
    /// Seconds of study on `day`: none on a day of rest, never more than a day has.
    #[must_use]
    pub fn seconds_on(&self, day: Day) -> f64 {
        if self.rest.contains(day) {
            0.0
        } else {
            within_a_day(self.seconds_a_day)
        }
    }
}

/// Seconds between none and a day's; no number counts as none.
#[must_use]
pub fn within_a_day(seconds: f64) -> f64 {
    if seconds > 0.0 {
        seconds.min(86_400.0)
    } else {
        0.0
    }
}

impl Default for StudyPlan {
    /// No exam, half an hour every day.
    fn default() -> Self {
        Self {
            exam: None,
            seconds_a_day: 1800.0,
            rest: RestDays::NONE,
        }
    }
}

/// An answer as the schedule sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// When it was given.
    pub at: Moment,
    /// Whether it was right.
    pub right: bool,
    /// How sure the candidate was.
    pub confidence: Confidence,
    /// Seconds from question to response.
    pub seconds: f64,
    /// What it was asked in.
    pub round: RoundKind,
}

impl Seen {
    /// Its quality.
    #[must_use]
    pub const fn quality(&self) -> Quality {
        Quality::of(self.right, self.confidence)
    }

    /// Wrong and certain.
    #[must_use]
    pub fn is_confident_error(&self) -> bool {
        !self.right && self.confidence == Confidence::Certain
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rest_days_are_days_of_the_week() {
        let weekend = RestDays::NONE.with(Weekday::Sat).with(Weekday::Sun);
        // 2026-11-28 is a Saturday.
        let saturday = Day::parse("2026-11-28").unwrap();
        let resting: Vec<bool> = (0..7)
            .map(|ahead| weekend.contains(saturday.plus(ahead)))
            .collect();
        assert_eq!(resting, [true, true, false, false, false, false, false]);
        assert!(!weekend.is_whole_week());
        let week = [
            Weekday::Mon,
            Weekday::Tue,
            Weekday::Wed,
            Weekday::Thu,
            Weekday::Fri,
        ];
        assert!(
            week.into_iter()
                .fold(weekend, RestDays::with)
                .is_whole_week()
        );
    }
}
