//! What most commands begin with: the clock, the decks, the store and the candidate's record.

use std::io::Write;
use std::path::PathBuf;
use std::sync::Arc;

use super::Failure;
use crate::answer::{Answer, AnswerId};
use crate::deck::library::Library;
use crate::edge::clock::Clock;
use crate::edge::{decks, folders, seed};
use crate::memory::study::StudyPlan;
use crate::round::{Desk, Record};
use crate::store::Store;
use crate::text::Shown;
use crate::time::Moment;

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
        let added = decks::added(&self.data()?)?;
        for trouble in added.troubles {
            writeln!(err, "luxate: {}", Shown::new(&trouble))?;
        }
        all.extend(added.decks);
        Ok(Library::new(all))
    }
}

/// An open store with what follows from it.
#[derive(Debug)]
pub(super) struct Session {
    pub(super) clock: Clock,
    pub(super) store: Store,
    pub(super) record: Record,
}

impl Session {
    pub(super) fn open(place: &Place, err: &mut impl Write) -> Result<Self, Failure> {
        let clock = Clock::from_environment(place.turnover)?;
        let library = place.library(err)?;
        let store = Store::open(&place.data()?)?;
        let answers = store.answers()?;
        let record = Record::replay(Arc::new(library), StudyPlan::default(), &answers);
        Ok(Self {
            clock,
            store,
            record,
        })
    }
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
}
