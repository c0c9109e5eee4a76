//! What most commands begin with: the clock, the decks, the store and the candidate's record.

use std::io::Write;
use std::path::PathBuf;
use std::sync::Arc;

use super::{Failure, complain};
use crate::answer::{Answer, AnswerId};
use crate::deck::library::Library;
use crate::edge::clock::Clock;
use crate::edge::{decks, folders, seed, terminal};
use crate::figure::marks::Marks;
use crate::query::Query;
use crate::round::{Desk, Preparation, Record};
use crate::settings::Setting;
use crate::store::Store;
use crate::time::{Day, Moment};
use crate::tui;

/// Where things are kept, and when a day begins.
#[derive(Debug)]
pub(super) struct Place {
    pub(super) data: Option<PathBuf>,
    pub(super) turnover: u8,
}

impl Place {
    pub(super) fn data(&self) -> Result<PathBuf, Failure> {
        Ok(folders::data(self.data.clone())?)
    }

    /// The built-in decks and the added ones. An added deck that can no longer be read is told and left out.
    pub(super) fn library(&self, err: &mut impl Write) -> Result<Library, Failure> {
        let mut all = decks::built_in();
        let added = decks::added(&self.data()?, &all)?;
        for trouble in added.troubles {
            complain(err, &trouble)?;
        }
        all.extend(added.decks);
        Ok(Library::new(all))
    }
}

/// How drawings are made in this terminal: as the store says, or as the terminal lets guess.
pub(super) fn drawing(store: Option<&Store>) -> Result<tui::Settings, Failure> {
    let auto_marks = terminal::auto_marks();
    let kept = match store {
        Some(store) => store.setting(Setting::Marks)?,
        None => None,
    };
    Ok(tui::Settings {
        marks: kept.as_deref().and_then(Marks::parse).unwrap_or(auto_marks),
        auto_marks,
        ask_marks: kept.is_none(),
        cell_ratio: terminal::cell_ratio(),
        ..tui::Settings::default()
    })
}

/// An open store with what follows from it.
#[derive(Debug)]
pub(super) struct Session {
    pub(super) clock: Clock,
    pub(super) store: Store,
    pub(super) record: Record,
    pub(super) preparation: Preparation,
}

impl Session {
    pub(super) fn open(place: &Place, err: &mut impl Write) -> Result<Self, Failure> {
        let clock = Clock::from_environment(place.turnover)?;
        let library = place.library(err)?;
        let store = Store::open(&place.data()?)?;
        let answers = store.answers()?;
        let now = clock.now();
        let preparation = preparation(&store, now.day)?;
        let record = Record::replay(Arc::new(library), preparation.plan(now), &answers);
        Ok(Self {
            clock,
            store,
            record,
            preparation,
        })
    }
}

/// What the candidate has set.
fn preparation(store: &Store, today: Day) -> Result<Preparation, Failure> {
    let mut preparation = Preparation::default();
    for setting in [
        Setting::Exam,
        Setting::Minutes,
        Setting::Rest,
        Setting::Pass,
    ] {
        if let Some(kept) = store.setting(setting)? {
            preparation.restore(setting, &kept, today);
        }
    }
    Ok(preparation)
}

/// The real clock, names by chance, the real store.
pub(super) struct Outside<'a> {
    pub(super) clock: Clock,
    pub(super) store: &'a mut Store,
}

impl Desk for Outside<'_> {
    fn now(&self) -> Moment {
        self.clock.now()
    }

    fn elapsed(&self) -> f64 {
        self.clock.elapsed()
    }

    fn answer_id(&mut self) -> AnswerId {
        seed::answer_id()
    }

    fn store(&mut self, answer: &Answer) -> Result<(), String> {
        self.store
            .append(answer)
            .map(drop)
            .map_err(|error| error.to_string())
    }

    fn store_query(&mut self, query: &Query) -> Result<(), String> {
        self.store
            .append_query(query)
            .map_err(|error| error.to_string())
    }
}
