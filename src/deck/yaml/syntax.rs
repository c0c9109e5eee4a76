//! What to say when YAML takes an author's text for something else.
//!
//! Nearly all of these come from text that needs quotes: a `#` that starts a comment, a `: ` that makes a key, a first
//! character with a meaning. So each says "quote this" and shows the line as it should be.

use crate::diagnostic::Diagnostic;
use crate::source::{SourceFile, Span};

/// Longest line, in bytes, of which a mended form is shown.
const LONGEST_LINE: usize = 4_000;

/// A text in double quotes, as YAML wants it.
fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for character in text.chars() {
        if matches!(character, '"' | '\\') {
            quoted.push('\\');
        }
        quoted.push(character);
    }
    quoted.push('"');
    quoted
}

/// The start of a text, short enough for a message.
pub(in crate::deck) fn brief(text: &str) -> String {
    const MOST: usize = 60;
    match text.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", text.get(..end).unwrap_or_default()),
        None => text.to_owned(),
    }
}

/// The value on the line that holds a byte: what follows `key: ` or `- `, without a comment that stands clear.
fn value_on_line(source: &SourceFile, at: usize) -> Option<Span> {
    let line = source.line(source.line_at(at));
    let text = source.slice(line);
    if text.len() > LONGEST_LINE {
        return None;
    }
    let mut rest = text.trim_start();
    while let Some(entry) = rest.strip_prefix("- ") {
        rest = entry.trim_start();
    }
    if let Some((key, value)) = rest.split_once(": ")
        && !key.is_empty()
        && key
            .bytes()
            .all(|byte| byte.is_ascii_lowercase() || byte == b'_')
    {
        rest = value.trim_start();
    }
    let start = line.start() + (text.len() - rest.len());
    let value = rest.trim_end();
    (!value.is_empty() && !value.starts_with(['|', '>']))
        .then(|| source.span(start..start + value.len()))
}

/// Adds "quote this" with the line as it should be.
pub(in crate::deck) fn quote_this(
    diagnostic: Diagnostic,
    source: &SourceFile,
    value: Span,
) -> Diagnostic {
    let text = source.slice(value);
    let diagnostic = diagnostic.help("put the whole text in double quotes");
    if text.len() > LONGEST_LINE {
        return diagnostic;
    }
    diagnostic.patch(value, quoted(without_quotes(text)))
}

/// A text without the quotes around it, and without one in front that is never closed.
fn without_quotes(text: &str) -> &str {
    for quote in ['"', '\''] {
        if let Some(rest) = text.strip_prefix(quote) {
            return match rest.strip_suffix(quote) {
                Some(inner) => inner,
                None if quote == '"' && rest.contains(quote) => text,
                None => rest,
            };
        }
    }
    text
}

/// Adds "quote this" if the value is all that stands on its line.
pub(super) fn quote_line(diagnostic: Diagnostic, source: &SourceFile, span: Span) -> Diagnostic {
    match value_on_line(source, span.start()) {
        Some(value) if value.start() == span.start() => quote_this(diagnostic, source, value),
        _ => diagnostic.help("write the value out"),
    }
}

/// An anchor (`&`) or a tag (`!`) in front of a value.
pub(super) fn property(source: &SourceFile, span: Span, is_tag: bool) -> Diagnostic {
    let first = source.span(span.start()..span.start() + 1);
    if is_tag {
        let message = "tags are not part of the deck format";
        Diagnostic::error("deck::tag", message, first, "`!` starts a tag, not text")
    } else {
        let message = "anchors are not part of the deck format";
        Diagnostic::error(
            "deck::anchor",
            message,
            first,
            "`&` starts an anchor, not text",
        )
    }
}

/// An alias (`*`) in place of a value.
pub(super) fn alias(source: &SourceFile, span: Span) -> Diagnostic {
    let message = "aliases are not part of the deck format";
    let first = source.span(span.start()..span.start() + 1);
    Diagnostic::error(
        "deck::alias",
        message,
        first,
        "`*` starts an alias, not text",
    )
}

