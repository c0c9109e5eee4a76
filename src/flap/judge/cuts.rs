//! Rules about where a cut begins, how it runs and where it ends.

use super::danger::by_facial_artery;
use super::{Ground, Judged, shown, tenths};
use crate::figure::teeth::{NeckPoint, Tooth};
use crate::flap::case::Aspect;
use crate::flap::design::Cut;
use crate::flap::form::EQUAL_MM;
use crate::flap::limit::Limit;
use crate::flap::measure::ReleaseFigures;

/// Releases begin at line angles; at papillae too where the deck says so.
pub(super) fn start(ground: &Ground<'_>) -> Option<Judged> {
    let papilla = ground.case.thresholds().papilla_start().is_some();
    let mut slips: Vec<String> = Vec::new();
    for (side, _) in ground.design.releases() {
        let end = ground.design.end(side);
        let tooth = end.tooth;
        match end.point {
            NeckPoint::MesialLine | NeckPoint::DistalLine => {}
            NeckPoint::MidFacial => slips.push(format!(
                "The {side} release begins over the middle of the root of {tooth}."
            )),
            NeckPoint::MesialPapilla | NeckPoint::DistalPapilla if papilla => {}
            NeckPoint::MesialPapilla | NeckPoint::DistalPapilla => slips.push(format!(
                "The {side} release begins at the papilla tip, the {} of {tooth}.",
                end.point.name()
            )),
        }
    }
    if !ground.design.has_release() {
        return None;
    }
    if slips.is_empty() {
        let where_ = if papilla {
            "A release begins at a line angle or a papilla."
        } else {
            "A release begins at a line angle."
        };
        return Some(Judged::new(true, where_));
    }
    slips.push("Begin at a line angle: a whole papilla comes or stays.".to_owned());
    Some(Judged::new(false, slips.join(" ")))
}

/// The teeth whose roots stand out: those that the case names, or else the canine.
fn eminences(ground: &Ground<'_>) -> Vec<Tooth> {
    let named = &ground.case.surroundings().eminences;
    if named.is_empty() {
        let canine = Tooth::new(3).filter(|&canine| ground.case.has(canine));
        canine.into_iter().collect()
    } else {
        named.clone()
    }
}

/// Whether a release begins over the middle of an eminence.
pub(super) fn starts_mid_eminence(ground: &Ground<'_>) -> bool {
    let eminences = eminences(ground);
    ground.design.releases().any(|(side, _)| {
        let end = ground.design.end(side);
        eminences.contains(&end.tooth) && end.point == NeckPoint::MidFacial
    })
}

/// Releases stay off the canine eminence, or off those that the case names.
pub(super) fn eminence(ground: &Ground<'_>) -> Option<Judged> {
    let row = ground.case.row();
    let gaps = eminences(ground).into_iter().filter_map(|tooth| {
        let gap = nearest(ground, row.along_mm(tooth, NeckPoint::MidFacial))?;
        Some((tooth, gap))
    });
    let (tooth, gap) = gaps.min_by(|a, b| a.1.total_cmp(&b.1))?;
    let least = ground.value(Limit::Eminence);
    let (middle, eminence) = if tooth.number() == 3 {
        ("the canine".to_owned(), "the canine eminence".to_owned())
    } else {
        (tooth.to_string(), format!("the eminence of {tooth}"))
    };
    let says = if gap > least {
        format!(
            "It passes {} mm from the middle of {middle}.",
            shown(gap, least)
        )
    } else {
        format!("It runs over {eminence}: thin bone and gum, recession and a scar.")
    };
    let judged = Judged::new(gap > least, says)
        .by(Limit::Eminence)
        .slack(gap - least);
    Some(Judged {
        asked: !ground.case.surroundings().eminences.is_empty(),
        ..judged
    })
}

/// Releases stay off the labial frenum.
pub(super) fn frenum(ground: &Ground<'_>) -> Option<Judged> {
    let gap = nearest(ground, 0.0)?;
    let least = ground.value(Limit::Frenum);
    let holds = gap >= least - EQUAL_MM;
    let says = if holds {
        format!("It stays {} mm from the midline.", shown(gap, least))
    } else {
        "It cuts the frenum.".to_owned()
    };
    Some(
        Judged::new(holds, says)
            .by(Limit::Frenum)
            .slack(gap - least),
    )
}

