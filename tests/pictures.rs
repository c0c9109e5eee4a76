//! Places and flaps on the faces without a drawing, and what of them an item's fingerprint sees.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

use std::sync::Arc;

use luxate::answer::{Answer, AnswerId};
use luxate::deck::library::Library;
use luxate::deck::model::Deck;
use luxate::deck::{fingerprint, read_deck};
use luxate::line::jsonl;
use luxate::line::plain::{self, Pace};
use luxate::memory::study::StudyPlan;
use luxate::query::Query;
use luxate::round::{Desk, Limits, Record, Round};
use luxate::time::{Moment, TURNOVER_HOUR};
use serde_json::{Value, json};

const DECK: &str = include_str!("decks/good/pictures.yaml");

fn deck(text: &str) -> Deck {
    let reading = read_deck("pictures.yaml", text.as_bytes());
    let said: Vec<_> = reading
        .diagnostics
        .iter()
        .map(|found| &found.message)
        .collect();
    assert!(said.is_empty(), "{said:?}");
    reading.deck.unwrap()
}

/// The deck with only the item of this id.
fn only(id: &str) -> Deck {
    let mut deck = deck(DECK);
    deck.items.retain(|item| item.id == id);
    deck
}

#[derive(Default)]
struct Kept(Vec<Answer>);

impl Desk for Kept {
    fn now(&self) -> Moment {
        let time = chrono::DateTime::parse_from_rfc3339("2027-03-02T19:30:00Z").unwrap();
        Moment::new(time, TURNOVER_HOUR)
    }

    fn elapsed(&self) -> f64 {
        0.0
    }

    fn answer_id(&mut self) -> AnswerId {
        AnswerId([7; 16])
    }

    fn store(&mut self, answer: &Answer) -> Result<(), String> {
        self.0.push(answer.clone());
        Ok(())
    }

    fn store_query(&mut self, _query: &Query) -> Result<(), String> {
        Err("The disk is full.".into())
    }
}

fn round(id: &str, desk: &Kept) -> Round {
    let library = Arc::new(Library::new(vec![only(id)]));
    let record = Record::replay(library, StudyPlan::default(), []);
    Round::review(record, Limits::default(), 5, desk.now())
}

/// What plain lines say to this input, and what was stored.
fn spoken(id: &str, input: &str) -> (String, Vec<Answer>) {
    let mut desk = Kept::default();
    let mut round = round(id, &desk);
    let mut out = Vec::new();
    plain::play(
        &mut round,
        &mut desk,
        Pace::Waits,
        &mut input.as_bytes(),
        &mut out,
    )
    .unwrap();
    (String::from_utf8(out).unwrap(), desk.0)
}

/// What JSON Lines say to these responses, each given once.
fn exchanged(id: &str, responses: &[&[&str]]) -> (Vec<Value>, Vec<Answer>) {
    let mut desk = Kept::default();
    let mut round = round(id, &desk);
    let mut input = String::new();
    for response in responses {
        let line = json!({"type": "answer", "ask": 1, "response": response, "confidence": "certain", "seconds": 9});
        input += &line.to_string();
        input.push('\n');
    }
    let mut out = Vec::new();
    jsonl::play(&mut round, &mut desk, &mut input.as_bytes(), &mut out).unwrap();
    let lines = String::from_utf8(out).unwrap();
    let objects = lines
        .lines()
        .map(|line| serde_json::from_str(line).unwrap());
    (objects.collect(), desk.0)
}

#[test]
fn a_place_is_asked_in_words_and_never_drawn() {
    let (said, answers) = spoken("foramen", "zz\nb\ncertain\nstop\n");
    insta::assert_snapshot!(said);
    assert_eq!(answers.len(), 1);
    assert!(said.is_ascii(), "no drawing in lines");
}

