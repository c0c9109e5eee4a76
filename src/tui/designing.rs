//! Designing a flap by keys: ends are put on teeth and walked, releases grow and turn.
//!
//! Says nothing of right or wrong: while a design grows it is measured and named, never judged.

use std::sync::Arc;

use super::entry::Pressed;
use super::event::Key;
use crate::figure::teeth::{Jaw, Tooth};
use crate::flap::words::measures;
use crate::flap::{Case, Cut, Draft, EndSide, measure, name};
use crate::words::capital;

/// A design being made.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Designing {
    case: Arc<Case>,
    draft: Draft,
    active: EndSide,
}

impl Designing {
    pub(super) fn new(case: Arc<Case>) -> Self {
        Self {
            case,
            draft: Draft::default(),
            active: EndSide::Mesial,
        }
    }

    pub(super) fn case(&self) -> &Case {
        &self.case
    }

    pub(super) const fn draft(&self) -> &Draft {
        &self.draft
    }

    /// The end that keys act on.
    pub(super) const fn active(&self) -> EndSide {
        self.active
    }

    /// Whether neither end is placed.
    pub(super) fn is_untouched(&self) -> bool {
        EndSide::BOTH
            .into_iter()
            .all(|side| self.draft.end(side).is_none())
    }

    /// Whether a limb up the ramus can be part of a design here.
    pub(super) fn has_limb(&self) -> bool {
        self.case.has_ramus()
    }

    /// The design in the text that every face hands in; nothing while it is none.
    pub(super) fn ids(&self) -> Vec<String> {
        self.draft
            .design()
            .map(|design| design.to_string())
            .into_iter()
            .collect()
    }

    /// What is still wanted, if the design is none yet.
    pub(super) fn wanting(&self) -> Option<String> {
        self.draft.design().err().map(|error| error.to_string())
    }

    pub(super) fn press(&mut self, key: Key) -> Pressed {
        let (draft, side) = (self.draft, self.active);
        let placed = draft.end(side).is_some();
        let released = draft.end(side).is_some_and(|end| end.release.is_some());
        self.draft = match key {
            Key::Char(digit @ '1'..='8') => {
                let number = digit
                    .to_digit(10)
                    .and_then(|digit| u8::try_from(digit).ok());
                match number.and_then(Tooth::new) {
                    Some(tooth) if self.case.has(tooth) => draft.on_tooth(side, tooth),
                    Some(tooth) => return Pressed::Told(format!("Tooth {tooth} is missing.")),
                    None => return Pressed::Passed,
                }
            }
            Key::Tab | Key::BackTab => {
                self.active = match side {
                    EndSide::Mesial => EndSide::Distal,
                    EndSide::Distal => EndSide::Mesial,
                };
                draft
            }
            Key::Char('b') if self.has_limb() => draft.limb_turned(),
            Key::Char('s') => draft.cut_lowered(),
            Key::Left | Key::Right | Key::Up | Key::Down | Key::Char('<' | '>' | ',' | '.')
                if !placed =>
            {
                return Pressed::Told(format!("Put the {side} end on a tooth first: 1 to 8."));
            }
            Key::Left | Key::Right => draft.walked(side, self.is_distal(key == Key::Right)),
            // Down the page is away from the crowns in the lower jaw only: the arrow that points apically adds.
            Key::Down | Key::Up => {
                if (key == Key::Down) == (self.case.jaw() == Jaw::Lower) {
                    draft.lengthened(side)
                } else {
                    draft.shortened(side)
                }
            }
            Key::Char('<' | '>' | ',' | '.') if !released => {
                return Pressed::Told("There is no release at this end yet.".to_owned());
            }
            Key::Char(sign @ ('<' | '>' | ',' | '.')) => {
                draft.slanted(side, self.is_distal(matches!(sign, '>' | '.')))
            }
            _ => return Pressed::Passed,
        };
        Pressed::Taken
    }

    /// Whether right on the page is distal here.
    fn is_distal(&self, right: bool) -> bool {
        (self.case.quadrant() == crate::flap::Quadrant::Left) == right
    }

