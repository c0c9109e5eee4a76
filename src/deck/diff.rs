//! What changed between two editions of a deck, and what that does to the answers given to its items.

use std::collections::HashMap;

use super::fingerprint::fingerprint;
use super::model::{Deck, Item};

/// What became of an item that is not what it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The item's id.
    pub item: String,
    /// What happened to it.
    pub fate: Fate,
    /// The topics before and now, if it moved.
    pub moved: Option<(String, String)>,
}

/// What happened to an item.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fate {
    /// Something else is right about it now.
    Rekeyed,
    /// It is no longer there.
    Removed,
    /// It was not there before.
    Added,
    /// The same is right about it, told in other words.
    Reworded,
    /// Not a word changed; it belongs to another topic.
    Moved,
}

impl Fate {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Rekeyed => "rekeyed",
            Self::Removed => "removed",
            Self::Added => "added",
            Self::Reworded => "reworded",
            Self::Moved => "moved",
        }
    }

    /// What happens to the answers that candidates gave to it.
    #[must_use]
    pub const fn history(self) -> &'static str {
        match self {
            Self::Rekeyed => {
                "earlier answers no longer count: it is asked again as an item not seen before"
            }
            Self::Removed => "answers are kept in the log and count again if the item returns",
            Self::Added => "not seen before",
            Self::Reworded | Self::Moved => "answers go on counting",
        }
    }
}

/// What changed from one edition to another: what matters most to candidates first, then by id.
#[must_use]
pub fn diff(old: &Deck, new: &Deck) -> Vec<Change> {
    let by_id = |deck: &'_ Deck| -> HashMap<String, usize> {
        let items = deck.items.iter().enumerate();
        items
            .map(|(number, item)| (item.id.clone(), number))
            .collect()
    };
    let (before, after) = (by_id(old), by_id(new));
    let mut changes = Vec::new();
    for item in &old.items {
        match after
            .get(&item.id)
            .and_then(|number| new.items.get(*number))
        {
            Some(now) => changes.extend(change(item, now)),
            None => changes.push(whole(item, Fate::Removed)),
        }
    }
    let added = new
        .items
        .iter()
        .filter(|item| !before.contains_key(&item.id));
    changes.extend(added.map(|item| whole(item, Fate::Added)));
    changes.sort_by(|one, two| (one.fate, &one.item).cmp(&(two.fate, &two.item)));
    changes
}

fn whole(item: &Item, fate: Fate) -> Change {
    Change {
        item: item.id.clone(),
        fate,
        moved: None,
    }
}

fn change(old: &Item, new: &Item) -> Option<Change> {
    if old == new {
        return None;
    }
    let is_moved = old.topic != new.topic;
    let in_old_place = Item {
        topic: old.topic.clone(),
        ..new.clone()
    };
    let fate = if fingerprint(old) != fingerprint(new) {
        Fate::Rekeyed
    } else if is_moved && in_old_place == *old {
        Fate::Moved
    } else {
        Fate::Reworded
    };
    Some(Change {
        item: new.id.clone(),
        fate,
        moved: is_moved.then(|| (old.topic.clone(), new.topic.clone())),
    })
}
