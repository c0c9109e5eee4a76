//! What decks cover of the exam: items by topic and kind against the weights, safety items, ages of sources, key places.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use serde_json::{Value, json};

use super::topics::{Clash, clashes};
use crate::deck::model::{Body, Deck, Item};
use crate::kinds::letter;
use crate::text::Shown;
use crate::words::counted;

/// Years after which a source counts as old.
const OLD: i32 = 15;
/// A topic is thin if it has less than this share of the items that its weight asks for.
const THIN: f64 = 0.5;

/// What decks cover.
#[derive(Clone, Debug, PartialEq)]
pub struct Coverage {
    decks: usize,
    items: usize,
    safety: usize,
    kinds: BTreeMap<&'static str, usize>,
    topics: Vec<Topic>,
    clashes: Vec<Clash>,
    sources: Sources,
    /// By number of options, how often the key stands in each place; items that keep the order of their options.
    key_places: BTreeMap<usize, Vec<usize>>,
}

/// What there is of a topic.
#[derive(Clone, Debug, PartialEq)]
struct Topic {
    id: String,
    title: String,
    /// Per cent of the exam.
    weight: f64,
    items: usize,
    safety: usize,
    kinds: BTreeMap<&'static str, usize>,
    /// Year of the newest source that an item rests on.
    newest: Option<u16>,
    /// Items of which every source is old.
    stale: usize,
}

/// The sources that items rest on.
#[derive(Clone, Debug, Default, PartialEq)]
struct Sources {
    cited: usize,
    oldest: Option<u16>,
    newest: Option<u16>,
    /// Older than [`OLD`] years at the newest edition.
    old: usize,
    /// Items of which every source is old.
    items_on_old_only: usize,
}

impl Coverage {
    /// Looks at all items of some decks. A topic with one id in several decks is one topic, with the title and weight that it
    /// has first.
    #[must_use]
    pub fn of(decks: &[Deck]) -> Self {
        let mut coverage = Self {
            decks: decks.len(),
            items: 0,
            safety: 0,
            kinds: BTreeMap::new(),
            topics: Vec::new(),
            clashes: clashes(decks),
            sources: Sources::default(),
            key_places: BTreeMap::new(),
        };
        let now = decks.iter().map(|deck| deck.edition.year()).max();
        let limit = now.unwrap_or_default() - OLD;
        let mut cited: BTreeSet<(&str, u16)> = BTreeSet::new();
        for deck in decks {
            coverage.take_topics(deck);
            for item in &deck.items {
                let places = item.with_parts().flat_map(|item| &item.sources);
                let years = places.filter_map(|place| {
                    let source = deck.sources.iter().find(|one| one.id == place.source)?;
                    Some((source.cite.as_str(), source.year))
                });
                let years: Vec<(&str, u16)> = years.collect();
                coverage.take(item, years.iter().map(|(_, year)| *year).max(), limit);
                cited.extend(years);
            }
        }
        let years = cited.iter().map(|(_, year)| *year);
        coverage.sources = Sources {
            cited: cited.len(),
            oldest: years.clone().min(),
            newest: years.clone().max(),
            old: years.filter(|year| i32::from(*year) < limit).count(),
            items_on_old_only: coverage.topics.iter().map(|topic| topic.stale).sum(),
        };
        coverage
    }

    fn take_topics(&mut self, deck: &Deck) {
        for topic in &deck.topics {
            if self.topics.iter().all(|known| known.id != topic.id) {
                self.topics.push(Topic {
                    id: topic.id.clone(),
                    title: topic.title.clone(),
                    weight: topic.weight,
                    items: 0,
                    safety: 0,
                    kinds: BTreeMap::new(),
                    newest: None,
                    stale: 0,
                });
            }
        }
    }

