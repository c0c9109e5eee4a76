//! How each kind is put in QTI: the interaction, the choices with their identifiers, the declaration of what is right. One
//! function a kind. A case is one item with as many interactions as it has parts.
//!
//! Choices whose place in the deck would tell the key (steps, rights) are written in the order of the alphabet; places of a drawing
//! are lettered from top to bottom.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use crate::deck::model::{Body, Choice, Item, Locate, Match, Pair, Short, Step};
use crate::deck::numeric::Numeric;
use crate::figure::model::Figure;
use crate::figure::places::reading_order;
use crate::kinds::{self, Pose, letter, number};

/// A question of an item: the item itself, or a part of a case.
#[derive(Debug)]
pub(super) struct Asked<'a> {
    /// Identifier of the response.
    pub(super) response: String,
    /// Number of the part from 1, if it is one.
    pub(super) part: Option<usize>,
    /// What had come to light before it.
    pub(super) finding: Option<&'a str>,
    /// What is asked.
    pub(super) item: &'a Item,
    /// How it is put.
    pub(super) plan: Plan,
}

/// An interaction and its key.
#[derive(Debug)]
pub(super) struct Plan {
    /// `single`, `multiple` or `ordered`.
    pub(super) cardinality: &'static str,
    /// `identifier`, `directedPair` or `string`.
    pub(super) base_type: &'static str,
    /// The correct response, value by value.
    pub(super) correct: Vec<String>,
    /// What the candidate does.
    pub(super) interaction: Interaction,
    /// What is drawn above it, with its places lettered as the choices are.
    pub(super) drawing: Option<Figure>,
}

/// What the candidate does.
#[derive(Debug)]
pub(super) enum Interaction {
    /// Choose one option, or several.
    Choose {
        options: Vec<Named>,
        several: bool,
        shuffle: bool,
    },
    /// Put choices in order.
    Order(Vec<Named>),
    /// Give each left a right.
    Pair {
        lefts: Vec<Named>,
        rights: Vec<Named>,
    },
    /// Type a term; the spellings that score.
    Type(Vec<String>),
    /// Type a number in this unit; the least and the greatest that score.
    Number {
        unit: Option<String>,
        limits: (f64, f64),
    },
}

/// A choice with its names.
#[derive(Clone, Debug)]
pub(super) struct Named {
    /// Its identifier in the exported item.
    pub(super) id: String,
    /// Its id in answer logs.
    pub(super) deck_id: String,
    /// What it says.
    pub(super) text: String,
}

/// The questions of an item: itself, or part by part if it is a case. None if there is one that the standard cannot score: a case
/// without one of its parts would be another case.
pub(super) fn asked(item: &Item) -> Vec<Asked<'_>> {
    if let Some(plan) = plan(item) {
        return vec![Asked {
            response: "RESPONSE".to_owned(),
            part: None,
            finding: None,
            item,
            plan,
        }];
    }
    let parts = item.parts().iter().enumerate();
    parts
        .map(|(place, part)| {
            let number = place + 1;
            Some(Asked {
                response: format!("R{number}"),
                part: Some(number),
                finding: part.finding.as_deref(),
                item: &part.item,
                plan: plan(&part.item)?.within(number),
            })
        })
        .collect::<Option<Vec<Asked<'_>>>>()
        .unwrap_or_default()
}

/// Whether the standard can score an item.
pub(super) fn is_exported(item: &Item) -> bool {
    !asked(item).is_empty()
}

/// How this kind is put in QTI; nothing for what the standard cannot score, nor for a case, which asks only through
/// its parts.
fn plan(item: &Item) -> Option<Plan> {
    Some(match &item.body {
        Body::Single(choice) => of_choice(choice, false),
        Body::Multiple(choice) => of_choice(choice, true),
        Body::Order(steps) => of_order(steps),
        Body::Match(pairs) => of_match(pairs),
        Body::Short(short) => of_short(short),
        Body::Numeric(numeric) => of_numeric(numeric, &pose(item))?,
        Body::Locate(locate) => of_places(locate)?,
        // A design is measured, which no scoring rule of the standard can do.
        Body::Flap(_) | Body::Case(_) => return None,
    })
}

/// How an item is put: in the deck's order, with one draw that is the same in every export.
pub(super) fn pose(item: &Item) -> Pose {
    Pose::new(item, None, 0)
}

