//! Rules about what a flap lays open: enough teeth, deep enough, and its edges over bone that stays.

use super::{Ground, Judged, shown};
use crate::figure::teeth::{Jaw, Tooth};
use crate::flap::form::EQUAL_MM;
use crate::flap::limit::{Limit, Unit};

/// Enough whole teeth beyond the site on both sides.
pub(super) fn reach(ground: &Ground<'_>) -> Judged {
    let (case, design) = (ground.case, ground.design);
    let released = design.has_release();
    let (mesial, distal) = if released {
        (Limit::ReleasedMesial, Limit::ReleasedDistal)
    } else {
        (Limit::EnvelopeMesial, Limit::EnvelopeDistal)
    };
    let mesially = Need::new(
        ground,
        mesial,
        "mesial",
        ground.figures.mesial_teeth,
        case.mesial_of_site().count(),
    );
    let distally = Need::new(
        ground,
        distal,
        "distal",
        ground.figures.distal_teeth,
        case.distal_of_site().count(),
    );
    let (first, last) = ground.figures.ends_mm;
    let block = case.block();
    let in_front = first <= block.low.along_mm + EQUAL_MM;
    let behind = last >= block.high.along_mm - EQUAL_MM;
    let limb = limb_serves(ground);
    let third_molar = case.jaw() == Jaw::Lower && case.site().iter().any(|site| site.number() == 8);

    let mut short: Vec<String> = Vec::new();
    if !in_front {
        short.push("The margin begins behind the front of the site.".to_owned());
    } else if !mesially.met() {
        short.push(mesially.short(released));
    }
    match limb {
        None if third_molar => short
            .push("A lower third molar needs a cut up the ramus: add a distal limb.".to_owned()),
        Some(Err(tooth)) if !behind || third_molar => short.push(format!(
            "The limb starts in front of {tooth}: carry the cut along that tooth first."
        )),
        Some(Ok(())) => {}
        _ if !behind => short.push("The margin ends before the back of the site.".to_owned()),
        _ if !distally.met() => short.push(distally.short(released)),
        _ => {}
    }
    let says = if short.is_empty() {
        format!(
            "Whole teeth freed: {} mesial of the site, {} distal{}.",
            alone(mesially.have),
            alone(distally.have),
            if limb == Some(Ok(())) {
                ", where the limb serves"
            } else {
                ""
            }
        )
    } else {
        short.join(" ")
    };
    let worse = if mesially.met() && !distally.met() {
        distally
    } else {
        mesially
    };
    Judged::new(short.is_empty(), says)
        .figures(Unit::Teeth, f64::from(worse.have), worse.want)
        .by(worse.limit)
}

/// Whole teeth wanted on one side of the site.
struct Need {
    limit: Limit,
    word: &'static str,
    have: u8,
    want: f64,
}

impl Need {
    /// Never more than stand there.
    fn new(ground: &Ground<'_>, limit: Limit, word: &'static str, have: u8, exist: usize) -> Self {
        let exist = f64::from(u8::try_from(exist).unwrap_or(u8::MAX));
        Self {
            limit,
            word,
            have,
            want: ground.value(limit).min(exist),
        }
    }

    fn met(&self) -> bool {
        f64::from(self.have) >= self.want
    }

    fn short(&self, released: bool) -> String {
        let Self {
            word, have, want, ..
        } = self;
        let teeth = if *have == 1 { "tooth" } else { "teeth" };
        let flap = if released {
            "a flap with a release"
        } else {
            "an envelope"
        };
        let want = (0..=7).find(|&count| f64::from(count) >= *want);
        format!(
            "The margin frees {} whole {teeth} {word} of the site; {flap} needs {}.",
            number(*have),
            number(want.unwrap_or(7))
        )
    }
}

/// Whether a limb does the work of teeth distal of the site; if not, the standing tooth that it would cut off.
fn limb_serves(ground: &Ground<'_>) -> Option<Result<(), Tooth>> {
    ground.design.limb()?;
    let (case, last) = (ground.case, ground.figures.ends_mm.1);
    let beyond = Tooth::all()
        .filter(|&tooth| case.has(tooth) && !case.site().contains(&tooth))
        .find(|&tooth| case.row().neck_mm(tooth).1 > last + EQUAL_MM);
    Some(beyond.map_or(Ok(()), Err))
}

fn number(count: u8) -> String {
    let words = ["no", "one", "two", "three", "four", "five", "six", "seven"];
    words
        .get(usize::from(count))
        .map_or_else(|| count.to_string(), |&word| word.to_owned())
}

/// A count without its noun.
fn alone(count: u8) -> String {
    if count == 0 {
        "none".to_owned()
    } else {
        number(count)
    }
}

/// Deep enough for the bone to be removed.
pub(super) fn cover(ground: &Ground<'_>) -> Judged {
    let bottom = ground.case.bone().bottom_mm;
    let depth = ground.design.cut().offset_mm() + ground.figures.length_mm;
    if !ground.design.has_release() {
        return Judged::new(
            true,
            format!("Without a release it is raised as far as the bone asks, {bottom} mm."),
        )
        .figures(Unit::Mm, depth, bottom);
    }
    let holds = depth >= bottom - EQUAL_MM;
    let which = if ground.figures.releases.len() > 1 {
        "The deeper release"
    } else {
        "The release"
    };
    let says = format!(
        "{which} ends {} mm from the necks, the bone to be removed reaches {bottom}.",
        shown(depth, bottom)
    );
    Judged::new(holds, says)
        .figures(Unit::Mm, depth, bottom)
        .slack(depth - bottom)
}
