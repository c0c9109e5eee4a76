//! What holds for any figure and any size.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use luxate::figure::base;
use luxate::figure::check::check;
use luxate::figure::marks::Marks;
use luxate::figure::model::{
    Figure, Form, Frame, Label, Line, Place, Placing, Reflection, Shape, Toward,
};
use luxate::figure::picture::{Overlay, Picture, Setting};
use luxate::figure::point::{Knot, Point, points};
use luxate::figure::projection::Size;
use luxate::figure::raster::paint;
use luxate::figure::read::read;
use luxate::figure::svg::svg;
use proptest::prelude::*;
use serde_yaml::Value;

/// Mostly fair numbers, now and then a broken one.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        20 => -60.0..60.0_f64,
        1 => Just(f64::NAN),
        1 => Just(f64::INFINITY),
        1 => Just(1e300),
        1 => Just(0.0),
    ]
}

fn point() -> impl Strategy<Value = Point> {
    (number(), number()).prop_map(|(x, y)| Point::new(x, y))
}

fn shape() -> impl Strategy<Value = Shape> {
    let knot = (point(), any::<bool>()).prop_map(|(at, corner)| Knot { at, corner });
    let path = (
        prop::collection::vec(knot, 0..9),
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(knots, closed, smooth)| Form::Path {
            knots,
            closed,
            smooth,
        });
    let ellipse =
        (point(), number(), number()).prop_map(|(centre, width_mm, height_mm)| Form::Ellipse {
            centre,
            width_mm,
            height_mm,
        });
    let arc = (point(), number(), number(), number(), number()).prop_map(
        |(centre, width_mm, height_mm, from_deg, to_deg)| Form::Arc {
            centre,
            width_mm,
            height_mm,
            from_deg,
            to_deg,
        },
    );
    let reflection = prop_oneof![
        Just(Reflection::None),
        number().prop_map(Reflection::Flip),
        number().prop_map(Reflection::Mirror),
    ];
    let placing =
        (number(), point(), reflection).prop_map(|(turn_deg, shift, reflection)| Placing {
            turn_deg,
            shift,
            reflection,
        });
    let line = prop::sample::select(Line::ALL.to_vec());
    (prop_oneof![path, ellipse, arc], line, placing).prop_map(|(form, line, placing)| Shape {
        id: Some("s".to_owned()),
        form,
        line,
        placing,
    })
}

fn figure() -> impl Strategy<Value = Figure> {
    let place = (point(), any::<bool>(), ".{0,12}").prop_map(|(at, bound, name)| Place {
        says: name.clone(),
        name,
        at,
        region: bound.then(|| "s".to_owned()),
    });
    let frame = (point(), point()).prop_map(|(low, high)| Frame { low, high });
    let shapes = prop::collection::vec(shape(), 0..6);
    let places = prop::collection::vec(place, 0..14);
    let label = (point(), ".{0,14}").prop_map(|(at, text)| Label { text, at });
    let labels = prop::collection::vec(label, 0..14);
    (frame, shapes, labels, places).prop_map(|(frame, shapes, labels, places)| Figure {
        id: "any".to_owned(),
        view: "any".to_owned(),
        frame,
        toward: Toward {
            left: "left".to_owned(),
            right: "right".to_owned(),
            up: "up".to_owned(),
            down: "down".to_owned(),
        },
        shapes,
        labels,
        places,
    })
}

fn everything(figure: &Figure) -> Overlay {
    let all: Vec<usize> = (0..=figure.places.len()).collect();
    Overlay {
        letters: true,
        cursor: Some(figure.places.len() / 2),
        revealed: all.clone(),
        named: all,
        incision: vec![figure.places.iter().map(|place| place.at).collect()],
        labels: figure
            .places
            .iter()
            .map(|place| (place.at, "[a]".to_owned()))
            .collect(),
    }
}

fn assert_drawable(figure: &Figure, size: Size, marks: Marks, cell_ratio: f64) {
    let setting = Setting { marks, cell_ratio };
    let picture = Picture::draw(figure, &everything(figure), size, setting);
    assert_eq!(picture.size(), size);
    assert_eq!(picture.rows().flatten().count(), size.area());
    assert!(
        picture
            .rows()
            .flatten()
            .all(|cell| !cell.glyph.is_control())
    );
}

