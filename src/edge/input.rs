//! The input thread: blocks on the terminal and sends what it reads, so that the main loop never blocks there.
//!
//! When the window is gone, reading can spin; as that happens on this thread, the signal that tells of it is still
//! seen by the main loop. Only presses count: elsewhere a key also reports its release.

use std::sync::mpsc::Sender;
use std::{io, thread};

use ratatui::crossterm::event::{
    self, Event as Raw, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseButton, MouseEventKind,
};

use super::run::Message;
use crate::tui::{Event, Key, Size};

/// Starts the thread. It ends when the receiver is gone, or with [`Message::InputLost`].
pub(super) fn start(sender: Sender<Message>) -> io::Result<()> {
    thread::Builder::new()
        .name("input".to_owned())
        .spawn(move || read_all(&sender))
        .map(drop)
}

fn read_all(sender: &Sender<Message>) {
    loop {
        let message = match event::read() {
            Ok(raw) => match translate(raw) {
                Some(event) => Message::Event(event),
                None => continue,
            },
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => Message::InputLost(error),
        };
        let is_last = matches!(message, Message::InputLost(_));
        if sender.send(message).is_err() || is_last {
            return;
        }
    }
}

fn translate(raw: Raw) -> Option<Event> {
    match raw {
        Raw::Key(key) if key.kind == KeyEventKind::Press => translate_key(key).map(Event::Key),
        Raw::Mouse(mouse) if mouse.kind == MouseEventKind::Down(MouseButton::Left) => {
            Some(Event::Click(mouse.column, mouse.row))
        }
        Raw::Paste(text) => Some(Event::Paste(text)),
        Raw::Resize(width, height) => Some(Event::Resize(Size { width, height })),
        _ => None,
    }
}

fn translate_key(key: KeyEvent) -> Option<Key> {
    // AltGr is reported as Ctrl and Alt together where it makes a character of its own.
    let control =
        key.modifiers.contains(KeyModifiers::CONTROL) && !key.modifiers.contains(KeyModifiers::ALT);
    Some(match key.code {
        KeyCode::Char(character) if control => match character.to_ascii_lowercase() {
            'c' => Key::Interrupt,
            'z' => Key::Suspend,
            'l' => Key::Redraw,
            'u' => Key::Clear,
            'n' => Key::Next,
            'p' => Key::Previous,
            _ => return None,
        },
        KeyCode::Char(_) if key.modifiers == KeyModifiers::ALT => return None,
        KeyCode::Char(character) => Key::Char(character),
        KeyCode::Enter => Key::Enter,
        KeyCode::Esc => Key::Escape,
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Delete => Key::Delete,
        KeyCode::Up => Key::Up,
        KeyCode::Down => Key::Down,
        KeyCode::Left => Key::Left,
        KeyCode::Right => Key::Right,
        KeyCode::Home => Key::Home,
        KeyCode::End => Key::End,
        KeyCode::PageUp => Key::PageUp,
        KeyCode::PageDown => Key::PageDown,
        KeyCode::Tab => Key::Tab,
        KeyCode::BackTab => Key::BackTab,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(code: KeyCode, modifiers: KeyModifiers, kind: KeyEventKind) -> Option<Event> {
        translate(Raw::Key(KeyEvent::new_with_kind(code, modifiers, kind)))
    }

    #[test]
    fn presses_count_and_releases_do_not() {
        let none = KeyModifiers::NONE;
        assert_eq!(
            key(KeyCode::Char('a'), none, KeyEventKind::Press),
            Some(Event::Key(Key::Char('a')))
        );
        assert_eq!(key(KeyCode::Char('a'), none, KeyEventKind::Release), None);
        assert_eq!(key(KeyCode::F(5), none, KeyEventKind::Press), None);
    }

    #[test]
    fn control_makes_commands_and_altgr_makes_characters() {
        let press = |code, modifiers| key(KeyCode::Char(code), modifiers, KeyEventKind::Press);
        assert_eq!(
            press('c', KeyModifiers::CONTROL),
            Some(Event::Key(Key::Interrupt))
        );
        assert_eq!(press('k', KeyModifiers::CONTROL), None);
        assert_eq!(press('c', KeyModifiers::ALT), None);
        let altgr = KeyModifiers::CONTROL | KeyModifiers::ALT;
        assert_eq!(press('ł', altgr), Some(Event::Key(Key::Char('ł'))));
    }
}