#[test]
fn a_query_that_cannot_be_stored_is_told_and_stays_at_hand() {
    let (said, answers) = spoken(
        "foramen",
        "b\ncertain\nquery\nWhy not d?\n\ndrop\nwhat\nstop\n",
    );
    assert_eq!(answers.len(), 1);
    let told = "Your query is not stored: The disk is full.";
    assert_eq!(said.matches(told).count(), 2, "{said}");
    assert!(said.contains("Nothing was kept."), "{said}");

    let mut desk = Kept::default();
    let mut round = round("foramen", &desk);
    let input = [
        json!({"type": "answer", "ask": 1, "response": ["b"], "confidence": "likely", "hold": true}),
        json!({"type": "query", "ask": 1, "text": "Why not d?"}),
    ];
    let input = input.map(|line| line.to_string()).join("\n");
    let mut out = Vec::new();
    jsonl::play(&mut round, &mut desk, &mut input.as_bytes(), &mut out).unwrap();
    let said = String::from_utf8(out).unwrap();
    let told = r#"{"type":"error","ask":1,"message":"the query is not stored: The disk is full."}"#;
    assert!(said.contains(told), "{said}");
}

#[test]
fn a_flap_is_asked_end_by_end_and_read_back() {
    let input = "sulcular\n4 ml\n10 20\n6 dl\nnone\nnone\nyes\nlikely\nstop\n";
    let (said, answers) = spoken("premolar-root", input);
    insta::assert_snapshot!(said);
    assert!(answers[0].right);
    assert_eq!(answers[0].response, ["4ml r10@20 .. 6dl"]);
}

/// A limb may be drawn in any lower case, and the question must not tell where it is needed; beside a distal release there
/// is none to ask for.
#[test]
fn a_limb_is_asked_for_in_every_lower_case() {
    let input = "sulcular\n4 ml\nnone\n7 dl\nnone\n10 45\nyes\nlikely\nstop\n";
    let (said, answers) = spoken("premolar-root", input);
    assert!(said.contains("Limb behind the last tooth"), "{said}");
    assert_eq!(answers[0].response[0], "4ml .. 7dl limb10@45");
    let input = "sulcular\n4 ml\nnone\n7 dl\n10 10\nyes\nlikely\nstop\n";
    let (said, answers) = spoken("premolar-root", input);
    assert!(!said.contains("Limb behind the last tooth"), "{said}");
    assert_eq!(answers[0].response[0], "4ml .. 7dl r10@10");
}

#[test]
fn a_flap_that_is_none_is_asked_again() {
    let input = "deep\nsulcular\nfour\n6 dl\nnone\n4 ml\nnone\nnone\nsulcular\n5 ml\n10 10\n7 dl\nnone\nnone\nno\n\
                 sulcular\n4 mp\n10 5\n6 dl\nnone\nnone\nmaybe\nyes\nc\nstop\n";
    let (said, answers) = spoken("premolar-root", input);
    insta::assert_snapshot!(said);
    assert_eq!(answers[0].response, ["4mp r10@5 .. 6dl", "start"]);
}

#[test]
fn places_in_json_lines() {
    let (lines, _) = exchanged("foramen", &[]);
    let ask = &lines[0];
    assert_eq!(
        (ask["kind"].as_str(), ask["diagram"].as_str()),
        (Some("locate"), Some("block"))
    );
    assert!(ask["view"].as_str().unwrap().starts_with("a block of bone"));
    let options = ask["options"].as_array().unwrap();
    let hole = options
        .iter()
        .find(|option| option["text"] == "the ringed hole near the front")
        .unwrap();
    let id = hole["id"].as_str().unwrap();
    let (lines, answers) = exchanged("foramen", &[&["z"], &[], &[id]]);
    assert_eq!(lines[1]["type"], "error");
    assert_eq!(lines[2]["type"], "error");
    assert_eq!(
        (lines[3]["right"].as_bool(), &lines[3]["key"]),
        (Some(true), &json!([id]))
    );
    assert_eq!(answers[0].response, ["mental foramen"]);
    assert_eq!(answers[0].shown.len(), 5);
}

