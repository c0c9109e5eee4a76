//! Flaws that an author means: an item's `allow` list names the rule and says why.
//!
//! A silence that silences nothing is told, so that none outlives its reason.

use super::{Find, Found, RULES};
use crate::deck::read::Draft;
use crate::deck::yaml::Node;
use crate::diagnostic::{Diagnostic, Severity};
use crate::source::Span;

/// What is left to report.
pub(super) struct Silenced {
    pub(super) flaws: Vec<Found>,
    /// Silences that no longer apply.
    pub(super) idle: Vec<Diagnostic>,
}

/// One entry of an `allow` list.
struct Silence<'t> {
    item: usize,
    code: &'t str,
    span: Span,
    is_used: bool,
}

/// Takes out the flaws that are allowed. Of a deck with errors not every rule was asked, so nothing is idle in it.
pub(super) fn apply(draft: &Draft<'_, '_>, is_whole: bool, mut flaws: Vec<Found>) -> Silenced {
    let mut silences: Vec<Silence<'_>> = Vec::new();
    for (item, placed) in draft.items.iter().enumerate() {
        let nodes = placed.node.get("allow").map(Node::nodes);
        for node in nodes.unwrap_or_default() {
            if let Some(rule) = node.get("rule")
                && let Some(code) = rule.text()
            {
                silences.push(Silence {
                    item,
                    code: code.trim(),
                    span: rule.span,
                    is_used: false,
                });
            }
        }
    }
    if silences.is_empty() {
        return Silenced {
            flaws,
            idle: Vec::new(),
        };
    }
    flaws.retain(|(rule, flaw)| {
        let mut matching = silences
            .iter_mut()
            .filter(|silence| flaw.item == Some(silence.item) && silence.code == rule.code);
        match matching.next() {
            Some(silence) => {
                silence.is_used = true;
                false
            }
            None => true,
        }
    });
    let idle = silences
        .iter()
        .filter(|silence| is_whole && !silence.is_used && !looks_across(silence.code));
    let idle = idle.map(|silence| {
        let mut diagnostic = Diagnostic::new(
            Severity::Warning,
            "deck::idle-silence",
            format!("`{}` is allowed but not broken", silence.code),
            silence.span,
            "nothing is silenced by this",
        )
        .help("take the entry out of `allow`");
        diagnostic.item = draft
            .items
            .get(silence.item)
            .map(|placed| placed.part.id.clone());
        diagnostic
    });
    Silenced {
        idle: idle.collect(),
        flaws,
    }
}

/// Whether a rule is asked only where decks lie side by side.
fn looks_across(code: &str) -> bool {
    RULES
        .iter()
        .any(|rule| rule.code == code && matches!(rule.find, Find::Across))
}

/// The rules that an item can be freed of; those about a whole deck belong to none of its items.
pub(in crate::deck) fn codes() -> impl Iterator<Item = &'static str> {
    let of_items = RULES.iter().filter(|rule| match rule.find {
        Find::Item(_) | Find::EnglishItem(_) | Find::EnglishItems(_) | Find::Across => true,
        Find::Deck(_) => false,
    });
    of_items.map(|rule| rule.code)
}
