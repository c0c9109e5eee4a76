//! The reader: walks the tree once, collects every problem, and makes the model of what is sound.

mod body;
mod case;
mod deck;
mod diagram;
mod draws;
mod effort;
mod fields;
pub(super) mod flap;
mod formulas;
mod item;
mod lists;
mod locate;
mod measure;
mod names;
mod numeric;
mod scalars;
pub(super) mod shape;
mod trial;

use std::collections::HashMap;

pub(super) use deck::{Draft, Placed};
pub(super) use effort::Trial;

use super::yaml::{Node, brief};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::source::{SourceFile, Span};

/// How a file is read.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Manner {
    /// How thoroughly computed numbers are tried out.
    pub(super) trial: Trial,
    /// Whether the file may be a diagram alone.
    pub(super) takes_diagram: bool,
}

/// Reads a whole deck as far as it can be read.
pub(super) fn read<'t, 's>(
    source: &SourceFile,
    tree: &'t Node<'s>,
    manner: Manner,
    found: &mut Diagnostics,
) -> Draft<'t, 's> {
    let mut reader = Reader {
        source,
        found,
        effort: effort::Effort::of(manner.trial, tree),
        compared: 0,
        item: None,
        is_whole: true,
    };
    let is_diagram = tree.get("diagram").is_some() && tree.get("deck").is_none();
    if manner.takes_diagram && is_diagram {
        reader.diagram(tree);
        return Draft::default();
    }
    reader.deck(tree)
}

struct Reader<'t> {
    source: &'t SourceFile,
    found: &'t mut Diagnostics,
    /// How much the trials of this deck's computed numbers may still take.
    effort: effort::Effort,
    /// Ids that unknown ids were compared with so far.
    compared: usize,
    /// The item that is being read.
    item: Option<String>,
    /// Whether no part had to be left out so far.
    is_whole: bool,
}

impl Reader<'_> {
    fn report(&mut self, mut diagnostic: Diagnostic) {
        diagnostic.item.clone_from(&self.item);
        self.found.push(diagnostic);
    }

    fn error(
        &mut self,
        code: &'static str,
        message: impl Into<String>,
        span: Span,
        label: impl Into<String>,
    ) {
        self.report(Diagnostic::error(code, message, span, label));
    }

    /// The first line of a part: where something that is not there is reported.
    fn head(&self, node: &Node<'_>) -> Span {
        self.source.first_line(node.span)
    }
}

/// The ids of one list; `None` in place of it if the list is missing or empty, so that nothing is said to be unknown.
struct Known<'t> {
    what: &'static str,
    ids: HashMap<&'t str, Span>,
    order: Vec<&'t str>,
}

impl<'t> Known<'t> {
    fn of(what: &'static str, list: &'t Node<'_>) -> Self {
        let mut known = Self {
            what,
            ids: HashMap::new(),
            order: Vec::new(),
        };
        for node in list.nodes() {
            if let Some(id) = node.get("id")
                && let Some(text) = id.text()
                && !known.ids.contains_key(text.trim())
            {
                known.ids.insert(text.trim(), id.span);
                known.order.push(text.trim());
            }
        }
        known
    }

    fn none(what: &'static str) -> Self {
        Self {
            what,
            ids: HashMap::new(),
            order: Vec::new(),
        }
    }
}

impl Reader<'_> {
    /// Refuses an id that its list does not have.
    fn known(&mut self, code: &'static str, id: &str, span: Span, known: Option<&Known<'_>>) {
        let Some(known) = known.filter(|known| !known.ids.contains_key(id)) else {
            return;
        };
        let what = known.what;
        let message = format!("there is no {what} `{}` in this deck", brief(id));
        let diagnostic = Diagnostic::error(code, message, span, format!("not the id of a {what}"));
        let near = self.nearest_id(id, &known.order);
        self.report(match near {
            Some(near) => diagnostic
                .help(format!(
                    "a {what} with a similar id exists: `{}`",
                    brief(near)
                ))
                .patch(span, near),
            None => diagnostic.help(listed(what, &known.order)),
        });
    }
}

/// Ids that one file's unknown ids are compared with, in all: enough for hundreds of slips, and no file takes minutes.
const MOST_COMPARED: usize = 300_000;

impl Reader<'_> {
    /// The id nearest to an unknown one, as long as looking for it takes no time.
    fn nearest_id<'w>(&mut self, id: &str, ids: &[&'w str]) -> Option<&'w str> {
        self.compared += ids.len();
        let is_quick = self.compared <= MOST_COMPARED;
        is_quick.then(|| nearest(id, ids.iter().copied())).flatten()
    }
}

fn listed(what: &str, ids: &[&str]) -> String {
    const MOST: usize = 12;
    if ids.is_empty() {
        return format!("the deck has no {what}s: add it to a list `{what}s` at the top");
    }
    let names: Vec<String> = ids
        .iter()
        .take(MOST)
        .map(|id| format!("`{}`", brief(id)))
        .collect();
    let more = if ids.len() > MOST { ", …" } else { "" };
    format!("the deck's {what}s: {}{more}", names.join(", "))
}

/// The word nearest to a misspelt one: at most a third of its letters away.
pub(in crate::deck) fn nearest<'w>(
    word: &str,
    words: impl Iterator<Item = &'w str>,
) -> Option<&'w str> {
    let length = word.chars().count();
    // Longer is no misspelling, and the distance takes time in proportion to the length.
    if length > 100 {
        return None;
    }
    let is_too_far = |other: &str| {
        let other = other.chars().count();
        3 * length.abs_diff(other) > length.max(other)
    };
    words
        .filter(|other| other.len() <= 400 && !is_too_far(other))
        .map(|other| (strsim::osa_distance(word, other), other))
        .filter(|(distance, other)| *distance * 3 <= length.max(other.chars().count()))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, other)| other)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn the_nearest_word_is_near() {
        let words = ["options", "stem", "sources"];
        let near = |word| nearest(word, words.into_iter());
        assert_eq!(near("optoins"), Some("options"));
        assert_eq!(near("source"), Some("sources"));
        assert_eq!(near("steam"), Some("stem"));
        assert_eq!(near("picture"), None);
        assert_eq!(near(""), None);
    }
}
