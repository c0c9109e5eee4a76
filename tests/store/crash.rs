//! Real processes: several at once, and one that is killed at any moment.
//!
//! The writer is this very test program, started again with a variable that tells it where to write.

use std::env;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

use luxate::answer::AnswerId;
use luxate::store::Store;
use tempfile::tempdir;

use crate::answers::numbered;

const FOLDER: &str = "LUXATE_TEST_WRITER_FOLDER";
const RANGE: &str = "LUXATE_TEST_WRITER_RANGE";

/// In a process started by [`writer`]: writes its answers, tells of each that is stored, and is done.
fn wrote_as_child() -> bool {
    let (Some(folder), Ok(range)) = (env::var_os(FOLDER), env::var(RANGE)) else {
        return false;
    };
    let (first, end) = range.split_once(' ').unwrap();
    let mut store = Store::open(Path::new(&folder)).unwrap();
    for number in first.parse().unwrap()..end.parse().unwrap() {
        let answer = numbered(number);
        store.append(&answer).unwrap();
        println!("\nstored {}", answer.id);
    }
    true
}

fn writer(test: &str, folder: &Path, first: u32, end: u32) -> Child {
    Command::new(env::current_exe().unwrap())
        .args(["--exact", test, "--nocapture", "--test-threads=1"])
        .env(FOLDER, folder)
        .env(RANGE, format!("{first} {end}"))
        .stdout(Stdio::piped())
        .spawn()
        .unwrap()
}

/// The ids that a writer told of, as they come.
fn told(child: &mut Child) -> impl Iterator<Item = AnswerId> + use<> {
    BufReader::new(child.stdout.take().unwrap())
        .lines()
        .map_while(Result::ok)
        .filter_map(|line| AnswerId::parse(line.strip_prefix("stored ")?))
}

#[test]
fn processes_write_at_once() {
    if wrote_as_child() {
        return;
    }
    let dir = tempdir().unwrap();
    let mut children: Vec<_> = (0..3)
        .map(|n| {
            writer(
                "crash::processes_write_at_once",
                dir.path(),
                n * 1000,
                n * 1000 + 80,
            )
        })
        .collect();
    for child in &mut children {
        assert_eq!(told(child).count(), 80);
        assert!(child.wait().unwrap().success());
    }
    let store = Store::open(dir.path()).unwrap();
    assert_eq!(store.count().unwrap(), 240);
    store.integrity().unwrap();
}

#[test]
fn what_was_told_as_stored_outlives_a_kill() {
    if wrote_as_child() {
        return;
    }
    let dir = tempdir().unwrap();
    let mut known = 0;
    for round in 0..20 {
        // Each round is killed after another number of answers, the first while it makes the store.
        let mut child = writer(
            "crash::what_was_told_as_stored_outlives_a_kill",
            dir.path(),
            round * 1_000_000,
            (round + 1) * 1_000_000,
        );
        let mut ids = told(&mut child);
        let mut stored: Vec<_> = ids.by_ref().take(round as usize * 7 % 23).collect();
        child.kill().unwrap();
        // Said before the kill and not yet read.
        stored.extend(ids);
        assert!(!child.wait().unwrap().success());

        let store = Store::open(dir.path()).unwrap();
        store.integrity().unwrap();
        let kept: Vec<_> = store.answers().unwrap().iter().map(|a| a.id).collect();
        let new = &kept[known..];
        assert!(new.starts_with(&stored), "an answer was lost");
        assert!(new.len() <= stored.len() + 1, "more than was ever told");
        known = kept.len();
    }
    assert!(known > 100);
}
