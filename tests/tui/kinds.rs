//! Numbers, places, flaps and cases: what is seen of a number and a case, and each kind in a real terminal.

use insta::assert_snapshot;
use luxate::deck::model::{Deck, Item};
use luxate::deck::read_deck;

use crate::decks::deck;
use crate::desk::Desk;

const COMPUTED: &str = include_str!("../../decks/computed.yaml");
const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

const OWN: &str = r#"deck: own
title: A number and a case, invented for tests
edition: "2027-01-15"
language: en
licence: CC-BY-4.0
topics: [{id: nerves, title: Nerves about the lower jaw, weight: 5}]
sources: [{id: ATLAS, cite: An invented atlas, year: 2024}]
items:
  - id: dose
    topic: nerves
    kind: numeric
    stem: A drug is given at {rate} mg/kg. What is the dose at {weight} kg?
    draw:
      rate: {from: 5, to: 7, step: 1}
      weight: {from: 40, to: 60, step: 5}
    answer: rate * weight
    unit: mg
    units: [milligram]
    slips:
      - {name: Rate left out, gives: weight, why: The weight alone is no dose.}
    solution: "{rate} x {weight} = {answer} mg."
    rationale: A dose by weight is the rate times the weight.
    sources: [ATLAS p 3]
  - id: bleeding
    topic: nerves
    kind: case
    stem: A socket bleeds six hours after an extraction.
    wordings: [Six hours after an extraction the socket bleeds.]
    parts:
      - id: first
        kind: single
        stem: What comes first?
        options: [{text: Look and press, key: true}, {text: Wait, why: It goes on.}, {text: Rinse, why: It washes the clot away.}]
        rationale: Pressure stops most of it.
        safety: true
        caution: Blood loss goes on while you wait.
      - id: second
        finding: Pressure on gauze has stopped it, and an edge is seen to be torn.
        kind: short
        stem: What closes the edge?
        accept: [suture]
        rationale: A suture holds it.
    rationale: Pressure first, then the edge.
    sources: [ATLAS p 4]
  - id: midface
    topic: nerves
    kind: locate
    stem: Point to the line of a fracture that parts the alveolar process from the midface.
    diagram: skull-front
    key: Le Fort I line
    rationale: It runs above the root ends.
    sources: [ATLAS p 5]
"#;

fn read(text: &str) -> Deck {
    let reading = read_deck("own.yaml", text.as_bytes());
    let said: Vec<_> = reading
        .diagnostics
        .iter()
        .map(|found| &found.message)
        .collect();
    reading.deck.unwrap_or_else(|| panic!("{said:?}"))
}

fn own(id: &str) -> Item {
    let items = read(OWN).items;
    items.into_iter().find(|item| item.id == id).unwrap()
}

fn at(id: &str, keys: &str) -> Desk {
    let mut desk = Desk::new(vec![deck(vec![own(id)])]);
    desk.press(keys);
    desk
}

fn seen(name: &str, desk: &mut Desk) {
    for (width, height) in SIZES {
        let screen = desk.screen(width, height);
        assert_snapshot!(format!("{name}_{width}x{height}"), screen);
    }
}

/// The rate and the weight that the screen tells.
fn drawn(desk: &mut Desk) -> (u32, u32) {
    let screen = desk.screen(120, 40);
    let before = |unit: &str| {
        let (text, _) = screen.split_once(unit).unwrap();
        text.rsplit(' ').next().unwrap().parse().unwrap()
    };
    (before(" mg/kg"), before(" kg?"))
}

#[test]
fn a_number_is_read_at_three_sizes() {
    let mut desk = at("dose", "enter");
    let (rate, weight) = drawn(&mut desk);
    seen("numeric", &mut at("dose", "enter 12"));
    let key = rate * weight;
    for (name, typed) in [
        ("right", format!("{key}")),
        ("near_miss", format!("{weight}")),
        ("wrong_unit", format!("{key}mL")),
    ] {
        let keys = format!("enter {typed} enter c");
        seen(&format!("reveal_numeric_{name}"), &mut at("dose", &keys));
    }
    let near_miss = at("dose", &format!("enter {weight} enter c")).screen(80, 24);
    assert!(
        near_miss.contains("Rate left out: The weight alone"),
        "{near_miss}"
    );
    let unit = at("dose", &format!("enter {key}mL enter c")).screen(80, 24);
    assert!(
        unit.contains("The number is right but the unit is not"),
        "{unit}"
    );
}

