//! One event in, the model changed, effects out. Pure: the same events give the same model.
//!
//! An answer goes out as [`Effect::Append`] and its reveal comes only with [`Event::Stored`], so that no screen can show what is
//! not on disk. No key loses anything: a round that is stopped keeps every answer.

use super::entry::{Entry, Pressed};
use super::event::{Effect, Event, Key, Stamp};
use super::model::{Model, Screen, Scroll, Step};
use super::{preview, querying};
use crate::answer::Confidence;
use crate::figure::marks::Marks;
use crate::round::Phase;
use crate::settings::{AUTO_MARKS, Setting};
use crate::text::Shown;
use crate::words::sentence;

/// Takes in one event.
pub fn update(model: &mut Model, event: Event, stamp: &Stamp) -> Vec<Effect> {
    model.now = stamp.now;
    match event {
        Event::Key(key) => press(model, key, stamp),
        Event::Click(column, row) => {
            click(model, column, row);
            Vec::new()
        }
        Event::Paste(text) => {
            paste(model, &text);
            Vec::new()
        }
        Event::Resize(size) => {
            model.size = size;
            // Without a focus nothing is followed and the page stays where it is.
            model.scroll.follow = true;
            Vec::new()
        }
        Event::Stored(result) => {
            stored(model, result, stamp);
            Vec::new()
        }
        Event::Kept(result) => {
            querying::kept(model, result);
            Vec::new()
        }
        Event::Saved(result) => {
            if let Err(reason) = result {
                tell(
                    model,
                    &format!("This setting could not be kept: {}", sentence(&reason)),
                );
            }
            Vec::new()
        }
        Event::Resumed => {
            resume(model, stamp);
            vec![Effect::Redraw]
        }
        Event::Tick => {
            model.home = model.record().home(stamp.now);
            Vec::new()
        }
    }
}

fn press(model: &mut Model, key: Key, stamp: &Stamp) -> Vec<Effect> {
    match key {
        Key::Interrupt => return vec![Effect::Interrupt],
        Key::Suspend => {
            model.asleep_since = Some(stamp.elapsed);
            return vec![Effect::Suspend];
        }
        Key::Redraw => return vec![Effect::Redraw],
        _ => {}
    }
    if model.is_too_small() {
        // Nothing can be read, so nothing but leaving may happen.
        return if key == Key::Char('q') && !model.takes_text() {
            vec![Effect::Quit]
        } else {
            Vec::new()
        };
    }
    model.notice = None;
    if model.help.is_some() {
        press_help(model, key);
        return Vec::new();
    }
    match key {
        Key::Char('?') if !model.takes_text() => {
            model.help = Some(Scroll::default());
            return Vec::new();
        }
        Key::PageUp | Key::PageDown => {
            model.scroll.by_page(key == Key::PageDown);
            return Vec::new();
        }
        _ => {}
    }
    if model.preview.is_some() {
        return preview::press(model, key, stamp);
    }
    match model.phase() {
        None => press_outside(model, key, stamp),
        Some(Phase::Asking(_)) => press_question(model, key, stamp),
        // Between the answer and the disk no key counts.
        Some(Phase::Storing(_)) => Vec::new(),
        Some(Phase::Revealed(_)) => press_reveal(model, key, stamp),
        Some(Phase::Closed(_)) => press_closing(model, key, stamp),
    }
}

fn press_help(model: &mut Model, key: Key) {
    if let Key::Char('?' | 'q') | Key::Escape | Key::Enter = key {
        model.help = None;
    } else if let Some(scroll) = &mut model.help {
        turn_page(scroll, key);
    }
}

/// Scrolls a page that has nothing to choose from.
pub(super) fn turn_page(scroll: &mut Scroll, key: Key) {
    match key {
        Key::Up => scroll.by(-1),
        Key::Down => scroll.by(1),
        Key::PageUp => scroll.by_page(false),
        Key::PageDown | Key::Char(' ') => scroll.by_page(true),
        Key::Home => scroll.by(isize::MIN),
        Key::End => scroll.by(isize::MAX),
        _ => {}
    }
}

