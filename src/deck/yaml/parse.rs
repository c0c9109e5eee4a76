//! The event pass: builds the tree and refuses what the format does without.

use std::borrow::Cow;

use saphyr_parser::{Event, Parser, ScalarStyle, ScanError, Tag};

use super::second::disagreement;
use super::{Entry, Node, Scalar, Style, Value, syntax};
use crate::diagnostic::{Diagnostic, Diagnostics, Severity};
use crate::source::{SourceFile, Span};

/// Deepest nesting; a flap in a case needs 8.
const DEEPEST: usize = 32;

/// Most values in one deck; 20,000 items have about 700,000.
const MOST_NODES: usize = 1_000_000;

/// Builds the tree of a deck, or says why there is none. A tree may come with problems.
pub(in crate::deck) fn parse<'s>(
    source: &'s SourceFile,
    found: &mut Diagnostics,
) -> Option<Node<'s>> {
    let mut builder = Builder {
        source,
        offsets: Offsets::new(source.text()),
        found,
        open: Vec::new(),
        root: None,
        nodes: 0,
    };
    let mut parser = Parser::new_from_str(source.text());
    while let Some(next) = parser.next_event() {
        let taken = match next {
            Ok((event, span)) => {
                let span = builder
                    .offsets
                    .span(source, span.start.index(), span.end.index());
                builder.take(event, span)
            }
            Err(error) => Err(builder.refused(&error)),
        };
        if let Err(diagnostic) = taken {
            builder.found.push(*diagnostic);
            return None;
        }
    }
    if builder.root.is_none() {
        let help = "start with `deck:` and an id; decks/README.md describes the format";
        let empty = Diagnostic::error("deck::empty", "the deck is empty", source.span(0..0), "");
        builder.found.push(empty.help(help));
    }
    builder.root
}

/// A list or map whose end has not been seen.
struct Open<'s> {
    start: Span,
    value: Value<'s>,
    /// The key that waits for its value.
    key: Option<(Cow<'s, str>, Span)>,
    /// Errors found before it.
    errors_before: usize,
}

struct Builder<'s, 'f> {
    source: &'s SourceFile,
    offsets: Offsets,
    found: &'f mut Diagnostics,
    open: Vec<Open<'s>>,
    root: Option<Node<'s>>,
    nodes: usize,
}

/// Boxed: it travels through every step but is made at most once a file.
type Taken = Result<(), Box<Diagnostic>>;

