//! A round of questions as a state machine: what is asked next, how it was answered, when it ends.
//!
//! Every face drives this one machine and decides nothing itself. It knows no clock, no chance, no store: moments,
//! seeds and names come in, and the [`Answer`] to be stored goes out *before* the reveal can be had:
//!
//! ```text
//! Asking --answer()--> Storing --stored()--> Revealed --go_on()--> Asking ... Closed
//!    ^                    |
//!    +----not_stored()----+           stop() closes it from anywhere
//! ```

mod closing;
mod desk;
mod home;
mod mistakes;
mod outlook;
mod preparation;
mod query;
mod record;

use std::sync::Arc;

pub use closing::{Closing, Ended, TopicCount};
pub use desk::Desk;
pub use home::Home;
pub use mistakes::{ConfidentError, HeldBelief};
pub use outlook::{Outlook, Silence, TopicOutlook};
pub use preparation::{Preparation, Unplannable};
use record::Put;
pub use record::Record;

use crate::answer::{Answer, AnswerId, Confidence, PartNumber, Quality, RoundKind};
use crate::deck::library::Library;
use crate::deck::model::Item;
use crate::kinds::{self, Pose, Question, Response, Unfit, Verdict};
use crate::memory::pick::{Pick, Why};
use crate::time::{Day, Moment};

/// Longest time that a question is credited with, in seconds: whoever takes longer has left the desk.
const SECONDS_MAX: f64 = 3600.0;

/// When a round asks nothing new any more. Items that are to be asked again still come back.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Seconds of answering.
    pub seconds: Option<f64>,
    /// Different items.
    pub items: Option<usize>,
}

/// A question that waits for its answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Which asking of the round this is, from 1.
    pub number: u32,
    /// The item, its number in the library.
    pub item: usize,
    /// Which part of it, if it is a case.
    pub part: Option<PartNumber>,
    /// How it is put.
    pub pose: Pose,
    /// What a face shows.
    pub question: Question,
    /// Why it is asked now.
    pub pick: Pick,
    /// The key has changed since the candidate last answered this item.
    pub changed: bool,
}

/// What is told after an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Reveal {
    /// The question.
    pub ask: Ask,
    /// The name of the answer.
    pub answer: AnswerId,
    /// How it was marked.
    pub verdict: Verdict,
    /// How sure the candidate was.
    pub confidence: Confidence,
    /// SM-2's quality.
    pub quality: Quality,
    /// The case goes on with this part; nothing is scheduled before its last.
    pub goes_on: Option<PartNumber>,
    /// The item comes back before this round ends.
    pub again: bool,
    /// The study day on which the item is due next.
    pub next_due: Day,
}

/// Where a round stands.
#[derive(Clone, Debug, PartialEq)]
pub enum Phase {
    /// A question is open.
    Asking(Ask),
    /// An answer was given and is not known to be on disk yet.
    Storing(Box<Given>),
    /// The answer is on disk and may be shown.
    Revealed(Reveal),
    /// The round is over.
    Closed(Closing),
}

/// An answer on its way to the disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// What to store.
    pub answer: Answer,
    ask: Ask,
    verdict: Verdict,
}

/// A round.
#[derive(Debug)]
pub struct Round {
    record: Record,
    kind: RoundKind,
    limits: Limits,
    seed: u64,
    phase: Phase,
    asked: u32,
    tally: closing::Tally,
    /// Milliseconds since 1970 of the latest answer.
    latest: Option<i64>,
    /// The day on which it began.
    day: Day,
    /// Its end by time or items.
    limit: Ended,
}

impl Given {
    /// The question that was answered.
    #[must_use]
    pub const fn ask(&self) -> &Ask {
        &self.ask
    }
}

impl Round {
    /// Begins a review. Without limits it takes what is left of the day's minutes. `seed` decides orders and
    /// nothing else.
    #[must_use]
    pub fn review(mut record: Record, limits: Limits, seed: u64, now: Moment) -> Self {
        let home = record.home(now);
        let is_usual = limits == Limits::default();
        let usual = is_usual.then(|| home.round_seconds());
        let limits = Limits {
            seconds: limits.seconds.or(usual),
            ..limits
        };
        record.open(now, limits.seconds.unwrap_or_else(|| home.round_seconds()));
        let tally = closing::Tally::new(&record);
        let closed = Phase::Closed(tally.closing(&record, now.day, Ended::Done));
        let mut round = Self {
            day: now.day,
            limit: if is_usual {
                Ended::Minutes
            } else {
                Ended::Limit
            },
            record,
            kind: RoundKind::Review,
            limits,
            seed,
            phase: closed,
            asked: 0,
            tally,
            latest: None,
        };
        round.ask_next(now);
        round
    }

