//! `luxate deck check` as a process: what it prints, what it exits with, which files it looks at.
#![cfg(test)]

use std::fs;
use std::path::Path;
use std::process::Output;

use assert_cmd::Command;
use serde_json::Value;

fn luxate(arguments: &[&str]) -> Output {
    let mut command = Command::cargo_bin("luxate").unwrap();
    command.args(arguments).env("NO_COLOR", "1");
    command.output().unwrap()
}

fn fixture(name: &str) -> String {
    format!("{}/tests/decks/{name}.yaml", env!("CARGO_MANIFEST_DIR"))
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap()
}

#[test]
fn the_exit_code_tells_errors_from_flaws_and_from_what_cannot_be_read() {
    let check = |name: &str, flags: &[&str]| {
        let path = fixture(name);
        code(&luxate(&[&["deck", "check", &path], flags].concat()))
    };
    assert_eq!(check("good/forceps", &[]), 0);
    assert_eq!(check("good/forceps", &["--strict"]), 0);
    assert_eq!(check("bad/key-longest", &[]), 0);
    assert_eq!(check("bad/key-longest", &["--strict"]), 1);
    assert_eq!(check("bad/two-keys", &[]), 1);
    assert_eq!(check("bad/no-such-file", &[]), 2);
    assert_eq!(code(&luxate(&["deck", "check"])), 2);
}

#[test]
fn json_holds_every_finding_with_its_places() {
    let path = fixture("bad/two-keys");
    let output = luxate(&["deck", "check", "--json", &path]);
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(json["counts"]["errors"], 1);
    assert_eq!(json["counts"]["files"], 1);
    let found = &json["diagnostics"][0];
    assert_eq!(found["code"], "deck::two-keys");
    assert_eq!(found["severity"], "error");
    assert_eq!(found["file"], path);
    assert_eq!(found["item"], "lip");
    let source = fs::read_to_string(&path).unwrap();
    let line = usize::try_from(found["line"].as_u64().unwrap()).unwrap();
    assert!(source.lines().nth(line - 1).unwrap().contains("key: true"));
    assert!(found["related"][0]["line"].as_u64().unwrap() < found["line"].as_u64().unwrap());
    for key in [
        "column",
        "end_line",
        "end_column",
        "message",
        "why",
        "help",
        "patch",
    ] {
        assert!(found.get(key).is_some(), "{key}");
    }
}

#[test]
fn advice_is_held_back_until_it_is_asked_for() {
    let path = fixture("bad/vague-frequency");
    let held = text(&luxate(&["deck", "check", &path]).stdout);
    assert!(held.contains("1 piece of advice held back"), "{held}");
    assert!(!held.contains("deck::vague-frequency"));
    let shown = text(&luxate(&["deck", "check", "--advice", &path]).stdout);
    assert!(shown.contains("advice[deck::vague-frequency]"), "{shown}");
    let json = luxate(&["deck", "check", "--json", &path]);
    assert!(text(&json.stdout).contains("deck::vague-frequency"));
}

#[test]
fn a_limit_for_old_sources_can_be_set() {
    let path = fixture("good/forceps");
    let check = |years: &str| {
        let output = luxate(&["deck", "check", "--advice", "--older-than", years, &path]);
        text(&output.stdout).contains("deck::old-source")
    };
    assert!(check("2"));
    assert!(!check("30"));
}

#[test]
fn a_code_is_told_at_length() {
    let output = luxate(&["deck", "check", "--explain", "deck::key-longest"]);
    let told = text(&output.stdout);
    for part in ["Why", "Wrong", "Right", "Haladyna", "allow:"] {
        assert!(told.contains(part), "{told}");
    }
    assert!(
        told.lines().all(|line| line.chars().count() <= 100),
        "{told}"
    );
    let unknown = luxate(&["deck", "check", "--explain", "key-longst"]);
    assert_eq!(code(&unknown), 2);
    assert!(text(&unknown.stderr).contains("did you mean `deck::key-longest`?"));
}

fn copy(name: &str, to: &Path) {
    fs::create_dir_all(to.parent().unwrap()).unwrap();
    fs::copy(fixture(name), to).unwrap();
}

