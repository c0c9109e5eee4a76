//! The notation of figures: from YAML values to a [`Figure`], or everything that is wrong with them.
//!
//! ```yaml
//! diagram: name
//! view: what is seen and from where
//! frame: 0,-1 102,78
//! unit_mm: 1   # mm in one unit of all coordinates and sizes below and of the frame; 1 if left out
//! toward: {left: in front, right: behind, up: above, down: below}
//! draw:
//! - {outline: id, line: bold, through: "0,0 5,3 9,0!"}
//! labels:
//! - {label: tongue, at: "60,4"}   # may be left out
//! places:
//! - {place: mental foramen, at: "25,15", region: id, says: where it lies}
//! ```
//!
//! Reading says whether the text is a figure at all; whether it is a sound one is for [`super::check`].

use serde_yaml::{Mapping, Value};

use super::finding::{Fault, Finding, Wanted};
use super::model::{Figure, Frame, Label, MOST_SHAPES, Place, Shape, Toward};
use super::point::{Knot, Point, REACH_MM, points};
use super::read_shape;

/// Reads a figure.
///
/// # Errors
/// All that is wrong, with paths from the figure down.
pub fn read(value: &Value) -> Result<Figure, Vec<Finding>> {
    let mut reader = Reader::default();
    match reader.figure(value) {
        Some(figure) if reader.findings.is_empty() => Ok(figure),
        _ => Err(reader.findings),
    }
}

/// A mapping with the path that leads to it.
pub(super) struct At<'a> {
    pub(super) map: &'a Mapping,
    pub(super) path: String,
}

impl At<'_> {
    /// Path of a key of this mapping.
    pub(super) fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    /// The value of a key, unless it is absent or null.
    pub(super) fn get(&self, key: &str) -> Option<&Value> {
        self.map.get(key).filter(|value| !value.is_null())
    }
}

/// Gathers findings on the way.
pub(super) struct Reader {
    pub(super) findings: Vec<Finding>,
    /// How many mm one unit of the figure's coordinates is.
    pub(super) unit_mm: f64,
}

impl Default for Reader {
    fn default() -> Self {
        Self {
            findings: Vec::new(),
            unit_mm: 1.0,
        }
    }
}

impl Reader {
    fn figure(&mut self, value: &Value) -> Option<Figure> {
        let at = self.mapping(value, "")?;
        self.known(
            &at,
            &[
                "diagram", "view", "frame", "unit_mm", "toward", "draw", "labels", "places",
            ],
        );
        self.unit_mm = self.unit(&at);
        let id = self.text(&at, "diagram");
        let view = self.text(&at, "view");
        let frame = self.frame(&at);
        let toward = self.toward(&at);
        let shapes = self.list(&at, "draw", Self::shape);
        let labels = match at.get("labels") {
            Some(_) => self.list(&at, "labels", Self::label),
            None => Some(Vec::new()),
        };
        let places = self.list(&at, "places", Self::place);
        if let Some(shapes) = &shapes
            && shapes.len() > MOST_SHAPES
        {
            self.add("draw", Fault::ManyShapes(shapes.len()));
        }
        Some(Figure {
            id: id?,
            view: view?,
            frame: frame?,
            toward: toward?,
            shapes: shapes?,
            labels: labels?,
            places: places?,
        })
    }

    fn unit(&mut self, at: &At<'_>) -> f64 {
        if at.get("unit_mm").is_none() {
            return 1.0;
        }
        let unit = at.get("unit_mm").and_then(Value::as_f64);
        unit.filter(|unit| *unit > 0.0 && *unit <= REACH_MM)
            .unwrap_or_else(|| {
                self.add("unit_mm", Fault::Expected(Wanted::UnitMm));
                1.0
            })
    }

    fn label(&mut self, value: &Value, path: &str) -> Option<Label> {
        let at = self.mapping(value, path)?;
        self.known(&at, &["label", "at"]);
        let text = self.text(&at, "label");
        let spot = self.point(&at, "at");
        Some(Label {
            text: text?,
            at: spot?,
        })
    }

    fn frame(&mut self, at: &At<'_>) -> Option<Frame> {
        let corners = self.points(at, "frame", Wanted::TwoPoints, 2..=2)?;
        let frame = Frame {
            low: corners.first()?.at,
            high: corners.last()?.at,
        };
        if frame.width_mm() < 1.0 || frame.height_mm() < 1.0 {
            self.add("frame", Fault::EmptyFrame);
            return None;
        }
        Some(frame)
    }

    fn toward(&mut self, at: &At<'_>) -> Option<Toward> {
        let value = self.required(at, "toward")?;
        let at = self.mapping(value, "toward")?;
        self.known(&at, &["left", "right", "up", "down"]);
        let [left, right, up, down] =
            ["left", "right", "up", "down"].map(|side| self.text(&at, side));
        Some(Toward {
            left: left?,
            right: right?,
            up: up?,
            down: down?,
        })
    }

    fn shape(&mut self, value: &Value, path: &str) -> Option<Shape> {
        let at = self.mapping(value, path)?;
        read_shape::shape(self, &at)
    }

