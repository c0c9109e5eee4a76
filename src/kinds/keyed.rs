//! The response that is the key: for whoever shows an item without answering it.

use super::{Pose, Response, worked};
use crate::deck::model::{Body, Item, Match};
use crate::deck::numeric::plain;

/// The right response to `item` in this pose; nothing for a case, which asks only through its parts.
#[must_use]
pub fn keyed(item: &Item, pose: &Pose) -> Option<Response> {
    let place_of = |index: usize| pose.order.iter().position(|&shown| shown == index);
    Some(match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => {
            let options = choice.options.iter().enumerate();
            let keys = options.filter(|(_, option)| option.key);
            let mut places: Vec<usize> = keys.filter_map(|(index, _)| place_of(index)).collect();
            places.sort_unstable();
            Response::Chosen(places)
        }
        Body::Order(steps) => Response::Sequence((0..steps.len()).filter_map(place_of).collect()),
        Body::Match(pairs) => Response::Pairs(rights(pairs, pose)?),
        Body::Short(short) => Response::Typed(short.accept.first()?.clone()),
        Body::Numeric(numeric) => Response::Typed(plain(worked(numeric, pose)?.key)),
        Body::Locate(locate) => Response::Chosen(vec![place_of(*locate.keys.first()?)?]),
        Body::Flap(task) => Response::Design(task.show),
        Body::Case(_) => return None,
    })
}

/// For each left in the order shown, the place of its right.
fn rights(pairs: &Match, pose: &Pose) -> Option<Vec<usize>> {
    let rights = pairs.rights();
    let place_of = |left: &usize| {
        let right = pairs.pairs.get(*left)?.right.as_str();
        let is_it = |target: &usize| rights.get(*target) == Some(&right);
        pose.targets.iter().position(is_it)
    };
    pose.order.iter().map(place_of).collect()
}
