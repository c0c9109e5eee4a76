//! What is wrong with decks as JSON: the same as the text for people, all severities included.

use serde_json::{Value, json};

use crate::deck::Reading;
use crate::diagnostic::{Counts, Diagnostic, Label};
use crate::source::{SourceFile, Span};

/// The diagnostics of several decks as one object.
#[must_use]
pub fn json(readings: &[Reading]) -> Value {
    let all = readings.iter().flat_map(|reading| {
        let each = reading.diagnostics.iter();
        each.map(|diagnostic| one(&reading.source, diagnostic))
    });
    let counts = readings.iter().fold(Counts::default(), |sum, reading| {
        sum.plus(reading.diagnostics.counts())
    });
    json!({
        "diagnostics": all.collect::<Vec<Value>>(),
        "counts": {
            "errors": counts.errors,
            "warnings": counts.warnings,
            "advice": counts.advice,
            "files": readings.len(),
        },
    })
}

fn one(source: &SourceFile, diagnostic: &Diagnostic) -> Value {
    let here = diagnostic.related.iter();
    let mut related: Vec<Value> = here.map(|label| labelled(source, label)).collect();
    related.extend(diagnostic.elsewhere.iter().map(|place| {
        json!({
            "file": place.file,
            "line": place.line,
            "column": place.column,
            "end_line": place.end.0,
            "end_column": place.end.1,
            "text": place.text,
        })
    }));
    let patch = diagnostic.patch.as_ref().map(|patch| {
        let mut value = place(source, patch.span);
        value["text"] = patch.text.as_str().into();
        value
    });
    let mut value = json!({
        "code": diagnostic.code,
        "severity": diagnostic.severity.word(),
        "file": source.name(),
    });
    copy(&mut value, &place(source, diagnostic.primary.span));
    let rest = json!({
        "item": diagnostic.item,
        "message": diagnostic.message,
        "label": diagnostic.primary.text,
        "why": diagnostic.why,
        "help": diagnostic.help,
        "related": related,
        "patch": patch,
    });
    copy(&mut value, &rest);
    value
}

fn labelled(source: &SourceFile, label: &Label) -> Value {
    let mut value = json!({ "file": source.name() });
    copy(&mut value, &place(source, label.span));
    value["text"] = label.text.as_str().into();
    value
}

/// Both ends of a span, lines and columns from 1; the end is behind the last character.
fn place(source: &SourceFile, span: Span) -> Value {
    let (start, end) = (source.position(span.start()), source.position(span.end()));
    json!({
        "line": start.line,
        "column": start.column,
        "end_line": end.line,
        "end_column": end.column,
    })
}

fn copy(value: &mut Value, from: &Value) {
    for (key, part) in from.as_object().into_iter().flatten() {
        value[key] = part.clone();
    }
}
