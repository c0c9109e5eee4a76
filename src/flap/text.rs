//! The compact text of a design, for logs and decks: `4ml r10@20 .. 6dl`.
//!
//! Mesial end, two dots, distal end. An end is a tooth and a point (mp, ml, mf, dl, dp), then its release as length
//! in mm `@` slant in degrees. After the distal end may stand `limb10@45` (mm, degrees buccal) and `sub2` (a
//! submarginal cut, mm from the necks). What is printed reads back as the same design, to the last bit.

use std::fmt;
use std::str::FromStr;

use super::design::{Cut, Design, DesignError, End, Limb, Release};
use crate::figure::teeth::{NeckPoint, Tooth};
use thiserror::Error;

/// Longest text that can be a design, bytes.
const LONGEST: usize = 300;

/// Why a text is no design.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TextError {
    /// Longer than any design.
    #[error("too long for a flap design")]
    TooLong,
    /// No ` .. ` between two ends.
    #[error("two ends with `..` between them are asked, such as `4ml r10@20 .. 6dl`")]
    Shape,
    /// Not a tooth and a point.
    #[error(
        "`{word}` is no end of a margin; give a tooth from 1 to 8 and mp, ml, mf, dl or dp, such as 4ml"
    )]
    End {
        /// What stands there.
        word: String,
    },
    /// Not a release, a limb or a cut, or one that was given before.
    #[error(
        "`{word}` is not understood here; r10@20, limb10@45 or sub2 may follow an end, each once"
    )]
    Word {
        /// What stands there.
        word: String,
    },
    /// The parts make no design.
    #[error(transparent)]
    Design(#[from] DesignError),
}

impl fmt::Display for Design {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [mesial, distal] = super::design::EndSide::BOTH.map(|side| end_text(self.end(side)));
        write!(f, "{mesial} .. {distal}")?;
        if let Some(limb) = self.limb() {
            write!(f, " limb{}@{}", limb.length_mm, limb.buccal_deg)?;
        }
        if let Cut::Submarginal { offset_mm } = self.cut() {
            write!(f, " sub{offset_mm}")?;
        }
        Ok(())
    }
}

fn end_text(end: End) -> String {
    let place = format!("{}{}", end.tooth, end.point.short());
    match end.release {
        Some(release) => format!("{place} r{}@{}", release.length_mm, release.spread_deg),
        None => place,
    }
}

impl FromStr for Design {
    type Err = TextError;

    fn from_str(text: &str) -> Result<Self, TextError> {
        if text.len() > LONGEST {
            return Err(TextError::TooLong);
        }
        let mut sides = text.split("..");
        let (Some(front), Some(back), None) = (sides.next(), sides.next(), sides.next()) else {
            return Err(TextError::Shape);
        };
        let (mesial, rest) = read_side(front)?;
        if let Some(word) = rest.first() {
            return Err(misplaced(word));
        }
        let (distal, rest) = read_side(back)?;
        let (mut limb, mut cut) = (None, None);
        for word in rest {
            if let (Some(rest), None) = (word.strip_prefix("limb"), limb) {
                let (length_mm, buccal_deg) = pair(rest).ok_or_else(|| misplaced(word))?;
                limb = Some(Limb {
                    length_mm,
                    buccal_deg,
                });
            } else if let (Some(rest), None) = (word.strip_prefix("sub"), cut) {
                let offset_mm = number(rest).ok_or_else(|| misplaced(word))?;
                cut = Some(Cut::Submarginal { offset_mm });
            } else {
                return Err(misplaced(word));
            }
        }
        Ok(Self::new(
            mesial,
            distal,
            cut.unwrap_or(Cut::Sulcular),
            limb,
        )?)
    }
}

