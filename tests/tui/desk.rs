//! A candidate at the keyboard: keys in, screens out, answers kept in memory.

use luxate::answer::{Answer, AnswerId};
use luxate::deck::model::Deck;
use luxate::query::Query;
use luxate::round::Record;
use luxate::tui::view::{self, Theme};
use luxate::tui::{Effect, Event, Key, Model, Settings, Size, Stamp, update};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;

use crate::decks::{moment, record};

/// The front end without a terminal, a store or a clock.
pub(crate) struct Desk {
    pub(crate) model: Model,
    /// Answers that were stored.
    pub(crate) answers: Vec<Answer>,
    /// Queries that were stored.
    pub(crate) queries: Vec<Query>,
    /// Effects other than storing.
    pub(crate) effects: Vec<Effect>,
    /// What the store answers next.
    pub(crate) store: Result<(), String>,
    pub(crate) now: &'static str,
    seconds: u8,
}

impl Desk {
    pub(crate) fn new(decks: Vec<Deck>) -> Self {
        Self::with(
            decks,
            Settings {
                seed: Some(3),
                ..Settings::default()
            },
        )
    }

    pub(crate) fn with(decks: Vec<Deck>, settings: Settings) -> Self {
        Self::after(record(decks, &[]), settings)
    }

    /// A candidate who has answered before.
    pub(crate) fn after(record: Record, settings: Settings) -> Self {
        let now = "2027-03-02T19:30:00+01:00";
        let model = Model::new(record, settings, &stamp(now, 0));
        Self {
            model,
            answers: Vec::new(),
            queries: Vec::new(),
            effects: Vec::new(),
            store: Ok(()),
            now,
            seconds: 0,
        }
    }

    /// Presses keys: words name keys, anything else is typed. `"enter b enter certain"` types `certain` letter by letter.
    pub(crate) fn press(&mut self, keys: &str) -> &mut Self {
        for word in keys.split_whitespace() {
            match named(word) {
                Some(key) => self.send(Event::Key(key)),
                None => word
                    .chars()
                    .for_each(|character| self.send(Event::Key(Key::Char(character)))),
            }
        }
        self
    }

    /// Sends an event and all that the world answers to it; each takes a second.
    pub(crate) fn send(&mut self, event: Event) {
        let mut events = vec![event];
        while let Some(event) = events.pop() {
            self.seconds = self.seconds.wrapping_add(1);
            for effect in update(&mut self.model, event, &stamp(self.now, self.seconds)) {
                match effect {
                    Effect::Append(answer) => {
                        if self.store.is_ok() {
                            self.answers.push(*answer);
                        }
                        events.push(Event::Stored(self.store.clone()));
                    }
                    Effect::Keep(query) => {
                        if self.store.is_ok() {
                            self.queries.push(*query);
                        }
                        events.push(Event::Kept(self.store.clone()));
                    }
                    Effect::Save(..) => {
                        self.effects.push(effect);
                        events.push(Event::Saved(Ok(())));
                    }
                    other => self.effects.push(other),
                }
            }
        }
    }

    /// The screen at this size, cells with their styles.
    pub(crate) fn buffer(&mut self, width: u16, height: u16, theme: Theme) -> Buffer {
        update(
            &mut self.model,
            Event::Resize(Size { width, height }),
            &stamp(self.now, self.seconds),
        );
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        let mut drawn = None;
        terminal
            .draw(|frame| drawn = view::draw(&self.model, theme, frame))
            .unwrap();
        if let Some(drawn) = drawn {
            self.model.settle(drawn);
        }
        terminal.backend().buffer().clone()
    }

    /// The screen at this size as lines of text.
    pub(crate) fn screen(&mut self, width: u16, height: u16) -> String {
        let buffer = self.buffer(width, height, Theme::Plain);
        let mut lines = String::new();
        for y in 0..height {
            let mut line = String::new();
            let mut x = 0;
            while x < width {
                let symbol = buffer[(x, y)].symbol();
                line.push_str(symbol);
                // The cell after a wide character is a filler.
                x += u16::try_from(unicode_width::UnicodeWidthStr::width(symbol))
                    .unwrap()
                    .max(1);
            }
            lines.push_str(line.trim_end());
            lines.push('\n');
        }
        lines
    }

    /// The screen at the size the program is made for.
    pub(crate) fn seen(&mut self) -> String {
        self.screen(80, 24)
    }
}

pub(crate) fn stamp(now: &str, seconds: u8) -> Stamp {
    Stamp {
        now: moment(now),
        elapsed: f64::from(seconds),
        seed: 7,
        id: AnswerId([seconds; 16]),
    }
}

fn named(word: &str) -> Option<Key> {
    Some(match word {
        "enter" => Key::Enter,
        "esc" => Key::Escape,
        "back" => Key::Backspace,
        "up" => Key::Up,
        "down" => Key::Down,
        "left" => Key::Left,
        "right" => Key::Right,
        "backtab" => Key::BackTab,
        "pgup" => Key::PageUp,
        "pgdn" => Key::PageDown,
        "home" => Key::Home,
        "end" => Key::End,
        "space" => Key::Char(' '),
        "tab" => Key::Tab,
        "ctrl-c" => Key::Interrupt,
        "ctrl-z" => Key::Suspend,
        "ctrl-u" => Key::Clear,
        _ => return None,
    })
}
