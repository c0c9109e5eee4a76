//! What may be typed on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use crate::deck::Settings;
use crate::report::print::FORMS_MAX;
use crate::time::TURNOVER_HOUR;

/// Shown at first start and in `--help`.
pub const CAUTION: &str = "\
luxate is a study aid and not clinical guidance. Take doses, drug choices and protocols from current labels and \
local guidance. Practise only within your licence and under the supervision it asks for.";

/// Hold oral-surgery knowledge until the exam.
#[derive(Debug, Parser)]
#[command(name = "luxate", version, about, after_help = CAUTION, max_term_width = 100)]
pub struct Arguments {
    /// Folder that holds your answers and added decks [env: LUXATE_DATA]
    #[expect(
        clippy::doc_markdown,
        reason = "it is read in the help, where marks of code would stand as such"
    )]
    // Were the variable known to clap, every usage line would name the option as if it had to be given.
    #[arg(long, global = true, value_name = "DIR")]
    pub data: Option<PathBuf>,

    /// Hour of local time at which a study day begins
    #[arg(
        long,
        global = true,
        value_name = "HOUR",
        env = "LUXATE_TURNOVER",
        hide_env_values = true,
        default_value_t = TURNOVER_HOUR,
        value_parser = whole::<u8>(0, 23)
    )]
    pub turnover: u8,

    /// What to do; without a command the program opens on its home screen
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Do the day's scheduled work
    Review(Review),
    /// Show where the preparation leads; set exam date, minutes a day, rest days, pass mark
    Plan(Plan),
    /// Rehearse a preparation with a simulated candidate; needs no data and touches none
    Rehearse(Rehearse),
    /// List, check and add decks
    #[command(subcommand)]
    Deck(Deck),
    /// Take your answers and queries elsewhere
    #[command(subcommand)]
    Log(Log),
}

/// How to review.
#[derive(Debug, Default, Args)]
pub struct Review {
    /// Ask in plain lines: for screen readers, plain terminals and slow links
    #[arg(long, conflicts_with = "jsonl")]
    pub line: bool,

    /// Ask in JSON Lines: for other front ends and scripts
    #[arg(long)]
    pub jsonl: bool,

    /// Ask no new question once this many minutes have been spent
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1, 1440))]
    pub minutes: Option<u32>,

    /// Ask at most this many different items
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1, u32::MAX))]
    pub items: Option<u32>,

    /// Shuffle by this number, for a round that can be repeated
    #[arg(long, value_name = "N", value_parser = whole::<u64>(0, u64::MAX), allow_hyphen_values = true)]
    pub seed: Option<u64>,
}

/// How the candidate prepares.
#[derive(Debug, Default, Args)]
pub struct Plan {
    /// Date of the exam, or none
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub exam: Option<String>,

    /// Minutes of study on a study day
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub minutes: Option<String>,

    /// Days of the week without study, such as sat,sun, or none
    #[arg(long, value_name = "DAYS")]
    pub rest: Option<String>,

    /// Pass mark in per cent, or none
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub pass: Option<String>,

    /// Show where these settings would lead, and keep none of them
    #[arg(long)]
    pub what_if: bool,

    /// Write JSON
    #[arg(long)]
    pub json: bool,
}

/// How to rehearse.
#[derive(Debug, Default, Args)]
pub struct Rehearse {
    /// Play a built-in candidate instead of reading JSON Lines: half-life or traces
    #[arg(long, value_name = "NAME")]
    pub candidate: Option<String>,

    /// Days until the exam
    #[arg(long, value_name = "N", default_value_t = 60, requires = "candidate",
        value_parser = whole::<u16>(1, 400))]
    pub days: u16,

    /// Items to learn
    #[arg(long, value_name = "N", default_value_t = 800, requires = "candidate",
        value_parser = whole::<u16>(1, 5000))]
    pub items: u16,

    /// Minutes of study a day
    #[arg(long, value_name = "N", default_value_t = 30, requires = "candidate",
        value_parser = whole::<u16>(1, 1440))]
    pub minutes: u16,

    /// Which candidate of that kind
    #[arg(long, value_name = "N", default_value_t = 1, requires = "candidate",
        value_parser = whole::<u64>(0, u64::MAX), allow_negative_numbers = true)]
    pub seed: u64,

    /// Keep the exam date from the schedule: plain SM-2, for comparison
    #[arg(long, requires = "candidate")]
    pub no_exam: bool,
}

/// What to do with decks.
#[derive(Debug, Subcommand)]
pub enum Deck {
    /// List the built-in decks and your own
    List,
    /// Say what is wrong with decks, and where
    Check(Check),
    /// Tell what decks cover of the exam, topic by topic
    Coverage {
        /// Ids of decks in use, deck files or folders of them; without any, all decks in use
        #[arg(value_name = "DECK")]
        paths: Vec<PathBuf>,

        /// Say it as JSON
        #[arg(long)]
        json: bool,
    },
    /// Write the JSON Schema of decks, for editors that complete and check while you type
    Schema,
    /// Write a deck to start from
    New(New),
    /// Tell what changed between two editions, and what happens to answers
    Diff {
        /// Earlier edition: id of a deck in use, or a file
        #[arg(value_name = "OLD")]
        old: PathBuf,

        /// Later edition: id of a deck in use, or a file
        #[arg(value_name = "NEW")]
        new: PathBuf,

        /// Say it as JSON
        #[arg(long)]
        json: bool,
    },
    /// List what candidates remark on the items of a deck, from the logs they exported
    Queries {
        /// Deck: id of a deck in use, or a file
        #[arg(value_name = "DECK")]
        deck: PathBuf,

        /// Files written by `log export`
        #[arg(value_name = "LOG", required = true)]
        logs: Vec<PathBuf>,

        /// Say it as JSON
        #[arg(long)]
        json: bool,
    },
    /// Take an added deck out of use; answers to it are kept
    Remove {
        /// Id of the deck, as `deck list` names it
        #[arg(value_name = "ID")]
        id: String,
    },
    /// Show an item as a candidate sees it: the question, then what is told after the answer
    Show(Show),
    /// Write question sheets and answer keys to print
    Print(Print),
    /// Write a deck for another examination system
    Export(Export),
    /// Add a deck of your own, or a new edition of it
    Add {
        /// Deck file
        #[arg(value_name = "PATH")]
        path: PathBuf,
    },
}