impl Plan {
    /// The plan as that of a part: identifiers must differ over the whole item.
    fn within(mut self, part: usize) -> Self {
        let prefixed = |id: &str| format!("p{part}-{id}");
        for choice in self.interaction.choices_mut() {
            choice.id = prefixed(&choice.id);
        }
        if !matches!(
            self.interaction,
            Interaction::Type(_) | Interaction::Number { .. }
        ) {
            for value in &mut self.correct {
                let ids: Vec<String> = value.split(' ').map(prefixed).collect();
                *value = ids.join(" ");
            }
        }
        self
    }
}

impl Interaction {
    /// Every choice, lefts before rights.
    pub(super) fn choices(&self) -> Vec<&Named> {
        match self {
            Self::Choose { options, .. } | Self::Order(options) => options.iter().collect(),
            Self::Pair { lefts, rights } => lefts.iter().chain(rights).collect(),
            Self::Type(_) | Self::Number { .. } => Vec::new(),
        }
    }

    fn choices_mut(&mut self) -> Vec<&mut Named> {
        match self {
            Self::Choose { options, .. } | Self::Order(options) => options.iter_mut().collect(),
            Self::Pair { lefts, rights } => lefts.iter_mut().chain(rights).collect(),
            Self::Type(_) | Self::Number { .. } => Vec::new(),
        }
    }
}

fn of_choice(choice: &Choice, several: bool) -> Plan {
    let options = choice.options.iter().enumerate();
    Plan {
        cardinality: if several { "multiple" } else { "single" },
        base_type: "identifier",
        correct: options
            .clone()
            .filter(|(_, option)| option.key)
            .map(|(index, _)| letter(index))
            .collect(),
        interaction: Interaction::Choose {
            options: options
                .map(|(index, option)| Named {
                    id: letter(index),
                    deck_id: letter(index),
                    text: option.text.clone(),
                })
                .collect(),
            several,
            shuffle: !choice.keep_order,
        },
        drawing: None,
    }
}

/// A choice among the letters in the drawing; nothing if several places are right, of which any one would count.
fn of_places(locate: &Locate) -> Option<Plan> {
    let [key] = locate.keys.as_slice() else {
        return None;
    };
    let order = reading_order(&locate.figure);
    let places = order
        .iter()
        .filter_map(|&index| locate.figure.places.get(index));
    let options = places.clone().enumerate().map(|(place, spot)| Named {
        id: letter(place),
        deck_id: spot.name.clone(),
        text: letter(place),
    });
    Some(Plan {
        cardinality: "single",
        base_type: "identifier",
        correct: vec![letter(order.iter().position(|index| index == key)?)],
        interaction: Interaction::Choose {
            options: options.collect(),
            several: false,
            shuffle: false,
        },
        drawing: Some(Figure {
            places: places.cloned().collect(),
            ..(*locate.figure).clone()
        }),
    })
}

fn of_order(steps: &[Step]) -> Plan {
    let texts: Vec<&str> = steps.iter().map(|step| step.text.as_str()).collect();
    let mut order = alphabetical(&texts);
    if order.is_sorted() {
        order.reverse();
    }
    let written = |step: usize| order.iter().position(|&index| index == step);
    Plan {
        cardinality: "ordered",
        base_type: "identifier",
        correct: (0..steps.len()).filter_map(written).map(letter).collect(),
        interaction: Interaction::Order(named(&order, &texts, letter, letter)),
        drawing: None,
    }
}

fn of_match(pairs: &Match) -> Plan {
    let lefts: Vec<&str> = pairs.pairs.iter().map(|pair| pair.left.as_str()).collect();
    let rights = pairs.rights();
    let in_place: Vec<usize> = (0..lefts.len()).collect();
    let lefts = named(&in_place, &lefts, letter, letter);
    let mut order = alphabetical(&rights);
    // Where every left would stand beside its right, the order would give the key away.
    let beside = |(row, pair): (usize, &Pair)| {
        order.get(row).and_then(|index| rights.get(*index)) == Some(&pair.right.as_str())
    };
    if pairs.pairs.iter().enumerate().all(beside) {
        order.rotate_left(1);
    }
    let rights = named(&order, &rights, right_id, number);
    let correct = pairs.pairs.iter().zip(&lefts).filter_map(|(pair, left)| {
        let right = rights.iter().find(|right| right.text == pair.right)?;
        Some(format!("{} {}", left.id, right.id))
    });
    Plan {
        cardinality: "multiple",
        base_type: "directedPair",
        correct: correct.collect(),
        interaction: Interaction::Pair { lefts, rights },
        drawing: None,
    }
}

