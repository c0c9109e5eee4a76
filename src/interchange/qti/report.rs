//! What an export could not take along and why, and which identifier became of which id.

use std::fmt;

use super::names;
use super::plan::plan;
use crate::deck::model::{AnswerOption, Body, Deck};
use crate::text::Shown;
use crate::words::counted;

/// The account of one export.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// How many items are in the package: all of the deck's.
    pub items: usize,
    /// What stayed behind.
    pub left_behind: Vec<LeftBehind>,
    /// Every item and choice with its identifier, in the deck's order.
    pub names: Vec<Name>,
}

/// Something of the deck that the package does not hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftBehind {
    /// What, with its number.
    pub what: String,
    /// Why, and what to do about it.
    pub why: &'static str,
}

/// An id of the deck and the identifier that it became.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// Item id.
    pub item: String,
    /// Id of an option, step, left or right as answer logs write it; `None` for the item itself.
    pub choice: Option<String>,
    /// Identifier in the package; a choice's holds within its item.
    pub identifier: String,
    /// File of the item in the package.
    pub file: String,
}

/// The account for `deck`.
pub(super) fn report(deck: &Deck) -> Report {
    Report {
        items: deck.items.len(),
        left_behind: left_behind(deck),
        names: names(deck),
    }
}

fn left_behind(deck: &Deck) -> Vec<LeftBehind> {
    let mut left = vec![LeftBehind {
        what: "confidence".to_owned(),
        why: "the standard has no place for it; scores count right and wrong alone",
    }];
    let mut tell = |count: usize, (one, many): (&str, &str), why: &'static str| {
        if count > 0 {
            left.push(LeftBehind {
                what: counted(count, one, many),
                why,
            });
        }
    };
    let wordings = deck
        .items
        .iter()
        .map(|item| item.stems.len().saturating_sub(1))
        .sum();
    tell(
        wordings,
        ("further wording", "further wordings"),
        "an item has one stem; the first is exported",
    );
    let (beliefs, terms, refused) = counts(deck);
    tell(
        beliefs,
        ("link to a mistaken belief", "links to mistaken beliefs"),
        "the standard has no place for them; the reasons are in the explanations",
    );
    tell(
        terms,
        ("forgiving typed item", "forgiving typed items"),
        "accepted forms are compared letter by letter but for case, hyphens and accents; slips and plurals score nothing unless the deck lists them",
    );
    tell(
        refused,
        ("refused term", "refused terms"),
        "whatever is not accepted scores nothing, so they are not marked apart; the reasons are in the explanations",
    );
    let safety = deck.items.iter().filter(|item| item.is_safety()).count();
    tell(
        safety,
        ("safety mark", "safety marks"),
        "the standard has no place for them; the cautions are in the explanations, which a system may be set not to show",
    );
    tell(
        deck.topics.len(),
        ("topic's weight", "topics' weights"),
        "every item counts 1; topics are the sections of the test",
    );
    left
}

/// Options that betray a belief, typed items, refused terms.
fn counts(deck: &Deck) -> (usize, usize, usize) {
    let betrays = |options: &[AnswerOption]| {
        options
            .iter()
            .filter(|option| option.belief.is_some())
            .count()
    };
    let mut counts = (0, 0, 0);
    for item in &deck.items {
        match &item.body {
            Body::Single(choice) | Body::Multiple(choice) => counts.0 += betrays(&choice.options),
            Body::Short(short) => {
                counts.0 += short
                    .refuse
                    .iter()
                    .filter(|refused| refused.belief.is_some())
                    .count();
                counts.1 += 1;
                counts.2 += short.refuse.len();
            }
            Body::Order(_) | Body::Match(_) => {}
        }
    }
    counts
}

fn names(deck: &Deck) -> Vec<Name> {
    let mut names = Vec::new();
    for item in &deck.items {
        let file = names::item_file(deck, item);
        names.push(Name {
            item: item.id.clone(),
            choice: None,
            identifier: names::item(deck, item),
            file: file.clone(),
        });
        names.extend(
            plan(&item.body)
                .interaction
                .choices()
                .into_iter()
                .map(|choice| Name {
                    item: item.id.clone(),
                    choice: Some(choice.deck_id.clone()),
                    identifier: choice.id.clone(),
                    file: file.clone(),
                }),
        );
    }
    names
}

impl Report {
    /// The table of identifiers as CSV (RFC 4180). Every field is an id or a file name, so none needs quotes.
    #[must_use]
    pub fn names_csv(&self) -> String {
        let mut csv = String::from("item,choice,identifier,file\r\n");
        for name in &self.names {
            let choice = name.choice.as_deref().unwrap_or_default();
            csv.push_str(&[&name.item, choice, &name.identifier, &name.file].join(","));
            csv.push_str("\r\n");
        }
        csv
    }
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "{} in the package. Left behind:",
            counted(self.items, "item", "items")
        )?;
        for left in &self.left_behind {
            writeln!(f, "- {}: {}", Shown::new(&left.what), left.why)?;
        }
        Ok(())
    }
}
