//! The instructor's other commands as processes: new, schema, coverage, diff, add and remove.
#![cfg(test)]

use std::fs;
use std::path::Path;
use std::process::Output;

use assert_cmd::Command;
use serde_json::Value;

fn luxate(data: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::cargo_bin("luxate").unwrap();
    command.args(arguments).env("NO_COLOR", "1");
    command
        .env("LUXATE_DATA", data)
        .env("LUXATE_NOW", "2026-11-25T10:00:00+00:00");
    command.output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap()
}

fn forceps() -> String {
    fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/decks/good/forceps.yaml"
    ))
    .unwrap()
}

#[test]
fn a_new_deck_passes_the_checker_and_is_never_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("mine.yaml");
    let path = file.to_str().unwrap();
    let new = |kinds: &[&str], output: &[&str]| {
        let head = ["deck", "new", "mine", "--title", "My deck: one"];
        luxate(folder.path(), &[&head, kinds, output].concat())
    };
    let written = new(
        &["--kind", "single", "--kind", "order"],
        &["--output", path],
    );
    assert_eq!(code(&written), 0, "{}", err(&written));
    let checked = luxate(
        folder.path(),
        &["deck", "check", "--strict", "--advice", path],
    );
    assert_eq!(out(&checked), "1 file checked: nothing to report\n");
    let text = fs::read_to_string(&file).unwrap();
    let again = new(&[], &["--output", path]);
    assert_eq!(code(&again), 2);
    assert!(err(&again).contains("is there already"), "{}", err(&again));
    assert_eq!(fs::read_to_string(&file).unwrap(), text);
    assert!(out(&new(&["--kind", "short"], &[])).contains("kind: short"));
    let unknown = new(&["--kind", "essay"], &[]);
    assert_eq!(code(&unknown), 2);
    assert!(err(&unknown).contains("there is no kind `essay`"));
    let bad = luxate(folder.path(), &["deck", "new", "Not An Id", "--title", "x"]);
    assert_eq!(code(&bad), 2);
    assert!(err(&bad).contains("not fit to be an id"), "{}", err(&bad));
}

#[test]
fn the_schema_is_printed_as_json() {
    let folder = tempfile::tempdir().unwrap();
    let schema: Value =
        serde_json::from_str(&out(&luxate(folder.path(), &["deck", "schema"]))).unwrap();
    assert_eq!(
        schema["$schema"],
        "https://json-schema.org/draft/2020-12/schema"
    );
    assert_eq!(schema["additionalProperties"], false);
}

#[test]
fn coverage_counts_what_is_there() {
    let folder = tempfile::tempdir().unwrap();
    let built_in = luxate(folder.path(), &["deck", "coverage", "--json"]);
    let json: Value = serde_json::from_str(&out(&built_in)).unwrap();
    let items = json["items"].as_u64().unwrap();
    let sum = |values: Vec<&Value>| {
        values
            .iter()
            .map(|value| value.as_u64().unwrap())
            .sum::<u64>()
    };
    assert_eq!(
        sum(json["kinds"].as_object().unwrap().values().collect()),
        items
    );
    let topics = json["topics"].as_array().unwrap();
    assert_eq!(
        sum(topics.iter().map(|topic| &topic["items"]).collect()),
        items
    );
    let shares: f64 = topics
        .iter()
        .map(|topic| topic["share"].as_f64().unwrap())
        .sum();
    let aims: f64 = topics
        .iter()
        .map(|topic| topic["aim"].as_f64().unwrap())
        .sum();
    assert!((shares - 1.0).abs() < 1e-9);
    #[expect(clippy::cast_precision_loss, reason = "a few hundred items")]
    let all = items as f64;
    assert!((aims - all).abs() < 1e-6);
    let text = out(&luxate(folder.path(), &["deck", "coverage"]));
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
}

#[test]
fn a_thin_and_a_stale_topic_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let deck = folder.path().join("deck.yaml");
    let text = forceps().replacen("year: 20", "year: 19", 1).replacen(
        "topics:\n",
        "topics:\n  - id: untouched\n    title: Nobody wrote an item for it\n    weight: 5\n",
        1,
    );
    fs::write(&deck, text).unwrap();
    let told = out(&luxate(
        folder.path(),
        &["deck", "coverage", deck.to_str().unwrap()],
    ));
    assert!(told.contains("! thin: untouched has 0 items"), "{told}");
    assert!(told.contains("o stale: "), "{told}");
}

