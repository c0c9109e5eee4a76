//! The terminal: taken over, and given back as it was, whatever happens.
//!
//! Everything that takes it over is here, and undone by one function: on leaving, in a panic, before sleep. Nothing here may
//! ask the terminal a question, since not all of them answer.

use std::io::{self, IsTerminal as _, Stdout, Write as _, stderr, stdin, stdout};
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};

use ratatui::backend::{Backend as _, CrosstermBackend};
use ratatui::crossterm::cursor::Show;
use ratatui::crossterm::event::{
    DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, EnableMouseCapture,
};
use ratatui::crossterm::style::force_color_output;
use ratatui::crossterm::terminal::{
    EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode, window_size,
};
use ratatui::crossterm::{execute, queue};
use ratatui::layout::Rect;
use thiserror::Error;

use crate::figure::marks::Marks;
use crate::tui::Size;
use crate::tui::view::Theme;

/// Why the full-screen front end cannot run here.
#[derive(Debug, Error)]
pub enum NoScreen {
    /// Input or output is a pipe or a file.
    #[error(
        "the full screen needs a terminal for input and output, and {0} is none; for the same round in plain lines: luxate review --line"
    )]
    NotATerminal(&'static str),
    /// The terminal says that it cannot move a cursor.
    #[error(
        "this terminal calls itself dumb (TERM=dumb) and cannot show a full screen; for the same round in plain lines: luxate review --line"
    )]
    Dumb,
}

/// Whether the terminal is taken over now.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// The terminal while it is taken over; gives it back when dropped.
pub(super) struct Screen {
    terminal: ratatui::Terminal<CrosstermBackend<Stdout>>,
    /// Clicks come to the program; otherwise they are the terminal's, to select text.
    takes_clicks: bool,
}

/// Whether a full screen is possible here.
///
/// # Errors
/// [`NoScreen`] if not; nothing was written then.
pub fn check() -> Result<(), NoScreen> {
    if !stdin().is_terminal() {
        return Err(NoScreen::NotATerminal("standard input"));
    }
    if !stdout().is_terminal() {
        return Err(NoScreen::NotATerminal("standard output"));
    }
    if std::env::var_os("TERM").is_some_and(|term| term == "dumb") {
        return Err(NoScreen::Dumb);
    }
    Ok(())
}

/// Columns of the terminal that the output goes to; `None` if it goes elsewhere or the terminal does not know.
#[must_use]
pub fn width() -> Option<usize> {
    let size = stdout().is_terminal().then(crossterm::terminal::size)?;
    let (columns, _) = size.ok()?;
    (columns > 0).then_some(columns.into())
}

/// Columns of the terminal that errors go to; `None` if they go elsewhere or the terminal does not know.
#[must_use]
pub fn error_width() -> Option<usize> {
    let size = stderr().is_terminal().then(crossterm::terminal::size)?;
    let (columns, _) = size.ok()?;
    (columns > 0).then_some(columns.into())
}

/// Colour or not, from the environment: `NO_COLOR`, `CLICOLOR`, `CLICOLOR_FORCE`.
pub(super) fn theme() -> Theme {
    theme_from(|name| std::env::var_os(name).map(|value| value.to_string_lossy().into_owned()))
}

fn theme_from(variable: impl Fn(&str) -> Option<String>) -> Theme {
    let set = |name| variable(name).filter(|value| !value.is_empty());
    let forced = set("CLICOLOR_FORCE").is_some_and(|value| value != "0");
    let refused = set("NO_COLOR").is_some() || set("CLICOLOR").is_some_and(|value| value == "0");
    if refused && !forced {
        Theme::Plain
    } else {
        Theme::Colour
    }
}

/// What drawings are made of unless somebody chooses: Braille where the terminal shows UTF-8, and plain characters
/// where it does not or has the few glyphs of a console. No terminal tells its font.
#[must_use]
pub fn auto_marks() -> Marks {
    marks_from(
        |name| std::env::var_os(name).map(|value| value.to_string_lossy().into_owned()),
        cfg!(windows),
    )
}

fn marks_from(variable: impl Fn(&str) -> Option<String>, always_utf8: bool) -> Marks {
    let set = |name: &&str| variable(name).filter(|value| !value.is_empty());
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(set);
    let is_utf8 = locale.is_some_and(|locale| {
        let locale = locale.to_ascii_lowercase();
        locale.contains("utf-8") || locale.contains("utf8")
    });
    let is_console = set(&"TERM").is_some_and(|term| matches!(term.as_str(), "linux" | "dumb"));
    if (is_utf8 || always_utf8) && !is_console {
        Marks::Braille
    } else {
        Marks::Ascii
    }
}

/// Height of a cell over its width: 2 unless the system knows better. The terminal itself is not asked.
#[must_use]
pub fn cell_ratio() -> f64 {
    window_size().map_or(2.0, |size| {
        ratio(size.width, size.height, size.columns, size.rows)
    })
}

/// The ratio from pixels and cells, 2 where they tell nothing or nothing likely.
fn ratio(width: u16, height: u16, columns: u16, rows: u16) -> f64 {
    let (across, down) = (
        f64::from(width) / f64::from(columns),
        f64::from(height) / f64::from(rows),
    );
    let ratio = down / across;
    if (1.2..=3.5).contains(&ratio) {
        ratio
    } else {
        2.0
    }
}

