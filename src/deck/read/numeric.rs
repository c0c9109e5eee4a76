//! Computed numbers: values that are drawn, values that follow, the key, slips, and texts with values in them.
//!
//! What is read here holds together: every name is known where it is used and used somewhere, and every
//! stem tells what was drawn. Whether the numbers work out is for `trial` to find.

use std::collections::{BTreeSet, HashMap, HashSet};

use super::deck::Lists;
use super::fields::Fields;
use super::shape::{self, longest};
use super::{Reader, nearest};
use crate::deck::expression::{Expression, FUNCTIONS, is_name};
use crate::deck::numeric::{
    ANSWER, Choices, Derived, Numeric, Piece, Quantity, Range, Rounding, Side, Slip, Table,
    Tolerance, Variable, pieces,
};
use crate::deck::unit;
use crate::deck::yaml::{Entry, Meaning, Node, Scalar, Value, brief, meaning};
use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// Most values of one range.
const MOST_VALUES: i64 = 100_000;
/// Decimals that a drawn number may have, as many as are shown.
const MOST_DECIMALS: u32 = 4;

/// The names of an item, in the order they may be used.
#[derive(Default)]
struct Names<'t> {
    known: Vec<Name<'t>>,
    used: HashSet<String>,
}

struct Name<'t> {
    text: &'t str,
    span: Span,
    is_text: bool,
    /// The things drawn that it follows from, each by the number of its first name; the table is one thing.
    drawn: HashSet<usize>,
}

impl<'t> Names<'t> {
    fn find(&self, name: &str) -> Option<&Name<'t>> {
        self.known.iter().find(|known| known.text == name)
    }
}

/// Where the parts stand that a trial may find fault with.
pub(super) struct Places {
    /// What is drawn, as a whole.
    pub(super) drawn: Span,
    pub(super) derive: Vec<Span>,
    pub(super) require: Span,
    pub(super) answer: Span,
    pub(super) round: Span,
    pub(super) slips: Vec<Span>,
}

