//! A whole preparation played with a simulated candidate, day by day.
//!
//! The candidate, the items and the missed days are invented and follow from a seed. It drives the
//! same engine as every face does, and shows what the engine cannot see: what is truly known.

use std::fmt;

use super::calibration::Calibration;
use super::engine::Engine;
use super::estimate::SLIP;
use super::forecast::Forecast;
use super::learners::{HalfLife, Traces, TrueMemory};
use super::luck::Luck;
use super::study::{Exam, ItemFacts, RestDays, Seen, StudyPlan};
use crate::answer::{Confidence, RoundKind};
use crate::time::{Day, Moment};

/// Hour of the evening round and of the morning exam, as shares of a day.
const EVENING: f64 = 0.75;
const MORNING: f64 = 0.40;
/// Seconds of a right and of a wrong answer, give or take a quarter.
const SECONDS: [f64; 2] = [35.0, 20.0];
/// Topics of the invented exam.
const TOPICS: usize = 20;

/// A simulated candidate's kind of memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Model {
    /// Exponential forgetting with a half-life that grows.
    HalfLife,
    /// Many traces that each decay by a power of time.
    Traces,
}

impl Model {
    /// All models.
    pub const ALL: [Self; 2] = [Self::HalfLife, Self::Traces];

    /// The word for it on the command line.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::HalfLife => "half-life",
            Self::Traces => "traces",
        }
    }

    /// The model with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|model| model.word() == word)
    }
}

/// A preparation to be played.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Preparation {
    /// Kind of memory.
    pub model: Model,
    /// Days until the exam, 1 to 400.
    pub days: u16,
    /// Items, 1 to 5000.
    pub items: u16,
    /// Minutes of study a day.
    pub minutes: f64,
    /// Share of days on which the candidate does not study after all.
    pub missed: f64,
    /// Whether the schedule knows of the exam.
    pub exam_known: bool,
    /// Which candidate.
    pub seed: u64,
}

impl Default for Preparation {
    fn default() -> Self {
        Self {
            model: Model::HalfLife,
            days: 60,
            items: 800,
            minutes: 30.0,
            missed: 0.1,
            exam_known: true,
            seed: 1,
        }
    }
}

/// One day of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayRow {
    /// Days left to the exam.
    pub left: u16,
    /// Answers given.
    pub answers: u32,
    /// Minutes they took.
    pub minutes: f64,
    /// Items met so far.
    pub met: usize,
    /// Share of the exam that would truly be recalled if study ended today.
    pub recall: f64,
    /// Score that the candidate would truly be expected to get then.
    pub score: f64,
    /// What the engine forecasts for that case; `None` while it is too early to say.
    pub forecast: Option<Forecast>,
}

/// A preparation that was played.
#[derive(Clone, Debug, PartialEq)]
pub struct Played {
    /// Its days, those without study left out.
    pub days: Vec<DayRow>,
    /// The exam itself: the mark it was sat with, as a share of all marks.
    pub mark: f64,
    /// How the forecasts of single items bore out in it.
    pub calibration: Option<Calibration>,
}

impl Played {
    /// The last day: what the preparation led to.
    #[must_use]
    pub fn end(&self) -> Option<&DayRow> {
        self.days.last()
    }
}

/// Plays a preparation to the eve of the exam.
#[must_use]
pub fn play(preparation: &Preparation) -> Played {
    let items = exam_items(preparation);
    let mut learner: Box<dyn TrueMemory> = match preparation.model {
        Model::HalfLife => Box::new(HalfLife::new(&items, preparation.seed)),
        Model::Traces => Box::new(Traces::new(&items, preparation.seed)),
    };
    let days = preparation.days.clamp(1, 400);
    let budget = (preparation.minutes * 60.0).clamp(0.0, 86_400.0);
    let exam_at = f64::from(days) + MORNING;
    let mut engine = Engine::new(
        items.clone(),
        StudyPlan {
            exam: preparation.exam_known.then_some(Exam {
                at_days: exam_at,
                day: Day::from_number(days.into()),
            }),
            seconds_a_day: budget,
            rest: RestDays::NONE,
        },
    );
    let mut asked = vec![0_u64; items.len()];
    let mut rows = Vec::new();
    for day in 0..days {
        let mut calendar = Luck::of(&[preparation.seed, 4, day.into()]);
        if calendar.uniform() < preparation.missed {
            continue;
        }
        let (mut spent, mut answers) = (0.0, 0);
        engine.open_day(moment(day, spent), budget);
        while spent < budget {
            let now = moment(day, spent);
            let Some(pick) = engine.next(now) else { break };
            let luck = Luck::of(&[preparation.seed, 5, key(pick.item), asked[pick.item]]);
            let seen = respond(&mut *learner, &items[pick.item], pick.item, now, luck);
            asked[pick.item] += 1;
            spent += seen.seconds;
            answers += 1;
            engine.observe(pick.item, &seen);
        }
        let (recall, score) = truth(&*learner, &items, exam_at);
        rows.push(DayRow {
            left: days - day,
            answers,
            minutes: spent / 60.0,
            met: asked.iter().filter(|count| **count > 0).count(),
            recall,
            score,
            forecast: engine.forecast(exam_at),
        });
    }
    sit(
        preparation,
        &*learner,
        &items,
        &engine.chances(exam_at),
        rows,
    )
}

