//! Single values: texts, ids, numbers, booleans, dates, each with what can be wrong about it.

use super::Reader;
use super::shape::longest;
use crate::deck::hygiene::named;
use crate::deck::yaml::{Entry, Meaning, Node, Scalar, Style, Value, brief, meaning, quote_this};
use crate::diagnostic::{Diagnostic, Severity};
use crate::source::Span;
use crate::text;
use crate::time::Day;

/// Which characters an id has.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Letters {
    /// Lower-case letters, digits, hyphens.
    Lower,
    /// Letters, digits, hyphens.
    Any,
}

impl Reader<'_> {
    /// A text under a key: not empty, not too long, whole.
    pub(super) fn text(&mut self, name: &str, node: &Node<'_>, most: usize) -> Option<String> {
        let scalar = self.scalar(name, node)?;
        if self.is_cut(node, scalar) {
            return None;
        }
        let text = scalar.text.trim();
        if text.is_empty() {
            self.empty(name, node.span);
            return None;
        }
        let length = text.chars().count();
        if length > most {
            let message = format!("`{name}` is too long: {length} characters");
            let head = self.head(node);
            // To underline all of it would show nothing but the line.
            let span = self
                .source
                .span(head.start()..head.end().min(head.start() + 40));
            self.error(
                "deck::text-too-long",
                message,
                span,
                format!("the most is {most}"),
            );
            return None;
        }
        if scalar.style == Style::DoubleQuoted
            && let Some((_, character)) = text::harmful(&scalar.text).next()
            && !self.source.slice(node.span).contains(character)
        {
            let message = format!("`{name}` holds {}, written as an escape", named(character));
            let span = self.head(node);
            let diagnostic =
                Diagnostic::error("deck::forbidden-character", message, span, "in this text");
            self.report(diagnostic.help("take the escape out"));
            return None;
        }
        self.ambiguous(node, scalar);
        Some(text.to_owned())
    }

    /// A text of one line.
    pub(super) fn line(&mut self, name: &str, node: &Node<'_>, most: usize) -> Option<String> {
        let text = self.text(name, node, most)?;
        if text.contains('\n') {
            let message = format!("`{name}` must be one line");
            let span = self.head(node);
            let diagnostic =
                Diagnostic::error("deck::not-one-line", message, span, "this has several");
            self.report(diagnostic.help("write it after the key, in double quotes"));
            return None;
        }
        Some(text)
    }

    /// An id: short and plain, so that it can be typed, logged and compared.
    pub(super) fn id(&mut self, name: &str, node: &Node<'_>, letters: Letters) -> Option<String> {
        let scalar = self.scalar(name, node)?;
        // A comment set apart may stand behind an id, which nobody shows.
        if let Some((comment, true)) = self.comment_behind(node, scalar) {
            let whole = self.source.span(node.span.start()..comment.end());
            let mended = mended(self.source.slice(whole), letters);
            let help = format!("an id has no `#`; such as `{mended}`");
            self.report(cut(node, comment).help(help).patch(whole, mended));
            return None;
        }
        let id = scalar.text.trim();
        if id.is_empty() {
            self.empty(name, node.span);
            return None;
        }
        let is_letter = |byte: u8| {
            byte.is_ascii_digit()
                || byte.is_ascii_lowercase()
                || (letters == Letters::Any && byte.is_ascii_uppercase())
        };
        let starts_well = id.bytes().next().is_some_and(is_letter);
        let is_good = starts_well
            && id.len() <= longest::ID
            && id.bytes().all(|byte| is_letter(byte) || byte == b'-');
        if is_good {
            return Some(id.to_owned());
        }
        let mended = mended(id, letters);
        let which = match letters {
            Letters::Lower => "lower-case letters, digits and hyphens",
            Letters::Any => "letters, digits and hyphens",
        };
        let message = format!("`{}` is not fit to be an id", brief(id));
        let span = self.head(node);
        let label = if id.len() > longest::ID {
            format!("longer than {} characters", longest::ID)
        } else {
            format!("only {which}, and no hyphen in front")
        };
        let diagnostic = Diagnostic::error("deck::bad-id", message, span, label);
        let rule = format!(
            "an id has {which}, starts with no hyphen and has at most {} characters",
            longest::ID
        );
        let is_mended = !mended.is_empty() && mended.len() <= longest::ID;
        self.report(if is_mended {
            let help = format!("{rule}; such as `{mended}`");
            diagnostic.help(help).patch(span, mended)
        } else {
            diagnostic.help(rule)
        });
        None
    }

    /// `true` or `false`.
    pub(super) fn flag(&mut self, entry: Option<&Entry<'_>>) -> Option<bool> {
        let Some(entry) = entry else {
            return Some(false);
        };
        let node = &entry.value;
        if let Value::Scalar(scalar) = &node.value {
            if let Meaning::Bool(flag) = meaning(scalar) {
                return Some(flag);
            }
            let word = match scalar.text.to_ascii_lowercase().as_str() {
                "yes" | "on" | "y" | "true" => Some("true"),
                "no" | "off" | "n" | "false" => Some("false"),
                _ => None,
            };
            if let Some(word) = word {
                let diagnostic = self.wrong_type(&entry.key, "true or false", node);
                self.report(
                    diagnostic
                        .help(format!("write `{word}`"))
                        .patch(node.span, word),
                );
                return None;
            }
        }
        let diagnostic = self.wrong_type(&entry.key, "true or false", node);
        self.report(diagnostic.help("write `true`, or leave the key out"));
        None
    }

    /// A number within bounds.
    pub(super) fn number(
        &mut self,
        name: &str,
        node: &Node<'_>,
        unit: &str,
        is_good: impl Fn(f64) -> bool,
    ) -> Option<f64> {
        let Value::Scalar(scalar) = &node.value else {
            let diagnostic = self.wrong_type(name, "a number", node);
            self.report(diagnostic);
            return None;
        };
        match meaning(scalar) {
            Meaning::Number(number) if is_good(number) => Some(number),
            Meaning::Number(_) => {
                let message = format!("`{name}` is out of bounds");
                self.error(
                    "deck::number-out-of-bounds",
                    message,
                    node.span,
                    format!("must be {unit}"),
                );
                None
            }
            Meaning::Null => {
                self.empty(name, node.span);
                None
            }
            Meaning::Bool(_) | Meaning::Text => {
                let diagnostic = self.wrong_type(name, "a number", node);
                let bare = scalar.text.trim().trim_end_matches('%').trim_end();
                let is_number = scalar.text.len() < 20 && bare.parse::<f64>().is_ok_and(&is_good);
                self.report(if is_number {
                    diagnostic
                        .help("write the bare number, without quotes or unit")
                        .patch(node.span, bare)
                } else {
                    diagnostic.help(format!("it must be {unit}"))
                });
                None
            }
        }
    }

    /// A date of the calendar.
    pub(super) fn date(&mut self, name: &str, node: &Node<'_>) -> Option<Day> {
        const HELP: &str = "write it as \"YYYY-MM-DD\", such as \"2026-11-25\"";
        let Value::Scalar(scalar) = &node.value else {
            let diagnostic = self.wrong_type(name, "a date", node);
            self.report(diagnostic.help(HELP));
            return None;
        };
        if meaning(scalar) == Meaning::Null || scalar.text.trim().is_empty() {
            self.empty(name, node.span);
            return None;
        }
        let Some(day) = Day::parse(scalar.text.trim()) else {
            let message = format!("`{}` is not a date", brief(&scalar.text));
            let span = self.head(node);
            let label = "must be a day of the calendar";
            let diagnostic = Diagnostic::error("deck::bad-date", message, span, label);
            self.report(diagnostic.help(HELP));
            return None;
        };
        self.ambiguous(node, scalar);
        Some(day)
    }

    /// The scalar of a node that should be text; numbers and booleans are refused with what was written, because the
    /// way they were written (`1.10`) would be lost.
    fn scalar<'t, 's>(&mut self, name: &str, node: &'t Node<'s>) -> Option<&'t Scalar<'s>> {
        let Value::Scalar(scalar) = &node.value else {
            let diagnostic = self.wrong_type(name, "text", node);
            let is_one_line = self.head(node) == node.span;
            let is_block_list = self.source.slice(node.span).starts_with("- ");
            self.report(if is_one_line && !is_block_list {
                quote_this(diagnostic, self.source, node.span)
            } else {
                diagnostic.help("write one text here")
            });
            return None;
        };
        match meaning(scalar) {
            Meaning::Text => Some(scalar),
            Meaning::Null => {
                self.empty(name, node.span);
                None
            }
            Meaning::Bool(_) | Meaning::Number(_) => {
                let diagnostic = self.wrong_type(name, "text", node);
                self.report(quote_this(diagnostic, self.source, node.span));
                None
            }
        }
    }

    pub(super) fn wrong_type(&self, name: &str, wanted: &str, node: &Node<'_>) -> Diagnostic {
        let message = format!("`{name}` takes {wanted}");
        Diagnostic::error(
            "deck::wrong-type",
            message,
            self.head(node),
            self.what_it_is(node),
        )
    }

    /// What a node is, in words, with what was written.
    pub(super) fn what_it_is(&self, node: &Node<'_>) -> String {
        match &node.value {
            Value::Map(_) => "`: ` makes this a key with a value".to_owned(),
            Value::List(_) => "this is a list".to_owned(),
            Value::Scalar(scalar) => {
                let raw = brief(self.source.slice(node.span));
                match meaning(scalar) {
                    Meaning::Text => format!("`{raw}` is text"),
                    Meaning::Null => "nothing is here".to_owned(),
                    Meaning::Bool(_) => format!("`{raw}` is true or false to YAML"),
                    Meaning::Number(_) => format!("`{raw}` is a number to YAML"),
                }
            }
        }
    }

    /// Reports a value that is not there, at the quotes it is not in or behind what should be followed by it.
    pub(super) fn empty(&mut self, name: &str, span: Span) {
        let is_quoted = self.source.slice(span).starts_with(['"', '\'']);
        let before = self
            .source
            .text()
            .get(..span.start())
            .unwrap_or_default()
            .trim_end();
        let (span, label) = if is_quoted {
            (span, "nothing is here")
        } else {
            let end = before.len();
            (
                self.source.span(end.saturating_sub(1)..end),
                "nothing follows",
            )
        };
        self.error(
            "deck::empty-text",
            format!("`{name}` is empty"),
            span,
            label,
        );
    }

    /// The comment behind an unquoted text, and whether it looks like a part of it: `Tooth #38`.
    fn comment_behind(&self, node: &Node<'_>, scalar: &Scalar<'_>) -> Option<(Span, bool)> {
        if scalar.style != Style::Plain {
            return None;
        }
        let line = self.source.line(self.source.line_at(node.span.end()));
        let rest = self.source.span(node.span.end()..line.end());
        let after = self.source.slice(rest).trim_start();
        let comment = after.strip_prefix('#')?;
        let span = self.source.span(line.end() - after.len()..line.end());
        let is_part =
            comment.starts_with(|character: char| !character.is_whitespace() && character != '#');
        Some((span, is_part))
    }

    /// Whether an unquoted text is cut short by a comment; warns of one that is set apart.
    pub(super) fn is_cut(&mut self, node: &Node<'_>, scalar: &Scalar<'_>) -> bool {
        let Some((span, is_part)) = self.comment_behind(node, scalar) else {
            return false;
        };
        if is_part {
            let whole = self.source.span(node.span.start()..span.end());
            let is_one_line = !self.source.slice(whole).contains('\n');
            let diagnostic = cut(node, span);
            self.report(if is_one_line {
                quote_this(diagnostic, self.source, whole)
            } else {
                diagnostic.help("put the whole text in double quotes")
            });
        } else {
            let message = "a comment after text without quotes";
            let diagnostic = Diagnostic::new(
                Severity::Warning,
                "deck::comment-after-text",
                message,
                span,
                "will not be shown",
            )
            .help("put the text in double quotes, or the comment on a line of its own");
            self.report(diagnostic);
        }
        is_part
    }

    /// Warns of plain words that older YAML readers, and so editors, take for something else.
    fn ambiguous(&mut self, node: &Node<'_>, scalar: &Scalar<'_>) {
        let text = scalar.text.as_ref();
        let is_word = ["yes", "no", "on", "off", "y", "n"]
            .iter()
            .any(|word| text.eq_ignore_ascii_case(word));
        if scalar.style == Style::Plain && (is_word || Day::parse(text).is_some()) {
            let what = if is_word { "true or false" } else { "a date" };
            let message = format!("`{text}` without quotes is {what} to some YAML readers");
            let diagnostic = Diagnostic::new(
                Severity::Warning,
                "deck::ambiguous-text",
                message,
                node.span,
                "read as text here",
            );
            self.report(quote_this(diagnostic, self.source, node.span));
        }
    }
}

/// A text of which a comment is a part.
fn cut(node: &Node<'_>, comment: Span) -> Diagnostic {
    let message = "text after \" #\" is a comment and will not be shown";
    Diagnostic::error(
        "deck::text-cut-by-comment",
        message,
        comment,
        "taken for a comment",
    )
    .related(node.span, "all that is left of the text")
}

/// A text as an id, its unfit characters turned into hyphens.
fn mended(id: &str, letters: Letters) -> String {
    let parts = id.split(|character: char| !character.is_ascii_alphanumeric());
    let parts: Vec<&str> = parts.filter(|part| !part.is_empty()).collect();
    let mended = parts.join("-");
    match letters {
        Letters::Lower => mended.to_lowercase(),
        Letters::Any => mended,
    }
}
