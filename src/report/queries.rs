//! What candidates remark on the items of a deck, item by item, for the instructor.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Value, json};

use super::seen::{Lettered, Seen, seen};
use crate::answer::{Answer, AnswerId, Confidence, PartNumber};
use crate::deck::fingerprint;
use crate::deck::model::{Deck, Item};
use crate::kinds;
use crate::query::Query;
use crate::text::Shown;
use crate::time::Day;
use crate::words::counted;

/// The queries on a deck in some logs.
#[derive(Clone, Debug, PartialEq)]
pub struct Queries {
    deck: String,
    edition: String,
    /// Items with queries in the order of the deck, then those that it no longer has.
    items: Vec<OnItem>,
    /// How many queries are on items of other decks.
    elsewhere: usize,
}

/// An item with its queries, the oldest first.
#[derive(Clone, Debug, PartialEq)]
struct OnItem {
    item: String,
    /// What a candidate sees of it first; `None` if the deck no longer has it.
    heading: Option<String>,
    answers: Answers,
    queries: Vec<Remark>,
}

/// How an item was answered. Of a case every part counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Answers {
    /// Answers to the key of now; to any if the deck no longer has the item.
    given: usize,
    right: usize,
    /// Answers to keys of before.
    before: usize,
}

#[derive(Clone, Debug, PartialEq)]
struct Remark {
    day: Day,
    part: Option<PartNumber>,
    edition: String,
    /// The answer that it was written on, if that is in the logs.
    answer: Option<Answered>,
    /// The item holds something else to be right by now; `None` if the deck no longer has it.
    key_changed: Option<bool>,
    text: String,
}

/// What an answer says to the instructor.
#[derive(Clone, Debug, PartialEq)]
struct Answered {
    right: bool,
    confidence: Confidence,
    /// The stem with the numbers that were drawn; `None` if none were.
    asked: Option<String>,
    /// What was shown and what was answered, as the log has it.
    shown: Vec<String>,
    response: Vec<String>,
    /// The same in the letters of the screen; `None` if there were none, or the deck cannot tell.
    seen: Option<Seen>,
    /// The edition that was answered, if it is another than that of the deck and the log speaks in its ids.
    other_edition: Option<String>,
}

impl Answered {
    /// What `answer` says; `item` is what was asked, if the deck still has it, in the edition `now`.
    fn new(answer: &Answer, item: Option<&Item>, now: &str) -> Self {
        let asked = item.and_then(|item| kinds::stem_with(item, answer.wording, &answer.shown));
        let seen = item.and_then(|item| seen(item, answer));
        // Another edition may have other options under the same ids.
        let is_now = answer.edition == now;
        let has_ids = asked.is_none() && !answer.shown.is_empty();
        Self {
            right: answer.right,
            confidence: answer.confidence,
            asked,
            shown: answer.shown.clone(),
            response: answer.response.clone(),
            seen: seen.filter(|_| is_now),
            other_edition: (has_ids && !is_now).then(|| answer.edition.clone()),
        }
    }
}