#[test]
fn coverage_takes_ids_and_files_and_tells_nothing_of_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let run = |decks: &[&str]| luxate(folder.path(), &[&["deck", "coverage"], decks].concat());
    let flaps = run(&["flaps"]);
    assert_eq!(code(&flaps), 0, "{}", err(&flaps));
    assert!(out(&flaps).contains("in 1 deck:"), "{}", out(&flaps));
    let bad = folder.path().join("bad.yaml");
    fs::write(&bad, forceps().replacen("kind: ", "kind: x", 1)).unwrap();
    let bad = bad.to_str().unwrap();
    for (decks, expected, told) in [
        (&["no-such"][..], 2, "there is no deck `no-such`"),
        (&["no/such.yaml"], 2, "no/such.yaml cannot be read"),
        (&[bad], 1, "has errors"),
    ] {
        let output = run(decks);
        assert_eq!(code(&output), expected, "{decks:?}");
        assert!(err(&output).contains(told), "{}", err(&output));
        assert_eq!(out(&output), "", "{decks:?}");
    }
    let both = run(&["flaps", bad]);
    assert_eq!(code(&both), 1);
    assert_eq!(out(&both), out(&flaps));
}

#[test]
fn a_deck_in_use_is_compared_by_its_id() {
    let folder = tempfile::tempdir().unwrap();
    let [one, two, _] = editions(folder.path());
    assert_eq!(code(&luxate(folder.path(), &["deck", "add", &one])), 0);
    let by_id = luxate(folder.path(), &["deck", "diff", "mine", &two]);
    assert_eq!(code(&by_id), 0, "{}", err(&by_id));
    let by_file = luxate(folder.path(), &["deck", "diff", &one, &two]);
    assert_eq!(out(&by_id), out(&by_file));
}

#[test]
fn a_topic_that_two_decks_weigh_differently_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let deck = folder.path().join("deck.yaml");
    let topic = "topics:\n  - id: complications\n    title: After extraction\n    weight: 5\n";
    fs::write(&deck, forceps().replacen("topics:\n", topic, 1)).unwrap();
    let added = luxate(folder.path(), &["deck", "add", deck.to_str().unwrap()]);
    let told = "topic complications is one topic in ";
    let lines = |text: &str| text.lines().filter(|line| line.starts_with(told)).count();
    assert_eq!(code(&added), 0, "{}", err(&added));
    assert_eq!(lines(&out(&added)), 1, "{}", out(&added));
    assert!(out(&added).contains("5 % \"After extraction\" does not"));
    let covered = out(&luxate(folder.path(), &["deck", "coverage"]));
    assert_eq!(lines(&covered), 1, "{covered}");
    assert!(covered.contains("\ncomplications: "), "{covered}");
}

#[test]
fn usage_asks_for_no_data_folder_and_the_pass_mark_is_echoed() {
    let folder = tempfile::tempdir().unwrap();
    let usage = err(&luxate(folder.path(), &["deck", "check"]));
    assert!(
        usage.contains("Usage: ") && !usage.contains("--data"),
        "{usage}"
    );
    let plan = out(&luxate(folder.path(), &["plan", "--pass", "75"]));
    assert!(plan.contains("\nPass      75 %\n"), "{plan}");
}

