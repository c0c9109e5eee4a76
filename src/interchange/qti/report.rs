//! What an export could not take along and why, and which identifier became of which id.

use std::fmt;

use super::names;
use super::plan::{asked, is_exported};
use crate::deck::model::{AnswerOption, Body, Deck, Item};
use crate::text::Shown;
use crate::words::counted;

/// Why an item is not exported.
pub const UNSCORED: &str = "no rule of the standard scores this: a flap design is measured, of several right places any one counts, and a case goes with all its parts or not at all";

/// The account of one export.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// How many items are in the package.
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
    /// Number of the part from 1, if it belongs to a part of a case.
    pub part: Option<usize>,
    /// An option, step, left, right or place as answer logs write it; `None` for the item or the part itself.
    pub choice: Option<String>,
    /// Identifier in the package; a choice's holds within its item.
    pub identifier: String,
    /// File of the item in the package.
    pub file: String,
}

/// The account for `deck`.
pub(super) fn report(deck: &Deck) -> Report {
    Report {
        items: deck.items.iter().filter(|item| is_exported(item)).count(),
        left_behind: left_behind(deck),
        names: names(deck),
    }
}

fn left_behind(deck: &Deck) -> Vec<LeftBehind> {
    let mut left = vec![LeftBehind {
        what: "confidence".to_owned(),
        why: "the standard has no place for it; scores count right and wrong alone",
    }];
    let items = deck.items.iter().filter(|item| !is_exported(item));
    let items: Vec<&str> = items.map(|item| item.id.as_str()).collect();
    if !items.is_empty() {
        let count = counted(items.len(), "item", "items");
        left.push(LeftBehind {
            what: format!("{count}, {}", items.join(", ")),
            why: UNSCORED,
        });
    }
    let mut tell = |count: usize, (one, many): (&str, &str), why: &'static str| {
        if count > 0 {
            left.push(LeftBehind {
                what: counted(count, one, many),
                why,
            });
        }
    };
    // Of items that stay behind whole nothing more is said.
    let there = || deck.items.iter().filter(|item| is_exported(item));
    let wordings = there().map(|item| item.stems.len().saturating_sub(1)).sum();
    tell(
        wordings,
        ("further wording", "further wordings"),
        "an item has one stem; the first is exported",
    );
    let (beliefs, terms, refused, computed) = counts(there());
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
    tell(
        computed,
        ("computed number", "computed numbers"),
        "one draw is exported, the same in every export; numbers are written without a unit, and the numbers of typical errors are in the explanations",
    );
    let safety = there().filter(|item| item.is_safety()).count();
    tell(
        safety,
        ("safety mark", "safety marks"),
        "the standard has no place for them; the cautions are in the explanations, which a system may be set not to show",
    );
    tell(
        deck.topics.len(),
        ("topic's weight", "topics' weights"),
        "every question counts 1; topics are the sections of the test",
    );
    let cases = there().filter(|item| !item.parts().is_empty());
    tell(
        cases.count(),
        ("case asked part by part", "cases asked part by part"),
        "an item shows all its parts at once, so what comes to light by one may give away the part before; each right part scores 1",
    );
    left
}

/// Answers that betray a belief, typed items, refused terms, computed numbers.
fn counts<'d>(items: impl Iterator<Item = &'d Item>) -> (usize, usize, usize, usize) {
    let betrays = |options: &[AnswerOption]| {
        options
            .iter()
            .filter(|option| option.belief.is_some())
            .count()
    };
    let mut counts = (0, 0, 0, 0);
    for item in items.flat_map(Item::with_parts) {
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
            Body::Numeric(numeric) => {
                let slips = numeric.slips.iter();
                counts.0 += slips.filter(|slip| slip.belief.is_some()).count();
                counts.3 += 1;
            }
            Body::Locate(locate) => {
                counts.0 += locate
                    .wrong
                    .iter()
                    .filter(|wrong| wrong.belief.is_some())
                    .count();
            }
            Body::Order(_) | Body::Match(_) | Body::Flap(_) | Body::Case(_) => {}
        }
    }
    counts
}

fn names(deck: &Deck) -> Vec<Name> {
    let mut names = Vec::new();
    for item in deck.items.iter().filter(|item| is_exported(item)) {
        let file = names::item_file(deck, item);
        let mut name = |part, choice: Option<&str>, identifier: &str| {
            names.push(Name {
                item: item.id.clone(),
                part,
                choice: choice.map(str::to_owned),
                identifier: identifier.to_owned(),
                file: file.clone(),
            });
        };
        name(None, None, &names::item(deck, item));
        for question in asked(item) {
            if question.part.is_some() {
                name(question.part, None, &question.response);
            }
            for choice in question.plan.interaction.choices() {
                name(question.part, Some(&choice.deck_id), &choice.id);
            }
        }
    }
    names
}

impl Report {
    /// The table of identifiers as CSV (RFC 4180). Only the name of a place can need quotes.
    #[must_use]
    pub fn names_csv(&self) -> String {
        let mut csv = String::from("item,part,choice,identifier,file\r\n");
        for name in &self.names {
            let choice = quoted(name.choice.as_deref().unwrap_or_default());
            let part = name.part.map(|part| part.to_string()).unwrap_or_default();
            let fields = [&name.item, &part, &choice, &name.identifier, &name.file];
            csv.push_str(&fields.map(String::as_str).join(","));
            csv.push_str("\r\n");
        }
        csv
    }
}

/// A field of CSV. The names of places come from a deck: cleaned, and in quotes if anything in them could end the field.
fn quoted(text: &str) -> String {
    let clean = Shown::new(text).into_string();
    if clean.contains([',', '"']) {
        format!("\"{}\"", clean.replace('"', "\"\""))
    } else {
        clean
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
