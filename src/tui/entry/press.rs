//! What a key does to an answer, one function a form of question.

use super::Pressed;
use crate::kinds::letter;
use crate::tui::event::Key;

/// The place of a letter, whatever its case.
fn place_of(character: char, len: usize) -> Option<usize> {
    let id = character.to_ascii_lowercase().to_string();
    (0..len).find(|&place| letter(place) == id)
}

/// Moves `focus` by an arrow within `len` places; false for other keys.
fn moved(focus: &mut usize, len: usize, key: Key) -> bool {
    match key {
        Key::Up => *focus = focus.saturating_sub(1),
        Key::Down => *focus = (*focus + 1).min(len.saturating_sub(1)),
        Key::Home => *focus = 0,
        Key::End => *focus = len.saturating_sub(1),
        _ => return false,
    }
    true
}

pub(super) fn one(chosen: &mut Option<usize>, options: usize, key: Key) -> Pressed {
    let place = match (key, *chosen) {
        (Key::Char(character), _) => place_of(character, options),
        (Key::Down, None) => Some(0),
        (Key::Up, None) => options.checked_sub(1),
        (key, now) => {
            let mut focus = now.unwrap_or(0);
            moved(&mut focus, options, key).then_some(focus)
        }
    };
    match place {
        Some(place) => {
            *chosen = Some(place);
            Pressed::Taken
        }
        None => Pressed::Passed,
    }
}

pub(super) fn several(focus: &mut usize, chosen: &mut [bool], key: Key) -> Pressed {
    let place = match key {
        Key::Char(' ') => Some(*focus),
        Key::Char(character) => place_of(character, chosen.len()),
        _ => None,
    };
    if let Some((place, flag)) = place.and_then(|place| Some((place, chosen.get_mut(place)?))) {
        *flag = !*flag;
        *focus = place;
        return Pressed::Taken;
    }
    if moved(focus, chosen.len(), key) {
        Pressed::Taken
    } else {
        Pressed::Passed
    }
}

pub(super) fn sequence(
    focus: &mut usize,
    placed: &mut Vec<usize>,
    steps: usize,
    key: Key,
) -> Pressed {
    let place = match key {
        Key::Char(' ') => Some(*focus),
        Key::Char(character) => place_of(character, steps),
        Key::Backspace => {
            return match placed.pop() {
                Some(last) => {
                    *focus = last;
                    Pressed::Taken
                }
                None => Pressed::Told("Nothing is placed yet.".to_owned()),
            };
        }
        _ => None,
    };
    let Some(place) = place else {
        return if moved(focus, steps, key) {
            Pressed::Taken
        } else {
            Pressed::Passed
        };
    };
    *focus = place;
    if let Some(position) = placed.iter().position(|&step| step == place) {
        let (id, position) = (letter(place), position + 1);
        return Pressed::Told(format!(
            "{id} is already number {position}. Backspace takes back the last one placed."
        ));
    }
    placed.push(place);
    Pressed::Taken
}

pub(super) fn pairs(
    focus: &mut usize,
    given: &mut [Option<usize>],
    rights: usize,
    open: &mut bool,
    key: Key,
) -> Pressed {
    let was_open = std::mem::take(open);
    match key {
        Key::Char(character) if character.is_ascii_digit() => {
            let digit = usize::try_from(character.to_digit(10).unwrap_or(0)).unwrap_or(0);
            let Some(slot) = given.get_mut(*focus) else {
                return Pressed::Passed;
            };
            // Numbers count from 1 on the screen and from 0 here.
            let before = if was_open {
                slot.map_or(0, |right| right + 1)
            } else {
                0
            };
            let wanted = before * 10 + digit;
            if wanted == 0 || wanted > rights {
                return Pressed::Told(format!("The numbers are 1 to {rights}."));
            }
            *slot = Some(wanted - 1);
            if wanted * 10 <= rights {
                *open = true;
            } else if let Some(next) = next_empty(given, *focus) {
                *focus = next;
            }
            Pressed::Taken
        }
        Key::Char(character) => match place_of(character, given.len()) {
            Some(place) => {
                *focus = place;
                Pressed::Taken
            }
            None => Pressed::Passed,
        },
        Key::Backspace | Key::Delete => {
            if let Some(slot) = given.get_mut(*focus) {
                *slot = None;
            }
            Pressed::Taken
        }
        _ if moved(focus, given.len(), key) => Pressed::Taken,
        _ => Pressed::Passed,
    }
}

/// The next left without a right, looking on from `focus` and round again.
pub(super) fn next_empty(given: &[Option<usize>], focus: usize) -> Option<usize> {
    let len = given.len();
    (1..=len)
        .map(|step| (focus + step) % len)
        .find(|&left| given[left].is_none())
}