#[test]
fn a_case_is_read_at_three_sizes() {
    let wait = if at("bleeding", "enter").seen().contains("a  Wait") {
        "a"
    } else {
        "b"
    };
    seen("case", &mut at("bleeding", "enter"));
    let first = format!("enter {wait} enter c");
    seen("reveal_case", &mut at("bleeding", &first));
    let second = format!("{first} enter");
    let mut desk = at("bleeding", &second);
    assert!(desk.seen().contains("Pressure on gauze has stopped it"));
    seen("case_second", &mut desk);
    seen(
        "reveal_case_second",
        &mut at("bleeding", &format!("{second} suture enter c")),
    );
}

#[test]
fn no_placeholder_is_ever_seen() {
    for mut item in read(COMPUTED).items {
        item.topic = "nerves".to_owned();
        let mut desk = Desk::new(vec![deck(vec![item])]);
        for keys in ["enter", "7777777", "enter c", "q"] {
            desk.press(keys);
            let screen = desk.screen(120, 40);
            assert!(!screen.contains(['{', '}']), "{screen}");
        }
        let screen = desk.screen(120, 40);
        assert!(screen.contains("Wrong and certain"), "{screen}");
    }
}

#[cfg(unix)]
mod in_a_terminal {
    use std::path::Path;

    use super::{COMPUTED, OWN};
    use crate::met::met;
    use crate::pty::Pty;

    const POINTING: &str = include_str!("../../decks/pointing.yaml");
    const DESIGNING: &str = include_str!("../../decks/designing.yaml");
    const CASES: &str = include_str!("../../decks/cases.yaml");

    const UP: &str = "\u{1b}[A";
    const DOWN: &str = "\u{1b}[B";

    /// A review that begins with this item.
    fn asked(data: &Path, deck: &str, item: &str) -> Pty {
        met(data, deck, item);
        let mut pty = Pty::start(data, &["review", "--seed", "7"], &[("LC_ALL", "C.UTF-8")]);
        pty.wait("I have read this");
        pty.press("\r");
        pty.wait("it looks whole");
        pty.press("y");
        pty.wait("question 1");
        pty
    }

    /// Says that one is certain, waits for the reveal, leaves, and returns the last line of the log.
    fn handed_in(pty: &mut Pty, data: &Path, revealed: &str) -> serde_json::Value {
        pty.wait("How sure are you?");
        pty.press("c");
        pty.wait(revealed);
        pty.press("\u{3}");
        pty.last();
        let log = luxate::store::Store::open(data).unwrap().answers().unwrap();
        let mut line = Vec::new();
        luxate::interchange::log::write([log.last().unwrap()], &mut line).unwrap();
        serde_json::from_slice(&line).unwrap()
    }

    /// The letter that the screen says is pointed to, once it is another than this.
    fn pointed(pty: &Pty, before: Option<char>) -> char {
        let letter = |screen: &str| screen.split_once("You point to ")?.1.chars().next();
        let screen = pty.until("another place", |screen| {
            letter(&screen.contents()).is_some_and(|now| Some(now) != before)
        });
        letter(&screen).unwrap()
    }

    #[test]
    fn a_place_by_letter_tab_arrow_and_click() {
        let folder = tempfile::tempdir().unwrap();
        let mut pty = asked(folder.path(), POINTING, "numb-lip");
        pty.press("c");
        assert_eq!(pointed(&pty, None), 'c');
        pty.press("\t");
        pointed(&pty, Some('c'));
        // From the lowest place of the drawing there is always one further up.
        let screen = pty.wait("You point to ");
        let (.., lowest) = letters(&screen, 54).last().unwrap();
        pty.press(&lowest.to_string());
        pty.wait(&format!("You point to {lowest}"));
        pty.press(UP);
        let above = pointed(&pty, Some(lowest));
        pty.resize(120, 40);
        let screen = pty.until("the wide screen", |screen| {
            screen.contents().lines().count() == 40
        });
        assert_eq!(pointed(&pty, None), above, "a resize keeps the place");
        // A click on a letter of the drawing points to it.
        let mut places = letters(&screen, 70);
        let (row, column, wanted) = places.find(|(.., letter)| *letter != above).unwrap();
        pty.press(&format!(
            "\u{1b}[<0;{column};{row}M\u{1b}[<0;{column};{row}m"
        ));
        assert_eq!(pointed(&pty, Some(above)), wanted);
        pty.press("\r");
        let answer = handed_in(&mut pty, folder.path(), "our answer");
        assert_eq!(answer["deck"], "pointing");
        assert_eq!(answer["response"].as_array().unwrap().len(), 1);
    }