    fn take(&mut self, item: &Item, newest: Option<u16>, limit: i32) {
        let kind = item.body.kind();
        let safety = usize::from(item.is_safety());
        self.items += 1;
        self.safety += safety;
        *self.kinds.entry(kind).or_default() += 1;
        if let Some(topic) = self.topics.iter_mut().find(|topic| topic.id == item.topic) {
            topic.items += 1;
            topic.safety += safety;
            *topic.kinds.entry(kind).or_default() += 1;
            topic.newest = topic.newest.max(newest);
            topic.stale += usize::from(newest.is_some_and(|year| i32::from(year) < limit));
        }
        for part in item.with_parts() {
            self.take_key_place(part);
        }
    }

    fn take_key_place(&mut self, item: &Item) {
        if let Body::Single(choice) = &item.body
            && choice.keep_order
            && let Some(place) = choice.options.iter().position(|option| option.key)
        {
            let count = choice.options.len();
            let places = self
                .key_places
                .entry(count)
                .or_insert_with(|| vec![0; count]);
            if let Some(times) = places.get_mut(place) {
                *times += 1;
            }
        }
    }

    fn weights(&self) -> f64 {
        self.topics.iter().map(|topic| topic.weight).sum()
    }

    /// How many of the items a topic's weight asks for.
    fn aim(&self, topic: &Topic) -> f64 {
        ratio(self.items) * topic.weight / self.weights()
    }

    fn is_thin(&self, topic: &Topic) -> bool {
        ratio(topic.items) < THIN * self.aim(topic)
    }

    /// Whether nothing newer than the limit is cited in a topic with items.
    fn is_stale(topic: &Topic) -> bool {
        topic.items > 0 && topic.stale == topic.items
    }

    /// As one JSON object; shares are of 1, weights per cent of the exam.
    #[must_use]
    pub fn json(&self) -> Value {
        let topics = self.topics.iter().map(|topic| {
            json!({
                "topic": topic.id,
                "title": topic.title,
                "weight": topic.weight,
                "items": topic.items,
                "share": share(topic.items, self.items),
                "aim": self.aim(topic),
                "safety": topic.safety,
                "kinds": topic.kinds,
                "newest_source": topic.newest,
                "thin": self.is_thin(topic),
                "stale": Self::is_stale(topic),
            })
        });
        let places = self
            .key_places
            .iter()
            .map(|(count, places)| json!({"options": count, "places": places}));
        json!({
            "items": self.items,
            "decks": self.decks,
            "safety": self.safety,
            "safety_share": share(self.safety, self.items),
            "kinds": self.kinds,
            "weight_covered": self.topics.iter().filter(|topic| topic.items > 0).map(|topic| topic.weight).sum::<f64>(),
            "topics": topics.collect::<Vec<Value>>(),
            "key_places": places.collect::<Vec<Value>>(),
            "sources": {
                "cited": self.sources.cited,
                "oldest": self.sources.oldest,
                "newest": self.sources.newest,
                "older_than_years": OLD,
                "old": self.sources.old,
                "items_on_old_only": self.sources.items_on_old_only,
            },
        })
    }