/// What the parser could not read at a byte.
pub(super) fn refused(source: &SourceFile, at: usize, info: &str) -> Diagnostic {
    let span = source.span(at..at + 1);
    let value = value_on_line(source, at);
    let text = value.map(|value| source.slice(value)).unwrap_or_default();
    if info.contains("unknown anchor") {
        return quote_line(alias(source, span), source, span);
    }
    if info.contains("comment intercepting") {
        return cut_by_comment(source, span, value);
    }
    if info.contains("recursion limit") {
        return Diagnostic::error(
            "deck::too-deep",
            "nested too deep",
            span,
            "the format needs 8",
        )
        .help("text that starts with `[` or `{` goes into double quotes");
    }
    let message = format!("this is not YAML: {}", in_words(info));
    let is_end = at >= source.text().trim_end().len();
    let label = if is_end {
        "the file ends here"
    } else {
        "reading stopped here"
    };
    let mut diagnostic = Diagnostic::error("deck::syntax", message, span, label);
    if info.contains("flow") || info.contains("only valid inside a block") {
        let before = source.text().get(..at).unwrap_or_default();
        if let Some(open) = before.rfind(['[', '{']) {
            diagnostic = diagnostic.related(source.span(open..open + 1), "opened here");
        }
        return diagnostic.help("close it, or put a text that starts with it in double quotes");
    }
    let wants_quotes = text.contains(": ")
        || text.starts_with([
            '@', '`', '%', '*', '&', '!', ',', ']', '}', '|', '>', '"', '\'',
        ]);
    match value {
        Some(value) if wants_quotes && !is_end => quote_this(diagnostic, source, value),
        _ => diagnostic
            .help("see that the line is indented like its neighbours, and that `- ` and `: ` end with a space"),
    }
}

/// A text that goes on after a comment: the comment was meant to be part of it.
fn cut_by_comment(source: &SourceFile, span: Span, value: Option<Span>) -> Diagnostic {
    let line = source.line(source.line_at(span.start()));
    let rest = source.span(span.start()..line.end());
    let message = "text after \" #\" is a comment and will not be shown";
    let diagnostic = Diagnostic::error(
        "deck::text-cut-by-comment",
        message,
        rest,
        "taken for a comment",
    )
    .help("put the whole text in double quotes");
    match value {
        Some(value) if value.start() < span.start() => diagnostic.related(
            source.span(value.start()..span.start()),
            "all that would be left",
        ),
        _ => diagnostic,
    }
}

/// The parser's messages that authors meet, in words that help them.
fn in_words(info: &str) -> &str {
    match info {
        _ if info.starts_with("unexpected character") => "a text cannot start like this",
        "while parsing a flow sequence, expected ',' or ']'" => {
            "a `[` is never closed, or a comma is missing"
        }
        "while parsing a flow mapping, did not find expected ',' or '}'" => {
            "a `{` is never closed, or a comma is missing"
        }
        _ if info.ends_with("is only valid inside a block") => "a `[` or `{` is never closed",
        "invalid indentation in quoted scalar" => "a quote is not closed",
        "mapping values are not allowed in this context" => {
            "a second `: ` on one line, or a line indented too far"
        }
        "invalid trailing content after double-quoted scalar" => {
            "text goes on after a closing quote"
        }
        "while scanning a quoted scalar, found unexpected end of stream" => {
            "a quote is never closed"
        }
        "while parsing a block mapping, did not find expected key" => "a key is expected here",
        "while parsing a block collection, did not find expected '-' indicator" => {
            "`- ` is expected here"
        }
        "simple key expected" | "simple key expect ':'" => {
            "a key without `: `, or a line indented too little"
        }
        "while parsing a node, did not find expected node content" => {
            "a value cannot start like this"
        }
        "block sequence entries are not allowed in this context" => {
            "a list cannot start on this line"
        }
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_value_of_a_line_is_what_wants_quotes() {
        let value = |line: &str| {
            let source = SourceFile::new("a", line);
            value_on_line(&source, 0).map(|span| source.slice(span).to_owned())
        };
        assert_eq!(
            value("    stem: Lingual: sensory  ").as_deref(),
            Some("Lingual: sensory")
        );
        assert_eq!(value("  - text: &x").as_deref(), Some("&x"));
        assert_eq!(value("- - *a").as_deref(), Some("*a"));
        assert_eq!(value("rationale: >"), None);
        assert_eq!(value("   "), None);
    }

    #[test]
    fn quotes_and_backslashes_are_escaped() {
        assert_eq!(quoted(r#"a "b" \c"#), r#""a \"b\" \\c""#);
    }
}