    /// The letters in the first columns of the screen with row and column from 1, as a terminal counts them.
    fn letters(screen: &str, columns: usize) -> impl Iterator<Item = (usize, usize, char)> + '_ {
        screen
            .lines()
            .enumerate()
            .skip(1)
            .flat_map(move |(row, line)| {
                let cells = line.chars().take(columns).enumerate();
                cells
                    .filter(|(_, cell)| ('a'..='j').contains(cell))
                    .map(move |(column, cell)| (row + 1, column + 1, cell))
            })
    }

    #[test]
    fn a_flap_by_keys_alone_with_resizes_in_the_middle() {
        let folder = tempfile::tempdir().unwrap();
        let mut pty = asked(folder.path(), DESIGNING, "lower-five-root");
        pty.wait("1-8: tooth");
        pty.press(&format!("4{DOWN}{DOWN}{UP}"));
        pty.wait("release 10 mm");
        pty.resize(60, 20);
        pty.until("a small screen", |screen| {
            screen.size() == (20, 60) && screen.contents().contains("line angle of 4")
        });
        pty.resize(40, 10);
        pty.wait("40x10");
        pty.resize(120, 40);
        pty.wait("distal end: not placed");
        pty.press("\t6");
        pty.wait("Three-cornered");
        pty.press("\r");
        let answer = handed_in(&mut pty, folder.path(), "Sound");
        assert_eq!(answer["right"], true);
        assert_eq!(answer["response"][0], "4ml r10@20 .. 6dl");
    }

    #[test]
    fn a_window_too_small_for_a_drawing_offers_the_words() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("own.yaml");
        std::fs::write(&file, OWN).unwrap();
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_luxate"));
        let added = command.args(["deck", "add"]).arg(&file);
        assert!(
            added
                .env("LUXATE_DATA", folder.path())
                .env("LUXATE_NOW", "2027-03-01T10:00:00+00:00")
                .status()
                .unwrap()
                .success()
        );
        let mut pty = asked(folder.path(), OWN, "midface");
        pty.resize(60, 20);
        pty.wait("cannot be made out");
        pty.press(&format!("{DOWN}{DOWN}\r"));
        let answer = handed_in(&mut pty, folder.path(), "Your answer, wrong");
        assert_eq!(answer["item"], "midface");
    }

    #[test]
    fn a_number_with_its_unit() {
        let folder = tempfile::tempdir().unwrap();
        let mut pty = asked(folder.path(), COMPUTED, "max-mg");
        pty.wait("Type the number, in mg");
        pty.press("12 mL\r");
        let answer = handed_in(&mut pty, folder.path(), "Your answer, wrong");
        assert_eq!(answer["response"][0], "12 mL");
        assert!(answer["shown"][0].as_str().unwrap().contains('='));
    }

    #[test]
    fn a_case_goes_on_and_stays_on_the_screen() {
        let folder = tempfile::tempdir().unwrap();
        let mut pty = asked(folder.path(), CASES, "second-molar-hollow");
        assert!(pty.wait("Choose one.").contains("part 1 of 5"));
        pty.press("a\r");
        pty.wait("How sure are you?");
        pty.press("c");
        pty.wait("The case goes on: part 2 of 5");
        pty.press("\r");
        let second = pty.wait("Air bubbles through the blood");
        assert!(second.contains("a smoker"), "the vignette stays: {second}");
        pty.press("a\r");
        let answer = handed_in(&mut pty, folder.path(), "The case goes on: part 3 of 5");
        assert_eq!((&answer["part"], &answer["parts"]), (&2.into(), &5.into()));
    }
}
