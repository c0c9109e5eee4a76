//! Rules about what a flap lays open: enough teeth, deep enough, and its edges over bone that stays.

use super::{Ground, Judged, shown};
use crate::figure::teeth::Tooth;
use crate::flap::form::EQUAL_MM;
use crate::flap::limit::Limit;
use crate::flap::rule::Rule;

/// Enough whole teeth beyond the site on both sides; behind a lower third molar stands none, and a limb takes their
/// place.
pub(super) fn reach(ground: &Ground<'_>) -> Judged {
    let (case, released) = (ground.case, ground.design.has_release());
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
    let third_molar = case.has_ramus() && case.site().contains(&Tooth::LAST);

    let mut short: Vec<Judged> = Vec::new();
    let mut to_spare_mm = None;
    if first > block.low.along_mm + EQUAL_MM {
        let says = "The margin begins behind the front of the site.";
        short.push(Judged::new(false, says));
    } else if !mesially.met() {
        short.push(mesially.short(released));
    }
    if third_molar {
        match limb(ground) {
            Ok(mm) => to_spare_mm = Some(mm),
            Err(fault) => short.push(fault),
        }
    } else if last < block.high.along_mm - EQUAL_MM {
        let says = "The margin ends before the back of the site.";
        short.push(Judged::new(false, says));
    } else if !distally.met() {
        short.push(distally.short(released));
    }
    if short.is_empty() {
        let limb = if third_molar {
            ", where the limb serves"
        } else {
            ""
        };
        let says = format!(
            "Whole teeth freed: {} mesial of the site, {} distal{limb}.",
            alone(mesially.have),
            alone(distally.have),
        );
        let judged = mesially.judged(true, says);
        return match to_spare_mm {
            Some(mm) => judged.slack(mm),
            None => judged,
        };
    }
    together(short)
}

/// Several faults as one. Cited is what decided in the first that rests on more than the rule; no shift of one length
/// mends two.
fn together(faults: Vec<Judged>) -> Judged {
    let says: Vec<&str> = faults.iter().map(|fault| fault.says.as_str()).collect();
    let says = says.join(" ");
    let alone = faults.len() == 1;
    let cited = faults
        .iter()
        .position(|fault| fault.limit.is_some() || fault.basis.is_some());
    let cited = faults.into_iter().nth(cited.unwrap_or_default());
    let cited = cited.unwrap_or_else(|| Judged::new(false, ""));
    Judged {
        slack_mm: cited.slack_mm.filter(|_| alone),
        says,
        ..cited
    }
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

    fn judged(&self, holds: bool, says: String) -> Judged {
        Judged::new(holds, says).by(self.limit)
    }

    fn short(&self, released: bool) -> Judged {
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
        let says = format!(
            "The margin frees {} whole {teeth} {word} of the site; {flap} needs {}.",
            number(*have),
            number(want.unwrap_or(7))
        );
        self.judged(false, says)
    }
}

/// Whether a limb lays open what lies behind the second molar: it starts behind every standing tooth, the third molar
/// alone left out, is long enough to be a cut up the ramus, and reaches the third molar. If so, how far it is from
/// doing so no more, mm.
fn limb(ground: &Ground<'_>) -> Result<f64, Judged> {
    let fault = |says: String| Judged::new(false, says).resting_on(Rule::Limb.basis());
    let Some(limb) = ground.design.limb() else {
        let says = "A lower third molar needs a cut up the ramus: add a distal limb.";
        return Err(fault(says.to_owned()));
    };
    let (case, behind) = (ground.case, ground.figures.ends_mm.1);
    let cut_off = Tooth::all()
        .filter(|&tooth| tooth != Tooth::LAST && case.has(tooth))
        .find(|&tooth| case.row().neck_mm(tooth).1 > behind + EQUAL_MM);
    if let Some(tooth) = cut_off {
        return Err(fault(format!(
            "The limb starts in front of {tooth}: carry the cut along that tooth first."
        )));
    }
    let (length, least) = (limb.length_mm, ground.value(Limit::LimbLength));
    if length < least - EQUAL_MM {
        let says = format!(
            "The limb is {} mm long; a cut up the ramus needs {least}.",
            shown(length, least)
        );
        return Err(fault(says).by(Limit::LimbLength).slack(length - least));
    }
    let (end, bone) = (behind + limb.reach_mm(), case.row().neck_mm(Tooth::LAST).0);
    if end < bone - EQUAL_MM {
        let says = format!(
            "The limb ends {} mm in front of the third molar: carry the cut back along the crest first, or make the limb longer.",
            shown(bone - end, 0.0)
        );
        return Err(fault(says).slack(bone - end));
    }
    Ok((length - least).min(end - bone))
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
    let offset = ground.design.cut().offset_mm();
    if offset > bottom + EQUAL_MM {
        let says = format!(
            "The cut runs {} mm from the necks, past the bone to be removed, which reaches {bottom} and stays covered.",
            shown(offset, bottom)
        );
        return Judged::new(false, says).slack(offset - bottom);
    }
    let depth = offset + ground.figures.length_mm;
    if !ground.design.has_release() {
        return Judged::new(
            true,
            format!("Without a release it is raised as far as the bone asks, {bottom} mm."),
        );
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
    Judged::new(holds, says).slack(depth - bottom)
}