/// Three editions: the second rewords one item and moves the key of none; the third moves a key.
fn editions(folder: &Path) -> [String; 3] {
    let write = |name: &str, text: String| {
        let path = folder.join(name);
        fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let skeleton = |edition: &str| {
        let output = luxate(
            folder,
            &[
                "deck", "new", "mine", "--title", "Mine", "--kind", "single", "--kind", "short",
            ],
        );
        out(&output).replace("2026-11-25", edition)
    };
    let one = write("one.yaml", skeleton("2026-11-01"));
    let reworded = skeleton("2026-11-02").replace(
        "What does a straight elevator rest on while it turns?",
        "On what does a straight elevator rest as it turns?",
    );
    let two = write("two.yaml", reworded.clone());
    let rekeyed = reworded
        .replace("2026-11-02", "2026-11-03")
        .replace("text: Alveolar bone", "text: The opposing arch")
        .replace("elevator-fulcrum", "elevator-pivot");
    let three = write("three.yaml", rekeyed);
    [one, two, three]
}

#[test]
fn a_difference_says_what_happens_to_answers() {
    let folder = tempfile::tempdir().unwrap();
    let [one, two, three] = editions(folder.path());
    let diff = |old: &str, new: &str| -> Value {
        serde_json::from_str(&out(&luxate(
            folder.path(),
            &["deck", "diff", "--json", old, new],
        )))
        .unwrap()
    };
    let same = diff(&one, &one);
    assert_eq!(
        (&same["changes"], &same["unchanged"]),
        (&serde_json::json!([]), &serde_json::json!(2))
    );
    let reworded = diff(&one, &two);
    assert_eq!(reworded["changes"][0]["item"], "elevator-rest");
    assert_eq!(reworded["changes"][0]["change"], "reworded");
    assert_eq!(reworded["changes"][0]["meaning_changed"], false);
    let rekeyed = diff(&two, &three);
    let words: Vec<&str> = rekeyed["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|change| change["change"].as_str().unwrap())
        .collect();
    assert_eq!(words, ["rekeyed", "renamed"]);
    assert_eq!(rekeyed["changes"][1]["item"], "elevator-pivot");
    assert_eq!(rekeyed["changes"][1]["item_before"], "elevator-fulcrum");
    let text = out(&luxate(folder.path(), &["deck", "diff", &two, &three]));
    assert!(text.contains("earlier answers no longer count"), "{text}");
    assert!(
        text.contains("1 item renamed: earlier answers stay with the old id"),
        "{text}"
    );
    assert!(
        text.contains("  elevator-pivot, before elevator-fulcrum"),
        "{text}"
    );
    assert!(out(&luxate(folder.path(), &["deck", "diff", &two, &one])).contains("older edition"));
}

#[test]
fn editions_upgrade_in_place_and_a_removed_deck_can_return() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let [one, two, three] = editions(folder.path());
    let run = |arguments: &[&str]| luxate(&data, arguments);
    assert_eq!(code(&run(&["deck", "add", &one])), 0);
    let upgraded = run(&["deck", "add", &two]);
    assert!(
        out(&upgraded).contains("1 item reworded: answers go on counting"),
        "{}",
        out(&upgraded)
    );
    let rekeyed = out(&run(&["deck", "add", &three]));
    assert!(
        rekeyed.contains("1 item rekeyed") && rekeyed.contains("1 item renamed"),
        "{rekeyed}"
    );
    let older = run(&["deck", "add", &one]);
    assert_eq!(code(&older), 2);
    assert!(err(&older).contains("older edition"), "{}", err(&older));
    assert!(
        err(&older).contains("luxate deck remove mine and then add it again"),
        "{}",
        err(&older)
    );
    let other = folder.path().join("other.yaml");
    fs::write(
        &other,
        forceps().replacen("deck: example-forceps", "deck: mine", 1),
    )
    .unwrap();
    let clash = run(&["deck", "add", other.to_str().unwrap()]);
    assert_eq!(code(&clash), 2, "{}{}", out(&clash), err(&clash));
    assert_eq!(code(&run(&["deck", "add", "no-such-file.yaml"])), 2);
    let removed = run(&["deck", "remove", "mine"]);
    assert_eq!(code(&removed), 0);
    assert!(out(&removed).contains("count again"));
    assert!(!out(&run(&["deck", "list"])).contains("mine"));
    assert_eq!(code(&run(&["deck", "remove", "mine"])), 2);
    assert_eq!(code(&run(&["deck", "add", &one])), 0);
}

/// A slip in the year must not shut out every edition to come.
#[test]
fn an_edition_that_lies_ahead_is_not_added() {
    let folder = tempfile::tempdir().unwrap();
    let add = |edition: &str| {
        let path = folder.path().join("dated.yaml");
        fs::write(&path, forceps().replace("2026-11-25", edition)).unwrap();
        luxate(
            &folder.path().join("data"),
            &["deck", "add", path.to_str().unwrap()],
        )
    };
    assert!(forceps().contains("edition: \"2026-11-25\""));
    let ahead = add("2062-11-25");
    assert_eq!(code(&ahead), 2);
    assert!(
        err(&ahead).contains("lies ahead of today, 2026-11-25"),
        "{}",
        err(&ahead)
    );
    // Made today where the date is a day later.
    assert_eq!(code(&add("2026-11-27")), 2);
    assert_eq!(code(&add("2026-11-26")), 0);
}

#[test]
fn a_new_deck_says_what_is_wrong_with_its_id_and_title() {
    let folder = tempfile::tempdir().unwrap();
    let new = |id: &str, title: &str| {
        err(&luxate(
            folder.path(),
            &["deck", "new", id, "--title", title],
        ))
    };
    let said = new("Ward Rounds", "x");
    assert!(
        said.contains("lower-case letters, digits and hyphens"),
        "{said}"
    );
    let said = new("ward-rounds", "Ward\nrounds");
    assert!(said.contains("`title` must be one line"), "{said}");
}

#[test]
fn built_in_decks_and_paths_are_not_removed() {
    let folder = tempfile::tempdir().unwrap();
    let built_in = luxate(folder.path(), &["deck", "remove", "flaps"]);
    assert_eq!(code(&built_in), 2);
    assert!(err(&built_in).contains("is built in"), "{}", err(&built_in));
    let precious = folder.path().join("precious.yaml");
    fs::write(&precious, "x").unwrap();
    for path in ["../precious", "/etc/passwd", "..", "", "a/b", "A"] {
        assert_eq!(
            code(&luxate(folder.path(), &["deck", "remove", path])),
            2,
            "{path}"
        );
    }
    assert!(precious.exists());
}

#[test]
fn a_file_in_place_of_a_folder_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("afile");
    fs::write(&file, "x").unwrap();
    let deck = folder.path().join("deck.yaml");
    fs::write(&deck, forceps()).unwrap();
    let data = folder.path().join("data");
    fs::create_dir(&data).unwrap();
    fs::write(data.join("decks"), "x").unwrap();
    let add = ["deck", "add", deck.to_str().unwrap()];
    for (data, in_the_way) in [
        (&file, &file),
        (&file.join("deeper"), &file),
        (&data, &data.join("decks")),
    ] {
        for arguments in [
            &["plan"][..],
            &["review", "--line"],
            &["deck", "list"],
            &["deck", "remove", "mine"],
            &add,
        ] {
            let output = luxate(data, arguments);
            let told = err(&output);
            assert_eq!(code(&output), 2, "{arguments:?}: {told}");
            let start = format!("luxate: {} is not a folder", in_the_way.display());
            assert!(told.starts_with(&start), "{arguments:?}: {told}");
            assert!(told.contains("--data"), "{told}");
        }
    }
    assert_eq!(fs::read(&file).unwrap(), b"x");
}