impl Reader<'_> {
    pub(super) fn numeric(&mut self, fields: Fields<'_, '_>, lists: &Lists<'_>) -> Option<Numeric> {
        let errors = self.errors();
        let mut names = Names::default();
        let draw = self.draw(fields.get("draw"), &mut names);
        let rows = self.rows(fields.get("rows"), &mut names);
        if fields.get("draw").is_none() && fields.get("rows").is_none() {
            let span = self.head(fields.node);
            let diagnostic = Diagnostic::error(
                "deck::nothing-drawn",
                "nothing is drawn",
                span,
                "in this item",
            );
            self.report(diagnostic.help(
                "add `draw` with ranges or lists, or `rows` with a table; a fixed number is asked by another kind",
            ));
        }
        let derive = self.derive(fields.get("derive"), &mut names);
        let require = fields
            .get("require")
            .map(|entry| self.expression(entry, &mut names));
        let answer = fields
            .get("answer")
            .and_then(|entry| self.expression(entry, &mut names));
        let round = fields.get("round").map(|entry| self.rounding(entry));
        let tolerance = fields.get("tolerance").map(|entry| self.tolerance(entry));
        let unit = fields
            .get("unit")
            .map(|entry| self.unit("unit", &entry.value));
        let units = self.units(fields);
        let allow_negative = self.flag(fields.get("allow_negative"));
        let slips = self.slips(fields.get("slips"), lists, &mut names);
        let solution = fields.get("solution").and_then(|entry| {
            let text = self.text("solution", &entry.value, longest::REASON)?;
            self.template(&entry.value, &text, true, &mut names);
            Some(text)
        });
        self.stems_show(fields, &mut names);
        self.unused(&names);
        let (slips, slip_spans): (Vec<Slip>, Vec<Span>) = slips?.into_iter().unzip();
        let (derive, derive_spans): (Vec<Derived>, Vec<Span>) = derive?.into_iter().unzip();
        let (answer, answer_span) = answer?;
        let require = optional(require)?;
        let numeric = Numeric {
            draw: draw?,
            rows: rows?,
            derive,
            require: require.clone().map(|(require, _)| require),
            answer,
            round: optional(round)?,
            tolerance: optional(tolerance)?,
            unit: optional(unit)?,
            units: units?,
            allow_negative: allow_negative?,
            slips,
            solution: solution?,
        };
        if self.errors() == errors {
            let key_span = |key| fields.get(key).map(|entry: &Entry<'_>| entry.key_span);
            let places = Places {
                drawn: key_span("draw").or(key_span("rows")).unwrap_or(answer_span),
                derive: derive_spans,
                require: require.map_or(answer_span, |(_, span)| span),
                answer: answer_span,
                round: key_span("round").unwrap_or(answer_span),
                slips: slip_spans,
            };
            self.try_out(&numeric, &places);
        }
        Some(numeric)
    }

    fn errors(&self) -> usize {
        self.found.counts().errors
    }

    /// The entries of a map whose keys are names of values.
    fn named<'t, 's>(&mut self, entry: &'t Entry<'s>) -> Option<&'t [Entry<'s>]> {
        if let Value::Map(entries) = &entry.value.value {
            return Some(entries);
        }
        let diagnostic = self.wrong_type(&entry.key, "names with values", &entry.value);
        self.report(
            diagnostic.help("write one name a line, such as `kg: {from: 50, to: 90, step: 1}`"),
        );
        None
    }

    /// Takes a name into use.
    fn name<'t>(
        &mut self,
        entry: &'t Entry<'_>,
        is_text: bool,
        drawn: HashSet<usize>,
        names: &mut Names<'t>,
    ) -> Option<&'t str> {
        let (name, span) = (entry.key.as_ref(), entry.key_span);
        if name.is_empty() {
            return None;
        }
        if !is_name(name) || name == ANSWER {
            let message = format!("`{}` is not fit to name a value", brief(name));
            let label = "a name has lower-case letters, digits and `_`, starts with a letter and has at most 32";
            let diagnostic = Diagnostic::error("deck::bad-name", message, span, label);
            self.report(diagnostic.help(format!(
                "and it is none of: {}, and, or, not, {ANSWER}",
                FUNCTIONS.map(|(function, _)| function).join(", ")
            )));
            return None;
        }
        if let Some(first) = names.find(name) {
            let message = format!("two values have the name `{name}`");
            let diagnostic = Diagnostic::error("deck::duplicate-name", message, span, "again here")
                .related(first.span, "first here")
                .help("give one of them another name");
            self.report(diagnostic);
            return None;
        }
        names.known.push(Name {
            text: name,
            span,
            is_text,
            drawn,
        });
        Some(name)
    }

    fn draw<'t>(
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
    fn rows<'t>(
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
        if is_same && !own.is_empty() {
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

    fn derive<'t>(
        &mut self,
        entry: Option<&'t Entry<'_>>,
        names: &mut Names<'t>,
    ) -> Option<Vec<(Derived, Span)>> {
        let Some(entry) = entry else {
            return Some(Vec::new());
        };
        let mut derived = Vec::new();
        for entry in self.named(entry)? {
            let is = self.expression(entry, names);
            let from = is.iter().flat_map(|(is, _)| is.names());
            let drawn = from
                .filter_map(|name| names.find(name))
                .flat_map(|name| name.drawn.iter().copied())
                .collect();
            let name = self.name(entry, false, drawn, names);
            derived.push(name.zip(is).map(|(name, (is, span))| {
                let name = name.to_owned();
                (Derived { name, is }, span)
            }));
        }
        derived.into_iter().collect()
    }

    /// An expression under a key, with every name in it known.
    fn expression(
        &mut self,
        entry: &Entry<'_>,
        names: &mut Names<'_>,
    ) -> Option<(Expression, Span)> {
        let node = &entry.value;
        let Value::Scalar(scalar) = &node.value else {
            let diagnostic = self.wrong_type(&entry.key, "an expression", node);
            self.report(diagnostic.help("write it after the key; put it in double quotes if YAML takes it for something else"));
            return None;
        };
        if self.is_cut(node, scalar) {
            return None;
        }
        let text = scalar.text.trim_end();
        let expression = match Expression::read(text) {
            Ok(expression) => expression,
            Err(error) => {
                let span = self.within(node, scalar, error.start, error.end);
                let message = format!("`{}` holds no expression", brief(&entry.key));
                let diagnostic = Diagnostic::error(
                    "deck::bad-expression",
                    message,
                    span,
                    error.problem.to_string(),
                );
                self.report(diagnostic.help(
                    "an expression has numbers, names, + - * /, brackets, < <= > >= == !=, and, or, not, min, max, floor, ceil, round, abs, if(condition, then, otherwise)",
                ));
                return None;
            }
        };
        let mut is_sound = true;
        for name in expression.names() {
            let at = word(text, name);
            let span = self.within(node, scalar, at, at + name.len());
            is_sound &= self.uses(name, span, false, names);
        }
        is_sound.then_some((expression, self.head(node)))
    }

    /// Notes that a name is used; refuses one that is not known.
    fn uses(&mut self, name: &str, span: Span, in_text: bool, names: &mut Names<'_>) -> bool {
        names.used.insert(name.to_owned());
        let Some(known) = names.find(name) else {
            let message = format!("there is no value `{}` here", brief(name));
            let diagnostic =
                Diagnostic::error("deck::unknown-name", message, span, "not known here");
            let others = || names.known.iter().map(|known| known.text);
            self.report(match nearest(name, others()) {
                Some(near) => {
                    diagnostic.help(format!("a value with a similar name exists: `{near}`"))
                }
                None => diagnostic.help(format!(
                    "known here: {}; a derived value is known to what stands below it",
                    others().collect::<Vec<&str>>().join(", ")
                )),
            });
            return false;
        };
        if known.is_text && !in_text {
            let message = format!("`{name}` is a text and cannot be reckoned with");
            let diagnostic = Diagnostic::error(
                "deck::text-in-expression",
                message,
                span,
                "used as a number here",
            )
            .related(known.span, "drawn here");
            self.report(
                diagnostic
                    .help("put the number that belongs to it in a column of its own under `rows`"),
            );
            return false;
        }
        true
    }

    /// A stretch of a scalar's text as a place in the file; the first line of the scalar if it is not there as it was written.
    fn within(&self, node: &Node<'_>, scalar: &Scalar<'_>, start: usize, end: usize) -> Span {
        let raw = self.source.slice(node.span);
        match raw.find(scalar.text.trim_end()) {
            Some(base) => {
                let base = node.span.start() + base;
                self.source.span(base + start..base + end)
            }
            None => self.head(node),
        }
    }

    /// Checks the values that a text shows.
    fn template(
        &mut self,
        node: &Node<'_>,
        text: &str,
        knows_answer: bool,
        names: &mut Names<'_>,
    ) -> Vec<String> {
        let mut shown = Vec::new();
        let mut seen: HashMap<String, usize> = HashMap::new();
        for piece in pieces(text) {
            let (Piece::Value { place, .. } | Piece::Wrong(_, place)) = piece else {
                continue;
            };
            let run = text.get(place.0..place.1).unwrap_or_default();
            // Folded and quoted texts differ from the file, but a pair of braces stands there as it is.
            let count = seen.entry(run.to_owned()).or_default();
            let raw = self.source.slice(node.span);
            let at = raw.match_indices(run).nth(*count).map(|(at, _)| at);
            *count += 1;
            let span = at.map_or_else(
                || self.head(node),
                |at| {
                    let start = node.span.start() + at;
                    self.source.span(start..start + run.len())
                },
            );
            match piece {
                Piece::Value { name: ANSWER, .. } if knows_answer => {}
                Piece::Value { name: ANSWER, .. } => {
                    let message = "the key would be shown before it is asked for";
                    self.error(
                        "deck::key-shown",
                        message,
                        span,
                        "only the solution and a slip's `why` may",
                    );
                }
                Piece::Value { name, .. } => {
                    if self.uses(name, span, true, names) {
                        shown.push(name.to_owned());
                    }
                }
                Piece::Wrong(..) | Piece::Text(_) => {
                    let message = "braces that show no value";
                    let diagnostic = Diagnostic::error(
                        "deck::bad-placeholder",
                        message,
                        span,
                        "nothing to show",
                    );
                    self.report(diagnostic.help("write `{name}`, or `{name:1}` for one decimal; texts of computed numbers have no other braces"));
                }
            }
        }
        shown
    }

    /// Every wording must tell what was drawn, itself or by what follows from it.
    fn stems_show(&mut self, fields: Fields<'_, '_>, names: &mut Names<'_>) {
        let stem = fields.get("stem").map(|entry| &entry.value);
        let wordings = fields.get("wordings").map(|entry| entry.value.nodes());
        for node in stem.into_iter().chain(wordings.unwrap_or_default()) {
            let Some(text) = node.text() else { continue };
            let shown = self.template(node, text, false, names);
            let told: HashSet<usize> = shown
                .iter()
                .filter_map(|name| names.find(name))
                .flat_map(|name| name.drawn.iter().copied())
                .collect();
            let drawn = names.known.iter().flat_map(|name| &name.drawn);
            let untold: BTreeSet<usize> = drawn
                .copied()
                .filter(|number| !told.contains(number))
                .collect();
            // A thing drawn has the number of its first name.
            let names = untold
                .into_iter()
                .filter_map(|number| names.known.get(number));
            for Name {
                text: name, span, ..
            } in names
            {
                let message = format!("`{name}` is drawn but the candidate is not told");
                let place = self.head(node);
                let diagnostic = Diagnostic::error(
                    "deck::value-not-told",
                    message,
                    place,
                    "this wording does not show it",
                )
                .related(*span, "drawn here")
                .help(format!("write `{{{name}}}` where its value belongs"));
                self.report(diagnostic);
            }
        }
    }

    fn unused(&mut self, names: &Names<'_>) {
        for name in &names.known {
            if !names.used.contains(name.text) {
                let message = format!("nothing uses the value `{}`", name.text);
                let diagnostic =
                    Diagnostic::error("deck::unused-value", message, name.span, "only here");
                self.report(diagnostic.help("use it, or take it out"));
            }
        }
    }

    fn slips<'t>(
        &mut self,
        entry: Option<&'t Entry<'_>>,
        lists: &Lists<'_>,
        names: &mut Names<'t>,
    ) -> Option<Vec<(Slip, Span)>> {
        let Some(entry) = entry else {
            return Some(Vec::new());
        };
        let nodes = self.list(entry, 1..=8)?;
        let mut slips = Vec::new();
        for node in nodes {
            slips.push(self.slip(node, lists, names));
        }
        let slips: Option<Vec<(Slip, Span)>> = slips.into_iter().collect();
        let slips = slips?;
        self.alike(
            "slips",
            slips.iter().map(|(slip, span)| (slip.name.as_str(), *span)),
        );
        Some(slips)
    }

    fn slip(
        &mut self,
        node: &Node<'_>,
        lists: &Lists<'_>,
        names: &mut Names<'_>,
    ) -> Option<(Slip, Span)> {
        let fields = self.fields(node, &shape::SLIP)?;
        let name = fields
            .get("name")
            .and_then(|entry| self.line("name", &entry.value, longest::LINE));
        let gives = fields
            .get("gives")
            .and_then(|entry| self.expression(entry, names));
        let why = fields.get("why").and_then(|entry| {
            let text = self.text("why", &entry.value, longest::REASON)?;
            self.template(&entry.value, &text, true, names);
            Some(text)
        });
        let belief = self.belief_of(fields, lists);
        let (gives, span) = gives?;
        let slip = Slip {
            name: name?,
            gives,
            why: why?,
            belief: belief?,
        };
        Some((slip, span))
    }

    /// `down 1`, `up 0.5` or `nearest 10`.
    fn rounding(&mut self, entry: &Entry<'_>) -> Option<Rounding> {
        let text = self.line("round", &entry.value, longest::TERM)?;
        let read = || {
            let (side, step) = text.split_once(' ')?;
            let side = match side {
                "down" => Side::Down,
                "up" => Side::Up,
                "nearest" => Side::Nearest,
                _ => return None,
            };
            let step: f64 = plain_number(step.trim())?;
            (step > 0.0).then_some(Rounding { side, step })
        };
        let rounding = read();
        if rounding.is_none() {
            let message = format!("`{}` is no way to round", brief(&text));
            let diagnostic =
                Diagnostic::error("deck::bad-rounding", message, entry.value.span, "not known");
            self.report(
                diagnostic
                    .help("write a side and a step above 0: `down 1`, `up 0.5`, `nearest 10`"),
            );
        }
        rounding
    }

    /// `1` or `2 %`.
    fn tolerance(&mut self, entry: &Entry<'_>) -> Option<Tolerance> {
        let Value::Scalar(scalar) = &entry.value.value else {
            let diagnostic = self.wrong_type("tolerance", "a number or a share", &entry.value);
            self.report(diagnostic);
            return None;
        };
        let text = scalar.text.trim();
        let share = text.strip_suffix('%').map(str::trim_end);
        let tolerance = match share {
            Some(share) => plain_number(share)
                .filter(|share| *share > 0.0 && *share <= 50.0)
                .map(|share| Tolerance::Relative(share / 100.0)),
            None => plain_number(text)
                .filter(|room| *room >= 0.0)
                .map(Tolerance::Absolute),
        };
        if tolerance.is_none() {
            let message = format!("`{}` is no tolerance", brief(text));
            let diagnostic = Diagnostic::error(
                "deck::bad-tolerance",
                message,
                entry.value.span,
                "must be 0 or more, or a share of at most 50 %",
            );
            self.report(diagnostic.help(
                "write how far an answer may lie from the key: `1` in its unit, or `2 %` of it",
            ));
        }
        tolerance
    }

    fn unit(&mut self, name: &str, node: &Node<'_>) -> Option<String> {
        let unit = self.line(name, node, longest::TERM)?;
        let is_good = unit.starts_with(|first: char| first.is_alphabetic() || "%°".contains(first))
            && !unit
                .split(' ')
                .any(|word| word.starts_with(|first: char| first.is_ascii_digit()))
            && unit
                .chars()
                .all(|character| character.is_alphanumeric() || " %°/.^-·".contains(character));
        if !is_good {
            let message = format!("`{}` is not fit to be typed behind a number", brief(&unit));
            let diagnostic = Diagnostic::error(
                "deck::bad-unit",
                message,
                node.span,
                "must start with a letter, % or °, and hold no numbers of its own",
            );
            self.report(diagnostic);
            return None;
        }
        Some(unit)
    }

    fn units(&mut self, fields: Fields<'_, '_>) -> Option<Vec<String>> {
        let Some(entry) = fields.get("units") else {
            return Some(Vec::new());
        };
        let nodes = self.list(entry, 1..=20)?;
        let Some(unit_entry) = fields.get("unit") else {
            let message = "other spellings of a unit, but no `unit`";
            self.error(
                "deck::units-without-unit",
                message,
                entry.key_span,
                "of which unit?",
            );
            return None;
        };
        let unit = unit_entry.value.text().unwrap_or_default();
        let mut units = Vec::new();
        for node in nodes {
            let other = self.unit("units", node);
            let differs = |other: &String| {
                let (own, other) = (unit::known(unit), unit::known(other));
                own.is_some() && other.is_some() && own != other
            };
            if let Some(other) = other.as_ref().filter(|other| differs(other)) {
                let message = format!(
                    "{} is not another spelling of {}",
                    brief(other),
                    brief(unit)
                );
                let diagnostic =
                    Diagnostic::error("deck::unit-mismatch", message, node.span, "another unit")
                        .related(unit_entry.value.span, "the unit of the key")
                        .help(
                            "units that measure the same are converted by themselves; take it out",
                        );
                self.report(diagnostic);
            }
            units.push(other);
        }
        units.into_iter().collect()
    }
}

/// What an optional key holds: the outer says whether it is sound.
#[expect(
    clippy::option_option,
    reason = "the outer is soundness, the inner belongs to the model"
)]
fn optional<T>(read: Option<Option<T>>) -> Option<Option<T>> {
    match read {
        None => Some(None),
        Some(read) => read.map(Some),
    }
}

/// A number of digits with at most one point.
fn plain_number(text: &str) -> Option<f64> {
    let is_plain = text
        .bytes()
        .all(|byte| byte.is_ascii_digit() || byte == b'.');
    text.parse()
        .ok()
        .filter(|number: &f64| is_plain && *number < 1e9)
}

/// Where a name first stands as a whole word.
fn word(text: &str, name: &str) -> usize {
    let is_part = |character: char| character.is_ascii_alphanumeric() || character == '_';
    let whole = text.match_indices(name).find(|(at, _)| {
        let before = text.get(..*at).and_then(|before| before.chars().last());
        let after = text
            .get(at + name.len()..)
            .and_then(|after| after.chars().next());
        !before.is_some_and(is_part) && !after.is_some_and(is_part)
    });
    whole.map_or(0, |(at, _)| at)
}
