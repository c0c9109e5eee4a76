//! What a flap is designed for: the site, the bone to be removed and what stands around it.

use super::geometry::{Block, Spot};
use super::row::Row;
use super::surroundings::Surroundings;
use super::thresholds::{LimitError, Thresholds};
use crate::figure::teeth::{Jaw, Tooth};
use thiserror::Error;

/// Deepest place that a case may speak of, mm below the neck line.
pub const DEEPEST_BONE_MM: f64 = 40.0;

/// The patient's side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Quadrant {
    /// The patient's left: distal is to the right of who looks.
    Left,
    /// The patient's right.
    Right,
}

/// From which side the flap is raised.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Aspect {
    /// Cheek and lip, either jaw.
    Buccal,
    /// Palate, upper jaw only.
    Palatal,
    /// Tongue, lower jaw only.
    Lingual,
}

impl Quadrant {
    /// The word for it in decks.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The quadrant with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        [Self::Left, Self::Right]
            .into_iter()
            .find(|side| side.word() == word)
    }
}

impl Aspect {
    /// The word for it in decks.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Buccal => "buccal",
            Self::Palatal => "palatal",
            Self::Lingual => "lingual",
        }
    }

    /// The aspect with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        [Self::Buccal, Self::Palatal, Self::Lingual]
            .into_iter()
            .find(|aspect| aspect.word() == word)
    }
}

/// How deep the bone to be removed reaches, mm below the neck line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bone {
    /// Its coronal edge.
    pub top_mm: f64,
    /// Its apical edge.
    pub bottom_mm: f64,
}

/// What an author says about an operation, as yet unchecked.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// Which jaw.
    pub jaw: Jaw,
    /// Which side of the patient.
    pub quadrant: Quadrant,
    /// From which side the flap is raised.
    pub aspect: Aspect,
    /// The teeth or roots to be reached.
    pub site: Vec<Tooth>,
    /// The bone to be removed there.
    pub bone: Bone,
    /// Teeth that are gone.
    pub missing: Vec<Tooth>,
}

/// An operation that can be judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    operation: Operation,
    surroundings: Surroundings,
    thresholds: Thresholds,
    row: Row,
    first: Tooth,
    last: Tooth,
}

/// Why an operation cannot be judged.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CaseError {
    /// Nothing to be reached.
    #[error("the site names no tooth; give one or more")]
    NoSite,
    /// A tooth named twice.
    #[error("tooth {tooth} is named twice; name it once")]
    Twice {
        /// Which.
        tooth: Tooth,
    },
    /// The central incisor: the flap would need teeth of the other quadrant.
    #[error("a site at tooth 1 needs the teeth across the midline; choose a site from 2 to 8")]
    Midline,
    /// A tooth that is both the site and gone.
    #[error("tooth {tooth} is the site and missing at once; a retained root is not missing")]
    SiteMissing {
        /// Which.
        tooth: Tooth,
    },
    /// Not finite, out of bounds, or upside down.
    #[error(
        "bone reaches from {top_mm} to {bottom_mm} mm; give two depths from 0 to 40, the smaller first"
    )]
    Bone {
        /// Given as coronal edge, mm.
        top_mm: f64,
        /// Given as apical edge, mm.
        bottom_mm: f64,
    },
    /// A palate in the lower jaw or a tongue side in the upper.
    #[error("the {jaw} jaw has no {aspect} side")]
    Aspect {
        /// The jaw's word.
        jaw: &'static str,
        /// The aspect's word.
        aspect: &'static str,
    },
    /// A defect or an eminence of a tooth that is gone.
    #[error("tooth {tooth} is missing; a defect or an eminence belongs to a root that stands")]
    FindingMissing {
        /// Which.
        tooth: Tooth,
    },
    /// Attached gingiva of no possible width.
    #[error("attached gingiva cannot be {attached_mm} mm wide; give 0 to 15 mm")]
    Attached {
        /// What was given, mm.
        attached_mm: f64,
    },
    /// Attached gingiva measured where no junction ends it.
    #[error("the palate is attached all over; leave the width of attached gingiva out")]
    AttachedPalate,
    /// Attached gingiva and sulcus reach farther than any junction.
    #[error(transparent)]
    Junction(#[from] LimitError),
}

impl Case {
    /// The case for an operation.
    ///
    /// # Errors
    /// A [`CaseError`] if the operation contradicts itself or cannot be measured on one quadrant.
    pub fn new(operation: Operation, thresholds: Thresholds) -> Result<Self, CaseError> {
        let site = &operation.site;
        let (Some(&first), Some(&last)) = (site.iter().min(), site.iter().max()) else {
            return Err(CaseError::NoSite);
        };
        for teeth in [site, &operation.missing] {
            if let Some(tooth) = repeated(teeth) {
                return Err(CaseError::Twice { tooth });
            }
        }
        if first.number() == 1 {
            return Err(CaseError::Midline);
        }
        if let Some(&tooth) = site.iter().find(|tooth| operation.missing.contains(tooth)) {
            return Err(CaseError::SiteMissing { tooth });
        }
        operation.bone.check()?;
        if matches!(
            (operation.jaw, operation.aspect),
            (Jaw::Upper, Aspect::Lingual) | (Jaw::Lower, Aspect::Palatal)
        ) {
            return Err(CaseError::Aspect {
                jaw: operation.jaw.word(),
                aspect: operation.aspect.word(),
            });
        }
        Ok(Self {
            row: Row::of(operation.jaw),
            operation,
            surroundings: Surroundings::default(),
            thresholds,
            first,
            last,
        })
    }

