//! Properties of asking and marking over all kinds.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

use std::sync::Arc;

use luxate::deck::model::{
    AnswerOption, Body, Choice, Citation, Extra, FlapTask, Item, Locate, Match, Pair, Short, Step,
};
use luxate::figure::base;
use luxate::figure::teeth::{Jaw, Tooth};
use luxate::flap::{Aspect, Bone, Case, Operation, Quadrant, Thresholds};
use luxate::kinds::{self, Form, Pose, Response, Standing};
use proptest::prelude::*;

fn item(body: Body, stems: usize) -> Item {
    Item {
        id: "invented".into(),
        topic: "t".into(),
        stems: (0..stems).map(|number| format!("Stem {number}?")).collect(),
        body,
        rationale: "Because.".into(),
        sources: vec![Citation {
            source: "S".into(),
            place: String::new(),
        }],
        caution: None,
    }
}

fn option(index: usize, key: bool) -> AnswerOption {
    AnswerOption {
        text: format!("option {index}"),
        key,
        why: Some(format!("why {index}")),
        belief: (!key).then(|| "b".into()),
    }
}

fn bodies() -> impl Strategy<Value = Body> {
    let keys = prop::collection::vec(any::<bool>(), 2..8)
        .prop_filter("a key", |keys| keys.contains(&true));
    let multiple = (keys, any::<bool>()).prop_map(|(keys, keep_order)| {
        let options = keys
            .iter()
            .enumerate()
            .map(|(index, &key)| option(index, key))
            .collect();
        Body::Multiple(Choice {
            options,
            keep_order,
        })
    });
    let single = (2..8_usize, 0..8_usize, any::<bool>()).prop_map(|(len, key, keep_order)| {
        let options = (0..len)
            .map(|index| option(index, index == key % len))
            .collect();
        Body::Single(Choice {
            options,
            keep_order,
        })
    });
    let order = (3..8_usize).prop_map(|len| {
        Body::Order(
            (0..len)
                .map(|index| Step {
                    text: format!("step {index}"),
                    why: None,
                })
                .collect(),
        )
    });
    // Rights repeat when there are fewer of them than lefts.
    let matching = (2..8_usize, 1..8_usize, 0..3_usize).prop_map(|(lefts, rights, extra)| {
        let pairs = (0..lefts).map(|left| Pair {
            left: format!("left {left}"),
            right: format!("right {}", left % rights),
            why: None,
        });
        let extra = (0..extra).map(|number| Extra {
            text: format!("extra {number}"),
            why: "none".into(),
        });
        Body::Match(Match {
            pairs: pairs.collect(),
            extra: extra.collect(),
        })
    });
    let short = Just(Body::Short(Short {
        accept: vec!["lingual nerve".into()],
        refuse: vec![],
    }));
    let locate = (0..base::TEXTS.len(), any::<usize>()).prop_map(|(figure, key)| {
        let figure = &base::all()[figure];
        Body::Locate(Locate {
            keys: vec![key % figure.places.len()],
            wrong: vec![],
            figure: Arc::new(figure.clone()),
        })
    });
    let flap = Just(Body::Flap(Box::new(flap())));
    prop_oneof![single, multiple, order, matching, short, locate, flap]
}

/// Worked case S2: a root of the lower second premolar.
fn flap() -> FlapTask {
    let operation = Operation {
        jaw: Jaw::Lower,
        quadrant: Quadrant::Left,
        aspect: Aspect::Buccal,
        site: vec![Tooth::new(5).unwrap()],
        bone: Bone {
            top_mm: 2.0,
            bottom_mm: 8.0,
        },
        missing: vec![],
    };
    FlapTask {
        case: Arc::new(Case::new(operation, Thresholds::default()).unwrap()),
        family: None,
        show: "4ml r10@20 .. 6dl".parse().unwrap(),
        slips: vec![],
    }
}

/// The ids of the key as a face would send them.
fn key_of(item: &Item, pose: &Pose) -> Vec<String> {
    let form = kinds::question(item, pose).form;
    let any = match &form {
        Form::One(_) | Form::Several(_) | Form::Places(_) => Response::Chosen(vec![0]),
        Form::Sequence(steps) => Response::Sequence((0..steps.len()).collect()),
        Form::Pairs { lefts, .. } => Response::Pairs(vec![0; lefts.len()]),
        Form::Typed => Response::Typed("?".into()),
        Form::Number { .. } => Response::Typed("0".into()),
        Form::Flap(_) => Response::Design("2ml .. 8dl".parse().unwrap()),
    };
    kinds::mark(item, pose, &any).unwrap().key
}

