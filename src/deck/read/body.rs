//! What an item of each kind has besides: options, steps, pairs, terms.

use std::collections::{HashMap, HashSet};

use super::Reader;
use super::deck::Lists;
use super::fields::Fields;
use super::shape::{self, longest};
use crate::deck::model::{AnswerOption, Body, Choice, Extra, Match, Pair, Refused, Short, Step};
use crate::deck::yaml::{Entry, Node};
use crate::diagnostic::Diagnostic;
use crate::source::Span;
use crate::text;

/// What is read of an entry, with where its text stands.
type Placed<T> = (T, Span);

impl Reader<'_> {
    pub(super) fn body(
        &mut self,
        kind: &str,
        fields: Fields<'_, '_>,
        lists: &Lists<'_>,
    ) -> Option<Body> {
        match kind {
            "single" => self.choice(fields, lists, true).map(Body::Single),
            "multiple" => self.choice(fields, lists, false).map(Body::Multiple),
            "order" => self.steps(fields).map(Body::Order),
            "match" => self.matching(fields).map(Body::Match),
            "short" => self.short(fields, lists).map(Body::Short),
            "flap" => self
                .flap(fields, lists)
                .map(|task| Body::Flap(Box::new(task))),
            "locate" => self.locate(fields, lists).map(Body::Locate),
            "case" => self.case(fields, lists).map(Body::Case),
            "numeric" => self
                .numeric(fields, lists)
                .map(|numeric| Body::Numeric(Box::new(numeric))),
            _ => None,
        }
    }

    fn choice(
        &mut self,
        fields: Fields<'_, '_>,
        lists: &Lists<'_>,
        is_single: bool,
    ) -> Option<Choice> {
        let keep_order = self.flag(fields.get("keep_order"));
        let entry = fields.get("options")?;
        let nodes = self.list(entry, 2..=8)?;
        let options = self.each(nodes, |reader, node| reader.option(node, lists));
        self.alike(
            "options",
            options
                .iter()
                .flatten()
                .map(|(option, span)| (option.text.as_str(), *span)),
        );
        self.keys_of_choice(entry, nodes, is_single);
        Some(Choice {
            options: all(options)?,
            keep_order: keep_order?,
        })
    }

    /// Counts the keys, also of options that could not be read: a key among them is a key.
    fn keys_of_choice(&mut self, entry: &Entry<'_>, nodes: &[Node<'_>], is_single: bool) {
        let marks = nodes.iter().filter_map(|node| node.entry("key"));
        let (keys, unread): (Vec<_>, Vec<_>) = marks
            .filter(|key| key.value.flag() != Some(false))
            .partition(|key| key.value.flag().is_some());
        let mark = |key: &Entry<'_>| self.source.span(key.key_span.start()..key.value.span.end());
        match keys.as_slice() {
            [] if unread.is_empty() => {
                let message = "none of the options is the key";
                let diagnostic = Diagnostic::error(
                    "deck::no-key",
                    message,
                    entry.key_span,
                    "nothing here is right",
                );
                self.report(diagnostic.help("mark the right option with `key: true`"));
            }
            [first, second, ..] if is_single => {
                let message = "a single item has one key";
                let diagnostic =
                    Diagnostic::error("deck::two-keys", message, mark(second), "a second key")
                        .related(mark(first), "the first key")
                        .help("keep the best answer as the key, or make the kind `multiple`");
                self.report(diagnostic);
            }
            _ => {}
        }
    }

    fn option(&mut self, node: &Node<'_>, lists: &Lists<'_>) -> Option<Placed<AnswerOption>> {
        let fields = self.fields(node, &shape::OPTION)?;
        let (text, span) = self.shown(fields, "text", longest::OPTION)?;
        let key = self.flag(fields.get("key"))?;
        let why = self.why(fields);
        let belief = self.belief_of(fields, lists);
        if !key && fields.get("why").is_none() {
            let diagnostic = Diagnostic::error(
                "deck::missing-reason",
                "a wrong option has no `why`",
                span,
                "why is this wrong?",
            )
            .help("add `why`: what whoever chooses it has mistaken; it is shown with the reveal");
            self.report(diagnostic);
        }
        if key && let Some(entry) = fields.get("belief") {
            let message = "the key cannot betray a mistaken belief";
            let diagnostic = Diagnostic::error(
                "deck::belief-on-key",
                message,
                entry.key_span,
                "this option is right",
            );
            self.report(
                diagnostic.help("take the key out, or move it to the option that it belongs to"),
            );
        }
        let option = AnswerOption {
            text,
            key,
            why: why?,
            belief: belief?,
        };
        Some((option, span))
    }

    fn steps(&mut self, fields: Fields<'_, '_>) -> Option<Vec<Step>> {
        let nodes = self.list(fields.get("steps")?, 3..=8)?;
        let steps = self.each(nodes, |reader, node| {
            let fields = reader.fields(node, &shape::STEP)?;
            let text = reader.shown(fields, "text", longest::OPTION);
            let why = reader.why(fields)?;
            text.map(|(text, span)| (Step { text, why }, span))
        });
        self.alike(
            "steps",
            steps
                .iter()
                .flatten()
                .map(|(step, span)| (step.text.as_str(), *span)),
        );
        all(steps)
    }

    fn matching(&mut self, fields: Fields<'_, '_>) -> Option<Match> {
        let extra = fields.get("extra");
        let extras = extra
            .and_then(|entry| self.list(entry, 1..=8))
            .unwrap_or_default();
        let entry = fields.get("pairs")?;
        let nodes = self.list(entry, 2..=8)?;
        let mut rights: Vec<Placed<String>> = Vec::new();
        let pairs = self.each(nodes, |reader, node| {
            let fields = reader.fields(node, &shape::PAIR)?;
            let left = reader.shown(fields, "left", longest::OPTION);
            let right = reader.shown(fields, "right", longest::OPTION);
            let why = reader.why(fields)?;
            rights.extend(right.clone());
            let (left, span) = left?;
            let right = right?.0;
            Some((Pair { left, right, why }, span))
        });
        self.alike(
            "lefts",
            pairs
                .iter()
                .flatten()
                .map(|(pair, span)| (pair.left.as_str(), *span)),
        );
        let extras = self.each(extras, |reader, node| {
            let fields = reader.fields(node, &shape::EXTRA)?;
            let text = reader.shown(fields, "text", longest::OPTION);
            let why = fields
                .get("why")
                .and_then(|entry| reader.text("why", &entry.value, longest::REASON));
            let (text, span) = text?;
            Some((Extra { text, why: why? }, span))
        });
        self.rights(entry, &rights, &extras);
        Some(Match {
            pairs: all(pairs)?,
            extra: all(extras)?,
        })
    }

    /// Rights may be shared by pairs if they are the same text; a near copy is a slip, and so is an extra that some left wants.
    fn rights(
        &mut self,
        entry: &Entry<'_>,
        rights: &[Placed<String>],
        extras: &[Option<Placed<Extra>>],
    ) {
        let mut seen: HashSet<&str> = HashSet::new();
        let mut different: Vec<(&str, Span)> = Vec::new();
        for (text, span) in rights {
            if seen.insert(text) {
                different.push((text, *span));
            }
        }
        let has_extra = extras.iter().any(Option::is_some);
        let extras = extras
            .iter()
            .flatten()
            .map(|(extra, span)| (extra.text.as_str(), *span));
        let count = different.len();
        self.alike("rights", different.into_iter().chain(extras));
        if count == 1 && rights.len() > 1 && !has_extra {
            let diagnostic = Diagnostic::error(
                "deck::nothing-to-match",
                "every left has the same right",
                entry.key_span,
                "nothing is left to choose",
            )
            .help("add pairs with another right, or rights that belong to none under `extra`");
            self.report(diagnostic);
        }
    }

    fn short(&mut self, fields: Fields<'_, '_>, lists: &Lists<'_>) -> Option<Short> {
        let refuse = fields.get("refuse");
        let refused = refuse
            .and_then(|entry| self.list(entry, 1..=usize::MAX))
            .unwrap_or_default();
        let refused = self.each(refused, |reader, node| reader.refused(node, lists));
        let nodes = self.list(fields.get("accept")?, 1..=usize::MAX)?;
        let accepted = self.each(nodes, |reader, node| {
            let text = reader.line("accept", node, longest::TERM)?;
            Some((text, node.span))
        });
        let forms = accepted
            .iter()
            .flatten()
            .map(|(text, span)| (text.as_str(), *span));
        self.alike("accepted forms", forms.clone());
        self.alike(
            "refused answers",
            refused
                .iter()
                .flatten()
                .map(|(refused, span)| (refused.text.as_str(), *span)),
        );
        let forms: HashMap<String, Span> = forms
            .map(|(text, span)| (text::alike(text), span))
            .collect();
        for (wrong, span) in refused.iter().flatten() {
            if let Some(form) = forms.get(&text::alike(&wrong.text)) {
                let message = "the same answer is accepted and refused";
                let diagnostic =
                    Diagnostic::error("deck::accepted-and-refused", message, *span, "refused here")
                        .related(*form, "accepted here")
                        .help("take it out of one of the lists");
                self.report(diagnostic);
            }
        }
        Some(Short {
            accept: all(accepted)?,
            refuse: all(refused)?,
        })
    }

    fn refused(&mut self, node: &Node<'_>, lists: &Lists<'_>) -> Option<Placed<Refused>> {
        let fields = self.fields(node, &shape::REFUSED)?;
        let text = self.shown(fields, "text", longest::TERM);
        let why = fields
            .get("why")
            .and_then(|entry| self.text("why", &entry.value, longest::REASON));
        let belief = self.belief_of(fields, lists);
        let (text, span) = text?;
        let refused = Refused {
            text,
            why: why?,
            belief: belief?,
        };
        Some((refused, span))
    }

    /// A text that a candidate reads on one line of a list.
    pub(super) fn shown(
        &mut self,
        fields: Fields<'_, '_>,
        key: &str,
        longest: usize,
    ) -> Option<Placed<String>> {
        let entry = fields.get(key)?;
        let text = self.line(key, &entry.value, longest)?;
        Some((text, self.head(&entry.value)))
    }

    #[expect(
        clippy::option_option,
        reason = "the outer is soundness, the inner belongs to the model"
    )]
    fn why(&mut self, fields: Fields<'_, '_>) -> Option<Option<String>> {
        match fields.get("why") {
            Some(entry) => self.text("why", &entry.value, longest::REASON).map(Some),
            None => Some(None),
        }
    }

    #[expect(
        clippy::option_option,
        reason = "the outer is soundness, the inner belongs to the model"
    )]
    pub(super) fn belief_of(
        &mut self,
        fields: Fields<'_, '_>,
        lists: &Lists<'_>,
    ) -> Option<Option<String>> {
        let Some(entry) = fields.get("belief") else {
            return Some(None);
        };
        let belief = self.line("belief", &entry.value, longest::REASON)?;
        self.known(
            "deck::unknown-belief",
            &belief,
            entry.value.span,
            Some(&lists.beliefs),
        );
        Some(Some(belief))
    }

    /// Reads every entry, sound or not, so that the problems of all are found.
    fn each<'t, 's, T>(
        &mut self,
        nodes: &'t [Node<'s>],
        mut read: impl FnMut(&mut Self, &'t Node<'s>) -> Option<Placed<T>>,
    ) -> Vec<Option<Placed<T>>> {
        nodes.iter().map(|node| read(self, node)).collect()
    }
}

/// The parts, if every one is sound.
fn all<T>(placed: Vec<Option<Placed<T>>>) -> Option<Vec<T>> {
    placed
        .into_iter()
        .map(|placed| placed.map(|(part, _)| part))
        .collect()
}
