//! The event loop: keys and signals in, the model updated, effects carried out, the screen drawn.
//!
//! One thread owns the model; the input and signal threads only send. An answer is appended between two frames, so that
//! its reveal cannot be drawn before it is on disk, and no key or signal can come between.

use std::collections::VecDeque;
use std::io;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::time::Duration;

use thiserror::Error;

use super::clock::Clock;
use super::signals::{self, Listener, Signal};
use super::terminal::{self, NoScreen, Screen};
use super::{input, seed};
use crate::answer::Answer;
use crate::query::Query;
use crate::settings::Setting;
use crate::tui::view::{self, Theme};
use crate::tui::{Effect, Event, Model, Stamp, update};

/// How often the loop looks whether another study day has begun.
const TICK: Duration = Duration::from_secs(30);

/// What the threads send to the loop.
#[derive(Debug)]
pub(super) enum Message {
    Event(Event),
    /// The terminal can no longer be read.
    InputLost(io::Error),
    /// A signal asks the program to sleep.
    #[cfg_attr(not(unix), expect(dead_code, reason = "there are no signals here"))]
    Stop,
    /// The program was continued, by whomever it had been stopped.
    #[cfg_attr(not(unix), expect(dead_code, reason = "there are no signals here"))]
    Continued,
    /// A signal ends the program.
    #[cfg_attr(not(unix), expect(dead_code, reason = "there are no signals here"))]
    End(Signal),
}

/// How the front end ended. The terminal is as it was before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The candidate left.
    Quit,
    /// The candidate pressed Ctrl-C.
    Interrupted,
    /// A signal came: close everything, then call [`signals::end_by`].
    Signal(Signal),
}

/// Why the front end could not go on. The terminal is as it was before; every answer that was revealed is stored.
#[derive(Debug, Error)]
pub enum RunError {
    /// No full screen is possible here: wrong usage rather than a fault.
    #[error(transparent)]
    NoScreen(#[from] NoScreen),
    /// The terminal failed.
    #[error("the terminal could not be used; every answer whose reveal was shown is stored")]
    Terminal(#[source] io::Error),
}

impl From<io::Error> for RunError {
    fn from(error: io::Error) -> Self {
        Self::Terminal(error)
    }
}

/// Puts an answer on disk. After `Ok` it must survive a kill; an error says what happened and what to do.
pub type Append<'a> = &'a mut dyn FnMut(&Answer) -> Result<(), String>;

/// Puts a query on disk; as [`Append`].
pub type Keep<'a> = &'a mut dyn FnMut(&Query) -> Result<(), String>;

/// Keeps a setting for the next start; an error says why it could not.
pub type Save<'a> = &'a mut dyn FnMut(Setting, &str) -> Result<(), String>;

/// A stamp for an event of now.
#[must_use]
pub fn stamp(clock: &Clock) -> Stamp {
    Stamp {
        now: clock.now(),
        elapsed: clock.elapsed(),
        seed: seed::draw(),
        id: seed::answer_id(),
    }
}

/// Looks at something outside again and again, and tells the model what has changed.
pub struct Watch<'a> {
    /// How often.
    pub every: Duration,
    /// Looks once.
    pub look: Box<dyn FnMut(&mut Model) + 'a>,
}

/// Runs the front end until it is left.
///
/// # Errors
/// [`RunError`] if there is no terminal, or it fails.
pub fn run(
    model: Model,
    clock: &Clock,
    append: Append,
    keep: Keep,
    save: Save,
    watch: Option<Watch>,
) -> Result<End, RunError> {
    terminal::check()?;
    let theme = terminal::theme();
    let (sender, messages) = mpsc::channel();
    let listener = Listener::start(sender.clone())?;
    let screen = Screen::take()?;
    input::start(sender)?;
    let ended = Loop {
        model,
        clock,
        theme,
        screen,
        append,
        keep,
        save,
        watch,
    }
    .turn(&messages);
    // By now the terminal is given back; signals are caught until then.
    drop(listener);
    ended
}

struct Loop<'a> {
    model: Model,
    clock: &'a Clock,
    theme: Theme,
    screen: Screen,
    append: Append<'a>,
    keep: Keep<'a>,
    save: Save<'a>,
    watch: Option<Watch<'a>>,
}

impl Loop<'_> {
    fn turn(mut self, messages: &Receiver<Message>) -> Result<End, RunError> {
        let size = self.screen.size()?;
        update(&mut self.model, Event::Resize(size), &stamp(self.clock));
        self.draw()?;
        let tick = self.watch.as_ref().map_or(TICK, |watch| watch.every);
        loop {
            let event = match messages.recv_timeout(tick) {
                Ok(Message::Event(event)) => event,
                Ok(Message::InputLost(error)) => return Err(error.into()),
                Ok(Message::Stop) => Event::Key(crate::tui::Key::Suspend),
                Ok(Message::Continued) => {
                    self.screen.retake()?;
                    let (now, size) = (stamp(self.clock), self.screen.size()?);
                    update(&mut self.model, Event::Resize(size), &now);
                    self.draw()?;
                    continue;
                }
                Ok(Message::End(signal)) => return Ok(End::Signal(signal)),
                Err(RecvTimeoutError::Timeout) => {
                    if let Some(watch) = &mut self.watch {
                        (watch.look)(&mut self.model);
                    }
                    Event::Tick
                }
                Err(RecvTimeoutError::Disconnected) => return Ok(End::Quit),
            };
            if let Some(end) = self.take(event)? {
                return Ok(end);
            }
            self.draw()?;
        }
    }

    /// Takes in an event and all that follows from it.
    fn take(&mut self, event: Event) -> Result<Option<End>, RunError> {
        let mut events = VecDeque::from([event]);
        while let Some(event) = events.pop_front() {
            for effect in update(&mut self.model, event, &stamp(self.clock)) {
                match effect {
                    Effect::Append(answer) => {
                        events.push_back(Event::Stored((self.append)(&answer)));
                    }
                    Effect::Keep(query) => {
                        events.push_back(Event::Kept((self.keep)(&query)));
                    }
                    Effect::Save(setting, value) => {
                        events.push_back(Event::Saved((self.save)(setting, &value)));
                    }
                    Effect::Redraw => self.screen.refresh()?,
                    Effect::Suspend => {
                        terminal::give_back();
                        signals::sleep()?;
                        self.screen.retake()?;
                        events.push_back(Event::Resize(self.screen.size()?));
                        events.push_back(Event::Resumed);
                    }
                    Effect::Quit => return Ok(Some(End::Quit)),
                    Effect::Interrupt => return Ok(Some(End::Interrupted)),
                }
            }
        }
        Ok(None)
    }

    fn draw(&mut self) -> Result<(), RunError> {
        self.screen.take_clicks(self.model.takes_clicks())?;
        let (model, theme) = (&self.model, self.theme);
        let mut drawn = None;
        self.screen
            .draw(|frame| drawn = view::draw(model, theme, frame))?;
        if let Some(drawn) = drawn {
            self.model.settle(drawn);
        }
        Ok(())
    }
}
