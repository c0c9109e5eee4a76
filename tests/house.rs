//! The house rules that a compiler does not know: which module may use which, and what stays out of the core.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

use std::fs;
use std::path::{Path, PathBuf};

/// Floors of the house from the ground up: a module may use those of its own floor and of the floors below.
const FLOORS: [&[&str]; 9] = [
    &[
        "answer",
        "chance",
        "diagnostic",
        "query",
        "settings",
        "source",
        "text",
        "time",
        "words",
    ],
    &["figure"],
    &["flap"],
    &["deck"],
    &["kinds", "memory"],
    &["round", "class"],
    &["tui", "line", "report", "interchange", "store"],
    &["edge"],
    &["cli"],
];

/// What the pure core must not touch.
const UNCLEAN: [&str; 9] = [
    "std::fs",
    "std::env",
    "std::io::std",
    "std::process",
    "std::net",
    "SystemTime",
    "Instant::now",
    "rusqlite::",
    "crossterm::",
];

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}

/// Each source file with the module it belongs to.
fn house() -> Vec<(String, PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let module = |file: &Path| {
        let first = file
            .strip_prefix(&root)
            .unwrap()
            .components()
            .next()
            .unwrap();
        first
            .as_os_str()
            .to_string_lossy()
            .trim_end_matches(".rs")
            .to_owned()
    };
    sources(&root)
        .into_iter()
        .map(|file| {
            (
                module(&file),
                file.clone(),
                fs::read_to_string(&file).unwrap(),
            )
        })
        .filter(|(module, ..)| module != "lib" && module != "main")
        .collect()
}

fn floor(module: &str) -> Option<usize> {
    FLOORS.iter().position(|floor| floor.contains(&module))
}

#[test]
fn no_module_looks_upstairs() {
    for (module, file, text) in house() {
        let own = floor(&module)
            .unwrap_or_else(|| panic!("{module} has no floor: give it one in tests/house.rs"));
        for used in text.split("crate::").skip(1) {
            let name: String = used
                .chars()
                .take_while(|c| c.is_alphanumeric() || *c == '_')
                .collect();
            let Some(other) = floor(&name) else { continue };
            assert!(
                other <= own,
                "{}: {module} must not use {name}",
                file.display()
            );
        }
    }
}

#[test]
fn the_core_is_pure() {
    let core = floor("round").unwrap();
    for (module, file, text) in house() {
        if floor(&module).is_some_and(|own| own > core) {
            continue;
        }
        let without_comments: String = text
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"))
            .collect();
        for word in UNCLEAN {
            assert!(
                !without_comments.contains(word),
                "{} uses {word}",
                file.display()
            );
        }
    }
}
