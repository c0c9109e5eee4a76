//! Which keys work on the screen that is up: one list, from which the last line and the help are both made.

use super::entry::Entry;
use super::model::{Model, Screen, Sitting, Step};
use crate::kinds::{letter, number};
use crate::round::Phase;

/// A key, or several of one purpose, and what they do now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Hint {
    pub(super) keys: String,
    pub(super) does: &'static str,
}

fn hint(keys: impl Into<String>, does: &'static str) -> Hint {
    Hint {
        keys: keys.into(),
        does,
    }
}

/// The keys that work now, the most needed first and help last. Those that work everywhere are in [`everywhere`].
pub(super) fn keys(model: &Model) -> Vec<Hint> {
    let mut hints = of_screen(model);
    // Where keys are text, a question mark is text too.
    if !model.takes_text() {
        hints.push(hint("?", "help"));
    }
    hints
}

fn of_screen(model: &Model) -> Vec<Hint> {
    if model.preview.is_some() {
        return preview(model);
    }
    match &model.screen {
        Screen::Caution => vec![hint("Enter", "I have read this"), hint("q", "leave")],
        Screen::Home => {
            let next = super::advice::advice(&model.home, model.today());
            let enter = next.enter.map(|does| hint("Enter", does));
            let rest = [hint("q", "leave"), hint("d", "drawings")];
            enter.into_iter().chain(rest).collect()
        }
        Screen::Marks(_) => {
            let back = (!model.settings.ask_marks).then(|| hint("Esc", "back"));
            let choose = [hint("y", "it looks whole"), hint("n", "try another kind")];
            let leave = hint("q", "leave");
            choose.into_iter().chain(back).chain([leave]).collect()
        }
        Screen::Round(sitting) => match sitting.round.phase() {
            Phase::Asking(_) | Phase::Storing(_) => question(sitting),
            Phase::Revealed(_) if sitting.query.is_some() => vec![
                hint("Enter", "keep"),
                hint("Ctrl-U", "empty the field"),
                hint("↑ ↓", "read"),
                hint("Esc", "drop"),
            ],
            Phase::Revealed(_) => vec![
                hint("Enter", "go on"),
                hint("q", "stop"),
                hint("w", "write a query"),
                hint("↑ ↓ Space", "read on"),
            ],
            Phase::Closed(_) => vec![hint("Enter", "home"), hint("q", "leave")],
        },
    }
}

/// The keys while decks are shown to their writer: the ways on first, which a narrow screen has room for, then those that
/// answer the question.
fn preview(model: &Model) -> Vec<Hint> {
    let others = hint("Ctrl-N/P", "other items");
    let leave = hint("q", "leave");
    match &model.screen {
        Screen::Round(sitting) if matches!(sitting.round.phase(), Phase::Asking(_)) => {
            let enter = hint("Enter", "reveal");
            let answering = question(sitting).into_iter();
            let answering = answering.filter(|hint| !["Enter", "q", "Esc"].contains(&&*hint.keys));
            let ways_on = [enter, others].into_iter();
            // On a narrow screen the first and the last are left, and in a field no help comes after them.
            if model.takes_text() {
                let leave = hint("Esc, then q", "leave");
                ways_on.chain(answering).chain([leave]).collect()
            } else {
                ways_on.chain([leave]).chain(answering).collect()
            }
        }
        _ => vec![
            hint("Enter", "next"),
            others,
            leave,
            hint("↑ ↓ Space", "read on"),
        ],
    }
}

/// The key that shows what is below: Space, unless it chooses something here.
pub(super) fn onward(model: &Model) -> &'static str {
    match model.phase() {
        Some(Phase::Asking(_) | Phase::Storing(_)) => "PgDn",
        // In a field a space is text.
        _ if model.takes_text() => "PgDn",
        _ => "Space",
    }
}

/// The keys that work on every screen.
pub(super) fn everywhere(model: &Model) -> Vec<Hint> {
    let leave = if model.preview.is_some() {
        "leave at once"
    } else {
        "leave at once; what was answered is kept"
    };
    vec![
        hint("PgUp PgDn", "show what is above or below"),
        hint("Ctrl-L", "draw the screen again"),
        hint("Ctrl-Z", "put the program to sleep; fg wakes it"),
        hint("Ctrl-C", leave),
    ]
}

fn question(sitting: &Sitting) -> Vec<Hint> {
    if let Step::Confidence { .. } = sitting.step {
        return vec![
            hint("g l c", "say how sure"),
            hint("Esc", "back to the answer"),
            hint("q", "stop"),
            hint("↑ ↓", "move"),
            hint("Enter", "confirm"),
        ];
    }
    let (enter, arrows) = (hint("Enter", "confirm"), hint("↑ ↓", "move"));
    let mut hints = match &sitting.entry {
        Entry::Flap(designing) => {
            let placed = designing.draft().end(designing.active()).is_some();
            let mut keys = vec![hint("1-8", "tooth"), hint("Tab", "other end"), enter];
            if placed {
                keys.extend([
                    hint("↑ ↓", "release"),
                    hint("← →", "walk"),
                    hint("< >", "slant"),
                ]);
            }
            if designing.has_limb() {
                keys.push(hint("b", "limb"));
            }
            keys.push(hint("s", "cut below the necks"));
            keys
        }
        Entry::Place(pointing) => vec![
            hint(letters(pointing.places()), "point"),
            enter,
            hint("Tab ← ↑ ↓ →", "walk"),
        ],
        Entry::One { options, .. } => vec![hint(letters(*options), "choose"), enter, arrows],
        Entry::Several { chosen, .. } => {
            vec![
                hint(letters(chosen.len()), "choose or undo"),
                enter,
                arrows,
                hint("Space", "the same"),
            ]
        }
        // Once it is complete, Enter is what is wanted next.
        Entry::Sequence { placed, steps, .. } if placed.len() == *steps => {
            vec![enter, hint("Backspace", "undo")]
        }
        Entry::Sequence { steps, .. } => vec![
            hint(letters(*steps), "next one"),
            hint("Backspace", "undo"),
            enter,
            arrows,
            hint("Space", "next one"),
        ],
        Entry::Pairs { given, rights, .. } => vec![
            hint(format!("1-{}", number(rights.saturating_sub(1))), "give"),
            hint(format!("{} ↑ ↓", letters(given.len())), "move"),
            enter,
            hint("Backspace", "undo"),
        ],
        // The keys of commands are letters here, so there must be a way out first.
        Entry::Typed { inside: true, .. } => {
            return vec![
                hint("Enter", "confirm"),
                hint("Ctrl-U", "empty the field"),
                hint("Esc", "leave the field"),
            ];
        }
        Entry::Typed { .. } => vec![hint("Enter", "back to the field")],
    };
    // Right after Enter, since on a narrow screen the last ones make room for the help. A flap needs its other keys more.
    let is_flap = matches!(sitting.entry, Entry::Flap(_));
    let mut places = hints.iter();
    let enter = places.position(|hint| hint.keys == "Enter" && !is_flap);
    hints.insert(enter.map_or(hints.len(), |at| at + 1), hint("q", "stop"));
    hints
}

fn letters(len: usize) -> String {
    format!("{}-{}", letter(0), letter(len.saturating_sub(1)))
}
