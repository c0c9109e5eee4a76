//! Diagnostics as text for people: the offending lines with underlines, reasons and remedies.
//!
//! The only place that knows annotate-snippets. That renderer cleans source lines in part and nothing else, so all
//! it gets here is an excerpt that went through [`Shown`], with every span moved along; line and column are our own.

use std::fmt::Write as _;
use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

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

/// Cells that a line of output may take where no terminal has fewer.
pub const WIDTH: usize = 100;

/// Cells that the words behind a place may take; longer ones are told below the excerpt, where they can be wrapped.
const LABEL: usize = 60;

/// Cells that stand beside a place and the words behind it: line number, bar, dots.
const MARGIN: usize = 12;

/// Characters of a line that are shown around a place; the rest of a longer line is left out.
const AROUND: usize = 160;

/// Places further apart than this many lines are shown apart.
const APART: usize = 6;

/// The problems of one file, one after the other, with a blank line behind each.
#[must_use]
pub fn diagnostics(source: &SourceFile, list: &Diagnostics, look: Look) -> String {
    fitted(source, list, look, WIDTH)
}

/// The same in lines of `width` cells, as far as they can be broken.
#[must_use]
pub fn fitted(source: &SourceFile, list: &Diagnostics, look: Look, width: usize) -> String {
    let mut output = String::new();
    for diagnostic in list {
        output.push_str(&one_within(source, diagnostic, look, width));
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
    one_within(source, diagnostic, look, WIDTH)
}

fn one_within(source: &SourceFile, diagnostic: &Diagnostic, look: Look, width: usize) -> String {
    let level = match diagnostic.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::NOTE.with_name("advice"),
    };
    let title = level
        .primary_title(shown(&diagnostic.message))
        .id(diagnostic.code);
    let mut main = places(source, diagnostic, Group::with_title(title), width);
    let labels = [&diagnostic.primary].into_iter().chain(&diagnostic.related);
    for label in labels.filter(|label| is_long(source, label, width)) {
        let told = wrapped(&label.text, "here", width);
        main = main.element(Level::NOTE.with_name("here").message(told));
    }
    if let Some(why) = &diagnostic.why {
        main = main.element(
            Level::NOTE
                .with_name("why")
                .message(wrapped(why, "why", width)),
        );
    }
    for place in &diagnostic.elsewhere {
        let at = format!(
            "{}:{}:{}: {}",
            place.file, place.line, place.column, place.text
        );
        main = main.element(Level::NOTE.with_name("see").message(shown(&at)));
    }
    let groups = match (&diagnostic.patch, &diagnostic.help) {
        (Some(patch), help) => vec![main, mended(source, patch, help.as_deref(), width)],
        (None, Some(help)) => vec![main.element(Level::HELP.message(wrapped(help, "help", width)))],
        (None, None) => vec![main],
    };
    let renderer = match look {
        Look::Plain => Renderer::plain(),
        Look::Coloured => Renderer::styled(),
    };
    let drawn = renderer
        .decor_style(DecorStyle::Ascii)
        .term_width(width)
        .render(&groups);
    located(source, diagnostic, &drawn, look)
}

/// Adds the line that says where, under the title. The renderer's own would count the columns of the cleaned excerpt.
fn located(source: &SourceFile, diagnostic: &Diagnostic, drawn: &str, look: Look) -> String {
    let (title, rest) = drawn.split_once('\n').unwrap_or((drawn, ""));
    let at = source.position(diagnostic.primary.span.start());
    let spans = diagnostic.related.iter().map(|label| label.span);
    let spans = spans.chain(diagnostic.patch.iter().map(|patch| patch.span));
    let last = spans
        .map(|span| source.line_at(span.start()))
        .fold(at.line, usize::max);
    let margin = last.to_string().len();
    let arrow = match look {
        Look::Plain => "-->",
        Look::Coloured => "\u{1b}[1m\u{1b}[94m-->\u{1b}[0m",
    };
    let name = Shown::new(source.name());
    format!(
        "{title}\n{:margin$}{arrow} {name}:{}:{}\n{rest}",
        "", at.line, at.column
    )
}

/// The excerpts that hold the places of a problem: that of the primary place first.
fn places<'a>(
    source: &SourceFile,
    diagnostic: &'a Diagnostic,
    mut group: Group<'a>,
    width: usize,
) -> Group<'a> {
    let line = |label: &Label| source.line_at(label.span.start());
    let related = diagnostic
        .related
        .iter()
        .map(|label| (AnnotationKind::Context, label));
    let mut labels: Vec<(AnnotationKind, &Label)> = related
        .chain([(AnnotationKind::Primary, &diagnostic.primary)])
        .collect();
    labels.sort_by_key(|(_, label)| label.span);
    let mut near: Vec<&[(AnnotationKind, &Label)]> = labels
        .chunk_by(|one, two| match line(two.1) - line(one.1) {
            0 => two.1.span.start() - one.1.span.start() <= AROUND,
            lines => lines <= APART,
        })
        .collect();
    let primary = |labels: &[(AnnotationKind, &Label)]| {
        labels
            .iter()
            .position(|(kind, _)| matches!(kind, AnnotationKind::Primary))
    };
    near.sort_by_key(|labels| primary(labels).is_none());
    for labels in near {
        let spans: Vec<Span> = labels.iter().map(|(_, label)| label.span).collect();
        let excerpt = Excerpt::new(source, &spans);
        let annotations = labels.iter().map(|(kind, label)| {
            let span = kind.span(excerpt.range(label.span));
            if is_long(source, label, width) {
                span
            } else {
                span.label(shown(&label.text))
            }
        });
        let annotations: Vec<_> = annotations.collect();
        let snippet = Snippet::source(excerpt.text)
            .line_start(excerpt.first)
            .annotations(annotations);
        group = group.element(snippet);
    }
    group
}