impl Queries {
    /// The queries on `deck` in logs with these answers and queries. What stands in several logs counts once.
    #[must_use]
    pub fn of(deck: &Deck, answers: &[Answer], queries: &[Query]) -> Self {
        // A candidate may have exported twice.
        let answers: BTreeMap<AnswerId, &Answer> =
            answers.iter().map(|answer| (answer.id, answer)).collect();
        let mut answered: BTreeMap<&str, Vec<&Answer>> = BTreeMap::new();
        for &answer in answers
            .values()
            .filter(|answer| answer.item.deck == deck.id)
        {
            answered.entry(&answer.item.item).or_default().push(answer);
        }
        let mut seen = BTreeSet::new();
        let mut by_item: BTreeMap<&str, Vec<&Query>> = BTreeMap::new();
        let mut elsewhere = 0;
        for query in queries {
            if !seen.insert((&query.item, query.answer, query.at.utc_ms, &query.text)) {
                continue;
            }
            if query.item.deck == deck.id {
                by_item.entry(&query.item.item).or_default().push(query);
            } else {
                elsewhere += 1;
            }
        }
        let edition = deck.edition.to_string();
        let mut told = |id: &str, item: Option<&Item>| {
            let mut queries = by_item.remove(id)?;
            queries.sort_by_key(|query| query.at.utc_ms);
            let now = item.map(fingerprint);
            let remarks = queries.iter().map(|query| Remark {
                day: query.at.day,
                part: query.part,
                edition: query.edition.clone(),
                answer: answers.get(&query.answer).map(|answer| {
                    let item = item.map(|item| part_of(item, query.part));
                    Answered::new(answer, item, &edition)
                }),
                key_changed: now.as_ref().map(|now| *now != query.fingerprint),
                text: query.text.clone(),
            });
            Some(OnItem {
                item: id.to_owned(),
                heading: item.map(kinds::heading),
                answers: count(answered.get(id).map_or(&[], Vec::as_slice), now.as_deref()),
                queries: remarks.collect(),
            })
        };
        let there = deck.items.iter();
        let mut items: Vec<OnItem> = there
            .filter_map(|item| told(&item.id, Some(item)))
            .collect();
        let gone: BTreeSet<&str> = queries
            .iter()
            .filter(|query| query.item.deck == deck.id)
            .map(|query| query.item.item.as_str())
            .collect();
        items.extend(gone.into_iter().filter_map(|id| told(id, None)));
        Self {
            deck: deck.id.clone(),
            edition,
            items,
            elsewhere,
        }
    }

    /// The listing as one object.
    #[must_use]
    pub fn json(&self) -> Value {
        json!({
            "deck": self.deck,
            "edition": self.edition,
            "items": self.items.iter().map(item_object).collect::<Vec<Value>>(),
            "on_other_decks": self.elsewhere,
        })
    }

    /// The listing in lines of at most `width` columns that may be shown.
    #[must_use]
    pub fn lines(&self, width: usize) -> Vec<Shown> {
        let all: usize = self.items.iter().map(|item| item.queries.len()).sum();
        let head = format!(
            "{}, edition {}: {} on {}",
            self.deck,
            self.edition,
            counted(all, "query", "queries"),
            counted(self.items.len(), "item", "items"),
        );
        let mut lines = Shown::new(&head).wrap(width);
        for item in &self.items {
            lines.push(Shown::default());
            lines.extend(item_lines(item, width));
        }
        if self.elsewhere > 0 {
            let queries = counted(self.elsewhere, "query", "queries");
            lines.push(Shown::default());
            lines.push(Shown::new(&format!(
                "{queries} on other decks: not listed here"
            )));
        }
        lines
    }
}

/// What was asked of an item: itself, or this part of it if it is a case.
fn part_of(item: &Item, part: Option<PartNumber>) -> &Item {
    let part = part.and_then(|part| item.parts().get(part.index()));
    part.map_or(item, |part| &part.item)
}

/// How an item was answered, of which the fingerprint is `now`.
fn count(answers: &[&Answer], now: Option<&str>) -> Answers {
    let mut counts = Answers::default();
    for answer in answers {
        if now.is_none_or(|now| now == answer.fingerprint) {
            counts.given += 1;
            counts.right += usize::from(answer.right);
        } else {
            counts.before += 1;
        }
    }
    counts
}

fn item_object(item: &OnItem) -> Value {
    let queries = item.queries.iter().map(|remark| {
        let answer = remark.answer.as_ref();
        json!({
            "day": remark.day.to_string(),
            "edition": remark.edition,
            "part": remark.part.map(|part| json!({"number": part.number, "of": part.of})),
            "asked": answer.and_then(|answer| answer.asked.as_ref()),
            "shown": answer.map(|answer| &answer.shown),
            "response": answer.map(|answer| &answer.response),
            "right": answer.map(|answer| answer.right),
            "confidence": answer.map(|answer| answer.confidence.word()),
            "key_changed": remark.key_changed,
            "text": remark.text,
        })
    });
    json!({
        "item": item.item,
        "in_deck": item.heading.is_some(),
        "stem": item.heading,
        "answers": item.answers.given,
        "right": item.answers.right,
        "answers_before": item.answers.before,
        "queries": queries.collect::<Vec<Value>>(),
    })
}