/// Drawing takes longer than the rest: a quarter of the cases asked for.
fn fewer() -> ProptestConfig {
    let usual = ProptestConfig::default();
    ProptestConfig {
        cases: usual.cases.div_ceil(4),
        ..usual
    }
}

proptest! {
    #![proptest_config(fewer())]

    #[test]
    fn any_figure_draws_at_any_size(
        figure in figure(),
        cols in 1_u16..=200,
        rows in 1_u16..=60,
        marks in prop::sample::select(Marks::ALL.to_vec()),
        ratio in prop_oneof![Just(2.0), number()],
    ) {
        assert_drawable(&figure, Size::new(cols, rows), marks, ratio);
        let _findings = check(&figure);
        let _print = svg(&figure, &everything(&figure));
    }

    #[test]
    fn base_figures_draw_at_any_size(
        which in 0..base::TEXTS.len(),
        cols in 1_u16..=200,
        rows in 1_u16..=60,
        marks in prop::sample::select(Marks::ALL.to_vec()),
    ) {
        assert_drawable(&base::all()[which], Size::new(cols, rows), marks, 2.0);
    }

    /// Reading never panics, and what it takes draws.
    #[test]
    fn damaged_texts_are_read_or_refused(
        which in 0..base::TEXTS.len(),
        at in any::<prop::sample::Index>(),
        put in "[ -~]{0,3}",
    ) {
        let text = base::TEXTS[which].1;
        let cut = at.index(text.len());
        let (head, tail) = (text.get(..cut), text.get(cut + 1..));
        let (Some(head), Some(tail)) = (head, tail) else { return Ok(()) };
        let Ok(value) = serde_yaml::from_str::<Value>(&format!("{head}{put}{tail}")) else { return Ok(()) };
        match read(&value) {
            Ok(figure) => assert_drawable(&figure, Size::new(53, 22), Marks::Braille, 2.0),
            Err(findings) => prop_assert!(!findings.is_empty()),
        }
    }

    /// Twice the millimetres are the same picture.
    #[test]
    fn scale_does_not_show(which in 0..base::TEXTS.len(), cols in 20_u16..120, rows in 10_u16..50) {
        let figure = &base::all()[which];
        let Some(doubled) = doubled(figure) else { return Ok(()) };
        let size = Size::new(cols, rows);
        prop_assert_eq!(paint(figure, size, 2.0), paint(&doubled, size, 2.0));
    }
}

proptest! {
    #[test]
    fn any_text_is_points_or_an_error(text in "\\PC{0,40}") {
        if let Ok(knots) = points(&text, 1.0) {
            prop_assert!(knots.iter().all(|knot| knot.at.is_finite()));
        }
    }
}

/// All lengths of a figure without teeth times two; teeth have their own size.
fn doubled(figure: &Figure) -> Option<Figure> {
    let twice = |p: Point| Point::new(2.0 * p.x, 2.0 * p.y);
    let knots = |knots: &[Knot]| -> Vec<Knot> {
        let knots = knots.iter();
        knots
            .map(|knot| Knot {
                at: twice(knot.at),
                ..*knot
            })
            .collect()
    };
    let mut doubled = figure.clone();
    doubled.frame = Frame {
        low: twice(figure.frame.low),
        high: twice(figure.frame.high),
    };
    doubled
        .shapes
        .retain(|shape| !matches!(shape.form, Form::Teeth { .. } | Form::Arch { .. }));
    if doubled.shapes.len() != figure.shapes.len() {
        return None;
    }
    for shape in &mut doubled.shapes {
        shape.placing.shift = twice(shape.placing.shift);
        shape.placing.reflection = match shape.placing.reflection {
            Reflection::None => Reflection::None,
            Reflection::Flip(x) => Reflection::Flip(2.0 * x),
            Reflection::Mirror(x) => Reflection::Mirror(2.0 * x),
        };
        shape.form = match &shape.form {
            Form::Path {
                knots: old,
                closed,
                smooth,
            } => Form::Path {
                knots: knots(old),
                closed: *closed,
                smooth: *smooth,
            },
            Form::Ellipse {
                centre,
                width_mm,
                height_mm,
            } => Form::Ellipse {
                centre: twice(*centre),
                width_mm: 2.0 * width_mm,
                height_mm: 2.0 * height_mm,
            },
            other => other.clone(),
        };
    }
    Some(doubled)
}
