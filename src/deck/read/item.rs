//! What every item has.

use super::Reader;
use super::deck::Lists;
use super::fields::Fields;
use super::nearest;
use super::scalars::Letters;
use super::shape::{self, KINDS, Shape, longest};
use crate::deck::check;
use crate::deck::model::{Body, Citation, Item};
use crate::deck::yaml::{Node, brief};
use crate::diagnostic::Diagnostic;

impl Reader<'_> {
    pub(super) fn item(&mut self, node: &Node<'_>, lists: &Lists<'_>) -> Option<Item> {
        // Known before anything is said about the item.
        self.item = node
            .get("id")
            .and_then(Node::text)
            .map(|id| brief(id.trim()));
        let item = self.parts_of_item(node, lists);
        self.item = None;
        item
    }

    fn parts_of_item(&mut self, node: &Node<'_>, lists: &Lists<'_>) -> Option<Item> {
        let kind = self.kind(node);
        let fields = self.asked_fields(node, &shape::ITEM, kind)?;
        let value = |key| fields.get(key).map(|entry| &entry.value);
        let id = value("id").and_then(|node| self.id("id", node, Letters::Lower));
        let topic = value("topic").and_then(|node| self.topic_of(node, lists));
        let stems = self.stems(fields);
        let mut body = kind.and_then(|kind| self.body(kind.what, fields, lists));
        let rationale =
            value("rationale").and_then(|node| self.text("rationale", node, longest::REASON));
        let sources = self.citations(fields, lists);
        let caution = self.caution(fields);
        self.allowances(fields);
        let (topic, sources) = (topic?, sources?);
        if let Some(Body::Case(case)) = &mut body {
            case.inherit(&topic, &sources);
        }
        Some(Item {
            id: id?,
            topic,
            stems: stems?,
            body: body?,
            rationale: rationale?,
            sources,
            caution: caution?,
        })
    }

    pub(super) fn kind(&mut self, node: &Node<'_>) -> Option<&'static Shape> {
        let node = node.get("kind")?;
        let name = self.line("kind", node, longest::REASON)?;
        let kind = KINDS.iter().find(|kind| kind.what == name);
        if kind.is_none() {
            let names: Vec<&str> = KINDS.iter().map(|kind| kind.what).collect();
            let message = format!("there is no kind `{}`", brief(&name));
            let span = self.head(node);
            let diagnostic =
                Diagnostic::error("deck::unknown-kind", message, span, "not a kind of item");
            self.report(match nearest(&name, names.iter().copied()) {
                Some(near) => diagnostic
                    .help(format!("a similar kind exists: `{near}`"))
                    .patch(span, near),
                None => diagnostic.help(format!("the kinds: {}", names.join(", "))),
            });
        }
        kind
    }

    fn topic_of(&mut self, node: &Node<'_>, lists: &Lists<'_>) -> Option<String> {
        let topic = self.line("topic", node, longest::REASON)?;
        self.known(
            "deck::unknown-topic",
            &topic,
            node.span,
            lists.topics.as_ref(),
        );
        Some(topic)
    }

    /// The stem and further wordings of it.
    fn stems(&mut self, fields: Fields<'_, '_>) -> Option<Vec<String>> {
        let mut placed = Vec::new();
        let mut is_sound = true;
        let stem = fields.get("stem").map(|entry| &entry.value);
        let wordings = fields.get("wordings");
        let others = wordings.map_or(Some(&[][..]), |entry| self.list(entry, 1..=usize::MAX));
        is_sound &= others.is_some();
        let named = stem.iter().map(|node| ("stem", *node));
        for (name, node) in named.chain(
            others
                .unwrap_or_default()
                .iter()
                .map(|node| ("wordings", node)),
        ) {
            match self.text(name, node, longest::STEM) {
                Some(text) => placed.push((text, self.head(node))),
                None => is_sound = false,
            }
        }
        self.alike(
            "stems",
            placed.iter().map(|(text, span)| (text.as_str(), *span)),
        );
        (is_sound && stem.is_some()).then(|| placed.into_iter().map(|(text, _)| text).collect())
    }

    pub(super) fn citations(
        &mut self,
        fields: Fields<'_, '_>,
        lists: &Lists<'_>,
    ) -> Option<Vec<Citation>> {
        let nodes = self.list(fields.get("sources")?, 1..=usize::MAX)?;
        let read: Vec<Option<Citation>> = nodes
            .iter()
            .map(|node| self.citation("sources", node, lists))
            .collect();
        read.into_iter().collect()
    }

    /// The id of a source, then where in it.
    pub(super) fn citation(
        &mut self,
        name: &str,
        node: &Node<'_>,
        lists: &Lists<'_>,
    ) -> Option<Citation> {
        let text = self.line(name, node, longest::CITE)?;
        let (source, place) = text.split_once(char::is_whitespace).unwrap_or((&text, ""));
        // "HUPP7, p 147" is how people write it.
        let source = source.trim_end_matches(',');
        // The id stands at the start of what was written, behind a quote if there is one.
        let raw = self.source.slice(node.span);
        let start = node.span.start() + raw.find(source).unwrap_or_default();
        let span = self
            .source
            .span(start..(start + source.len()).min(node.span.end()));
        self.known("deck::unknown-source", source, span, lists.sources.as_ref());
        Some(Citation {
            source: source.to_owned(),
            place: place.trim().to_owned(),
        })
    }

    /// What the item may break of the rules of item writing; the checker takes it from the tree.
    fn allowances(&mut self, fields: Fields<'_, '_>) {
        let nodes = fields
            .get("allow")
            .and_then(|entry| self.list(entry, 1..=usize::MAX));
        for node in nodes.unwrap_or_default() {
            let Some(fields) = self.fields(node, &shape::ALLOW) else {
                continue;
            };
            let value = |key| fields.get(key).map(|entry| &entry.value);
            if let Some(because) = value("because") {
                self.text("because", because, longest::REASON);
            }
            let Some(rule) = value("rule") else { continue };
            let Some(code) = self.line("rule", rule, longest::LINE) else {
                continue;
            };
            if check::codes().any(|known| known == code) {
                continue;
            }
            let message = format!(
                "there is no rule `{}` that an item could be freed of",
                brief(&code)
            );
            let diagnostic = Diagnostic::error(
                "deck::unknown-rule",
                message,
                rule.span,
                "not the code of a rule of item writing",
            );
            self.report(match nearest(&code, check::codes()) {
                Some(near) => diagnostic
                    .help(format!("a rule with a similar code exists: `{near}`"))
                    .patch(rule.span, near),
                None => diagnostic
                    .help("`luxate deck check` prints the code behind each warning; errors cannot be allowed"),
            });
        }
    }

    /// The caution: with `safety: true` and only there.
    #[expect(
        clippy::option_option,
        reason = "the outer is soundness, the inner belongs to the model"
    )]
    pub(super) fn caution(&mut self, fields: Fields<'_, '_>) -> Option<Option<String>> {
        let safety = fields.get("safety");
        let is_safety = self.flag(safety)?;
        let caution = fields.get("caution");
        let text = match caution {
            Some(entry) => Some(self.text("caution", &entry.value, longest::REASON)?),
            None => None,
        };
        match (is_safety, caution, safety) {
            (true, None, Some(safety)) => {
                let message = "a safety item must have a `caution`";
                let span = self
                    .source
                    .span(safety.key_span.start()..safety.value.span.end());
                let diagnostic = Diagnostic::error(
                    "deck::safety-without-caution",
                    message,
                    span,
                    "a wrong answer could harm a patient",
                )
                .help("add `caution`: what could go wrong for the patient, shown with the reveal");
                self.report(diagnostic);
            }
            (false, Some(caution), _) => {
                let message = "only a safety item may have a `caution`";
                let diagnostic = Diagnostic::error(
                    "deck::caution-without-safety",
                    message,
                    caution.key_span,
                    "a caution, but no `safety: true`",
                );
                let diagnostic = match safety {
                    Some(safety) => diagnostic.related(safety.value.span, "said to be none here"),
                    None => diagnostic,
                };
                self.report(diagnostic.help("add `safety: true` if a wrong answer could harm a patient; move the text to `rationale` if not"));
            }
            _ => {}
        }
        Some(text)
    }
}
