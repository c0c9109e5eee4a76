//! A design in words: what a candidate types answer by answer, and what is read back.

use super::case::{Aspect, Bone, Case};
use super::design::{Cut, Design, End, EndSide, Limb, Release};
use super::judge::tenths;
use super::measure::Figures;
use super::surroundings::Defect;
use super::text::{number, read_end};
use crate::figure::teeth::{Jaw, NeckPoint, Tooth};
use crate::words::capital;
use thiserror::Error;

/// Why what was typed is no answer.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum WordsError {
    /// Not a tooth and a point.
    #[error("give a tooth from 1 to 8 and a point, mp, ml, mf, dl or dp, such as `4 ml`")]
    End,
    /// Not a length and a slant, nor `none`.
    #[error(
        "give length in mm and slant in degrees away from the flap, such as `10 20`, or `none`"
    )]
    Release,
    /// Not a length and a turn, nor `none`.
    #[error("give length in mm and degrees to the buccal, such as `10 45`, or `none`")]
    Limb,
    /// Not a distance, nor `sulcular`.
    #[error("give `sulcular`, or the distance from the necks in mm, such as `2`")]
    Cut,
}

/// Reads an end as typed: `4 ml`, `4ml`, `4 ML`, `4 mesial line angle`.
///
/// # Errors
/// [`WordsError::End`] for anything else.
pub fn read_typed_end(typed: &str) -> Result<(Tooth, NeckPoint), WordsError> {
    let typed = typed.trim().to_lowercase();
    let mut letters = typed.chars();
    let tooth = letters.next();
    let rest = letters.as_str().trim();
    let named = NeckPoint::ALL
        .into_iter()
        .find(|point| point.name() == rest);
    let short = match named {
        Some(point) => point.short(),
        None => rest,
    };
    tooth
        .and_then(|tooth| read_end(&format!("{tooth}{short}")))
        .ok_or(WordsError::End)
}

/// Reads a release as typed: `10 20`, or `none`.
///
/// # Errors
/// [`WordsError::Release`] for anything else. Sizes out of bounds are found when the design is made.
pub fn read_typed_release(typed: &str) -> Result<Option<Release>, WordsError> {
    let sizes = two_or_none(typed, WordsError::Release)?;
    Ok(sizes.map(|(length_mm, spread_deg)| Release {
        length_mm,
        spread_deg,
    }))
}

/// Reads a distal limb as typed: `10 45`, or `none`.
///
/// # Errors
/// [`WordsError::Limb`] for anything else. Sizes out of bounds are found when the design is made.
pub fn read_typed_limb(typed: &str) -> Result<Option<Limb>, WordsError> {
    let sizes = two_or_none(typed, WordsError::Limb)?;
    Ok(sizes.map(|(length_mm, buccal_deg)| Limb {
        length_mm,
        buccal_deg,
    }))
}

/// Reads how the cut runs as typed: `sulcular`, or a distance from the necks in mm.
///
/// # Errors
/// [`WordsError::Cut`] for anything else. A distance out of bounds is found when the design is made.
pub fn read_typed_cut(typed: &str) -> Result<Cut, WordsError> {
    let typed = typed.trim();
    if typed.eq_ignore_ascii_case("sulcular") {
        return Ok(Cut::Sulcular);
    }
    let offset_mm = number(typed).ok_or(WordsError::Cut)?;
    Ok(Cut::Submarginal { offset_mm })
}

/// An end as it would be typed.
#[must_use]
pub fn typed_end(end: End) -> String {
    format!("{} {}", end.tooth, end.point.short())
}

/// A release as it would be typed.
#[must_use]
pub fn typed_release(release: Option<Release>) -> String {
    typed_pair(release.map(|release| (release.length_mm, release.spread_deg)))
}

/// A limb as it would be typed.
#[must_use]
pub fn typed_limb(limb: Option<Limb>) -> String {
    typed_pair(limb.map(|limb| (limb.length_mm, limb.buccal_deg)))
}

