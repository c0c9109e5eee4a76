//! Properties of computed numbers, over every item of the built-in deck and over hostile input.
#![cfg(test)]

use std::sync::{Arc, LazyLock};

use luxate::answer::{Answer, AnswerId, Confidence};
use luxate::deck::library::Library;
use luxate::deck::model::{Body, Deck, Item};
use luxate::deck::numeric::{Drawn, Numeric};
use luxate::deck::{read_deck, reread_deck};
use luxate::interchange::log::{self, Entry};
use luxate::kinds::{self, Form, Pose, Standing, Unfit, Verdict};
use luxate::line::jsonl;
use luxate::line::plain::{self, Pace};
use luxate::memory::study::StudyPlan;
use luxate::query::Query;
use luxate::round::{Desk, Limits, Phase, Record, Round};
use luxate::time::{Day, Moment};
use proptest::prelude::*;
use serde_json::{Value, json};

fn deck() -> &'static Deck {
    static DECK: LazyLock<Deck> = LazyLock::new(|| {
        let bytes = include_bytes!("../decks/computed.yaml");
        read_deck("computed.yaml", bytes).deck.unwrap()
    });
    &DECK
}

fn numeric(item: &Item) -> &Numeric {
    match &item.body {
        Body::Numeric(numeric) => numeric,
        other => panic!("{}", other.kind()),
    }
}

fn answered(item: &Item, pose: &Pose, text: &str) -> Result<Verdict, Unfit> {
    let form = kinds::question(item, pose).form;
    kinds::mark(item, pose, &kinds::read(&form, &[text])?)
}

/// The key of an asking, without its unit.
fn key_of(item: &Item, pose: &Pose) -> String {
    let numeric = numeric(item);
    let key = numeric.key(&mut numeric.values(&pose.drawn)).unwrap();
    luxate::deck::numeric::plain(key)
}

#[test]
fn stems_and_solutions_show_every_value() {
    for item in &deck().items {
        for seed in 0..200 {
            let pose = Pose::new(item, Some(usize::try_from(seed).unwrap()), seed);
            let question = kinds::question(item, &pose);
            assert!(!question.stem.contains(['{', '}']), "{}", question.stem);
            assert!(matches!(question.form, Form::Number { .. }));
            let verdict = answered(item, &pose, "7777777").unwrap();
            for line in &verdict.lines {
                let shown = format!("{}{}", line.text, line.why.clone().unwrap_or_default());
                assert!(!shown.contains(['{', '}']), "{shown}");
                for word in ["NaN", "inf ", "-0 "] {
                    assert!(!shown.contains(word), "{shown}");
                }
            }
        }
        assert!(!kinds::heading(item).contains(['{', '}']));
    }
}

#[test]
fn two_askings_seldom_have_the_same_numbers() {
    for item in &deck().items {
        let mut draws: Vec<Vec<String>> = (0..40)
            .map(|seed| Pose::new(item, None, seed).logged())
            .collect();
        draws.sort();
        draws.dedup();
        assert!(draws.len() > 10, "{}: {} of 40", item.id, draws.len());
    }
}

#[test]
fn a_declared_slip_is_wrong_and_told_by_name() {
    for item in &deck().items {
        let numeric = numeric(item);
        let mut told = vec![false; numeric.slips.len()];
        for seed in 0..60 {
            let pose = Pose::new(item, None, seed);
            let mut values = numeric.values(&pose.drawn);
            let key = numeric.key(&mut values).unwrap();
            for (slip, told) in numeric.slips.iter().zip(&mut told) {
                let gives = numeric.slipped(slip, &mut values).unwrap();
                let text = luxate::deck::numeric::plain(gives);
                if numeric.accepts(key, gives) || numeric.accepts(key, text.parse().unwrap()) {
                    continue;
                }
                let verdict = answered(item, &pose, &text).unwrap();
                assert!(!verdict.right, "{}: {text}", item.id);
                let why = verdict.lines[0].why.clone().unwrap_or_default();
                *told |= why.contains(&format!("{}: ", slip.name));
            }
        }
        assert!(told.iter().all(|told| *told), "{}: {told:?}", item.id);
    }
}

