//! Looks by meaning. The terminal's own colours and four of its sixteen; no state by colour alone.
//!
//! Red, green, magenta and blue can be read on light and on dark grounds alike; white, yellow and grey cannot and are not used.

use ratatui::style::{Color, Modifier, Style};

/// Whether colours may be used. Bold, dim and reverse are used either way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Theme {
    /// Colours beside words.
    Colour,
    /// Words only.
    Plain,
}

/// What a piece of text means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    Plain,
    /// What matters most on the page.
    Strong,
    /// What can be skipped.
    Quiet,
    /// A key that works.
    Key,
    /// What the next key acts on.
    Focus,
    Right,
    Wrong,
    /// What could harm a patient.
    Caution,
}

impl Theme {
    pub(super) const fn style(self, look: Look) -> Style {
        let style = Style::new();
        let (style, colour) = match look {
            Look::Plain => return style,
            Look::Strong | Look::Key => return style.add_modifier(Modifier::BOLD),
            Look::Quiet => return style.add_modifier(Modifier::DIM),
            Look::Focus => return style.add_modifier(Modifier::REVERSED),
            Look::Right => (style.add_modifier(Modifier::BOLD), Color::Green),
            Look::Wrong => (style.add_modifier(Modifier::BOLD), Color::Red),
            Look::Caution => (style.add_modifier(Modifier::BOLD), Color::Magenta),
        };
        match self {
            Self::Colour => style.fg(colour),
            Self::Plain => style,
        }
    }
}
