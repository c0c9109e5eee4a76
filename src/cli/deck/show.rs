//! `luxate deck show`: items as candidates see them, in the terminal or as plain text. No answer of anyone is touched.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime};

use super::which::{self, Found};
use crate::answer::{AnswerId, Confidence, ItemRef};
use crate::cli::args::Show;
use crate::cli::session::{Place, drawing};
use crate::cli::{DONE, FINDINGS, Failure, INTERRUPTED};
use crate::deck::Reading;
use crate::deck::library::Library;
use crate::deck::model::Deck;
use crate::edge::clock::Clock;
use crate::edge::decks;
use crate::edge::run::{self, End, Watch};
use crate::edge::wrapping::Wrapping;
use crate::edge::{signals, terminal, walk};
use crate::kinds;
use crate::line::plain;
use crate::round::{Phase, Preparation, Record, Round};
use crate::settings::Setting;
use crate::store::Store;
use crate::time::Moment;
use crate::tui::{Finding, Model, Said, Settings};
use crate::words::counted;

/// How often a watched file is looked at. Editors save at the pace of people.
const LOOK_EVERY: Duration = Duration::from_millis(250);

pub(super) fn show(
    place: &Place,
    how: &Show,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let clock = Clock::from_environment(place.turnover)?;
    let (mut item, deck) = match (how.item.as_deref(), how.deck.as_deref()) {
        // A file in the place of the item is the deck that is meant.
        (Some(item), None) if is_deck_file(item) => (None, Some(Path::new(item))),
        named => named,
    };
    if how.watch {
        return watch(place, item, deck, how.seed, &clock);
    }
    let mut library = match deck {
        None => place.library(err)?,
        Some(named) => match which::find(place, named, err)? {
            Found::Deck(deck) => Library::new(vec![*deck]),
            Found::Flawed => return Ok(FINDINGS),
        },
    };
    if let Some(named) = item
        && let Some(deck) = library.deck(named).cloned()
        && item_of(&library, named).is_err()
    {
        library = Library::new(vec![deck]);
        item = None;
    }
    let first = item.map(|item| item_of(&library, item)).transpose()?;
    if how.plain || terminal::check().is_err() {
        plainly(library, first.as_ref(), how.seed, clock.now(), out)?;
        return Ok(DONE);
    }
    let model = Model::preview(
        fresh(library, clock.now()),
        settings(place)?,
        how.seed,
        first.as_ref(),
        &run::stamp(&clock),
    );
    on_screen(model, &clock, None)
}

/// Whether this is the name of a deck file rather than of an item.
fn is_deck_file(named: &str) -> bool {
    let path = Path::new(named);
    path.is_file() || walk::is_named_as_deck(path)
}

/// Drawings as the candidate's own screens make them; without a store, as the terminal lets guess.
fn settings(place: &Place) -> Result<Settings, Failure> {
    let data = place.data()?;
    // How drawings are made is all that is wanted of it: one that cannot be opened must not keep a deck from being shown.
    let store = Store::is_in(&data)
        .then(|| Store::open(&data).ok())
        .flatten();
    Ok(Settings {
        ask_marks: false,
        ..drawing(store.as_ref())?
    })
}

/// The item that is meant: `item` or `deck/item`.
fn item_of(library: &Library, item: &str) -> Result<ItemRef, Failure> {
    let fits = |reference: &ItemRef| reference.item == item || reference.to_string() == item;
    let found: Vec<&ItemRef> = library
        .entries()
        .iter()
        .map(|entry| &entry.reference)
        .filter(|reference| fits(reference))
        .collect();
    match found.as_slice() {
        [one] => Ok((*one).clone()),
        [] => Err(Failure::Told(format!(
            "there is no item `{item}`; {}",
            instead(library, item)
        ))),
        several => {
            let all: Vec<String> = several.iter().map(ToString::to_string).collect();
            Err(Failure::Told(format!(
                "there are several items {item}; name one: {}",
                all.join(", ")
            )))
        }
    }
}

/// What to do instead of naming an item that is not there.
fn instead(library: &Library, item: &str) -> String {
    if Path::new(item).is_dir() {
        return "it is a folder: name a deck file in it".to_owned();
    }
    if let Some((file, item)) = item.rsplit_once('/')
        && Path::new(file).is_file()
    {
        return format!("for an item of a file: luxate deck show {item} --deck {file}");
    }
    match nearest(library, item) {
        Some(near) => format!("is it {near}?"),
        None => {
            "luxate deck list names the decks in use, and luxate deck show DECK shows their items"
                .to_owned()
        }
    }
}

/// The item whose id is most like this, if one is like it at all.
fn nearest<'a>(library: &'a Library, item: &str) -> Option<&'a str> {
    let ids = library
        .entries()
        .iter()
        .map(|entry| entry.reference.item.as_str());
    let alike = ids.map(|id| (strsim::jaro_winkler(id, item), id));
    let (likeness, id) = alike.max_by(|one, other| one.0.total_cmp(&other.0))?;
    (likeness > 0.8).then_some(id)
}

/// The record of somebody who has answered nothing.
fn fresh(library: Library, now: Moment) -> Record {
    Record::replay(Arc::new(library), Preparation::default().plan(now), &[])
}

