//! Topics, sources and beliefs that no item uses: left over, or misspelt where they should be used.

use std::collections::HashSet;

use super::{Find, Flaw, Rule, Whole};
use crate::deck::model::{Body, Item};
use crate::deck::read::Placed;
use crate::deck::yaml::Node;
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::unused",
    severity: Severity::Warning,
    why: "a topic without items leaves its share of the exam uncovered; a source or belief without items may be missing where it belongs",
    help: "write an item for it, or take it out",
    wrong: "A source `HUPP` in `sources` that no item cites",
    right: "An item with `sources: [HUPP p 147]`, or no such source",
    find: Find::Deck(find),
};

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    let draft = whole.draft;
    let items = || {
        draft
            .items
            .iter()
            .flat_map(|placed| placed.part.with_parts())
    };
    let topics: HashSet<&str> = items().map(|item| item.topic.as_str()).collect();
    let sources: HashSet<&str> = items()
        .flat_map(|item| &item.sources)
        .map(|cited| cited.source.as_str())
        .collect();
    let beliefs: HashSet<&str> = items().flat_map(betrayed).collect();
    let mut flaws = Vec::new();
    unused(
        "topic",
        &draft.topics,
        |topic| &topic.id,
        &topics,
        &mut flaws,
    );
    unused(
        "source",
        &draft.sources,
        |source| &source.id,
        &sources,
        &mut flaws,
    );
    unused(
        "belief",
        &draft.beliefs,
        |belief| &belief.id,
        &beliefs,
        &mut flaws,
    );
    let diagrams = items().filter_map(|item| match &item.body {
        Body::Locate(locate) => Some(locate.figure.id.as_str()),
        _ => None,
    });
    unused(
        "diagram",
        &draft.diagrams,
        |figure| &figure.id,
        &diagrams.collect(),
        &mut flaws,
    );
    flaws
}

fn unused<T>(
    what: &str,
    parts: &[Placed<'_, '_, T>],
    id: impl Fn(&T) -> &str,
    used: &HashSet<&str>,
    flaws: &mut Vec<Flaw>,
) {
    for placed in parts {
        let id = id(&placed.part);
        if !used.contains(id) {
            let span = placed
                .node
                .get("id")
                .or(placed.node.get("diagram"))
                .map_or(placed.node.span, |id: &Node<'_>| id.span);
            flaws.push(Flaw::new(
                format!("no item uses the {what} `{id}`"),
                span,
                "only here",
            ));
        }
    }
}

/// The beliefs that wrong answers to an item betray.
fn betrayed(item: &Item) -> Vec<&str> {
    let beliefs: Vec<&Option<String>> = match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => {
            choice.options.iter().map(|option| &option.belief).collect()
        }
        Body::Short(short) => short.refuse.iter().map(|refused| &refused.belief).collect(),
        Body::Numeric(numeric) => numeric.slips.iter().map(|slip| &slip.belief).collect(),
        Body::Locate(locate) => locate.wrong.iter().map(|wrong| &wrong.belief).collect(),
        Body::Flap(task) => task.slips.iter().map(|slip| &slip.belief).collect(),
        Body::Order(_) | Body::Match(_) | Body::Case(_) => Vec::new(),
    };
    beliefs.into_iter().flatten().map(String::as_str).collect()
}
