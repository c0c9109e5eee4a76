//! What a candidate had on the screen, from what the log says of it: options are mixed at each asking, and a remark speaks of
//! their letters there, while the log keeps the ids of the deck.

use crate::answer::Answer;
use crate::deck::model::{Body, Item};
use crate::kinds::{letter, number};

/// Options, steps, places or pairs by their letters on the screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Seen {
    /// Everything that stood there, in its order.
    pub(super) shown: Vec<Lettered>,
    /// What was answered.
    pub(super) answer: Vec<Lettered>,
}

/// A text with the letter or number that it had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Lettered {
    pub(super) id: String,
    pub(super) text: String,
}

impl Lettered {
    /// `c = Lingual nerve`.
    pub(super) fn told(&self) -> String {
        format!("{} = {}", self.id, self.text)
    }
}

/// What was seen when `item` was answered. Nothing of kinds without letters, and nothing if the log names what the item has not.
pub(super) fn seen(item: &Item, answer: &Answer) -> Option<Seen> {
    let texts: Vec<&str> = match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => {
            let options = choice.options.iter();
            options.map(|option| option.text.as_str()).collect()
        }
        Body::Order(steps) => steps.iter().map(|step| step.text.as_str()).collect(),
        Body::Match(pairs) => {
            let lefts: Vec<&str> = pairs.pairs.iter().map(|pair| pair.left.as_str()).collect();
            return matched(&lefts, &pairs.rights(), answer);
        }
        Body::Locate(locate) => {
            let places: Vec<&str> = locate
                .figure
                .places
                .iter()
                .map(|place| place.name.as_str())
                .collect();
            return lettered(&places, answer, |name| {
                places.iter().position(|place| *place == name)
            });
        }
        Body::Short(_) | Body::Numeric(_) | Body::Flap(_) | Body::Case(_) => return None,
    };
    lettered(&texts, answer, |id| place(id, texts.len(), letter))
}

/// Where the thing with this id stands among `len`.
fn place(id: &str, len: usize, name: fn(usize) -> String) -> Option<usize> {
    (0..len).find(|&place| name(place) == id)
}

/// Texts with a letter each; `index` finds a text by its id in the log.
fn lettered(
    texts: &[&str],
    answer: &Answer,
    index: impl Fn(&str) -> Option<usize>,
) -> Option<Seen> {
    let entry = |(at, id): (usize, &String)| {
        let text = texts.get(index(id)?)?;
        Some(Lettered {
            id: letter(at),
            text: (*text).to_owned(),
        })
    };
    let shown: Vec<Lettered> = answer
        .shown
        .iter()
        .enumerate()
        .map(entry)
        .collect::<Option<_>>()?;
    let chosen = answer.response.iter().map(|id| {
        let at = answer.shown.iter().position(|shown| shown == id)?;
        shown.get(at).cloned()
    });
    let mut chosen: Vec<Lettered> = chosen.collect::<Option<_>>()?;
    // Where the order is no answer, that of the screen is easiest to follow; where it is, all is named.
    if chosen.len() < shown.len() {
        chosen.sort_by(|one, two| one.id.cmp(&two.id));
    }
    Some(Seen {
        shown,
        answer: chosen,
    })
}

