//! Rules about the kind of flap: whether it serves what the case is for.

use super::{Ground, Judged, shown};
use crate::figure::teeth::{self, Jaw};
use crate::flap::case::Aspect;
use crate::flap::design::Cut;
use crate::flap::form::EQUAL_MM;
use crate::flap::limit::Limit;

/// A cheek flap without a release gives too little room where bone goes as far as a root end. By the lower premolars it
/// is preferred all the same, for the mental nerve; a limb up the ramus opens what a release would.
pub(super) fn access(ground: &Ground<'_>) -> Option<Judged> {
    let case = ground.case;
    let site = case.site();
    let by_nerve =
        case.jaw() == Jaw::Lower && site.iter().any(|site| [4, 5].contains(&site.number()));
    if case.aspect() != Aspect::Buccal || by_nerve || ground.design.limb().is_some() {
        return None;
    }
    // The mean root of a third molar says little of the one in the jaw.
    let (tooth, root) = site
        .iter()
        .filter(|tooth| tooth.number() != 8)
        .map(|&tooth| (tooth, teeth::means(case.jaw(), tooth).root_mm))
        .min_by(|a, b| a.1.total_cmp(&b.1))?;
    let (bottom, most) = (case.bone().bottom_mm, root - ground.value(Limit::RootEnd));
    let at_root_end = bottom > most + EQUAL_MM;
    let released = ground.design.has_release();
    if released && !at_root_end {
        return None;
    }
    let root_end = format!("the root end of {tooth} lies at {root}");
    let depth = shown(bottom, most);
    let says = match (at_root_end, released) {
        (false, _) => {
            format!("Bone goes to {depth} mm and {root_end}: that much an envelope opens.")
        }
        (true, true) => {
            format!(
                "Bone goes to {depth} mm and {root_end}: the release opens what an envelope would not."
            )
        }
        (true, false) => format!(
            "Bone goes to {depth} mm and {root_end}: without a release the flap gives little access to it. Add one."
        ),
    };
    let judged = Judged::new(released || !at_root_end, says).by(Limit::RootEnd);
    Some(if released {
        judged
    } else {
        judged.slack(most - bottom)
    })
}

/// Where margin and papillae are to be spared, the cut runs in attached gingiva.
pub(super) fn margin(ground: &Ground<'_>) -> Option<Judged> {
    if !ground.case.surroundings().spares_margin {
        return None;
    }
    Some(match ground.design.cut() {
        Cut::Submarginal { offset_mm } => Judged::new(
            true,
            format!(
                "The cut runs {offset_mm} mm from the necks: margin and papillae stay as they are."
            ),
        ),
        Cut::Sulcular => Judged::new(
            false,
            "A cut in the sulcus lifts margin and papillae, which are to be spared here: cut inside attached gingiva.",
        ),
    })
}
