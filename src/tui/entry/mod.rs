//! An answer while it is being put together, one variant a form of question.
//!
//! Knows keys and places on the screen, nothing of what is right. It is handed in as the ids that every face uses, so
//! that one reader decides whether it is complete.

mod press;

use std::sync::Arc;

use super::designing::Designing;
use super::event::Key;
use super::field::Field;
use super::pointing::Pointing;
use crate::kinds::{Form, letter, number};

/// Longest term or number, in characters.
const LONGEST: usize = 200;

/// What has been put in so far.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Entry {
    /// One option; `None` until one is chosen.
    One {
        chosen: Option<usize>,
        options: usize,
    },
    /// Any number of options.
    Several { focus: usize, chosen: Vec<bool> },
    /// Steps put in order so far.
    Sequence {
        focus: usize,
        placed: Vec<usize>,
        steps: usize,
    },
    /// Rights given to lefts. `open` while a second digit may follow.
    Pairs {
        focus: usize,
        given: Vec<Option<usize>>,
        rights: usize,
        open: bool,
    },
    /// A term; `inside` while keys are text.
    Typed { field: Field, inside: bool },
    /// A place of a diagram.
    Place(Pointing),
    /// A flap.
    Flap(Box<Designing>),
}

/// What became of a key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Pressed {
    /// It did something here.
    Taken,
    /// It did something, or could not, and this should be said.
    Told(String),
    /// It means nothing here.
    Passed,
}

impl Default for Entry {
    /// Nothing to choose from: no question is open.
    fn default() -> Self {
        Self::One {
            chosen: None,
            options: 0,
        }
    }
}

impl Entry {
    pub(super) fn new(form: &Form) -> Self {
        match form {
            Form::One(options) => Self::One {
                chosen: None,
                options: options.len(),
            },
            Form::Several(options) => Self::Several {
                focus: 0,
                chosen: vec![false; options.len()],
            },
            Form::Sequence(steps) => Self::Sequence {
                focus: 0,
                placed: Vec::new(),
                steps: steps.len(),
            },
            Form::Pairs { lefts, rights } => Self::Pairs {
                focus: 0,
                given: vec![None; lefts.len()],
                rights: rights.len(),
                open: false,
            },
            Form::Typed | Form::Number { .. } => Self::Typed {
                field: Field::new(LONGEST),
                inside: true,
            },
            Form::Flap(case) => Self::Flap(Box::new(Designing::new(Arc::clone(case)))),
            Form::Places(figure) => Self::Place(Pointing::new(Arc::clone(figure))),
        }
    }

    /// The answer in the ids that faces use.
    pub(super) fn ids(&self) -> Vec<String> {
        match self {
            Self::One { chosen, .. } => chosen.iter().map(|&place| letter(place)).collect(),
            Self::Several { chosen, .. } => chosen
                .iter()
                .enumerate()
                .filter(|(_, chosen)| **chosen)
                .map(|(place, _)| letter(place))
                .collect(),
            Self::Sequence { placed, .. } => placed.iter().map(|&place| letter(place)).collect(),
            Self::Pairs { given, .. } => {
                let pairs = given.iter().enumerate();
                pairs
                    .filter_map(|(left, right)| Some(letter(left) + number((*right)?).as_str()))
                    .collect()
            }
            Self::Typed { field, .. } => vec![field.text().to_owned()],
            Self::Flap(designing) => designing.ids(),
            Self::Place(pointing) => pointing.chosen().into_iter().map(letter).collect(),
        }
    }

    /// Whether nothing has been put in yet.
    pub(super) fn is_untouched(&self) -> bool {
        match self {
            Self::One { chosen, .. } => chosen.is_none(),
            Self::Several { chosen, .. } => !chosen.contains(&true),
            Self::Sequence { placed, .. } => placed.is_empty(),
            Self::Pairs { given, .. } => given.iter().all(Option::is_none),
            Self::Typed { field, .. } => field.text().trim().is_empty(),
            Self::Place(pointing) => pointing.chosen().is_none(),
            Self::Flap(designing) => designing.is_untouched(),
        }
    }

    /// Whether characters are text and not commands.
    pub(super) const fn takes_text(&self) -> bool {
        matches!(self, Self::Typed { inside: true, .. })
    }

    /// Inserts pasted text where text is typed.
    pub(super) fn paste(&mut self, text: &str) -> Pressed {
        match self {
            Self::Typed {
                field,
                inside: true,
            } => field.paste(text.trim()),
            _ => Pressed::Told("Text can be pasted only where a term is typed.".to_owned()),
        }
    }

