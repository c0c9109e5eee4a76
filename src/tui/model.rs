//! What the front end knows: everything a view needs, and nothing of how it is drawn.

use super::entry::Entry;
use super::event::{Size, Stamp};
use super::field::Field;
use super::preview::Preview;
use crate::answer::Confidence;
use crate::figure::marks::Marks;
use crate::kinds::{self, Response};
use crate::memory::forecast::Forecast;
use crate::round::{Home, Limits, Phase, Record, Round};
use crate::text::Shown;
use crate::time::{Day, Moment};
use crate::words::sentence;

/// The least screen that everything fits on.
pub(super) const LEAST: Size = Size {
    width: 60,
    height: 20,
};

/// How the front end is to start and to ask.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// The caution of the first start, if it has not been read yet.
    pub caution: Option<String>,
    /// Limits asked for on the command line; without any a round takes the minutes left of the day.
    pub limits: Limits,
    /// A seed for all rounds, so that they can be repeated; without one each has its own.
    pub seed: Option<u64>,
    /// Begin a review at once, without the home screen.
    pub begin: bool,
    /// What drawings are made of.
    pub marks: Marks,
    /// What they are made of if the program may choose.
    pub auto_marks: Marks,
    /// Ask first whether a drawing looks whole.
    pub ask_marks: bool,
    /// Height of a cell of the screen over its width.
    pub cell_ratio: f64,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            caution: None,
            limits: Limits::default(),
            seed: None,
            begin: false,
            marks: Marks::default(),
            auto_marks: Marks::default(),
            ask_marks: false,
            cell_ratio: 2.0,
        }
    }
}

/// The state of the front end.
#[derive(Debug)]
pub struct Model {
    pub(super) settings: Settings,
    pub(super) screen: Screen,
    /// The record when no round runs; a round holds its own until it is left.
    pub(super) record: Record,
    /// The day's numbers, as of the last change of screen or question.
    pub(super) home: Home,
    /// The forecast, as of the last time the home screen came up.
    pub(super) forecast: Option<Forecast>,
    /// The moment of the last event.
    pub(super) now: Moment,
    pub(super) size: Size,
    pub(super) scroll: Scroll,
    /// What is shown to its writer, if that is what the program was started for.
    pub(super) preview: Option<Preview>,
    /// How far the help is scrolled, while it is open.
    pub(super) help: Option<Scroll>,
    /// Something to be said until the next key.
    pub(super) notice: Option<Shown>,
    /// When the program was put to sleep, on the clock of [`Stamp::elapsed`].
    pub(super) asleep_since: Option<f64>,
}

/// Which screen is up.
#[derive(Debug)]
pub(super) enum Screen {
    Caution,
    /// Whether a drawing made of these looks whole.
    Marks(Marks),
    Home,
    Round(Box<Sitting>),
}

/// A round on the screen.
#[derive(Debug)]
pub(super) struct Sitting {
    pub(super) round: Round,
    pub(super) entry: Entry,
    pub(super) step: Step,
    /// When the question appeared, on the clock of [`Stamp::elapsed`].
    pub(super) since: f64,
    /// A query being written on the reveal.
    pub(super) query: Option<Field>,
}

/// How far the answer to the open question has come.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Step {
    /// It is being put together.
    Answer,
    /// It is complete; the candidate says how sure they are.
    Confidence {
        response: Response,
        level: Option<Confidence>,
    },
}

/// How far a long page is scrolled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Scroll {
    /// Rows hidden above.
    pub(super) rows: usize,
    /// Rows that can be hidden at most, as last drawn.
    pub(super) last: usize,
    /// Rows shown at once, as last drawn.
    pub(super) page: usize,
    /// What has the focus must be seen.
    pub(super) follow: bool,
}

/// What a view found out while drawing: how far its page can be scrolled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Drawn {
    /// Rows hidden above.
    pub rows: usize,
    /// Rows that can be hidden at most.
    pub last: usize,
    /// Rows shown at once.
    pub page: usize,
}

impl Model {
    /// The front end of a candidate with this record, at the moment of `stamp`.
    #[must_use]
    pub fn new(record: Record, settings: Settings, stamp: &Stamp) -> Self {
        let mut model = Self {
            screen: if settings.caution.is_some() {
                Screen::Caution
            } else if settings.ask_marks {
                Screen::Marks(settings.marks)
            } else {
                Screen::Home
            },
            home: record.home(stamp.now),
            forecast: record.forecast(),
            now: stamp.now,
            size: LEAST,
            scroll: Scroll::default(),
            help: None,
            preview: None,
            notice: None,
            asleep_since: None,
            record,
            settings,
        };
        if matches!(model.screen, Screen::Home) && std::mem::take(&mut model.settings.begin) {
            model.begin(stamp);
        }
        model
    }

