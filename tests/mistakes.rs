//! Confident errors and mistaken beliefs: found in the log, kept until put right on a later day, told by `plan`.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

use std::io::Write;
use std::process::{Command, Stdio};
use std::sync::Arc;

use luxate::answer::{Answer, AnswerId, Confidence, ItemRef, PartNumber, Quality, RoundKind};
use luxate::deck::library::Library;
use luxate::deck::model::{Body, Item};
use luxate::edge::decks::built_in;
use luxate::kinds::{self, Pose, Response};
use luxate::memory::study::StudyPlan;
use luxate::round::Record;
use luxate::time::{Day, Moment};
use serde_json::{Value, json};

/// Responses that are wrong in every way that a deck names, and one in none.
fn wrong_responses(item: &Item, pose: &Pose) -> Vec<Response> {
    match &item.body {
        Body::Single(_) | Body::Multiple(_) | Body::Locate(_) => (0..pose.order.len())
            .map(|place| Response::Chosen(vec![place]))
            .collect(),
        Body::Short(short) => {
            let refused = short.refuse.iter().map(|refused| refused.text.clone());
            refused.map(Response::Typed).collect()
        }
        Body::Numeric(numeric) => kinds::worked(numeric, pose)
            .into_iter()
            .flat_map(|worked| worked.slips)
            .map(|(number, _)| Response::Typed(number))
            .collect(),
        Body::Flap(task) => task
            .slips
            .iter()
            .map(|slip| Response::Design(slip.design))
            .collect(),
        Body::Order(_) | Body::Match(_) | Body::Case(_) => Vec::new(),
    }
}

fn answer(item: ItemRef, day: i64, right: bool, confidence: Confidence) -> Answer {
    Answer {
        id: AnswerId([1; 16]),
        at: Moment {
            utc_ms: day * 86_400_000,
            day: Day::from_number(day),
            offset_min: 0,
        },
        item,
        edition: "2026-11-25".into(),
        fingerprint: "0123456789abcdef".into(),
        part: None,
        wording: 0,
        shown: Vec::new(),
        response: Vec::new(),
        right,
        confidence,
        quality: Quality::of(right, confidence),
        seconds: 10.0,
        round: RoundKind::Review,
    }
}

#[test]
fn the_log_betrays_what_the_reveal_told() {
    let mut told = std::collections::BTreeMap::new();
    for deck in built_in() {
        for item in deck.items.iter().flat_map(|item| {
            let parts = item.parts().iter().map(|part| &part.item);
            std::iter::once(item).chain(parts)
        }) {
            for seed in 0..4 {
                let pose = Pose::new(item, None, seed);
                for response in wrong_responses(item, &pose) {
                    let verdict = kinds::mark(item, &pose, &response).unwrap();
                    let answer = Answer {
                        shown: kinds::shown(item, &pose),
                        response: verdict.logged,
                        ..answer(ItemRef::new("d", "i"), 0, verdict.right, Confidence::Likely)
                    };
                    assert_eq!(
                        kinds::betrayed(item, &answer),
                        verdict.beliefs,
                        "{}",
                        item.id
                    );
                    *told.entry(item.body.kind()).or_insert(0) += verdict.beliefs.len();
                }
            }
        }
    }
    let kinds: Vec<&str> = told
        .iter()
        .filter(|(_, count)| **count > 0)
        .map(|(kind, _)| *kind)
        .collect();
    assert_eq!(
        kinds,
        ["flap", "locate", "multiple", "numeric", "short", "single"]
    );
}

/// A library of the built-in decks with a safety item that has an option which betrays a belief.
fn library() -> (Arc<Library>, usize, ItemRef, String, String) {
    let library = Library::new(built_in());
    let (number, letter, belief) = (0..library.entries().len())
        .find_map(|number| {
            let item = library.item(number)?;
            let Body::Single(choice) = &item.body else {
                return None;
            };
            let place = choice
                .options
                .iter()
                .position(|option| option.belief.is_some())?;
            let belief = choice.options[place].belief.clone()?;
            item.is_safety()
                .then(|| (number, kinds::letter(place), belief))
        })
        .unwrap();
    let reference = library.entries()[number].reference.clone();
    (Arc::new(library), number, reference, letter, belief)
}

