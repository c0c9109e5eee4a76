//! Rules about the outline: a flap lives on what enters through its base.

use super::{Ground, Judged, shown, tenths};
use crate::flap::form::EQUAL_MM;
use crate::flap::limit::Limit;

/// The base is at least as wide as the free margin.
pub(super) fn base(ground: &Ground<'_>) -> Judged {
    let (base, margin) = (ground.figures.base_mm, ground.figures.margin_mm);
    let holds = base >= margin - EQUAL_MM;
    let says = if holds {
        format!(
            "The base is {} mm, the margin {}.",
            tenths(base),
            tenths(margin)
        )
    } else if base <= 0.0 {
        "The sides meet before they end: the edge has no base to live on. Slant the releases away from the flap."
            .to_owned()
    } else {
        format!(
            "The base is {} mm, the margin {}: the edge hangs on a stalk narrower than itself. Slant the release away from the flap.",
            shown(base, margin),
            tenths(margin)
        )
    };
    let judged = Judged::new(holds, says);
    // While no release leans in, base and margin cannot change places, whatever the widths of the teeth.
    if leans_in(ground, 0.0) {
        judged.slack(base - margin)
    } else {
        judged
    }
}

/// No release leans in.
pub(super) fn sides(ground: &Ground<'_>) -> Option<Judged> {
    let least = ground.value(Limit::Spread);
    let (side, release) = ground
        .design
        .releases()
        .min_by(|(_, a), (_, b)| a.spread_deg.total_cmp(&b.spread_deg))?;
    let spread = release.spread_deg;
    let holds = !leans_in(ground, least);
    let says = if holds {
        "The sides run parallel or spread to the base.".to_owned()
    } else if spread < 0.0 {
        format!(
            "The {side} release leans in as it runs apically; sides run parallel or spread to the base."
        )
    } else {
        format!("The {side} release spreads by {spread} degrees; {least} are asked.")
    };
    Some(Judged::new(holds, says).by(Limit::Spread))
}

/// Not more than twice as long as the base is wide.
pub(super) fn length(ground: &Ground<'_>) -> Judged {
    slenderness(ground, Limit::LengthPerBase, |times| {
        format!(
            "more than {} as long as wide, the tip lies too far from its blood",
            times_in_words(times)
        )
    })
}

/// Better not longer than the base is wide.
pub(super) fn breadth(ground: &Ground<'_>) -> Judged {
    slenderness(ground, Limit::BreadthPerBase, |_| {
        "a broader base feeds the edge better".to_owned()
    })
}

fn slenderness(ground: &Ground<'_>, limit: Limit, why: impl Fn(f64) -> String) -> Judged {
    let times = ground.value(limit);
    let (length, base) = (ground.figures.length_mm, ground.figures.base_mm);
    let most = times * base;
    let holds = length <= most + EQUAL_MM;
    let stands = format!(
        "{} mm long on a base of {} mm",
        shown(length, most),
        tenths(base)
    );
    let says = if holds {
        format!("{stands}.")
    } else {
        format!("{stands}: {}.", why(times))
    };
    Judged::new(holds, says).by(limit).slack(most - length)
}

fn times_in_words(times: f64) -> String {
    if (times - 2.0).abs() < EQUAL_MM {
        "twice".to_owned()
    } else {
        format!("{times} times")
    }
}

fn leans_in(ground: &Ground<'_>, least_deg: f64) -> bool {
    ground
        .design
        .releases()
        .any(|(_, release)| release.spread_deg < least_deg)
}
