//! SM-2 as published: how many days until an item is due again.
//!
//! Source: P. A. Wozniak, "Optimization of Learning", master's thesis, University of
//! Technology in Poznan, 1990. Nothing here knows of an exam: these intervals are always kept
//! and always shown. This module must never read a clock or grade by anything but quality.

use crate::answer::Quality;
use crate::time::Day;

/// Easiness of an item that has never been answered.
pub const EASINESS_AT_FIRST: f64 = 2.5;
/// Easiness never falls below this.
pub const EASINESS_FLOOR: f64 = 1.3;
/// No interval is longer than this many days: a hundred years.
pub const INTERVAL_CEILING: u32 = 36_500;

/// What SM-2 remembers of an item that has been answered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sm2 {
    /// Successful repetitions in a row, the first of them being the one after a failure.
    pub repetitions: u32,
    /// Easiness (E-Factor), at least 1.3.
    pub easiness: f64,
    /// Days from the last counted answer to the next.
    pub interval_days: u32,
    /// Day of the last counted answer.
    pub answered: Day,
}

/// The easiness after a response of this quality: `EF + 0.1 - (5-q)(0.08 + (5-q) 0.02)`, at
/// least 1.3. It is applied to responses of 3 and more; a failure leaves the easiness alone.
#[must_use]
pub fn easiness_after(easiness: f64, quality: Quality) -> f64 {
    let short = 5.0 - f64::from(quality.value());
    (easiness + 0.1 - short * (0.08 + short * 0.02)).max(EASINESS_FLOOR)
}

impl Sm2 {
    /// The state after the first answer that an item ever gets.
    #[must_use]
    pub fn first(quality: Quality, day: Day) -> Self {
        Self {
            repetitions: 0,
            easiness: EASINESS_AT_FIRST,
            interval_days: 0,
            answered: day,
        }
        .graded(quality, day)
    }

    /// The state after an answer on `day`.
    ///
    /// - On the day of the last counted answer (or before, if a clock was moved back) nothing
    ///   changes: same-day repeats belong to that answer.
    /// - On the due day or later the published rules apply. A late answer earns the published
    ///   interval and no more.
    /// - A right answer *before* the due day, as in a drill or a paper, earns what its real
    ///   wait is worth: the interval becomes `waited x easiness` if that is more than it was,
    ///   and counts from today; repetitions and easiness stay. So asking early, however often,
    ///   never yields more than waiting would have, and asking daily yields nothing.
    /// - A wrong answer starts the item again whenever it comes.
    #[must_use]
    pub fn after(self, quality: Quality, day: Day) -> Self {
        if day <= self.answered {
            self
        } else if day < self.due() && quality.value() >= 3 {
            let waited = u32::try_from(day.since(self.answered)).unwrap_or(0);
            let earned = grown(waited, self.easiness);
            Self {
                interval_days: self.interval_days.max(earned),
                answered: day,
                ..self
            }
        } else {
            self.graded(quality, day)
        }
    }

    /// The day on which the item is due.
    #[must_use]
    pub fn due(self) -> Day {
        self.answered.plus(self.interval_days)
    }

    /// The published step: I(1) = 1, I(2) = 6, I(n) = I(n-1) EF, fractions rounded up; below
    /// quality 3 the item starts again with its easiness unchanged.
    fn graded(self, quality: Quality, day: Day) -> Self {
        if quality.value() < 3 {
            return Self {
                repetitions: 1,
                interval_days: 1,
                answered: day,
                ..self
            };
        }
        let repetitions = self.repetitions.saturating_add(1);
        Self {
            repetitions,
            easiness: easiness_after(self.easiness, quality),
            interval_days: match repetitions {
                1 => 1,
                2 => 6,
                _ => grown(self.interval_days, self.easiness),
            },
            answered: day,
        }
    }
}

/// `days` times `easiness`, rounded up to whole days.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=36500 just before"
)]
fn grown(days: u32, easiness: f64) -> u32 {
    (f64::from(days) * easiness)
        .ceil()
        .clamp(0.0, f64::from(INTERVAL_CEILING)) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quality(value: u8) -> Quality {
        Quality::new(value).unwrap()
    }

    fn on_time(state: Sm2, value: u8) -> Sm2 {
        state.after(quality(value), state.due())
    }

    #[test]
    fn repeats_on_the_same_day_change_nothing() {
        let day = Day::from_number(20_000);
        let missed = Sm2::first(quality(1), day);
        assert_eq!(missed.after(quality(5), day), missed);
        assert_eq!(missed.after(quality(0), Day::from_number(19_990)), missed);
    }

    #[test]
    fn asking_early_never_beats_waiting() {
        let mut state = Sm2::first(quality(5), Day::from_number(20_000));
        for _ in 0..2 {
            state = on_time(state, 5);
        }
        let on_due = on_time(state, 5).interval_days;
        for waited in 1..state.interval_days {
            let early = state.after(quality(5), state.answered.plus(waited));
            assert!(early.interval_days >= state.interval_days && early.interval_days <= on_due);
            assert_eq!(early.repetitions, state.repetitions);
            assert!((early.easiness - state.easiness).abs() < f64::EPSILON);
        }
    }

    #[test]
    fn daily_drilling_earns_no_interval() {
        let mut state = Sm2::first(quality(5), Day::from_number(20_000));
        state = on_time(state, 5);
        let six = state.interval_days;
        for _ in 0..30 {
            state = state.after(quality(5), state.answered.plus(1));
        }
        assert_eq!(state.interval_days, six);
    }

    #[test]
    fn failing_early_starts_again_as_failing_late_does() {
        let mut state = Sm2::first(quality(5), Day::from_number(20_000));
        state = on_time(on_time(state, 4), 4);
        for days in [1, 200] {
            let failed = state.after(quality(2), state.answered.plus(days));
            assert_eq!((failed.repetitions, failed.interval_days), (1, 1));
            assert_eq!(on_time(failed, 4).interval_days, 6);
        }
    }

    #[test]
    fn lateness_earns_nothing_and_intervals_end_at_a_century() {
        let mut state = Sm2::first(quality(5), Day::from_number(20_000));
        state = on_time(state, 5);
        let late = state.after(quality(5), state.due().plus(100));
        assert_eq!(late.interval_days, on_time(state, 5).interval_days);
        for _ in 0..200 {
            state = on_time(state, 5);
        }
        assert_eq!(state.interval_days, INTERVAL_CEILING);
        assert!(state.easiness.is_finite());
    }
}
