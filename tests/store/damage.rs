//! What can be read of a damaged store is read, and nothing else is.

use std::fs;

use luxate::answer::Answer;
use luxate::query::Query;
use luxate::store::{Salvage, Store, StoreError};
use tempfile::tempdir;

use crate::answers::{numbered, query};
use crate::refusals::filled;

const PAGE: usize = 4096;

/// The numbers of the answers saved, all of which must be just as they were written.
fn numbers(salvage: &Salvage) -> Vec<u32> {
    let number = |answer: &Answer| {
        let number = u32::from_be_bytes(answer.id.0[..4].try_into().unwrap());
        assert_eq!(*answer, numbered(number));
        number
    };
    salvage.answers.iter().map(number).collect()
}

#[test]
fn a_sound_file_is_read_whole_even_while_it_is_in_use() {
    let (dir, file) = filled(20);
    let mut store = Store::open(dir.path()).unwrap();
    store.append(&numbered(20)).unwrap();
    let salvage = Store::salvage(&file).unwrap();
    assert!(salvage.problem.is_none());
    assert_eq!(numbers(&salvage), (0..21).collect::<Vec<_>>());
    store.append(&numbered(21)).unwrap();
}

#[test]
fn a_page_overwritten_costs_the_rows_on_it() {
    let (dir, file) = filled(400);
    let whole = fs::read(&file).unwrap();
    let pages = whole.len() / PAGE;
    let mut lost = Vec::new();
    for page in 1..pages {
        let mut spoilt = whole.clone();
        spoilt[page * PAGE..(page + 1) * PAGE].fill(0xff);
        fs::write(&file, &spoilt).unwrap();
        let told = match Store::open(dir.path()) {
            Ok(store) => matches!(store.integrity(), Err(StoreError::Damaged { .. })),
            Err(error) => matches!(error, StoreError::Damaged { .. }),
        };
        assert!(told, "page {page}");
        let salvage = Store::salvage(&file).unwrap();
        assert!(matches!(salvage.problem, Some(StoreError::Damaged { .. })));
        let numbers = numbers(&salvage);
        assert!(numbers.is_sorted());
        lost.push(400 - numbers.len());
    }
    // Only the root of the table takes everything with it.
    assert_eq!(lost.iter().filter(|&&rows| rows == 400).count(), 1);
    assert!(
        lost.iter().all(|&rows| rows < 30 || rows == 400),
        "{lost:?}"
    );
    assert!(lost.iter().sum::<usize>() >= 800, "{lost:?}");
}

#[test]
fn a_damaged_page_of_queries_costs_no_answer() {
    let (dir, file) = filled(50);
    let mut store = Store::open(dir.path()).unwrap();
    for number in 0..400 {
        store.append_query(&query(number)).unwrap();
    }
    drop(store);
    let whole = fs::read(&file).unwrap();
    let mut kept = Vec::new();
    for page in 1..whole.len() / PAGE {
        let mut spoilt = whole.clone();
        spoilt[page * PAGE..(page + 1) * PAGE].fill(0xff);
        fs::write(&file, &spoilt).unwrap();
        let salvage = Store::salvage(&file).unwrap();
        assert!(matches!(salvage.problem, Some(StoreError::Damaged { .. })));
        assert!(salvage.queries.len() == 400 || salvage.answers.len() == 50);
        let number = |found: &Query| (0..400).find(|&number| *found == query(number)).unwrap();
        assert!(salvage.queries.iter().map(number).is_sorted());
        kept.push(salvage.queries.len());
    }
    // Only the root of the table takes everything with it.
    assert_eq!(kept.iter().filter(|&&rows| rows == 0).count(), 1);
    assert!(kept.iter().all(|&rows| rows == 0 || rows > 350), "{kept:?}");
}

#[test]
fn damage_is_told_at_opening_after_an_unclean_end() {
    let (dir, file) = filled(400);
    let mut store = Store::open(dir.path()).unwrap();
    store.append(&numbered(400)).unwrap();
    // As a killed process leaves it, with a page spoilt that the log beside it does not hold.
    let left = tempdir().unwrap();
    let copy = Store::file_in(left.path());
    let mut spoilt = fs::read(&file).unwrap();
    let page = spoilt.len() / PAGE / 2;
    spoilt[page * PAGE..(page + 1) * PAGE].fill(0xff);
    fs::write(&copy, spoilt).unwrap();
    fs::copy(file.with_extension("db-wal"), copy.with_extension("db-wal")).unwrap();
    let error = Store::open(left.path()).unwrap_err();
    assert!(matches!(error, StoreError::Damaged { .. }), "{error}");
}

#[test]
fn a_file_cut_short_keeps_its_beginning() {
    let (_dir, file) = filled(400);
    let whole = fs::read(&file).unwrap();
    fs::write(&file, &whole[..whole.len() / 2]).unwrap();
    let salvage = Store::salvage(&file).unwrap();
    assert!(matches!(salvage.problem, Some(StoreError::Damaged { .. })));
    let numbers = numbers(&salvage);
    assert!((120..280).contains(&numbers.len()), "{}", numbers.len());
}

#[test]
fn what_holds_no_log_gives_an_error() {
    let dir = tempdir().unwrap();
    let file = Store::file_in(dir.path());
    assert!(Store::salvage(&file).is_err());
    fs::write(&file, "notes").unwrap();
    let error = Store::salvage(&file).unwrap_err();
    assert!(matches!(error, StoreError::NotADatabase { .. }), "{error}");
    fs::remove_file(&file).unwrap();
    fs::create_dir(&file).unwrap();
    assert!(Store::salvage(&file).is_err());
}

#[test]
fn any_byte_may_be_wrong_and_nothing_panics_or_is_invented() {
    let (dir, file) = filled(60);
    let whole = fs::read(&file).unwrap();
    for at in (0..whole.len()).step_by(97) {
        let mut spoilt = whole.clone();
        spoilt[at] ^= 0x55;
        fs::write(&file, &spoilt).unwrap();
        if let Ok(salvage) = Store::salvage(&file) {
            assert!(salvage.answers.len() <= 60);
        }
        if let Ok(mut store) = Store::open(dir.path()) {
            let read = store.answers();
            assert!(read.is_err() || read.is_ok_and(|answers| answers.len() <= 60));
            store.append(&numbered(1000)).ok();
        }
        for suffix in ["db-wal", "db-shm"] {
            fs::remove_file(file.with_extension(suffix)).ok();
        }
    }
}