/// Sits the exam: every item once.
fn sit(
    preparation: &Preparation,
    learner: &dyn TrueMemory,
    items: &[ItemFacts],
    chances: &[f64],
    days: Vec<DayRow>,
) -> Played {
    let at = f64::from(preparation.days.clamp(1, 400)) + MORNING;
    let mut mark = 0.0;
    let mut forecasts = Vec::with_capacity(items.len());
    for (item, (facts, chance)) in items.iter().zip(chances).enumerate() {
        let known = learner.recall(item, at);
        let right = known * (1.0 - SLIP) + (1.0 - known) * facts.chance;
        let came_true = Luck::of(&[preparation.seed, 7, key(item)]).uniform() < right;
        mark += facts.weight * f64::from(u8::from(came_true));
        forecasts.push((*chance, came_true));
    }
    Played {
        days,
        mark,
        calibration: Calibration::of(forecasts),
    }
}

/// Items of an invented exam: topics of unequal weight, a few kinds of questions.
fn exam_items(preparation: &Preparation) -> Vec<ItemFacts> {
    let count = usize::from(preparation.items.clamp(1, 5000));
    let mut luck = Luck::of(&[preparation.seed, 6]);
    let weights: Vec<f64> = (0..TOPICS).map(|_| (0.7 * luck.normal()).exp()).collect();
    let topics: Vec<usize> = (0..count).map(|item| item % TOPICS).collect();
    let shares = super::blueprint::shares(&weights, &topics);
    topics
        .into_iter()
        .zip(shares.weights)
        .map(|(topic, weight)| ItemFacts {
            weight,
            chance: match luck.uniform() {
                kind if kind < 0.55 => 0.25,
                kind if kind < 0.80 => 0.20,
                kind if kind < 0.90 => 0.50,
                _ => 0.02,
            },
            topic,
            safety: false,
        })
        .collect()
}

fn respond(
    learner: &mut dyn TrueMemory,
    facts: &ItemFacts,
    item: usize,
    at: Moment,
    mut luck: Luck,
) -> Seen {
    let now = at.days();
    let known = luck.uniform() < learner.recall(item, now);
    let right = luck.uniform() < if known { 1.0 - SLIP } else { facts.chance };
    let [guessing, likely, _] = learner.confidence(known);
    let confidence = match luck.uniform() {
        said if said < guessing => Confidence::Guessing,
        said if said < guessing + likely => Confidence::Likely,
        _ => Confidence::Certain,
    };
    let seconds = SECONDS[usize::from(right)] * (0.75 + 0.5 * luck.uniform());
    learner.answer(item, now, known);
    Seen {
        at,
        right,
        confidence,
        seconds,
        round: RoundKind::Review,
    }
}

/// True recall and expected score of the exam.
fn truth(learner: &dyn TrueMemory, items: &[ItemFacts], at: f64) -> (f64, f64) {
    let (mut recall, mut score) = (0.0, 0.0);
    for (item, facts) in items.iter().enumerate() {
        let known = learner.recall(item, at);
        recall += facts.weight * known;
        score += facts.weight * (known * (1.0 - SLIP) + (1.0 - known) * facts.chance);
    }
    (recall, score)
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "400 days of milliseconds fit"
)]
fn moment(day: u16, spent: f64) -> Moment {
    Moment {
        utc_ms: ((f64::from(day) + EVENING) * 86_400_000.0 + spent * 1000.0) as i64,
        day: Day::from_number(day.into()),
        offset_min: 0,
    }
}

fn key(item: usize) -> u64 {
    u64::try_from(item).unwrap_or(u64::MAX)
}

impl fmt::Display for Played {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "days left  answers  minutes   met  recall  score  forecast"
        )?;
        for row in &self.days {
            write!(
                f,
                "{:>9}  {:>7}  {:>7.1}  {:>4}  {:>5.1}%  {:>4.1}%  ",
                row.left,
                row.answers,
                row.minutes,
                row.met,
                100.0 * row.recall,
                100.0 * row.score,
            )?;
            match row.forecast {
                Some(Forecast { score, low, high }) => writeln!(
                    f,
                    "{:.1}% ({:.0} to {:.0})",
                    100.0 * score,
                    100.0 * low,
                    100.0 * high
                )?,
                None => writeln!(f, "too early to say")?,
            }
        }
        writeln!(f, "mark in the exam: {:.1}%", 100.0 * self.mark)?;
        let Some(record) = &self.calibration else {
            return Ok(());
        };
        writeln!(
            f,
            "forecasts of single items: Brier score {:.3} = reliability {:.3} - resolution {:.3} + uncertainty {:.3}",
            record.brier, record.reliability, record.resolution, record.uncertainty
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_preparation_is_played_the_same_way_twice_and_beats_one_that_knows_no_exam() {
        let short = Preparation {
            days: 14,
            items: 200,
            minutes: 20.0,
            ..Preparation::default()
        };
        for model in Model::ALL {
            let known = Preparation { model, ..short };
            let played = play(&known);
            assert_eq!(played, play(&known));
            let blind = play(&Preparation {
                exam_known: false,
                ..known
            });
            let (with, without) = (played.end().unwrap().recall, blind.end().unwrap().recall);
            assert!(with > without, "{}: {with} {without}", model.word());
        }
    }

    #[test]
    fn absurd_preparations_end() {
        for (days, items, minutes) in [(0, 0, 0.0), (1, 1, f64::NAN), (2, 3, -4.0)] {
            let played = play(&Preparation {
                days,
                items,
                minutes,
                missed: f64::NAN,
                ..Preparation::default()
            });
            assert!(played.days.iter().all(|row| row.recall.is_finite()));
        }
    }

    #[test]
    fn the_table_has_a_line_a_day_and_the_exam() {
        let played = play(&Preparation {
            days: 3,
            items: 20,
            minutes: 2.0,
            missed: 0.0,
            ..Preparation::default()
        });
        assert_eq!(played.to_string().lines().count(), 6);
    }
}
