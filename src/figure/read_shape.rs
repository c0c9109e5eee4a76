//! The notation of one shape: one key says what it is, the others where and how.

use super::finding::{Fault, Wanted};
use super::model::{Form, Line, Placing, Reflection, Shape};
use super::point::{MOST_POINTS, Point, points};
use super::read::{At, Reader};
use super::teeth::{Jaw, Tooth};

/// The keys that say what a shape is, each with the keys it needs.
const FORMS: [(&str, &[&str]); 9] = [
    ("outline", &["through"]),
    ("curve", &["through"]),
    ("polygon", &["through"]),
    ("polyline", &["through"]),
    ("ellipse", &["at", "size"]),
    ("circle", &["at", "size"]),
    ("arc", &["at", "size", "angles"]),
    ("teeth", &[]),
    ("arch", &["through"]),
];

/// Keys that any shape may have.
const COMMON: [&str; 5] = ["line", "turn", "shift", "mirror", "flip"];

pub(super) fn shape(reader: &mut Reader, at: &At<'_>) -> Option<Shape> {
    let mut named = FORMS.iter().filter(|(form, _)| at.map.contains_key(form));
    let (Some(&(form, needs)), None) = (named.next(), named.next()) else {
        let count = FORMS
            .iter()
            .filter(|(form, _)| at.map.contains_key(form))
            .count();
        reader.add(at.path.clone(), Fault::Forms(count));
        return None;
    };
    let known: Vec<&'static str> = std::iter::once(form)
        .chain(needs.iter().copied())
        .chain(COMMON)
        .collect();
    reader.known(at, &known);
    let said = reader.text(at, form);
    let geometry = match form {
        "outline" | "curve" | "polygon" | "polyline" => path(reader, at, form),
        "ellipse" | "circle" => ellipse(reader, at),
        "arc" => arc(reader, at),
        _ => teeth(reader, at, form, said.as_deref()),
    };
    let line = line(reader, at);
    let placing = placing(reader, at);
    let is_row = matches!(form, "teeth" | "arch");
    Some(Shape {
        id: if is_row { None } else { Some(said?) },
        form: geometry?,
        line: line?,
        placing: placing?,
    })
}

fn path(reader: &mut Reader, at: &At<'_>, form: &str) -> Option<Form> {
    let closed = matches!(form, "outline" | "polygon");
    let smooth = matches!(form, "outline" | "curve");
    let least = if closed { 3 } else { 2 };
    let knots = reader.points(at, "through", Wanted::Text, least..=MOST_POINTS)?;
    Some(Form::Path {
        knots,
        closed,
        smooth,
    })
}

fn ellipse(reader: &mut Reader, at: &At<'_>) -> Option<Form> {
    let centre = reader.point(at, "at");
    let (width_mm, height_mm) = extent(reader, at)?;
    Some(Form::Ellipse {
        centre: centre?,
        width_mm,
        height_mm,
    })
}

fn arc(reader: &mut Reader, at: &At<'_>) -> Option<Form> {
    let centre = reader.point(at, "at");
    let extent = extent(reader, at);
    let angles = reader.points(at, "angles", Wanted::TwoAngles, 1..=1)?;
    let angles = angles.first()?.at;
    let (width_mm, height_mm) = extent?;
    Some(Form::Arc {
        centre: centre?,
        width_mm,
        height_mm,
        from_deg: angles.x,
        to_deg: angles.y,
    })
}

/// `size: "5,3.5"` for width and height, `size: 3.4` for both.
fn extent(reader: &mut Reader, at: &At<'_>) -> Option<(f64, f64)> {
    let Some(value) = at.get("size") else {
        reader.add(at.path.clone(), Fault::Missing("size"));
        return None;
    };
    let read = value.as_str().map(|text| points(text, reader.unit_mm));
    let size = match (value.as_f64(), read) {
        (Some(both), _) => reader.mm(both).map(|mm| (mm, mm)),
        (_, Some(Ok(knots))) if knots.len() == 1 => {
            knots.first().map(|knot| (knot.at.x, knot.at.y))
        }
        _ => None,
    };
    let size = size.filter(|&(width, height)| width > 0.0 && height > 0.0);
    if size.is_none() {
        reader.add(at.path_of("size"), Fault::Expected(Wanted::Extent));
    }
    size
}

/// `lower 3 8`, for single rows perhaps with `crowns`.
fn teeth(reader: &mut Reader, at: &At<'_>, form: &str, said: Option<&str>) -> Option<Form> {
    let row = said.and_then(row);
    let knots = match form {
        "arch" => Some(reader.points(at, "through", Wanted::Text, 2..=MOST_POINTS)?),
        _ => None,
    };
    match (row, knots) {
        (Some((jaw, first, last, crowns_only)), None) => Some(Form::Teeth {
            jaw,
            first,
            last,
            crowns_only,
        }),
        (Some((jaw, first, last, false)), Some(knots)) => Some(Form::Arch {
            jaw,
            first,
            last,
            knots,
        }),
        _ => {
            if said.is_some() {
                reader.add(at.path_of(form), Fault::Expected(Wanted::Teeth));
            }
            None
        }
    }
}

fn row(said: &str) -> Option<(Jaw, Tooth, Tooth, bool)> {
    let words: Vec<&str> = said.split_whitespace().collect();
    let (jaw, first, last, crowns_only) = match words[..] {
        [jaw, first, last] => (jaw, first, last, false),
        [jaw, first, last, "crowns"] => (jaw, first, last, true),
        _ => return None,
    };
    let tooth = |word: &str| word.parse().ok().and_then(Tooth::new);
    let (first, last) = (tooth(first)?, tooth(last)?);
    (first <= last).then_some((Jaw::parse(jaw)?, first, last, crowns_only))
}

fn line(reader: &mut Reader, at: &At<'_>) -> Option<Line> {
    let Some(value) = at.get("line") else {
        return Some(Line::default());
    };
    let line = value.as_str().and_then(Line::parse);
    if line.is_none() {
        reader.add(at.path_of("line"), Fault::Expected(Wanted::Line));
    }
    line
}

fn placing(reader: &mut Reader, at: &At<'_>) -> Option<Placing> {
    let before = reader.findings.len();
    let turn_deg = reader.number(at, "turn").unwrap_or(0.0);
    let shift = match at.get("shift") {
        Some(_) => reader.point(at, "shift").unwrap_or_default(),
        None => Point::default(),
    };
    let (mirror, flip) = (reader.along(at, "mirror"), reader.along(at, "flip"));
    let reflection = match (mirror, flip) {
        (None, None) => Reflection::None,
        (Some(x_mm), None) => Reflection::Mirror(x_mm),
        (None, Some(x_mm)) => Reflection::Flip(x_mm),
        (Some(_), Some(_)) => {
            reader.add(at.path.clone(), Fault::TwoReflections);
            Reflection::None
        }
    };
    (reader.findings.len() == before).then_some(Placing {
        turn_deg,
        shift,
        reflection,
    })
}
