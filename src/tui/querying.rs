//! A query being written on a reveal: Enter keeps it, Esc drops it, and the reveal can be read on meanwhile.

use super::entry::Pressed;
use super::event::{Effect, Key, Stamp};
use super::field::Field;
use super::model::{Model, Screen, Sitting};
use super::update::{tell, turn_page};
use crate::query::{KEPT, LONGEST};
use crate::words::sentence;

/// Opens the field.
pub(super) fn open(model: &mut Model) {
    if let Some(sitting) = sitting(model) {
        sitting.query = Some(Field::new(LONGEST));
        model.scroll.follow = true;
    }
}

/// Takes a key while the field is open.
pub(super) fn press(model: &mut Model, key: Key, stamp: &Stamp) -> Vec<Effect> {
    let Some(sitting) = sitting(model) else {
        return Vec::new();
    };
    let Some(field) = &mut sitting.query else {
        return Vec::new();
    };
    let pressed = match key {
        Key::Enter => match sitting.round.query(field.text(), stamp.now) {
            // The field stays until the disk has it.
            Ok(query) => return vec![Effect::Keep(Box::new(query))],
            Err(refusal) => Pressed::Told(sentence(&refusal.to_string())),
        },
        Key::Escape => {
            sitting.query = None;
            Pressed::Taken
        }
        other => field.press(other),
    };
    model.scroll.follow = true;
    match pressed {
        Pressed::Taken => {}
        Pressed::Told(text) => tell(model, &text),
        Pressed::Passed => turn_page(&mut model.scroll, key),
    }
    Vec::new()
}

/// Inserts pasted text.
pub(super) fn paste(model: &mut Model, text: &str) {
    let field = sitting(model).and_then(|sitting| sitting.query.as_mut());
    let Some(field) = field else { return };
    if let Pressed::Told(text) = field.paste(text) {
        tell(model, &text);
    }
    model.scroll.follow = true;
}

/// Takes in what the disk said of the query.
pub(super) fn kept(model: &mut Model, result: Result<(), String>) {
    let Some(sitting) = sitting(model) else {
        return;
    };
    match result {
        Ok(()) => {
            sitting.query = None;
            tell(model, KEPT);
        }
        Err(reason) => {
            let reason = sentence(&reason);
            tell(
                model,
                &format!("NOT SAVED. {reason} Your query is still here: Enter tries again."),
            );
        }
    }
}

fn sitting(model: &mut Model) -> Option<&mut Sitting> {
    match &mut model.screen {
        Screen::Round(sitting) => Some(sitting),
        Screen::Caution | Screen::Marks(_) | Screen::Home => None,
    }
}
