//! The kinds of item: how each is put, marked and explained. One file a kind.
//!
//! [`Pose`] fixes how an item looks at one asking, [`Question`] is what a face shows of it, [`Response`] what
//! came back, [`Verdict`] the marking with everything the reveal needs. Faces know letters and lines; only this module knows
//! what is right. Responses speak of places on the screen, the log of places in the deck.

mod betrayed;
mod choice;
mod flap;
mod keyed;
mod locate;
mod matching;
mod numeric;
mod order;
mod response;
mod short;
mod typed_number;

pub use betrayed::betrayed;
pub use flap::designed;
pub use keyed::keyed;
pub use locate::pointed;
pub use numeric::{Worked, worked};
pub use response::{Unfit, read};

use std::sync::Arc;

use crate::chance::Chance;
use crate::deck::model::{Body, Item};
use crate::deck::numeric::{self as computed, Drawn};
use crate::figure::model::Figure;
use crate::flap::{Case, Design};

/// How an item is put at one asking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pose {
    /// Which stem is shown; an index into the item's stems.
    pub wording: usize,
    /// Options, steps or lefts in the order shown, as indexes into the deck's list.
    pub order: Vec<usize>,
    /// Rights of a match in the order shown; empty for other kinds.
    pub targets: Vec<usize>,
    /// Values drawn for a computed number; empty for other kinds.
    pub drawn: Vec<Drawn>,
}

/// What a face shows of an item before the reveal. All text is as written in the deck: faces clean it.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// What a case has told by now: the vignette, then what has come to light. Empty for other kinds.
    pub context: Vec<String>,
    /// The wording chosen.
    pub stem: String,
    /// What there is to choose from.
    pub form: Form,
}

/// What there is to choose from, in the order shown. Entry 0 is `a`, right 0 is `1`.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// Choose one option.
    One(Vec<String>),
    /// Choose all that apply.
    Several(Vec<String>),
    /// Put the steps in order.
    Sequence(Vec<String>),
    /// Give each left its right.
    Pairs {
        /// What is given.
        lefts: Vec<String>,
        /// What to choose from; may hold more or fewer than there are lefts.
        rights: Vec<String>,
    },
    /// Type a term.
    Typed,
    /// Type a number.
    Number {
        /// The unit it is wanted in, if it has one.
        unit: Option<String>,
        /// Other spellings of that unit.
        also: Vec<String>,
    },
    /// Point to one of the places of a diagram, which stand in the order shown.
    Places(Arc<Figure>),
    /// Design a flap for this case.
    Flap(Arc<Case>),
}

/// What came back, in places as shown.
#[derive(Clone, Debug, PartialEq)]
pub enum Response {
    /// Places of the options chosen, or of the place pointed to.
    Chosen(Vec<usize>),
    /// Places of the steps, first step first.
    Sequence(Vec<usize>),
    /// For each left in the order shown, the place of its right.
    Pairs(Vec<usize>),
    /// What was typed.
    Typed(String),
    /// A flap as designed.
    Design(Design),
}

/// How a response was marked, with what the reveal tells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// Whether all of it was right; there are no part marks.
    pub right: bool,
    /// The key in the ids that a face shows: `["b"]`, `["c", "a", "b"]`, `["a2", "b1"]`, or accepted forms.
    pub key: Vec<String>,
    /// The response in terms of the deck, for the log.
    pub logged: Vec<String>,
    /// Line by line: what was right, what was chosen, and why.
    pub lines: Vec<Line>,
    /// Ids of the mistaken beliefs that the response betrays.
    pub beliefs: Vec<String>,
}

/// One line of a reveal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The id shown with it, such as `b`; empty if it had none.
    pub label: String,
    /// What it says.
    pub text: String,
    /// How the response stands to it.
    pub standing: Standing,
    /// What the candidate did instead, where that takes words.
    pub given: Option<String>,
    /// Why it is right or wrong, where the deck says so.
    pub why: Option<String>,
}

/// How a response stands to one line of the reveal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Right, and answered so.
    Hit,
    /// Right, but not answered so.
    Missed,
    /// Answered, but wrong.
    Wrong,
    /// Neither right nor answered.
    Other,
    /// Not wrong, but not as it should be.
    Remark,
}

impl Pose {
    /// How `item` is put with `seed`: the wordings take turns, so that no two askings in a row show the same
    /// line where there is a choice; options are shuffled unless their order carries meaning.
    #[must_use]
    pub fn new(item: &Item, last_wording: Option<usize>, seed: u64) -> Self {
        let mut chance = Chance::new(seed, 0);
        let wording = last_wording.map_or(0, |last| (last + 1) % item.stems.len().max(1));
        let (order, targets) = match &item.body {
            Body::Single(choice) | Body::Multiple(choice) if choice.keep_order => {
                ((0..choice.options.len()).collect(), Vec::new())
            }
            Body::Single(choice) | Body::Multiple(choice) => {
                (chance.order(choice.options.len()), Vec::new())
            }
            Body::Order(steps) => (order::mixed(steps.len(), &mut chance), Vec::new()),
            Body::Match(pairs) => {
                let lefts = chance.order(pairs.pairs.len());
                (lefts, chance.order(pairs.rights().len()))
            }
            Body::Short(_) | Body::Numeric(_) | Body::Flap(_) | Body::Case(_) => {
                (Vec::new(), Vec::new())
            }
            Body::Locate(locate) => (chance.order(locate.figure.places.len()), Vec::new()),
        };
        let drawn = match &item.body {
            Body::Numeric(numeric) => numeric.draw(seed),
            _ => Vec::new(),
        };
        Self {
            wording,
            order,
            targets,
            drawn,
        }
    }

