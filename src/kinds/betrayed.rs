//! The mistaken beliefs behind an answer in the log, worked out again from the log and the deck.
//!
//! The log keeps responses in terms of the deck, so the item is put in the deck's own order and marked once more.

use super::{Pose, Response, flap, mark};
use crate::answer::Answer;
use crate::deck::model::{Body, Item};
use crate::deck::numeric::Drawn;

/// Ids of the beliefs that a wrong answer to `item` betrays: a part, if the answer is to a part. None for an answer
/// that the deck as it is now cannot read.
#[must_use]
pub fn betrayed(item: &Item, answer: &Answer) -> Vec<String> {
    if answer.right {
        return Vec::new();
    }
    let order: Vec<usize> = match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => (0..choice.options.len()).collect(),
        Body::Locate(locate) => (0..locate.figure.places.len()).collect(),
        Body::Numeric(_) | Body::Short(_) | Body::Flap(_) => Vec::new(),
        // No belief can be named for a step, a pair or a whole case.
        Body::Order(_) | Body::Match(_) | Body::Case(_) => return Vec::new(),
    };
    let pose = Pose {
        wording: 0,
        order,
        targets: Vec::new(),
        drawn: answer
            .shown
            .iter()
            .filter_map(|shown| drawn(shown))
            .collect(),
    };
    response(item, &answer.response)
        .and_then(|response| mark(item, &pose, &response).ok())
        .map(|verdict| verdict.beliefs)
        .unwrap_or_default()
}

fn response(item: &Item, logged: &[String]) -> Option<Response> {
    Some(match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => {
            let place = |id: &String| (0..choice.options.len()).find(|&n| super::letter(n) == *id);
            Response::Chosen(logged.iter().map(place).collect::<Option<_>>()?)
        }
        Body::Locate(locate) => {
            let mut places = locate.figure.places.iter();
            let place = places.position(|place| logged.first() == Some(&place.name))?;
            Response::Chosen(vec![place])
        }
        Body::Flap(_) => Response::Design(flap::read(logged.first()?).ok()?),
        _ => Response::Typed(logged.first()?.clone()),
    })
}

fn drawn(shown: &str) -> Option<Drawn> {
    let (name, value) = shown.split_once('=')?;
    Some(Drawn {
        name: name.to_owned(),
        value: value.to_owned(),
    })
}
