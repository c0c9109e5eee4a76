//! Diagnostics as text for people: the offending lines with underlines, reasons and remedies.
//!
//! The only place that knows annotate-snippets. That renderer cleans source lines in part and nothing else, so all
//! it gets here is an excerpt that went through [`Shown`], with every span moved along; line and column are our own.

use std::fmt::Write as _;
use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use crate::diagnostic::{Counts, Diagnostic, Diagnostics, Label, Patch, Severity};
use crate::source::{SourceFile, Span};
use crate::text::{self, Shown};

/// Whether colours may be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Text alone.
    Plain,
    /// With ANSI colours.
    Coloured,
}

/// Cells that a line of output may take.
const WIDTH: usize = 100;

/// Characters of a line that are shown around a place; the rest of a longer line is left out.
const AROUND: usize = 160;

/// Places further apart than this many lines are shown apart.
const APART: usize = 6;

/// The problems of one file, one after the other, with a blank line behind each.
#[must_use]
pub fn diagnostics(source: &SourceFile, list: &Diagnostics, look: Look) -> String {
    let mut output = String::new();
    for diagnostic in list {
        output.push_str(&one(source, diagnostic, look));
        output.push_str("\n\n");
    }
    if list.left_out() > 0 {
        // Writing to a string cannot fail.
        let _infallible = writeln!(
            output,
            "… and {} more in {}\n",
            list.left_out(),
            Shown::new(source.name())
        );
    }
    output
}

/// The line that closes a report: how many problems in how many files.
#[must_use]
pub fn closing(counts: Counts, files: usize) -> String {
    let files = if files == 1 {
        "1 file".to_owned()
    } else {
        format!("{files} files")
    };
    if counts.total() == 0 {
        format!("{files} checked: nothing to report")
    } else {
        format!("{files} checked: {counts}")
    }
}

/// One problem, without a line break at the end.
#[must_use]
pub fn one(source: &SourceFile, diagnostic: &Diagnostic, look: Look) -> String {
    let level = match diagnostic.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::NOTE.with_name("advice"),
    };
    let title = level
        .primary_title(shown(&diagnostic.message))
        .id(diagnostic.code);
    let mut main = places(source, diagnostic, Group::with_title(title));
    if let Some(why) = &diagnostic.why {
        main = main.element(Level::NOTE.with_name("why").message(wrapped(why, "why")));
    }
    let groups = match (&diagnostic.patch, &diagnostic.help) {
        (Some(patch), help) => vec![main, mended(source, patch, help.as_deref())],
        (None, Some(help)) => vec![main.element(Level::HELP.message(wrapped(help, "help")))],
        (None, None) => vec![main],
    };
    let renderer = match look {
        Look::Plain => Renderer::plain(),
        Look::Coloured => Renderer::styled(),
    };
    renderer
        .decor_style(DecorStyle::Ascii)
        .term_width(WIDTH)
        .render(&groups)
}

/// The excerpts that hold the places of a problem: that of the primary place first.
fn places<'a>(source: &SourceFile, diagnostic: &'a Diagnostic, mut group: Group<'a>) -> Group<'a> {
    let line = |label: &Label| source.position(label.span.start()).line;
    let related = diagnostic
        .related
        .iter()
        .map(|label| (AnnotationKind::Context, label));
    let mut labels: Vec<(AnnotationKind, &Label)> = related
        .chain([(AnnotationKind::Primary, &diagnostic.primary)])
        .collect();
    labels.sort_by_key(|(_, label)| label.span);
    let mut near: Vec<&[(AnnotationKind, &Label)]> = labels
        .chunk_by(|one, two| line(two.1) - line(one.1) <= APART)
        .collect();
    let primary = |labels: &[(AnnotationKind, &Label)]| {
        labels
            .iter()
            .position(|(kind, _)| matches!(kind, AnnotationKind::Primary))
    };
    near.sort_by_key(|labels| primary(labels).is_none());
    for labels in near {
        let pointed = labels.get(primary(labels).unwrap_or(0));
        let at = source.position(pointed.map_or(0, |(_, label)| label.span.start()));
        let origin = Origin::path(shown(source.name()))
            .line(at.line)
            .char_column(at.column);
        let spans: Vec<Span> = labels.iter().map(|(_, label)| label.span).collect();
        let excerpt = Excerpt::new(source, &spans);
        let annotations = labels.iter().map(|(kind, label)| {
            kind.span(excerpt.range(label.span))
                .label(shown(&label.text))
        });
        let annotations: Vec<_> = annotations.collect();
        let snippet = Snippet::source(excerpt.text)
            .line_start(excerpt.first)
            .annotations(annotations);
        group = group.element(origin).element(snippet);
    }
    group
}

