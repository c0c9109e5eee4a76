//! `luxate` and `luxate review`: a round on any of the three faces.

use std::cell::RefCell;
use std::io::{self, IsTerminal as _, Write};

use super::args::{CAUTION, Review};
use super::session::{Outside, Place, Session, drawing};
use super::{DONE, FAILED, Failure, INTERRUPTED};
use crate::answer::Answer;
use crate::edge::run::{self, End, RunError};
use crate::edge::wrapping::Wrapping;
use crate::edge::{seed, signals, terminal};
use crate::line::jsonl;
use crate::line::plain::{self, Pace};
use crate::query::Query;
use crate::round::{Limits, Record, Round};
use crate::settings::Setting;
use crate::tui::{self, Model};

pub(super) fn review(
    place: &Place,
    how: &Review,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    if !how.line && !how.jsonl {
        return screens(place, how, true, err);
    }
    let Session {
        clock,
        mut store,
        record,
        ..
    } = Session::open(place, err)?;
    some_item(&record)?;
    let limits = limits(how);
    let mut round = Round::review(
        record,
        limits,
        how.seed.unwrap_or_else(seed::draw),
        clock.now(),
    );
    let mut reader = io::stdin().lock();
    let closing = if how.jsonl {
        let mut desk = Outside {
            clock,
            store: &mut store,
        };
        jsonl::play(&mut round, &mut desk, &mut reader, out)?
    } else {
        let out = &mut Wrapping::new(out, terminal::width);
        if store.setting(Setting::CautionRead)?.is_none() {
            writeln!(out, "{CAUTION}")?;
            store.set(Setting::CautionRead, &clock.now().rfc3339())?;
        }
        let mut desk = Outside {
            clock,
            store: &mut store,
        };
        plain::play(&mut round, &mut desk, reading_pace(), &mut reader, out)?
    };
    Ok(if closing.lost_answer { FAILED } else { DONE })
}

/// A person at a terminal is waited for, a pipe is not.
fn reading_pace() -> Pace {
    if io::stdin().is_terminal() {
        Pace::Waits
    } else {
        Pace::GoesOn
    }
}

/// The full-screen front end.
pub(super) fn screens(
    place: &Place,
    how: &Review,
    begin: bool,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    // Before anything is opened or made: without a terminal there is nothing to do here.
    terminal::check().map_err(RunError::from)?;
    let Session {
        clock,
        store,
        record,
        ..
    } = Session::open(place, err)?;
    some_item(&record)?;
    let is_first = store.setting(Setting::CautionRead)?.is_none();
    let settings = tui::Settings {
        caution: is_first.then(|| CAUTION.to_owned()),
        limits: limits(how),
        seed: how.seed,
        begin,
        ..drawing(Some(&store))?
    };
    let model = Model::new(record, settings, &run::stamp(&clock));
    let store = RefCell::new(store);
    let mut append = |answer: &Answer| {
        store
            .borrow_mut()
            .append(answer)
            .map(drop)
            .map_err(|error| error.to_string())
    };
    let mut keep = |query: &Query| {
        store
            .borrow_mut()
            .append_query(query)
            .map_err(|error| error.to_string())
    };
    let mut save = |setting: Setting, value: &str| {
        store
            .borrow_mut()
            .set(setting, value)
            .map_err(|error| error.to_string())
    };
    let end = run::run(model, &clock, &mut append, &mut keep, &mut save, None)?;
    // Closing the store folds its journal into one file.
    drop(store);
    Ok(match end {
        End::Quit => DONE,
        End::Interrupted => INTERRUPTED,
        End::Signal(signal) => {
            signals::end_by(signal);
            INTERRUPTED
        }
    })
}

fn limits(how: &Review) -> Limits {
    Limits {
        seconds: how.minutes.map(|minutes| f64::from(minutes) * 60.0),
        items: how.items.and_then(|items| usize::try_from(items).ok()),
    }
}

/// There is something to ask.
fn some_item(record: &Record) -> Result<(), Failure> {
    if record.library().entries().is_empty() {
        let nothing = "there is no item in any deck; add a deck with luxate deck add";
        return Err(Failure::Told(nothing.into()));
    }
    Ok(())
}
