//! Every number that decides: its word in decks, its unit, its value and what that rests on.
//!
//! Landmarks that rules measure to stand here too, since they are means that a case may know better.

use super::basis::{Basis, HUPP_147, HUPP_RESTATED};
use crate::figure::teeth::{self, Jaw};

/// A number that a rule compares with, or a landmark that it measures to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Limit {
    /// Most length for a base of 1.
    LengthPerBase,
    /// Length for a base of 1 that is better not passed.
    BreadthPerBase,
    /// Least spread of a release.
    Spread,
    /// Least distance of a release from the middle of the canine.
    Eminence,
    /// Whole teeth mesial of the site in an envelope.
    EnvelopeMesial,
    /// Whole teeth distal of the site in an envelope.
    EnvelopeDistal,
    /// Whole teeth mesial of the site in a flap with a release.
    ReleasedMesial,
    /// Whole teeth distal of the site in a flap with a release.
    ReleasedDistal,
    /// Least distance from bone that is to be removed or is gone.
    Bone,
    /// How far short of the root end bone removal stops where an envelope serves.
    RootEnd,
    /// Least gap along the arch between a release and the mental foramen.
    Mental,
    /// Where the mental foramen lies along the lower arch.
    MentalAlong,
    /// Least distance of a release from the infraorbital foramen.
    Infraorbital,
    /// Where the infraorbital foramen lies along the upper arch.
    InfraorbitalAlong,
    /// How far above the necks the infraorbital foramen lies.
    InfraorbitalHeight,
    /// Most length of a release on the palate.
    Palate,
    /// Least turn of a distal limb to the buccal.
    LimbTurn,
    /// Least length of a distal limb that lays a third molar open.
    LimbLength,
    /// Depth of the lower vestibule below the necks.
    VestibuleLower,
    /// Depth of the upper vestibule below the necks.
    VestibuleUpper,
    /// Depth of the lower mucogingival junction below the necks.
    JunctionLower,
    /// Depth of the upper mucogingival junction below the necks.
    JunctionUpper,
    /// Least distance of a release from the midline.
    Frenum,
    /// Least width of attached gingiva for a submarginal cut.
    Attached,
    /// Depth of the sulcus: free gingiva is not attached.
    Sulcus,
    /// Least distance of a submarginal cut from the necks.
    Offset,
}

/// What a number counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Degrees.
    Degrees,
    /// Whole teeth.
    Teeth,
    /// Times another length.
    Times,
}

impl Limit {
    /// All limits.
    pub const ALL: [Self; 26] = [
        Self::LengthPerBase,
        Self::BreadthPerBase,
        Self::Spread,
        Self::Eminence,
        Self::EnvelopeMesial,
        Self::EnvelopeDistal,
        Self::ReleasedMesial,
        Self::ReleasedDistal,
        Self::Bone,
        Self::RootEnd,
        Self::Mental,
        Self::MentalAlong,
        Self::Infraorbital,
        Self::InfraorbitalAlong,
        Self::InfraorbitalHeight,
        Self::Palate,
        Self::LimbTurn,
        Self::LimbLength,
        Self::VestibuleLower,
        Self::VestibuleUpper,
        Self::JunctionLower,
        Self::JunctionUpper,
        Self::Frenum,
        Self::Attached,
        Self::Sulcus,
        Self::Offset,
    ];

