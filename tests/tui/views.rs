//! Every screen as a reader sees it, and the promise that none panics at any size, whatever a deck says.

use std::sync::Arc;

use crate::decks::{all_kinds, deck, long, matching, multiple, order, short, single};
use crate::desk::Desk;
use crate::pictures::{flap, locate};
use insta::assert_snapshot;
use luxate::deck::model::{Body, Item};
use luxate::tui::Settings;
use luxate::tui::view::Theme;
use proptest::prelude::*;
use ratatui::style::{Color, Modifier};

/// The sizes that screens are read at: the least, the usual, a wide one.
const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

pub(crate) fn read(name: &str, desk: &mut Desk) {
    for (width, height) in SIZES {
        assert_snapshot!(
            format!("{name}_{width}x{height}"),
            desk.screen(width, height)
        );
    }
}

fn at(items: Vec<Item>, keys: &str) -> Desk {
    let mut desk = Desk::new(vec![deck(items)]);
    desk.press(keys);
    desk
}

#[test]
fn first_start() {
    let caution =
        "A study aid and not clinical guidance. Follow labels, protocols and your supervisors.";
    let settings = Settings {
        caution: Some(caution.into()),
        ..Settings::default()
    };
    read("caution", &mut Desk::with(vec![all_kinds()], settings));
}

#[test]
fn home() {
    read("home_first", &mut at(vec![single(), multiple()], ""));
    read(
        "home_stopped",
        &mut at(vec![single(), multiple()], "enter a enter c q enter"),
    );
    let mut desk = at(
        vec![single(), multiple()],
        "enter a enter c enter a b enter c q enter",
    );
    desk.now = "2027-03-05T07:00:00+01:00";
    desk.send(luxate::tui::Event::Tick);
    read("home_due", &mut desk);
}

#[test]
fn questions() {
    read("single", &mut at(vec![single()], "enter b"));
    read("multiple", &mut at(vec![multiple()], "enter a c"));
    read("order", &mut at(vec![order()], "enter c a"));
    read("match", &mut at(vec![matching()], "enter 1 2"));
    read("short", &mut at(vec![short()], "enter mandib"));
    read("long", &mut at(vec![long()], "enter c"));
    read(
        "confidence",
        &mut at(vec![single()], "enter b enter down down"),
    );
}

#[test]
fn reveals() {
    read(
        "reveal_single_wrong",
        &mut at(vec![single()], "enter a enter c"),
    );
    read(
        "reveal_single_right",
        &mut at(vec![single()], "enter d enter l"),
    );
    read(
        "reveal_multiple",
        &mut at(vec![multiple()], "enter a c enter l"),
    );
    read(
        "reveal_order",
        &mut at(vec![order()], "enter c a b d e enter g"),
    );
    read(
        "reveal_match",
        &mut at(vec![matching()], "enter 1 2 4 enter c"),
    );
    read(
        "reveal_short",
        &mut at(vec![short()], "enter mental space foramen enter l"),
    );
}

#[test]
fn closing_and_help() {
    let mut desk = at(
        vec![single(), multiple(), short()],
        "enter a enter c enter a c enter c enter esc q",
    );
    read("closing", &mut desk);
    read("help_question", &mut at(vec![single()], "enter ?"));
    read("help_home", &mut at(vec![single()], "?"));
}

#[test]
fn text_keeps_to_a_readable_column_on_a_wide_screen() {
    let mut desk = at(vec![long()], "enter c");
    for line in desk.screen(200, 60).lines() {
        let text = line.trim();
        assert!(unicode_width::UnicodeWidthStr::width(text) <= 96, "{text}");
    }
}

/// Each cell's look as a letter: bold, dim, reversed, and capitals of the colours.
fn looks(desk: &mut Desk) -> String {
    let buffer = desk.buffer(80, 24, Theme::Colour);
    let look = |cell: &ratatui::buffer::Cell| match (cell.fg, cell.modifier) {
        (Color::Green, _) => 'G',
        (Color::Red, _) => 'R',
        (Color::Magenta, _) => 'M',
        (_, modifier) if modifier.contains(Modifier::REVERSED) => 'r',
        (_, modifier) if modifier.contains(Modifier::BOLD) => 'b',
        (_, modifier) if modifier.contains(Modifier::DIM) => 'd',
        _ if cell.symbol() == " " => ' ',
        _ => '.',
    };
    let lines = buffer
        .content()
        .chunks(80)
        .map(|row| row.iter().map(look).collect::<String>());
    lines
        .map(|line| line.trim_end().to_owned() + "\n")
        .collect()
}

#[test]
fn looks_follow_meaning() {
    assert_snapshot!(
        "looks_question",
        looks(&mut at(vec![single()], "enter b enter down"))
    );
    assert_snapshot!(
        "looks_reveal",
        looks(&mut at(vec![single()], "enter a enter c"))
    );
}

