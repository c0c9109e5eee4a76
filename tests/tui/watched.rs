//! What the checker says beside an item that is shown to its writer: it never hides the item.

use luxate::answer::ItemRef;
use luxate::edge::decks::built_in;
use luxate::tui::view::{self, Theme};
use luxate::tui::{Event, Finding, Key, Model, Said, Settings, Size, update};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use crate::decks::record;
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
            let has_more = seen.contains("in full at the end");
            assert!(
                !has_more || screen(&mut model).contains("close by"),
                "{first}"
            );
        }
    }
}

#[test]
fn the_help_says_that_an_answer_gets_its_own_reveal() {
    let record = record(built_in(), &[]);
    let mut model = Model::preview(record, Settings::default(), 0, None, &stamp(NOW, 0));
    assert!(screen(&mut model).contains("Enter: reveal your answer or the key"));
    let _none = update(&mut model, Event::Key(Key::Char('?')), &stamp(NOW, 0));
    assert!(screen(&mut model).contains("Answer first"));
}
