//! Writes a page as one HTML file: its own stylesheet inside, no script, nothing fetched.
//!
//! Tags are literals of this file and texts go through one function that cleans and escapes, so that no text of a deck
//! can become markup.

use super::STUDY_AID;
use super::key::RIGHT;
use super::page::{Labelled, Numbered, Page, Piece, Reason, Tick};
use crate::figure::svg::svg;
use crate::text::{Shown, entities, paragraphs};

const STYLE: &str = include_str!("sheet.css");

/// The whole file.
pub(super) fn write(page: &Page<'_>) -> String {
    let mut html = Html(String::from("<!DOCTYPE html>\n"));
    let language = escaped(page.language);
    html.raw(&format!("<html lang=\"{language}\">\n"));
    html.block("head", |html| {
        html.raw("<meta charset=\"utf-8\">\n");
        html.raw("<meta name=\"viewport\" content=\"width=device-width\">\n");
        let title = format!("{}: {}, form {}", page.title, page.role, page.form);
        html.line("title", &title);
        html.raw(&format!("<style>\n{STYLE}{}</style>\n", margins(page)));
    });
    html.block("body", |html| {
        header(html, page);
        if !page.glance.is_empty() {
            html.block("section class=\"glance\"", |html| glance(html, page));
        }
        let main = if page.has_name_line {
            "main"
        } else {
            "main class=\"keys\""
        };
        html.block(main, |html| {
            for entry in &page.entries {
                html.block(entry_tag(entry), |html| numbered(html, "h2", entry));
            }
        });
        if !page.references.is_empty() {
            html.block("section class=\"references\"", |html| {
                html.line("h2 lang=\"en\"", "Sources");
                html.block("dl", |html| definitions(html, &page.references));
            });
        }
    });
    html.raw("</html>\n");
    html.0
}

/// Deck, form and page number in the margin of each sheet, so that loose sheets find their way back. The reader admits no
/// character in an id or an edition that would end the text.
fn margins(page: &Page<'_>) -> String {
    format!(
        "@page {{ @bottom-left {{ content: \"{}: {}, form {}\"; }} }}\n",
        page.deck, page.role, page.form
    )
}

fn header(html: &mut Html, page: &Page<'_>) {
    html.block("header", |html| {
        html.block("div class=\"form\" lang=\"en\"", |html| {
            html.line("span", "Form");
            html.line("strong", &page.form.to_string());
        });
        html.line("p class=\"role\" lang=\"en\"", page.role);
        html.line("h1 dir=\"auto\"", page.title);
        let facts = page.facts.join(" · ");
        html.line("p class=\"facts\" lang=\"en\"", &facts);
        if page.has_name_line {
            html.block("div class=\"name\" lang=\"en\"", |html| {
                html.line("span", "Candidate");
                html.line("span class=\"rule\"", "");
                html.line("span", "Date");
                html.line("span class=\"rule short\"", "");
            });
        }
        html.line("p class=\"aid\" lang=\"en\"", STUDY_AID);
        if !page.instructions.is_empty() {
            html.block("dl class=\"instructions\" lang=\"en\"", |html| {
                definitions(html, &page.instructions);
            });
        }
    });
}

fn definitions(html: &mut Html, entries: &[Labelled]) {
    for entry in entries {
        html.block("div", |html| {
            html.line("dt", &entry.label);
            html.line("dd", &entry.text);
        });
    }
}

fn glance(html: &mut Html, page: &Page<'_>) {
    html.line("h2 lang=\"en\"", "Keys at a glance");
    html.block("ol", |html| {
        for entry in &page.glance {
            html.block("li", |html| {
                html.line("span class=\"number\"", &entry.label);
                html.line("span", &entry.text);
            });
        }
    });
}

/// A case may be longer than a sheet, so it breaks between its parts; anything else stays together.
fn entry_tag(entry: &Numbered) -> &'static str {
    let is_case = entry
        .pieces
        .iter()
        .any(|piece| matches!(piece, Piece::Part(_)));
    if is_case {
        "section class=\"entry case\""
    } else {
        "section class=\"entry\""
    }
}

fn numbered(html: &mut Html, heading: &'static str, entry: &Numbered) {
    html.line(heading, &entry.number);
    html.block("div class=\"pieces\"", |html| {
        for piece in &entry.pieces {
            write_piece(html, piece);
        }
    });
}

