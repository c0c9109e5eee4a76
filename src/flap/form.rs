//! What kind of flap a design is, from its releases alone.

use super::design::{Cut, Design};
use std::fmt;

/// Lengths nearer than this are equal, mm: far below any blade, far above rounding.
pub(super) const EQUAL_MM: f64 = 1e-9;

/// The kind of a flap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FlapType {
    /// Its outline.
    pub form: Form,
    /// Whether an oblique cut runs up behind the last tooth.
    pub distal_limb: bool,
}

/// The outline of a flap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Form {
    /// In the sulcus, no release.
    Envelope,
    /// In the sulcus, one release.
    ThreeCornered,
    /// In the sulcus, two releases.
    FourCornered(Sides),
    /// Inside attached gingiva, with this many releases.
    Submarginal {
        /// 0 to 2.
        releases: u8,
    },
}

/// How the base of a four-cornered flap compares with its margin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sides {
    /// The base is wider.
    Trapezoidal,
    /// Equally wide.
    Parallel,
    /// The base is narrower.
    Narrow,
}

/// What an item may ask for by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Family {
    /// No release.
    Envelope,
    /// One release.
    ThreeCornered,
    /// Two releases.
    FourCornered,
    /// Inside attached gingiva.
    Submarginal,
}

impl Family {
    /// All of them.
    pub const ALL: [Self; 4] = [
        Self::Envelope,
        Self::ThreeCornered,
        Self::FourCornered,
        Self::Submarginal,
    ];

    /// The word for it in decks.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Envelope => "envelope",
            Self::ThreeCornered => "three-cornered",
            Self::FourCornered => "four-cornered",
            Self::Submarginal => "submarginal",
        }
    }

    /// The family with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|family| family.word() == word)
    }
}

impl FlapType {
    /// The family it belongs to.
    #[must_use]
    pub const fn family(self) -> Family {
        match self.form {
            Form::Envelope => Family::Envelope,
            Form::ThreeCornered => Family::ThreeCornered,
            Form::FourCornered(_) => Family::FourCornered,
            Form::Submarginal { .. } => Family::Submarginal,
        }
    }
}

/// The kind of flap that a design is. It does not depend on the case.
#[must_use]
pub fn name(design: &Design) -> FlapType {
    let spread: f64 = design
        .releases()
        .map(|(_, release)| release.sweep_mm())
        .sum();
    let form = match (design.cut(), design.releases().count()) {
        (Cut::Submarginal { .. }, 0) => Form::Submarginal { releases: 0 },
        (Cut::Submarginal { .. }, 1) => Form::Submarginal { releases: 1 },
        (Cut::Submarginal { .. }, _) => Form::Submarginal { releases: 2 },
        (Cut::Sulcular, 0) => Form::Envelope,
        (Cut::Sulcular, 1) => Form::ThreeCornered,
        (Cut::Sulcular, _) if spread > EQUAL_MM => Form::FourCornered(Sides::Trapezoidal),
        (Cut::Sulcular, _) if spread < -EQUAL_MM => Form::FourCornered(Sides::Narrow),
        (Cut::Sulcular, _) => Form::FourCornered(Sides::Parallel),
    };
    FlapType {
        form,
        distal_limb: design.limb().is_some(),
    }
}

impl fmt::Display for FlapType {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.form {
            Form::Envelope => "envelope",
            Form::ThreeCornered => "three-cornered",
            Form::FourCornered(Sides::Trapezoidal) => "four-cornered (trapezoidal)",
            Form::FourCornered(Sides::Parallel) => "four-cornered (parallel sides)",
            Form::FourCornered(Sides::Narrow) => "four-cornered (base narrower than margin)",
            Form::Submarginal { releases: 0 } => "submarginal without release",
            Form::Submarginal { releases: 1 } => "submarginal with one release",
            Form::Submarginal { .. } => "submarginal with two releases (Ochsenbein-Luebke)",
        })?;
        if self.distal_limb {
            f.write_str(" with distal limb")?;
        }
        Ok(())
    }
}
