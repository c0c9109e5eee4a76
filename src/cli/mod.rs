//! The command line: arguments in, an exit code out. One file a command.
//!
//! Exit codes: 0 done; 1 done, and a deck or a log has errors; 2 wrong usage, or it could not be done.

pub mod args;
mod deck;
mod failure;
mod log;
mod mistakes;
mod plan;
mod rehearse;
pub mod render;
mod review;
mod session;

use std::io::{self, Write};

pub use failure::Failure;

use crate::edge::terminal;
use crate::text::{Block, Shown};
use args::{Arguments, Command, Log, Review};

/// Everything was done.
pub const DONE: u8 = 0;
/// Done, and what was looked at has errors.
pub const FINDINGS: u8 = 1;
/// Wrong usage, or it could not be done.
pub const FAILED: u8 = 2;
/// Left by Ctrl-C or a signal that was then ignored: 128 and the number of SIGINT, as shells have it.
const INTERRUPTED: u8 = 130;

/// Carries out a command and returns the exit code. Results go to `out`, trouble to `err`.
pub fn run(arguments: Arguments, out: &mut impl Write, err: &mut impl Write) -> u8 {
    match carry_out(arguments, out, err) {
        Ok(code) => code,
        // Whoever reads the output has seen enough: that is no fault.
        Err(failure) if failure.is_broken_pipe() => DONE,
        Err(failure) => {
            report(err, &failure);
            FAILED
        }
    }
}

fn carry_out(
    arguments: Arguments,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let Arguments {
        data,
        turnover,
        command,
    } = arguments;
    let place = session::Place { data, turnover };
    match command {
        None => review::screens(&place, &Review::default(), false, err),
        Some(Command::Review(how)) => review::review(&place, &how, out, err),
        Some(Command::Plan(what)) => plan::plan(&place, &what, out, err),
        Some(Command::Rehearse(how)) => rehearse::rehearse(&how, out),
        Some(Command::Deck(command)) => deck::run(&place, &command, out, err),
        Some(Command::Log(Log::Export)) => log::export(&place, out, err),
        Some(Command::Log(Log::Import { logs })) => log::import(&place, &logs, out, err),
    }
}

/// Says what went wrong. Nothing can be done if even that fails.
fn report(err: &mut impl Write, failure: &Failure) {
    let text = format!("luxate: {failure}");
    drop(write_rows(err, Block::new(&text).lines()));
}

/// Says what is amiss, in a line of its own; in a terminal in as many rows as it takes.
fn complain(err: &mut impl Write, trouble: &str) -> io::Result<()> {
    write_rows(err, &[Shown::new(&format!("luxate: {trouble}"))])
}

/// Writes lines, broken between words in a terminal; all but the first row are set in.
fn write_rows(err: &mut impl Write, lines: &[Shown]) -> io::Result<()> {
    let width = terminal::error_width().map_or(usize::MAX, |width| width.saturating_sub(2));
    let rows = lines.iter().flat_map(|line| line.wrap(width));
    let rows: Vec<String> = rows.map(|row| row.to_string()).collect();
    writeln!(err, "{}", rows.join("\n  "))
}
