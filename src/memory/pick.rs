//! What the schedule picked, why it picked it, and where an item stands.

use std::fmt;

use super::sm2::Sm2;
use crate::time::Day;

/// The item to ask now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pick {
    /// Number of the item.
    pub item: usize,
    /// Why now.
    pub why: Why,
    /// Whether it is the same-day repetition of an item already asked.
    pub reask: bool,
}

/// Why an item is asked now. As text: one plain sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Never asked before.
    Unseen,
    /// Due today.
    Due,
    /// Due some days ago.
    Overdue {
        /// Days since it was due.
        days: i64,
    },
    /// Not due yet, but its due day lies beyond the exam.
    BeyondExam {
        /// Days before its due day.
        days: i64,
    },
    /// Not due yet, but worth more now than anything else.
    Early {
        /// Days before its due day.
        days: i64,
    },
    /// Due some days ago; other items were worth more per minute until now.
    Postponed {
        /// Days since it was due.
        days: i64,
    },
    /// Drawn by exam weight, so that the forecast is checked where nobody chose.
    SpotCheck,
    /// Answered below quality 4 today.
    Again,
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let plural = |days: i64| if days == 1 { "" } else { "s" };
        match *self {
            Self::Unseen => f.write_str("Not met yet."),
            Self::Due => f.write_str("Due today."),
            Self::Overdue { days } => write!(f, "Overdue by {days} day{}.", plural(days)),
            Self::BeyondExam { days } => write!(
                f,
                "{days} day{} early: the exam comes before its due day.",
                plural(days)
            ),
            Self::Early { days } => write!(
                f,
                "{days} day{} early: with the exam ahead it gains most per minute now.",
                plural(days)
            ),
            Self::Postponed { days } => write!(
                f,
                "Postponed by {days} day{}: other items gained more per minute.",
                plural(days)
            ),
            Self::SpotCheck => {
                f.write_str("Spot check: drawn by exam weight to test the forecast.")
            }
            Self::Again => f.write_str("Again: not yet answered well today."),
        }
    }
}

/// Where an item stands on a day, by SM-2.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Never answered.
    Unseen,
    /// Not due yet.
    Later {
        /// Days until it is due.
        days: i64,
    },
    /// Due on this day.
    Due,
    /// Due before this day.
    Overdue {
        /// Days since it was due.
        days: i64,
    },
}

impl Standing {
    /// The standing on `day` of an item with this state.
    #[must_use]
    pub fn on(day: Day, sm2: Option<Sm2>) -> Self {
        let Some(state) = sm2 else {
            return Self::Unseen;
        };
        match day.since(state.due()) {
            0 => Self::Due,
            days if days > 0 => Self::Overdue { days },
            days => Self::Later { days: -days },
        }
    }

    /// Due or overdue.
    #[must_use]
    pub const fn is_due(self) -> bool {
        matches!(self, Self::Due | Self::Overdue { .. })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reasons_are_sentences() {
        let all = [
            Why::Unseen,
            Why::Due,
            Why::Overdue { days: 1 },
            Why::BeyondExam { days: 6 },
            Why::Early { days: 2 },
            Why::Postponed { days: 3 },
            Why::SpotCheck,
            Why::Again,
        ];
        let text: Vec<String> = all.iter().map(ToString::to_string).collect();
        assert!(
            text.iter()
                .all(|line| line.ends_with('.') && line.len() < 72)
        );
        assert_eq!(text[2], "Overdue by 1 day.");
        assert_eq!(text[3], "6 days early: the exam comes before its due day.");
    }
}