    fn place(&mut self, value: &Value, path: &str) -> Option<Place> {
        let at = self.mapping(value, path)?;
        self.known(&at, &["place", "at", "region", "says"]);
        let name = self.text(&at, "place");
        let spot = self.point(&at, "at");
        let region = match at.get("region") {
            Some(_) => Some(self.text(&at, "region")?),
            None => None,
        };
        let says = self.text(&at, "says");
        Some(Place {
            name: name?,
            at: spot?,
            region,
            says: says?,
        })
    }

    pub(super) fn add(&mut self, path: impl Into<String>, fault: Fault) {
        self.findings.push(Finding::new(path, fault));
    }

    pub(super) fn mapping<'a>(&mut self, value: &'a Value, path: &str) -> Option<At<'a>> {
        let Some(map) = value.as_mapping() else {
            self.add(path, Fault::Expected(Wanted::Map));
            return None;
        };
        Some(At {
            map,
            path: path.to_owned(),
        })
    }

    /// Finds keys that do not belong in a mapping.
    pub(super) fn known(&mut self, at: &At<'_>, known: &[&'static str]) {
        for key in at.map.keys() {
            let key = match key {
                Value::String(key) if known.contains(&key.as_str()) => continue,
                Value::String(key) => key.clone(),
                _ => "?".to_owned(),
            };
            let near = known
                .iter()
                .map(|word| (strsim::osa_distance(&key, word), *word))
                .filter(|(edits, _)| *edits <= (key.chars().count() / 3).max(1))
                .min()
                .map(|(_, word)| word);
            // The key may hold anything, so it stays out of the path.
            self.add(at.path.clone(), Fault::UnknownKey { key, near });
        }
    }

    fn required<'a>(&mut self, at: &At<'a>, key: &'static str) -> Option<&'a Value> {
        let value = at.map.get(key).filter(|value| !value.is_null());
        if value.is_none() {
            self.add(at.path.clone(), Fault::Missing(key));
        }
        value
    }

    /// Text that must be there and must not be blank.
    pub(super) fn text(&mut self, at: &At<'_>, key: &'static str) -> Option<String> {
        match self.required(at, key)?.as_str().map(str::trim) {
            Some(text) if !text.is_empty() => Some(text.to_owned()),
            _ => {
                self.add(at.path_of(key), Fault::Expected(Wanted::Text));
                None
            }
        }
    }

    /// A length in mm from the figure's units, if it stays within reach.
    pub(super) fn mm(&self, units: f64) -> Option<f64> {
        Some(units * self.unit_mm).filter(|mm| mm.abs() <= REACH_MM)
    }

    /// A place along the page in mm that may be absent.
    pub(super) fn along(&mut self, at: &At<'_>, key: &str) -> Option<f64> {
        let units = self.number(at, key)?;
        let mm = self.mm(units);
        if mm.is_none() {
            self.add(at.path_of(key), Fault::Expected(Wanted::Number));
        }
        mm
    }

    /// A number that may be absent.
    pub(super) fn number(&mut self, at: &At<'_>, key: &str) -> Option<f64> {
        let number = at.get(key)?.as_f64().filter(|n| n.abs() <= REACH_MM);
        if number.is_none() {
            self.add(at.path_of(key), Fault::Expected(Wanted::Number));
        }
        number
    }

    /// Points that must be there, as many as told.
    pub(super) fn points(
        &mut self,
        at: &At<'_>,
        key: &'static str,
        wanted: Wanted,
        count: std::ops::RangeInclusive<usize>,
    ) -> Option<Vec<Knot>> {
        let value = self.required(at, key)?;
        // Angles are no lengths.
        let unit_mm = match wanted {
            Wanted::TwoAngles => 1.0,
            _ => self.unit_mm,
        };
        let fault = match value.as_str().map(|text| points(text, unit_mm)) {
            Some(Err(error)) => error.into(),
            Some(Ok(knots)) if count.contains(&knots.len()) => return Some(knots),
            Some(Ok(knots)) if knots.len() < *count.start() && *count.end() > 2 => {
                Fault::FewPoints(*count.start())
            }
            _ => Fault::Expected(wanted),
        };
        self.add(at.path_of(key), fault);
        None
    }

    /// One point that must be there.
    pub(super) fn point(&mut self, at: &At<'_>, key: &'static str) -> Option<Point> {
        let knots = self.points(at, key, Wanted::OnePoint, 1..=1)?;
        knots.first().map(|knot| knot.at)
    }

    /// A list that must be there; `None` if anything in it is wrong.
    fn list<T>(
        &mut self,
        at: &At<'_>,
        key: &'static str,
        mut read: impl FnMut(&mut Self, &Value, &str) -> Option<T>,
    ) -> Option<Vec<T>> {
        let Some(values) = self.required(at, key)?.as_sequence() else {
            self.add(at.path_of(key), Fault::Expected(Wanted::List));
            return None;
        };
        let read: Vec<Option<T>> = values
            .iter()
            .enumerate()
            .map(|(index, value)| read(self, value, &format!("{}[{index}]", at.path_of(key))))
            .collect();
        read.into_iter().collect()
    }
}
