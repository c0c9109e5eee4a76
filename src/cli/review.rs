//! `luxate` and `luxate review`: a round on any of the three faces.

use std::io::{self, Write};

use super::args::{CAUTION, Review};
use super::session::{Outside, Place, Session};
use super::{DONE, Failure};
use crate::edge::seed;
use crate::line::{jsonl, plain};
use crate::round::{Limits, Round};
use crate::store::Setting;

/// Where the screens begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Start {
    Home,
    Review,
}

pub(super) fn review(
    place: &Place,
    how: &Review,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    if !how.line && !how.jsonl {
        return screens(place, err, Start::Review);
    }
    let Session {
        clock,
        mut store,
        record,
    } = Session::open(place, err)?;
    if record.library().entries().is_empty() {
        return Err(Failure::Told(
            "there is no item in any deck; add a deck with luxate deck add".into(),
        ));
    }
    let limits = Limits {
        seconds: how.minutes.map(|minutes| f64::from(minutes) * 60.0),
        items: how.items.and_then(|items| usize::try_from(items).ok()),
    };
    let mut round = Round::review(
        record,
        limits,
        how.seed.unwrap_or_else(seed::draw),
        clock.now(),
    );
    let mut reader = io::stdin().lock();
    if how.jsonl {
        let mut desk = Outside {
            clock,
            store: &mut store,
        };
        jsonl::play(&mut round, &mut desk, &mut reader, out)?;
    } else {
        if store.setting(Setting::CautionRead)?.is_none() {
            writeln!(out, "{CAUTION}")?;
            store.set(Setting::CautionRead, &clock.now().rfc3339())?;
        }
        let mut desk = Outside {
            clock,
            store: &mut store,
        };
        plain::play(&mut round, &mut desk, &mut reader, out)?;
    }
    Ok(DONE)
}

pub(super) fn screens(place: &Place, err: &mut impl Write, start: Start) -> Result<u8, Failure> {
    let _ = (place, err, start);
    Ok(DONE)
}
