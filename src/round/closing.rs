//! What a round came to: counted as it goes, told when it ends.

use std::collections::{BTreeMap, BTreeSet};

use super::Record;
use crate::answer::{Answer, Confidence};
use crate::deck::model::Item;
use crate::memory::forecast::Forecast;
use crate::time::Day;

/// Why a round ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// Nothing is left to ask.
    Done,
    /// The minutes that the day's plan had left are done.
    Minutes,
    /// The minutes or items asked for are reached.
    Limit,
    /// The candidate stopped it.
    Stopped,
}

/// How a topic went in a round.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TopicCount {
    /// Title of the topic.
    pub title: String,
    /// Answers to its items.
    pub answers: u32,
    /// Right ones among them.
    pub right: u32,
}

/// The result of a round.
#[derive(Clone, Debug, PartialEq)]
pub struct Closing {
    /// Why it ended.
    pub ended: Ended,
    /// Answers given, re-asks included.
    pub answers: u32,
    /// Right ones among them.
    pub right: u32,
    /// Different items asked.
    pub items: usize,
    /// An answer was given to the last question and could not be stored: it is not kept and not counted.
    pub lost_answer: bool,
    /// Seconds spent on answering.
    pub seconds: f64,
    /// By topic, in the order of the decks.
    pub topics: Vec<TopicCount>,
    /// Items answered wrong and certain, as numbers in the library; those of safety items first.
    pub confident_errors: Vec<usize>,
    /// Items that were still to be asked again.
    pub left_again: usize,
    /// The next day on which something is due, and how many items.
    pub next: Option<(Day, usize)>,
    /// The forecast if study ended there, before the round and after it; `None` without an exam ahead or while it is
    /// too early to say.
    pub forecast: Option<(Forecast, Forecast)>,
}

#[derive(Debug, Default)]
pub(super) struct Tally {
    answers: u32,
    right: u32,
    seconds: f64,
    items: BTreeSet<usize>,
    /// The open question was answered and the answer is not on disk.
    pub(super) lost_answer: bool,
    topics: BTreeMap<usize, (u32, u32)>,
    confident_errors: BTreeSet<usize>,
    /// The forecast before the round.
    forecast: Option<Forecast>,
}

impl Tally {
    /// The tally of a round that begins with this record.
    pub(super) fn new(record: &Record) -> Self {
        Self {
            forecast: record.forecast(),
            ..Self::default()
        }
    }

    pub(super) fn note(&mut self, record: &Record, item: usize, answer: &Answer) {
        let right = u32::from(answer.right);
        self.answers += 1;
        self.right += right;
        self.seconds += answer.seconds;
        self.items.insert(item);
        if let Some(entry) = record.library().entries().get(item) {
            let (answers, rights) = self.topics.entry(entry.topic).or_default();
            *answers += 1;
            *rights += right;
        }
        if !answer.right && answer.confidence == Confidence::Certain {
            self.confident_errors.insert(item);
        }
    }

    pub(super) const fn counts(&self) -> (u32, u32) {
        (self.answers, self.right)
    }

    pub(super) const fn seconds(&self) -> f64 {
        self.seconds
    }

    pub(super) fn items(&self) -> usize {
        self.items.len()
    }

    pub(super) fn closing(&self, record: &Record, today: Day, ended: Ended) -> Closing {
        let library = record.library();
        let topics = self
            .topics
            .iter()
            .filter_map(|(&topic, &(answers, right))| {
                Some(TopicCount {
                    title: library.topics().get(topic)?.title.clone(),
                    answers,
                    right,
                })
            });
        let mut confident_errors: Vec<usize> = self.confident_errors.iter().copied().collect();
        // A stable sort: safety first, otherwise in the order of the decks.
        confident_errors.sort_by_key(|&item| !library.item(item).is_some_and(Item::is_safety));
        Closing {
            ended,
            answers: self.answers,
            right: self.right,
            items: self.items.len(),
            lost_answer: self.lost_answer,
            seconds: self.seconds,
            topics: topics.collect(),
            confident_errors,
            left_again: record.left_again(today),
            next: record.next_day_with_work(today),
            // A round without answers moved nothing.
            forecast: self
                .forecast
                .zip(record.forecast())
                .filter(|_| self.answers > 0),
        }
    }
}
