//! Answers and queries to test with.

use luxate::answer::{Answer, AnswerId, Confidence, ItemRef, PartNumber, Quality, RoundKind};
use luxate::query::{LONGEST, Query};
use luxate::time::{Day, Moment};
use proptest::prelude::*;

/// The answer with this number; two numbers give two answers.
pub(crate) fn numbered(number: u32) -> Answer {
    let mut id = [0xa5; 16];
    id[..4].copy_from_slice(&number.to_be_bytes());
    let confidence = Confidence::ALL[number as usize % 3];
    let right = !number.is_multiple_of(4);
    Answer {
        id: AnswerId(id),
        at: Moment {
            utc_ms: 1_795_000_000_000 + i64::from(number) * 21_337,
            day: Day::from_number(20_775 + i64::from(number) / 40),
            offset_min: 60,
        },
        item: ItemRef::new("flaps", format!("relief-{}", number % 25)),
        edition: "2026-11-01".into(),
        fingerprint: format!("{:016x}", u64::from(number) << 9),
        part: number
            .is_multiple_of(5)
            .then_some(PartNumber { number: 2, of: 3 }),
        wording: number % 3,
        shown: ["c", "a", "b"].map(String::from).to_vec(),
        response: vec!["a".into()],
        right,
        confidence,
        quality: Quality::of(right, confidence),
        seconds: f64::from(number) / 7.0,
        round: RoundKind::ALL[number as usize % 3],
    }
}

/// A query on the item of the answer with this number; two numbers give two queries.
pub(crate) fn query(number: u32) -> Query {
    let answer = numbered(number);
    Query {
        at: answer.at,
        item: answer.item,
        edition: answer.edition,
        fingerprint: answer.fingerprint,
        part: answer.part,
        answer: answer.id,
        text: format!("Remark {number}: is c not right as well?"),
    }
}

/// Any query that the log may hold.
pub(crate) fn any_query() -> impl Strategy<Value = Query> {
    let remark = prop_oneof![
        "[a-zé下\u{202e}\u{2028}\u{feff}\u{e0041}\"\\\\ ]{1,30}",
        "\\PC{1,40}"
    ]
    .prop_filter("more than spaces", |text| !text.trim().is_empty());
    (any_answer(), remark, 1..=LONGEST / 40).prop_map(|(answer, text, times)| Query {
        at: answer.at,
        item: answer.item,
        edition: answer.edition,
        fingerprint: answer.fingerprint,
        part: answer.part,
        answer: answer.id,
        text: text.repeat(times),
    })
}

/// Any text, control and bidi characters and NUL not excepted.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-zé下\u{0}\u{7}\u{1b}\u{85}\u{202e}\u{2028}\u{feff}\u{e0041}\"\\\\ ]{0,12}",
        any::<String>()
    ]
}

fn texts() -> impl Strategy<Value = Vec<String>> {
    prop::collection::vec(text(), 0..5)
}

/// Any finite number from 0 up, subnormal ones and the greatest included.
fn seconds() -> impl Strategy<Value = f64> {
    prop_oneof![
        0.0..1e4,
        Just(f64::MAX),
        (0_u64..=f64::MAX.to_bits()).prop_map(f64::from_bits)
    ]
}

/// Any answer that the log may hold, with an id of its own.
pub(crate) fn any_answer() -> impl Strategy<Value = Answer> {
    // Years 0 to 9999.
    let moment = (
        -62_167_219_200_000_i64..=253_402_300_799_999,
        -719_528_i64..=2_932_896,
        -1439_i32..=1439,
    )
        .prop_map(|(utc_ms, day, offset_min)| Moment {
            utc_ms,
            day: Day::from_number(day),
            offset_min,
        });
    let asked = (
        "[a-z0-9-]{1,20}",
        "[!-~é下]{1,20}",
        text(),
        "[0-9a-f]{16}",
        any::<u32>(),
        texts(),
        prop::option::of((2_u8..=8, 0_u8..8).prop_map(|(of, before)| PartNumber {
            number: before % of + 1,
            of,
        })),
    );
    let got = (
        texts(),
        any::<bool>(),
        prop::sample::select(&Confidence::ALL),
        (0_u8..=5).prop_filter_map("0 to 5", Quality::new),
        seconds(),
        prop::sample::select(&RoundKind::ALL),
    );
    (any::<[u8; 16]>(), moment, asked, got).prop_map(|(id, at, asked, got)| {
        let (deck, item, edition, fingerprint, wording, shown, part) = asked;
        let (response, right, confidence, quality, seconds, round) = got;
        Answer {
            id: AnswerId(id),
            at,
            item: ItemRef { deck, item },
            edition,
            fingerprint,
            part,
            wording,
            shown,
            response,
            right,
            confidence,
            quality,
            seconds,
            round,
        }
    })
}
