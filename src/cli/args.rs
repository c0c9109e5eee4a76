//! What may be typed on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use crate::time::TURNOVER_HOUR;

/// Shown at first start and in `--help`.
pub const CAUTION: &str = "\
luxate is a study aid and not clinical guidance. Take doses, drug choices and protocols from current labels and \
local guidance. Practise only within your licence and under the supervision it asks for.";

/// Hold oral-surgery knowledge until the exam.
#[derive(Debug, Parser)]
#[command(name = "luxate", version, about, after_help = CAUTION, max_term_width = 100)]
pub struct Arguments {
    /// Folder that holds your answers and added decks
    #[arg(long, global = true, value_name = "DIR", env = "LUXATE_DATA")]
    pub data: Option<PathBuf>,

    /// Hour of local time at which a study day begins
    #[arg(
        long,
        global = true,
        value_name = "HOUR",
        env = "LUXATE_TURNOVER",
        default_value_t = TURNOVER_HOUR,
        value_parser = clap::value_parser!(u8).range(0..24)
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
    /// Take your answers elsewhere
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
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1440))]
    pub minutes: Option<u32>,

    /// Ask at most this many different items
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub items: Option<u32>,

    /// Shuffle by this number, for a round that can be repeated
    #[arg(long, value_name = "N")]
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
        value_parser = clap::value_parser!(u16).range(1..=400))]
    pub days: u16,

    /// Items to learn
    #[arg(long, value_name = "N", default_value_t = 800, requires = "candidate",
        value_parser = clap::value_parser!(u16).range(1..=5000))]
    pub items: u16,

    /// Minutes of study a day
    #[arg(long, value_name = "N", default_value_t = 30, requires = "candidate",
        value_parser = clap::value_parser!(u16).range(1..=1440))]
    pub minutes: u16,

    /// Which candidate of that kind
    #[arg(long, value_name = "N", default_value_t = 1, requires = "candidate")]
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
    Check {
        /// Deck files, or folders of them
        #[arg(required = true, value_name = "PATH")]
        paths: Vec<PathBuf>,
    },
    /// Add a deck of your own, or a new edition of it
    Add {
        /// Deck file
        #[arg(value_name = "PATH")]
        path: PathBuf,
    },
}

/// What to do with answers.
#[derive(Debug, Subcommand)]
pub enum Log {
    /// Write all answers as JSON Lines, one object an answer
    Export,
}
