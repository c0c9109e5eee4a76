//! Writes a page as `CommonMark` 0.31: headings, lists, strong text, and everything from the deck escaped so that it stays text.

use std::fmt::Write as _;

use super::STUDY_AID;
use super::key::RIGHT;
use super::page::{Labelled, Numbered, Page, Piece, Reason, Tick};
use crate::text::{Shown, paragraphs};

/// Blanks and lines, wide enough for handwriting.
const BLANK: &str = r"\_\_\_\_";
const LINE: &str = r"\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_\_";

/// The whole text.
pub(super) fn write(page: &Page<'_>) -> String {
    let mut mark = Mark(String::new());
    mark.heading(1, page.title);
    mark.paragraph(&format!("**{}, form {}**", page.role, page.form));
    mark.paragraph(&escaped(&page.facts.join(" · ")));
    if page.has_name_line {
        mark.paragraph(&format!("Candidate: {LINE}"));
        mark.paragraph(&format!("Date: {LINE}"));
    }
    mark.paragraph(STUDY_AID);
    mark.definitions(&page.instructions);
    if !page.glance.is_empty() {
        mark.heading(2, "Keys at a glance");
        mark.definitions(&page.glance);
    }
    mark.heading(
        2,
        if page.has_name_line {
            "Questions"
        } else {
            "Keys"
        },
    );
    for entry in &page.entries {
        numbered(&mut mark, 3, entry);
    }
    if !page.references.is_empty() {
        mark.heading(2, "Sources");
        mark.definitions(&page.references);
    }
    mark.0.truncate(mark.0.trim_end().len());
    mark.0.push('\n');
    mark.0
}

fn numbered(mark: &mut Mark, level: usize, entry: &Numbered) {
    mark.heading(level, &entry.number);
    for piece in &entry.pieces {
        write_piece(mark, piece);
    }
}

fn write_piece(mark: &mut Mark, piece: &Piece) {
    match piece {
        Piece::Text(text) => mark.text(text),
        Piece::Cue(cue) => mark.paragraph(&format!("*{cue}*")),
        Piece::Drawing(_) => {}
        Piece::Options(tick, options) => mark.options(tick_box(*tick), options),
        Piece::Pairs { lefts, rights } => {
            mark.options(BLANK, lefts);
            mark.paragraph("*Choose from:*");
            mark.options("", rights);
        }
        Piece::Blanks(count) => mark.paragraph(&[BLANK].repeat(*count).join(" ")),
        Piece::WritingLine => mark.paragraph(LINE),
        Piece::NumberLine(unit) => {
            let unit = unit.as_deref().unwrap_or_default();
            mark.paragraph(format!("{LINE} {}", escaped(unit)).trim_end());
        }
        Piece::Key(key) => mark.paragraph(&format!("Key: **{}**", escaped(key))),
        Piece::Reasons(reasons) => {
            mark.list(reasons.iter().map(reason_line));
        }
        Piece::Caution(caution) => {
            mark.paragraph("**Caution**");
            mark.text(caution);
        }
        Piece::Remark(heading, text) => mark.paragraph(&format!("{heading}: {}", escaped(text))),
        Piece::Part(part) => numbered(mark, 4, part),
    }
}

const fn tick_box(tick: Tick) -> &'static str {
    match tick {
        Tick::Several => r"\[ \]",
        Tick::One | Tick::Drawn | Tick::Elsewhere => "",
    }
}

fn reason_line(reason: &Reason) -> String {
    let verdict = match reason.verdict {
        "" => String::new(),
        verdict => format!("{verdict}: "),
    };
    let label = match reason.label.as_str() {
        "" => String::new(),
        // Only what is right stands out.
        label if matches!(reason.verdict, "" | RIGHT) => format!("**{}** ", escaped(label)),
        label => format!("{} ", escaped(label)),
    };
    let line = format!("{verdict}{label}{}", escaped(&reason.text));
    match reason.why.as_str() {
        "" => line,
        why => format!("{line} - {}", escaped(why)),
    }
}

/// Text on one line in which no character means anything to `CommonMark`, wherever in a line it comes to stand.
pub(super) fn escaped(text: &str) -> String {
    let clean = Shown::new(text);
    let clean = clean.as_str().trim();
    let mut output = String::with_capacity(clean.len());
    // Digits at the start, and a full stop or bracket behind them, would make a list.
    let mut numbering = true;
    for (at, character) in clean.char_indices() {
        // Also what common extensions give a meaning: tables, strikes, formulas, raised letters, attributes, definitions.
        let marks = r"\`*_[]<>&#~|$^{}".contains(character);
        let opens = at == 0 && "+-=:".contains(character);
        let lists = at > 0 && numbering && matches!(character, '.' | ')');
        if marks || opens || lists {
            output.push('\\');
        }
        output.push(character);
        numbering &= character.is_ascii_digit();
    }
    output
}

/// `CommonMark` being written.
struct Mark(String);

impl Mark {
    fn heading(&mut self, level: usize, text: &str) {
        self.paragraph(&format!("{} {}", "#".repeat(level), escaped(text)));
    }

    /// Markup of this file's own, texts in it already escaped.
    fn paragraph(&mut self, markup: &str) {
        // Writing to a string cannot fail.
        let _infallible = write!(self.0, "{markup}\n\n");
    }

    fn text(&mut self, text: &str) {
        for paragraph in paragraphs(text) {
            self.paragraph(&escaped(paragraph.as_str()));
        }
    }

    fn list(&mut self, entries: impl Iterator<Item = String>) {
        for entry in entries {
            let _infallible = writeln!(self.0, "- {entry}");
        }
        self.0.push('\n');
    }

    fn options(&mut self, before: &str, options: &[Labelled]) {
        self.list(options.iter().map(|option| {
            let line = format!("**{}** {}", escaped(&option.label), escaped(&option.text));
            match before {
                "" => line,
                before => format!("{before} {line}"),
            }
        }));
    }

    fn definitions(&mut self, entries: &[Labelled]) {
        if !entries.is_empty() {
            self.list(
                entries.iter().map(|entry| {
                    format!("**{}**: {}", escaped(&entry.label), escaped(&entry.text))
                }),
            );
        }
    }
}
