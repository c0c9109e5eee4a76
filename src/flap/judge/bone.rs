//! Rules about what lies under a cut: bone that stays, so that the closed edge does not hang over a hole.

use super::{Ground, Judged, shown};
use crate::flap::form::EQUAL_MM;
use crate::flap::limit::Limit;
use crate::flap::measure::Part;

/// Cuts lie over bone that stays.
pub(super) fn sound(ground: &Ground<'_>) -> Option<Judged> {
    let (part, distance) = ground.figures.to_bone?;
    Some(clear(ground, part, distance, "the bone you will remove"))
}

/// Cuts stay off bone that is gone already.
pub(super) fn defect(ground: &Ground<'_>) -> Option<Judged> {
    let (tooth, part, distance) = ground.figures.to_defect?;
    let what = format!("the bone lost over {tooth}");
    Some(clear(ground, part, distance, &what))
}

fn clear(ground: &Ground<'_>, part: Part, distance: f64, what: &str) -> Judged {
    let least = ground.value(Limit::Bone);
    let holds = distance >= least - EQUAL_MM;
    let cut = match part {
        Part::Release(side) => format!("The {side} release"),
        Part::Submarginal => "The submarginal cut".to_owned(),
    };
    let says = if holds {
        format!("{cut} runs {} mm from {what}.", shown(distance, least))
    } else if distance <= 0.0 {
        format!("{cut} runs over {what}; keep {least} mm away, or the edge falls into the hole.")
    } else {
        format!(
            "{cut} runs {} mm from {what}; keep {least}, or the edge falls into the hole.",
            shown(distance, least)
        )
    };
    Judged::new(holds, says)
        .by(Limit::Bone)
        .slack(distance - least)
}