impl<'s> Builder<'s, '_> {
    fn take(&mut self, event: Event<'s>, span: Span) -> Taken {
        match event {
            Event::Nothing | Event::StreamStart | Event::StreamEnd | Event::DocumentEnd => Ok(()),
            Event::DocumentStart(_) => self.document(span),
            Event::Alias(_) => {
                let source = self.source;
                self.found.push_with(Severity::Error, || {
                    syntax::quote_line(syntax::alias(source, span), source, span)
                });
                // Stands for itself, so that nothing more is said about it.
                let written = Cow::Borrowed(self.source.slice(span));
                self.add(span, scalar(written, Style::Verbatim))
            }
            Event::Scalar(text, style, anchor, tag) => {
                let style = match style {
                    ScalarStyle::Plain => Style::Plain,
                    ScalarStyle::DoubleQuoted => Style::DoubleQuoted,
                    ScalarStyle::SingleQuoted | ScalarStyle::Literal | ScalarStyle::Folded => {
                        Style::Verbatim
                    }
                };
                self.refuse_properties(anchor, tag.as_deref(), span, true);
                let span = self.trimmed(span, style);
                self.add(span, scalar(text, style))
            }
            Event::SequenceStart(anchor, tag) => {
                self.refuse_properties(anchor, tag.as_deref(), span, false);
                self.start(span, Value::List(Vec::new()))
            }
            Event::MappingStart(anchor, tag) => {
                self.refuse_properties(anchor, tag.as_deref(), span, false);
                self.start(span, Value::Map(Vec::new()))
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(span),
        }
    }

    fn document(&self, span: Span) -> Taken {
        if self.root.is_none() {
            return Ok(());
        }
        let diagnostic = Diagnostic::error(
            "deck::second-document",
            "a second document in one file",
            span,
            "everything from here on would be left out",
        );
        Err(diagnostic
            .help("one file is one deck: take the line out, or make two files")
            .into())
    }

    fn start(&mut self, span: Span, value: Value<'s>) -> Taken {
        if self.open.len() >= DEEPEST {
            let message = format!("nested more than {DEEPEST} deep");
            let diagnostic =
                Diagnostic::error("deck::too-deep", message, span, "the format needs 8");
            return Err(diagnostic
                .help("text that starts with `[` or `{` goes into double quotes")
                .into());
        }
        self.open.push(Open {
            start: span,
            value,
            key: None,
            errors_before: self.found.errors(),
        });
        Ok(())
    }

    fn end(&mut self, span: Span) -> Taken {
        let Some(open) = self.open.pop() else {
            return Ok(());
        };
        // A list or map in block style ends where the next thing starts; its last child knows better.
        let last = match &open.value {
            Value::List(nodes) => nodes.last().map(|node| node.span.end()),
            Value::Map(entries) => entries
                .last()
                .map(|entry| entry.value.span.end().max(entry.key_span.end())),
            Value::Scalar(_) => None,
        };
        let end = if span.is_empty() {
            last.unwrap_or(open.start.end())
        } else {
            span.end()
        };
        if let Value::Map(entries) = &open.value {
            duplicate_keys(entries, self.found);
        }
        let span = self.source.span(open.start.start()..end);
        let node = Node {
            span,
            value: open.value,
        };
        // What is refused already (an alias, say) is not looked at twice.
        let wants_second_opinion = self.is_bracket(open.start)
            && !self.open.iter().any(|around| self.is_bracket(around.start))
            && self.found.errors() == open.errors_before;
        if wants_second_opinion && let Some(diagnostic) = disagreement(self.source, &node) {
            self.found.push(diagnostic);
        }
        self.add(node.span, node.value)
    }

    /// Whether a list or map starts with a bracket, not by its indentation.
    fn is_bracket(&self, start: Span) -> bool {
        !start.is_empty() && self.source.slice(start).starts_with(['[', '{'])
    }

    fn add(&mut self, span: Span, value: Value<'s>) -> Taken {
        self.nodes += 1;
        if self.nodes > MOST_NODES {
            let message = format!("more than {MOST_NODES} values in one deck");
            let diagnostic = Diagnostic::error(
                "deck::too-many-values",
                message,
                span,
                "reading stopped here",
            );
            return Err(diagnostic.help("split it into several decks").into());
        }
        let Some(parent) = self.open.last_mut() else {
            self.root.get_or_insert(Node { span, value });
            return Ok(());
        };
        match (&mut parent.value, parent.key.take()) {
            (Value::List(nodes), _) => nodes.push(Node { span, value }),
            (Value::Map(entries), Some((key, key_span))) => entries.push(Entry {
                key,
                key_span,
                value: Node { span, value },
            }),
            (Value::Map(_), None) => {
                parent.key = Some(match value {
                    Value::Scalar(scalar) if !scalar.text.is_empty() => {
                        // In quotes it would be a key, but none that a deck may have.
                        if scalar.text == "<<" {
                            self.found.push(merge_key(span));
                        }
                        (scalar.text, span)
                    }
                    _ => {
                        self.found.push(key_not_text(span));
                        (Cow::Borrowed(""), span)
                    }
                });
            }
            // Scalars are never opened.
            (Value::Scalar(_), _) => {}
        }
        Ok(())
    }

    fn refuse_properties(&mut self, anchor: usize, tag: Option<&Tag>, span: Span, is_scalar: bool) {
        if anchor > 0 || tag.is_some() {
            let source = self.source;
            self.found.push_with(Severity::Error, || {
                let diagnostic = syntax::property(source, span, tag.is_some());
                if is_scalar {
                    syntax::quote_line(diagnostic, source, span)
                } else {
                    diagnostic.help("write the value out")
                }
            });
        }
    }

    /// The parser lets the span of a scalar run on to what follows it.
    fn trimmed(&self, span: Span, style: Style) -> Span {
        let slice = self.source.slice(span);
        let length = match style {
            Style::DoubleQuoted => closing_quote(slice, '"'),
            Style::Verbatim if slice.starts_with('\'') => closing_quote(slice, '\''),
            Style::Plain | Style::Verbatim => slice.trim_end().len(),
        };
        self.source.span(span.start()..span.start() + length)
    }

    fn refused(&self, error: &ScanError) -> Box<Diagnostic> {
        let at = self
            .offsets
            .byte(self.source.text(), error.marker().index());
        syntax::refused(self.source, at, error.info()).into()
    }
}