/// Releases end within the vestibule: below it by the lower molars lies the facial artery.
pub(super) fn vestibule(ground: &Ground<'_>) -> Option<Judged> {
    let limit = Limit::vestibule(ground.case.jaw());
    let most = ground.value(limit);
    let releases = buccal(ground)?;
    let deeper = |a: &&ReleaseFigures, b: &&ReleaseFigures| a.bottom_mm().total_cmp(&b.bottom_mm());
    let by_artery = releases
        .iter()
        .filter(|figures| by_facial_artery(ground, figures))
        .max_by(deeper);
    let too_deep = |figures: &&ReleaseFigures| figures.bottom_mm() > most + EQUAL_MM;
    let deepest = releases.iter().max_by(deeper)?;
    // What threatens the artery is told before what is merely too deep elsewhere.
    let (told, harmful) = match by_artery {
        Some(figures) if too_deep(&figures) || !too_deep(&deepest) => (figures, true),
        _ => (deepest, false),
    };
    let depth = told.bottom_mm();
    let holds = !too_deep(&told);
    let says = match (holds, harmful) {
        (true, _) => format!(
            "It ends {} mm from the necks, within the vestibule.",
            shown(depth, most)
        ),
        (false, true) => format!(
            "The {} release ends {} mm from the necks, past the depth of the vestibule at {most}; by the lower molars the facial artery lies there.",
            told.side,
            shown(depth, most)
        ),
        (false, false) => format!(
            "The {} release ends {} mm from the necks, past the depth of the vestibule at {most}.",
            told.side,
            shown(depth, most)
        ),
    };
    let judged = Judged::new(holds, says).by(limit).slack(depth - most);
    Some(Judged { harmful, ..judged })
}

/// Releases pass the mucogingival junction.
pub(super) fn junction(ground: &Ground<'_>) -> Option<Judged> {
    let limit = Limit::junction(ground.case.jaw());
    let least = ground.value(limit);
    let shallowest = buccal(ground)?
        .iter()
        .map(ReleaseFigures::bottom_mm)
        .reduce(f64::min)?;
    let holds = shallowest >= least - EQUAL_MM;
    let says = if holds {
        "It passes the mucogingival junction."
    } else {
        "It stops in attached gingiva: the flap will not lift freely."
    };
    Some(Judged::new(holds, says).by(limit).slack(shallowest - least))
}

/// A submarginal cut has attached gingiva on both sides of it. The palate is attached all over: no mucogingival junction
/// bounds it there.
pub(super) fn attached(ground: &Ground<'_>) -> Option<Judged> {
    let Cut::Submarginal { offset_mm } = ground.design.cut() else {
        return None;
    };
    if ground.case.aspect() == Aspect::Palatal {
        return Some(clear_of_sulcus(ground, offset_mm));
    }
    let junction = ground.value(Limit::junction(ground.case.jaw()));
    let width = junction - ground.value(Limit::Sulcus);
    let least_width = ground.value(Limit::Attached);
    // Each with what is left over; the first that falls short is told.
    let width_left = width - least_width;
    let offset_left = offset_mm - ground.value(Limit::Offset);
    let below_left = junction - offset_mm;
    if width_left < -EQUAL_MM {
        let says = format!(
            "Attached gingiva is {} mm wide; a cut inside it needs {least_width}.",
            shown(width, least_width)
        );
        return Some(
            Judged::new(false, says)
                .by(Limit::Attached)
                .slack(width_left),
        );
    }
    if offset_left < -EQUAL_MM {
        return Some(clear_of_sulcus(ground, offset_mm));
    }
    let holds = below_left > EQUAL_MM;
    let says = if holds {
        format!(
            "The cut runs {offset_mm} mm from the necks inside {} mm of attached gingiva.",
            tenths(width)
        )
    } else {
        format!(
            "The cut runs {offset_mm} mm from the necks, past the mucogingival junction at {junction}: too little attached gingiva is left below it."
        )
    };
    let slack = if holds {
        width_left.min(offset_left).min(below_left)
    } else {
        below_left
    };
    Some(
        Judged::new(holds, says)
            .by(Limit::junction(ground.case.jaw()))
            .slack(slack),
    )
}

/// A submarginal cut stays clear of the sulcus.
fn clear_of_sulcus(ground: &Ground<'_>, offset_mm: f64) -> Judged {
    let least = ground.value(Limit::Offset);
    let holds = offset_mm >= least - EQUAL_MM;
    let stands = format!("The cut runs {} mm from the necks", shown(offset_mm, least));
    let says = if holds {
        format!("{stands}, clear of the sulcus.")
    } else {
        format!("{stands}: keep {least}, clear of the sulcus.")
    };
    Judged::new(holds, says)
        .by(Limit::Offset)
        .slack(offset_mm - least)
}

/// The releases of a buccal flap, if there are any.
fn buccal<'a>(ground: &'a Ground<'_>) -> Option<&'a [ReleaseFigures]> {
    let releases = ground.figures.releases.as_slice();
    (ground.case.aspect() == Aspect::Buccal && !releases.is_empty()).then_some(releases)
}

/// Least gap between the releases of a buccal flap and a place along the row, mm.
fn nearest(ground: &Ground<'_>, along_mm: f64) -> Option<f64> {
    buccal(ground)?
        .iter()
        .map(|figures| figures.cut.gap_to_mm(along_mm))
        .reduce(f64::min)
}