#[test]
fn a_deck_put_there_by_hand_is_found_by_its_id() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let [one, two, _] = editions(folder.path());
    let decks = data.join("decks");
    fs::create_dir_all(&decks).unwrap();
    fs::copy(&one, decks.join("other.yaml")).unwrap();
    let run = |arguments: &[&str]| luxate(&data, arguments);
    let files = || fs::read_dir(&decks).unwrap().count();
    // A new edition takes its place, whatever it is called.
    assert_eq!(code(&run(&["deck", "add", &two])), 0);
    assert_eq!(files(), 1);
    assert_eq!(
        err(&run(&["deck", "remove", "other"]))
            .matches("no added deck `other`")
            .count(),
        1
    );
    let removed = run(&["deck", "remove", "mine"]);
    assert_eq!(code(&removed), 0, "{}", err(&removed));
    assert_eq!(files(), 0);
    assert!(!out(&run(&["deck", "list"])).contains("mine"));

    // A second one, one that says it is built in, and one that stands where another belongs.
    fs::copy(&one, decks.join("a.yaml")).unwrap();
    fs::copy(&one, decks.join("b.yaml")).unwrap();
    let built_in = forceps().replacen("deck: example-forceps", "deck: flaps", 1);
    fs::write(decks.join("example-forceps.yaml"), built_in).unwrap();
    let told = err(&run(&["deck", "list"]));
    assert!(
        told.contains("b.yaml holds a deck with the id mine, as another added deck has"),
        "{told}"
    );
    assert!(
        told.contains("forceps.yaml holds a deck with the id flaps, as a built-in deck has"),
        "{told}"
    );
    assert_eq!(told.lines().count(), 2, "{told}");
    let deck = folder.path().join("deck.yaml");
    fs::write(&deck, forceps()).unwrap();
    let taken = run(&["deck", "add", deck.to_str().unwrap()]);
    assert_eq!(code(&taken), 2);
    assert!(
        err(&taken).contains("holds another deck"),
        "{}",
        err(&taken)
    );
    assert_eq!(code(&run(&["deck", "remove", "mine"])), 0);
    assert_eq!(files(), 1);
}