/// A cut as it would be typed.
#[must_use]
pub fn typed_cut(cut: Cut) -> String {
    match cut {
        Cut::Sulcular => "sulcular".to_owned(),
        Cut::Submarginal { offset_mm } => offset_mm.to_string(),
    }
}

/// One end in words: `mesial line angle of 4, release 10 mm slanting 20 degrees forward`.
#[must_use]
pub fn describe_end(side: EndSide, end: End) -> String {
    let place = format!("{} of {}", end.point.name(), end.tooth);
    let Some(Release {
        length_mm,
        spread_deg,
    }) = end.release
    else {
        return format!("{place}, no release");
    };
    let forward = (side == EndSide::Mesial) == (spread_deg > 0.0);
    let slant = if spread_deg == 0.0 {
        "straight".to_owned()
    } else {
        format!(
            "slanting {} degrees {}",
            spread_deg.abs(),
            if forward { "forward" } else { "backward" }
        )
    };
    format!("{place}, release {length_mm} mm {slant}")
}

/// A whole design in words.
#[must_use]
pub fn describe(design: &Design) -> String {
    let [mesial, distal] = EndSide::BOTH.map(|side| describe_end(side, design.end(side)));
    let limb = design.limb().map(|limb| {
        let (length, turn) = (limb.length_mm, limb.buccal_deg);
        let to = if turn > 0.0 { "buccal" } else { "lingual" };
        if turn == 0.0 {
            format!("distal limb {length} mm straight back")
        } else {
            format!(
                "distal limb {length} mm turning {} degrees to the {to}",
                turn.abs()
            )
        }
    });
    let cut = match design.cut() {
        Cut::Sulcular => None,
        Cut::Submarginal { offset_mm } => {
            Some(format!("submarginal, {offset_mm} mm from the necks"))
        }
    };
    let parts = [Some(mesial), Some(format!("to the {distal}")), limb, cut];
    parts.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// A case in words: where, what is to be reached, what bone is to go, what is missing and what else was found.
#[must_use]
pub fn describe_case(case: &Case) -> String {
    let (jaw, side) = (case.jaw().word(), case.quadrant().word());
    let from = match case.aspect() {
        Aspect::Buccal => "from the cheek side",
        Aspect::Palatal => "from the palate",
        Aspect::Lingual => "from the tongue side",
    };
    let listed = |teeth: &mut dyn Iterator<Item = Tooth>| -> String {
        let mut names: Vec<String> = teeth.map(|tooth| tooth.to_string()).collect();
        let last = names.pop().unwrap_or_default();
        if names.is_empty() {
            last
        } else {
            format!("{} and {last}", names.join(", "))
        }
    };
    let apical = match case.jaw() {
        Jaw::Upper => "above",
        Jaw::Lower => "below",
    };
    let teeth = |count: usize| if count == 1 { "tooth" } else { "teeth" };
    let reached = format!(
        "Site: {} {}.",
        teeth(case.site().len()),
        listed(&mut case.site().iter().copied())
    );
    let bone = format!(
        "Bone to be removed: {} to {} mm {apical} the neck.",
        case.bone().top_mm,
        case.bone().bottom_mm
    );
    let missing: Vec<Tooth> = Tooth::all().filter(|&tooth| !case.has(tooth)).collect();
    let named = |what: &str, which: &[Tooth]| {
        let (teeth, which) = (teeth(which.len()), listed(&mut which.iter().copied()));
        format!("{what} {teeth} {which}.")
    };
    let around = case.surroundings();
    let defects = around.defects.iter().map(|Defect { tooth, bone }| {
        let Bone { top_mm, bottom_mm } = bone;
        format!("Bone lost over {tooth}: {top_mm} to {bottom_mm} mm {apical} the neck.")
    });
    let optional = [
        (!missing.is_empty()).then(|| named("Missing:", &missing)),
        (!around.eminences.is_empty())
            .then(|| named("Roots that stand out under thin bone:", &around.eminences)),
        around
            .attached_mm
            .map(|mm| format!("Attached gingiva: {mm} mm wide.")),
        around
            .spares_margin
            .then(|| "Gingival margin and papillae are to be left alone.".to_owned()),
    ];
    let place = format!("{} {side}, {from}.", capital(jaw));
    let sentences = [place, reached, bone].into_iter();
    let all: Vec<String> = sentences
        .chain(optional.into_iter().flatten())
        .chain(defects)
        .collect();
    all.join(" ")
}

/// What a design measures, in one line: no verdict.
#[must_use]
pub fn measures(figures: &Figures) -> String {
    format!(
        "Margin {} mm, base {} mm, length {} mm.",
        tenths(figures.margin_mm),
        tenths(figures.base_mm),
        tenths(figures.length_mm)
    )
}

fn two_or_none(typed: &str, error: WordsError) -> Result<Option<(f64, f64)>, WordsError> {
    let words: Vec<&str> = typed.split_whitespace().collect();
    match words.as_slice() {
        [none] if none.eq_ignore_ascii_case("none") => Ok(None),
        [first, second] => match (number(first), number(second)) {
            (Some(first), Some(second)) => Ok(Some((first, second))),
            _ => Err(error),
        },
        _ => Err(error),
    }
}

fn typed_pair(sizes: Option<(f64, f64)>) -> String {
    sizes.map_or_else(
        || "none".to_owned(),
        |(first, second)| format!("{first} {second}"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn design(text: &str) -> Design {
        text.parse().unwrap()
    }

    #[test]
    fn ends_are_read_as_typed() {
        let four = (Tooth::new(4).unwrap(), NeckPoint::MesialLine);
        for typed in ["4 ml", "4ml", " 4  ML ", "4 mesial line angle"] {
            assert_eq!(read_typed_end(typed), Ok(four), "{typed}");
        }
        for typed in ["", "4", "ml 4", "9 ml", "4 xx", "4 ml ml", "é"] {
            assert_eq!(read_typed_end(typed), Err(WordsError::End), "{typed}");
        }
    }

    #[test]
    fn sizes_are_read_as_typed() {
        assert_eq!(read_typed_release(" None "), Ok(None));
        let release = read_typed_release("10 -20").unwrap();
        assert_eq!(typed_release(release), "10 -20");
        let limb = read_typed_limb("10.5 45").unwrap();
        assert_eq!(typed_limb(limb), "10.5 45");
        for typed in ["", "10", "10 20 30", "ten 20", "NaN 20", "10 inf"] {
            assert_eq!(read_typed_release(typed), Err(WordsError::Release));
            assert_eq!(read_typed_limb(typed), Err(WordsError::Limb));
        }
        for cut in [Cut::Sulcular, Cut::Submarginal { offset_mm: 2.5 }] {
            assert_eq!(read_typed_cut(&typed_cut(cut)), Ok(cut));
        }
        assert_eq!(read_typed_cut("deep"), Err(WordsError::Cut));
    }

    #[test]
    fn a_design_is_read_back_in_words() {
        assert_eq!(
            describe(&design("4ml r10@20 .. 6dl")),
            "mesial line angle of 4, release 10 mm slanting 20 degrees forward; to the distal line angle of 6, no release"
        );
        assert_eq!(
            describe(&design("2mp r12@-5 .. 4mf r8@0 sub2")),
            "mesial papilla of 2, release 12 mm slanting 5 degrees backward; to the mid-facial point of 4, release 8 mm straight; submarginal, 2 mm from the necks"
        );
        assert_eq!(
            describe(&design("6mp .. 7dl limb10@-45")),
            "mesial papilla of 6, no release; to the distal line angle of 7, no release; distal limb 10 mm turning 45 degrees to the lingual"
        );
        assert!(describe(&design("6mp .. 7dl limb10@0")).ends_with("straight back"));
    }
}