const fn scalar(text: Cow<'_, str>, style: Style) -> Value<'_> {
    Value::Scalar(Scalar { text, style })
}

/// Bytes up to and with the quote that closes a scalar.
fn closing_quote(slice: &str, quote: char) -> usize {
    let mut is_escaped = false;
    for (at, character) in slice.char_indices().skip(1) {
        match character {
            _ if is_escaped => is_escaped = false,
            '\\' if quote == '"' => is_escaped = true,
            // A single quote is escaped by another one.
            '\'' if slice
                .get(at + 1..)
                .is_some_and(|rest| quote == '\'' && rest.starts_with('\'')) =>
            {
                is_escaped = true;
            }
            _ if character == quote => return at + 1,
            _ => {}
        }
    }
    slice.trim_end().len()
}

fn duplicate_keys(entries: &[Entry<'_>], found: &mut Diagnostics) {
    let mut sorted: Vec<&Entry<'_>> = entries
        .iter()
        .filter(|entry| !entry.key.is_empty())
        .collect();
    sorted.sort_by_key(|entry| (&entry.key, entry.key_span));
    for pair in sorted.chunk_by(|one, two| one.key == two.key) {
        let [first, again @ ..] = pair else { continue };
        for second in again {
            let message = format!("the key `{}` is here twice", syntax::brief(&second.key));
            let diagnostic = Diagnostic::error(
                "deck::duplicate-key",
                message,
                second.key_span,
                "again here",
            )
            .related(first.key_span, "first here")
            .help("keep one of them");
            found.push(diagnostic);
        }
    }
}

fn merge_key(span: Span) -> Diagnostic {
    let message = "merge keys are not part of the deck format";
    Diagnostic::error(
        "deck::merge-key",
        message,
        span,
        "`<<` takes nothing over here",
    )
    .help("write the keys out")
}

fn key_not_text(span: Span) -> Diagnostic {
    let message = "a key must be a plain word";
    Diagnostic::error("deck::key-not-text", message, span, "this is no word")
        .help("text that starts with `?`, `[`, `{` or `:` goes into double quotes")
}

/// Byte offsets of every 64th character: the parser counts characters, we count bytes.
struct Offsets(Vec<usize>);

impl Offsets {
    const STEP: usize = 64;

    fn new(text: &str) -> Self {
        if text.is_ascii() {
            return Self(Vec::new());
        }
        Self(
            text.char_indices()
                .step_by(Self::STEP)
                .map(|(at, _)| at)
                .collect(),
        )
    }

    fn byte(&self, text: &str, character: usize) -> usize {
        if self.0.is_empty() {
            return character;
        }
        let Some(&near) = self.0.get(character / Self::STEP) else {
            return text.len();
        };
        let rest = text.get(near..).unwrap_or_default();
        rest.char_indices()
            .nth(character % Self::STEP)
            .map_or(text.len(), |(at, _)| near + at)
    }

    fn span(&self, source: &SourceFile, start: usize, end: usize) -> Span {
        let byte = |character| self.byte(source.text(), character);
        source.span(byte(start)..byte(end.max(start)))
    }
}
