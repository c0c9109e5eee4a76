//! What changed between two editions of a deck, as text and as JSON.

use serde_json::{Value, json};

use crate::deck::diff::{Change, Fate};
use crate::deck::model::Deck;
use crate::words::counted;

/// What happens to answers where there are two decks and not two editions of one.
const TWO: &str = "no answer to the one counts for the other";

/// The changes as one object.
#[must_use]
pub fn json(old: &Deck, new: &Deck, changes: &[Change]) -> Value {
    let is_same = old.id == new.id;
    let items = changes.iter().map(|change| {
        let moved = change.moved.as_ref();
        json!({
            "item": change.item,
            "item_before": change.before,
            "change": change.fate.word(),
            "meaning_changed": change.fate == Fate::Rekeyed,
            "topic_before": moved.map(|(old, _)| old),
            "topic": moved.map(|(_, new)| new),
            "history": if is_same { change.fate.history() } else { TWO },
        })
    });
    json!({
        "deck": new.id,
        "same_deck": is_same,
        "old_edition": old.edition.to_string(),
        "new_edition": new.edition.to_string(),
        "unchanged": unchanged(new, changes),
        "changes": items.collect::<Vec<Value>>(),
    })
}

/// The changes in lines, of two decks only that they are two: one a kind of change with what it does to answers, one an item.
#[must_use]
pub fn lines(old: &Deck, new: &Deck, changes: &[Change]) -> Vec<String> {
    if old.id != new.id {
        // What is alike in them may be chance, and says nothing of answers.
        let named = |deck: &Deck| format!("{}, edition {}", deck.id, deck.edition);
        let both = format!("{}; {}", named(old), named(new));
        return vec![both, format!("these are two decks: {TWO}")];
    }
    let mut lines = vec![format!(
        "{}, edition {} to {}",
        new.id, old.edition, new.edition
    )];
    if new.edition < old.edition {
        lines.push("the second file is the older edition".to_owned());
    } else if new.edition == old.edition && !changes.is_empty() {
        lines.push(
            "the contents changed and the edition did not: give what is handed out a later date, or nobody can tell the two apart"
                .to_owned(),
        );
    }
    for group in changes.chunk_by(|one, two| one.fate == two.fate) {
        let Some(first) = group.first() else { continue };
        let items = counted(group.len(), "item", "items");
        lines.push(format!(
            "{items} {}: {}",
            first.fate.word(),
            first.fate.history()
        ));
        lines.extend(group.iter().map(|change| {
            let before = change.before.as_ref();
            let before = before.map(|before| format!(", before {before}"));
            let moved = change.moved.as_ref();
            let moved = moved.map(|(old, new)| format!(" (topic {old} to {new})"));
            let (before, moved) = (before.unwrap_or_default(), moved.unwrap_or_default());
            format!("  {}{before}{moved}", change.item)
        }));
    }
    let same = unchanged(new, changes);
    lines.push(format!("{} unchanged", counted(same, "item", "items")));
    lines
}

fn unchanged(new: &Deck, changes: &[Change]) -> usize {
    let there = changes.iter().filter(|change| change.fate != Fate::Removed);
    new.items.len().saturating_sub(there.count())
}
