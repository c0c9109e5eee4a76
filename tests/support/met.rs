//! A candidate who met one item ten days ago, wrong and certain of it, so that a review begins with it.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

use std::path::Path;

use luxate::answer::{Answer, AnswerId, Confidence, ItemRef, PartNumber, Quality, RoundKind};
use luxate::deck::{fingerprint, read_deck};
use luxate::store::Store;
use luxate::time::{Moment, TURNOVER_HOUR};

/// Puts the answers into the folder, one a part if the item is a case.
pub(crate) fn met(data: &Path, deck: &str, item: &str) {
    let deck = read_deck("deck.yaml", deck.as_bytes()).deck.unwrap();
    let item = deck.items.iter().find(|found| found.id == item).unwrap();
    let of = u8::try_from(item.parts().len()).unwrap();
    let parts = (1..=of).map(|number| Some(PartNumber { number, of }));
    let parts: Vec<Option<PartNumber>> = if of == 0 { vec![None] } else { parts.collect() };
    let time = chrono::DateTime::parse_from_rfc3339("2027-02-20T19:30:00Z").unwrap();
    let answers = parts.into_iter().zip(1..).map(|(part, number)| Answer {
        id: AnswerId([number; 16]),
        at: Moment::new(time, TURNOVER_HOUR),
        item: ItemRef::new(&deck.id, &item.id),
        edition: deck.edition.to_string(),
        fingerprint: fingerprint(item),
        part,
        wording: 0,
        shown: Vec::new(),
        response: vec!["x".to_owned()],
        right: false,
        confidence: Confidence::Certain,
        quality: Quality::of(false, Confidence::Certain),
        seconds: 20.0,
        round: RoundKind::Review,
    });
    let answers: Vec<Answer> = answers.collect();
    Store::open(data).unwrap().append_all(&answers).unwrap();
}
