//! Teeth by numbers: mean sizes, and where along the row each named point lies.
//!
//! The arch is straightened: x runs along it from the midline, distal positive; y is 0 on the neck line. Distances
//! round the canine are therefore lengths along the arch. Means of no patient: a drawing aid and a common ground for
//! rules about flaps, never a measurement to key a question on.
//!
//! Sizes: Nelson SJ, Ash MM. Wheeler's Dental Anatomy, Physiology and Occlusion. Saunders/Elsevier, table of
//! measurements for drawing and carving teeth of average size. [`Grounds`] says which rows were read and which
//! are from memory.

use std::fmt;

/// Upper or lower jaw.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Jaw {
    /// The maxilla.
    Upper,
    /// The mandible.
    Lower,
}

impl Jaw {
    /// The word for it in decks.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Upper => "upper",
            Self::Lower => "lower",
        }
    }

    /// The jaw with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        [Self::Upper, Self::Lower]
            .into_iter()
            .find(|jaw| jaw.word() == word)
    }

    /// +1 where crowns point up on the page, -1 where they point down.
    #[must_use]
    pub const fn coronal(self) -> f64 {
        match self {
            Self::Upper => -1.0,
            Self::Lower => 1.0,
        }
    }
}

/// A permanent tooth by its place in the quadrant: 1 the central incisor to 8 the third molar (the second digit of
/// ISO 3950).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tooth(u8);

impl Tooth {
    /// The third molar, where a row ends.
    pub const LAST: Self = Self(8);

    /// Tooth 1 to 8; `None` for another number.
    #[must_use]
    pub const fn new(number: u8) -> Option<Self> {
        if matches!(number, 1..=8) {
            Some(Self(number))
        } else {
            None
        }
    }

    /// 1 to 8.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// All teeth of a quadrant, mesial first.
    pub fn all() -> impl DoubleEndedIterator<Item = Self> + Clone {
        (1..=8).map(Self)
    }

    /// The teeth from one to another, both included.
    pub fn between(first: Self, last: Self) -> impl DoubleEndedIterator<Item = Self> + Clone {
        (first.0..=last.0).map(Self)
    }
}

impl fmt::Display for Tooth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// How far a row of the table can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grounds {
    /// Read in a reproduction of the table.
    Read,
    /// Recalled; to be compared with the book.
    FromMemory,
}

/// Mean size of a tooth, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Means {
    /// Mesiodistal width of the crown.
    pub crown_mm: f64,
    /// Mesiodistal width at the neck.
    pub neck_mm: f64,
    /// Length of the root (of the buccal roots where there are several).
    pub root_mm: f64,
    /// Length of the crown.
    pub height_mm: f64,
    /// Labiolingual or buccolingual width of the crown.
    pub depth_mm: f64,
    /// Whether the mesiodistal widths and lengths were read. All depths but those of the upper second premolar
    /// and first molar are from memory.
    pub grounds: Grounds,
}

const fn means_of(sizes: [f64; 5], grounds: Grounds) -> Means {
    let [crown_mm, neck_mm, root_mm, height_mm, depth_mm] = sizes;
    Means {
        crown_mm,
        neck_mm,
        root_mm,
        height_mm,
        depth_mm,
        grounds,
    }
}

/// Crown, neck, root, crown length, depth of the lower teeth.
const LOWER: [Means; 8] = [
    means_of([5.0, 3.5, 12.5, 9.0, 6.0], Grounds::FromMemory),
    means_of([5.5, 4.0, 14.0, 9.5, 6.5], Grounds::FromMemory),
    means_of([7.0, 5.5, 16.0, 11.0, 7.5], Grounds::FromMemory),
    means_of([7.0, 5.0, 14.0, 8.5, 7.5], Grounds::FromMemory),
    means_of([7.0, 5.0, 14.5, 8.0, 8.0], Grounds::FromMemory),
    means_of([11.0, 9.0, 14.0, 7.5, 10.5], Grounds::FromMemory),
    means_of([10.5, 8.0, 13.0, 7.0, 10.0], Grounds::FromMemory),
    means_of([10.0, 7.5, 11.0, 7.0, 9.5], Grounds::FromMemory),
];