    /// The word for it in decks.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::LengthPerBase => "length-per-base",
            Self::BreadthPerBase => "breadth-per-base",
            Self::Spread => "spread",
            Self::Eminence => "eminence",
            Self::EnvelopeMesial => "envelope-mesial",
            Self::EnvelopeDistal => "envelope-distal",
            Self::ReleasedMesial => "released-mesial",
            Self::ReleasedDistal => "released-distal",
            Self::Bone => "bone",
            Self::RootEnd => "root-end",
            Self::Mental => "mental",
            Self::MentalAlong => "mental-along",
            Self::Infraorbital => "infraorbital",
            Self::InfraorbitalAlong => "infraorbital-along",
            Self::InfraorbitalHeight => "infraorbital-height",
            Self::Palate => "palate",
            Self::LimbTurn => "limb-turn",
            Self::LimbLength => "limb-length",
            Self::VestibuleLower => "vestibule-lower",
            Self::VestibuleUpper => "vestibule-upper",
            Self::JunctionLower => "junction-lower",
            Self::JunctionUpper => "junction-upper",
            Self::Frenum => "frenum",
            Self::Attached => "attached",
            Self::Sulcus => "sulcus",
            Self::Offset => "offset",
        }
    }

    /// The limit with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|limit| limit.word() == word)
    }

    /// Where the mucogingival junction of a jaw lies.
    #[must_use]
    pub const fn junction(jaw: Jaw) -> Self {
        match jaw {
            Jaw::Upper => Self::JunctionUpper,
            Jaw::Lower => Self::JunctionLower,
        }
    }

    /// How deep the vestibule of a jaw is.
    #[must_use]
    pub const fn vestibule(jaw: Jaw) -> Self {
        match jaw {
            Jaw::Upper => Self::VestibuleUpper,
            Jaw::Lower => Self::VestibuleLower,
        }
    }

    /// What it counts.
    #[must_use]
    pub const fn unit(self) -> Unit {
        match self {
            Self::LengthPerBase | Self::BreadthPerBase => Unit::Times,
            Self::Spread | Self::LimbTurn => Unit::Degrees,
            Self::EnvelopeMesial
            | Self::EnvelopeDistal
            | Self::ReleasedMesial
            | Self::ReleasedDistal => Unit::Teeth,
            _ => Unit::Mm,
        }
    }

    /// Its value where no deck says otherwise, and what that rests on.
    #[must_use]
    pub const fn default(self) -> (f64, Basis) {
        const JUNCTION: Basis = Basis::Read(
            "attached gingiva of 120 adults, Sci World J 2023:8877273; a sulcus of 1 mm is our assumption",
        );
        match self {
            Self::LengthPerBase => (2.0, Basis::Read(HUPP_RESTATED)),
            Self::BreadthPerBase => (1.0, Basis::Read(HUPP_RESTATED)),
            Self::Spread => (0.0, Basis::Read(HUPP_RESTATED)),
            Self::EnvelopeMesial => (2.0, Basis::Read(HUPP_147)),
            Self::EnvelopeDistal | Self::ReleasedMesial | Self::ReleasedDistal => {
                (1.0, Basis::Read(HUPP_147))
            }
            Self::Bone => (6.0, Basis::Read(HUPP_RESTATED)),
            Self::MentalAlong => (
                teeth::MENTAL_FORAMEN_ALONG_MM,
                Basis::Read("second premolar in two thirds of 314 scans, Zurich 2019"),
            ),
            Self::RootEnd => (2.0, Basis::Assumption),
            // A shorter limb is a nick behind the last tooth, no cut up the ramus.
            Self::Mental | Self::LimbLength => (5.0, Basis::Assumption),
            // Two standard deviations of its height (3.6 mm in the source of the height), half of its own height and a millimetre.
            Self::Infraorbital => (10.0, Basis::Assumption),
            Self::InfraorbitalAlong => (
                teeth::INFRAORBITAL_FORAMEN_ALONG_MM,
                Basis::Read(
                    "below the first upper premolar, Aziz SR et al. 2000, or the second, Nanayakkara D et al. 2016: between them",
                ),
            ),
            Self::InfraorbitalHeight => (
                teeth::INFRAORBITAL_FORAMEN_HEIGHT_MM,
                Basis::Read(
                    "29.6 mm above the alveolar crest in 122 foramina, Thilakumara IP et al., Int J Morphol, abstract; crest 2 mm above the necks is common practice",
                ),
            ),
            Self::Palate => (6.0, Basis::Assumption),
            Self::LimbTurn => (30.0, Basis::Assumption),
            Self::VestibuleLower => (teeth::vestibule_mm(Jaw::Lower), Basis::Assumption),
            Self::VestibuleUpper => (teeth::vestibule_mm(Jaw::Upper), Basis::Assumption),
            Self::JunctionLower => (teeth::junction_mm(Jaw::Lower), JUNCTION),
            Self::JunctionUpper => (teeth::junction_mm(Jaw::Upper), JUNCTION),
            Self::Attached => (3.0, Basis::FromMemory("texts on endodontic surgery")),
            Self::Eminence | Self::Frenum | Self::Sulcus | Self::Offset => (1.0, Basis::Assumption),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read_back() {
        for limit in Limit::ALL {
            assert_eq!(Limit::parse(limit.word()), Some(limit));
        }
        assert_eq!(Limit::parse("Bone"), None);
    }
}