fn item_lines(item: &OnItem, width: usize) -> Vec<Shown> {
    let mut lines = vec![match &item.heading {
        Some(heading) => Shown::new(&format!("{}  {heading}", item.item)).cut(width),
        None => Shown::new(&format!("{}  no longer in this deck", item.item)),
    }];
    let Answers {
        given,
        right,
        before,
    } = item.answers;
    let told = match given {
        0 => "no answer in these logs".to_owned(),
        _ => format!(
            "{}, {right} right ({} %)",
            counted(given, "answer", "answers"),
            (200 * right + given) / (2 * given)
        ),
    };
    let earlier = match before {
        0 => String::new(),
        _ => format!("; {before} to an earlier key"),
    };
    lines.push(Shown::new(&format!("  {told}{earlier}")));
    for remark in &item.queries {
        // The first row stands behind `lead`, the others below its end.
        let mut hanging = |lead: &str, text: &str| {
            let rows = Shown::new(text).wrap(width.saturating_sub(lead.len()).max(1));
            let blank = " ".repeat(lead.len());
            lines.extend(rows.iter().enumerate().map(|(number, row)| {
                let lead = if number == 0 { lead } else { &blank };
                Shown::new(&format!("{lead}{row}"))
            }));
        };
        hanging("  ", &occasion(remark));
        for (lead, text) in remark.answer.iter().flat_map(answer_rows) {
            hanging(lead, &text);
        }
        hanging("    ", &remark.text);
    }
    lines
}

/// What was asked, shown and answered, row by row.
fn answer_rows(answer: &Answered) -> Vec<(&'static str, String)> {
    const FURTHER: &str = "          ";
    let told = |first: &'static str, entries: &[Lettered]| {
        let leads = std::iter::once(first).chain(std::iter::repeat(FURTHER));
        let rows = leads.zip(entries.iter().map(Lettered::told));
        rows.collect::<Vec<_>>()
    };
    let mut rows = Vec::new();
    if let Some(asked) = &answer.asked {
        rows.push(("  asked:  ", asked.clone()));
    }
    if let Some(seen) = &answer.seen {
        rows.extend(told("  shown:  ", &seen.shown));
        rows.extend(told("  answer: ", &seen.answer));
    } else if !answer.response.is_empty() {
        let edition = answer.other_edition.as_ref().map(|edition| {
            format!(
                ", in ids of edition {edition}, where the screen showed {}: list it with that edition to see the texts",
                answer.shown.join(" ")
            )
        });
        let (response, edition) = (answer.response.join(" "), edition.unwrap_or_default());
        rows.push(("  answer: ", format!("{response}{edition}")));
    }
    rows
}

/// `2027-03-02, part 2 of 4, answered wrong and certain, on edition 2026-11-01, the key has changed since`.
fn occasion(remark: &Remark) -> String {
    let part = remark.part.map(|part| part.to_string());
    let answer = match &remark.answer {
        Some(answer) => {
            let mark = if answer.right { "right" } else { "wrong" };
            format!("answered {mark} and {}", answer.confidence.word())
        }
        None => "the answer is not in these logs".to_owned(),
    };
    let changed = (remark.key_changed == Some(true)).then(|| {
        let edition = &remark.edition;
        format!("on edition {edition}, the key has changed since")
    });
    [Some(remark.day.to_string()), part, Some(answer), changed]
        .into_iter()
        .flatten()
        .collect::<Vec<String>>()
        .join(", ")
}