    /// One end in words.
    pub(super) fn end_in_words(&self, side: EndSide) -> String {
        let Some(end) = self.draft.end(side) else {
            return format!("{side} end: not placed");
        };
        let release = end.release.map_or_else(String::new, |release| {
            format!(
                ", release {} mm, {:+}°",
                release.length_mm, release.spread_deg
            )
        });
        format!("{side} end: {} of {}{release}", end.point.name(), end.tooth)
    }

    /// Cut and limb in words, where they are not the plain ones.
    pub(super) fn more_in_words(&self) -> Vec<String> {
        let cut = match self.draft.cut() {
            Cut::Sulcular => None,
            Cut::Submarginal { offset_mm } => {
                Some(format!("submarginal cut {offset_mm} mm from the necks"))
            }
        };
        let limb = self.draft.limb().map(|limb| {
            let turn = limb.buccal_deg;
            let way = match turn {
                turn if turn > 0.0 => "buccally".to_owned(),
                turn if turn < 0.0 => "lingually".to_owned(),
                _ => "straight back".to_owned(),
            };
            format!("limb {} mm {way}", limb.length_mm)
        });
        cut.into_iter().chain(limb).collect()
    }

    /// What kind of flap it is and what it measures, once it is one.
    pub(super) fn measured(&self) -> Option<[String; 2]> {
        let design = self.draft.design().ok()?;
        let figures = measure(&self.case, &design).ok()?;
        Some([capital(&name(&design).to_string()), measures(&figures)])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flap::{Aspect, Bone, Operation, Quadrant, Thresholds};

    fn designing(jaw: Jaw, quadrant: Quadrant) -> Designing {
        let operation = Operation {
            jaw,
            quadrant,
            aspect: Aspect::Buccal,
            site: vec![Tooth::new(5).unwrap()],
            bone: Bone {
                top_mm: 2.0,
                bottom_mm: 8.0,
            },
            missing: vec![Tooth::new(8).unwrap()],
        };
        Designing::new(Arc::new(
            Case::new(operation, Thresholds::default()).unwrap(),
        ))
    }

    fn after(mut designing: Designing, keys: &str) -> Vec<String> {
        for key in keys.chars() {
            designing.press(match key {
                't' => Key::Tab,
                'l' => Key::Left,
                'r' => Key::Right,
                'u' => Key::Up,
                'd' => Key::Down,
                other => Key::Char(other),
            });
        }
        designing.ids()
    }

    #[test]
    fn five_keys_make_a_sound_three_cornered_flap() {
        let left = || designing(Jaw::Lower, Quadrant::Left);
        assert_eq!(after(left(), "4dt6"), ["4ml r10@20 .. 6dl"]);
        assert_eq!(after(left(), "4ddt6"), ["4ml r12@20 .. 6dl"]);
        assert_eq!(after(left(), "4duuuuut6"), ["4ml .. 6dl"]);
        assert_eq!(after(left(), "4lt6r"), ["4mp .. 7mp"]);
        assert_eq!(after(left(), "4d<t6"), ["4ml r10@30 .. 6dl"]);
        assert_eq!(after(left(), "4t6s"), ["4ml .. 6dl sub1"]);
        assert_eq!(after(left(), "4t7bbb"), ["4ml .. 7dl limb10@45"]);
        assert_eq!(after(left(), "4"), Vec::<String>::new());
    }

    #[test]
    fn keys_follow_the_page() {
        // Apical is up in the upper jaw; distal is left in the right quadrant.
        let right = designing(Jaw::Upper, Quadrant::Right);
        assert_eq!(after(right, "4ut6l"), ["4ml r10@20 .. 7mp"]);
        let right = designing(Jaw::Lower, Quadrant::Right);
        assert_eq!(after(right, "4d>t6"), ["4ml r10@30 .. 6dl"]);
    }

    #[test]
    fn what_cannot_be_done_is_told() {
        let mut designing = designing(Jaw::Upper, Quadrant::Left);
        assert!(matches!(designing.press(Key::Char('8')), Pressed::Told(_)));
        assert!(matches!(designing.press(Key::Left), Pressed::Told(_)));
        designing.press(Key::Char('4'));
        assert!(matches!(designing.press(Key::Char('<')), Pressed::Told(_)));
        // No ramus rises behind the upper teeth.
        assert_eq!(designing.press(Key::Char('b')), Pressed::Passed);
        assert!(designing.wanting().is_some());
    }
}
