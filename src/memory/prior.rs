//! What was known before it was ever asked, topic by topic.
//!
//! The first answer to every item says something about what else of its topic is known. Marks
//! and confidence only hint at knowledge, so shares are settled by expectation and
//! maximisation (Dempster, Laird & Rubin 1977) whenever the candidate's memory is fitted.

/// Items that the share known everywhere counts for in a topic.
const TOPIC_PRIOR: f64 = 10.0;
/// Items known, and items met, that are assumed before any answer.
const EVERYWHERE_PRIOR: (f64, f64) = (1.0, 4.0);
/// Rounds of expectation and maximisation.
const ROUNDS: usize = 12;

/// Knowledge met: the sum of chances, and how many items.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Tally {
    known: f64,
    met: f64,
}

impl Tally {
    /// What a topic counts for everywhere: however often it was asked, never more than
    /// [`TOPIC_PRIOR`] items. A plan asks some topics far more than others, and not by chance.
    fn shrunk(self) -> Self {
        let share = TOPIC_PRIOR / (TOPIC_PRIOR + self.met);
        Self {
            known: self.known * share,
            met: self.met * share,
        }
    }
}

/// A first answer: its topic, and the chance of it if the item was known and if not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct First {
    /// Number of the topic.
    pub topic: usize,
    /// Chance of the answer if known.
    pub if_known: f64,
    /// Chance of the answer if not.
    pub if_not: f64,
}

/// Shares of each topic that were known beforehand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prior {
    topics: Vec<Tally>,
    everywhere: Tally,
}

impl Prior {
    /// Nothing known yet about so many topics.
    #[must_use]
    pub fn new(topics: usize) -> Self {
        Self {
            topics: vec![Tally::default(); topics],
            everywhere: Tally::default(),
        }
    }

    /// The shares that explain these first answers best.
    #[must_use]
    pub fn settle(topics: usize, answers: &[First]) -> Self {
        let mut settled = Self::new(topics);
        for _ in 0..ROUNDS {
            let mut next = Self::new(topics);
            for first in answers {
                let share = settled.chance(first.topic);
                let known = share * first.if_known;
                next.add(first.topic, known / (known + (1.0 - share) * first.if_not));
            }
            settled = next;
        }
        settled
    }

    /// Takes in an item that was known beforehand with this chance.
    pub fn add(&mut self, topic: usize, known: f64) {
        let Some(tally) = self.topics.get_mut(topic) else {
            return;
        };
        let before = tally.shrunk();
        tally.known += known;
        tally.met += 1.0;
        let after = tally.shrunk();
        self.everywhere.known += after.known - before.known;
        self.everywhere.met += after.met - before.met;
    }

    /// Chance that an item of the topic is known without having been asked.
    #[must_use]
    pub fn chance(&self, topic: usize) -> f64 {
        let (known, met) = EVERYWHERE_PRIOR;
        let everywhere = (known + self.everywhere.known) / (met + self.everywhere.met);
        let topic = self.topics.get(topic).copied().unwrap_or_default();
        ((TOPIC_PRIOR * everywhere + topic.known) / (TOPIC_PRIOR + topic.met)).clamp(0.001, 0.999)
    }
}
