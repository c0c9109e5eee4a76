//! The rules of flap design by name, and how heavily each weighs.

use super::basis::{ALFOTAWI_HUPP, Basis, HUPP_147, HUPP_RESTATED, PETERSON_8};
use std::fmt;

/// A rule that a design is judged by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// The base is at least as wide as the margin.
    Base,
    /// No release leans in.
    Sides,
    /// Not more than twice as long as the base is wide.
    Length,
    /// Better not longer than the base is wide.
    Breadth,
    /// Releases begin at line angles.
    Start,
    /// Releases stay off the canine eminence.
    Eminence,
    /// Enough whole teeth beyond the site.
    Reach,
    /// Deep enough for the bone to be removed.
    Cover,
    /// No envelope where a root end has to be reached.
    Access,
    /// Cuts lie over sound bone.
    Sound,
    /// Cuts stay off bone that is gone.
    Defect,
    /// Clear of the mental nerve.
    Mental,
    /// Clear of the infraorbital nerve.
    Infraorbital,
    /// Clear of the greater palatine vessels.
    Palate,
    /// Clear of the lingual nerve, mesial of the molars.
    Lingual,
    /// The distal limb turns buccally.
    Limb,
    /// Within the vestibule.
    Vestibule,
    /// Past the mucogingival junction.
    Junction,
    /// Off the labial frenum.
    Frenum,
    /// Off the gingival margin where the case spares it.
    Margin,
    /// Enough attached gingiva for a cut inside it.
    Attached,
}

/// How heavily a broken rule weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// The design is not sound.
    Decisive,
    /// Worth a remark.
    Advisory,
}

impl Rule {
    /// All rules in the order in which they are told.
    pub const ALL: [Self; 21] = [
        Self::Base,
        Self::Sides,
        Self::Length,
        Self::Breadth,
        Self::Start,
        Self::Eminence,
        Self::Reach,
        Self::Cover,
        Self::Access,
        Self::Sound,
        Self::Defect,
        Self::Mental,
        Self::Infraorbital,
        Self::Palate,
        Self::Lingual,
        Self::Limb,
        Self::Vestibule,
        Self::Junction,
        Self::Frenum,
        Self::Margin,
        Self::Attached,
    ];

    /// Its id in decks and logs.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Base => "base",
            Self::Sides => "sides",
            Self::Length => "length",
            Self::Breadth => "breadth",
            Self::Start => "start",
            Self::Eminence => "eminence",
            Self::Reach => "reach",
            Self::Cover => "cover",
            Self::Access => "access",
            Self::Sound => "sound",
            Self::Defect => "defect",
            Self::Mental => "mental",
            Self::Infraorbital => "infraorbital",
            Self::Palate => "palate",
            Self::Lingual => "lingual",
            Self::Limb => "limb",
            Self::Vestibule => "vestibule",
            Self::Junction => "junction",
            Self::Frenum => "frenum",
            Self::Margin => "margin",
            Self::Attached => "attached",
        }
    }

    /// The rule with this id.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|rule| rule.word() == word)
    }

    /// How heavily it weighs unless the case says otherwise.
    #[must_use]
    pub const fn grade(self) -> Grade {
        match self {
            Self::Breadth | Self::Eminence | Self::Vestibule | Self::Junction | Self::Frenum => {
                Grade::Advisory
            }
            _ => Grade::Decisive,
        }
    }

    /// Whether breaking it can harm a nerve or a vessel for good; no deck can make it a remark.
    #[must_use]
    pub const fn is_safety(self) -> bool {
        matches!(
            self,
            Self::Mental | Self::Infraorbital | Self::Palate | Self::Lingual | Self::Limb
        )
    }

    /// What it rests on, apart from its number.
    #[must_use]
    pub const fn basis(self) -> Basis {
        match self {
            Self::Base | Self::Cover | Self::Access | Self::Defect => Basis::Read(ALFOTAWI_HUPP),
            Self::Sides | Self::Length | Self::Breadth | Self::Sound => Basis::Read(HUPP_RESTATED),
            Self::Start | Self::Eminence => Basis::Read(PETERSON_8),
            Self::Reach => Basis::Read(HUPP_147),
            Self::Mental | Self::Palate => {
                Basis::Read("Hupp JR, Ellis E, Tucker MR 2019; a text on endodontic surgery")
            }
            Self::Lingual => Basis::Read(
                "Hupp JR, Ellis E, Tucker MR 2019, pp 135-136; Archer WH 1975, p 274, as reprinted 2021",
            ),
            Self::Limb => Basis::FromMemory("Hupp JR, Ellis E, Tucker MR 2019"),
            Self::Vestibule | Self::Infraorbital => {
                Basis::Read("Fragiskos FD 2007; Hupp JR, Ellis E, Tucker MR 2019, p 136")
            }
            Self::Junction => Basis::CommonPractice,
            Self::Frenum => Basis::FromMemory("Fragiskos FD 2007"),
            Self::Margin | Self::Attached => Basis::FromMemory("texts on endodontic surgery"),
        }
    }
}

impl fmt::Display for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