    /// The pose for the log: the deck's ids in the order shown, lefts before rights; for a computed
    /// number the values drawn, as `name=value`.
    #[must_use]
    pub fn logged(&self) -> Vec<String> {
        let lefts = self.order.iter().map(|&index| letter(index));
        lefts
            .chain(self.targets.iter().map(|&index| number(index)))
            .chain(self.drawn.iter().map(ToString::to_string))
            .collect()
    }
}

/// What a face shows of `item` in this pose.
#[must_use]
pub fn question(item: &Item, pose: &Pose) -> Question {
    let stem = item
        .stems
        .get(pose.wording)
        .or(item.stems.first())
        .cloned()
        .unwrap_or_default();
    let form = match &item.body {
        Body::Single(choice) => Form::One(choice::texts(choice, pose)),
        Body::Multiple(choice) => Form::Several(choice::texts(choice, pose)),
        Body::Order(steps) => Form::Sequence(order::texts(steps, pose)),
        Body::Match(pairs) => matching::form(pairs, pose),
        // A case itself asks nothing: its parts do, each as an item of its own.
        Body::Short(_) | Body::Case(_) => Form::Typed,
        Body::Locate(locate) => locate::form(locate, pose),
        Body::Flap(task) => Form::Flap(Arc::clone(&task.case)),
        Body::Numeric(numeric) => Form::Number {
            unit: numeric.unit.clone(),
            also: numeric.units.clone(),
        },
    };
    let stem = match &item.body {
        Body::Numeric(numeric) => numeric::shown(&stem, numeric, pose),
        _ => stem,
    };
    Question {
        context: Vec::new(),
        stem,
        form,
    }
}

/// The form an item was asked in, for the log: names of places, else see [`Pose::logged`].
#[must_use]
pub fn shown(item: &Item, pose: &Pose) -> Vec<String> {
    match &item.body {
        Body::Locate(locate) => locate::shown(locate, pose),
        _ => pose.logged(),
    }
}

/// What an item is called where it is spoken of apart from an asking: its stem, with dots for drawn values.
#[must_use]
pub fn heading(item: &Item) -> String {
    let stem = item.stems.first().map_or("", String::as_str);
    match &item.body {
        Body::Numeric(_) => computed::fill(stem, |_, _| Some("...".to_owned())),
        _ => stem.to_owned(),
    }
}

/// The stem of a computed number as it was asked: `wording` and `shown` are those of the log. A value that the log lacks stays a name
/// in braces, and what is no `name=value` is passed over. `None` for every other kind.
#[must_use]
pub fn stem_with(item: &Item, wording: u32, shown: &[String]) -> Option<String> {
    let Body::Numeric(numeric) = &item.body else {
        return None;
    };
    let drawn = shown.iter().filter_map(|value| {
        let (name, value) = value.split_once('=')?;
        Some(Drawn {
            name: name.to_owned(),
            value: value.to_owned(),
        })
    });
    let drawn: Vec<Drawn> = drawn.collect();
    let wording = usize::try_from(wording).unwrap_or(usize::MAX);
    let stem = item.stems.get(wording).or(item.stems.first())?;
    Some(numeric::asked_with(stem, numeric, &drawn))
}

/// Marks a response. Right means exactly the key: no part marks.
///
/// # Errors
/// [`Unfit`] if the response is not one that can be given to this item in this pose; nothing is marked then.
pub fn mark(item: &Item, pose: &Pose, response: &Response) -> Result<Verdict, Unfit> {
    response::check(&question(item, pose).form, response)?;
    match (&item.body, response) {
        (Body::Single(choice) | Body::Multiple(choice), Response::Chosen(places)) => {
            Ok(choice::mark(choice, pose, places))
        }
        (Body::Order(steps), Response::Sequence(places)) => Ok(order::mark(steps, pose, places)),
        (Body::Match(pairs), Response::Pairs(places)) => Ok(matching::mark(pairs, pose, places)),
        (Body::Short(short), Response::Typed(text)) => Ok(short::mark(short, text)),
        (Body::Numeric(numeric), Response::Typed(text)) => numeric::mark(numeric, pose, text),
        (Body::Flap(task), Response::Design(design)) => flap::mark(task, design),
        (Body::Locate(locate), Response::Chosen(places)) => Ok(locate::mark(locate, pose, places)),
        _ => Err(Unfit::OtherKind),
    }
}

/// The id of the option, step or left at this place: `a`, `b` and so on.
#[must_use]
pub fn letter(place: usize) -> String {
    let place = u8::try_from(place).unwrap_or(u8::MAX).min(25);
    char::from(b'a' + place).to_string()
}

/// The id of the right at this place: `1`, `2` and so on.
#[must_use]
pub fn number(place: usize) -> String {
    (place + 1).to_string()
}
