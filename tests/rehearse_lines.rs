//! The rehearsal lines under good and bad input.

use luxate::line::rehearse::Rehearsal;
use proptest::prelude::*;
use serde_json::Value;

const SETUP: &str = r#"{"type":"setup","minutes_a_day":10,"items":[
    {"item":"a","topic":"flaps","weight":0.5,"chance":0.25},
    {"item":"b","topic":"roots","weight":0.3,"chance":0.2},
    {"item":"c","topic":"roots","weight":0.2,"chance":0.02}]}"#;

fn started() -> Rehearsal {
    let mut rehearsal = Rehearsal::default();
    assert_eq!(rehearsal.line(&SETUP.replace('\n', " ")), None);
    rehearsal
}

fn reply(rehearsal: &mut Rehearsal, line: &str) -> Value {
    let text = rehearsal.line(line).unwrap_or_default();
    serde_json::from_str(&text).unwrap_or(Value::Null)
}

#[test]
fn a_day_runs_as_laid_down() {
    let mut rehearsal = started();
    let day = r#"{"type":"day","day":0,"at":0.75,"seconds":600}"#;
    assert_eq!(
        rehearsal.line(day).as_deref(),
        Some(r#"{"type":"ask","item":"a"}"#)
    );
    let wrong = r#"{"type":"answer","item":"a","at":0.7501,"right":false,"confidence":"likely","seconds":30}"#;
    assert_eq!(reply(&mut rehearsal, wrong)["item"], "b");
    for item in ["b", "c"] {
        let right = format!(
            r#"{{"type":"answer","item":"{item}","at":0.751,"right":true,"confidence":"certain","seconds":12.5}}"#
        );
        reply(&mut rehearsal, &right);
    }
    // SM-2 without an exam: what was below four comes back when nothing else is left.
    let again = r#"{"type":"answer","item":"a","at":0.752,"right":true,"confidence":"certain","seconds":9}"#;
    assert_eq!(rehearsal.line(again).as_deref(), Some(r#"{"type":"rest"}"#));
    assert_eq!(rehearsal.line(r#"{"type":"close","day":0}"#), None);
    let forecast = reply(&mut rehearsal, r#"{"type":"forecast","at":9.4}"#);
    assert_eq!(forecast["score"], Value::Null);
    assert_eq!(
        forecast["items"].as_object().map(serde_json::Map::len),
        Some(3)
    );
    assert!(!rehearsal.is_finished());
    assert_eq!(rehearsal.line(r#"{"type":"quit"}"#), None);
    assert!(rehearsal.is_finished());
}

#[test]
fn the_exam_may_come_change_and_go() {
    let mut rehearsal = started();
    for exam in ["9.4", "3.4", "1.75", "null", "2.4"] {
        let line = format!(r#"{{"type":"exam","at":{exam}}}"#);
        assert_eq!(rehearsal.line(&line), None, "{exam}");
        let day = r#"{"type":"day","day":1,"at":1.75,"seconds":600}"#;
        assert_eq!(reply(&mut rehearsal, day)["type"], "ask");
    }
}

#[test]
fn bad_lines_are_refused_one_by_one_and_change_nothing() {
    let mut rehearsal = started();
    let day = r#"{"type":"day","day":0,"at":0.75,"seconds":600}"#;
    let before = reply(&mut rehearsal, day);
    let bad = [
        "x",
        "{}",
        "[]",
        "null",
        r#"{"type":"dance"}"#,
        r#"{"type":"day","day":0,"at":0.75}"#,
        r#"{"type":"day","day":0,"at":0.75,"seconds":600,"mood":1}"#,
        r#"{"type":"day","day":9999999999,"at":0.75,"seconds":600}"#,
        r#"{"type":"day","day":0,"at":1e300,"seconds":600}"#,
        r#"{"type":"day","day":0,"at":0.75,"seconds":-1}"#,
        r#"{"type":"day","day":0,"at":0.75,"seconds":1e999}"#,
        r#"{"type":"exam","at":1e99}"#,
        r#"{"type":"exam","at":"soon"}"#,
        r#"{"type":"forecast","at":-1e300}"#,
        r#"{"type":"answer","item":"z","at":0.75,"right":true,"confidence":"likely","seconds":1}"#,
        r#"{"type":"answer","item":"a","at":0.75,"right":true,"confidence":"sure","seconds":1}"#,
        r#"{"type":"answer","item":"a","at":0.75,"right":1,"confidence":"likely","seconds":1}"#,
        r#"{"type":"setup","minutes_a_day":-1,"items":[]}"#,
        r#"{"type":"setup","minutes_a_day":9,"items":[{"item":"a","topic":"t","weight":-1,"chance":0}]}"#,
        r#"{"type":"setup","minutes_a_day":9,"items":[{"item":"a","topic":"t","weight":1,"chance":2}]}"#,
        r#"{"type":"setup","minutes_a_day":9,"items":[{"item":"a","topic":"t","weight":1,"chance":0},{"item":"a","topic":"t","weight":1,"chance":0}]}"#,
    ];
    for line in bad {
        let reply = reply(&mut rehearsal, line);
        assert_eq!(reply["type"], "error", "{line}");
        assert!(
            reply["text"].as_str().is_some_and(|text| text.len() > 5),
            "{line}"
        );
    }
    assert_eq!(reply(&mut rehearsal, day), before);
    assert_eq!(rehearsal.line("  "), None);
}

#[test]
fn nothing_but_a_setup_is_taken_first() {
    let mut rehearsal = Rehearsal::default();
    let day = r#"{"type":"day","day":0,"at":0.75,"seconds":600}"#;
    assert_eq!(reply(&mut rehearsal, day)["type"], "error");
    let answer =
        r#"{"type":"answer","item":"a","at":0.7,"right":true,"confidence":"likely","seconds":1}"#;
    assert_eq!(reply(&mut started(), answer)["type"], "error");
}

#[test]
fn absurd_weights_are_lived_with() {
    for weights in [[0.0, 0.0], [1e9, 1e-300], [1e-320, 1e-320]] {
        let mut rehearsal = Rehearsal::default();
        let setup = format!(
            r#"{{"type":"setup","minutes_a_day":30,"items":[{{"item":"a","topic":"t","weight":{:e},"chance":0}},{{"item":"b","topic":"u","weight":{:e},"chance":1}}]}}"#,
            weights[0], weights[1]
        );
        assert_eq!(rehearsal.line(&setup), None);
        assert_eq!(rehearsal.line(r#"{"type":"exam","at":40.4}"#), None);
        let mut asked = 0;
        let mut next = reply(
            &mut rehearsal,
            r#"{"type":"day","day":0,"at":0.75,"seconds":600}"#,
        );
        while next["type"] == "ask" && asked < 50 {
            asked += 1;
            let line = format!(
                r#"{{"type":"answer","item":{},"at":{},"right":true,"confidence":"certain","seconds":9}}"#,
                next["item"],
                0.75 + 0.0001 * f64::from(asked)
            );
            next = reply(&mut rehearsal, &line);
        }
        assert_eq!((asked, next["type"].as_str()), (2, Some("rest")));
    }
}

#[test]
fn what_is_out_of_order_is_refused_and_changes_nothing() {
    let run = |bad: &[&str]| {
        let mut rehearsal = started();
        let mut replies = Vec::new();
        for line in [
            r#"{"type":"exam","at":9.4}"#,
            r#"{"type":"day","day":3,"at":3.75,"seconds":600}"#,
            r#"{"type":"answer","item":"a","at":3.7502,"right":false,"confidence":"likely","seconds":20}"#,
            r#"{"type":"answer","item":"b","at":3.7502,"right":true,"confidence":"certain","seconds":0}"#,
            r#"{"type":"close","day":3}"#,
            r#"{"type":"day","day":3,"at":3.8,"seconds":0}"#,
            r#"{"type":"exam","at":8.4}"#,
            r#"{"type":"day","day":4,"at":4.75,"seconds":600}"#,
            r#"{"type":"forecast","at":8.4}"#,
        ] {
            replies.push(rehearsal.line(line));
            if replies.len() < 2 {
                continue;
            }
            for bad in bad {
                let told = reply(&mut rehearsal, bad);
                assert_eq!(told["type"], "error", "{bad}: {told}");
            }
        }
        replies
    };
    let answer = |at: &str, seconds: &str| {
        format!(
            r#"{{"type":"answer","item":"a","at":{at},"right":true,"confidence":"likely","seconds":{seconds}}}"#
        )
    };
    let bad = [
        answer("-3", "5"),
        answer("3.7", "5"),
        answer("4.9", "-5"),
        answer("4.9", "1e300"),
        answer("4.9", "86401"),
        r#"{"type":"day","day":1,"at":4.9,"seconds":600}"#.into(),
        r#"{"type":"day","day":5,"at":3.7,"seconds":600}"#.into(),
        r#"{"type":"exam","at":-5}"#.into(),
        r#"{"type":"exam","at":3.7}"#.into(),
        r#"{"type":"setup","minutes_a_day":9,"items":[]}"#.into(),
        SETUP.replace('\n', " "),
    ];
    let bad: Vec<&str> = bad.iter().map(String::as_str).collect();
    assert_eq!(run(&bad), run(&[]));

    let mut rehearsal = Rehearsal::default();
    let empty = r#"{"type":"setup","minutes_a_day":0,"items":[]}"#;
    assert_eq!(
        reply(&mut rehearsal, empty)["text"],
        "the setup has no items"
    );
    assert_eq!(rehearsal.line(&SETUP.replace('\n', " ")), None);
    let told = rehearsal.too_long().unwrap_or_default();
    assert!(told.contains("longer than 1 MiB"), "{told}");
}

proptest! {
    #[test]
    fn no_line_panics_and_every_reply_is_one_line_of_json(
        lines in prop::collection::vec(prop_oneof![
            "\\PC{0,60}",
            r#"\{"type":"(day|answer|exam|forecast|close|quit|setup)"[a-z0-9:,."\[\]{}-]{0,60}\}"#,
            (-3..40_i64, -2.0..41.0_f64).prop_map(|(day, at)| format!(
                r#"{{"type":"day","day":{day},"at":{at},"seconds":600}}"#)),
            (0..4_usize, -2.0..41.0_f64, any::<bool>()).prop_map(|(item, at, right)| format!(
                r#"{{"type":"answer","item":"{}","at":{at},"right":{right},"confidence":"likely","seconds":5}}"#,
                ["a", "b", "c", "d"][item])),
            (-5.0..50.0_f64).prop_map(|at| format!(r#"{{"type":"exam","at":{at}}}"#)),
            (-5.0..50.0_f64).prop_map(|at| format!(r#"{{"type":"forecast","at":{at}}}"#)),
        ], 0..40),
    ) {
        let mut rehearsal = started();
        for line in lines {
            if let Some(reply) = rehearsal.line(&line) {
                prop_assert!(!reply.contains('\n'));
                prop_assert!(serde_json::from_str::<Value>(&reply).is_ok());
            }
        }
    }
}
