//! Questions with drawings: what is seen at three sizes, what keys and clicks do, and what is asked in words instead.

use insta::assert_snapshot;
use luxate::deck::model::{Body, Item};
use luxate::deck::read_deck;
use luxate::figure::marks::Marks;
use luxate::settings::Setting;
use luxate::tui::{Effect, Event, Settings};

use crate::decks::deck;
use crate::desk::Desk;

const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

/// The first item of a deck whose items are these lines.
fn item(lines: &str) -> Item {
    let text = format!(
        "deck: pictures
title: Drawings, invented for tests
edition: \"2027-01-15\"
language: en
licence: CC-BY-4.0
topics:
  - id: nerves
    title: Nerves about the lower jaw
    weight: 5
sources:
  - id: ATLAS
    cite: An invented atlas
    year: 2024
items:
  - id: picture
    topic: nerves
    rationale: The reason stands here, in a sentence or two that would teach if this were a real item.
    sources: [ATLAS p 41]
{lines}"
    );
    let reading = read_deck("pictures.yaml", text.as_bytes());
    let said: Vec<_> = reading
        .diagnostics
        .iter()
        .map(|found| &found.message)
        .collect();
    reading
        .deck
        .unwrap_or_else(|| panic!("{said:?}"))
        .items
        .remove(0)
}

pub(crate) fn locate() -> Item {
    item(
        "    kind: locate
    stem: Point to the mental foramen.
    diagram: mandible-lateral
    key: mental foramen
    safety: true
    caution: A cut here can numb the lip. Follow the technique taught where you practise.
    wrong:
      - {place: lowest course of the canal, why: The canal still has to rise to the opening.}
",
    )
}

pub(crate) fn flap() -> Item {
    item(
        "    kind: flap
    stem: A root tip of the lower left second premolar is to be reached. Design the flap.
    case: {jaw: lower, side: left, site: [5], bone: {top: 2, bottom: 8}}
    show: 4ml r10@20 .. 6dl
    slips:
      - {breaks: mental, design: 5ml r10@10 .. 7dl, why: The nerve leaves the bone below this tooth.}
",
    )
}

fn at(item: Item, keys: &str) -> Desk {
    let mut desk = Desk::new(vec![deck(vec![item])]);
    desk.press(keys);
    desk
}

fn read(name: &str, desk: &mut Desk) {
    for (width, height) in SIZES {
        let screen = desk.screen(width, height);
        assert_snapshot!(format!("{name}_{width}x{height}"), screen);
    }
}

/// The letter of a place in the round of these tests, whose seed is fixed.
fn letter(place: &str) -> String {
    for letter in 'a'..='j' {
        let mut desk = at(locate(), "enter");
        desk.press(&letter.to_string()).press("enter c");
        if desk.answers[0].response == [place] {
            return letter.to_string();
        }
    }
    panic!("{place} has no letter")
}

#[test]
fn locate_is_read_at_three_sizes() {
    let (right, wrong) = (
        letter("mental foramen"),
        letter("lowest course of the canal"),
    );
    read("locate", &mut at(locate(), "enter"));
    read(
        "locate_chosen",
        &mut at(locate(), &format!("enter {wrong}")),
    );
    read(
        "locate_sure",
        &mut at(locate(), &format!("enter {wrong} enter down")),
    );
    read(
        "reveal_locate_right",
        &mut at(locate(), &format!("enter {right} enter c")),
    );
    read(
        "reveal_locate_wrong",
        &mut at(locate(), &format!("enter {wrong} enter c")),
    );
}

#[test]
fn flap_is_read_at_three_sizes() {
    read("flap", &mut at(flap(), "enter"));
    read("flap_end", &mut at(flap(), "enter 4 down"));
    read("flap_grown", &mut at(flap(), "enter 4 down tab 6"));
    read(
        "reveal_flap_right",
        &mut at(flap(), "enter 4 down tab 6 enter l"),
    );
    read(
        "reveal_flap_wrong",
        &mut at(flap(), "enter 5 down tab 7 enter c"),
    );
}

#[test]
fn drawings_of_other_marks() {
    for marks in [Marks::Quadrant, Marks::Ascii] {
        let settings = Settings {
            marks,
            seed: Some(3),
            begin: true,
            ..Settings::default()
        };
        for (name, item) in [("locate", locate()), ("flap", flap())] {
            let mut desk = Desk::with(vec![deck(vec![item])], settings.clone());
            desk.press("4");
            assert_snapshot!(format!("{name}_{}", marks.word()), desk.seen());
        }
    }
}

#[test]
fn keys_walk_the_drawing_and_what_is_logged_is_the_name() {
    let mut desk = at(locate(), "enter");
    desk.seen();
    desk.press("tab");
    let first = pointed(&mut desk);
    desk.press("tab");
    assert_ne!(pointed(&mut desk), first);
    desk.press("backtab");
    assert_eq!(pointed(&mut desk), first);
    desk.press("down down left");
    desk.press("enter esc");
    assert!(desk.seen().contains("Enter: confirm"));
    desk.press("enter g");
    let answer = &desk.answers[0];
    let Body::Locate(locate) = locate().body else {
        panic!("not locate")
    };
    let names: Vec<&str> = locate
        .figure
        .places
        .iter()
        .map(|place| place.name.as_str())
        .collect();
    assert!(names.contains(&answer.response[0].as_str()));
    assert_eq!(answer.shown.len(), names.len());
    assert!(
        answer
            .shown
            .iter()
            .all(|shown| names.contains(&shown.as_str()))
    );
    assert_ne!(answer.shown, names, "letters do not follow the deck");
}

