//! Drawings beside the text of a question: what is drawn, and where drawing and text stand on the screen.
//!
//! Plain values: views paint them, the update finds the place under a click by them. A drawing that cannot be made out at the
//! size there is is not drawn at all; the question is then asked in words.

use std::sync::Arc;

use super::entry::Entry;
use super::event::Size;
use super::model::{Model, Screen, Sitting, Step};
use crate::deck::model::Body;
use crate::figure::legible::is_legible;
use crate::figure::model::{Figure, Frame};
use crate::figure::picture::{Overlay, Picture, Setting};
use crate::figure::projection::{self, CellAt, Projection};
use crate::flap::{Case, Draft, EndSide, scene};
use crate::kinds::{self, Form};
use crate::round::{Phase, Reveal};

/// A rectangle of cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Area {
    pub(super) x: u16,
    pub(super) y: u16,
    pub(super) width: u16,
    pub(super) height: u16,
}

/// A drawing with what is laid over it.
#[derive(Clone, Debug)]
pub(super) struct Framed {
    pub(super) caption: &'static str,
    pub(super) figure: Arc<Figure>,
    pub(super) overlay: Overlay,
    pub(super) area: Area,
}

/// A screen of a drawing, or two, and a text.
#[derive(Clone, Debug)]
pub(super) struct Spread {
    pub(super) drawings: Vec<Framed>,
    pub(super) text: Area,
}

/// What is to be drawn, before it has a place.
struct Sight {
    /// Said above the drawing; empty if there is only one.
    caption: &'static str,
    figure: Arc<Figure>,
    overlay: Overlay,
}

/// How wide a text beside a drawing wants to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Telling {
    /// A stem and a choice: the drawing comes first.
    Short,
    /// A reveal: there is much to read.
    Long,
}

impl Model {
    /// How drawings are made here.
    pub(super) const fn drawn_by(&self) -> Setting {
        Setting {
            marks: self.settings.marks,
            cell_ratio: self.settings.cell_ratio,
        }
    }

    /// The drawing of the question or reveal that is up, if it has one that can be made out.
    pub(super) fn spread(&self) -> Option<Spread> {
        let Screen::Round(sitting) = &self.screen else {
            return None;
        };
        let (sights, telling) = match sitting.round.phase() {
            Phase::Asking(ask) => (asked(sitting, &ask.question.form), Telling::Short),
            Phase::Storing(given) => (asked(sitting, &given.ask().question.form), Telling::Short),
            Phase::Revealed(reveal) => (revealed(sitting, reveal), Telling::Long),
            Phase::Closed(_) => return None,
        };
        let ratio = self.settings.cell_ratio;
        let (area, text) = areas(self.size, sights.first()?.figure.frame, telling, ratio);
        let drawings = stacked(area, sights);
        let can_be_made_out = |framed: &Framed| {
            let size = projection::Size::new(framed.area.width, framed.area.height);
            // A design is drawn for the cut, which is made of whole cells.
            framed.figure.places.is_empty() || is_legible(&framed.figure, size, self.drawn_by())
        };
        drawings
            .iter()
            .all(can_be_made_out)
            .then_some(Spread { drawings, text })
    }
}

impl Framed {
    /// The drawing in cells.
    pub(super) fn picture(&self, setting: Setting) -> Picture {
        let size = projection::Size::new(self.area.width, self.area.height);
        Picture::draw(&self.figure, &self.overlay, size, setting)
    }

    /// The place under a cell of the screen.
    pub(super) fn place_at(&self, column: u16, row: u16, setting: Setting) -> Option<usize> {
        let col = column.checked_sub(self.area.x)?;
        let row = row.checked_sub(self.area.y)?;
        self.picture(setting).place_at(CellAt { row, col })
    }
}

fn asked(sitting: &Sitting, form: &Form) -> Vec<Sight> {
    let sight = match (form, &sitting.entry) {
        (Form::Places(figure), Entry::Place(pointing)) => Sight {
            caption: "",
            figure: Arc::clone(figure),
            overlay: Overlay {
                letters: true,
                cursor: pointing.chosen(),
                ..Overlay::default()
            },
        },
        (Form::Flap(case), Entry::Flap(designing)) => {
            let active = (sitting.step == Step::Answer).then(|| designing.active());
            designed("", case, designing.draft(), active)
        }
        _ => return Vec::new(),
    };
    vec![sight]
}

