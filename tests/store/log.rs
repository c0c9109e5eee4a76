//! What goes into the log comes out again, once, whoever writes and in whatever order.

use std::collections::BTreeMap;
use std::thread;

use luxate::answer::Flaw;
use luxate::answer::{Answer, AnswerId};
use luxate::query::Query;
use luxate::settings::Setting;
use luxate::store::{Appended, Merged, Store, StoreError};
use proptest::prelude::*;
use tempfile::tempdir;

use crate::answers::{any_answer, numbered, query};

fn by_id(answers: Vec<Answer>) -> BTreeMap<AnswerId, Answer> {
    answers.into_iter().map(|a| (a.id, a)).collect()
}

#[test]
fn answers_come_back_in_order_and_after_reopening() {
    let dir = tempdir().unwrap();
    let written: Vec<_> = [5, 1, 9, 2].map(numbered).to_vec();
    let mut store = Store::open(dir.path()).unwrap();
    for answer in &written {
        assert_eq!(store.append(answer).unwrap(), Appended::New);
    }
    assert_eq!(store.answers().unwrap(), written);
    drop(store);
    let store = Store::open(dir.path()).unwrap();
    assert_eq!(store.answers().unwrap(), written);
    assert_eq!(store.count().unwrap(), 4);
    store.integrity().unwrap();
}

#[test]
fn queries_are_kept_beside_the_answers_in_their_order() {
    let dir = tempdir().unwrap();
    let written = [query(3), query(1), query(1)];
    let mut store = Store::open(dir.path()).unwrap();
    store.append(&numbered(3)).unwrap();
    for query in &written {
        store.append_query(query).unwrap();
    }
    let flawed = Query {
        text: "two\nlines".into(),
        ..query(2)
    };
    let error = store.append_query(&flawed).unwrap_err();
    let is_told = matches!(error, StoreError::FlawedQuery { flaw } if flaw == Flaw::Remark);
    assert!(is_told, "{error}");
    drop(store);
    let store = Store::open(dir.path()).unwrap();
    assert_eq!(store.queries().unwrap(), written);
    assert_eq!(store.answers().unwrap(), [numbered(3)]);
    store.integrity().unwrap();
    let salvage = Store::salvage(&Store::file_in(dir.path())).unwrap();
    assert_eq!(salvage.queries, written);
}

#[test]
fn the_same_answer_twice_is_known_and_another_of_its_id_is_refused() {
    let dir = tempdir().unwrap();
    let mut store = Store::open(dir.path()).unwrap();
    let first = numbered(1);
    store.append(&first).unwrap();
    assert_eq!(store.append(&first).unwrap(), Appended::Known);
    let changed = Answer {
        right: !first.right,
        ..first.clone()
    };
    let error = store.append(&changed).unwrap_err();
    assert!(matches!(error, StoreError::Conflict { id } if id == first.id));
    // A clash undoes the whole merge that it is found in.
    let error = store.append_all(&[numbered(2), changed]).unwrap_err();
    assert!(matches!(error, StoreError::Conflict { .. }));
    assert_eq!(store.answers().unwrap(), [first]);
}

#[test]
fn a_flawed_answer_is_refused_and_nothing_with_it_is_stored() {
    let dir = tempdir().unwrap();
    let mut store = Store::open(dir.path()).unwrap();
    let flawed = Answer {
        seconds: f64::NAN,
        ..numbered(2)
    };
    let error = store.append_all(&[numbered(1), flawed]).unwrap_err();
    assert!(matches!(error, StoreError::Flawed { id, .. } if id == numbered(2).id));
    assert_eq!(store.count().unwrap(), 0);
}

#[test]
fn settings_are_kept_and_replaced() {
    let dir = tempdir().unwrap();
    let mut store = Store::open(dir.path()).unwrap();
    assert_eq!(store.setting(Setting::CautionRead).unwrap(), None);
    for time in ["2026-11-25T08:00:00.000Z", "2026-11-26T08:00:00.000Z"] {
        store.set(Setting::CautionRead, time).unwrap();
        let other = Store::open(dir.path()).unwrap();
        let read = other.setting(Setting::CautionRead).unwrap();
        assert_eq!(read.as_deref(), Some(time));
    }
}

#[test]
fn many_connections_write_at_once_and_nothing_is_lost() {
    let dir = tempdir().unwrap();
    // Making the store is part of the contest.
    thread::scope(|scope| {
        for writer in 0..4 {
            let dir = dir.path();
            scope.spawn(move || {
                let mut store = Store::open(dir).unwrap();
                // Each writes 50 of its own and 10 that all write.
                for number in (writer * 1000..writer * 1000 + 50).chain(9000..9010) {
                    store.append(&numbered(number)).unwrap();
                }
            });
        }
    });
    let store = Store::open(dir.path()).unwrap();
    assert_eq!(store.count().unwrap(), 4 * 50 + 10);
    let kept = by_id(store.answers().unwrap());
    assert!((0..4).all(|w| (0..50).all(|n| kept.contains_key(&numbered(w * 1000 + n).id))));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn what_is_read_is_what_was_written(answers in prop::collection::vec(any_answer(), 0..8)) {
        let dir = tempdir().unwrap();
        let mut store = Store::open(dir.path()).unwrap();
        let merged = store.append_all(&answers).unwrap();
        prop_assert_eq!(merged, Merged { new: answers.len(), known: 0 });
        let read = store.answers().unwrap();
        let bits = |answers: &[Answer]| -> Vec<u64> {
            answers.iter().map(|a| a.seconds.to_bits()).collect()
        };
        prop_assert_eq!(bits(&read), bits(&answers));
        prop_assert_eq!(read, answers);
        store.integrity().unwrap();
    }

    #[test]
    fn any_order_with_any_repetition_gives_the_same_set(
        answers in prop::collection::vec(any_answer(), 1..8),
        picks in prop::collection::vec(any::<prop::sample::Index>(), 0..24),
    ) {
        let dir = tempdir().unwrap();
        let mut store = Store::open(dir.path()).unwrap();
        let mut new = 0;
        for pick in picks {
            let appended = store.append(pick.get(&answers)).unwrap();
            new += usize::from(appended == Appended::New);
        }
        let merged = store.append_all(&answers).unwrap();
        prop_assert_eq!(new + merged.new, answers.len());
        prop_assert_eq!(new, merged.known);
        prop_assert_eq!(by_id(store.answers().unwrap()), by_id(answers));
    }
}