#[test]
fn the_log_holds_the_draw() {
    for item in &deck().items {
        let mut round = round_of(&item.id);
        let Phase::Asking(ask) = round.phase().clone() else {
            panic!("nothing is asked");
        };
        let pose = &ask.pose;
        let response = kinds::read(&ask.question.form, &[key_of(item, pose)]).unwrap();
        let id = AnswerId([7; 16]);
        let answer = round.answer(&response, Confidence::Certain, 30.0, moment(), id);
        let answer = answer.unwrap();
        assert!(answer.right);
        let mut written = Vec::new();
        log::write([answer], &mut written).unwrap();
        let Some(Ok(Entry::Answer(read))) = log::read(written.as_slice()).next() else {
            panic!("what was written is an answer");
        };
        let drawn = read.shown.iter().map(|shown| {
            let (name, value) = shown.split_once('=').unwrap();
            Drawn {
                name: name.into(),
                value: value.into(),
            }
        });
        let again = Pose {
            drawn: drawn.collect(),
            ..pose.clone()
        };
        assert_eq!(again, *pose);
        assert_eq!(kinds::question(item, &again), ask.question);
        assert!(answered(item, &again, &read.response[0]).unwrap().right);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    #[test]
    fn the_key_is_right_in_every_spelling(seed: u64) {
        for item in &deck().items {
            let pose = Pose::new(item, None, seed);
            let key = key_of(item, &pose);
            let unit = numeric(item).unit.clone();
            let point = if key.contains('.') { key.clone() } else { format!("{key}.0") };
            // A fourth decimal keeps the comma from being read as one between thousands.
            let (whole, decimals) = point.split_once('.').unwrap();
            let comma = format!("{whole},{decimals:0<4}");
            let mut spellings = vec![key.clone(), point, comma, format!("  {key}  "), format!("+{key}")];
            for unit in unit.iter().chain(&numeric(item).units) {
                spellings.push(format!("{key} {unit}"));
                spellings.push(format!("{key}{}", unit.to_uppercase()));
            }
            if let Some(thousands) = key.strip_suffix("000").filter(|rest| !rest.is_empty() && !key.contains('.')) {
                spellings.push(format!("{thousands}\u{2009}000"));
            }
            for spelling in spellings {
                let verdict = answered(item, &pose, &spelling).unwrap();
                prop_assert!(verdict.right, "{}: {spelling} for {key}", item.id);
                prop_assert_eq!(verdict.lines[0].standing, Standing::Hit);
                prop_assert_eq!(&verdict.logged[0], spelling.trim());
            }
            // As a face that shows the key would have it typed.
            let verdict = answered(item, &pose, &key).unwrap();
            prop_assert!(answered(item, &pose, &verdict.key[0]).unwrap().right);
        }
    }

    #[test]
    fn a_wrong_unit_is_wrong_and_told(seed: u64) {
        for item in &deck().items {
            let pose = Pose::new(item, None, seed);
            let key = key_of(item, &pose);
            let Some(unit) = &numeric(item).unit else {
                prop_assert_eq!(answered(item, &pose, &format!("{key} mg")), Err(Unfit::NoUnit("mg".into())));
                continue;
            };
            let other = if unit == "years" { "kPa" } else { "years" };
            let verdict = answered(item, &pose, &format!("{key} {other}")).unwrap();
            prop_assert!(!verdict.right);
            let told = format!("The number is right but the unit is not: the answer is in {unit}, not in {other}.");
            prop_assert!(verdict.lines[0].why.clone().unwrap_or_default().starts_with(&told));
        }
    }

    #[test]
    fn nothing_typed_makes_marking_fail(seed: u64, text in ".{0,30}|[0-9 .,/eE%a-zµ+-]{0,20}") {
        let deck = deck();
        let item = &deck.items[usize::try_from(seed % deck.items.len() as u64).unwrap()];
        let pose = Pose::new(item, None, seed);
        if let Ok(verdict) = answered(item, &pose, &text) {
            prop_assert_eq!(verdict.right, verdict.lines[0].standing == Standing::Hit);
        }
    }
}

fn moment() -> Moment {
    Moment {
        utc_ms: 1_800_000_000_000,
        day: Day::parse("2027-01-15").unwrap(),
        offset_min: 0,
    }
}

/// A round over one item of the deck.
fn round_of(id: &str) -> Round {
    let mut deck = deck().clone();
    deck.items.retain(|item| item.id == id);
    let library = Arc::new(Library::new(vec![deck]));
    let record = Record::replay(library, StudyPlan::default(), []);
    Round::review(record, Limits::default(), 11, moment())
}

/// A desk that keeps what is stored.
#[derive(Default)]
struct Kept(Vec<Answer>);

impl Desk for Kept {
    fn now(&self) -> Moment {
        moment()
    }

    fn elapsed(&self) -> f64 {
        0.0
    }

    fn answer_id(&mut self) -> AnswerId {
        AnswerId([u8::try_from(self.0.len()).unwrap(); 16])
    }

    fn store(&mut self, answer: &Answer) -> Result<(), String> {
        self.0.push(answer.clone());
        Ok(())
    }

    fn store_query(&mut self, _query: &Query) -> Result<(), String> {
        Err("The disk is full.".into())
    }
}

#[test]
fn a_start_refuses_what_it_could_not_ask() {
    // What a check finds in thousands of draws a start need not find, but it never asks a draw that the condition excludes.
    for name in [
        "require-never-holds",
        "division-by-zero",
        "negative-key",
        "key-not-typeable",
    ] {
        let file = format!("{}/tests/decks/bad/{name}.yaml", env!("CARGO_MANIFEST_DIR"));
        let bytes = std::fs::read(file).unwrap();
        assert!(reread_deck(name, &bytes).deck.is_none(), "{name}");
    }
    let bytes = include_bytes!("../decks/computed.yaml");
    assert_eq!(
        reread_deck("computed.yaml", bytes).deck.as_ref(),
        Some(deck())
    );
}

#[test]
fn a_number_in_plain_lines() {
    let mut round = round_of("label-cartridges");
    let mut kept = Kept::default();
    let typed = "1,234\n1/2\nthree\n9 cartrigdes\n9 cartridges\nlikely\nstop\n";
    let mut said = Vec::new();
    let closing = plain::play(
        &mut round,
        &mut kept,
        Pace::Waits,
        &mut typed.as_bytes(),
        &mut said,
    )
    .unwrap();
    assert_eq!(closing.answers, 1);
    assert!(kept.0[0].shown.iter().any(|shown| shown.starts_with("kg=")));
    insta::assert_snapshot!(String::from_utf8(said).unwrap());
}

#[test]
fn a_number_in_json_lines() {
    let mut round = round_of("label-cartridges");
    let Phase::Asking(ask) = round.phase().clone() else {
        panic!("nothing is asked");
    };
    let item = deck()
        .items
        .iter()
        .find(|item| item.id == "label-cartridges");
    let key = key_of(item.unwrap(), &ask.pose);
    let answer = |response: &str| json!({"type": "answer", "ask": 1, "response": [response], "confidence": "certain"});
    let typed = format!(
        "{}\n{}\n{}\n",
        answer("1,234"),
        answer(&format!("{key},0 carpules")),
        json!({"type": "stop"})
    );
    let mut said = Vec::new();
    jsonl::play(
        &mut round,
        &mut Kept::default(),
        &mut typed.as_bytes(),
        &mut said,
    )
    .unwrap();
    let said: Vec<Value> = said
        .split(|byte| *byte == b'\n')
        .filter(|line| !line.is_empty())
        .map(|line| serde_json::from_slice(line).unwrap())
        .collect();
    assert_eq!(said[0]["kind"], "numeric");
    assert_eq!(said[0]["unit"], "cartridges");
    assert_eq!(said[0]["stem"], ask.question.stem);
    assert_eq!(said[1]["type"], "error");
    assert_eq!(said[2]["right"], true);
    assert_eq!(said[2]["key"], json!([format!("{key} cartridges")]));
    assert_eq!(
        said[2]["lines"][0]["given"],
        format!("you typed {key},0 carpules")
    );
}
