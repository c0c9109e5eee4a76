//! What can happen to the front end, and what it asks to be done. Plain values, no terminal types.

use crate::answer::{Answer, AnswerId};
use crate::query::Query;
use crate::settings::Setting;
use crate::time::Moment;

/// A key press, as far as any screen cares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// A character, as typed.
    Char(char),
    /// Enter.
    Enter,
    /// Escape.
    Escape,
    /// Backspace.
    Backspace,
    /// Delete.
    Delete,
    /// Arrow up.
    Up,
    /// Arrow down.
    Down,
    /// Arrow left.
    Left,
    /// Arrow right.
    Right,
    /// Home.
    Home,
    /// End.
    End,
    /// Page up.
    PageUp,
    /// Page down.
    PageDown,
    /// Tab.
    Tab,
    /// Shift and Tab.
    BackTab,
    /// Ctrl-C: leave at once.
    Interrupt,
    /// Ctrl-Z: put the program to sleep.
    Suspend,
    /// Ctrl-L: draw everything again.
    Redraw,
    /// Ctrl-U: empty the field.
    Clear,
    /// Ctrl-N: the next item, where items are shown to their writer.
    Next,
    /// Ctrl-P: the item before.
    Previous,
}

/// Cells of the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Size {
    /// Columns.
    pub width: u16,
    /// Rows.
    pub height: u16,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Event {
    /// A key was pressed.
    Key(Key),
    /// A cell of the screen was clicked: column and row from 0.
    Click(u16, u16),
    /// Text was pasted; never read as commands.
    Paste(String),
    /// The screen has another size.
    Resize(Size),
    /// What came of [`Effect::Append`]; a failure with its reason in words.
    Stored(Result<(), String>),
    /// What came of [`Effect::Keep`].
    Kept(Result<(), String>),
    /// What came of [`Effect::Save`].
    Saved(Result<(), String>),
    /// The program was asleep and goes on.
    Resumed,
    /// Another study day may have begun.
    Tick,
}

/// When an event happened, with the chance and the name it may use.
#[derive(Clone, Copy, Debug)]
pub struct Stamp {
    /// The moment.
    pub now: Moment,
    /// Seconds on a clock that is never set back.
    pub elapsed: f64,
    /// A seed for a round that begins with this event.
    pub seed: u64,
    /// A name for an answer that is given with this event.
    pub id: AnswerId,
}

/// Something to be done outside.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Put this answer on disk and say so by [`Event::Stored`].
    Append(Box<Answer>),
    /// Put this query on disk and say so by [`Event::Kept`].
    Keep(Box<Query>),
    /// Keep a setting and say so by [`Event::Saved`].
    Save(Setting, String),
    /// Draw the whole screen afresh.
    Redraw,
    /// Give the terminal back and stop the process until it is continued; then [`Event::Resumed`].
    Suspend,
    /// Leave.
    Quit,
    /// Leave as if interrupted.
    Interrupt,
}