/// The letter that the screen says is pointed to.
fn pointed(desk: &mut Desk) -> String {
    let screen = desk.seen();
    let (_, after) = screen
        .split_once("You point to ")
        .unwrap_or_else(|| panic!("{screen}"));
    after.chars().take(1).collect()
}

#[test]
fn nothing_beside_the_drawing_tells_what_a_place_is() {
    let mut desk = at(locate(), "enter");
    desk.seen();
    for _ in 0..10 {
        desk.press("tab");
        let screen = desk.screen(120, 40);
        for told in ["ramus", "condyle", "premolar"] {
            assert!(!screen.contains(told), "{told} on {screen}");
        }
    }
}

#[test]
fn a_click_points_and_one_beside_it_does_not() {
    let mut desk = at(locate(), "enter");
    let screen = desk.seen();
    let (row, line) = screen
        .lines()
        .enumerate()
        .skip(1)
        .find(|(_, line)| {
            line.chars()
                .take(54)
                .any(|cell| ('a'..='j').contains(&cell))
        })
        .unwrap();
    let column = line
        .chars()
        .position(|cell| ('a'..='j').contains(&cell))
        .unwrap();
    let wanted = line.chars().nth(column).unwrap().to_string();
    assert!(desk.model.takes_clicks());
    desk.send(Event::Click(0, 23));
    assert!(!desk.seen().contains("You point to"));
    desk.send(Event::Click(
        u16::try_from(column).unwrap(),
        u16::try_from(row).unwrap(),
    ));
    assert_eq!(pointed(&mut desk), wanted);
    desk.press("enter c");
    assert!(
        !desk.model.takes_clicks(),
        "a reveal leaves clicks to the terminal"
    );
}

#[test]
fn what_cannot_be_made_out_is_asked_in_words() {
    // The fracture lines of the skull break up below 50 columns.
    let skull = item(
        "    kind: locate
    stem: Point to the line of a fracture that parts the alveolar process from the midface.
    diagram: skull-front
    key: Le Fort I line
",
    );
    let mut desk = at(skull, "enter");
    assert!(desk.screen(120, 40).contains("Seen: from the front"));
    let small = desk.screen(60, 20);
    assert!(small.contains("cannot be made out"), "{small}");
    assert!(small.contains("Seen: from the front"));
    desk.press("down down");
    assert_snapshot!("locate_in_words_60x20", desk.screen(60, 20));
    desk.press("enter l");
    assert_eq!(desk.answers.len(), 1);
    assert_snapshot!("reveal_locate_in_words_60x20", desk.screen(60, 20));
}

#[test]
fn a_resize_keeps_what_was_chosen() {
    let mut desk = at(locate(), "enter b");
    desk.screen(120, 40);
    desk.screen(40, 10);
    assert!(desk.screen(64, 20).contains("You point to b"));
    let mut desk = at(flap(), "enter 4 down tab 6");
    desk.screen(200, 60);
    assert!(desk.screen(60, 20).contains("Three-cornered"));
}

#[test]
fn a_flap_is_not_handed_in_before_it_is_one() {
    let mut desk = at(flap(), "enter enter");
    assert!(
        desk.seen().contains("The mesial end is not"),
        "{}",
        desk.seen()
    );
    desk.press("6 tab 4 enter");
    assert!(desk.answers.is_empty());
    assert!(
        desk.screen(120, 40).contains("exchange them"),
        "{}",
        desk.screen(120, 40)
    );
    desk.press("6 tab 4 enter c");
    assert_eq!(desk.answers[0].response[0], "4ml .. 6dl");
}

#[test]
fn broken_rules_go_into_the_log() {
    let desk = at(flap(), "enter 5 down tab 7 enter c");
    assert!(!desk.answers[0].right);
    assert_eq!(desk.answers[0].response[0], "5ml r10@20 .. 7dl");
    assert!(desk.answers[0].response.contains(&"mental".to_owned()));
}

#[test]
fn drawings_are_tried_at_the_first_start_and_can_be_changed_later() {
    let settings = Settings {
        ask_marks: true,
        seed: Some(3),
        ..Settings::default()
    };
    let mut desk = Desk::with(vec![deck(vec![locate()])], settings);
    read("marks", &mut desk);
    desk.press("n");
    assert!(desk.seen().contains("quarter blocks"));
    desk.press("n");
    assert_snapshot!("marks_ascii", desk.seen());
    desk.press("y");
    assert_eq!(desk.effects, [Effect::Save(Setting::Marks, "ascii".into())]);
    assert!(desk.seen().contains("Enter to begin"));
    desk.press("d n y");
    let back = Effect::Save(Setting::Marks, "auto".into());
    assert_eq!(
        desk.effects.last(),
        Some(&back),
        "what the program would choose is kept as its choice"
    );
    desk.press("d esc");
    assert!(desk.seen().contains("Enter to begin"));
}
