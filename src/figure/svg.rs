//! A figure as SVG 1.1 (W3C 2011), for print: the same chains of points, in millimetres.
//!
//! The same figure and overlay give the same bytes. Nothing is loaded from elsewhere, and texts are cleaned and
//! escaped. Black on white with one grey, so that any printer will do.

use std::fmt::Write;

use super::model::{Figure, Line};
use super::picture::Overlay;
use super::places::{described, letter};
use super::point::Point;
use super::stroke::Stroke;
use crate::text::{Shown, entities};

/// Room around the frame, mm.
const MARGIN_MM: f64 = 2.0;
/// Largest drawing on paper, mm: two and their questions fit on a sheet of A4 or Letter.
const MOST_MM: (f64, f64) = (120.0, 70.0);
/// Radius of the disc behind a letter, mm on paper.
const DISC_MM: f64 = 1.9;

/// Draws a figure with what is laid over it, but for a cursor and names, which only a screen has. One unit is one
/// millimetre of the figure; on paper it is as large as fits into 120 by 70 mm.
#[must_use]
pub fn svg(figure: &Figure, overlay: &Overlay) -> String {
    let frame = figure.frame.grown(MARGIN_MM);
    let scale = (MOST_MM.0 / frame.width_mm()).min(MOST_MM.1 / frame.height_mm());
    let (width_mm, height_mm) = (scale * frame.width_mm(), scale * frame.height_mm());
    // Lines and letters keep their size on paper, whatever the scale of the drawing.
    let unit = 1.0 / scale;
    let mut out = String::new();
    let mut put = |line: String| {
        out.push_str(&line);
        out.push('\n');
    };
    put(format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{}mm" height="{}mm" viewBox="{} {} {} {}" role="img">"#,
        n(width_mm),
        n(height_mm),
        n(frame.low.x),
        n(-frame.high.y),
        n(frame.width_mm()),
        n(frame.height_mm()),
    ));
    put(format!("<title>{}</title>", escaped(&figure.view)));
    if overlay.letters {
        put(format!("<desc>{}</desc>", escaped(&described(figure))));
    }
    put(
        r#"<g fill="none" stroke="black" stroke-linecap="round" stroke-linejoin="round">"#
            .to_owned(),
    );
    for &place in &overlay.revealed {
        if let Some(region) = figure.region(place) {
            put(format!(
                r##"<path d="{}" fill="#cccccc" stroke="none"/>"##,
                data(&region)
            ));
        }
    }
    for stroke in figure.shapes.iter().flat_map(super::model::Shape::strokes) {
        put(format!(
            r#"<path d="{}"{}/>"#,
            data(&stroke),
            pen(stroke.line, unit)
        ));
    }
    for chain in &overlay.incision {
        let stroke = Stroke {
            points: chain.clone(),
            closed: false,
            line: Line::Bold,
        };
        put(format!(
            r#"<path d="{}" stroke-width="{}"/>"#,
            data(&stroke),
            n(unit)
        ));
    }
    put("</g>".to_owned());
    put(format!(
        r#"<g font-family="sans-serif" font-size="{}" text-anchor="middle">"#,
        n(3.0 * unit)
    ));
    // The baseline of a text whose middle is at a point.
    let baseline = |at: Point| n(-at.y + 1.05 * unit);
    let own = figure.labels.iter().map(|label| (&label.at, &label.text));
    let laid_over = overlay.labels.iter().map(|(at, text)| (at, text));
    for (at, text) in own.chain(laid_over) {
        // White below black: not every reader of SVG paints the outline of a letter first.
        let halo = format!(r#" stroke="white" stroke-width="{}""#, n(0.8 * unit));
        for pen in [halo.as_str(), ""] {
            put(format!(
                r#"<text x="{}" y="{}"{pen}>{}</text>"#,
                n(at.x),
                baseline(*at),
                escaped(text)
            ));
        }
    }
    for (index, place) in figure.places.iter().enumerate() {
        let (x, y) = (n(place.at.x), n(-place.at.y));
        if overlay.revealed.contains(&index) {
            put(format!(
                r#"<circle cx="{x}" cy="{y}" r="{}" fill="white" stroke="black" stroke-width="{}"/>"#,
                n((DISC_MM + 1.2) * unit),
                n(0.6 * unit)
            ));
        }
        if overlay.letters {
            // The white edge keeps a disc apart from a line that runs round it.
            put(format!(
                r#"<circle cx="{x}" cy="{y}" r="{}" fill="black" stroke="white" stroke-width="{}"/>"#,
                n((DISC_MM + 0.4) * unit),
                n(0.8 * unit)
            ));
            put(format!(
                r#"<text x="{x}" y="{}" fill="white">{}</text>"#,
                baseline(place.at),
                letter(index)
            ));
        }
    }
    put("</g>".to_owned());
    put("</svg>".to_owned());
    out
}

fn pen(line: Line, unit: f64) -> String {
    let width = if line.is_bold() { 0.6 } else { 0.3 };
    let dashes = match line {
        Line::Plain | Line::Bold => String::new(),
        Line::Dashed | Line::BoldDashed => {
            format!(r#" stroke-dasharray="{} {}""#, n(2.0 * unit), n(1.5 * unit))
        }
        Line::Dotted => format!(r#" stroke-dasharray="0 {}""#, n(unit)),
    };
    let width = if line == Line::Dotted { 0.4 } else { width };
    format!(r#" stroke-width="{}"{dashes}"#, n(width * unit))
}

fn data(stroke: &Stroke) -> String {
    let mut data = String::new();
    for (index, Point { x, y }) in stroke.points.iter().enumerate() {
        let command = if index == 0 { "M" } else { " L" };
        // Writing to a string cannot fail.
        let _ = write!(data, "{command}{} {}", n(*x), n(-y));
    }
    if stroke.closed {
        data.push('Z');
    }
    data
}

/// A number to a hundredth, without a minus before zero and without idle zeros. Broken numbers become 0.
fn n(value: f64) -> String {
    let value = if value.is_finite() { value } else { 0.0 };
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

fn escaped(text: &str) -> String {
    entities(&Shown::new(text))
}