#[test]
fn flaps_in_json_lines() {
    let (lines, answers) = exchanged(
        "premolar-root",
        &[
            &["4ml"],
            &["4ml r10@20 .. 6dl limb10@45", "x"],
            &["5ml r10@10 to 7dl"],
        ],
    );
    let case = &lines[0]["case"];
    assert_eq!(
        *case,
        json!({
            "words": "Lower left, from the cheek side. Site: tooth 5. Bone to be removed: 2 to 8 mm below the neck.",
            "jaw": "lower", "side": "left", "surface": "buccal", "site": [5],
            "bone_top_mm": 2.0, "bone_bottom_mm": 8.0, "missing": [],
            "defects": [], "eminences": [], "attached_mm": null, "spare_margin": false,
        })
    );
    assert_eq!(lines[1]["type"], "error");
    assert_eq!(lines[2]["type"], "error");
    let reveal = &lines[3];
    assert_eq!(
        (reveal["right"].as_bool(), &reveal["key"]),
        (Some(false), &json!(["4ml r10@20 .. 6dl"]))
    );
    let broken: Vec<&str> = reveal["lines"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|line| line["standing"] == "wrong" && line["id"] != "")
        .map(|line| line["id"].as_str().unwrap())
        .collect();
    assert_eq!(broken, ["reach", "sound", "mental"]);
    assert_eq!(
        answers[0].response,
        ["5ml r10@10 .. 7dl", "reach", "sound", "mental"]
    );
}

/// The fingerprint of an item after a change to the deck's text.
fn print(id: &str, change: Option<(&str, &str)>) -> String {
    let text = match change {
        Some((old, new)) => {
            assert!(DECK.contains(old), "{old}");
            DECK.replacen(old, new, 1)
        }
        None => DECK.to_owned(),
    };
    let reading = read_deck("pictures.yaml", text.as_bytes());
    let deck = reading.deck.unwrap_or_else(|| panic!("{change:?}"));
    fingerprint(deck.items.iter().find(|item| item.id == id).unwrap())
}

#[test]
fn a_region_or_a_key_changes_a_place_and_words_do_not() {
    let before = print("foramen", None);
    for same in [
        ("the ringed hole near the front", "the ring near the front"),
        (
            "a block of bone from the side",
            "a bone block from the side",
        ),
        ("size: \"6,5\"", "size: \"6,5.0\""),
        ("why: The canal has to rise", "why: The canal must rise"),
    ] {
        assert_eq!(print("foramen", Some(same)), before, "{same:?}");
    }
    for other in [
        ("size: \"6,5\"", "size: \"6,6\""),
        (
            "opening, line: bold, at: \"15,30\"",
            "opening, line: bold, at: \"15.5,30\"",
        ),
        ("key: mental foramen", "key: crest"),
        ("key: mental foramen", "key: [mental foramen, crest]"),
    ] {
        assert_ne!(print("foramen", Some(other)), before, "{other:?}");
    }
}

#[test]
fn a_case_or_a_number_changes_a_flap_and_words_do_not() {
    let before = print("premolar-root", None);
    for same in [
        ("show: 4ml r10@20 .. 6dl", "show: 4ml r12@20 .. 6dl"),
        (
            "The whole papilla stays or goes",
            "All of the papilla stays or goes",
        ),
        ("source: MANUAL p 30", "source: MANUAL p 31"),
    ] {
        assert_eq!(print("premolar-root", Some(same)), before, "{same:?}");
    }
    for other in [
        ("bottom: 8", "bottom: 7"),
        ("side: left", "side: right"),
        ("limit: eminence, value: 2", "limit: eminence, value: 1.5"),
        ("decisive: [junction]", "decisive: [frenum]"),
        ("    type: three-cornered\n", ""),
        ("site: [5]", "site: [5]\n      missing: [8]"),
        ("site: [5]", "site: [5]\n      eminences: [6]"),
        ("site: [5]", "site: [5]\n      attached: 5"),
        (
            "site: [5]",
            "site: [5]\n      defects: [{tooth: 8, top: 1, bottom: 3}]",
        ),
    ] {
        assert_ne!(print("premolar-root", Some(other)), before, "{other:?}");
    }
}
