//! Cases: a vignette whose parts are items in their own right.

use std::collections::HashMap;

use super::Reader;
use super::deck::Lists;
use super::fields::Fields;
use super::scalars::Letters;
use super::shape::{self, longest};
use crate::deck::model::{Case, Item, Part};
use crate::deck::yaml::Node;
use crate::diagnostic::Diagnostic;

impl Reader<'_> {
    pub(super) fn case(&mut self, fields: Fields<'_, '_>, lists: &Lists<'_>) -> Option<Case> {
        let nodes = self.list(fields.get("parts")?, 2..=8)?;
        let mut seen = HashMap::new();
        let mut parts = Vec::with_capacity(nodes.len());
        for node in nodes {
            parts.push(self.part_of_case(node, lists));
            self.twice("part", node.get("id"), &mut seen);
        }
        let parts: Option<Vec<Part>> = parts.into_iter().collect();
        Some(Case { parts: parts? })
    }

    /// A part without its topic, and without sources if it names none: the case has them.
    fn part_of_case(&mut self, node: &Node<'_>, lists: &Lists<'_>) -> Option<Part> {
        let kind = self.kind(node);
        if let Some(inner) = kind.filter(|kind| kind.what == "case") {
            let span = node.get("kind").map_or(node.span, |kind| kind.span);
            let message = "a case cannot be a part of a case";
            let label = format!("a part of kind {}", inner.what);
            let diagnostic = Diagnostic::error("deck::case-in-case", message, span, label);
            self.report(diagnostic.help("write its parts as parts of this case"));
            return None;
        }
        let fields = self.asked_fields(node, &shape::PART, kind)?;
        let value = |key| fields.get(key).map(|entry| &entry.value);
        let id = value("id").and_then(|node| self.id("id", node, Letters::Lower));
        let finding = match value("finding") {
            Some(node) => self.text("finding", node, longest::STEM).map(Some),
            None => Some(None),
        };
        let stem = value("stem").and_then(|node| self.text("stem", node, longest::STEM));
        let body = kind.and_then(|kind| self.body(kind.what, fields, lists));
        let rationale =
            value("rationale").and_then(|node| self.text("rationale", node, longest::REASON));
        let sources = match fields.get("sources") {
            Some(_) => self.citations(fields, lists),
            None => Some(Vec::new()),
        };
        let caution = self.caution(fields);
        let item = Item {
            id: id?,
            topic: String::new(),
            stems: vec![stem?],
            body: body?,
            rationale: rationale?,
            sources: sources?,
            caution: caution?,
        };
        Some(Part {
            finding: finding?,
            item,
        })
    }
}