#[test]
fn a_screen_of_more_cells_than_sixteen_bits_count_is_drawn() {
    let mut desk = at(vec![long()], "enter c enter g");
    assert!(
        desk.screen(700, 200)
            .contains("Wrong, and you were guessing.")
    );
}

#[test]
fn no_state_is_told_by_colour_alone_and_without_colour_there_is_none() {
    for keys in [
        "",
        "enter b",
        "enter b enter down",
        "enter a enter c",
        "enter d enter c",
        "enter a enter c q",
    ] {
        let mut desk = at(vec![single()], keys);
        let (plain, colour) = (
            desk.buffer(80, 24, Theme::Plain),
            desk.buffer(80, 24, Theme::Colour),
        );
        for (plain, colour) in plain.content().iter().zip(colour.content()) {
            assert_eq!((plain.fg, plain.bg), (Color::Reset, Color::Reset));
            assert_eq!(colour.bg, Color::Reset);
            assert_eq!(
                (plain.symbol(), plain.modifier),
                (colour.symbol(), colour.modifier)
            );
        }
    }
    let focus = at(vec![single()], "enter b").buffer(80, 24, Theme::Plain);
    assert!(
        focus
            .content()
            .iter()
            .any(|cell| cell.modifier.contains(Modifier::REVERSED))
    );
}

/// Text with more than its share of what causes trouble.
fn nasty() -> impl Strategy<Value = String> {
    let trouble = prop::sample::select(vec![
        "\u{1b}[31m",
        "\u{1b}]0;x\u{7}",
        "\t",
        "\n\n",
        "\r",
        "\u{301}",
        "\u{200d}",
        "\u{202e}",
        "\u{fe0f}",
        "👩‍⚕️",
        "下顎",
        "العصب",
        " ",
        "word ",
    ]);
    let piece = prop_oneof![3 => trouble.prop_map(str::to_owned), 1 => any::<char>().prop_map(String::from)];
    prop::collection::vec(piece, 0..40).prop_map(|pieces| pieces.concat())
}

/// An item whose texts are all this one.
fn hostile(mut item: Item, text: &str) -> Item {
    let text = || text.to_owned();
    item.stems = vec![text()];
    item.rationale = text();
    item.caution = Some(text());
    match &mut item.body {
        Body::Single(choice) | Body::Multiple(choice) => {
            for option in &mut choice.options {
                (option.text, option.why) = (text(), Some(text()));
            }
        }
        Body::Order(steps) => {
            for step in steps {
                step.text = text();
            }
        }
        Body::Match(pairs) => {
            for (number, pair) in pairs.pairs.iter_mut().enumerate() {
                (pair.left, pair.right) = (text(), format!("{}{number}", text()));
            }
        }
        Body::Short(short) => short.accept = vec![text()],
        Body::Numeric(numeric) => numeric.solution = text(),
        Body::Locate(locate) => {
            let mut figure = (*locate.figure).clone();
            (figure.view, figure.id) = (text(), text());
            figure.toward.left = text();
            figure.toward.right = text();
            for place in &mut figure.places {
                (place.name, place.says) = (text(), text());
            }
            locate.figure = Arc::new(figure);
        }
        Body::Flap(task) => {
            for slip in &mut task.slips {
                slip.why = text();
            }
        }
        Body::Case(case) => {
            for part in &mut case.parts {
                part.finding = Some(text());
                part.item = hostile(part.item.clone(), &text());
            }
        }
    }
    item
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn every_screen_is_drawn_at_every_size(
        text in nasty(),
        typed in nasty(),
        sizes in prop::collection::vec((1_u16..=200, 1_u16..=60), 2),
        kind in 0_usize..7,
        help in any::<bool>(),
    ) {
        let (item, keys) = [
            (single(), "a enter g"),
            (multiple(), "a enter g"),
            (order(), "a b c d e enter g"),
            (matching(), "1 2 3 enter g"),
            (short(), "word enter g"),
            (locate(), "a tab down enter g"),
            (flap(), "5 down down > tab 7 up s b enter g"),
        ][kind].clone();
        let mut desk = Desk::new(vec![deck(vec![hostile(item, &text)])]);
        let draw = |desk: &mut Desk| {
            for (width, height) in &sizes {
                let buffer = desk.buffer(*width, *height, Theme::Colour);
                for cell in buffer.content() {
                    prop_assert!(!cell.symbol().contains(luxate::text::is_forbidden), "{:?}", cell.symbol());
                }
            }
            desk.screen(80, 24);
            Ok(())
        };
        draw(&mut desk)?;
        desk.press("enter");
        desk.send(luxate::tui::Event::Paste(typed));
        draw(&mut desk)?;
        for key in keys.split(' ') {
            desk.press(key);
            draw(&mut desk)?;
        }
        if help {
            desk.press("?");
            draw(&mut desk)?;
            desk.press("end esc");
        }
        desk.press("end");
        draw(&mut desk)?;
        desk.press("q");
        draw(&mut desk)?;
    }
}
