//! Cases: parts in order, one slip that does not cost the rest, and one schedule for the whole.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

use std::sync::Arc;

use luxate::answer::{Answer, AnswerId, Confidence, PartNumber};
use luxate::deck::library::Library;
use luxate::deck::read_deck;
use luxate::kinds::{self, Response};
use luxate::memory::study::StudyPlan;
use luxate::query::Refusal;
use luxate::round::{Limits, Phase, Record, Reveal, Round};
use luxate::time::{Day, Moment};
use proptest::prelude::*;

const DECK: &str = r#"
deck: cases
title: An invented case
edition: "2026-11-25"
language: en
licence: CC-BY-4.0
topics: [{id: bleeding, title: Bleeding, weight: 4}]
sources: [{id: BOOK, cite: An invented book, year: 2020}, {id: PAPER, cite: An invented paper, year: 2021}]
items:
  - id: socket
    topic: bleeding
    kind: case
    stem: A socket bleeds six hours after an extraction.
    wordings: [Six hours after an extraction the socket bleeds.]
    parts:
      - id: first
        kind: single
        stem: What comes first?
        options: [{text: Look and press, key: true}, {text: Wait, why: It goes on.}]
        rationale: Pressure stops most of it.
        safety: true
        caution: Blood loss goes on while you wait.
      - id: second
        finding: Pressure on gauze has stopped it, and an edge is seen to be torn.
        kind: short
        stem: What closes the edge?
        accept: [suture]
        rationale: A suture holds it.
        sources: [PAPER p 2]
      - id: third
        kind: order
        stem: In which order is it closed?
        steps: [{text: needle}, {text: knot}, {text: scissors}]
        rationale: So it goes.
    rationale: Pressure first, then the edge.
    sources: [BOOK p 1]
  - id: other
    topic: bleeding
    kind: short
    stem: What do you ask for?
    accept: [drug history]
    rationale: Drugs matter.
    sources: [BOOK]
"#;

fn library() -> Arc<Library> {
    let reading = read_deck("cases.yaml", DECK.as_bytes());
    let deck = reading
        .deck
        .unwrap_or_else(|| panic!("{:?}", reading.diagnostics));
    Arc::new(Library::new(vec![deck]))
}

fn at(day: i64, second: i64) -> Moment {
    Moment {
        utc_ms: day * 86_400_000 + second * 1000,
        day: Day::from_number(day),
        offset_min: 0,
    }
}

/// Answers the open question, right or wrong, and returns what is revealed with what was stored.
fn give(round: &mut Round, right: bool, confidence: Confidence, now: Moment) -> (Answer, Reveal) {
    let Phase::Asking(ask) = round.phase().clone() else {
        panic!("{:?}", round.phase())
    };
    let item = round.item(&ask).unwrap().clone();
    // The second try is the key that the first one told.
    let any = match item.body.kind() {
        "single" => Response::Chosen(vec![0]),
        "order" => Response::Sequence((0..3).collect()),
        _ => Response::Typed("nothing of the kind".into()),
    };
    let key = kinds::mark(&item, &ask.pose, &any).unwrap().key;
    let wrong: Vec<String> = match item.body.kind() {
        "single" => vec![if key[0] == "a" { "b" } else { "a" }.into()],
        "order" => key.iter().rev().cloned().collect(),
        _ => vec!["nothing of the kind".into()],
    };
    let response = kinds::read(&ask.question.form, if right { &key } else { &wrong }).unwrap();
    let id = AnswerId(u128::from(now.utc_ms.unsigned_abs()).to_be_bytes());
    let answer = round
        .answer(&response, confidence, 10.0, now, id)
        .unwrap()
        .clone();
    round.stored();
    let Phase::Revealed(reveal) = round.phase().clone() else {
        panic!()
    };
    assert_eq!(reveal.verdict.right, right);
    (answer, reveal)
}

#[test]
fn a_query_names_the_part_on_whose_reveal_it_was_written() {
    let record = Record::replay(library(), StudyPlan::default(), []);
    let mut round = Round::review(record, Limits::default(), 3, at(0, 0));
    let early = round.query("Too early?", at(0, 1));
    assert_eq!(early, Err(Refusal::NothingRevealed));
    let mut parts = Vec::new();
    while parts.len() < 3 {
        let (answer, _) = give(&mut round, true, Confidence::Certain, at(0, 2));
        let query = round.query(" Why this part? ", at(0, 3)).unwrap();
        assert_eq!(
            (&query.item, query.part, query.answer, query.at),
            (&answer.item, answer.part, answer.id, at(0, 3))
        );
        assert_eq!(query.fingerprint, answer.fingerprint);
        parts.extend(query.part.map(|part| part.number));
        round.go_on(at(0, 4));
    }
    assert_eq!(parts, [1, 2, 3]);
}

fn begin(record: Record, day: i64) -> Round {
    Round::review(
        record,
        Limits {
            seconds: None,
            items: Some(1),
        },
        1,
        at(day, 0),
    )
}

