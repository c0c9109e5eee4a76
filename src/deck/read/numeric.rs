//! Computed numbers: values that are drawn, values that follow, the key and slips.
//!
//! What is read here holds together: every name is known where it is used and used somewhere, and every
//! stem tells what was drawn. Whether the numbers work out is for `trial` to find.

use super::Reader;
use super::deck::Lists;
use super::fields::Fields;
use super::names::Names;
use super::shape::{self, longest};
use crate::deck::numeric::{Derived, Numeric, Slip};
use crate::deck::yaml::{Entry, Node, Value};
use crate::diagnostic::Diagnostic;
use crate::source::Span;

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
        self.effort.begin();
        let mut names = Names::default();
        let draw = self.draw(fields.get("draw"), &mut names);
        let rows = self.rows(fields.get("rows"), &mut names);
        if fields.get("draw").is_none() && fields.get("rows").is_none() {
            let kind = fields.get("kind").map(|kind| &kind.value);
            let span = kind.map_or_else(Span::default, |kind| kind.span);
            let diagnostic = Diagnostic::error(
                "deck::nothing-drawn",
                "nothing is drawn",
                span,
                "needs something to draw",
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
        self.found.errors()
    }

    /// The entries of a map whose keys are names of values.
    pub(super) fn named<'t, 's>(&mut self, entry: &'t Entry<'s>) -> Option<&'t [Entry<'s>]> {
        if let Value::Map(entries) = &entry.value.value {
            if entries.is_empty() {
                self.wrong_count(entry, 0, &(1..=usize::MAX));
                return None;
            }
            return Some(entries);
        }
        let diagnostic = self.wrong_type(&entry.key, "names with values", &entry.value);
        self.report(
            diagnostic.help("write one name a line, such as `kg: {from: 50, to: 90, step: 1}`"),
        );
        None
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
