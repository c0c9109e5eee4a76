//! `luxate deck`: what an instructor does with deck files. One file a command.

mod add;
mod check;
mod coverage;
mod diff;
mod export;
mod list;
mod new;
mod print;
mod queries;
mod remove;
mod schema;
mod show;
mod which;

use std::collections::BTreeMap;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use super::Failure;
use super::args::Deck;
use super::render::{self, Look};
use super::session::Place;
use crate::diagnostic::Diagnostics;
use crate::edge::{decks, terminal};
use crate::source::SourceFile;
use crate::text::Shown;

/// Carries out a deck command and returns the exit code.
pub(super) fn run(
    place: &Place,
    command: &Deck,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    match command {
        Deck::List => list::list(place, out, err),
        Deck::Show(how) => show::show(place, how, out, err),
        Deck::Print(how) => print::print(place, how, out, err),
        Deck::Export(how) => export::export(place, how, out, err),
        Deck::Check(how) => check::check(how, out, err),
        Deck::Coverage { paths, json } => coverage::coverage(place, paths, *json, out, err),
        Deck::Queries { deck, logs, json } => queries::queries(place, deck, logs, *json, out, err),
        Deck::Schema => schema::schema(out),
        Deck::New(how) => new::new(place, how, out),
        Deck::Diff { old, new, json } => diff::diff(place, old, new, *json, out, err),
        Deck::Remove { id } => remove::remove(place, id, out),
        Deck::Add { path } => add::add(place, path, out, err),
    }
}

/// The decks on disk that a command which reads the deck `named` must not write over.
fn sources(place: &Place, named: &Path) -> Vec<PathBuf> {
    let data = place.data().ok();
    // Without a folder that can be listed there are no added decks to spare.
    let added = data.and_then(|data| decks::files(&data).ok());
    let mut sources = added.unwrap_or_default();
    if which::is_file(named) {
        sources.push(named.to_owned());
    }
    sources
}

/// What was found in a deck file, as wide as the terminal allows.
fn told(source: &SourceFile, list: &Diagnostics) -> String {
    render::fitted(source, list, look(), width())
}

/// Columns of everything that deck commands tell: those of the terminal, if there is one that has fewer than usual.
fn width() -> usize {
    terminal::width().map_or(render::WIDTH, |width| width.clamp(40, render::WIDTH))
}

/// Writes a line in as many rows as it takes; the further ones stand below `indent` blanks.
fn say(out: &mut impl Write, indent: usize, line: &str) -> io::Result<()> {
    let width = width();
    let mut rows = Shown::new(line).wrap(width);
    if rows.len() > 1
        && let Some(first) = rows.first().cloned()
    {
        let rest = Shown::new(line);
        let rest = rest
            .as_str()
            .get(first.as_str().len()..)
            .unwrap_or_default();
        let rest = Shown::new(rest.trim_start()).wrap(width.saturating_sub(indent).max(1));
        rows.truncate(1);
        let blank = " ".repeat(indent);
        rows.extend(rest.iter().map(|row| Shown::new(&format!("{blank}{row}"))));
    }
    rows.iter().try_for_each(|row| writeln!(out, "{row}"))
}

/// Which decks stand in several files, a sentence each; each pair is the id of a deck and its file.
fn twice<'a>(decks: impl Iterator<Item = (&'a str, &'a str)>) -> Vec<String> {
    let mut files: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (id, file) in decks.filter(|(id, _)| !id.is_empty()) {
        files.entry(id).or_default().push(file);
    }
    let several = files.into_iter().filter(|(_, files)| files.len() > 1);
    several
        .map(|(id, files)| {
            let (count, files) = (files.len(), files.join(", "));
            format!("{count} files hold a deck with the id {id}, of which only one can be in use: {files}")
        })
        .collect()
}

/// Colours for a terminal that wants them.
fn look() -> Look {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    if io::stdout().is_terminal() && !set("NO_COLOR") && !dumb {
        Look::Coloured
    } else {
        Look::Plain
    }
}
