//! What a case says beyond the operation: bone lost already, roots that stand out, gingiva to work in or to spare.

use super::case::{Aspect, Bone, Case, CaseError, DEEPEST_BONE_MM, repeated};
use super::geometry::Block;
use super::limit::Limit;
use crate::figure::teeth::Tooth;

/// Widest attached gingiva that a case may speak of, mm.
pub const WIDEST_ATTACHED_MM: f64 = 15.0;

/// What stands in a threshold's source where the case itself gives the value.
const BY_CASE: &str = "as this case states";

/// What was found around the site; nothing unless a case says so.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Surroundings {
    /// Bone that is gone over a root on this side: a dehiscence, a fenestration, a cavity.
    pub defects: Vec<Defect>,
    /// Teeth whose roots stand out under thin bone. Named here they decide; unnamed, the canine earns a remark.
    pub eminences: Vec<Tooth>,
    /// Width of the attached gingiva as measured in this patient, mm.
    pub attached_mm: Option<f64>,
    /// Whether gingival margin and papillae are to be left alone.
    pub spares_margin: bool,
}

/// Bone that is gone over a root, from neck corner to neck corner of its tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Defect {
    /// Over which root.
    pub tooth: Tooth,
    /// From where to where.
    pub bone: Bone,
}

impl Case {
    /// The case with what was found around the site.
    ///
    /// # Errors
    /// A [`CaseError`] if a finding is impossible or belongs to a tooth that is gone.
    pub fn around(mut self, surroundings: Surroundings) -> Result<Self, CaseError> {
        let Surroundings {
            defects, eminences, ..
        } = &surroundings;
        let over: Vec<Tooth> = defects.iter().map(|defect| defect.tooth).collect();
        for teeth in [&over, eminences] {
            if let Some(tooth) = repeated(teeth) {
                return Err(CaseError::Twice { tooth });
            }
            if let Some(&tooth) = teeth.iter().find(|&&tooth| !self.has(tooth)) {
                return Err(CaseError::FindingMissing { tooth });
            }
        }
        for Defect { bone, .. } in defects {
            bone.check()?;
        }
        if let Some(attached_mm) = surroundings.attached_mm {
            if !(0.0..=WIDEST_ATTACHED_MM).contains(&attached_mm) {
                return Err(CaseError::Attached { attached_mm });
            }
            if self.aspect() == Aspect::Palatal {
                return Err(CaseError::AttachedPalate);
            }
            // To a nanometre, since a reveal prints the sum.
            let junction = attached_mm + self.thresholds().value(Limit::Sulcus);
            let junction = (junction * 1e6).round() / 1e6;
            let limit = Limit::junction(self.jaw());
            self.thresholds_mut().set(limit, junction, BY_CASE)?;
        }
        self.set_surroundings(surroundings);
        Ok(self)
    }

    /// Bone that is gone, as a block on the row.
    #[must_use]
    pub fn defect_block(&self, defect: &Defect) -> Block {
        self.block_over(defect.tooth, defect.tooth, defect.bone)
    }
}

impl Bone {
    /// Whether it reaches from one depth to a greater one.
    pub(super) fn check(self) -> Result<(), CaseError> {
        let Self { top_mm, bottom_mm } = self;
        if 0.0 <= top_mm && top_mm < bottom_mm && bottom_mm <= DEEPEST_BONE_MM {
            Ok(())
        } else {
            Err(CaseError::Bone { top_mm, bottom_mm })
        }
    }
}
