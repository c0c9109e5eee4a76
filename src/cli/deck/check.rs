//! `luxate deck check`: what is wrong with decks, and where. Changes nothing.

use std::io::Write;

use super::{say, told, twice};
use crate::cli::args::Check;
use crate::cli::complain;
use crate::cli::render;
use crate::cli::{DONE, FAILED, FINDINGS, Failure};
use crate::deck::{self, Settings};
use crate::diagnostic::Counts;
use crate::edge::{decks, walk};
use crate::report;
use crate::text::{self, Block};
use crate::words::counted;

/// Says what is wrong with decks and where.
pub(super) fn check(
    how: &Check,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    if let Some(code) = &how.explain {
        return explain(code, out);
    }
    let settings = Settings {
        older_than_years: how.older_than,
    };
    let found = walk::decks_and_drawings(&how.paths);
    let mut troubles = found.troubles;
    let mut readings = Vec::new();
    for reading in decks::check_files(&found.files, settings) {
        match reading {
            Ok(reading) => readings.push(reading),
            Err(error) => troubles.push(error.to_string()),
        }
    }
    deck::across(&mut readings, &decks::built_in_outlines());
    for trouble in &troubles {
        complain(err, trouble)?;
    }
    let counts = readings.iter().fold(Counts::default(), |sum, reading| {
        sum.plus(reading.diagnostics.counts())
    });
    if how.json {
        let json = report::findings::json(&readings).to_string();
        writeln!(out, "{}", text::escaped_json(&json))?;
    } else {
        for reading in &readings {
            let shown = if how.advice {
                told(&reading.source, &reading.diagnostics)
            } else {
                let serious = reading.diagnostics.without_advice();
                told(&reading.source, &serious)
            };
            write!(out, "{shown}")?;
        }
        if !readings.is_empty() {
            say(out, 2, &closing(counts, readings.len(), how.advice))?;
            let named = readings
                .iter()
                .map(|reading| (reading.outline.deck(), reading.source.name()));
            for line in twice(named) {
                say(out, 2, &line)?;
            }
        }
    }
    let is_bad = counts.errors > 0 || (how.strict && counts.warnings > 0);
    Ok(match (troubles.is_empty(), is_bad) {
        (false, _) => FAILED,
        (true, true) => FINDINGS,
        (true, false) => DONE,
    })
}

fn closing(counts: Counts, files: usize, with_advice: bool) -> String {
    if with_advice || counts.advice == 0 {
        return render::closing(counts, files);
    }
    let serious = Counts {
        advice: 0,
        ..counts
    };
    let serious = render::closing(serious, files);
    format!(
        "{}; {} held back, --advice shows {}",
        serious.trim_end_matches(", 0 pieces of advice"),
        counted(counts.advice, "piece of advice", "pieces of advice"),
        if counts.advice == 1 { "it" } else { "them" }
    )
}

/// Tells a rule at length.
fn explain(code: &str, out: &mut impl Write) -> Result<u8, Failure> {
    let width = super::width();
    let told = deck::explain(code).map_err(|near| {
        Failure::Told(match near {
            Some(near) => format!("there is no code `{code}`; did you mean `{near}`?"),
            None => {
                format!("there is no code `{code}`; deck check prints the code behind each finding")
            }
        })
    })?;
    writeln!(out, "{} ({})", told.code, told.severity)?;
    for (title, text) in [
        ("Why", told.why),
        ("What to do", told.help),
        ("Wrong", told.wrong),
        ("Right", told.right),
    ] {
        writeln!(out, "\n{title}")?;
        for line in Block::new(text).wrap(width - 4) {
            writeln!(out, "    {line}")?;
        }
    }
    if told.can_be_allowed {
        writeln!(out, "\nAn item that breaks it on purpose says so")?;
        writeln!(
            out,
            "    allow:\n      - rule: {}\n        because: the reason, in a sentence",
            told.code
        )?;
    }
    Ok(DONE)
}