/// The lines as they should be.
fn mended<'a>(source: &SourceFile, patch: &Patch, help: Option<&str>) -> Group<'a> {
    let excerpt = Excerpt::new(source, &[patch.span]);
    let change = annotate_snippets::Patch::new(excerpt.range(patch.span), shown(&patch.text));
    let title = Level::HELP.secondary_title(wrapped(help.unwrap_or("write"), "help"));
    Group::with_title(title).element(
        Snippet::source(excerpt.text)
            .line_start(excerpt.first)
            .patch(change),
    )
}

fn shown(text: &str) -> String {
    Shown::new(text).into_string()
}

/// A text broken into lines that leave room for what stands before them.
fn wrapped(text: &str, name: &str) -> String {
    let lines = Shown::new(text).wrap(WIDTH - name.len() - 8);
    let lines: Vec<&str> = lines.iter().map(Shown::as_str).collect();
    lines.join("\n")
}

/// A few lines of a file, cleaned, with the way from their bytes to those of the file.
struct Excerpt {
    /// Number of the first line.
    first: usize,
    text: String,
    /// For each character its offset in the file and in the excerpt, both rising.
    offsets: Vec<(usize, usize)>,
}

impl Excerpt {
    /// The lines from the first to the last span; of long ones what is around the spans.
    fn new(source: &SourceFile, spans: &[Span]) -> Self {
        let lines = spans.iter().map(|span| source.position(span.start()).line);
        let first = lines.clone().min().unwrap_or(1);
        let last = lines.max().unwrap_or(1);
        let mut excerpt = Self {
            first,
            text: String::new(),
            offsets: Vec::new(),
        };
        for line in first..=last {
            excerpt.line(source, source.line(line), spans);
        }
        excerpt
    }

    fn line(&mut self, source: &SourceFile, line: Span, spans: &[Span]) {
        let within = spans
            .iter()
            .filter(|span| line.start() <= span.start() && span.start() <= line.end());
        let start = within
            .clone()
            .map(|span| span.start())
            .min()
            .unwrap_or(line.start());
        let end = within
            .map(|span| span.end().min(start + AROUND))
            .max()
            .unwrap_or(start);
        let from = line.start().max(start.saturating_sub(AROUND));
        let part = source.span(from..line.end().min(end + AROUND));
        if part.start() > line.start() {
            self.text.push('…');
        }
        text::pieces(source.slice(part), |at, piece| {
            self.offsets.push((part.start() + at, self.text.len()));
            self.text.push_str(piece);
        });
        self.offsets.push((part.end(), self.text.len()));
        self.text.push_str(if part.end() < line.end() {
            "…\n"
        } else {
            "\n"
        });
    }

    /// Where a span lies in the excerpt; what goes on past its first line is left out.
    fn range(&self, span: Span) -> Range<usize> {
        let start = self.offset(span.start());
        let end = self.offset(span.end());
        let line_end = self
            .text
            .get(start..)
            .and_then(|rest| rest.find('\n'))
            .map_or(start, |at| start + at);
        start..end.clamp(start, line_end)
    }

    fn offset(&self, at: usize) -> usize {
        let index = self.offsets.partition_point(|(offset, _)| *offset < at);
        self.offsets
            .get(index)
            .map_or(self.text.len(), |(_, offset)| *offset)
    }
}
