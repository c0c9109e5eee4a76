//! A figure as SVG 1.1 (W3C 2011), for print: the same chains of points, in millimetres.
//!
//! The same figure and overlay give the same bytes. Nothing is loaded from elsewhere, and texts are escaped and
//! freed of control characters.

use std::fmt::Write;

use super::model::{Figure, Line};
use super::picture::Overlay;
use super::places::letter;
use super::point::Point;
use super::stroke::Stroke;

/// Room around the frame, mm.
const MARGIN_MM: f64 = 2.0;

/// Draws a figure with what is laid over it. One unit is one millimetre of the figure; `width_mm` is the width
/// on paper.
#[must_use]
pub fn svg(figure: &Figure, overlay: &Overlay, width_mm: f64) -> String {
    let frame = figure.frame.grown(MARGIN_MM);
    let height_mm = width_mm * frame.height_mm() / frame.width_mm();
    // Lines and letters keep their size on paper, whatever the scale of the drawing.
    let unit = frame.width_mm() / width_mm;
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
            n(1.4 * unit)
        ));
    }
    put("</g>".to_owned());
    put(format!(
        r#"<g font-family="sans-serif" font-size="{}" text-anchor="middle">"#,
        n(3.0 * unit)
    ));
    for label in &figure.labels {
        let (x, y) = (n(label.at.x), n(-label.at.y + 1.05 * unit));
        put(format!(
            r#"<text x="{x}" y="{y}">{}</text>"#,
            escaped(&label.text)
        ));
    }
    for (index, place) in figure.places.iter().enumerate() {
        let (x, y) = (n(place.at.x), n(-place.at.y));
        if overlay.letters {
            put(format!(
                r#"<circle cx="{x}" cy="{y}" r="{}" fill="black"/><text x="{x}" y="{}" fill="white">{}</text>"#,
                n(1.9 * unit),
                n(-place.at.y + 1.05 * unit),
                letter(index)
            ));
        }
        if overlay.named.contains(&index) {
            // White below black: not every reader of SVG paints the outline of a letter first.
            let y = n(-place.at.y - 2.6 * unit);
            let halo = format!(r#" stroke="white" stroke-width="{}""#, n(0.8 * unit));
            for pen in [halo.as_str(), ""] {
                let name = escaped(&place.name);
                put(format!(r#"<text x="{x}" y="{y}"{pen}>{name}</text>"#));
            }
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
    let mut out = String::with_capacity(text.len());
    for glyph in text.chars() {
        match glyph {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            glyph if glyph.is_control() => out.push(' '),
            glyph => out.push(glyph),
        }
    }
    out
}