    /// Takes back what the last drawing found out.
    pub fn settle(&mut self, drawn: Drawn) {
        let scroll = self.help.as_mut().unwrap_or(&mut self.scroll);
        let Drawn { rows, last, page } = drawn;
        *scroll = Scroll {
            rows,
            last,
            page,
            follow: scroll.follow,
        };
    }

    /// The record with all answers so far.
    #[must_use]
    pub const fn record(&self) -> &Record {
        match &self.screen {
            Screen::Round(sitting) => sitting.round.record(),
            Screen::Caution | Screen::Marks(_) | Screen::Home => &self.record,
        }
    }

    /// Whether clicks mean something on the screen that is up.
    #[must_use]
    pub fn takes_clicks(&self) -> bool {
        match &self.screen {
            Screen::Round(sitting) => {
                matches!(sitting.round.phase(), Phase::Asking(_))
                    && matches!(sitting.entry, Entry::Place(_))
            }
            Screen::Caution | Screen::Marks(_) | Screen::Home => false,
        }
    }

    /// The study day.
    pub(super) fn today(&self) -> Day {
        self.record().study_day(self.now.day)
    }

    /// Whether the screen is too small to show anything but that.
    pub(super) const fn is_too_small(&self) -> bool {
        self.size.width < LEAST.width || self.size.height < LEAST.height
    }

    /// Whether characters are text and not commands.
    pub(super) fn takes_text(&self) -> bool {
        match &self.screen {
            Screen::Round(sitting) => sitting.takes_text(),
            Screen::Caution | Screen::Marks(_) | Screen::Home => false,
        }
    }

    /// The round's phase, if a round is on the screen.
    pub(super) fn phase(&self) -> Option<&Phase> {
        match &self.screen {
            Screen::Round(sitting) => Some(sitting.round.phase()),
            Screen::Caution | Screen::Marks(_) | Screen::Home => None,
        }
    }

    /// Begins a review.
    pub(super) fn begin(&mut self, stamp: &Stamp) {
        let limits = self.settings.limits;
        let seed = self.settings.seed.unwrap_or(stamp.seed);
        let round = Round::review(self.record.clone(), limits, seed, stamp.now);
        let mut sitting = Sitting::new(round, stamp);
        sitting.present(stamp);
        self.screen = Screen::Round(Box::new(sitting));
        self.turn(stamp);
    }

    /// A new page is up: from its top, with the numbers of now.
    pub(super) fn turn(&mut self, stamp: &Stamp) {
        self.scroll = Scroll::default();
        self.home = self.record().home(stamp.now);
        // It takes longer than the numbers of a day, and only the home screen shows it.
        if matches!(self.screen, Screen::Home) {
            self.forecast = self.record.forecast();
        }
    }
}

impl Sitting {
    pub(super) fn new(round: Round, stamp: &Stamp) -> Self {
        Self {
            round,
            entry: Entry::default(),
            step: Step::Answer,
            since: stamp.elapsed,
            query: None,
        }
    }

    /// Gets ready for the open question.
    pub(super) fn present(&mut self, stamp: &Stamp) {
        if let Phase::Asking(ask) = self.round.phase() {
            self.entry = Entry::new(&ask.question.form);
            self.step = Step::Answer;
            self.since = stamp.elapsed;
        }
    }

    /// Whether characters are text and not commands.
    pub(super) fn takes_text(&self) -> bool {
        match self.round.phase() {
            Phase::Asking(_) => self.step == Step::Answer && self.entry.takes_text(),
            Phase::Revealed(_) => self.query.is_some(),
            Phase::Storing(_) | Phase::Closed(_) => false,
        }
    }

    /// Goes on to confidence if the answer is complete; otherwise says what is missing.
    pub(super) fn complete(&mut self) -> Option<String> {
        let Phase::Asking(ask) = self.round.phase() else {
            return None;
        };
        if let Entry::Flap(designing) = &self.entry
            && let Some(wanting) = designing.wanting()
        {
            return Some(sentence(&wanting));
        }
        match kinds::read(&ask.question.form, &self.entry.ids()) {
            Ok(response) => {
                self.step = Step::Confidence {
                    response,
                    level: None,
                };
                None
            }
            Err(unfit) => Some(sentence(&unfit.to_string())),
        }
    }
}

impl Scroll {
    /// Moves by rows, down if `by` is positive, and stops at the ends.
    pub(super) fn by(&mut self, by: isize) {
        self.rows = self.rows.saturating_add_signed(by).min(self.last);
        self.follow = false;
    }

    /// Moves by whole pages, with one row of the old page kept.
    pub(super) fn by_page(&mut self, down: bool) {
        let page = isize::try_from(self.page.saturating_sub(1).max(1)).unwrap_or(isize::MAX);
        self.by(if down { page } else { -page });
    }
}