impl Screen {
    /// Takes the terminal over.
    pub(super) fn take() -> io::Result<Self> {
        static HOOK: Once = Once::new();
        HOOK.call_once(|| {
            let report = std::panic::take_hook();
            std::panic::set_hook(Box::new(move |panic| {
                // The report must land on the ordinary screen.
                give_back();
                report(panic);
            }));
        });
        // With NO_COLOR the backend would write resets that undo bold and reverse; our theme knows better.
        force_color_output(true);
        take_over()?;
        match ratatui::Terminal::new(CrosstermBackend::new(stdout())) {
            Ok(terminal) => Ok(Self {
                terminal,
                takes_clicks: false,
            }),
            Err(error) => {
                give_back();
                Err(error)
            }
        }
    }

    pub(super) fn size(&self) -> io::Result<Size> {
        let size = self.terminal.backend().size()?;
        Ok(Size {
            width: size.width,
            height: size.height,
        })
    }

    pub(super) fn draw(&mut self, view: impl FnOnce(&mut ratatui::Frame)) -> io::Result<()> {
        self.terminal.draw(view).map(drop)
    }

    /// Takes clicks, or leaves them to the terminal.
    pub(super) fn take_clicks(&mut self, wanted: bool) -> io::Result<()> {
        if self.takes_clicks == wanted {
            return Ok(());
        }
        self.takes_clicks = wanted;
        if wanted {
            execute!(stdout(), EnableMouseCapture)
        } else {
            execute!(stdout(), DisableMouseCapture)
        }
    }

    /// Draws everything afresh at the present size with the next frame.
    pub(super) fn refresh(&mut self) -> io::Result<()> {
        let size = self.terminal.backend().size()?;
        self.terminal
            .resize(Rect::new(0, 0, size.width, size.height))
    }

    /// Takes the terminal over again after sleep, or after someone else had it.
    pub(super) fn retake(&mut self) -> io::Result<()> {
        give_back();
        take_over()?;
        self.takes_clicks = false;
        // The frame before may have shown a cursor that is gone now.
        self.terminal.hide_cursor()?;
        self.refresh()
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

fn take_over() -> io::Result<()> {
    enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    let entered = execute!(stdout(), EnterAlternateScreen, EnableBracketedPaste);
    if entered.is_err() {
        give_back();
    }
    entered
}

/// Gives the terminal back as it was; does nothing if it is not taken. Errors are of no use here: if the terminal is
/// gone there is nothing to give back.
pub(super) fn give_back() {
    if !TAKEN.swap(false, Ordering::SeqCst) {
        return;
    }
    let mut out = stdout();
    drop(queue!(
        out,
        DisableMouseCapture,
        DisableBracketedPaste,
        LeaveAlternateScreen,
        Show
    ));
    drop(out.flush());
    drop(disable_raw_mode());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_follow_the_locale_and_the_terminal() {
        let marks = |pairs: &[(&str, &str)]| {
            let find = |name: &str| pairs.iter().find(|(known, _)| *known == name);
            marks_from(
                |name| find(name).map(|(_, value)| (*value).to_owned()),
                false,
            )
        };
        assert_eq!(marks(&[("LANG", "en_GB.UTF-8")]), Marks::Braille);
        assert_eq!(marks(&[("LC_CTYPE", "C.utf8")]), Marks::Braille);
        assert_eq!(
            marks(&[("LC_ALL", "C"), ("LANG", "en_GB.UTF-8")]),
            Marks::Ascii
        );
        assert_eq!(
            marks(&[("LC_ALL", ""), ("LANG", "en_GB.UTF-8")]),
            Marks::Braille
        );
        assert_eq!(
            marks(&[("LANG", "C.UTF-8"), ("TERM", "linux")]),
            Marks::Ascii
        );
        assert_eq!(marks(&[]), Marks::Ascii);
    }

    #[test]
    fn a_cell_is_twice_as_high_as_wide_unless_pixels_say_otherwise() {
        let close = |one: f64, two: f64| (one - two).abs() < 1e-9;
        assert!(close(ratio(800, 432, 80, 24), 1.8));
        for (width, height) in [(0, 0), (800, 0), (0, 432), (80, 4320)] {
            assert!(close(ratio(width, height, 80, 24), 2.0));
        }
        assert!(close(ratio(800, 432, 0, 0), 2.0));
    }

    #[test]
    fn colour_follows_the_environment() {
        let theme = |pairs: &[(&str, &str)]| {
            theme_from(|name| {
                pairs
                    .iter()
                    .find(|(known, _)| *known == name)
                    .map(|(_, value)| (*value).to_owned())
            })
        };
        assert_eq!(theme(&[]), Theme::Colour);
        assert_eq!(theme(&[("NO_COLOR", "1")]), Theme::Plain);
        assert_eq!(theme(&[("NO_COLOR", "")]), Theme::Colour);
        assert_eq!(theme(&[("CLICOLOR", "0")]), Theme::Plain);
        assert_eq!(
            theme(&[("CLICOLOR", "0"), ("CLICOLOR_FORCE", "1")]),
            Theme::Colour
        );
        assert_eq!(
            theme(&[("NO_COLOR", "1"), ("CLICOLOR_FORCE", "0")]),
            Theme::Plain
        );
    }
}
