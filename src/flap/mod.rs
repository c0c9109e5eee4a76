//! Mucoperiosteal flaps: a design in millimetres, measured and judged by surgical rules.
//!
//! A [`Case`] says what is to be reached and what stands around it, a [`Design`] where the cut runs. [`measure()`]
//! turns the two into [`Figures`], [`name`] says what kind of flap it is, and [`assess`] judges it rule by rule
//! against [`Thresholds`], each with its source. Everything is a pure function of values; the row of teeth is
//! straightened and its widths are means, so a figure here is a common ground for questions and never a measurement
//! in a patient.

pub mod basis;
pub mod case;
pub mod design;
pub mod draft;
pub mod draw;
pub mod form;
pub mod geometry;
pub mod judge;
pub mod limit;
pub mod measure;
pub mod row;
pub mod rule;
pub mod scene;
pub mod surroundings;
pub mod text;
pub mod thresholds;
pub mod words;

#[cfg(test)]
mod properties;

pub use basis::Basis;
pub use case::{Aspect, Bone, Case, CaseError, Operation, Quadrant};
pub use design::{Cut, Design, DesignError, End, EndSide, Limb, Release};
pub use draft::Draft;
pub use draw::{Sketch, sketch};
pub use form::{Family, FlapType, Form, Sides, name};
pub use judge::{Assessment, Finding, HANGS_WITHIN_MM, Hanging, Outcome, assess};
pub use limit::{Limit, Unit};
pub use measure::{Figures, Part, ReleaseFigures, measure};
pub use row::Row;
pub use rule::{Grade, Rule};
pub use scene::{Scene, scene};
pub use surroundings::{Defect, Surroundings};
pub use thresholds::{LimitError, Threshold, Thresholds};
