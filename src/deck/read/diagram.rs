//! Diagrams of a deck: the notation of figures, with every fault at its place in the file.
//!
//! What a figure is and when it is sound is decided by [`crate::figure`]; here its findings get their places.

use std::sync::Arc;

use serde_yaml::{Mapping, Value as Yaml};

use super::Reader;
use super::shape::longest;
use crate::deck::yaml::{Entry, Meaning, Node, Value, brief, meaning};
use crate::diagnostic::{Diagnostic, Severity};
use crate::figure::finding::{Fault, Wanted};
use crate::figure::model::Figure;
use crate::figure::{base, check, read};

/// The diagrams that items may name.
#[derive(Default)]
pub(super) struct Diagrams {
    /// Id of each diagram of the deck, and the diagram if it is sound.
    own: Vec<(String, Option<Arc<Figure>>)>,
}

impl Reader<'_> {
    /// Reads a diagram of the deck.
    pub(super) fn diagram(&mut self, node: &Node<'_>) -> Option<Arc<Figure>> {
        let texts_are_sound = self.texts_of_diagram(node);
        match read::read(&yaml(node)) {
            Err(findings) => {
                for finding in findings {
                    self.diagram_fault(node, &finding.path, &finding.fault, false);
                }
                None
            }
            Ok(figure) => {
                let findings = check::check(&figure);
                for finding in &findings {
                    self.diagram_fault(node, &finding.path, &finding.fault, true);
                }
                let is_sound = findings.iter().all(|finding| finding.fault.is_remark());
                (is_sound && texts_are_sound).then(|| Arc::new(figure))
            }
        }
    }

    /// Texts that a candidate reads obey the rules of all texts.
    fn texts_of_diagram(&mut self, node: &Node<'_>) -> bool {
        let mut is_sound = true;
        if let Some(view) = node.get("view") {
            is_sound &= self.text("view", view, longest::LINE).is_some();
        }
        let mut lines: Vec<(&str, &Node<'_>, usize)> = Vec::new();
        if let Some(toward) = node.get("toward") {
            let words = toward.entries().iter();
            lines.extend(words.map(|entry| (entry.key.as_ref(), &entry.value, longest::TERM)));
        }
        for place in node.get("places").map(Node::nodes).unwrap_or_default() {
            for (key, most) in [("place", longest::TERM), ("says", longest::LINE)] {
                lines.extend(place.get(key).map(|node| (key, node, most)));
            }
        }
        for label in node.get("labels").map(Node::nodes).unwrap_or_default() {
            lines.extend(
                label
                    .get("label")
                    .map(|node| ("label", node, longest::TERM)),
            );
        }
        for (name, node, most) in lines {
            is_sound &= self.line(name, node, most).is_some();
        }
        is_sound
    }

    fn diagram_fault(&mut self, node: &Node<'_>, path: &str, fault: &Fault, is_read: bool) {
        let at = target(node, path);
        if matches!(fault, Fault::Expected(Wanted::Text)) && at.text().is_none() && is_shown(path) {
            // Told by the rules of texts.
            return;
        }
        let span = self.head(at);
        let (severity, code) = match (is_read, fault.is_remark()) {
            (false, _) => (Severity::Error, "deck::bad-diagram"),
            (true, false) => (Severity::Error, "deck::unsound-diagram"),
            (true, true) => (Severity::Warning, "deck::diagram-remark"),
        };
        let where_to = if path.is_empty() { "here" } else { path };
        let diagnostic =
            Diagnostic::new(severity, code, fault.to_string(), span, where_to.to_owned());
        self.report(match help(fault) {
            Some(help) => diagnostic.help(help),
            None => diagnostic,
        });
    }

    /// The diagram that an item names.
    pub(super) fn diagram_of(
        &mut self,
        entry: &Entry<'_>,
        diagrams: &Diagrams,
    ) -> Option<Arc<Figure>> {
        let id = self.line("diagram", &entry.value, longest::LINE)?;
        if let Some((_, figure)) = diagrams.own.iter().find(|(own, _)| *own == id) {
            // One that is not sound has been told of.
            return figure.clone();
        }
        if let Some(figure) = base::named(&id) {
            return Some(Arc::new(figure.clone()));
        }
        let own = diagrams.own.iter().map(|(id, _)| id.as_str());
        let known: Vec<&str> = own.chain(base::TEXTS.map(|(id, _)| id)).collect();
        let message = format!("there is no diagram `{}`", brief(&id));
        let span = self.head(&entry.value);
        let diagnostic =
            Diagnostic::error("deck::unknown-diagram", message, span, "not a diagram's id");
        let near = self.nearest_id(&id, &known);
        self.report(match near {
            Some(near) => diagnostic
                .help(format!("a diagram with a similar id exists: `{near}`"))
                .patch(span, near),
            None => diagnostic.help(format!("the diagrams: {}", known.join(", "))),
        });
        None
    }
}

impl Diagrams {
    /// Takes in a diagram of the deck, also one that could not be read: it is known all the same.
    pub(super) fn add(&mut self, node: &Node<'_>, figure: Option<Arc<Figure>>) {
        if let Some(id) = node.get("diagram").and_then(Node::text) {
            self.own.push((id.trim().to_owned(), figure));
        }
    }
}

/// Whether a candidate reads what stands at a path: the texts that [`Reader::texts_of_diagram`] looks at, and no ids.
fn is_shown(path: &str) -> bool {
    path == "view"
        || path.starts_with("toward.")
        || [".place", ".says", ".label"]
            .iter()
            .any(|key| path.ends_with(key))
}

/// What to do about a fault, where its own words do not say.
const fn help(fault: &Fault) -> Option<&'static str> {
    Some(match fault {
        Fault::Close(..) => "move one, leave one out, or show less of the plane in `frame`",
        Fault::Vanishes => {
            "draw it larger, take another line for it, or show less of the plane in `frame`"
        }
        Fault::GivesAway { .. } => "say where it lies in other words",
        Fault::LabelGivesAway { .. } => {
            "label what is not asked about, or ask about something else"
        }
        Fault::Overlap(..) => "draw the regions apart, or leave one place out",
        Fault::SameWords(..) => "say what tells them apart",
        Fault::Expected(Wanted::Text) => "put it in double quotes if it looks like a number",
        _ => return None,
    })
}

/// A node as the value that figures are read from. Keys that the tree refused are left out.
fn yaml(node: &Node<'_>) -> Yaml {
    match &node.value {
        Value::List(nodes) => Yaml::Sequence(nodes.iter().map(yaml).collect()),
        Value::Map(entries) => {
            let pairs = entries
                .iter()
                .map(|entry| (Yaml::String(entry.key.to_string()), yaml(&entry.value)));
            Yaml::Mapping(pairs.collect::<Mapping>())
        }
        Value::Scalar(scalar) => match meaning(scalar) {
            Meaning::Text => Yaml::String(scalar.text.to_string()),
            Meaning::Null => Yaml::Null,
            Meaning::Bool(flag) => Yaml::Bool(flag),
            Meaning::Number(number) => Yaml::Number(number.into()),
        },
    }
}

/// The node that a path such as `draw[3].through` leads to, as far as it goes.
fn target<'t, 's>(node: &'t Node<'s>, path: &str) -> &'t Node<'s> {
    let mut at = node;
    for step in path.split(['.', '[']).filter(|step| !step.is_empty()) {
        let next = match step.strip_suffix(']') {
            Some(index) => index
                .parse()
                .ok()
                .and_then(|index: usize| at.nodes().get(index)),
            None => at.get(step),
        };
        match next {
            Some(next) => at = next,
            None => break,
        }
    }
    at
}
