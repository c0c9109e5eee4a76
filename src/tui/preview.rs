//! Decks shown question by question as candidates see them, for whoever writes them.
//!
//! The question is a round's, so the views and keys are the same; its answer goes nowhere, and every question is met for the
//! first time. Without an answer, Enter shows the reveal of the key.

use super::entry::{Entry, Pressed};
use super::event::{Effect, Key, Stamp};
use super::model::{Model, Screen, Settings, Sitting, Step};
use super::update::{press_question, tell, turn_page};
use crate::answer::{Confidence, ItemRef, PartNumber};
use crate::deck::library::Library;
use crate::kinds;
use crate::round::{Phase, Record, Round};
use crate::words::sentence;

/// What is shown, and where it stands.
#[derive(Debug)]
pub(super) struct Preview {
    /// The decks, of which nothing has been answered.
    record: Record,
    /// Every question in the order of the decks.
    questions: Vec<Question>,
    place: usize,
    seed: u64,
    /// The reveal on the screen is that of the key, to which nobody answered.
    pub(super) of_key: bool,
    /// What the checker says of the file; nothing if no file is watched.
    pub(super) said: Option<Said>,
}

/// What the checker says of a file that is watched.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// How things stand, in a sentence.
    pub whole: String,
    /// What was found.
    pub findings: Vec<Finding>,
}

/// Something that the checker found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Id of the item it is in, if it is in one.
    pub item: Option<String>,
    /// Place and message.
    pub text: String,
}

/// An item, or a part of a case.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Question {
    reference: ItemRef,
    number: usize,
    part: Option<PartNumber>,
}

impl Preview {
    fn new(record: Record, seed: u64) -> Self {
        Self {
            questions: questions(record.library()),
            record,
            place: 0,
            seed,
            of_key: false,
            said: None,
        }
    }

    /// What is shown, for the head of the screen. The parts of a case are one item.
    pub(super) fn place(&self) -> String {
        let Some(question) = self.questions.get(self.place) else {
            return "no item".to_owned();
        };
        let items = |questions: &[Question]| {
            questions
                .chunk_by(|one, two| one.number == two.number)
                .count()
        };
        let so_far = self.questions.get(..=self.place).unwrap_or_default();
        let part = question.part.map(|part| format!(", {part}"));
        format!(
            "{}{}, item {} of {}",
            question.reference.item,
            part.unwrap_or_default(),
            items(so_far),
            items(&self.questions)
        )
    }

    /// Id of the item that is shown.
    pub(super) fn item(&self) -> Option<&str> {
        let question = self.questions.get(self.place)?;
        Some(&question.reference.item)
    }

    /// A round with the question at hand; a closed one if there is none.
    fn round(&self) -> Round {
        let question = self.questions.get(self.place);
        let (number, part) = question.map_or((usize::MAX, None), |at| (at.number, at.part));
        Round::showing(self.record.clone(), number, part, self.seed)
    }

    /// Goes to a question, the nearest place to it if it is gone.
    fn find(&mut self, reference: &ItemRef, part: Option<PartNumber>) {
        let same = |question: &Question| question.reference == *reference;
        let index = |part: Option<PartNumber>| part.map(PartNumber::index);
        let exact = |question: &Question| same(question) && index(question.part) == index(part);
        let found = self.questions.iter().position(exact);
        if let Some(place) = found.or_else(|| self.questions.iter().position(same)) {
            self.place = place;
        }
        self.place = self.place.min(self.questions.len().saturating_sub(1));
    }
}

fn questions(library: &Library) -> Vec<Question> {
    let all = library.questions().into_iter();
    all.map(|(reference, number, part)| Question {
        reference,
        number,
        part,
    })
    .collect()
}

impl Model {
    /// Shows the decks of `record`, of which nothing has been answered, beginning with `first`; `seed` decides orders and draws.
    #[must_use]
    pub fn preview(
        record: Record,
        settings: Settings,
        seed: u64,
        first: Option<&ItemRef>,
        stamp: &Stamp,
    ) -> Self {
        let mut preview = Preview::new(record.clone(), seed);
        if let Some(first) = first {
            preview.find(first, None);
        }
        let mut model = Self::new(record, settings, stamp);
        model.preview = Some(preview);
        model.put_question(stamp);
        model
    }