    /// As text of at most 80 columns.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::new();
        let kinds: Vec<String> = self
            .kinds
            .iter()
            .map(|(kind, count)| format!("{count} {kind}"))
            .collect();
        let items = counted(self.items, "item", "items");
        let decks = counted(self.decks, "deck", "decks");
        line(
            &mut text,
            &format!("{items} in {decks}: {}", kinds.join(", ")),
        );
        let per_cent = 100.0 * share(self.safety, self.items);
        line(
            &mut text,
            &format!(
                "{} ({per_cent:.0} %)",
                counted(self.safety, "safety item", "safety items")
            ),
        );
        line(&mut text, "");
        self.table(&mut text);
        line(&mut text, "");
        self.table_of_kinds(&mut text);
        line(&mut text, "");
        self.remarks(&mut text);
        text
    }

    fn table(&self, text: &mut String) {
        line(
            text,
            &format!(
                "{:<44}{:>8}{:>7}{:>7}{:>8}",
                "Topic", "weight", "items", "aim", "safety"
            ),
        );
        for topic in &self.topics {
            let mark = match (self.is_thin(topic), Self::is_stale(topic)) {
                (true, true) => "  !o",
                (true, false) => "  !",
                (false, true) => "  o",
                (false, false) => "",
            };
            let (weight, aim) = (format!("{} %", topic.weight), self.aim(topic));
            line(
                text,
                &format!(
                    "{}{weight:>8}{:>7}{aim:>7.0}{:>8}{mark}",
                    column(&format!("{}: {}", topic.id, topic.title), 44),
                    topic.items,
                    topic.safety
                ),
            );
        }
    }

    fn table_of_kinds(&self, text: &mut String) {
        const WIDTH: usize = 9;
        let first = 78 - WIDTH * self.kinds.len().min(5);
        let names: Vec<&&str> = self.kinds.keys().collect();
        // Five kinds a table keep within the width.
        for (number, kinds) in names.chunks(5).enumerate() {
            if number > 0 {
                line(text, "");
            }
            let head: Vec<String> = kinds.iter().map(|kind| format!("{kind:>WIDTH$}")).collect();
            line(text, &format!("{:<first$}{}", "Topic", head.concat()));
            for topic in &self.topics {
                let counts = kinds.iter().map(|kind| match topic.kinds.get(**kind) {
                    Some(count) => format!("{count:>WIDTH$}"),
                    None => format!("{:>WIDTH$}", "-"),
                });
                line(
                    text,
                    &format!(
                        "{}{}",
                        column(&topic.id, first),
                        counts.collect::<Vec<String>>().concat()
                    ),
                );
            }
        }
    }

    fn remarks(&self, text: &mut String) {
        for topic in self.topics.iter().filter(|topic| self.is_thin(topic)) {
            let aim = self.aim(topic);
            line(
                text,
                &format!(
                    "! thin: {} has {}; its weight asks for {aim:.0}",
                    topic.id,
                    counted(topic.items, "item", "items")
                ),
            );
        }
        for topic in self.topics.iter().filter(|topic| Self::is_stale(topic)) {
            let newest = topic.newest.unwrap_or_default();
            line(
                text,
                &format!("o stale: {} rests on nothing newer than {newest}", topic.id),
            );
        }
        for clash in &self.clashes {
            line(text, &clash.told);
        }
        for (count, places) in &self.key_places {
            let items: usize = places.iter().sum();
            let times = |(place, times): (usize, &usize)| match times {
                0 => format!("{} never", letter(place)),
                1 => format!("{} once", letter(place)),
                times => format!("{} {times} times", letter(place)),
            };
            let places: Vec<String> = places.iter().enumerate().map(times).collect();
            let items = counted(items, "item", "items");
            line(
                text,
                &format!(
                    "of {items} with {count} options in fixed order the key is {}",
                    places.join(", ")
                ),
            );
        }
        if let (Some(oldest), Some(newest)) = (self.sources.oldest, self.sources.newest) {
            let sources = counted(self.sources.cited, "source", "sources");
            line(
                text,
                &format!(
                    "{sources} cited, {oldest} to {newest}; {} older than {OLD} years",
                    self.sources.old
                ),
            );
            line(
                text,
                &format!(
                    "{} on such sources alone",
                    counted(self.sources.items_on_old_only, "item rests", "items rest")
                ),
            );
        }
    }
}

/// Columns of a terminal that nothing may exceed.
const WIDTH: usize = 80;

fn line(text: &mut String, line: &str) {
    for line in Shown::new(line.trim_end()).wrap(WIDTH) {
        // Writing to a string cannot fail.
        let _infallible = writeln!(text, "{line}");
    }
}

/// A text in a column; a longer one is cut.
fn column(text: &str, width: usize) -> String {
    let shown = Shown::new(text).cut(width - 1);
    let blank = width - shown.width().min(width);
    format!("{}{}", shown.as_str(), " ".repeat(blank))
}

#[expect(clippy::cast_precision_loss, reason = "counts of items")]
const fn ratio(count: usize) -> f64 {
    count as f64
}

fn share(part: usize, whole: usize) -> f64 {
    if whole == 0 {
        0.0
    } else {
        ratio(part) / ratio(whole)
    }
}
