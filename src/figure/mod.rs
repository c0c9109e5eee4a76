//! Drawings by numbers: shapes in millimetres, put into terminal cells or into a file for print.
//!
//! A figure is read from a deck ([`read`]), looked over ([`check`]), painted to dots ([`raster`]), turned into
//! text cells ([`marks`], [`picture`]) or into SVG ([`svg`]), and asked about ([`places`]). Everything is a pure
//! function of values; only [`read`] and [`base`] know that decks are YAML, and nothing here knows a terminal.

pub mod base;
pub mod check;
pub mod curve;
pub mod finding;
pub mod legible;
pub mod marks;
pub mod model;
pub mod overlap;
pub mod picture;
pub mod places;
pub mod point;
pub mod projection;
pub mod raster;
pub mod read;
mod read_shape;
pub mod stroke;
pub mod svg;
pub mod teeth;
pub mod tooth_form;
pub mod words;
