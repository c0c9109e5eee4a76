//! What the checker says beside an item that is shown to its writer: it never hides the item.

use luxate::answer::ItemRef;
use luxate::edge::decks::built_in;
use luxate::tui::view::{self, Theme};
use luxate::tui::{Event, Finding, Key, Model, Said, Settings, Size, update};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use crate::decks::{all_kinds, matching, order, record, single};
use crate::desk::stamp;

const NOW: &str = "2027-03-02T19:30:00+01:00";

fn finding(item: Option<&str>, words: &str) -> Finding {
    Finding {
        item: item.map(str::to_owned),
        text: format!("215:19 warning: {}", words.repeat(12)),
    }
}

fn screen(model: &mut Model) -> String {
    let size = Size {
        width: 80,
        height: 24,
    };
    let _none = update(model, Event::Resize(size), &stamp(NOW, 0));
    let mut terminal = Terminal::new(TestBackend::new(80, 24)).unwrap();
    let frame = terminal.draw(|frame| {
        if let Some(drawn) = view::draw(model, Theme::Plain, frame) {
            model.settle(drawn);
        }
    });
    let cells = frame.unwrap().buffer.content().chunks(80);
    let line =
        |cells: &[ratatui::buffer::Cell]| cells.iter().map(ratatui::buffer::Cell::symbol).collect();
    cells.map(line).collect::<Vec<String>>().join("\n")
}

#[test]
fn findings_leave_the_stem_in_sight_and_say_whose_they_are() {
    for deck in built_in() {
        for item in &deck.items {
            let first = ItemRef::new(&deck.id, &item.id);
            let record = record(vec![deck.clone()], &[]);
            let mut model =
                Model::preview(record, Settings::default(), 0, Some(&first), &stamp(NOW, 0));
            let said = Said {
                whole: "The checker warns:".to_owned(),
                findings: vec![
                    finding(Some("elsewhere"), "far away "),
                    finding(None, "deck wide "),
                    finding(Some(&item.id), "close by "),
                ],
            };
            model.show_again(None, said, &stamp(NOW, 0));
            let seen = screen(&mut model);
            let stem = item.stems[0]
                .split_whitespace()
                .find(|word| !word.contains('{'))
                .unwrap();
            let wanted = [stem, "close by", "elsewhere: 215", "1 more elsewhere"];
            for words in wanted {
                assert!(seen.contains(words), "{first}: {words}\n{seen}");
            }
            let own = seen.find("close by").unwrap();
            assert!(own < seen.find("elsewhere: 215").unwrap(), "{seen}");
            for _ in 0..20 {
                let _none = update(&mut model, Event::Key(Key::PageDown), &stamp(NOW, 0));
                let _seen = screen(&mut model);
            }
            let end = screen(&mut model);
            assert!(end.contains("deck wide"), "{first}\n{end}");
        }
    }
}

#[test]
fn the_help_says_that_an_answer_gets_its_own_reveal() {
    let record = record(built_in(), &[]);
    let mut model = Model::preview(record, Settings::default(), 0, None, &stamp(NOW, 0));
    assert!(screen(&mut model).contains("Enter: reveal   Ctrl-N/P: other items"));
    let _none = update(&mut model, Event::Key(Key::Char('?')), &stamp(NOW, 0));
    assert!(screen(&mut model).contains("Answer first"));
}

/// A preview of the built-in decks that begins with this item.
fn shown(item: &str) -> Model {
    let (deck, id) = item.split_once('/').unwrap();
    let record = record(built_in(), &[]);
    let first = ItemRef::new(deck, id);
    Model::preview(record, Settings::default(), 0, Some(&first), &stamp(NOW, 0))
}

fn press(model: &mut Model, keys: &[Key]) -> String {
    for key in keys {
        let _none = update(model, Event::Key(*key), &stamp(NOW, 0));
    }
    screen(model)
}

fn typed(text: &str) -> Vec<Key> {
    text.chars().map(Key::Char).collect()
}