    /// A round that shows one question and no other: an item, or a part of it if it is a case. For whoever writes
    /// decks; a round that is closed from the start if there is no such question.
    #[must_use]
    pub fn showing(mut record: Record, item: usize, part: Option<PartNumber>, seed: u64) -> Self {
        let tally = closing::Tally::default();
        // Nothing of it is kept or due, so any day will do.
        let day = Day::from_number(0);
        let closed = Phase::Closed(tally.closing(&record, day, Ended::Done));
        record.parts_alone = true;
        let put = match part {
            Some(part) => record.put_part(item, part, 0, seed),
            None => record.put(item, seed),
        };
        let mut round = Self {
            day,
            limit: Ended::Limit,
            record,
            kind: RoundKind::Review,
            limits: Limits::default(),
            seed,
            phase: closed,
            asked: 0,
            tally,
            latest: None,
        };
        let pick = Pick {
            item,
            why: Why::Unseen,
            reask: false,
        };
        round.ask(pick, part, put, Ended::Done);
        round
    }

    /// Where the round stands.
    #[must_use]
    pub const fn phase(&self) -> &Phase {
        &self.phase
    }

    /// The decks in use.
    #[must_use]
    pub fn library(&self) -> &Arc<Library> {
        self.record.library()
    }

    /// The candidate's record, with all that was answered so far.
    #[must_use]
    pub const fn record(&self) -> &Record {
        &self.record
    }

    /// What is asked: the item, or the part of it if it is a case.
    #[must_use]
    pub fn item(&self, ask: &Ask) -> Option<&Item> {
        self.record.library().asked(ask.item, ask.part)
    }

    /// Answers given so far, and how many of them were right.
    #[must_use]
    pub fn counts(&self) -> (u32, u32) {
        self.tally.counts()
    }

    /// Seconds of answering left before nothing new is asked, if the round is limited so.
    #[must_use]
    pub fn seconds_left(&self) -> Option<f64> {
        let limit = self.limits.seconds?;
        Some((limit - self.tally.seconds()).max(0.0))
    }

    /// Takes a response to the open question and returns the answer to store.
    ///
    /// # Errors
    /// [`Unfit`] if the response does not fit the question, or none is open; the question stays open.
    pub fn answer(
        &mut self,
        response: &Response,
        confidence: Confidence,
        seconds: f64,
        now: Moment,
        id: AnswerId,
    ) -> Result<&Answer, Unfit> {
        let Phase::Asking(ask) = &self.phase else {
            return Err(Unfit::NothingAsked);
        };
        let library = self.record.library();
        let (Some(item), Some(deck), Some(entry)) = (
            library.asked(ask.item, ask.part),
            library.deck_of(ask.item),
            library.entries().get(ask.item),
        ) else {
            return Err(Unfit::NothingAsked);
        };
        let verdict = kinds::mark(item, &ask.pose, response)?;
        let at = apart(now, self.latest);
        // Milliseconds are all that a person's answer is worth.
        let seconds = if seconds.is_finite() {
            (seconds.clamp(0.0, SECONDS_MAX) * 1000.0).round() / 1000.0
        } else {
            0.0
        };
        let answer = Answer {
            id,
            at,
            item: entry.reference.clone(),
            edition: deck.edition.to_string(),
            fingerprint: entry.fingerprint.clone(),
            part: ask.part,
            wording: u32::try_from(ask.pose.wording).unwrap_or(u32::MAX),
            shown: kinds::shown(item, &ask.pose),
            response: verdict.logged.clone(),
            right: verdict.right,
            confidence,
            quality: Quality::of(verdict.right, confidence),
            seconds,
            round: self.kind,
        };
        let given = Given {
            answer,
            ask: ask.clone(),
            verdict,
        };
        self.phase = Phase::Storing(Box::new(given));
        // Until it is known to be on disk.
        self.tally.lost_answer = true;
        match &self.phase {
            Phase::Storing(given) => Ok(&given.answer),
            _ => Err(Unfit::NothingAsked),
        }
    }

