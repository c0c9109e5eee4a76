//! Rules that keep nerves and vessels from harm. No deck can make them mere remarks.

use super::{Ground, Judged, shown};
use crate::figure::teeth::{Jaw, NeckPoint, Tooth};
use crate::flap::case::Aspect;
use crate::flap::form::EQUAL_MM;
use crate::flap::limit::Limit;
use crate::flap::measure::ReleaseFigures;

/// Clear of the mental nerve where it leaves the bone.
pub(super) fn mental(ground: &Ground<'_>) -> Option<Judged> {
    let gap = ground.figures.to_foramen_mm?;
    let least = ground.value(Limit::Mental);
    let holds = gap >= least - EQUAL_MM;
    let says = if holds {
        format!(
            "The release passes {} mm from the mental foramen along the arch.",
            shown(gap, least)
        )
    } else if gap <= 0.0 {
        "The release runs over the mental foramen. Go to the front of 4 or behind 6.".to_owned()
    } else {
        format!(
            "The release passes {} mm from the mental foramen along the arch; keep {least}. Go to the front of 4 or behind 6.",
            shown(gap, least)
        )
    };
    Some(
        Judged::new(holds, says)
            .by(Limit::Mental)
            .slack(gap - least),
    )
}

/// Clear of the infraorbital nerve where it leaves the bone.
pub(super) fn infraorbital(ground: &Ground<'_>) -> Option<Judged> {
    let distance = ground.figures.to_infraorbital_mm?;
    let least = ground.value(Limit::Infraorbital);
    let holds = distance >= least - EQUAL_MM;
    let stands = format!(
        "The release stays {} mm from the infraorbital foramen",
        shown(distance, least)
    );
    let says = if holds {
        format!("{stands}.")
    } else {
        format!("{stands}; keep {least}. End it lower: cheek and upper lip are numbed there.")
    };
    Some(
        Judged::new(holds, says)
            .by(Limit::Infraorbital)
            .slack(distance - least),
    )
}

/// On the palate only a short release between canine and first premolar.
pub(super) fn palate(ground: &Ground<'_>) -> Option<Judged> {
    if ground.case.aspect() != Aspect::Palatal {
        return None;
    }
    let most = ground.value(Limit::Palate);
    let low = place(ground, 3, NeckPoint::DistalLine)?;
    let high = place(ground, 4, NeckPoint::MesialLine)?;
    let between = |figures: &&ReleaseFigures| {
        let start = figures.cut.from.along_mm;
        (low - EQUAL_MM..=high + EQUAL_MM).contains(&start)
    };
    let releases = &ground.figures.releases;
    let longest = releases
        .iter()
        .map(|figures| figures.release.length_mm)
        .reduce(f64::max)?;
    if !releases.iter().all(|figures| between(&figures)) {
        let says = "A release on the palate here cuts the greater palatine vessels. Envelope, or a short cut between canine and first premolar.";
        return Some(Judged::new(false, says));
    }
    let holds = longest <= most + EQUAL_MM;
    let says = if holds {
        format!(
            "The release between canine and first premolar is {} mm long.",
            shown(longest, most)
        )
    } else {
        format!(
            "The release on the palate is {} mm long; past {most} it nears the greater palatine vessels.",
            shown(longest, most)
        )
    };
    Some(
        Judged::new(holds, says)
            .by(Limit::Palate)
            .slack(longest - most),
    )
}

/// No release by the molars on the tongue side.
pub(super) fn lingual(ground: &Ground<'_>) -> Option<Judged> {
    if ground.case.aspect() != Aspect::Lingual {
        return None;
    }
    let most = place(ground, 5, NeckPoint::DistalLine)?;
    let farthest = ground
        .figures
        .releases
        .iter()
        .map(|figures| figures.cut.reach_mm().1)
        .reduce(f64::max)?;
    let holds = farthest <= most + EQUAL_MM;
    let says = if holds {
        "The lingual release stays mesial of the molars."
    } else {
        "A lingual release by the molars can cut the lingual nerve: the tongue may stay numb."
    };
    Some(Judged::new(holds, says).slack(farthest - most))
}

/// The distal limb turns buccally, over the flaring ramus.
pub(super) fn limb(ground: &Ground<'_>) -> Option<Judged> {
    let turn = ground.design.limb()?.buccal_deg;
    let least = ground.value(Limit::LimbTurn);
    let holds = turn >= least - EQUAL_MM;
    let says = if holds {
        format!("The limb turns {turn} degrees to the buccal, over the ramus.")
    } else if turn < 0.0 {
        "The limb turns lingually, toward the lingual nerve: the ramus flares outward, so turn buccally."
            .to_owned()
    } else if turn > 0.0 {
        format!(
            "The limb turns {turn} degrees to the buccal; less than {least} leaves the bone and nears the lingual nerve."
        )
    } else {
        "Straight back leaves the bone and nears the lingual nerve: the ramus flares outward, so turn buccally."
            .to_owned()
    };
    Some(Judged::new(holds, says).by(Limit::LimbTurn))
}

/// Along the lower molars 6 and 7 the facial artery crosses the border of the jaw below the vestibule.
pub(super) fn by_facial_artery(ground: &Ground<'_>, figures: &ReleaseFigures) -> bool {
    let crowns = (
        place(ground, 6, NeckPoint::MesialPapilla),
        place(ground, 7, NeckPoint::DistalPapilla),
    );
    let (Jaw::Lower, (Some(first), Some(last))) = (ground.case.jaw(), crowns) else {
        return false;
    };
    let (low, high) = figures.cut.reach_mm();
    low < last - EQUAL_MM && first + EQUAL_MM < high
}

/// Where a point lies along the row, mm.
fn place(ground: &Ground<'_>, number: u8, point: NeckPoint) -> Option<f64> {
    Some(ground.case.row().along_mm(Tooth::new(number)?, point))
}