/// What to show.
#[derive(Debug, Args)]
pub struct Show {
    /// Item to begin with; without it the first of the deck. A deck, by id or file, may stand here too
    #[arg(value_name = "ITEM")]
    pub item: Option<String>,

    /// Deck: id of a deck in use, or a file; without it all decks in use are searched for the item
    #[arg(long, value_name = "DECK")]
    pub deck: Option<PathBuf>,

    /// Read the file again whenever it is saved, and tell what the checker finds
    #[arg(long, conflicts_with = "plain")]
    pub watch: bool,

    /// Write plain text
    #[arg(long)]
    pub plain: bool,

    /// Mix options and draw numbers by this number
    #[arg(long, value_name = "N", default_value_t = 0,
        value_parser = whole::<u64>(0, u64::MAX), allow_negative_numbers = true)]
    pub seed: u64,
}

/// What to print.
#[derive(Debug, Args)]
pub struct Print {
    /// Deck: id of a deck in use, or a file
    #[arg(value_name = "DECK")]
    pub deck: PathBuf,

    /// Folder to write to
    #[arg(long, value_name = "DIR")]
    pub to: PathBuf,

    /// How many forms, each with its own order of items and options
    #[arg(long, value_name = "N", default_value_t = 1,
        value_parser = whole::<u8>(1, FORMS_MAX))]
    pub forms: u8,

    /// Draw the orders from this number
    #[arg(long, value_name = "N", default_value_t = 1,
        value_parser = whole::<u64>(0, u64::MAX), allow_negative_numbers = true)]
    pub seed: u64,

    /// Write CommonMark instead of HTML
    #[expect(
        clippy::doc_markdown,
        reason = "it is read in the help, where marks of code would stand as such"
    )]
    #[arg(long)]
    pub commonmark: bool,

    /// Write over files that are there
    #[arg(long)]
    pub force: bool,
}

/// What to export.
#[derive(Debug, Args)]
pub struct Export {
    /// Deck: id of a deck in use, or a file
    #[arg(value_name = "DECK")]
    pub deck: PathBuf,

    /// Write a QTI 3.0 package to this file
    #[arg(long, value_name = "OUT.zip")]
    pub qti: PathBuf,

    /// Also list which identifier in the package stands for which id of the deck, as CSV
    #[arg(long, value_name = "OUT.csv")]
    pub names: Option<PathBuf>,

    /// Write over files that are there
    #[arg(long)]
    pub force: bool,
}

/// How to check decks.
#[derive(Debug, Args)]
pub struct Check {
    /// Deck files, or folders that are searched for .yaml and .yml files
    #[arg(required_unless_present = "explain", value_name = "PATH")]
    pub paths: Vec<PathBuf>,

    /// Say it as JSON, advice included
    #[arg(long)]
    pub json: bool,

    /// Show advice too: hints that a person must judge
    #[arg(long)]
    pub advice: bool,

    /// Exit with 1 for warnings, not only for errors
    #[arg(long)]
    pub strict: bool,

    /// Advise on sources this many years older than the edition
    #[arg(long, value_name = "YEARS", default_value_t = Settings::default().older_than_years,
        value_parser = whole::<u16>(0, u16::MAX), allow_negative_numbers = true)]
    pub older_than: u16,

    /// Tell the rule behind a code at length
    #[arg(long, value_name = "CODE", conflicts_with_all = ["paths", "json"])]
    pub explain: Option<String>,
}

/// What to start a deck with.
#[derive(Debug, Args)]
pub struct New {
    /// Id of the deck: lower-case letters, digits, hyphens
    #[arg(value_name = "ID")]
    pub id: String,

    /// Title of the deck, one line
    #[arg(long, value_name = "TITLE")]
    pub title: String,

    /// A kind of item to show: single, multiple, order, match, short, numeric, locate, flap or case; may be given several times
    #[arg(long = "kind", value_name = "KIND")]
    pub kinds: Vec<String>,

    /// File to write; without it, to the output
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

/// What to do with answers.
#[derive(Debug, Subcommand)]
pub enum Log {
    /// Write all answers, then all queries, as JSON Lines
    Export,
    /// Add the answers and queries of exported logs that are not here yet
    Import {
        /// Files written by `log export`
        #[arg(value_name = "LOG", required = true)]
        logs: Vec<PathBuf>,
    },
}

/// Reads a whole number within bounds, and says the bounds of one that is not.
fn whole<T: TryFrom<u64> + Into<u64> + Copy>(
    from: T,
    to: T,
) -> impl Fn(&str) -> Result<T, String> + Clone {
    let (from, to) = (from.into(), to.into());
    move |text| {
        let number = text.parse::<u64>().ok();
        number
            .filter(|number| (from..=to).contains(number))
            .and_then(|number| T::try_from(number).ok())
            .ok_or_else(|| format!("write a whole number from {from} to {to}"))
    }
}