proptest! {
    #[test]
    fn the_key_is_right_in_every_pose(body in bodies(), seed: u64) {
        let item = item(body, 1);
        let pose = Pose::new(&item, None, seed);
        let form = kinds::question(&item, &pose).form;
        let key = key_of(&item, &pose);
        let response = kinds::read(&form, &key[..if form == Form::Typed { 1 } else { key.len() }]).unwrap();
        let verdict = kinds::mark(&item, &pose, &response).unwrap();
        prop_assert!(verdict.right, "{verdict:?}");
        // Beside a sound design stand remarks and another one.
        let is_flap = matches!(form, Form::Flap(_));
        let fits = verdict.lines.iter().all(|line| match line.standing {
            Standing::Hit | Standing::Other => true,
            Standing::Missed | Standing::Remark => is_flap,
            Standing::Wrong => false,
        });
        prop_assert!(fits, "{:?}", verdict);
        prop_assert!(verdict.beliefs.is_empty());
    }

    #[test]
    fn every_other_choice_is_wrong(body in bodies(), seed: u64, chosen in prop::collection::vec(any::<bool>(), 8)) {
        let item = item(body, 1);
        let pose = Pose::new(&item, None, seed);
        let form = kinds::question(&item, &pose).form;
        let ids: Vec<String> = match &form {
            Form::One(options) => vec![kinds::letter(chosen.iter().filter(|c| **c).count() % options.len())],
            Form::Places(figure) => vec![kinds::letter(chosen.iter().filter(|c| **c).count() % figure.places.len())],
            Form::Several(options) => (0..options.len()).filter(|&place| chosen[place]).map(kinds::letter).collect(),
            _ => return Ok(()),
        };
        let Ok(response) = kinds::read(&form, &ids) else { return Ok(()) };
        let verdict = kinds::mark(&item, &pose, &response).unwrap();
        prop_assert_eq!(verdict.right, ids == verdict.key);
        prop_assert_eq!(verdict.logged.len(), ids.len());
    }

    #[test]
    fn the_log_says_the_same_in_every_pose(body in bodies(), seeds: (u64, u64)) {
        // The key, answered in two poses, is logged in the same words: those of the deck.
        let item = item(body, 1);
        let logged = [seeds.0, seeds.1].map(|seed| {
            let pose = Pose::new(&item, None, seed);
            let form = kinds::question(&item, &pose).form;
            let key = key_of(&item, &pose);
            let response = kinds::read(&form, &key[..if form == Form::Typed { 1 } else { key.len() }]).unwrap();
            kinds::mark(&item, &pose, &response).unwrap().logged
        });
        if !matches!(item.body, Body::Match(_)) {
            prop_assert_eq!(&logged[0], &logged[1]);
        }
    }

    #[test]
    fn wordings_take_turns(stems in 2..5_usize, seed: u64) {
        let item = item(Body::Short(Short { accept: vec!["x".into()], refuse: vec![] }), stems);
        let mut last = None;
        let mut seen = vec![false; stems];
        for asking in 0..stems as u64 {
            let pose = Pose::new(&item, last, seed.wrapping_add(asking));
            prop_assert_ne!(Some(pose.wording), last);
            seen[pose.wording] = true;
            last = Some(pose.wording);
        }
        prop_assert!(seen.iter().all(|seen| *seen));
    }

    #[test]
    fn nonsense_is_refused_and_never_marked(body in bodies(), seed: u64, ids in prop::collection::vec(".{0,6}", 0..10)) {
        let item = item(body, 1);
        let pose = Pose::new(&item, None, seed);
        let form = kinds::question(&item, &pose).form;
        if let Ok(response) = kinds::read(&form, &ids) {
            kinds::mark(&item, &pose, &response).unwrap();
        }
    }

    #[test]
    fn an_order_is_never_shown_solved(len in 2..8_usize, seed: u64) {
        let steps = (0..len).map(|index| Step { text: format!("{index}"), why: None }).collect();
        let item = item(Body::Order(steps), 1);
        prop_assert!(!Pose::new(&item, None, seed).order.is_sorted());
    }
}

#[test]
fn a_response_to_another_kind_is_refused() {
    let item = item(
        Body::Single(Choice {
            options: vec![option(0, true), option(1, false)],
            keep_order: true,
        }),
        1,
    );
    let pose = Pose::new(&item, None, 1);
    for response in [
        Response::Typed("a".into()),
        Response::Chosen(vec![]),
        Response::Chosen(vec![0, 1]),
        Response::Chosen(vec![2]),
        Response::Pairs(vec![0]),
    ] {
        assert!(
            kinds::mark(&item, &pose, &response).is_err(),
            "{response:?}"
        );
    }
}

#[test]
fn kept_order_is_kept() {
    let options = (0..5).map(|index| option(index, index == 2)).collect();
    let item = item(
        Body::Single(Choice {
            options,
            keep_order: true,
        }),
        1,
    );
    for seed in 0..50 {
        assert_eq!(Pose::new(&item, None, seed).order, [0, 1, 2, 3, 4]);
    }
}

#[test]
fn a_wrong_pair_is_told_with_the_reason_of_an_extra() {
    let pairs = Match {
        pairs: vec![
            Pair {
                left: "lip".into(),
                right: "mental nerve".into(),
                why: None,
            },
            Pair {
                left: "tongue".into(),
                right: "lingual nerve".into(),
                why: None,
            },
        ],
        extra: vec![Extra {
            text: "facial nerve".into(),
            why: "It moves and does not feel.".into(),
        }],
    };
    let item = item(Body::Match(pairs), 1);
    let pose = Pose {
        wording: 0,
        order: vec![0, 1],
        targets: vec![0, 1, 2],
        drawn: Vec::new(),
    };
    let response = kinds::read(&kinds::question(&item, &pose).form, &["b3", "a1"]).unwrap();
    let verdict = kinds::mark(&item, &pose, &response).unwrap();
    assert!(!verdict.right);
    assert_eq!(verdict.key, ["a1", "b2"]);
    assert_eq!(verdict.logged, ["a1", "b3"]);
    assert_eq!(
        verdict.lines[1].given.as_deref(),
        Some("you chose facial nerve. It moves and does not feel.")
    );
}
