//! Help: the keys that work on the screen below it, and what its words mean.

use super::page::Page;
use super::sheet::{Row, Sheet};
use super::theme::Look;
use crate::round::Phase;
use crate::text::Shown;
use crate::tui::keys::{Hint, everywhere, keys};
use crate::tui::model::{Model, Screen};

pub(super) fn page(model: &Model, width: usize) -> Page<'_> {
    let mut sheet = Sheet::new(width);
    let (name, notes) = about(model);
    sheet.text("Keys here", Look::Strong);
    for hint in keys(model) {
        key(&mut sheet, &hint);
    }
    sheet.gap();
    sheet.text("Keys everywhere", Look::Strong);
    for hint in everywhere(model) {
        key(&mut sheet, &hint);
    }
    for note in notes {
        sheet.gap();
        sheet.text(note, Look::Plain);
    }
    let back = Hint {
        keys: "Esc".to_owned(),
        does: "back",
    };
    Page {
        title: Shown::new("Help"),
        aside: Shown::new(name),
        sheet,
        hints: vec![back],
        onward: "Space",
        notice: None,
    }
}

fn key(sheet: &mut Sheet, hint: &Hint) {
    sheet.hang(
        Row::new([(&format!("  {:<18}", hint.keys), Look::Key)]),
        hint.does,
        Look::Plain,
    );
}

/// The name of the screen and what is good to know on it.
fn about(model: &Model) -> (&'static str, &'static [&'static str]) {
    if model.preview.is_some() {
        return (
            "items as candidates see them",
            &[
                "Answer first, and Enter shows the reveal of that answer as a candidate gets it: slip, belief, refused term, your flap beside a sound one. Without an answer it shows the reveal of the key.",
                "Ctrl-N goes to the next item and Ctrl-P to the one before. ← → do the same until an answer is begun that has a use for them: a flap, a place, a term.",
                "Nothing is kept.",
            ],
        );
    }
    match &model.screen {
        Screen::Caution => ("first start", &[]),
        Screen::Marks(_) => (
            "drawings",
            &[
                "Some questions come with a drawing. How well it can be seen depends on the font of your terminal, which no program can see.",
                "This can be changed at any time from the home screen.",
            ],
        ),
        Screen::Home => (
            "home",
            &[
                "Due means that the schedule (SM-2) wants the item today or wanted it before. Items not answered well come back before a round ends.",
                "Every answer is on disk before you see whether it was right. You can leave at any time and lose nothing.",
            ],
        ),
        Screen::Round(sitting) => match sitting.round.phase() {
            Phase::Asking(_) | Phase::Storing(_) => (
                "question",
                &[
                    "Right means exactly the key: there are no part marks. Typed terms may have slips of the keyboard, but never be another term.",
                    "You say how sure you are before you see the answer. Nobody grades themselves: from right or wrong and how sure you were follows when the item comes back.",
                ],
            ),
            Phase::Revealed(_) => (
                "answer",
                &[
                    "Quality goes from 0 (wrong and certain) to 5 (right and certain). Below 4 the item comes back before the round ends; with an exam ahead a confident error and a safety item always do, others if they gain enough.",
                    "A confident error is wrong and certain: the kind that does harm, because nobody looks it up.",
                    "A query is your remark on the item for its instructor: a doubtful key, a second right answer, an old source. It changes nothing in your schedule.",
                ],
            ),
            Phase::Closed(_) => (
                "end of the round",
                &["All answers of the round are on disk."],
            ),
        },
    }
}
