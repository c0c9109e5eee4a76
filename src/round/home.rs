//! What the home screen tells: how much is due, done and left today, and what stands to be put right.

use super::{Record, record};
use crate::time::{Day, Moment};

/// What the home screen tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Home {
    /// Items due today or before.
    pub due: usize,
    /// Items among them that were due before today.
    pub overdue: usize,
    /// Items never answered.
    pub unseen: usize,
    /// All items.
    pub items: usize,
    /// Items to be asked again today, from a round that was stopped.
    pub again: usize,
    /// Answers given today.
    pub answers_today: u32,
    /// Seconds of answering today.
    pub seconds_today: f64,
    /// Seconds left of today's plan.
    pub seconds_left: f64,
    /// Whether the plan has no study today.
    pub is_rest_day: bool,
    /// Seconds that what is due will take.
    pub seconds_due: f64,
    /// The next day on which something is due, and how many items, if nothing is today.
    pub next: Option<(Day, usize)>,
    /// Items answered wrong and certain and not put right on a later day.
    pub confident_errors: usize,
    /// Mistaken beliefs behind wrong answers, not put right on a later day.
    pub mistaken_beliefs: usize,
    /// The day of the latest answer, if it lies ahead of the clock.
    pub ahead_of_clock: Option<Day>,
    /// The day of the exam that the plan prepares for, if one lies ahead.
    pub exam: Option<Day>,
}

impl Home {
    /// A day's plan counts as done below this many seconds.
    const DONE_BELOW_SECONDS: f64 = 60.0;

    /// Seconds of a round that goes on after the day's minutes are done.
    pub const MORE_SECONDS: f64 = 600.0;

    /// Whether the minutes of the day are done.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.seconds_left < Self::DONE_BELOW_SECONDS
    }

    /// Seconds of a review that is begun now without limits of its own: what is left of the day, then ten minutes at
    /// a time.
    #[must_use]
    pub fn round_seconds(&self) -> f64 {
        if self.is_done() {
            Self::MORE_SECONDS
        } else {
            self.seconds_left
        }
    }
}

impl Record {
    /// What the home screen tells on the study day of `now`.
    #[must_use]
    pub fn home(&self, now: Moment) -> Home {
        let day = self.study_day(now.day);
        let today = if self.last_day == Some(day) {
            self.today
        } else {
            record::Today::default()
        };
        let load = self.engine.workload(day);
        Home {
            due: load.due + load.overdue,
            overdue: load.overdue,
            unseen: load.unseen,
            items: self.library.entries().len(),
            again: self.engine.reasks_waiting(day),
            answers_today: today.answers,
            seconds_today: today.seconds,
            seconds_left: (self.engine.plan().seconds_on(day) - today.seconds).max(0.0),
            is_rest_day: self.engine.plan().rest.contains(day),
            seconds_due: load.due_seconds,
            next: self.next_day_with_work(day),
            confident_errors: self.confident_errors().len(),
            mistaken_beliefs: self.mistaken_beliefs().len(),
            ahead_of_clock: self.ahead_of_clock(now),
            exam: self
                .engine
                .plan()
                .exam
                .map(|exam| exam.day)
                .filter(|exam| *exam >= day),
        }
    }
}