    /// Which jaw.
    #[must_use]
    pub const fn jaw(&self) -> Jaw {
        self.operation.jaw
    }

    /// Whether a ramus rises behind the last tooth, up which a limb can run. A limb may be part of any design there,
    /// whether it serves or not.
    #[must_use]
    pub const fn has_ramus(&self) -> bool {
        matches!(self.operation.jaw, Jaw::Lower)
    }

    /// Which side of the patient.
    #[must_use]
    pub const fn quadrant(&self) -> Quadrant {
        self.operation.quadrant
    }

    /// From which side the flap is raised.
    #[must_use]
    pub const fn aspect(&self) -> Aspect {
        self.operation.aspect
    }

    /// The teeth or roots to be reached, as given.
    #[must_use]
    pub fn site(&self) -> &[Tooth] {
        &self.operation.site
    }

    /// How deep the bone to be removed reaches.
    #[must_use]
    pub const fn bone(&self) -> Bone {
        self.operation.bone
    }

    /// The numbers that decide.
    #[must_use]
    pub const fn thresholds(&self) -> &Thresholds {
        &self.thresholds
    }

    /// Where the teeth stand.
    #[must_use]
    pub const fn row(&self) -> &Row {
        &self.row
    }

    /// The bone to be removed: from the outer line angles of the site, top to bottom.
    #[must_use]
    pub fn block(&self) -> Block {
        self.block_over(self.first, self.last, self.operation.bone)
    }

    pub(super) fn block_over(&self, first: Tooth, last: Tooth, bone: Bone) -> Block {
        Block {
            low: Spot::new(self.row.neck_mm(first).0, bone.top_mm),
            high: Spot::new(self.row.neck_mm(last).1, bone.bottom_mm),
        }
    }

    /// What was found around the site.
    #[must_use]
    pub const fn surroundings(&self) -> &Surroundings {
        &self.surroundings
    }

    pub(super) fn set_surroundings(&mut self, surroundings: Surroundings) {
        self.surroundings = surroundings;
    }

    pub(super) fn thresholds_mut(&mut self) -> &mut Thresholds {
        &mut self.thresholds
    }

    /// Whether a tooth stands in the row.
    #[must_use]
    pub fn has(&self, tooth: Tooth) -> bool {
        !self.operation.missing.contains(&tooth)
    }

    /// The teeth that stand mesial of the site.
    pub fn mesial_of_site(&self) -> impl Iterator<Item = Tooth> + '_ {
        Tooth::all().filter(|&tooth| tooth < self.first && self.has(tooth))
    }

    /// The teeth that stand distal of the site.
    pub fn distal_of_site(&self) -> impl Iterator<Item = Tooth> + '_ {
        Tooth::all().filter(|&tooth| tooth > self.last && self.has(tooth))
    }

    /// The same case on a row of other widths.
    #[cfg(test)]
    pub(super) fn on(self, row: Row) -> Self {
        Self { row, ..self }
    }
}

pub(super) fn repeated(teeth: &[Tooth]) -> Option<Tooth> {
    let mut sorted = teeth.to_vec();
    sorted.sort_unstable();
    let twice = sorted.windows(2).find(|pair| pair[0] == pair[1]);
    twice.map(|pair| pair[0])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tooth(number: u8) -> Tooth {
        Tooth::new(number).unwrap()
    }

    fn operation() -> Operation {
        Operation {
            jaw: Jaw::Lower,
            quadrant: Quadrant::Left,
            aspect: Aspect::Buccal,
            site: vec![tooth(6), tooth(5)],
            bone: Bone {
                top_mm: 2.0,
                bottom_mm: 8.0,
            },
            missing: vec![tooth(4)],
        }
    }

    fn refused(change: impl FnOnce(&mut Operation)) -> CaseError {
        let mut operation = operation();
        change(&mut operation);
        Case::new(operation, Thresholds::default()).unwrap_err()
    }

    #[test]
    fn the_block_spans_the_outer_line_angles_of_the_site() {
        let case = Case::new(operation(), Thresholds::default()).unwrap();
        assert_eq!(case.block().low, Spot::new(25.5, 2.0));
        assert_eq!(case.block().high, Spot::new(41.5, 8.0));
        let mesial: Vec<u8> = case.mesial_of_site().map(Tooth::number).collect();
        assert_eq!(mesial, [1, 2, 3]);
        assert_eq!(case.distal_of_site().count(), 2);
    }

    #[test]
    fn contradictions_are_refused() {
        assert_eq!(refused(|o| o.site.clear()), CaseError::NoSite);
        let twice = CaseError::Twice { tooth: tooth(5) };
        assert_eq!(refused(|o| o.site.push(tooth(5))), twice);
        assert_eq!(refused(|o| o.site.push(tooth(1))), CaseError::Midline);
        let gone = CaseError::SiteMissing { tooth: tooth(6) };
        assert_eq!(refused(|o| o.missing.push(tooth(6))), gone);
        let palate = refused(|o| o.aspect = Aspect::Palatal);
        assert_eq!(palate.to_string(), "the lower jaw has no palatal side");
        for (top_mm, bottom_mm) in [
            (f64::NAN, 8.0),
            (2.0, f64::NAN),
            (-1.0, 8.0),
            (8.0, 8.0),
            (2.0, f64::INFINITY),
        ] {
            let bone = refused(|o| o.bone = Bone { top_mm, bottom_mm });
            assert!(matches!(bone, CaseError::Bone { .. }));
        }
    }
}
