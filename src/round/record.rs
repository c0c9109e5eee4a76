//! A candidate's record: all that follows from the decks and the answers, and nothing else.
//!
//! Replaying a log and taking in one answer after the other are the same calls, so the record after a round equals
//! the record at the next start. Answers to items that no deck in use holds wait in the log until their deck returns.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::mistakes::Mistakes;
use crate::answer::{Answer, PartNumber};
use crate::deck::library::Library;
use crate::kinds::{self, Pose, Question};
use crate::memory::blueprint::shares;
use crate::memory::engine::Engine;
use crate::memory::forecast::Forecast;
use crate::memory::pick::Pick;
use crate::memory::study::{ItemFacts, Seen, StudyPlan};
use crate::time::{Day, Moment};

/// What the log says of one item beside its schedule.
#[derive(Clone, Copy, Debug, Default)]
struct Past {
    /// The wording shown last.
    wording: Option<usize>,
    /// The last answer was to another key.
    changed: bool,
}

/// How an item is put at one asking.
pub(super) struct Put {
    pub(super) pose: Pose,
    pub(super) question: Question,
    /// The key has changed since it was last answered.
    pub(super) changed: bool,
}

/// A case of which the last part has not been answered yet.
#[derive(Clone, Copy, Debug)]
struct OpenCase {
    /// The part that was answered last.
    part: PartNumber,
    /// The answer that decides so far: the one of lowest quality.
    weakest: Seen,
    /// Seconds of all parts together.
    seconds: f64,
}

/// What a study day has seen.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Today {
    pub(super) answers: u32,
    pub(super) seconds: f64,
}

/// The state of a candidate.
#[derive(Clone, Debug)]
pub struct Record {
    pub(super) library: Arc<Library>,
    pub(super) engine: Engine,
    past: Vec<Past>,
    cases: BTreeMap<usize, OpenCase>,
    /// Every part of a case is a whole: it is shown, not played.
    pub(super) parts_alone: bool,
    pub(super) mistakes: Mistakes,
    answers: usize,
    pub(super) last_day: Option<Day>,
    pub(super) today: Today,
}

