//! What an answer key tells of an item: the key in the letters of the form, the reasons, the rationale, the caution and the
//! sources. One function a kind.

use std::iter;

use super::asked::Asked;
use super::drawing;
use super::page::{Piece, Reason};
use super::rules;
use crate::deck::model::{Body, Choice, Citation, Deck, FlapTask, Item, Match, Short, Step};
use crate::deck::numeric::{Numeric, plain};
use crate::flap::words::describe;
use crate::flap::{Draft, Family};
use crate::kinds::{self, Form, Pose, letter, number};
use crate::words::capital;

pub(super) const RIGHT: &str = "right";
const WRONG: &str = "wrong";
const UNUSED: &str = "unused";
const RULE: &str = "rule";
const SAFETY: &str = "safety";
/// What a flap has for a key where there is room for a letter.
const BELOW: &str = "see below";

/// The key of one item.
#[derive(Debug, Default)]
pub(super) struct Key {
    /// In the letters of this form, or the term itself.
    pub(super) answer: String,
    /// Option by option.
    pub(super) reasons: Vec<Reason>,
    /// Other forms of the answer that count as right.
    pub(super) also: Vec<String>,
}

/// The key of `item` in this pose.
pub(super) fn key(item: &Item, pose: &Pose) -> Key {
    match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => of_choice(choice, pose),
        Body::Order(steps) => of_order(steps, pose),
        Body::Match(pairs) => of_match(pairs, pose),
        Body::Short(short) => of_short(short),
        Body::Numeric(numeric) => of_numeric(numeric, pose),
        Body::Locate(locate) => of_choice(&locate.in_words(), pose),
        Body::Flap(task) => of_flap(task),
        // A case itself asks nothing.
        Body::Case(_) => Key::default(),
    }
}

/// Everything the answer key prints under the item's number; of a case part by part, then of the whole.
pub(super) fn pieces(deck: &Deck, asked: &Asked<'_>) -> Vec<Piece> {
    let item = asked.item;
    let mut pieces = if let Body::Case(_) = item.body {
        let vignette = kinds::question(item, asked.pose).stem;
        let parts = asked.part_pieces(|part, pose| {
            let mut pieces = answer(part, pose);
            pieces.extend(explanation(part));
            if part.sources != item.sources {
                pieces.push(sources(part));
            }
            pieces
        });
        iter::once(Piece::Text(vignette)).chain(parts).collect()
    } else {
        answer(item, asked.pose)
    };
    pieces.extend(explanation(item));
    pieces.push(sources(item));
    let topic = deck.topics.iter().find(|topic| topic.id == item.topic);
    let topic = topic.map_or(item.topic.as_str(), |topic| &topic.title);
    pieces.push(Piece::Remark("Item", format!("{} ({topic})", item.id)));
    pieces
}

/// The stem, the key and the reasons.
fn answer(item: &Item, pose: &Pose) -> Vec<Piece> {
    let Key {
        answer,
        reasons,
        also,
    } = key(item, pose);
    let question = kinds::question(item, pose);
    let shown = match &item.body {
        Body::Flap(task) => in_words(task),
        _ => answer,
    };
    let mut pieces = vec![Piece::Text(question.stem), Piece::Key(shown)];
    match (&item.body, question.form) {
        (Body::Locate(locate), Form::Places(figure)) => {
            let keys = pose.order.iter().enumerate();
            let keys = keys.filter(|(_, index)| locate.keys.contains(index));
            pieces.push(drawing::places(
                figure,
                keys.map(|(place, _)| place).collect(),
            ));
        }
        (Body::Flap(task), _) => pieces.push(drawing::row(&task.case, &Draft::from(&task.show))),
        _ => {}
    }
    if !also.is_empty() {
        pieces.push(Piece::Remark("Also accepted", also.join("; ")));
    }
    if !reasons.is_empty() {
        pieces.push(Piece::Reasons(reasons));
    }
    if let Body::Flap(task) = &item.body {
        pieces.extend(marking(task, &item.id));
    }
    pieces
}

fn explanation(item: &Item) -> impl Iterator<Item = Piece> {
    let caution = item.caution.clone().map(Piece::Caution);
    iter::once(Piece::Text(item.rationale.clone())).chain(caution)
}

fn sources(item: &Item) -> Piece {
    let sources: Vec<String> = item.sources.iter().map(cited).collect();
    Piece::Remark("Sources", sources.join("; "))
}

fn cited(citation: &Citation) -> String {
    format!("{} {}", citation.source, citation.place)
        .trim_end()
        .to_owned()
}

fn of_choice(choice: &Choice, pose: &Pose) -> Key {
    let shown = pose
        .order
        .iter()
        .filter_map(|&index| choice.options.get(index));
    let reasons: Vec<Reason> = shown
        .enumerate()
        .map(|(place, option)| Reason {
            label: letter(place),
            text: option.text.clone(),
            verdict: if option.key { RIGHT } else { WRONG },
            why: option.why.clone().unwrap_or_default(),
        })
        .collect();
    let right = reasons.iter().filter(|reason| reason.verdict == RIGHT);
    Key {
        answer: spaced(right.map(|reason| reason.label.clone())),
        reasons,
        also: Vec::new(),
    }
}