/// Lefts with a letter each and rights with a number each.
fn matched(lefts: &[&str], rights: &[&str], answer: &Answer) -> Option<Seen> {
    let of_left = |id: &str| place(id, lefts.len(), letter);
    let of_right = |id: &str| place(id, rights.len(), number);
    let (left_ids, right_ids) = answer.shown.split_at_checked(lefts.len())?;
    let left = |(at, id): (usize, &String)| {
        let text = lefts.get(of_left(id)?)?;
        Some(Lettered {
            id: letter(at),
            text: (*text).to_owned(),
        })
    };
    let right = |(at, id): (usize, &String)| {
        let text = rights.get(of_right(id)?)?;
        Some(Lettered {
            id: number(at),
            text: (*text).to_owned(),
        })
    };
    let left_side = left_ids.iter().enumerate().map(left);
    let right_side = right_ids.iter().enumerate().map(right);
    let shown = left_side.chain(right_side).collect::<Option<Vec<_>>>()?;
    let given = answer.response.iter().map(|pair| {
        let (left, right) = pair.split_at_checked(1)?;
        let at = left_ids.iter().position(|id| id == left)?;
        let to = right_ids.iter().position(|id| id == right)?;
        let text = format!(
            "{}: {}",
            lefts.get(of_left(left)?)?,
            rights.get(of_right(right)?)?
        );
        Some(Lettered {
            id: letter(at) + number(to).as_str(),
            text,
        })
    });
    let mut given: Vec<Lettered> = given.collect::<Option<_>>()?;
    given.sort_by(|one, two| one.id.cmp(&two.id));
    Some(Seen {
        shown,
        answer: given,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::answer::{AnswerId, Confidence, ItemRef, Quality, RoundKind};
    use crate::deck::read_deck;
    use crate::time::{Day, Moment};

    /// What the candidate saw of the item `id` of the test deck, as text.
    fn told(id: &str, shown: &[&str], response: &[&str]) -> Option<[String; 2]> {
        let bytes = include_bytes!("../../tests/exchange/deck.yaml");
        let deck = read_deck("deck.yaml", bytes).deck.unwrap();
        let item = deck.items.iter().find(|item| item.id == id).unwrap();
        let owned = |ids: &[&str]| ids.iter().map(|id| (*id).to_owned()).collect();
        let answer = Answer {
            id: AnswerId([0; 16]),
            at: Moment {
                utc_ms: 0,
                day: Day::parse("2027-03-01").unwrap(),
                offset_min: 0,
            },
            item: ItemRef::new("harbour-clinic", id),
            edition: "2026-11-25".into(),
            fingerprint: String::new(),
            part: None,
            wording: 0,
            shown: owned(shown),
            response: owned(response),
            right: false,
            confidence: Confidence::Certain,
            quality: Quality::new(0).unwrap(),
            seconds: 1.0,
            round: RoundKind::Review,
        };
        let seen = seen(item, &answer)?;
        let line = |entries: &[Lettered]| {
            let told: Vec<String> = entries.iter().map(Lettered::told).collect();
            told.join(" | ")
        };
        Some([line(&seen.shown), line(&seen.answer)])
    }

    #[test]
    fn options_have_the_letters_of_the_screen() {
        let [shown, answer] =
            told("mandibular-branches", &["d", "a", "c", "b"], &["a", "b"]).unwrap();
        assert_eq!(
            shown,
            "a = Nasopalatine nerve | b = Lingual nerve | c = Infraorbital nerve | d = Inferior alveolar nerve"
        );
        assert_eq!(answer, "b = Lingual nerve | d = Inferior alveolar nerve");
    }

    #[test]
    fn pairs_and_orders_have_them_too() {
        let shown = ["c", "a", "b", "4", "1", "3", "2"];
        let [shown, answer] = told("foramen-nerve", &shown, &["a2", "b1", "c3"]).unwrap();
        assert!(
            shown.starts_with("a = Incisive foramen | b = Mental foramen"),
            "{shown}"
        );
        assert!(answer.starts_with("a3 = Incisive foramen: "), "{answer}");
        let steps = ["e", "d", "c", "b", "a"];
        let [_, answer] = told("flap-sequence", &steps, &["a", "b", "d", "c", "e"]).unwrap();
        assert!(answer.starts_with("e = Incise to bone | d = "), "{answer}");
    }

    #[test]
    fn what_the_log_cannot_have_seen_is_not_guessed_at() {
        assert_eq!(told("mandibular-branches", &["a", "x"], &["a"]), None);
        assert_eq!(told("mandibular-branches", &["a", "b"], &["c"]), None);
        assert_eq!(told("foramen-nerve", &["a"], &["a1"]), None);
        assert_eq!(told("foramen-nerve", &["é"], &["é"]), None);
        assert_eq!(told("lingual-plate", &[], &["lingual nerve"]), None);
    }
}