#[test]
fn folders_are_searched_once_and_to_the_bottom() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    copy("good/forceps", &at("b.yml"));
    copy("good/quoted", &at("deep/er/a.yaml"));
    copy("bad/two-keys", &at(".hidden/c.yaml"));
    copy("bad/two-keys", &at(".hidden.yaml"));
    fs::write(at("notes.txt"), "no deck").unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink(folder.path(), at("deep/loop")).unwrap();
    let root = folder.path().to_str().unwrap();
    let output = luxate(&[
        "deck",
        "check",
        "--json",
        root,
        at("b.yml").to_str().unwrap(),
        root,
    ]);
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(json["counts"]["files"], 2, "{}", text(&output.stderr));
    assert_eq!(json["counts"]["errors"], 0);
    assert_eq!(code(&output), 0);
    let empty = tempfile::tempdir().unwrap();
    let output = luxate(&["deck", "check", empty.path().to_str().unwrap()]);
    assert_eq!(code(&output), 2);
    assert!(text(&output.stderr).contains("there is no .yaml file"));
}

#[test]
fn a_diagram_of_its_own_is_checked_with_its_places() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    copy("good/forceps", &at("forceps.yaml"));
    let root = env!("CARGO_MANIFEST_DIR");
    let sound = fs::read_to_string(format!("{root}/decks/diagrams/mandible-lateral.yaml")).unwrap();
    fs::create_dir(at("diagrams")).unwrap();
    fs::write(at("diagrams/sound.yaml"), &sound).unwrap();
    let check = |path: &Path| luxate(&["deck", "check", "--json", path.to_str().unwrap()]);
    let json: Value = serde_json::from_slice(&check(folder.path()).stdout).unwrap();
    assert_eq!(json["counts"]["files"], 2);
    assert_eq!(json["diagnostics"], Value::Array(Vec::new()));

    // A shape that is none, and a place outside the frame.
    for (from, to, code_told) in [
        ("size: \"5.5,4.4\"", "size: \"5.5,x\"", "deck::bad-diagram"),
        ("at: \"95,73\"", "at: \"195,73\"", "deck::unsound-diagram"),
    ] {
        assert!(sound.contains(from));
        let bad = at("diagrams/bad.yaml");
        fs::write(&bad, sound.replace(from, to)).unwrap();
        let output = check(&bad);
        assert_eq!(code(&output), 1);
        let json: Value = serde_json::from_slice(&output.stdout).unwrap();
        let found = &json["diagnostics"][0];
        assert_eq!(found["code"], code_told);
        let line = usize::try_from(found["line"].as_u64().unwrap()).unwrap();
        let bad = fs::read_to_string(&bad).unwrap();
        assert!(bad.lines().nth(line - 1).unwrap().contains(to), "{found}");
    }
    // It is no deck for all that.
    let add = luxate(&["deck", "add", at("diagrams/sound.yaml").to_str().unwrap()]);
    assert_eq!(code(&add), 2);
}

#[test]
fn a_question_asked_in_two_decks_is_told_with_both_places() {
    let folder = tempfile::tempdir().unwrap();
    let one = folder.path().join("one.yaml");
    let two = folder.path().join("two.yaml");
    copy("good/forceps", &one);
    let text_of_two = fs::read_to_string(&one)
        .unwrap()
        .replacen("deck: ", "deck: other-", 1);
    fs::write(&two, text_of_two).unwrap();
    let output = luxate(&["deck", "check", "--json", folder.path().to_str().unwrap()]);
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    let twins: Vec<&Value> = json["diagnostics"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|found| found["code"] == "deck::near-duplicate")
        .collect();
    assert!(!twins.is_empty(), "{json}");
    for twin in twins {
        assert_eq!(twin["file"], two.to_str().unwrap());
        let other = &twin["related"][0];
        assert_eq!(other["file"], one.to_str().unwrap());
        assert_ne!(
            (&other["line"], &other["column"]),
            (&other["end_line"], &other["end_column"])
        );
    }
}

#[test]
fn a_silence_with_a_reason_is_kept() {
    let text = fs::read_to_string(fixture("bad/absolute-term")).unwrap();
    let allowed = text.replacen(
        "    options:",
        "    allow:\n      - rule: deck::absolute-term\n        because: the guideline has the word\n    options:",
        1,
    );
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deck.yaml");
    fs::write(&path, allowed).unwrap();
    let output = luxate(&["deck", "check", "--strict", path.to_str().unwrap()]);
    assert_eq!(
        code(&output),
        0,
        "{}",
        String::from_utf8_lossy(&output.stdout)
    );
}
