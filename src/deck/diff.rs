//! What changed between two editions of a deck, and what that does to the answers given to its items.

use std::collections::{HashMap, VecDeque};

use super::fingerprint::fingerprint;
use super::model::{Body, Deck, Item};

/// What became of an item that is not what it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The item's id.
    pub item: String,
    /// The id it had before, if it was renamed.
    pub before: Option<String>,
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
    /// It has another id, and its key or its stem is that of an item which is no longer there.
    Renamed,
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
            Self::Renamed => "renamed",
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
                "earlier answers no longer count, and candidates are asked as if for the first time"
            }
            Self::Renamed => {
                "earlier answers stay with the old id and no longer count; whatever is the same item should keep its id"
            }
            Self::Removed => "answers are kept in the log and count again on return",
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
    let mut gone = Gone::default();
    for item in &old.items {
        match after
            .get(&item.id)
            .and_then(|number| new.items.get(*number))
        {
            Some(now) => changes.extend(change(item, now)),
            None => gone.push(item),
        }
    }
    let added = new
        .items
        .iter()
        .filter(|item| !before.contains_key(&item.id));
    for item in added {
        changes.push(match gone.take(item) {
            Some(old) => Change {
                before: Some(old.id.clone()),
                moved: moved(old, item),
                ..whole(item, Fate::Renamed)
            },
            None => whole(item, Fate::Added),
        });
    }
    let gone = gone.items.into_iter().flatten();
    changes.extend(gone.map(|item| whole(item, Fate::Removed)));
    changes.sort_by(|one, two| (one.fate, &one.item).cmp(&(two.fate, &two.item)));
    changes
}

/// The items of an old edition that the new one has no more under their ids.
#[derive(Default)]
struct Gone<'d> {
    /// Those not found under another id so far.
    items: Vec<Option<&'d Item>>,
    /// Numbers of the items with a stem, and with a fingerprint.
    by_stem: HashMap<&'d str, VecDeque<usize>>,
    by_key: HashMap<String, VecDeque<usize>>,
}

impl<'d> Gone<'d> {
    fn push(&mut self, item: &'d Item) {
        let number = self.items.len();
        self.items.push(Some(item));
        let stem = item.stems.first().map_or("", String::as_str);
        self.by_stem.entry(stem).or_default().push_back(number);
        let key = fingerprint(item);
        self.by_key.entry(key).or_default().push_back(number);
    }

    /// The first one with the stem of a new item, or else with its key.
    fn take(&mut self, item: &Item) -> Option<&'d Item> {
        let Self {
            items,
            by_stem,
            by_key,
        } = self;
        let mut first = |numbers: Option<&mut VecDeque<usize>>| {
            let numbers = numbers?;
            std::iter::from_fn(|| numbers.pop_front())
                .find_map(|number| items.get_mut(number)?.take())
        };
        let stem = item.stems.first().map_or("", String::as_str);
        first(by_stem.get_mut(stem)).or_else(|| first(by_key.get_mut(&fingerprint(item))))
    }
}

fn whole(item: &Item, fate: Fate) -> Change {
    Change {
        item: item.id.clone(),
        before: None,
        fate,
        moved: None,
    }
}

/// The topics before and now, if they differ.
fn moved(old: &Item, new: &Item) -> Option<(String, String)> {
    (old.topic != new.topic).then(|| (old.topic.clone(), new.topic.clone()))
}

fn change(old: &Item, new: &Item) -> Option<Change> {
    if old == new {
        return None;
    }
    let mut in_old_place = Item {
        topic: old.topic.clone(),
        ..new.clone()
    };
    if let Body::Case(case) = &mut in_old_place.body {
        // Its parts have their own sources by now.
        case.inherit(&old.topic, &[]);
    }
    let fate = if fingerprint(old) != fingerprint(new) {
        Fate::Rekeyed
    } else if in_old_place == *old {
        Fate::Moved
    } else {
        Fate::Reworded
    };
    Some(Change {
        moved: moved(old, new),
        ..whole(new, fate)
    })
}
