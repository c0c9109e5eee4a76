//! What a deck is once it has been read: plain values with every reference known to hold.
//!
//! Only the reader makes these from a file, and it makes one only of a deck without errors, so the rest of the
//! program need not ask again whether a key exists or a topic is known. No places in the file here:
//! those stay in the tree.

use std::sync::Arc;

use super::numeric::Numeric;
use crate::figure::model::Figure;
use crate::flap::{Case as FlapCase, Design, Family, Rule};
use crate::time::Day;

/// One deck.
#[derive(Clone, Debug, PartialEq)]
pub struct Deck {
    /// Lower-case letters, digits, hyphens; names the deck for good.
    pub id: String,
    /// One line.
    pub title: String,
    /// Date of this edition.
    pub edition: Day,
    /// Language tag (BCP 47).
    pub language: String,
    /// SPDX name of the licence.
    pub licence: String,
    /// What the deck covers.
    pub topics: Vec<Topic>,
    /// What the deck rests on.
    pub sources: Vec<Source>,
    /// Misconceptions that distractors share.
    pub beliefs: Vec<Belief>,
    /// The questions.
    pub items: Vec<Item>,
}

/// A part of the exam's blueprint.
#[derive(Clone, Debug, PartialEq)]
pub struct Topic {
    /// The same id in two decks is the same topic.
    pub id: String,
    /// One line.
    pub title: String,
    /// Per cent of the exam; above 0, finite.
    pub weight: f64,
}

/// A publication.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Short name that items cite.
    pub id: String,
    /// The full reference.
    pub cite: String,
    /// Year of publication.
    pub year: u16,
}

/// A misconception that distractors in several items share.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Belief {
    /// Short name that options carry.
    pub id: String,
    /// What is wrongly believed, as a sentence.
    pub text: String,
}

/// One thing to be known; the unit that is scheduled.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Unique in the deck; names the item for good.
    pub id: String,
    /// Id of a topic of the deck.
    pub topic: String,
    /// The stem, then further wordings of it; never empty.
    pub stems: Vec<String>,
    /// How it is asked and what is right.
    pub body: Body,
    /// Why the key is right.
    pub rationale: String,
    /// What the item rests on; never empty.
    pub sources: Vec<Citation>,
    /// What could go wrong for a patient; present on safety items and only there.
    pub caution: Option<String>,
}

/// A source and where in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Citation {
    /// Id of a source of the deck.
    pub source: String,
    /// Page, section or table; may be empty.
    pub place: String,
}

/// How an item is asked, one variant a kind.
#[derive(Clone, Debug, PartialEq)]
pub enum Body {
    /// One best answer: exactly one option is a key.
    Single(Choice),
    /// One or more right answers: all keys and no other option.
    Multiple(Choice),
    /// Steps to be put in order, held in the right order.
    Order(Vec<Step>),
    /// Lefts to be given their rights.
    Match(Match),
    /// A typed term.
    Short(Short),
    /// A number computed from drawn values.
    Numeric(Box<Numeric>),
    /// A place to be pointed at in a diagram.
    Locate(Locate),
    /// A flap to be designed.
    Flap(Box<FlapTask>),
    /// A vignette whose parts are asked in order.
    Case(Case),
}

/// A vignette with parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// 2 to 8 parts in the order in which they are asked.
    pub parts: Vec<Part>,
}

/// One question of a case.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What has come to light by now. It may take the right answer to the part before for granted, so that one slip
    /// does not cost the rest.
    pub finding: Option<String>,
    /// The question: an item with one stem and of any kind but a case. Its id is unique in the case; its topic
    /// is the topic of the case.
    pub item: Item,
}

/// A list of options.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// 2 to 8 options, at least one of them a key.
    pub options: Vec<AnswerOption>,
    /// The order carries meaning and is not shuffled.
    pub keep_order: bool,
}

/// An option of a choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AnswerOption {
    /// What the candidate reads.
    pub text: String,
    /// Whether it is (part of) the key.
    pub key: bool,
    /// Why it is right or wrong; always there on a distractor.
    pub why: Option<String>,
    /// Id of the belief that choosing it betrays.
    pub belief: Option<String>,
}

/// A step of a sequence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What the candidate reads.
    pub text: String,
    /// Why it stands where it does.
    pub why: Option<String>,
}

/// Pairs to be found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Match {
    /// 2 to 8 pairs; two may share a right.
    pub pairs: Vec<Pair>,
    /// Rights that belong to no left.
    pub extra: Vec<Extra>,
}

/// A left with its right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pair {
    /// What is given.
    pub left: String,
    /// What belongs to it.
    pub right: String,
    /// Why.
    pub why: Option<String>,
}

/// A right that belongs to no left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Extra {
    /// What the candidate reads.
    pub text: String,
    /// Why it belongs nowhere.
    pub why: String,
}

/// A typed term.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Short {
    /// Accepted forms; the first is the one shown.
    pub accept: Vec<String>,
    /// Wrong answers that are to be expected.
    pub refuse: Vec<Refused>,
}

/// A wrong answer that is to be expected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// The wrong term.
    pub text: String,
    /// Why it is wrong.
    pub why: String,
    /// Id of the belief that giving it betrays.
    pub belief: Option<String>,
}