fn write_piece(html: &mut Html, piece: &Piece) {
    match piece {
        Piece::Text(text) => {
            for paragraph in paragraphs(text) {
                html.line("p dir=\"auto\"", paragraph.as_str());
            }
        }
        Piece::Cue(cue) => html.line("p class=\"cue\" lang=\"en\"", cue),
        Piece::Drawing(drawing) => html.block("figure", |html| {
            html.raw(&svg(&drawing.figure, &drawing.overlay));
            if !drawing.caption.is_empty() {
                html.line("figcaption lang=\"en\"", &drawing.caption);
            }
        }),
        Piece::Options(Tick::Drawn, options) => html.block("ul class=\"letters\"", |html| {
            for option in options {
                html.line("li class=\"letter\"", &option.label);
            }
        }),
        Piece::Options(tick, options) => html.block(options_tag(*tick), |html| list(html, options)),
        Piece::Pairs { lefts, rights } => html.block("div class=\"pairs\"", |html| {
            html.block("ul class=\"lefts\"", |html| {
                for left in lefts {
                    html.block("li", |html| {
                        html.line("span class=\"blank\"", "");
                        label_and_text(html, left);
                    });
                }
            });
            html.block("ul class=\"rights\"", |html| list(html, rights));
        }),
        Piece::Blanks(count) => html.block("p class=\"blanks\"", |html| {
            for _ in 0..*count {
                html.line("span class=\"blank\"", "");
            }
        }),
        Piece::WritingLine => html.line("p class=\"writing\"", ""),
        Piece::NumberLine(unit) => html.block("p class=\"number-line\"", |html| {
            html.line("span class=\"blank\"", "");
            if let Some(unit) = unit {
                html.line("span", unit);
            }
        }),
        Piece::Key(key) => html.block("p class=\"key\"", |html| {
            html.line("span lang=\"en\"", "Key");
            html.line("strong dir=\"auto\"", key);
        }),
        Piece::Reasons(reasons) => html.block("ul class=\"reasons\"", |html| {
            for reason in reasons {
                html.block("li", |html| reason_line(html, reason));
            }
        }),
        Piece::Caution(caution) => html.block("div class=\"caution\"", |html| {
            html.line("strong lang=\"en\"", "Caution");
            for paragraph in paragraphs(caution) {
                html.line("p dir=\"auto\"", paragraph.as_str());
            }
        }),
        Piece::Remark(heading, text) => html.block("p class=\"remark\"", |html| {
            html.line("span lang=\"en\"", &format!("{heading}: "));
            html.line("span dir=\"auto\"", text);
        }),
        Piece::Part(part) => {
            html.block("section class=\"part\"", |html| numbered(html, "h3", part));
        }
    }
}

const fn options_tag(tick: Tick) -> &'static str {
    match tick {
        Tick::One | Tick::Drawn => "ul class=\"options one\"",
        Tick::Several => "ul class=\"options several\"",
        Tick::Elsewhere => "ul class=\"options\"",
    }
}

fn list(html: &mut Html, entries: &[Labelled]) {
    for entry in entries {
        html.block("li", |html| label_and_text(html, entry));
    }
}

fn label_and_text(html: &mut Html, entry: &Labelled) {
    html.line("span class=\"letter\"", &entry.label);
    html.line("span class=\"text\" dir=\"auto\"", &entry.text);
}

fn reason_line(html: &mut Html, reason: &Reason) {
    if !reason.verdict.is_empty() {
        html.line("span class=\"verdict\" lang=\"en\"", reason.verdict);
    }
    if !reason.label.is_empty() {
        html.line("span class=\"letter\"", &reason.label);
    }
    html.block("span class=\"text\"", |html| {
        // Only what is right stands out; what is not is told apart by more than a word in small letters.
        let stands_out = matches!(reason.verdict, "" | RIGHT);
        let said = if stands_out {
            "b dir=\"auto\""
        } else {
            "span dir=\"auto\""
        };
        html.line(said, &reason.text);
        if !reason.why.is_empty() {
            html.line("span dir=\"auto\"", &reason.why);
        }
    });
}

fn escaped(text: &str) -> String {
    entities(&Shown::new(text))
}

/// HTML being written.
struct Html(String);

impl Html {
    /// Markup of this file's own.
    fn raw(&mut self, markup: &str) {
        self.0.push_str(markup);
    }

    /// An element with others in it; `tag` is its name and attributes.
    fn block(&mut self, tag: &'static str, fill: impl FnOnce(&mut Self)) {
        self.raw(&format!("<{tag}>\n"));
        fill(self);
        self.raw(&format!("</{}>\n", name(tag)));
    }

    /// An element with nothing but text in it.
    fn line(&mut self, tag: &'static str, text: &str) {
        self.raw(&format!("<{tag}>{}</{}>\n", escaped(text), name(tag)));
    }
}

fn name(tag: &'static str) -> &'static str {
    tag.split_once(' ').map_or(tag, |(name, _)| name)
}
