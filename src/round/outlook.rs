//! Where a preparation leads: forecast, load ahead, what other minutes would do, marks at stake.

use super::{Preparation, Record};
use crate::memory::forecast::{Forecast, TOO_EARLY};
use crate::memory::study::StudyPlan;
use crate::time::{Day, Moment};

/// Days of load that are told.
const LOAD_DAYS: usize = 14;
/// Minutes more and less that are tried.
const STEP_MINUTES: u32 = 15;

/// Where a preparation leads.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlook {
    /// Days to the exam; `None` without one ahead.
    pub days_left: Option<i64>,
    /// The score that the plan leads to if it is kept, or why none can be told.
    pub forecast: Result<Forecast, Silence>,
    /// Minutes on each of the next days, today first: those of the plan, which fills them, with an exam ahead; those that
    /// due dates ask for without one.
    pub load: Vec<(Day, f64)>,
    /// The forecast at other minutes a day.
    pub what_if: Vec<(u32, Forecast)>,
    /// Unseen items that the plan has no room for; `None` without an exam ahead.
    pub never_met: Option<usize>,
    /// The day by which every item is met once, if that can be told.
    pub all_met: Option<Day>,
    /// By topic, most marks at stake first.
    pub topics: Vec<TopicOutlook>,
    /// Share of the exam that no item covers, 0 to 1.
    pub uncovered: f64,
}

/// Why there is no forecast.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Silence {
    /// No exam lies ahead.
    NoExam,
    /// The exam is over.
    Over,
    /// Too few answers on later days.
    TooEarly,
}

impl Silence {
    /// The reason as a sentence.
    #[must_use]
    pub fn sentence(self) -> String {
        match self {
            Self::NoExam => "no exam date is set".to_owned(),
            Self::Over => "the exam is over".to_owned(),
            Self::TooEarly => format!(
                "too early to say: a forecast needs {TOO_EARLY} answers to items met on an earlier day"
            ),
        }
    }
}

/// A topic with what is expected of it.
#[derive(Clone, Debug, PartialEq)]
pub struct TopicOutlook {
    /// Id of the topic.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Share of the exam, 0 to 1.
    pub weight: f64,
    /// Expected share of its items recalled on exam day (now, without an exam) without further study, 0 to 1.
    pub recall: f64,
    /// Whether any of its items was ever answered; otherwise recall is a guess from other topics.
    pub is_met: bool,
    /// Share of all marks that it is expected to lose then.
    pub at_stake: f64,
}

impl Record {
    /// Where `preparation` leads from `now` on. Nothing is changed.
    #[must_use]
    pub fn outlook(&self, preparation: &Preparation, now: Moment) -> Outlook {
        let now = self.on_study_day(now);
        let plan = preparation.plan(now);
        let mut engine = self.engine.clone();
        engine.set_plan(plan);
        let days_left = plan.exam.map(|exam| exam.day.since(now.day));
        let spent = if self.last_day == Some(now.day) {
            self.today.seconds
        } else {
            0.0
        };
        let ahead = engine.outlook(&plan, now, spent);
        let silence = match (plan.exam, preparation.exam) {
            (Some(_), _) => Silence::TooEarly,
            (None, Some(_)) => Silence::Over,
            (None, None) => Silence::NoExam,
        };
        // On the day itself, once the exam has begun, there is nothing to plan: what is known now counts.
        let idle = || engine.forecast(plan.exam?.at_days);
        let minutes = preparation.minutes;
        let others = [
            minutes.saturating_sub(STEP_MINUTES),
            minutes.saturating_add(STEP_MINUTES),
        ];
        let what_if = others
            .into_iter()
            .filter(|minutes| (1..=1440).contains(minutes))
            .filter_map(|minutes| {
                let other = StudyPlan {
                    seconds_a_day: f64::from(minutes) * 60.0,
                    ..plan
                };
                Some((minutes, engine.outlook(&other, now, spent)?.forecast?))
            });
        // Both kinds of load are told for the same days.
        let load = ahead
            .as_ref()
            .map_or_else(|| engine.due_load(now.day), |ahead| ahead.load.clone());
        let load = load.into_iter().take(LOAD_DAYS);
        Outlook {
            days_left,
            forecast: ahead
                .as_ref()
                .and_then(|ahead| ahead.forecast)
                .or_else(idle)
                .ok_or(silence),
            load: load.map(|(day, seconds)| (day, seconds / 60.0)).collect(),
            what_if: what_if.collect(),
            never_met: ahead.as_ref().map(|ahead| ahead.never_met),
            all_met: ahead.as_ref().and_then(|ahead| ahead.all_met),
            topics: self.topics(plan, now),
            uncovered: (1.0 - self.library.covered() / 100.0).max(0.0),
        }
    }

    fn topics(&self, plan: StudyPlan, now: Moment) -> Vec<TopicOutlook> {
        let at = plan.exam.map_or(now.days(), |exam| exam.at_days);
        let mut recall = vec![(0.0, 0.0); self.library.topics().len()];
        for (item, entry) in self.library.entries().iter().enumerate() {
            let weight = self.engine.facts(item).map_or(0.0, |facts| facts.weight);
            let (sum, weights) = &mut recall[entry.topic];
            *sum += weight * self.engine.recall(item, at);
            *weights += weight;
        }
        let views = self.engine.topics(at);
        let mut topics: Vec<TopicOutlook> = self
            .library
            .topics()
            .iter()
            .zip(views)
            .zip(recall)
            .filter(|((_, view), _)| view.items > 0)
            .map(|((topic, view), (sum, weights))| TopicOutlook {
                id: topic.id.clone(),
                title: topic.title.clone(),
                weight: view.weight,
                is_met: view.unseen < view.items,
                recall: if weights > 0.0 { sum / weights } else { 0.0 },
                at_stake: view.at_stake,
            })
            .collect();
        topics.sort_by(|one, two| {
            two.at_stake
                .total_cmp(&one.at_stake)
                .then_with(|| one.id.cmp(&two.id))
        });
        topics
    }
}