impl Record {
    /// The record of a candidate who gave these answers, in this order.
    #[must_use]
    pub fn replay<'a>(
        library: Arc<Library>,
        plan: StudyPlan,
        answers: impl IntoIterator<Item = &'a Answer>,
    ) -> Self {
        let weights: Vec<f64> = library.topics().iter().map(|topic| topic.weight).collect();
        let topics: Vec<usize> = library.entries().iter().map(|entry| entry.topic).collect();
        let shares = shares(&weights, &topics);
        let facts = (0..topics.len()).filter_map(|number| {
            let item = library.item(number)?;
            Some(ItemFacts {
                weight: *shares.weights.get(number)?,
                chance: item.chance(),
                topic: *topics.get(number)?,
                safety: item.is_safety(),
            })
        });
        let engine = Engine::new(facts.collect(), plan);
        let past = vec![Past::default(); library.entries().len()];
        let today = Today::default();
        let mut record = Self {
            library,
            engine,
            past,
            cases: BTreeMap::new(),
            parts_alone: false,
            mistakes: Mistakes::default(),
            answers: 0,
            last_day: None,
            today,
        };
        for answer in answers {
            record.note(answer);
        }
        record.engine.refit();
        record
    }

    /// Takes in one more answer.
    pub fn note(&mut self, answer: &Answer) {
        let day = self.study_day(answer.at.day);
        if self.last_day != Some(day) {
            self.last_day = Some(day);
            self.today = Today::default();
        }
        self.answers += 1;
        self.today.answers += 1;
        self.today.seconds += answer.seconds;
        let Some(number) = self.library.number(&answer.item) else {
            return;
        };
        let past = &mut self.past[number];
        // An answer to another key says nothing about this one: the item starts afresh.
        past.changed = self.library.entries()[number].fingerprint != answer.fingerprint;
        if past.changed {
            self.mistakes.forget(number);
            return;
        }
        past.wording = usize::try_from(answer.wording).ok();
        if let Some(asked) = self.library.asked(number, answer.part) {
            self.mistakes.note(number, asked, answer, day);
        }
        let seen = Seen {
            at: Moment { day, ..answer.at },
            right: answer.right,
            confidence: answer.confidence,
            seconds: answer.seconds,
            round: answer.round,
        };
        let whole = match answer.part {
            None => Some(seen),
            Some(number_of_part) => self.note_part(number, number_of_part, seen),
        };
        if let Some(seen) = whole {
            self.engine.observe(number, &seen);
        }
    }

    /// Takes in the answer to a part of a case. The case counts once its last part is answered, as one answer: that
    /// of the part with the lowest quality, since a case is managed as well as its weakest step. A case left
    /// in the middle, or parts out of order, count for nothing.
    fn note_part(&mut self, item: usize, part: PartNumber, seen: Seen) -> Option<Seen> {
        let before = self
            .cases
            .remove(&item)
            .filter(|before| before.part.next() == Some(part));
        let open = match before {
            None if part.number == 1 || self.parts_alone => OpenCase {
                part,
                weakest: seen,
                seconds: seen.seconds,
            },
            None => return None,
            Some(before) => {
                let is_weaker = seen.quality() < before.weakest.quality();
                let weakest = if is_weaker { seen } else { before.weakest };
                OpenCase {
                    part,
                    weakest,
                    seconds: before.seconds + seen.seconds,
                }
            }
        };
        if part.is_last() {
            return Some(Seen {
                at: seen.at,
                seconds: open.seconds,
                ..open.weakest
            });
        }
        self.cases.insert(item, open);
        None
    }

    /// The study day that counts on `day`: days never run backwards, whatever a clock or a journey does.
    #[must_use]
    pub fn study_day(&self, day: Day) -> Day {
        self.last_day.map_or(day, |last| last.max(day))
    }

    /// The day of the latest answer, if it lies further ahead of the clock than any journey explains: the clock is wrong
    /// now or was wrong then.
    #[must_use]
    pub fn ahead_of_clock(&self, now: Moment) -> Option<Day> {
        self.last_day.filter(|last| *last > now.day.plus(1))
    }

    /// The decks in use.
    #[must_use]
    pub const fn library(&self) -> &Arc<Library> {
        &self.library
    }

    /// Answers in the log, those to items of absent decks included.
    #[must_use]
    pub const fn answers(&self) -> usize {
        self.answers
    }

    /// The score expected of the exam ahead if study ended now; `None` without one, or while it is too early to say.
    #[must_use]
    pub fn forecast(&self) -> Option<Forecast> {
        let exam = self.engine.plan().exam?;
        self.engine.forecast(exam.at_days)
    }

    /// Opens a review of `seconds` on the study day of `now`.
    pub(super) fn open(&mut self, now: Moment, seconds: f64) {
        self.engine.open_day(self.on_study_day(now), seconds);
    }

    /// The item to ask now.
    pub(super) fn next(&mut self, now: Moment) -> Option<Pick> {
        let now = self.on_study_day(now);
        self.engine.next(now)
    }

    /// The next item to be asked again today.
    pub(super) fn next_again(&mut self) -> Option<Pick> {
        self.engine.next_again()
    }

    /// The first part of an item, if it is a case.
    pub(super) fn first_part(&self, item: usize) -> Option<PartNumber> {
        let parts = self.library.item(item)?.parts().len();
        let of = u8::try_from(parts).ok().filter(|of| *of > 0)?;
        Some(PartNumber { number: 1, of })
    }

    /// How an item is put now: in its next wording, from its first part if it is a case.
    pub(super) fn put(&self, item: usize, seed: u64) -> Option<Put> {
        let past = self.past.get(item)?;
        let text = self.library.item(item)?;
        let pose = Pose::new(text, past.wording, seed);
        if let Some(part) = self.first_part(item) {
            return self.put_part(item, part, pose.wording, seed);
        }
        let question = kinds::question(text, &pose);
        let changed = past.changed;
        Some(Put {
            pose,
            question,
            changed,
        })
    }

    /// How a part of a case is put, in a wording of its vignette, with all that the case has told by now.
    pub(super) fn put_part(
        &self,
        item: usize,
        part: PartNumber,
        wording: usize,
        seed: u64,
    ) -> Option<Put> {
        let case = self.library.item(item)?;
        let asked = &case.parts().get(part.index())?.item;
        // Parts have one stem: the wording is that of the vignette.
        let pose = Pose {
            wording,
            ..Pose::new(asked, None, seed)
        };
        let told = case
            .parts()
            .iter()
            .take(part.index() + 1)
            .filter_map(|part| part.finding.clone());
        let question = Question {
            context: case
                .stems
                .get(wording)
                .cloned()
                .into_iter()
                .chain(told)
                .collect(),
            ..kinds::question(asked, &pose)
        };
        let changed = self.past.get(item)?.changed;
        Some(Put {
            pose,
            question,
            changed,
        })
    }

    /// Whether the item is to be asked again today.
    #[must_use]
    pub fn comes_back(&self, item: usize) -> bool {
        self.engine.comes_back(item)
    }

    /// Catches up with the fits that the answers are enough for, before figures are told.
    pub(super) fn refit(&mut self) {
        self.engine.refit();
    }

    /// Items to be asked again on `day`.
    #[must_use]
    pub fn left_again(&self, day: Day) -> usize {
        self.engine.reasks_waiting(self.study_day(day))
    }

    /// The study day on which the item is due next.
    #[must_use]
    pub fn due(&self, item: usize) -> Option<Day> {
        self.engine.next_due(item)
    }

    /// The first day after `today` on which something is due, and how many items are due by then.
    #[must_use]
    pub fn next_day_with_work(&self, today: Day) -> Option<(Day, usize)> {
        let today = self.study_day(today);
        let due = || (0..self.past.len()).filter_map(|item| self.engine.next_due(item));
        let day = due().min()?.max(today.plus(1));
        Some((day, due().filter(|due| *due <= day).count()))
    }

    pub(super) fn on_study_day(&self, now: Moment) -> Moment {
        Moment {
            day: self.study_day(now.day),
            ..now
        }
    }
}