/// The lines as they should be.
fn mended<'a>(source: &SourceFile, patch: &Patch, help: Option<&str>, width: usize) -> Group<'a> {
    let excerpt = Excerpt::new(source, &[patch.span]);
    let change = annotate_snippets::Patch::new(excerpt.range(patch.span), shown(&patch.text));
    let title = Level::HELP.secondary_title(wrapped(help.unwrap_or("write"), "help", width));
    Group::with_title(title).element(
        Snippet::source(excerpt.text)
            .line_start(excerpt.first)
            .patch(change),
    )
}

fn shown(text: &str) -> String {
    Shown::new(text).into_string()
}

/// Whether the words behind a place leave the line, whatever of the line before the place is left out.
fn is_long(source: &SourceFile, label: &Label, width: usize) -> bool {
    let words = Shown::new(&label.text).width();
    let place = source.slice(label.span).lines().next();
    let place = Shown::new(place.unwrap_or_default()).width();
    words > LABEL || place + words + MARGIN > width
}

/// A text broken into lines that leave room for what stands before them.
fn wrapped(text: &str, name: &str, width: usize) -> String {
    let lines = Shown::new(text).wrap(width.saturating_sub(name.len() + 8));
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
        let lines = spans.iter().map(|span| source.line_at(span.start()));
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
            .map(|span| span.end().min(span.start() + AROUND))
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

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(name: &str, text: &str, find: &str, look: Look) -> String {
        let source = SourceFile::new(name, text);
        let at = text.find(find).unwrap();
        let span = source.span(at..at + find.len());
        let diagnostic =
            Diagnostic::error("deck::sample", "a \u{1b}[2J message", span, "here\u{202e}")
                .related(source.span(0..1), "start")
                .why("because")
                .help("mend it")
                .patch(span, "better");
        one(&source, &diagnostic, look)
    }

    #[test]
    fn nothing_hostile_gets_through() {
        let drawn = drawn(
            "de\u{7}ck.yaml",
            "a: \u{1b}]0;x\u{7} wrong\n",
            "wrong",
            Look::Plain,
        );
        assert!(
            !drawn.contains(|character: char| character != '\n' && character.is_control()),
            "{drawn:?}"
        );
        assert!(!drawn.contains('\u{202e}'));
        // The column is that of the file, not that of what is shown.
        assert!(drawn.contains("--> de‹U+0007›ck.yaml:1:11\n"), "{drawn}");
    }

    #[test]
    fn of_a_long_line_the_part_around_the_place_is_shown() {
        let text = format!("a\n{}wrong{}\n", "x".repeat(100_000), "y".repeat(100_000));
        let drawn = drawn("long.yaml", &text, "wrong", Look::Plain);
        assert!(drawn.len() < 3_000, "{}", drawn.len());
        assert!(
            drawn.contains("wrong") && drawn.contains("--> long.yaml:2:100001\n"),
            "{drawn}"
        );
    }

    #[test]
    fn places_far_apart_are_shown_apart() {
        let text = format!("a\n{}wrong\n", "x\n".repeat(10_000));
        let drawn = drawn("far.yaml", &text, "wrong", Look::Plain);
        assert!(drawn.lines().count() < 25, "{drawn}");
        assert!(drawn.contains("start"), "{drawn}");
    }

    #[test]
    fn long_words_behind_a_place_are_wrapped_below_it() {
        let source = SourceFile::new("a.yaml", "a: wrong\n");
        let text = "this flap does not free enough teeth; ".repeat(8);
        let found = Diagnostic::error("deck::sample", "a message", source.span(3..8), text);
        let mut list = Diagnostics::default();
        list.push(found);
        let drawn = fitted(&source, &list, Look::Plain, 60);
        assert!(drawn.lines().all(|line| line.len() <= 60), "{drawn}");
        assert_eq!(drawn.matches("does").count(), 8, "{drawn}");
    }

    #[test]
    fn colours_change_no_letter() {
        let text = "a: 下顎 wrong\n";
        let coloured = drawn("a.yaml", text, "wrong", Look::Coloured);
        let mut parts = coloured.split("\u{1b}[");
        let mut bare = parts.next().unwrap().to_owned();
        bare.extend(parts.map(|part| part.split_once('m').unwrap().1));
        let lines = |text: &str| {
            text.lines()
                .map(|line| line.trim_end().to_owned())
                .collect::<Vec<_>>()
        };
        assert_eq!(
            lines(&bare),
            lines(&drawn("a.yaml", text, "wrong", Look::Plain))
        );
        assert!(coloured.len() > bare.len());
    }

    #[test]
    fn the_closing_line_counts() {
        let counts = Counts {
            errors: 1,
            warnings: 2,
            advice: 0,
        };
        assert_eq!(
            closing(counts, 3),
            "3 files checked: 1 error, 2 warnings, 0 pieces of advice"
        );
        assert_eq!(
            closing(Counts::default(), 1),
            "1 file checked: nothing to report"
        );
    }
}