/// A place to be pointed at.
#[derive(Clone, Debug, PartialEq)]
pub struct Locate {
    /// The diagram with the places that may be chosen, and no others.
    pub figure: Arc<Figure>,
    /// The right places, as indexes into the figure's; at least one, never all.
    pub keys: Vec<usize>,
    /// What is to be said of wrong places; not of all of them.
    pub wrong: Vec<WrongPlace>,
}

impl Locate {
    /// What a key tells, place by place in the figure's order: its name, then where it lies and why it is wrong.
    #[must_use]
    pub fn in_words(&self) -> Choice {
        let options = self.figure.places.iter().enumerate().map(|(index, place)| {
            let wrong = self.wrong.iter().find(|wrong| wrong.place == index);
            let lies = place.says.trim_end_matches('.');
            AnswerOption {
                text: place.name.clone(),
                key: self.keys.contains(&index),
                why: Some(match wrong {
                    Some(wrong) => format!("{lies}. {}", wrong.why),
                    None => format!("{lies}."),
                }),
                belief: wrong.and_then(|wrong| wrong.belief.clone()),
            }
        });
        Choice {
            options: options.collect(),
            keep_order: false,
        }
    }
}

/// What is to be said of a wrong place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrongPlace {
    /// Index into the figure's places; never a key.
    pub place: usize,
    /// Why it is wrong.
    pub why: String,
    /// Id of the belief that pointing to it betrays.
    pub belief: Option<String>,
}

/// A flap to be designed.
#[derive(Clone, Debug, PartialEq)]
pub struct FlapTask {
    /// What is to be reached, and the numbers that decide.
    pub case: Arc<FlapCase>,
    /// The kind of flap asked for, if not any will do.
    pub family: Option<Family>,
    /// One sound design of that kind.
    pub show: Design,
    /// What is to be said of typical errors, at most one a rule.
    pub slips: Vec<FlapSlip>,
}

/// A typical error in a design.
#[derive(Clone, Debug, PartialEq)]
pub struct FlapSlip {
    /// The rule it breaks.
    pub breaks: Rule,
    /// A design that breaks it.
    pub design: Design,
    /// What whoever draws it has mistaken.
    pub why: String,
    /// Id of the belief that it betrays.
    pub belief: Option<String>,
}

impl Item {
    /// The parts, if it is a case; none otherwise.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        match &self.body {
            Body::Case(case) => &case.parts,
            _ => &[],
        }
    }

    /// The item, then its parts: everything that was written as a question.
    pub fn with_parts(&self) -> impl Iterator<Item = &Self> {
        std::iter::once(self).chain(self.parts().iter().map(|part| &part.item))
    }

    /// Whether a wrong answer, to a part of it if it is a case, could harm a patient.
    #[must_use]
    pub fn is_safety(&self) -> bool {
        self.with_parts().any(|item| item.caution.is_some())
    }

    /// Chance of a right answer without any knowledge: one over the number of equally likely responses, and
    /// 0.02 for typed terms, numbers and designs (our assumption).
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "counts of options are small")]
    pub fn chance(&self) -> f64 {
        match &self.body {
            Body::Single(choice) => 1.0 / choice.options.len() as f64,
            // Every option is in or out; none at all cannot be handed in.
            Body::Multiple(choice) => 1.0 / f64::from((1_u32 << choice.options.len().min(31)) - 1),
            Body::Order(steps) => 1.0 / (1..=steps.len()).product::<usize>() as f64,
            Body::Match(pairs) => {
                let rights = pairs.rights().len() as f64;
                rights.powf(-(pairs.pairs.len() as f64))
            }
            Body::Short(_) | Body::Numeric(_) | Body::Flap(_) => 0.02,
            Body::Locate(locate) => locate.keys.len() as f64 / locate.figure.places.len() as f64,
            Body::Case(case) => case.parts.iter().map(|part| part.item.chance()).product(),
        }
    }
}

impl Body {
    /// The kind's word in decks, logs and lines.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Single(_) => "single",
            Self::Multiple(_) => "multiple",
            Self::Order(_) => "order",
            Self::Match(_) => "match",
            Self::Short(_) => "short",
            Self::Numeric(_) => "numeric",
            Self::Locate(_) => "locate",
            Self::Flap(_) => "flap",
            Self::Case(_) => "case",
        }
    }
}

impl Case {
    /// Gives each part the topic of the case, and its sources if the part names none.
    pub(super) fn inherit(&mut self, topic: &str, sources: &[Citation]) {
        for Part { item, .. } in &mut self.parts {
            topic.clone_into(&mut item.topic);
            if item.sources.is_empty() {
                item.sources = sources.to_vec();
            }
        }
    }
}

impl Match {
    /// Every different right in file order, those of pairs first.
    #[must_use]
    pub fn rights(&self) -> Vec<&str> {
        let mut rights: Vec<&str> = Vec::new();
        let paired = self.pairs.iter().map(|pair| pair.right.as_str());
        for right in paired.chain(self.extra.iter().map(|extra| extra.text.as_str())) {
            if !rights.contains(&right) {
                rights.push(right);
            }
        }
        rights
    }
}