    /// Takes a key; `drawn` if what there is to choose from is a drawing and not a list.
    pub(super) fn press(&mut self, key: Key, drawn: bool) -> Pressed {
        match self {
            Self::Place(pointing) => pointing.press(key, drawn),
            Self::Flap(designing) => designing.press(key),
            Self::One { chosen, options } => press::one(chosen, *options, key),
            Self::Several { focus, chosen } => press::several(focus, chosen, key),
            Self::Sequence {
                focus,
                placed,
                steps,
            } => press::sequence(focus, placed, *steps, key),
            Self::Pairs {
                focus,
                given,
                rights,
                open,
            } => press::pairs(focus, given, *rights, open, key),
            Self::Typed {
                field,
                inside: true,
            } => field.press(key),
            Self::Typed { inside, .. } => match key {
                Key::Enter | Key::Tab | Key::Left | Key::Right => {
                    *inside = true;
                    Pressed::Taken
                }
                _ => Pressed::Passed,
            },
        }
    }

    /// Takes Enter before the answer is handed in: true if there was still something for it to do here.
    pub(super) fn enter(&mut self) -> bool {
        match self {
            Self::Typed { inside, .. } if !*inside => {
                *inside = true;
                true
            }
            Self::Pairs {
                focus, given, open, ..
            } => {
                *open = false;
                match (given.get(*focus), press::next_empty(given, *focus)) {
                    (Some(Some(_)), Some(next)) => {
                        *focus = next;
                        true
                    }
                    _ => false,
                }
            }
            _ => false,
        }
    }

    /// Takes Escape: true if it left a field.
    pub(super) fn escape(&mut self) -> bool {
        match self {
            Self::Typed { inside, .. } => std::mem::take(inside),
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(len: usize) -> Vec<String> {
        (0..len).map(|index| format!("text {index}")).collect()
    }

    fn typed(form: &Form, keys: &str) -> Entry {
        let mut entry = Entry::new(form);
        for key in keys.chars() {
            let key = match key {
                '↑' => Key::Up,
                '↓' => Key::Down,
                '←' => Key::Backspace,
                other => Key::Char(other),
            };
            entry.press(key, false);
        }
        entry
    }

    #[test]
    fn letters_and_arrows_choose_one() {
        let form = Form::One(texts(3));
        for (keys, ids) in [
            ("", vec![]),
            ("b", vec!["b"]),
            ("bC", vec!["c"]),
            ("↓↓", vec!["b"]),
            ("↑", vec!["c"]),
            ("ax", vec!["a"]),
        ] {
            assert_eq!(typed(&form, keys).ids(), ids, "{keys}");
        }
    }

    #[test]
    fn letters_and_space_choose_several() {
        let form = Form::Several(texts(4));
        for (keys, ids) in [
            ("ca", vec!["a", "c"]),
            ("aa", vec![]),
            (" ↓↓ ", vec!["a", "c"]),
            ("d ", vec![]),
        ] {
            assert_eq!(typed(&form, keys).ids(), ids, "{keys}");
        }
    }

    #[test]
    fn steps_are_placed_one_after_the_other_and_taken_back() {
        let form = Form::Sequence(texts(3));
        for (keys, ids) in [
            ("cab", vec!["c", "a", "b"]),
            ("cc", vec!["c"]),
            ("ca←b", vec!["c", "b"]),
            ("↓ ↓ ", vec!["b", "c"]),
        ] {
            assert_eq!(typed(&form, keys).ids(), ids, "{keys}");
        }
        let mut entry = typed(&form, "c");
        assert!(
            matches!(entry.press(Key::Char('c'), false), Pressed::Told(text) if text.contains("number 1"))
        );
    }

    #[test]
    fn numbers_go_to_the_next_left_that_has_none() {
        let form = Form::Pairs {
            lefts: texts(3),
            rights: texts(4),
        };
        for (keys, ids) in [
            ("123", vec!["a1", "b2", "c3"]),
            ("b41", vec!["b4", "c1"]),
            ("129", vec!["a1", "b2"]),
            ("1↑←", vec![]),
        ] {
            assert_eq!(typed(&form, keys).ids(), ids, "{keys}");
        }
    }

    #[test]
    fn numbers_beyond_nine_take_two_digits() {
        let form = Form::Pairs {
            lefts: texts(2),
            rights: texts(12),
        };
        let mut entry = typed(&form, "12");
        assert_eq!(entry.ids(), ["a12"]);
        entry.press(Key::Char('1'), false);
        assert!(!entry.enter(), "all lefts have a number");
        assert_eq!(entry.ids(), ["a12", "b1"]);
        let mut entry = typed(&form, "1");
        assert!(
            entry.enter(),
            "one digit is settled and the next left is open"
        );
        entry.press(Key::Char('2'), false);
        assert_eq!(entry.ids(), ["a1", "b2"]);
    }

    #[test]
    fn a_term_is_typed_until_the_field_is_left() {
        let mut entry = typed(&Form::Typed, "quill");
        assert!(entry.takes_text() && entry.escape() && !entry.takes_text());
        assert_eq!(entry.press(Key::Char('q'), false), Pressed::Passed);
        assert_eq!(entry.press(Key::Tab, false), Pressed::Taken);
        assert_eq!(entry.paste(" and\n more "), Pressed::Taken);
        assert_eq!(entry.ids(), ["quilland  more"]);
    }
}