fn press_outside(model: &mut Model, key: Key, stamp: &Stamp) -> Vec<Effect> {
    if let Screen::Marks(shown) = model.screen {
        return press_marks(model, shown, key, stamp);
    }
    match key {
        Key::Char('q') => return vec![Effect::Quit],
        Key::Enter if matches!(model.screen, Screen::Caution) => {
            if model.settings.ask_marks {
                model.screen = Screen::Marks(model.settings.marks);
            } else {
                enter(model, stamp);
            }
            return vec![Effect::Save(Setting::CautionRead, stamp.now.rfc3339())];
        }
        Key::Char('d') if matches!(model.screen, Screen::Home) => {
            model.screen = Screen::Marks(model.settings.marks);
            model.scroll = Scroll::default();
        }
        Key::Enter => {
            let home = model.record.home(stamp.now);
            if super::advice::advice(&home, model.today()).enter.is_some() {
                model.begin(stamp);
            } else {
                tell(model, "There is nothing to ask now.");
            }
        }
        other => turn_page(&mut model.scroll, other),
    }
    Vec::new()
}

/// What stands behind the screens of a first start.
fn enter(model: &mut Model, stamp: &Stamp) {
    if std::mem::take(&mut model.settings.begin) {
        model.screen = Screen::Home;
        model.begin(stamp);
    } else {
        go_home(model, stamp);
    }
}

fn press_marks(model: &mut Model, shown: Marks, key: Key, stamp: &Stamp) -> Vec<Effect> {
    match key {
        Key::Char('q') => return vec![Effect::Quit],
        Key::Char('n') => {
            let all = Marks::ALL;
            let now = all.iter().position(|marks| *marks == shown).unwrap_or(0);
            model.screen = Screen::Marks(all[(now + 1) % all.len()]);
        }
        Key::Char('y') | Key::Enter => {
            model.settings.marks = shown;
            model.settings.ask_marks = false;
            enter(model, stamp);
            // What the program would choose stays its choice: another terminal may need another.
            let word = if shown == model.settings.auto_marks {
                AUTO_MARKS
            } else {
                shown.word()
            };
            return vec![Effect::Save(Setting::Marks, word.to_owned())];
        }
        Key::Escape if !model.settings.ask_marks => go_home(model, stamp),
        other => turn_page(&mut model.scroll, other),
    }
    Vec::new()
}

pub(super) fn press_question(model: &mut Model, key: Key, stamp: &Stamp) -> Vec<Effect> {
    let drawn = model.spread().is_some();
    let Screen::Round(sitting) = &mut model.screen else {
        return Vec::new();
    };
    if key == Key::Char('q') && !sitting.takes_text() {
        stop(model, stamp);
        return Vec::new();
    }
    model.scroll.follow = true;
    if matches!(sitting.step, Step::Confidence { .. }) {
        return press_confidence(model, key, stamp);
    }
    match key {
        Key::Enter => {
            if !sitting.entry.enter()
                && let Some(complaint) = sitting.complete()
            {
                tell(model, &complaint);
            }
        }
        Key::Escape => {
            sitting.entry.escape();
        }
        other => match sitting.entry.press(other, drawn) {
            Pressed::Taken => {}
            Pressed::Told(text) => tell(model, &text),
            Pressed::Passed => model.scroll.follow = false,
        },
    }
    Vec::new()
}

fn press_confidence(model: &mut Model, key: Key, stamp: &Stamp) -> Vec<Effect> {
    let Screen::Round(sitting) = &mut model.screen else {
        return Vec::new();
    };
    let Step::Confidence { level, .. } = &mut sitting.step else {
        return Vec::new();
    };
    match key {
        Key::Up => *level = neighbour(*level, false),
        Key::Down => *level = neighbour(*level, true),
        Key::Escape | Key::Backspace => sitting.step = Step::Answer,
        Key::Char(character) => {
            if let Some(said) = level_of(character) {
                *level = Some(said);
                return hand_in(model, stamp);
            }
        }
        Key::Enter => return hand_in(model, stamp),
        _ => {}
    }
    Vec::new()
}

/// The level above or below on the screen, where the lowest stands first; with none chosen the nearest end.
fn neighbour(level: Option<Confidence>, down: bool) -> Option<Confidence> {
    let levels = Confidence::ALL;
    let last = levels.len() - 1;
    let now = levels.iter().position(|this| Some(*this) == level);
    let next = match (now, down) {
        (None, true) => 0,
        (None, false) => last,
        (Some(now), true) => last.min(now + 1),
        (Some(now), false) => now.saturating_sub(1),
    };
    levels.get(next).copied()
}