    /// Shows the deck as it is now, at the same question, with what the checker says of it. Without a record, because the file
    /// has errors, the questions stay as they were last.
    pub fn show_again(&mut self, record: Option<Record>, said: Said, stamp: &Stamp) {
        let Some(preview) = &mut self.preview else {
            return;
        };
        preview.said = Some(said);
        let Some(record) = record else {
            return;
        };
        let before = preview.questions.get(preview.place).cloned();
        preview.questions = questions(record.library());
        preview.record = record;
        match before {
            Some(before) => preview.find(&before.reference, before.part),
            None => preview.place = 0,
        }
        let was_revealed = matches!(self.phase(), Some(Phase::Revealed(_)));
        let scroll = self.scroll;
        self.put_question(stamp);
        if was_revealed {
            reveal(self, stamp);
        }
        self.scroll = scroll;
    }

    fn put_question(&mut self, stamp: &Stamp) {
        let Some(preview) = &self.preview else {
            return;
        };
        let mut sitting = Sitting::new(preview.round(), stamp);
        sitting.present(stamp);
        self.screen = Screen::Round(Box::new(sitting));
        self.turn(stamp);
    }

    fn step(&mut self, onward: bool, stamp: &Stamp) {
        if let Some(preview) = &mut self.preview {
            let last = preview.questions.len().saturating_sub(1);
            preview.place = if onward {
                (preview.place + 1).min(last)
            } else {
                preview.place.saturating_sub(1)
            };
        }
        self.put_question(stamp);
    }
}

/// Takes a key while decks are shown.
pub(super) fn press(model: &mut Model, key: Key, stamp: &Stamp) -> Vec<Effect> {
    let is_asking = matches!(model.phase(), Some(Phase::Asking(_)));
    match key {
        Key::Previous => model.step(false, stamp),
        // An answer that is begun has the arrows, if it has a use for them.
        Key::Left | Key::Right if is_asking && takes_arrow(model, key) => {}
        Key::Left | Key::Right => model.step(key == Key::Right, stamp),
        Key::Enter if is_asking => reveal(model, stamp),
        Key::Next | Key::Enter => model.step(true, stamp),
        Key::Char('q') if !model.takes_text() => return vec![Effect::Quit],
        other if is_asking => return press_question(model, other, stamp),
        other => turn_page(&mut model.scroll, other),
    }
    Vec::new()
}

/// Gives an arrow to an answer that is begun; false if it does nothing there.
fn takes_arrow(model: &mut Model, key: Key) -> bool {
    let drawn = model.spread().is_some();
    let Screen::Round(sitting) = &mut model.screen else {
        return false;
    };
    if sitting.entry.is_untouched() {
        return false;
    }
    match sitting.entry.press(key, drawn) {
        Pressed::Passed => return false,
        Pressed::Told(text) => tell(model, &text),
        Pressed::Taken => {}
    }
    true
}

/// Shows the reveal of the answer on the screen, or says what it lacks; without one, the reveal of the key.
fn reveal(model: &mut Model, stamp: &Stamp) {
    let Screen::Round(sitting) = &mut model.screen else {
        return;
    };
    let of_key = sitting.entry.is_untouched();
    let may_go_on = !of_key && matches!(sitting.entry, Entry::Pairs { .. });
    if may_go_on && sitting.entry.enter() {
        return;
    }
    let complaint = if of_key { None } else { sitting.complete() };
    if let Some(complaint) = complaint {
        return tell(model, &complaint);
    }
    let given = match &sitting.step {
        Step::Confidence { response, .. } => Some(response.clone()),
        Step::Answer => None,
    };
    let Phase::Asking(ask) = sitting.round.phase() else {
        return;
    };
    let item = sitting.round.item(ask);
    let keyed = || kinds::keyed(item?, &ask.pose);
    let Some(response) = given.or_else(keyed) else {
        return;
    };
    let certain = Confidence::Certain;
    match sitting
        .round
        .answer(&response, certain, 0.0, stamp.now, stamp.id)
    {
        Ok(_nobodys) => {
            sitting.round.stored();
            model.turn(stamp);
            if let Some(preview) = &mut model.preview {
                preview.of_key = of_key;
            }
        }
        Err(unfit) => {
            sitting.step = Step::Answer;
            tell(model, &sentence(&unfit.to_string()));
        }
    }
}