/// An end with its release, and the words that follow.
fn read_side(text: &str) -> Result<(End, Vec<&str>), TextError> {
    let mut words = text.split_whitespace().peekable();
    let word = words.next().ok_or(TextError::Shape)?;
    let (tooth, point) = read_end(word).ok_or_else(|| TextError::End {
        word: word.to_owned(),
    })?;
    let release = match words.peek().and_then(|word| word.strip_prefix('r')) {
        Some(rest) => {
            let (length_mm, spread_deg) =
                pair(rest).ok_or_else(|| misplaced(&format!("r{rest}")))?;
            words.next();
            Some(Release {
                length_mm,
                spread_deg,
            })
        }
        None => None,
    };
    let end = End {
        tooth,
        point,
        release,
    };
    Ok((end, words.collect()))
}

/// A tooth and a point written together, such as `4ml`.
pub(super) fn read_end(word: &str) -> Option<(Tooth, NeckPoint)> {
    let mut letters = word.chars();
    let number = u8::try_from(letters.next()?.to_digit(10)?).ok()?;
    Some((Tooth::new(number)?, NeckPoint::parse(letters.as_str())?))
}

/// A plain decimal number; it may still be out of bounds.
pub(super) fn number(text: &str) -> Option<f64> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let plain = digits.starts_with(|first: char| first.is_ascii_digit())
        && digits
            .bytes()
            .all(|byte| byte.is_ascii_digit() || byte == b'.');
    // Adding 0 turns -0 into 0, so that equal designs print alike.
    plain
        .then(|| text.parse::<f64>().ok())
        .flatten()
        .map(|value| value + 0.0)
}

fn pair(text: &str) -> Option<(f64, f64)> {
    let (first, second) = text.split_once('@')?;
    Some((number(first)?, number(second)?))
}

fn misplaced(word: &str) -> TextError {
    TextError::Word {
        word: word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_it_prints() {
        for text in [
            "4ml .. 7dl",
            "4ml r10@20 .. 6dl",
            "2ml r12@15 .. 4dl r12.5@-7.5",
            "6mp .. 7dl limb10@45",
            "6mp .. 7dl limb10@-45 sub2",
            "1mf r0.5@0 .. 8dp",
        ] {
            assert_eq!(text.parse::<Design>().unwrap().to_string(), text);
        }
        let spaced: Design = "  4ml   r10@-0 ..6dl ".parse().unwrap();
        assert_eq!(spaced.to_string(), "4ml r10@0 .. 6dl");
    }

    #[test]
    fn hostile_text_is_refused() {
        let shape =
            |text: &str| assert_eq!(text.parse::<Design>(), Err(TextError::Shape), "{text}");
        ["", "..", "4ml", "4ml 6dl", "4ml .. 5ml .. 6dl", "4ml .."]
            .into_iter()
            .for_each(shape);
        for text in [
            "9ml .. 9dl",
            "0ml .. 6dl",
            "4xx .. 6dl",
            "ml .. 6dl",
            "é .. 6dl",
        ] {
            let refused = text.parse::<Design>();
            assert!(matches!(refused, Err(TextError::End { .. })), "{text}");
        }
        for text in [
            "4ml rNaN@20 .. 6dl",
            "4ml rinf@20 .. 6dl",
            "4ml r1e3@20 .. 6dl",
            "4ml r10 .. 6dl",
            "4ml r10@20 r10@20 .. 6dl",
            "4ml sub2 .. 6dl",
            "4ml .. 6dl sub2 sub3",
            "4ml .. 6dl limb",
            "4ml .. 6dl é",
        ] {
            let refused = text.parse::<Design>();
            assert!(matches!(refused, Err(TextError::Word { .. })), "{text}");
        }
        for text in [
            "6dl .. 4ml",
            "4dp .. 5mp",
            "4ml .. 4ml",
            "4ml r99999999999999999999@20 .. 6dl",
            "4ml r10@90 .. 6dl",
            "4ml .. 6dl sub0",
            "4ml .. 6dl r10@20 limb10@45",
        ] {
            let refused = text.parse::<Design>();
            assert!(matches!(refused, Err(TextError::Design(_))), "{text}");
        }
        assert_eq!("4".repeat(301).parse::<Design>(), Err(TextError::TooLong));
    }
}