/// The same of the upper teeth. 1 and 2 were read in a table of tooth traits that gives these figures without their
/// depths, 5 and 6 on pages of the book itself.
const UPPER: [Means; 8] = [
    means_of([8.5, 7.0, 13.0, 10.5, 7.0], Grounds::Read),
    means_of([6.5, 5.0, 13.0, 9.0, 6.0], Grounds::Read),
    means_of([7.5, 5.5, 17.0, 10.0, 8.0], Grounds::FromMemory),
    means_of([7.0, 5.0, 14.0, 8.5, 9.0], Grounds::FromMemory),
    means_of([7.0, 5.0, 14.0, 8.5, 9.0], Grounds::Read),
    means_of([10.0, 8.0, 12.0, 7.5, 11.0], Grounds::Read),
    means_of([9.0, 7.0, 11.0, 7.0, 11.0], Grounds::FromMemory),
    means_of([8.5, 6.5, 11.0, 6.5, 10.0], Grounds::FromMemory),
];

/// Mean sizes of a tooth.
#[must_use]
pub const fn means(jaw: Jaw, tooth: Tooth) -> Means {
    let row = match jaw {
        Jaw::Upper => &UPPER,
        Jaw::Lower => &LOWER,
    };
    // A tooth is 1 to 8 by construction.
    row[tooth.0 as usize - 1]
}

/// A named point on the neck line of a tooth, mesial first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NeckPoint {
    /// Tip of the papilla in front.
    MesialPapilla,
    /// Where facial and mesial side meet.
    MesialLine,
    /// Middle of the facial side.
    MidFacial,
    /// Where facial and distal side meet.
    DistalLine,
    /// Tip of the papilla behind.
    DistalPapilla,
}

impl NeckPoint {
    /// All five, mesial first.
    pub const ALL: [Self; 5] = [
        Self::MesialPapilla,
        Self::MesialLine,
        Self::MidFacial,
        Self::DistalLine,
        Self::DistalPapilla,
    ];

    /// In words, such as "mesial line angle".
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::MesialPapilla => "mesial papilla",
            Self::MesialLine => "mesial line angle",
            Self::MidFacial => "mid-facial point",
            Self::DistalLine => "distal line angle",
            Self::DistalPapilla => "distal papilla",
        }
    }

    /// Two letters, as typed: mp, ml, mf, dl, dp.
    #[must_use]
    pub const fn short(self) -> &'static str {
        match self {
            Self::MesialPapilla => "mp",
            Self::MesialLine => "ml",
            Self::MidFacial => "mf",
            Self::DistalLine => "dl",
            Self::DistalPapilla => "dp",
        }
    }

    /// How far it lies behind the mesial contact of a tooth whose crown and neck are so wide, mm.
    #[must_use]
    pub fn behind_contact_mm(self, crown_mm: f64, neck_mm: f64) -> f64 {
        match self {
            Self::MesialPapilla => 0.0,
            Self::MesialLine => (crown_mm - neck_mm) / 2.0,
            Self::MidFacial => crown_mm / 2.0,
            Self::DistalLine => f64::midpoint(crown_mm, neck_mm),
            Self::DistalPapilla => crown_mm,
        }
    }

    /// The point with these two letters.
    #[must_use]
    pub fn parse(short: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|point| point.short() == short)
    }
}

/// Where a tooth's crown begins: mm along the arch from the midline to its mesial contact.
#[must_use]
pub fn mesial_contact_mm(jaw: Jaw, tooth: Tooth) -> f64 {
    Tooth::all()
        .take_while(|&before| before < tooth)
        .map(|before| means(jaw, before).crown_mm)
        .sum()
}

/// Where a named point lies: mm along the arch from the midline, distal positive.
#[must_use]
pub fn along_mm(jaw: Jaw, tooth: Tooth, point: NeckPoint) -> f64 {
    let Means {
        crown_mm, neck_mm, ..
    } = means(jaw, tooth);
    mesial_contact_mm(jaw, tooth) + point.behind_contact_mm(crown_mm, neck_mm)
}

/// The tooth whose crown covers a place along the arch; a contact belongs to the tooth behind it.
#[must_use]
pub fn tooth_at(jaw: Jaw, along_mm: f64) -> Option<Tooth> {
    Tooth::all().find(|&tooth| {
        let start = mesial_contact_mm(jaw, tooth);
        (start..start + means(jaw, tooth).crown_mm).contains(&along_mm)
    })
}

/// Height of an interdental papilla above the neck line, mm: Chu SJ et al. 2009, Int J Periodontics Restorative Dent
/// 29:385-393, for upper front teeth; elsewhere our assumption.
pub const PAPILLA_MM: f64 = 4.0;

/// Depth of the alveolar crest below the neck line, mm: common practice.
pub const CREST_MM: f64 = 2.0;