#[test]
fn decks_added_at_once_are_all_added() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let deck = folder.path().join("deck.yaml");
    fs::write(&deck, forceps()).unwrap();
    let add = || luxate(&data, &["deck", "add", deck.to_str().unwrap()]);
    std::thread::scope(|scope| {
        let adding: Vec<_> = (0..4).map(|_| scope.spawn(add)).collect();
        for added in adding {
            let added = added.join().unwrap();
            assert_eq!(code(&added), 0, "{}", err(&added));
        }
    });
    assert_eq!(fs::read_dir(data.join("decks")).unwrap().count(), 1);
}

/// Writes a file and returns its path as text.
fn put(folder: &Path, name: &str, text: &str) -> String {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn the_id_of_a_built_in_deck_is_refused_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let new = luxate(folder.path(), &["deck", "new", "flaps", "--title", "Mine"]);
    assert_eq!((code(&new), out(&new)), (2, String::new()));
    assert!(
        err(&new).contains("a built-in deck with the id flaps"),
        "{}",
        err(&new)
    );
}

#[test]
fn a_diagram_is_called_a_diagram() {
    let folder = tempfile::tempdir().unwrap();
    let roots = fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/decks/diagrams/roots.yaml"
    ))
    .unwrap();
    let roots = put(folder.path(), "mix/roots.yaml", &roots);
    put(folder.path(), "mix/deck.YML", &forceps());
    let mix = folder.path().join("mix");
    let mix = mix.to_str().unwrap();
    let data = folder.path().join("data");
    let run = |arguments: &[&str]| luxate(&data, arguments);
    // A folder may hold the diagrams of its decks, and a file may be called .YML.
    let covered = run(&["deck", "coverage", mix]);
    assert_eq!(code(&covered), 0, "{}", err(&covered));
    assert!(out(&covered).contains("in 1 deck:"), "{}", out(&covered));
    assert_eq!(err(&covered), "");
    for arguments in [
        &["deck", "add", &roots][..],
        &["deck", "diff", &roots, "flaps"],
        &["deck", "show", &roots],
        &["deck", "print", &roots, "--to", mix],
    ] {
        let refused = run(arguments);
        assert_eq!(code(&refused), 2, "{arguments:?}");
        let told = err(&refused);
        assert!(
            told.contains("roots.yaml holds a diagram and not a deck"),
            "{told}"
        );
    }
    let alone = run(&["deck", "coverage", &roots]);
    assert_eq!(code(&alone), 2);
    assert!(err(&alone).contains("name a deck"), "{}", err(&alone));
}

#[test]
fn two_decks_are_not_two_editions() {
    let folder = tempfile::tempdir().unwrap();
    let [one, _, _] = editions(folder.path());
    let other = put(folder.path(), "other.yaml", &forceps());
    let told = out(&luxate(folder.path(), &["deck", "diff", &one, &other]));
    assert_eq!(
        told,
        "mine, edition 2026-11-01; example-forceps, edition 2026-11-25\n\
         these are two decks: no answer to the one counts for the other\n"
    );
}

