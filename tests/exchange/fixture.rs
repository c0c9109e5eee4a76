//! Decks to write out: one item a kind, and the same with texts that would like to be markup.

use std::sync::Arc;

use luxate::deck::model::{Body, Deck, Item};
use luxate::deck::read_deck;

pub(crate) fn deck() -> Deck {
    let reading = read_deck("deck.yaml", include_bytes!("deck.yaml"));
    reading.deck.expect("the fixture has no errors")
}

/// The deck with only the item of this kind.
pub(crate) fn only(kind: &str) -> Deck {
    let mut deck = deck();
    deck.items.retain(|item| item.body.kind() == kind);
    deck
}

/// The fixture with `text` for every text that the reader would let an author choose freely. `number` tells apart what has to differ.
pub(crate) fn with_text(text: impl Fn(usize) -> String) -> Deck {
    let mut count = 0;
    let mut next = || {
        count += 1;
        text(count)
    };
    let mut deck = deck();
    deck.title = next();
    deck.licence = next();
    deck.topics
        .iter_mut()
        .for_each(|topic| topic.title = next());
    deck.sources
        .iter_mut()
        .for_each(|source| source.cite = next());
    for item in &mut deck.items {
        retext(item, &mut next);
    }
    deck
}

fn retext(item: &mut Item, next: &mut impl FnMut() -> String) {
    item.stems.iter_mut().for_each(|stem| *stem = next());
    item.rationale = next();
    item.caution = item.caution.as_ref().map(|_| next());
    item.sources
        .iter_mut()
        .for_each(|cited| cited.place = next());
    match &mut item.body {
        Body::Single(choice) | Body::Multiple(choice) => {
            for option in &mut choice.options {
                option.text = next();
                option.why = Some(next());
            }
        }
        Body::Order(steps) => {
            for step in steps {
                step.text = next();
                step.why = Some(next());
            }
        }
        Body::Match(pairs) => {
            for pair in &mut pairs.pairs {
                pair.left = next();
                pair.right = next();
                pair.why = Some(next());
            }
            for extra in &mut pairs.extra {
                extra.text = next();
                extra.why = next();
            }
        }
        Body::Short(short) => {
            short.accept.iter_mut().for_each(|form| *form = next());
            for refused in &mut short.refuse {
                refused.text = next();
                refused.why = next();
            }
        }
        Body::Numeric(numeric) => {
            numeric.unit = Some(next());
            numeric.solution = next();
            for slip in &mut numeric.slips {
                slip.name = next();
                slip.why = next();
            }
        }
        Body::Locate(locate) => {
            let figure = Arc::make_mut(&mut locate.figure);
            figure.view = next();
            for place in &mut figure.places {
                place.name = next();
                place.says = next();
            }
            locate.wrong.iter_mut().for_each(|wrong| wrong.why = next());
        }
        Body::Flap(task) => task.slips.iter_mut().for_each(|slip| slip.why = next()),
        Body::Case(case) => {
            for part in &mut case.parts {
                part.finding = part.finding.as_ref().map(|_| next());
                retext(&mut part.item, &mut *next);
            }
        }
    }
}