/// The reasons stand in the right order, each with the letter that the step has on the sheet.
fn of_order(steps: &[Step], pose: &Pose) -> Key {
    let place = |index| pose.order.iter().position(|&shown| shown == index);
    let reasons: Vec<Reason> = steps
        .iter()
        .enumerate()
        .filter_map(|(index, step)| {
            Some(Reason {
                label: letter(place(index)?),
                text: step.text.clone(),
                verdict: "",
                why: step.why.clone().unwrap_or_default(),
            })
        })
        .collect();
    Key {
        answer: spaced(reasons.iter().map(|reason| reason.label.clone())),
        reasons,
        also: Vec::new(),
    }
}

fn of_match(pairs: &Match, pose: &Pose) -> Key {
    let rights = pairs.rights();
    let place = |right: &str| {
        pose.targets
            .iter()
            .position(|&target| rights.get(target) == Some(&right))
            .map(number)
            .unwrap_or_default()
    };
    let lefts = pose
        .order
        .iter()
        .filter_map(|&index| pairs.pairs.get(index));
    let mut reasons: Vec<Reason> = lefts
        .enumerate()
        .map(|(left, pair)| Reason {
            label: letter(left) + place(&pair.right).as_str(),
            text: format!("{}: {}", pair.left, pair.right),
            verdict: "",
            why: pair.why.clone().unwrap_or_default(),
        })
        .collect();
    let answer = spaced(reasons.iter().map(|reason| reason.label.clone()));
    reasons.extend(pairs.extra.iter().map(|extra| Reason {
        label: place(&extra.text),
        text: extra.text.clone(),
        verdict: UNUSED,
        why: extra.why.clone(),
    }));
    Key {
        answer,
        reasons,
        also: Vec::new(),
    }
}

fn of_short(short: &Short) -> Key {
    let refused = short.refuse.iter().map(|refused| Reason {
        label: String::new(),
        text: refused.text.clone(),
        verdict: WRONG,
        why: refused.why.clone(),
    });
    let mut accepted = short.accept.iter().cloned();
    Key {
        answer: accepted.next().unwrap_or_default(),
        reasons: refused.collect(),
        also: accepted.collect(),
    }
}

/// The way to the key first, then where typical errors lead.
fn of_numeric(numeric: &Numeric, pose: &Pose) -> Key {
    let Some(worked) = kinds::worked(numeric, pose) else {
        return Key::default();
    };
    let answer = numeric.with_unit(worked.key);
    let line = |text: String, verdict, why| Reason {
        label: String::new(),
        text,
        verdict,
        why,
    };
    let slips = worked.slips.into_iter();
    let mut reasons = vec![line(answer.clone(), RIGHT, worked.solution)];
    reasons.extend(slips.map(|(number, why)| line(number, WRONG, why)));
    let (least, most) = worked.limits;
    let range = format!("{} to {}", plain(least), numeric.with_unit(most));
    Key {
        answer,
        reasons,
        also: numeric.tolerance.map(|_| range).into_iter().collect(),
    }
}

/// The designs that typical errors lead to; the key itself takes more words than a letter.
fn of_flap(task: &FlapTask) -> Key {
    let slips = task.slips.iter().map(|slip| Reason {
        label: String::new(),
        text: describe(&slip.design),
        verdict: WRONG,
        why: slip.why.clone(),
    });
    Key {
        answer: BELOW.to_owned(),
        reasons: slips.collect(),
        also: Vec::new(),
    }
}

/// The design shown, in words and as designs are written in decks.
fn in_words(task: &FlapTask) -> String {
    let kind = capital(&crate::flap::name(&task.show).to_string());
    format!("{kind}: {} ({})", describe(&task.show), task.show)
}

/// What any other design is marked by.
fn marking(task: &FlapTask, item: &str) -> [Piece; 2] {
    let kind = task.family.map(|family| {
        let article = if family == Family::Envelope {
            "an"
        } else {
            "a"
        };
        format!("is {article} {} flap and ", family.word())
    });
    let told = format!(
        "A design counts if it {}keeps every rule here; luxate deck show {item} measures and judges any.",
        kind.unwrap_or_default()
    );
    let rules = rules::decisive(task).into_iter().map(|told| Reason {
        label: String::new(),
        text: told.asks,
        verdict: if told.rule.is_safety() { SAFETY } else { RULE },
        why: told.grounds,
    });
    [
        Piece::Remark("Marking", told),
        Piece::Reasons(rules.collect()),
    ]
}

fn spaced(labels: impl Iterator<Item = String>) -> String {
    labels.collect::<Vec<String>>().join(" ")
}
