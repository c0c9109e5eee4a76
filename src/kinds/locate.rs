//! A place to be pointed at in a diagram. Right means a key; a miss is told in the words of the body.
//!
//! Letters change from asking to asking, so that a place is learnt and not its letter; the log keeps names.

use std::sync::Arc;

use super::{Form, Line, Pose, Standing, Verdict, letter};
use crate::deck::model::Locate;
use crate::figure::model::Figure;
use crate::figure::places::{miss, nearest_key};
use crate::figure::words::with_article;

/// The diagram with its places in the order shown.
pub(super) fn form(locate: &Locate, pose: &Pose) -> Form {
    let places = &locate.figure.places;
    let shown = pose.order.iter().filter_map(|&index| places.get(index));
    Form::Places(Arc::new(Figure {
        places: shown.cloned().collect(),
        ..(*locate.figure).clone()
    }))
}

/// The names of the places in the order shown.
pub(super) fn shown(locate: &Locate, pose: &Pose) -> Vec<String> {
    let order = pose.order.iter();
    order.map(|&index| name(locate, index).to_owned()).collect()
}

pub(super) fn mark(locate: &Locate, pose: &Pose, places: &[usize]) -> Verdict {
    let shown_at = |index: usize| pose.order.iter().position(|&shown| shown == index);
    let chosen = places.first().and_then(|&place| pose.order.get(place));
    let chosen = chosen.copied().unwrap_or_default();
    let right = locate.keys.contains(&chosen);
    let wrong = locate.wrong.iter().find(|wrong| wrong.place == chosen);
    let mut lines = Vec::new();
    if !right {
        let miss = nearest_key(&locate.figure, chosen, &locate.keys).and_then(|key| {
            let miss = miss(&locate.figure, chosen, key)?.words();
            Some(format!(
                "You pointed {miss} {}",
                with_article(name(locate, key))
            ))
        });
        lines.push(Line {
            label: shown_at(chosen).map(letter).unwrap_or_default(),
            text: name(locate, chosen).to_owned(),
            standing: Standing::Wrong,
            given: miss,
            why: wrong.map(|wrong| wrong.why.clone()),
        });
    }
    for &key in &locate.keys {
        let says = locate
            .figure
            .places
            .get(key)
            .map_or("", |place| &place.says);
        lines.push(Line {
            label: shown_at(key).map(letter).unwrap_or_default(),
            text: format!("{}: {says}", name(locate, key)),
            standing: if key == chosen {
                Standing::Hit
            } else {
                Standing::Missed
            },
            given: None,
            why: None,
        });
    }
    let mut key: Vec<String> = locate
        .keys
        .iter()
        .filter_map(|&key| shown_at(key))
        .map(letter)
        .collect();
    key.sort();
    Verdict {
        right,
        key,
        logged: vec![name(locate, chosen).to_owned()],
        lines,
        beliefs: wrong
            .and_then(|wrong| wrong.belief.clone())
            .into_iter()
            .collect(),
    }
}

/// What was pointed to and what was right, as indexes into the places as shown.
#[must_use]
pub fn pointed(figure: &Figure, verdict: &Verdict) -> (Option<usize>, Vec<usize>) {
    let names = figure.places.iter().map(|place| &place.name);
    let chosen = names
        .zip(0..)
        .find(|(name, _)| verdict.logged.contains(name));
    let ids = (0..figure.places.len()).filter(|&place| verdict.key.contains(&letter(place)));
    (chosen.map(|(_, place)| place), ids.collect())
}

fn name(locate: &Locate, index: usize) -> &str {
    locate
        .figure
        .places
        .get(index)
        .map_or("", |place| &place.name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::model::WrongPlace;
    use crate::figure::base;

    fn canal() -> Locate {
        let figure = base::named("mandible-lateral").unwrap();
        let at = |name: &str| {
            figure
                .places
                .iter()
                .position(|place| place.name == name)
                .unwrap()
        };
        Locate {
            keys: vec![at("mental foramen")],
            wrong: vec![WrongPlace {
                place: at("lowest course of the canal"),
                why: "The nerve has not left the bone there.".into(),
                belief: Some("canal-is-foramen".into()),
            }],
            figure: Arc::new(figure.clone()),
        }
    }

    fn pose(locate: &Locate) -> Pose {
        Pose {
            wording: 0,
            order: (0..locate.figure.places.len()).rev().collect(),
            targets: Vec::new(),
            drawn: Vec::new(),
        }
    }

    #[test]
    fn a_miss_is_told_in_words_and_logged_by_name() {
        let locate = canal();
        // In reverse order the last of ten places is a.
        let verdict = mark(&locate, &pose(&locate), &[0]);
        assert!(!verdict.right);
        assert_eq!(verdict.key, ["c"]);
        assert_eq!(verdict.logged, ["lowest course of the canal"]);
        assert_eq!(verdict.beliefs, ["canal-is-foramen"]);
        assert_eq!(
            verdict.lines[0].given.as_deref(),
            Some("You pointed 20 mm behind the mental foramen")
        );
        assert_eq!(verdict.lines[1].standing, Standing::Missed);
        assert!(
            verdict.lines[1]
                .text
                .starts_with("mental foramen: on the outer face")
        );
    }

    #[test]
    fn any_of_several_keys_is_right() {
        let mut locate = canal();
        locate.keys.push(0);
        let last = locate.figure.places.len() - 1;
        let verdict = mark(&locate, &pose(&locate), &[last]);
        assert!(verdict.right);
        assert_eq!(verdict.logged, [locate.figure.places[0].name.clone()]);
        assert_eq!(verdict.key, ["c", "j"]);
    }
}