#[test]
fn a_mistake_stands_until_a_right_answer_on_a_later_day() {
    let (library, number, reference, letter, belief) = library();
    let fingerprint = library.entries()[number].fingerprint.clone();
    let say = |day, right, confidence| Answer {
        fingerprint: fingerprint.clone(),
        response: vec![letter.clone()],
        ..answer(reference.clone(), day, right, confidence)
    };
    let counts = |log: &[Answer]| {
        let record = Record::replay(library.clone(), StudyPlan::default(), log);
        let home = record.home(log[log.len() - 1].at);
        assert_eq!(home.confident_errors, record.confident_errors().len());
        assert_eq!(home.mistaken_beliefs, record.mistaken_beliefs().len());
        (home.confident_errors, home.mistaken_beliefs)
    };
    let mut log = vec![say(100, false, Confidence::Certain)];
    let record = Record::replay(library.clone(), StudyPlan::default(), &log);
    let error = record.confident_errors()[0];
    assert_eq!(
        (error.item, error.day, error.safety),
        (number, Day::from_number(100), true)
    );
    let held = &record.mistaken_beliefs()[0];
    assert_eq!(
        (&held.deck, &held.id, &held.items),
        (&reference.deck, &belief, &vec![number])
    );
    assert_eq!(counts(&log), (1, 1));
    log.push(say(100, true, Confidence::Certain));
    assert_eq!(counts(&log), (1, 1), "right minutes after the reveal");
    log.push(say(102, false, Confidence::Guessing));
    assert_eq!(counts(&log), (1, 1), "doubt alone puts nothing right");
    log.push(say(103, true, Confidence::Likely));
    assert_eq!(counts(&log), (0, 0), "right on a later day");
    log.push(say(104, false, Confidence::Likely));
    assert_eq!(counts(&log), (0, 1), "wrong again, but not certain");
    log.push(Answer {
        fingerprint: "f".repeat(16),
        ..say(105, false, Confidence::Certain)
    });
    assert_eq!(counts(&log), (0, 0), "another key, another question");
}

#[test]
fn parts_of_a_case_are_put_right_one_by_one() {
    let library = Arc::new(Library::new(built_in()));
    let number = (0..library.entries().len())
        .find(|&number| {
            library
                .item(number)
                .is_some_and(|item| item.parts().len() > 2)
        })
        .unwrap();
    let entry = &library.entries()[number];
    let of = u8::try_from(library.item(number).unwrap().parts().len()).unwrap();
    let part = |day, part, right| Answer {
        part: Some(PartNumber { number: part, of }),
        fingerprint: entry.fingerprint.clone(),
        ..answer(entry.reference.clone(), day, right, Confidence::Certain)
    };
    let errors = |log: &[Answer]| {
        let record = Record::replay(library.clone(), StudyPlan::default(), log);
        record.confident_errors().len()
    };
    let log = [
        part(1, 1, false),
        part(1, 2, false),
        part(2, 1, true),
        part(2, 2, true),
    ];
    assert_eq!(
        [errors(&log[..2]), errors(&log[..3]), errors(&log)],
        [1, 1, 0]
    );
}

#[test]
fn plan_lists_them_as_text_and_as_data() {
    let data = tempfile::tempdir().unwrap();
    let luxate = |arguments: &[&str], input: &str| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_luxate"))
            .env_clear()
            .env("LUXATE_DATA", data.path())
            .env("LUXATE_NOW", "2027-03-01T19:30:00Z")
            .env("TZ", "UTC")
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let _ignored = child.stdin.take().unwrap().write_all(input.as_bytes());
        String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap()
    };
    // Every option of single items in turn, certain each time: somewhere among them are errors and beliefs.
    let answers = (1..60).map(|ask| {
        json!({"type": "answer", "ask": ask, "response": ["b"], "confidence": "certain", "seconds": 5.0})
            .to_string()
    });
    let lines = answers.collect::<Vec<_>>().join("\n");
    luxate(&["review", "--jsonl", "--seed", "7"], &lines);
    let plan: Value = serde_json::from_str(&luxate(&["plan", "--json"], "")).unwrap();
    let errors = plan["confident_errors"].as_array().unwrap();
    assert!(!errors.is_empty());
    assert_eq!(errors[0]["day"], "2027-03-01");
    let said = luxate(&["plan"], "");
    assert!(
        said.contains("\nWrong and certain, and not put right on a later day\n  2027-03-01"),
        "{said}"
    );
    if let Some(belief) = plan["mistaken_beliefs"].as_array().unwrap().first() {
        assert!(said.contains(belief["text"].as_str().unwrap()), "{said}");
    }
}