#[test]
fn an_answer_that_is_not_finished_is_sent_back_and_not_taken_for_the_key() {
    let record = || record(vec![all_kinds()], &[]);
    let at = |item: &str| {
        let first = ItemRef::new("harbour", item);
        Model::preview(
            record(),
            Settings::default(),
            0,
            Some(&first),
            &stamp(NOW, 0),
        )
    };
    for (item, keys, told) in [
        (order().id, "ab", "Name every step once"),
        (matching().id, "1", "Give every letter a number"),
    ] {
        let mut model = at(&item);
        let mut keys = typed(keys);
        // The first Enter may go on to the next left that has no number.
        keys.extend([
            Key::Up,
            Key::Up,
            Key::Up,
            Key::Enter,
            Key::Enter,
            Key::Enter,
        ]);
        let mut seen = String::new();
        for key in keys {
            seen = press(&mut model, &[key]);
            assert!(!seen.contains("Key: "), "{seen}");
        }
        assert!(seen.contains(told), "{seen}");
    }
    let mut model = at(&single().id);
    let seen = press(&mut model, &[Key::Enter]);
    assert!(
        seen.starts_with(" Nerves") && seen.contains("Key: "),
        "{seen}"
    );
    for words in ["your answer", "Your answer", "certain", "Next due", "Wrong"] {
        assert!(!seen.contains(words), "{words}\n{seen}");
    }
}

#[test]
fn a_number_that_cannot_be_read_is_sent_back() {
    let deck = built_in();
    let numeric = deck.iter().find(|deck| deck.id == "computed").unwrap();
    let mut model = shown(&format!("computed/{}", numeric.items[0].id));
    for unreadable in ["1/2", "one hundred", "165-170"] {
        let mut keys = vec![Key::Clear];
        keys.extend(typed(unreadable));
        keys.push(Key::Enter);
        let seen = press(&mut model, &keys);
        assert!(
            seen.contains(unreadable) && !seen.contains("Key:"),
            "{seen}"
        );
    }
    let seen = press(&mut model, &[Key::Clear, Key::Enter]);
    assert!(
        seen.contains("Key: ") && !seen.contains("you typed"),
        "{seen}"
    );
}

#[test]
fn a_flap_is_walked_once_an_end_is_placed_and_other_keys_lead_away() {
    let decks = built_in();
    let designing = decks.iter().find(|deck| deck.id == "designing").unwrap();
    let id = &designing.items[0].id;
    let mut model = shown(&format!("designing/{id}"));
    let head = |seen: &str| seen.lines().next().unwrap().to_owned();
    let first = head(&press(&mut model, &[]));
    assert!(
        first.contains(", item ") && first.contains(id.as_str()),
        "{first}"
    );
    // Nothing is placed: the arrows lead to the other items, as everywhere.
    assert_ne!(head(&press(&mut model, &[Key::Right])), first);
    assert_eq!(head(&press(&mut model, &[Key::Left])), first);
    let placed = press(&mut model, &typed("4"));
    let walked = press(&mut model, &[Key::Right]);
    assert_eq!(head(&walked), first);
    assert_ne!(walked, placed);
    // The other end is not placed yet, and that is told.
    let told = press(&mut model, &[Key::Tab, Key::Left]);
    assert_eq!(head(&told), first);
    assert!(told.contains("Put the distal end on a"), "{told}");
    assert_ne!(head(&press(&mut model, &[Key::Next])), first);
    assert_eq!(head(&press(&mut model, &[Key::Previous])), first);
}

#[test]
fn the_parts_of_a_case_are_one_item() {
    let mut model = {
        let cases = built_in()
            .into_iter()
            .find(|deck| deck.id == "cases")
            .unwrap();
        let record = record(vec![cases], &[]);
        Model::preview(record, Settings::default(), 0, None, &stamp(NOW, 0))
    };
    let items = built_in()
        .iter()
        .find(|deck| deck.id == "cases")
        .unwrap()
        .items
        .len();
    let mut head = String::new();
    for _ in 0..200 {
        head = press(&mut model, &[Key::Next])
            .lines()
            .next()
            .unwrap()
            .to_owned();
    }
    assert!(
        head.contains(&format!(", item {items} of {items}")),
        "{head}"
    );
}

#[test]
fn the_help_tells_the_keys_that_answer() {
    for (deck, keys) in [
        ("designing", &["1-8", "Tab", "Ctrl-N/P"][..]),
        ("pointing", &["Tab ← ↑ ↓ →", "Ctrl-N/P"]),
        ("flaps", &["choose", "↑ ↓", "Ctrl-N/P"]),
    ] {
        let decks = built_in();
        let id = &decks.iter().find(|other| other.id == deck).unwrap().items[0].id;
        let mut model = shown(&format!("{deck}/{id}"));
        let seen = press(&mut model, &[Key::Char('?')]);
        for key in keys {
            assert!(seen.contains(key), "{deck}: {key}\n{seen}");
        }
        let reveal = press(&mut model, &[Key::Escape, Key::Enter]);
        assert!(reveal.contains("↑ ↓ Space: read on"), "{reveal}");
    }
}