fn revealed(sitting: &Sitting, reveal: &Reveal) -> Vec<Sight> {
    match &reveal.ask.question.form {
        Form::Places(figure) => {
            let (chosen, keys) = kinds::pointed(figure, &reveal.verdict);
            let mut named = keys.clone();
            named.extend(chosen.filter(|chosen| !keys.contains(chosen)));
            let overlay = Overlay {
                letters: true,
                cursor: chosen,
                revealed: keys,
                named,
                ..Overlay::default()
            };
            vec![Sight {
                caption: "",
                figure: Arc::clone(figure),
                overlay,
            }]
        }
        Form::Flap(case) => {
            let yours = kinds::designed(&reveal.verdict);
            let shown = match sitting.round.item(&reveal.ask).map(|item| &item.body) {
                Some(Body::Flap(task)) => Some(task.show),
                _ => None,
            };
            // A sound design needs no other beside it.
            let other = shown.filter(|_| !reveal.verdict.right);
            let caption = if other.is_some() { "Yours" } else { "" };
            let yours = yours.map(|design| designed(caption, case, &Draft::from(&design), None));
            let other =
                other.map(|design| designed("A sound one", case, &Draft::from(&design), None));
            yours.into_iter().chain(other).collect()
        }
        _ => Vec::new(),
    }
}

/// A flap as it stands; the active end has its mark in brackets.
fn designed(caption: &'static str, case: &Case, draft: &Draft, active: Option<EndSide>) -> Sight {
    let scene = scene(case, draft);
    Sight {
        caption,
        overlay: scene.overlay(active),
        figure: Arc::new(scene.figure),
    }
}

/// Places for drawings, one below the other, each below its caption.
fn stacked(area: Area, sights: Vec<Sight>) -> Vec<Framed> {
    let count = u16::try_from(sights.len()).unwrap_or(u16::MAX).max(1);
    let each = area.height / count;
    let placed = (0..).zip(sights).map(|(number, sight)| {
        let caption_rows = u16::from(!sight.caption.is_empty());
        Framed {
            caption: sight.caption,
            figure: sight.figure,
            overlay: sight.overlay,
            area: Area {
                y: area.y + number * each + caption_rows,
                height: each.saturating_sub(caption_rows),
                ..area
            },
        }
    });
    placed.collect()
}

/// Where drawing and text stand: side by side, or one below the other where that makes a clearly larger drawing. The
/// head takes the first row and the keys the last.
fn areas(screen: Size, frame: Frame, telling: Telling, cell_ratio: f64) -> (Area, Area) {
    let (width, height) = (screen.width, screen.height.saturating_sub(2));
    let (share, least, most) = match telling {
        Telling::Short => (30, 23, 40),
        Telling::Long => (40, 30, 64),
    };
    // A gap of two columns, one at the edge, and a drawing that is never below the least that can be made out.
    let column = (width * share / 100).clamp(least, most);
    let column = column.min(width.saturating_sub(crate::figure::legible::LEAST.cols + 2));
    let beside = (
        Area {
            x: 0,
            y: 1,
            width: width.saturating_sub(column + 2),
            height,
        },
        Area {
            x: width.saturating_sub(column),
            y: 1,
            width: column,
            height,
        },
    );
    let rows = match telling {
        Telling::Short => 9,
        Telling::Long => height / 2,
    };
    let text_width = width.saturating_sub(2).min(96);
    let below = (
        Area {
            x: 0,
            y: 1,
            width,
            height: height.saturating_sub(rows + 1),
        },
        Area {
            x: (width - text_width) / 2,
            y: 1 + height.saturating_sub(rows),
            width: text_width,
            height: rows,
        },
    );
    let cell_mm = |area: Area| {
        let size = projection::Size::new(area.width, area.height);
        Projection::fit(frame, size, cell_ratio).map_or(f64::INFINITY, |on| on.cell_mm())
    };
    if cell_mm(below.0) * 1.2 < cell_mm(beside.0) {
        below
    } else {
        beside
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::base;

    fn sizes(width: u16, height: u16, telling: Telling) -> [(u16, u16); 2] {
        let frame = base::named("mandible-lateral").unwrap().frame;
        let (drawing, text) = areas(Size { width, height }, frame, telling, 2.0);
        [(drawing.width, drawing.height), (text.width, text.height)]
    }

    #[test]
    fn the_smallest_screens_leave_the_smallest_drawings() {
        assert_eq!(sizes(60, 20, Telling::Short), [(35, 18), (23, 18)]);
        assert_eq!(sizes(60, 20, Telling::Long), [(35, 18), (23, 18)]);
        assert_eq!(sizes(80, 24, Telling::Short), [(54, 22), (24, 22)]);
        assert_eq!(sizes(80, 24, Telling::Long), [(46, 22), (32, 22)]);
    }

    #[test]
    fn a_narrow_tall_screen_has_its_text_below() {
        let [drawing, text] = sizes(80, 60, Telling::Short);
        assert_eq!((drawing.0, text), (80, (78, 9)));
    }

    #[test]
    fn areas_stay_on_the_screen() {
        for width in 60..200 {
            for height in 20..70 {
                for telling in [Telling::Short, Telling::Long] {
                    let frame = base::named("palate-occlusal").unwrap().frame;
                    let (drawing, text) = areas(Size { width, height }, frame, telling, 2.0);
                    for area in [drawing, text] {
                        assert!(area.x + area.width <= width);
                        assert!(area.y + area.height < height);
                    }
                    let apart =
                        drawing.x + drawing.width < text.x || drawing.y + drawing.height < text.y;
                    assert!(apart, "{width}x{height}");
                }
            }
        }
    }
}