fn of_short(short: &Short) -> Plan {
    Plan {
        cardinality: "single",
        base_type: "string",
        correct: short.accept.first().cloned().into_iter().collect(),
        interaction: Interaction::Type(spellings(&short.accept)),
        drawing: None,
    }
}

fn of_numeric(numeric: &Numeric, pose: &Pose) -> Option<Plan> {
    let worked = kinds::worked(numeric, pose)?;
    Some(Plan {
        cardinality: "single",
        base_type: "float",
        correct: vec![worked.key.to_string()],
        interaction: Interaction::Number {
            unit: numeric.unit.clone(),
            limits: worked.limits,
        },
        drawing: None,
    })
}

/// Accepted forms, and each with its hyphens opened and its accents dropped: marking by comparison forgives case
/// and nothing else.
fn spellings(accept: &[String]) -> Vec<String> {
    let mut spellings: Vec<String> = Vec::new();
    for form in accept {
        let form = form.trim().to_owned();
        let opened = form.replace('-', " ");
        let opened = opened.split_whitespace().collect::<Vec<&str>>().join(" ");
        let plain = |text: &str| -> String {
            let letters = text.nfd().filter(|letter| !is_combining_mark(*letter));
            letters.nfc().collect()
        };
        for spelling in [form.clone(), opened.clone(), plain(&form), plain(&opened)] {
            let folded = spelling.to_lowercase();
            if spellings.iter().all(|known| known.to_lowercase() != folded) {
                spellings.push(spelling);
            }
        }
    }
    spellings
}

/// Identifiers hold for the whole item, so rights cannot be bare numbers.
fn right_id(place: usize) -> String {
    format!("r{}", number(place))
}

fn alphabetical(texts: &[&str]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..texts.len()).collect();
    order.sort_by_key(|&index| texts.get(index).map(|text| text.to_lowercase()));
    order
}

/// The texts in this order; identifiers go by the place written, deck ids by the place in the deck.
fn named(
    order: &[usize],
    texts: &[&str],
    id: fn(usize) -> String,
    deck_id: fn(usize) -> String,
) -> Vec<Named> {
    order
        .iter()
        .enumerate()
        .filter_map(|(place, &index)| {
            Some(Named {
                id: id(place),
                deck_id: deck_id(index),
                text: (*texts.get(index)?).to_owned(),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chance::Chance;
    use crate::deck::model::Item;
    use crate::kinds::{Pose, Response, mark};

    fn short(accept: &[&str]) -> Short {
        Short {
            accept: accept.iter().map(ToString::to_string).collect(),
            refuse: Vec::new(),
        }
    }

    #[test]
    fn every_spelling_that_scores_is_one_that_the_program_accepts() {
        let short = short(&[
            "muco-gingival junction",
            "línea obliqua",
            "Muco-Gingival Junction",
        ]);
        let spellings = spellings(&short.accept);
        assert_eq!(
            spellings,
            [
                "muco-gingival junction",
                "muco gingival junction",
                "línea obliqua",
                "linea obliqua"
            ]
        );
        let item = Item {
            id: "term".into(),
            topic: "words".into(),
            stems: vec!["Which?".into()],
            body: Body::Short(short),
            rationale: "So it is called.".into(),
            sources: Vec::new(),
            caution: None,
        };
        let pose = Pose::new(&item, None, 0);
        for spelling in spellings {
            let typed = Response::Typed(spelling.clone());
            assert!(mark(&item, &pose, &typed).unwrap().right, "{spelling}");
        }
    }

    #[test]
    fn steps_are_never_written_in_the_right_order() {
        let words = ["cut", "drain", "irrigate", "suture"];
        for seed in 0..24 {
            let order = Chance::new(seed, 0).order(words.len());
            let steps: Vec<Step> = order
                .iter()
                .map(|&word| Step {
                    text: words[word].to_owned(),
                    why: None,
                })
                .collect();
            let Interaction::Order(written) = of_order(&steps).interaction else {
                panic!("not an order");
            };
            let deck_order: Vec<&str> = written.iter().map(|step| step.deck_id.as_str()).collect();
            assert_ne!(deck_order, ["a", "b", "c", "d"]);
        }
    }
}