/// Depth of the mucogingival junction below the neck line, mm: attached gingiva 2.71 lower and 3.19 upper (120
/// adults, Nepal, Sci World J 2023:8877273) and a sulcus of 1 mm (our assumption).
#[must_use]
pub const fn junction_mm(jaw: Jaw) -> f64 {
    match jaw {
        Jaw::Upper => 4.2,
        Jaw::Lower => 3.7,
    }
}

/// Depth of the vestibule below the neck line, mm: our assumption.
#[must_use]
pub const fn vestibule_mm(jaw: Jaw) -> f64 {
    match jaw {
        Jaw::Upper => 16.0,
        Jaw::Lower => 14.0,
    }
}

/// Where the mental foramen lies along the lower arch, mm: at the second premolar, as in two thirds of 314
/// tomograms (University of Zurich 2019; other populations differ).
pub const MENTAL_FORAMEN_ALONG_MM: f64 = 28.0;

/// Depth of the upper edge of the mental foramen below the neck line, mm: 11.2 below the crest (from dry and
/// scanned mandibles) and the crest 2 below the neck.
pub const MENTAL_FORAMEN_ROOF_MM: f64 = 13.2;

/// Where the infraorbital foramen lies along the straightened upper row, mm: above the contact of the premolars. Aziz
/// SR et al. 2000 (J Oral Maxillofac Surg 58:992-996) name the first of them, Nanayakkara D et al. 2016 (Anat Res Int
/// 2016:7917343) the second.
pub const INFRAORBITAL_FORAMEN_ALONG_MM: f64 = 29.5;

/// How far above the upper necks the infraorbital foramen lies, mm: 29.6 above the alveolar crest, the mean of 122
/// (Thilakumara IP et al., Int J Morphol, cone beam computed tomography, abstract), and the crest [`CREST_MM`].
pub const INFRAORBITAL_FORAMEN_HEIGHT_MM: f64 = 29.6 + CREST_MM;

/// How far the free gum stands above the neck line at a place along the arch, mm: 0 at the middle of a tooth,
/// [`PAPILLA_MM`] at a contact, a parabola between. For drawing only. `None` beyond the row.
#[must_use]
pub fn gum_mm(jaw: Jaw, at_mm: f64) -> Option<f64> {
    let last_contact = along_mm(jaw, Tooth::LAST, NeckPoint::DistalPapilla);
    let tooth = match tooth_at(jaw, at_mm) {
        Some(tooth) => tooth,
        None if (at_mm - last_contact).abs() < 1e-9 => Tooth::LAST,
        None => return None,
    };
    let half = means(jaw, tooth).crown_mm / 2.0;
    let off = (at_mm - along_mm(jaw, tooth, NeckPoint::MidFacial)) / half;
    Some(PAPILLA_MM * off * off)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tooth(number: u8) -> Tooth {
        Tooth::new(number).unwrap()
    }

    #[test]
    fn only_eight_teeth() {
        assert_eq!(Tooth::new(0), None);
        assert_eq!(Tooth::new(9), None);
        assert_eq!(Tooth::all().count(), 8);
        assert_eq!(Tooth::between(tooth(3), tooth(8)).count(), 6);
        assert_eq!(Tooth::between(tooth(5), tooth(4)).count(), 0);
    }

    #[test]
    fn points_run_distally_and_neighbours_share_a_papilla() {
        for jaw in [Jaw::Upper, Jaw::Lower] {
            let row: Vec<f64> = Tooth::all()
                .flat_map(|tooth| NeckPoint::ALL.map(|point| along_mm(jaw, tooth, point)))
                .collect();
            assert!(row.is_sorted());
            for number in 1..8 {
                let behind = along_mm(jaw, tooth(number), NeckPoint::DistalPapilla);
                let before = along_mm(jaw, tooth(number + 1), NeckPoint::MesialPapilla);
                assert!((behind - before).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn gum_peaks_at_contacts() {
        assert_eq!(gum_mm(Jaw::Lower, 28.0), Some(0.0));
        assert_eq!(gum_mm(Jaw::Lower, 31.5), Some(4.0));
        assert_eq!(gum_mm(Jaw::Lower, 63.0), Some(4.0));
        assert_eq!(gum_mm(Jaw::Lower, 63.1), None);
        assert_eq!(gum_mm(Jaw::Lower, -0.1), None);
    }

    #[test]
    fn words_are_read_back() {
        for point in NeckPoint::ALL {
            assert_eq!(NeckPoint::parse(point.short()), Some(point));
        }
        assert_eq!(Jaw::parse("upper"), Some(Jaw::Upper));
        assert_eq!(Jaw::parse("Upper"), None);
    }
}