/// The level whose word begins with this letter.
fn level_of(character: char) -> Option<Confidence> {
    let letter = character.to_ascii_lowercase();
    Confidence::ALL
        .into_iter()
        .find(|level| level.word().starts_with(letter))
}

/// Hands the answer in, to be stored.
fn hand_in(model: &mut Model, stamp: &Stamp) -> Vec<Effect> {
    let Screen::Round(sitting) = &mut model.screen else {
        return Vec::new();
    };
    let Step::Confidence { response, level } = &sitting.step else {
        return Vec::new();
    };
    let Some(level) = *level else {
        tell(
            model,
            "Say how sure you are: g, l or c, or move to a line and press Enter.",
        );
        return Vec::new();
    };
    let seconds = stamp.elapsed - sitting.since;
    match sitting
        .round
        .answer(response, level, seconds, stamp.now, stamp.id)
    {
        Ok(answer) => vec![Effect::Append(Box::new(answer.clone()))],
        Err(unfit) => {
            tell(model, &sentence(&unfit.to_string()));
            Vec::new()
        }
    }
}

fn stored(model: &mut Model, result: Result<(), String>, stamp: &Stamp) {
    let Screen::Round(sitting) = &mut model.screen else {
        return;
    };
    match result {
        Ok(()) => {
            sitting.round.stored();
            model.turn(stamp);
        }
        Err(reason) => {
            sitting.round.not_stored();
            let reason = sentence(&reason);
            tell(
                model,
                &format!(
                    "NOT SAVED. {reason} Your answer is still here and counts once it is saved: Enter tries again."
                ),
            );
        }
    }
}

fn press_reveal(model: &mut Model, key: Key, stamp: &Stamp) -> Vec<Effect> {
    let Screen::Round(sitting) = &mut model.screen else {
        return Vec::new();
    };
    if sitting.query.is_some() {
        return querying::press(model, key, stamp);
    }
    match key {
        Key::Enter => {
            sitting.round.go_on(stamp.now);
            sitting.present(stamp);
            model.turn(stamp);
        }
        Key::Char('w') => querying::open(model),
        Key::Char('q') => stop(model, stamp),
        other => turn_page(&mut model.scroll, other),
    }
    Vec::new()
}

fn press_closing(model: &mut Model, key: Key, stamp: &Stamp) -> Vec<Effect> {
    match key {
        Key::Char('q') => return vec![Effect::Quit],
        Key::Enter => go_home(model, stamp),
        other => turn_page(&mut model.scroll, other),
    }
    Vec::new()
}

fn stop(model: &mut Model, stamp: &Stamp) {
    if let Screen::Round(sitting) = &mut model.screen {
        sitting.round.stop();
        model.turn(stamp);
    }
}

fn go_home(model: &mut Model, stamp: &Stamp) {
    if let Screen::Round(sitting) = std::mem::replace(&mut model.screen, Screen::Home) {
        model.record = sitting.round.into_record();
    }
    model.turn(stamp);
}

fn paste(model: &mut Model, text: &str) {
    if model.is_too_small() || model.help.is_some() {
        return;
    }
    model.notice = None;
    querying::paste(model, text);
    if let Screen::Round(sitting) = &mut model.screen
        && let Phase::Asking(_) = sitting.round.phase()
        && sitting.step == Step::Answer
        && let Pressed::Told(text) = sitting.entry.paste(text)
    {
        tell(model, &text);
    }
}

/// Points to the place under a cell of the drawing.
fn click(model: &mut Model, column: u16, row: u16) {
    if model.is_too_small() || model.help.is_some() || !model.takes_clicks() {
        return;
    }
    let setting = model.drawn_by();
    let place = model
        .spread()
        .and_then(|spread| spread.drawings.first()?.place_at(column, row, setting));
    if let (Some(place), Screen::Round(sitting)) = (place, &mut model.screen)
        && sitting.step == Step::Answer
        && let Entry::Place(pointing) = &mut sitting.entry
    {
        pointing.point(place);
        model.notice = None;
    }
}

/// The time asleep is no time of answering.
fn resume(model: &mut Model, stamp: &Stamp) {
    if let Some(since) = model.asleep_since.take()
        && let Screen::Round(sitting) = &mut model.screen
    {
        sitting.since += stamp.elapsed - since;
    }
}

pub(super) fn tell(model: &mut Model, text: &str) {
    model.notice = Some(Shown::new(text));
}
