//! The days between now and the exam, and what a second of study costs on them.
//!
//! Days are counted by how many are left: 0 is the day of the exam. The nearer the exam, the
//! dearer a second, because every item wants its last review there.

use super::study::{Exam, StudyPlan};
use crate::time::Moment;

/// No plan looks further ahead than this many days.
pub const LONGEST: usize = 400;
/// Gaps that a plan considers, in days.
const GAPS: [usize; 19] = [
    1, 2, 3, 4, 5, 6, 8, 10, 13, 17, 22, 28, 36, 46, 60, 80, 105, 140, 180,
];
/// Days before the exam that a plan considers as well.
const EVES: [usize; 4] = [7, 4, 2, 1];

/// What a second costs with so many days `left`, over what it costs ten days before the exam.
///
/// Prices found by iteration for each plan, so that what is planned fits what each day holds,
/// lie close to this curve and gain nothing over it.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "at most 400 days")]
pub fn dearness(left: usize) -> f64 {
    10.0 / left.max(1) as f64
}

/// The time from a round to the exam.
#[derive(Clone, Debug, PartialEq)]
pub struct Horizon {
    /// Days left today.
    pub days: usize,
    /// Days from a round at today's hour to the exam, beyond the whole days left.
    lead: f64,
    /// Whether anyone studies with so many days left.
    open: Vec<bool>,
    landings: Vec<Vec<usize>>,
}

impl Horizon {
    /// The horizon of a round at `now`; `None` if no exam lies ahead.
    #[must_use]
    pub fn new(plan: &StudyPlan, now: Moment) -> Option<Self> {
        let Exam { at_days, day } = plan.exam?;
        let ahead = at_days - now.days();
        if ahead.is_nan() || ahead <= 0.0 {
            return None;
        }
        let days = usize::try_from(day.since(now.day))
            .unwrap_or(0)
            .min(LONGEST);
        let open: Vec<bool> = (0..=days)
            .map(|left| {
                let day = now.day.plus(u32::try_from(days - left).unwrap_or(0));
                left > 0 && !plan.rest.contains(day)
            })
            .collect();
        let landings = (0..=days).map(|left| landings(left, &open)).collect();
        #[expect(clippy::cast_precision_loss, reason = "at most 400 days")]
        let lead = (ahead - days as f64).clamp(-1.0, 1.0);
        Some(Self {
            days,
            lead,
            open,
            landings,
        })
    }

    /// Days from a round with `left` days to go to the exam.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "at most 400 days")]
    pub fn delay(&self, left: usize) -> f64 {
        (left as f64 + self.lead).max(0.02)
    }

    /// Days (by how many are left) on which an item answered with `left` days to go may be
    /// asked next, earliest first.
    #[must_use]
    pub fn landings(&self, left: usize) -> &[usize] {
        self.landings.get(left).map_or(&[], Vec::as_slice)
    }

    /// Days left on which anyone studies, today left out.
    #[must_use]
    pub fn study_days(&self) -> usize {
        self.open
            .iter()
            .take(self.days)
            .filter(|open| **open)
            .count()
    }

    /// The same with the hour of the round taken to three hours, so that what is worked out for it
    /// holds for rounds at about the same hour.
    #[must_use]
    pub fn rounded(&self) -> Self {
        Self {
            lead: (self.lead * 8.0).round() / 8.0,
            ..self.clone()
        }
    }

    /// Whether what was worked out for `self` holds for the shorter `other` as well.
    #[must_use]
    pub fn covers(&self, other: &Self) -> bool {
        let same_hour = (self.lead - other.lead).abs() < f64::EPSILON;
        let days = other.days;
        // Of its own day the longer one has the last row.
        same_hour && days <= self.days && self.open.get(..days) == other.open.get(..days)
    }
}

fn landings(left: usize, open: &[bool]) -> Vec<usize> {
    // A gap that ends on a day of rest is taken to the next study day.
    let wanted = GAPS
        .iter()
        .filter_map(|gap| left.checked_sub(*gap))
        .filter_map(|target| (1..=target).rev().find(|day| open[*day]))
        .chain(
            EVES.iter()
                .filter_map(|eve| (*eve..left).find(|day| open[*day])),
        );
    let mut out: Vec<usize> = wanted.filter(|target| *target < left).collect();
    out.sort_unstable_by(|a, b| b.cmp(a));
    out.dedup();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::memory::study::RestDays;
    use crate::time::Day;
    use chrono::Weekday;

    fn horizon(days: u32, rest: RestDays) -> Horizon {
        let day = Day::parse("2026-11-23").unwrap();
        let now = Moment {
            utc_ms: day.number() * 86_400_000 + 64_800_000,
            day,
            offset_min: 0,
        };
        let exam = Exam {
            at_days: now.days() + f64::from(days) - 0.35,
            day: day.plus(days),
        };
        let plan = StudyPlan {
            exam: Some(exam),
            rest,
            ..StudyPlan::default()
        };
        Horizon::new(&plan, now).unwrap()
    }

    #[test]
    fn an_evening_round_leaves_a_night_less_than_the_days() {
        let horizon = horizon(30, RestDays::NONE);
        assert!((horizon.delay(1) - 0.65).abs() < 1e-9);
        assert!((horizon.delay(30) - 29.65).abs() < 1e-9);
        assert_eq!(horizon.landings(4), [3, 2, 1]);
        assert!(horizon.landings(1).is_empty());
    }

    #[test]
    fn nothing_lands_on_a_day_of_rest() {
        let rest = RestDays::NONE.with(Weekday::Sat).with(Weekday::Sun);
        let horizon = horizon(30, rest);
        for left in 0..=30 {
            for landing in horizon.landings(left) {
                assert!(horizon.open[*landing] && *landing < left && *landing > 0);
            }
        }
        // 30 days from a Monday: 22 study days, the first of them today
        assert_eq!(horizon.study_days(), 21);
    }
}