    /// The answer is on disk: it counts from now on, and the reveal may be shown.
    pub fn stored(&mut self) {
        let Phase::Storing(given) = &self.phase else {
            return;
        };
        let Given {
            answer,
            ask,
            verdict,
        } = (**given).clone();
        self.latest = Some(answer.at.utc_ms);
        self.record.note(&answer);
        self.tally.note(&self.record, ask.item, &answer);
        self.tally.lost_answer = false;
        self.phase = Phase::Revealed(Reveal {
            answer: answer.id,
            confidence: answer.confidence,
            quality: answer.quality,
            goes_on: ask.part.and_then(PartNumber::next),
            again: self.record.comes_back(ask.item),
            next_due: self.record.due(ask.item).unwrap_or(answer.at.day),
            ask,
            verdict,
        });
    }

    /// The answer could not be stored: the question is open again, nothing has counted.
    pub fn not_stored(&mut self) {
        if let Phase::Storing(given) = &self.phase {
            self.phase = Phase::Asking(given.ask.clone());
        }
    }

    /// Goes on from a reveal to the next question, or to the end.
    pub fn go_on(&mut self, now: Moment) {
        let Phase::Revealed(reveal) = &self.phase else {
            return;
        };
        match reveal.goes_on {
            // A case is asked to its end, whatever the limits say.
            Some(part) => {
                let (pick, wording) = (reveal.ask.pick, reveal.ask.pose.wording);
                let put = self
                    .record
                    .put_part(pick.item, part, wording, self.next_seed());
                self.ask(pick, Some(part), put, Ended::Done);
            }
            None => self.ask_next(now),
        }
    }

    /// Ends the round here. An answer that is not known to be stored is not counted.
    pub fn stop(&mut self) {
        if !matches!(self.phase, Phase::Closed(_)) {
            self.close(Ended::Stopped);
        }
    }

    fn close(&mut self, ended: Ended) {
        self.record.refit();
        self.phase = Phase::Closed(self.tally.closing(&self.record, self.day, ended));
    }

    /// Gives the record back, with all that was answered in it.
    #[must_use]
    pub fn into_record(self) -> Record {
        self.record
    }

    fn ask_next(&mut self, now: Moment) {
        let spent = self
            .limits
            .seconds
            .is_some_and(|limit| self.tally.seconds() >= limit);
        let full = self
            .limits
            .items
            .is_some_and(|limit| self.tally.items() >= limit);
        let pick = if spent || full {
            self.record.next_again()
        } else {
            self.record.next(now)
        };
        let ended = if spent || full {
            self.limit
        } else {
            Ended::Done
        };
        match pick {
            Some(pick) => {
                let part = self.record.first_part(pick.item);
                let put = self.record.put(pick.item, self.next_seed());
                self.ask(pick, part, put, ended);
            }
            None => self.close(ended),
        }
    }

    /// Opens the next question; ends the round if there is no such item after all.
    fn ask(&mut self, pick: Pick, part: Option<PartNumber>, put: Option<Put>, ended: Ended) {
        let Some(Put {
            pose,
            question,
            changed,
        }) = put
        else {
            self.close(ended);
            return;
        };
        self.asked += 1;
        self.phase = Phase::Asking(Ask {
            number: self.asked,
            item: pick.item,
            part,
            pose,
            question,
            pick,
            changed,
        });
    }

    fn next_seed(&self) -> u64 {
        mix(self.seed, self.asked)
    }
}

/// The moment of an answer, later than that of the one before by a millisecond at least: two answers with the same moment
/// would count as one that was merged twice. Only a clock that stands still makes this necessary.
fn apart(now: Moment, latest: Option<i64>) -> Moment {
    match latest {
        Some(latest) if (0..1000).contains(&(latest.saturating_sub(now.utc_ms))) => Moment {
            utc_ms: latest.saturating_add(1),
            ..now
        },
        _ => now,
    }
}

/// A seed for asking `number` of a round with `seed`.
fn mix(seed: u64, number: u32) -> u64 {
    // An odd multiplier spreads neighbouring numbers over all bits; the generator does the rest.
    seed ^ u64::from(number)
        .wrapping_add(1)
        .wrapping_mul(0x9e37_79b9_7f4a_7c15)
}