#[test]
fn the_same_deck_twice_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let [one, two, _] = editions(folder.path());
    let data = folder.path().join("data");
    assert_eq!(code(&luxate(&data, &["deck", "add", &one])), 0);
    let again = luxate(&data, &["deck", "add", &one]);
    assert_eq!(code(&again), 0);
    assert_eq!(
        out(&again),
        "mine, edition 2026-11-01, is here already, the same in all; nothing was changed\n"
    );
    let said = "2 files hold a deck with the id mine";
    let checked = luxate(&data, &["deck", "check", &one, &two]);
    assert_eq!(code(&checked), 0, "{}", err(&checked));
    assert!(out(&checked).contains(said), "{}", out(&checked));
    let covered = luxate(&data, &["deck", "coverage", &one, &two]);
    assert!(err(&covered).contains(said), "{}", err(&covered));
    let single = luxate(&data, &["deck", "check", &one]);
    assert!(!out(&single).contains("hold a deck"), "{}", out(&single));
}

#[test]
fn what_is_told_keeps_to_a_width() {
    let folder = tempfile::tempdir().unwrap();
    let [one, two, three] = editions(folder.path());
    let title = format!("title: {}", "A long title ".repeat(10).trim());
    let long = fs::read_to_string(&one).unwrap();
    let long = put(
        folder.path(),
        "long.yaml",
        &long.replacen("title: \"Mine\"", &title, 1),
    );
    assert!(fs::read_to_string(&long).unwrap().contains(&title));
    let data = folder.path().join("data");
    let mut told = Vec::new();
    for path in [&long, &two, &three] {
        told.push(out(&luxate(&data, &["deck", "add", path])));
        told.push(out(&luxate(&data, &["deck", "list"])));
    }
    told.push(out(&luxate(&data, &["deck", "diff", &one, &three])));
    told.push(out(&luxate(&data, &["deck", "remove", "mine"])));
    for text in told {
        assert!(
            text.lines().all(|line| line.chars().count() <= 100),
            "{text}"
        );
    }
}

#[test]
fn numbers_and_kinds_are_asked_for_in_plain_words() {
    let folder = tempfile::tempdir().unwrap();
    let run = |arguments: &[&str]| luxate(folder.path(), arguments);
    for arguments in [
        &["deck", "check", "--older-than", "x", "."][..],
        &["deck", "check", "--older-than", "-3", "."],
        &["deck", "show", "--seed", "x"],
        &[
            "deck",
            "print",
            "flaps",
            "--to",
            ".",
            "--seed",
            "99999999999999999999",
        ],
    ] {
        let refused = run(arguments);
        assert_eq!(code(&refused), 2, "{arguments:?}");
        let told = err(&refused);
        assert!(told.contains("write a whole number from 0 to "), "{told}");
        assert!(!told.contains("tip:"), "{told}");
    }
    let help = out(&run(&["deck", "new", "--help"]));
    let help: Vec<&str> = help.split_whitespace().collect();
    for kind in luxate::deck::skeleton::kinds() {
        assert!(
            help.iter()
                .any(|word| word.trim_end_matches([',', ';']) == kind),
            "{kind}"
        );
    }
    assert!(!out(&run(&["--help"])).contains("TURNOVER="));
}

#[test]
fn key_places_and_advice_are_told_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let deck = put(
        folder.path(),
        "deck.yaml",
        &forceps().replacen("kind: single", "kind: single\n    keep_order: true", 1),
    );
    let told = out(&luxate(folder.path(), &["deck", "coverage", &deck]));
    assert!(
        told.contains("options in fixed order the key is a ") && told.contains("never"),
        "{told}"
    );
    let advice = put(
        folder.path(),
        "advice.yaml",
        &forceps().replace("year: 20", "year: 19"),
    );
    let told = out(&luxate(folder.path(), &["deck", "check", &advice]));
    assert!(
        told.contains("1 piece of advice held back") && !told.contains("0 pieces"),
        "{told}"
    );
}

#[test]
fn an_item_that_is_not_there_gets_a_remedy() {
    let folder = tempfile::tempdir().unwrap();
    let deck = put(folder.path(), "mix/deck.yaml", &forceps());
    let mix = folder.path().join("mix");
    for (item, remedy) in [
        ("zzz", "luxate deck list names the decks"),
        (mix.to_str().unwrap(), "it is a folder: name a deck file"),
        (
            &format!("{deck}/some-item"),
            "luxate deck show some-item --deck ",
        ),
    ] {
        let shown = luxate(folder.path(), &["deck", "show", "--plain", item]);
        assert_eq!(code(&shown), 2, "{item}");
        assert!(err(&shown).contains(remedy), "{}", err(&shown));
    }
}