/// Question and reveal of an item, or of all, part by part, as plain lines.
fn plainly(
    library: Library,
    only: Option<&ItemRef>,
    seed: u64,
    now: Moment,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let out = &mut Wrapping::new(out, terminal::width);
    let record = fresh(library, now);
    let library = Arc::clone(record.library());
    for (reference, number, part) in library.questions() {
        if only.is_some_and(|only| *only != reference) {
            continue;
        }
        writeln!(out, "{reference}")?;
        let mut round = Round::showing(record.clone(), number, part, seed);
        plain::show(&round, out)?;
        if let Phase::Asking(ask) = round.phase()
            && let Some(item) = round.item(ask)
            && let Some(key) = kinds::keyed(item, &ask.pose)
            && round
                .answer(&key, Confidence::Certain, 0.0, now, AnswerId([0; 16]))
                .is_ok()
        {
            round.stored();
        }
        plain::show(&round, out)?;
        writeln!(out)?;
    }
    Ok(())
}

/// Shows a file, and shows it again whenever it is saved.
fn watch(
    place: &Place,
    item: Option<&str>,
    deck: Option<&Path>,
    seed: u64,
    clock: &Clock,
) -> Result<u8, Failure> {
    let Some(path) = deck.filter(|path| which::is_file(path)) else {
        return Err(Failure::Told(
            "only a file can be watched; name one with --deck".to_owned(),
        ));
    };
    if terminal::check().is_err() {
        return Err(Failure::Told(
            "a file can be watched only in a terminal; --plain writes its items as text".to_owned(),
        ));
    }
    let mut watched = Watched::new(path.to_owned());
    let (deck, said) = watched.read();
    let library = Library::new(deck.into_iter().collect());
    let first = match item {
        // A file with errors may still get the item.
        Some(item) if !library.entries().is_empty() => Some(item_of(&library, item)?),
        _ => None,
    };
    let stamp = run::stamp(clock);
    let mut model = Model::preview(
        fresh(library, stamp.now),
        settings(place)?,
        seed,
        first.as_ref(),
        &stamp,
    );
    model.show_again(None, said, &stamp);
    let look = move |model: &mut Model| {
        if watched.has_changed() {
            let (deck, said) = watched.read();
            let stamp = run::stamp(clock);
            let record = deck.map(|deck| fresh(Library::new(vec![deck]), stamp.now));
            model.show_again(record, said, &stamp);
        }
    };
    let watch = Watch {
        every: LOOK_EVERY,
        look: Box::new(look),
    };
    on_screen(model, clock, Some(watch))
}

fn on_screen(model: Model, clock: &Clock, watch: Option<Watch>) -> Result<u8, Failure> {
    // Nothing is kept: these are nobody's answers.
    let mut append = |_: &_| Ok(());
    let mut keep = |_: &_| Ok(());
    let mut save = |_: Setting, _: &str| Ok(());
    let end = run::run(model, clock, &mut append, &mut keep, &mut save, watch)?;
    Ok(match end {
        End::Quit => DONE,
        End::Interrupted => INTERRUPTED,
        End::Signal(signal) => {
            signals::end_by(signal);
            INTERRUPTED
        }
    })
}

/// A file that is being written.
struct Watched {
    path: PathBuf,
    /// Time and length of what was read last; nothing if there was no file.
    seen: Option<(SystemTime, u64)>,
    /// A deck could be read, and is shown.
    is_shown: bool,
}

impl Watched {
    fn new(path: PathBuf) -> Self {
        Self {
            path,
            seen: None,
            is_shown: false,
        }
    }

    /// What the screen shows while the file gives no deck.
    const fn what_is_shown(&self) -> &'static str {
        if self.is_shown {
            "it is shown as it was before"
        } else {
            "nothing can be shown until that is mended and the file saved"
        }
    }

    fn has_changed(&self) -> bool {
        state(&self.path) != self.seen
    }

    /// The deck, if it has no errors, and what is to be said of the file.
    fn read(&mut self) -> (Option<Deck>, Said) {
        // First the state: a change while the file is read is seen next time.
        self.seen = state(&self.path);
        match decks::read_file(&self.path) {
            Ok(reading) => {
                self.is_shown |= reading.deck.is_some();
                let findings = findings(&reading);
                let advice = reading.diagnostics.counts().advice;
                let whole = match (&reading.deck, findings.is_empty()) {
                    (Some(_), true) if advice > 0 => format!(
                        "The checker has nothing but {}: luxate deck check --advice shows {}.",
                        counted(advice, "piece of advice", "pieces of advice"),
                        if advice == 1 { "it" } else { "them" }
                    ),
                    (Some(_), true) => "The checker has nothing to report.".to_owned(),
                    (Some(_), false) => "The checker warns:".to_owned(),
                    (None, _) => format!("The deck has errors; {}.", self.what_is_shown()),
                };
                (reading.deck, Said { whole, findings })
            }
            // Some editors take a file away for a moment while they save it.
            Err(error) => {
                let said = Said {
                    whole: format!("{error}; {}.", self.what_is_shown()),
                    findings: Vec::new(),
                };
                (None, said)
            }
        }
    }
}

fn state(path: &Path) -> Option<(SystemTime, u64)> {
    let meta = path.metadata().ok()?;
    Some((meta.modified().ok()?, meta.len()))
}

/// What the checker found, a line each; advice is left to the command that checks.
fn findings(reading: &Reading) -> Vec<Finding> {
    let serious = reading.diagnostics.without_advice();
    let told = (&serious).into_iter().map(|found| {
        let at = reading.source.position(found.primary.span.start());
        let help = found.help.as_ref();
        let help = help.map_or_else(String::new, |help| format!("; {help}"));
        Finding {
            item: found.item.clone(),
            text: format!(
                "{}:{} {}: {}{help}",
                at.line, at.column, found.severity, found.message
            ),
        }
    });
    told.collect()
}