#[test]
fn parts_come_in_order_and_the_case_is_scheduled_once() {
    let library = library();
    let case = library
        .number(&luxate::answer::ItemRef::new("cases", "socket"))
        .unwrap();
    assert_eq!(case, 0);
    let mut round = begin(
        Record::replay(library.clone(), StudyPlan::default(), []),
        100,
    );
    let mut log = Vec::new();
    for (number, (right, confidence)) in [
        (true, Confidence::Certain),
        (false, Confidence::Likely),
        (true, Confidence::Guessing),
    ]
    .into_iter()
    .enumerate()
    {
        let Phase::Asking(ask) = round.phase().clone() else {
            panic!()
        };
        let part = PartNumber {
            number: u8::try_from(number).unwrap() + 1,
            of: 3,
        };
        assert_eq!(ask.part, Some(part));
        // The vignette stays; what has come to light is added, whatever was answered before.
        let told = &ask.question.context;
        assert_eq!(told[0], "A socket bleeds six hours after an extraction.");
        assert_eq!(told.len(), if number == 0 { 1 } else { 2 });
        let (answer, reveal) = give(
            &mut round,
            right,
            confidence,
            at(100, i64::from(part.number) * 60),
        );
        assert_eq!(answer.part, Some(part));
        assert_eq!(answer.item.to_string(), "cases/socket");
        assert_eq!(reveal.goes_on, part.next());
        // Nothing is scheduled before the last part.
        assert_eq!(round.record().due(case).is_some(), number == 2);
        log.push(answer);
        round.go_on(at(100, 600));
    }
    // The weakest part was wrong and likely: quality 1, so the whole case comes back today, from its first part.
    let Phase::Asking(again) = round.phase().clone() else {
        panic!()
    };
    assert!(again.pick.reask);
    assert_eq!(again.part.unwrap().number, 1);
    assert_eq!(
        again.question.context[0],
        "Six hours after an extraction the socket bleeds."
    );
    assert_eq!(round.record().due(case).unwrap(), Day::from_number(101));
    let sources = library.citations(case, Some(PartNumber { number: 2, of: 3 }));
    assert_eq!(sources, ["An invented paper, p 2."]);
    assert_eq!(
        library.citations(case, again.part),
        ["An invented book, p 1."]
    );
}

#[test]
fn a_case_left_in_the_middle_counts_for_nothing_and_begins_again() {
    let library = library();
    let mut round = begin(
        Record::replay(library.clone(), StudyPlan::default(), []),
        100,
    );
    let mut log = Vec::new();
    log.push(give(&mut round, false, Confidence::Certain, at(100, 1)).0);
    round.go_on(at(100, 2));
    log.push(give(&mut round, true, Confidence::Certain, at(100, 3)).0);
    round.stop();
    let record = Record::replay(library, StudyPlan::default(), &log);
    assert_eq!(record.due(0), None);
    assert_eq!(record.answers(), 2);
    let round = begin(record, 100);
    let Phase::Asking(ask) = round.phase() else {
        panic!()
    };
    assert_eq!((ask.item, ask.part.unwrap().number), (0, 1));
}

#[test]
fn a_case_is_as_good_as_its_weakest_part() {
    use Confidence::{Certain, Guessing, Likely};
    for (answers, quality) in [
        ([(true, Certain), (true, Certain), (true, Certain)], 5),
        ([(true, Certain), (true, Likely), (true, Certain)], 4),
        ([(true, Guessing), (true, Likely), (true, Certain)], 3),
        ([(true, Certain), (true, Certain), (false, Guessing)], 2),
        ([(false, Certain), (true, Certain), (false, Guessing)], 0),
    ] {
        let library = library();
        let mut round = begin(Record::replay(library, StudyPlan::default(), []), 100);
        for (second, (right, confidence)) in (1..).zip(answers) {
            give(&mut round, right, confidence, at(100, second));
            round.go_on(at(100, 50));
        }
        assert_eq!(round.record().comes_back(0), quality < 4, "{answers:?}");
        assert_eq!(round.record().due(0), Some(Day::from_number(101)));
    }
}

/// Any log over the two items: parts in any order, days that go back, keys that changed.
fn log() -> impl Strategy<Value = Vec<Answer>> {
    let answer = (
        0..2_usize,
        1..4_u8,
        0..30_i64,
        any::<bool>(),
        0..3_usize,
        0..8_u8,
        0.0..100.0_f64,
    );
    prop::collection::vec(answer, 0..60).prop_map(|answers| {
        let library = library();
        let entries = library.entries();
        let answers = answers.into_iter().enumerate();
        answers
            .map(
                |(number, (item, part, day, right, confidence, chance, seconds))| {
                    let confidence = Confidence::ALL[confidence];
                    Answer {
                        id: AnswerId((number as u128).to_be_bytes()),
                        at: at(20_000 + day, 1000),
                        item: entries[item].reference.clone(),
                        edition: "2026-11-25".into(),
                        fingerprint: if chance == 0 {
                            "0".repeat(16)
                        } else {
                            entries[item].fingerprint.clone()
                        },
                        part: (item == 0).then_some(PartNumber {
                            number: part,
                            of: 3,
                        }),
                        wording: u32::from(part % 2),
                        shown: vec![],
                        response: vec![],
                        right,
                        confidence,
                        quality: luxate::answer::Quality::of(right, confidence),
                        seconds,
                        round: luxate::answer::RoundKind::Review,
                    }
                },
            )
            .collect()
    })
}

proptest! {
    #[test]
    fn a_replay_ends_where_living_through_it_ended(log in log(), cut in any::<prop::sample::Index>()) {
        let cut = cut.index(log.len() + 1);
        let plan = StudyPlan::default();
        let whole = Record::replay(library(), plan, &log);
        let mut lived = Record::replay(library(), plan, &log[..cut]);
        for answer in &log[cut..] {
            lived.note(answer);
        }
        // Every bit of the state is in its debug form.
        prop_assert_eq!(format!("{whole:?}"), format!("{lived:?}"));
    }

    #[test]
    fn days_never_run_backwards(log in log()) {
        let record = Record::replay(library(), StudyPlan::default(), &log);
        if let Some(last) = log.iter().map(|answer| answer.at.day).max() {
            prop_assert_eq!(record.study_day(Day::from_number(0)), last);
        }
    }
}
