//! What a computed number draws: ranges, lists, and a table of which one row is drawn.

use std::collections::HashSet;

use super::Reader;
use super::names::{MOST_NAMES, Names};
use super::shape::{self, longest};
use crate::deck::numeric::{Choices, Quantity, Range, Table, Variable};
use crate::deck::yaml::{Entry, Meaning, Node, Value, brief, meaning};
use crate::diagnostic::Diagnostic;

/// Most values of one range.
const MOST_VALUES: i64 = 100_000;
/// Decimals that a drawn number may have, as many as are shown.
const MOST_DECIMALS: u32 = 4;

impl Reader<'_> {
    pub(super) fn draw<'t>(
        &mut self,
        entry: Option<&'t Entry<'_>>,
        names: &mut Names<'t>,
    ) -> Option<Vec<Variable>> {
        let Some(entry) = entry else {
            return Some(Vec::new());
        };
        let mut variables = Vec::new();
        for entry in self.named(entry)? {
            let choices = self.choices(entry);
            let is_text = matches!(&choices, Some(Choices::List(list)) if matches!(list.first(), Some(Quantity::Text(_))));
            let number = names.known.len();
            let name = self.name(entry, is_text, HashSet::from([number]), names);
            variables.push(name.zip(choices).map(|(name, choices)| Variable {
                name: name.to_owned(),
                choices,
            }));
        }
        variables.into_iter().collect()
    }

    fn choices(&mut self, entry: &Entry<'_>) -> Option<Choices> {
        match &entry.value.value {
            Value::Map(_) => self.range(&entry.value).map(Choices::Range),
            Value::List(_) => {
                let nodes = self.list(entry, 1..=1_000)?;
                let list: Vec<Option<Quantity>> = nodes
                    .iter()
                    .map(|node| self.quantity(&entry.key, node))
                    .collect();
                let list: Option<Vec<Quantity>> = list.into_iter().collect();
                let list = list?;
                self.alike_kinds(&entry.key, list.iter().zip(nodes));
                Some(Choices::List(list))
            }
            Value::Scalar(_) => {
                let diagnostic = self.wrong_type(&entry.key, "a range or a list", &entry.value);
                self.report(diagnostic.help("write `{from: 50, to: 90, step: 1}` or `[1.7, 1.8]`"));
                None
            }
        }
    }

    /// Refuses numbers and texts under one name.
    fn alike_kinds<'q, 's: 'q>(
        &mut self,
        name: &str,
        mut quantities: impl Iterator<Item = (&'q Quantity, &'q Node<'s>)>,
    ) {
        let is_text = |quantity: &Quantity| matches!(quantity, Quantity::Text(_));
        let Some((first, _)) = quantities.next() else {
            return;
        };
        let first = is_text(first);
        if let Some((_, node)) = quantities.find(|(quantity, _)| is_text(quantity) != first) {
            let message = format!("`{}` has numbers and texts", brief(name));
            let diagnostic = Diagnostic::error(
                "deck::numbers-and-texts",
                message,
                node.span,
                self.what_it_is(node),
            );
            self.report(diagnostic.help("make all of them numbers, or put all of them in quotes"));
        }
    }

    fn range(&mut self, node: &Node<'_>) -> Option<Range> {
        let fields = self.fields(node, &shape::RANGE)?;
        let mut bound = |key| {
            let entry = fields.get(key)?;
            self.decimal(key, &entry.value)
        };
        let (from, to, step) = (bound("from"), bound("to"), bound("step"));
        let (from, to, step) = (from?, to?, step?);
        let decimals = from.1.max(to.1).max(step.1);
        let scaled = |(units, own): (i64, u32)| units * 10_i64.pow(decimals - own);
        let (first, last, step) = (scaled(from), scaled(to), scaled(step));
        let wrong = |what: &str, label: &str| {
            Diagnostic::error("deck::bad-range", what.to_owned(), node.span, label)
        };
        let length = last - first;
        let diagnostic = if step <= 0 {
            Some(wrong(
                "the step of a range must be above 0",
                "this one is not",
            ))
        } else if length <= 0 {
            Some(wrong(
                "a range ends above where it begins",
                "this one does not",
            ))
        } else if length % step != 0 {
            Some(
                wrong(
                    "the steps of the range do not meet its end",
                    "the end is never drawn",
                )
                .help(
                    "change `step`, or `to`, so that a whole number of steps lies between the ends",
                ),
            )
        } else if length / step >= MOST_VALUES {
            Some(wrong("the range has too many values", "take a larger step"))
        } else {
            None
        };
        if let Some(diagnostic) = diagnostic {
            self.report(diagnostic);
            return None;
        }
        Some(Range {
            first,
            step,
            count: usize::try_from(length / step + 1).ok()?,
            decimals,
        })
    }

    /// A plain decimal number, as whole units of its last decimal and the count of decimals.
    fn decimal(&mut self, name: &str, node: &Node<'_>) -> Option<(i64, u32)> {
        self.number(name, node, "a plain number below 1,000,000,000", |number| {
            number.abs() < 1e9
        })?;
        let Value::Scalar(scalar) = &node.value else {
            return None;
        };
        let text = scalar.text.trim();
        let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
        let count = u32::try_from(decimals.len()).ok();
        let units = format!("{whole}{decimals}").parse().ok();
        match (units, count) {
            (Some(units), Some(count)) if count <= MOST_DECIMALS => Some((units, count)),
            _ => {
                let message = format!("`{}` is not written as a plain decimal number", brief(name));
                let label = format!("digits, with at most {MOST_DECIMALS} after a point");
                self.error("deck::bad-decimal", message, node.span, label);
                None
            }
        }
    }

    fn quantity(&mut self, name: &str, node: &Node<'_>) -> Option<Quantity> {
        match &node.value {
            Value::Scalar(scalar) if matches!(meaning(scalar), Meaning::Number(_)) => {
                self.decimal(name, node)?;
                scalar.text.trim().parse().ok().map(Quantity::Number)
            }
            _ => self.line(name, node, longest::LINE).map(Quantity::Text),
        }
    }

    #[expect(
        clippy::option_option,
        reason = "the outer is soundness, the inner belongs to the model"
    )]
    pub(super) fn rows<'t>(
        &mut self,
        entry: Option<&'t Entry<'_>>,
        names: &mut Names<'t>,
    ) -> Option<Option<Table>> {
        let Some(entry) = entry else {
            return Some(None);
        };
        let nodes = self.list(entry, 2..=1_000)?;
        let head = nodes.first()?;
        let columns: Vec<&str> = head
            .entries()
            .iter()
            .map(|entry| entry.key.as_ref())
            .collect();
        if columns.is_empty() {
            let diagnostic = self.wrong_type("rows", "rows of names with values", head);
            self.report(diagnostic.help("write a row such as `{kg: 50, rate: 7}`"));
            names.is_cut = true;
            return None;
        }
        if let Some(entry) = head.entries().get(MOST_NAMES) {
            self.too_many(entry.key_span, names);
            return None;
        }
        let mut is_sound = true;
        let mut rows: Vec<Vec<Quantity>> = Vec::new();
        for node in nodes {
            if !self.has_columns(node, head, &columns) {
                is_sound = false;
                continue;
            }
            let cells: Vec<Option<Quantity>> = columns
                .iter()
                .map(|column| self.quantity(column, node.get(column)?))
                .collect();
            match cells.into_iter().collect() {
                Some(row) => rows.push(row),
                None => is_sound = false,
            }
        }
        let number = names.known.len();
        for (column, entry) in head.entries().iter().enumerate() {
            let cells = rows.iter().filter_map(|row| row.get(column));
            let nodes = nodes.iter().filter_map(|node| node.get(&entry.key));
            if is_sound {
                self.alike_kinds(&entry.key, cells.zip(nodes));
            }
            let is_text = matches!(
                rows.first().and_then(|row| row.get(column)),
                Some(Quantity::Text(_))
            );
            is_sound &= self
                .name(entry, is_text, HashSet::from([number]), names)
                .is_some();
        }
        let columns = columns.into_iter().map(str::to_owned).collect();
        is_sound.then_some(Some(Table { columns, rows }))
    }

    fn has_columns(&mut self, node: &Node<'_>, first: &Node<'_>, columns: &[&str]) -> bool {
        let own: Vec<&str> = node
            .entries()
            .iter()
            .map(|entry| entry.key.as_ref())
            .collect();
        let is_same =
            own.len() == columns.len() && columns.iter().all(|column| own.contains(column));
        if is_same {
            return true;
        }
        let span = self.head(node);
        let diagnostic = Diagnostic::error(
            "deck::rows-differ",
            "this row does not have the columns of the first",
            span,
            "a row of the table",
        )
        .related(self.head(first), "the first row")
        .help(format!("give it: {}", columns.join(", ")));
        self.report(diagnostic);
        false
    }
}
