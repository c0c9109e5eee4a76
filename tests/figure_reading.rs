//! Broken notation: every fault is told with the path to it, all at once.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use luxate::figure::check::check;
use luxate::figure::model::Figure;
use luxate::figure::read::read;

const SOUND: &str = r#"
diagram: plate
view: a plate from above
frame: 0,0 70,36
toward: {left: mesial, right: distal, up: coronal, down: apical}
draw:
- {outline: rim, line: bold, through: "2,2 68,2 68,34 2,34"}
- {polygon: notch, through: "30,10 40,10 35,18"}
- {circle: hole, at: "10,10", size: 6}
- {ellipse: slot, at: "60,25", size: "9,4", turn: 20}
- {arc: bow, at: "35,20", size: "40,20", angles: "20,160", line: dotted}
- {polyline: score, through: "10,28 20,22 24,28", flip: 20}
- {teeth: lower 6 7 crowns, shift: "-12,20"}
- {arch: upper 1 2, through: "45,8 66,8"}
places:
- {place: hole, at: "10,10", region: hole, says: round}
- {place: slot, at: "60,25", region: slot, says: long}
- {place: notch, at: "35,12", region: notch, says: three sides}
- {place: bow, at: "35,30", says: dots}
- {place: score, at: "16,28", says: broken}
"#;

fn figure(text: &str) -> Figure {
    read(&serde_yaml::from_str(text).unwrap()).unwrap()
}

/// Every finding of reading, or of checking where reading found none.
fn findings(text: &str) -> Vec<String> {
    let value = serde_yaml::from_str(text).unwrap();
    let findings = match read(&value) {
        Ok(figure) => check(&figure),
        Err(findings) => findings,
    };
    findings.iter().map(ToString::to_string).collect()
}

fn with(from: &str, to: &str) -> Vec<String> {
    assert!(SOUND.contains(from), "{from}");
    findings(&SOUND.replacen(from, to, 1))
}

#[test]
fn every_form_of_the_notation_is_read() {
    let figure = figure(SOUND);
    assert_eq!(figure.shapes.len(), 8);
    assert_eq!(figure.places.len(), 5);
    assert_eq!(check(&figure), []);
}

/// The same drawing in units of 0 to 1 across and in millimetres; degrees and mean teeth are no units.
#[test]
fn coordinates_may_be_units_of_any_size() {
    let in_mm = SOUND.replace("flip: 20", "flip: 20, shift: \"2,0\"");
    let mut in_units = String::new();
    let mut number = String::new();
    let told = in_mm
        .replace("angles: \"20,160\"", "ANGLES")
        .replace("turn: 20", "TURN");
    let told = told
        .replace("lower 6 7", "ROW")
        .replace("upper 1 2", "ARCH");
    for letter in told.chars().chain(['\n']) {
        if letter.is_ascii_digit() || letter == '.' || letter == '-' {
            number.push(letter);
            continue;
        }
        match number.parse::<f64>() {
            Ok(mm) => in_units += &(mm / 64.0).to_string(),
            Err(_) => in_units += &number,
        }
        number.clear();
        in_units.push(letter);
    }
    let in_units = in_units
        .replace("ANGLES", "angles: \"20,160\"")
        .replace("TURN", "turn: 20")
        .replace("ROW", "lower 6 7")
        .replace("ARCH", "upper 1 2")
        .replace("toward:", "unit_mm: 64\ntoward:");
    assert!(in_units.contains("0.15625"), "{in_units}");
    assert_eq!(figure(&in_units), figure(&in_mm));
}

#[test]
fn labels_stand_on_the_drawing_and_places_stay_secret() {
    use luxate::figure::picture::{Overlay, Picture, Setting};
    use luxate::figure::projection::Size;
    let labels = "labels:\n- {label: tongue, at: \"50,14\"}\nplaces:";
    let labelled = figure(&SOUND.replace("places:", labels));
    assert_eq!(check(&labelled), []);
    let picture = Picture::draw(
        &labelled,
        &Overlay::default(),
        Size::new(60, 18),
        Setting::default(),
    );
    let rows: Vec<String> = picture
        .rows()
        .map(|row| row.iter().map(|cell| cell.glyph).collect())
        .collect();
    assert!(rows.iter().any(|row| row.contains("tongue")), "{rows:?}");
    let svg = luxate::figure::svg::svg(&labelled, &Overlay::default());
    assert!(svg.contains(">tongue</text>"));
}

#[test]
fn every_fault_is_told_with_its_path() {
    let mut told = String::new();
    for (from, to) in [
        ("diagram: plate", "digram: plate"),
        ("view: a plate from above", "view: '  '"),
        ("frame: 0,0 70,36", "frame: 0,0"),
        ("frame: 0,0 70,36", "frame: 70,36 0,0"),
        ("frame: 0,0 70,36", "frame: [0, 0]"),
        ("left: mesial", "left: 3"),
        ("left: mesial", "left: distal"),
        ("{outline: rim", "{outline: rim, curve: rim"),
        ("{outline: rim", "{outlin: rim"),
        ("{outline: rim", "{outline: 3"),
        ("line: bold", "line: thick"),
        ("\"2,2 68,2 68,34 2,34\"", "\"2,2 68,2 68;34 2,34\""),
        ("\"2,2 68,2 68,34 2,34\"", "\"2,2 68,2\""),
        (
            "through: \"30,10 40,10 35,18\"",
            "thru: \"30,10 40,10 35,18\"",
        ),
        ("size: 6", "size: 0"),
        ("size: \"9,4\"", "size: \"9,-4\""),
        ("turn: 20", "turn: .inf"),
        ("angles: \"20,160\"", "angles: \"20\""),
        ("flip: 20", "flip: 20, mirror: 3"),
        ("lower 6 7 crowns", "lower 7 6 crowns"),
        ("lower 6 7 crowns", "lower 0 9"),
        ("arch: upper 1 2", "arch: upper 1 2 crowns"),
        ("arch: upper 1 2", "arch: upper 1 8"),
        ("at: \"10,10\", region", "at: \"10,10 11,11\", region"),
        ("at: \"10,10\", region", "at: \"90,10\", region"),
        ("at: \"10,10\", region: hole", "at: \"10,20\", region: hole"),
        ("region: slot", "region: slit"),
        ("region: slot", "region: bow"),
        ("place: slot", "place: hole"),
        ("says: three sides", "says: the larger of two Notches"),
        ("place: hole, at", "place: round hole, at"),
        ("says: long", "says: round"),
        ("at: \"16,28\"", "at: \"35,28\""),
        ("at: \"16,28\"", "at: \"10,11\""),
        (
            "circle: hole, at: \"10,10\", size: 6",
            "circle: hole, at: \"10,10\", size: 0.4",
        ),
        (
            "circle: hole, at: \"10,10\", size: 6",
            "circle: rim, at: \"10,10\", size: 6",
        ),
        (
            "circle: hole, at: \"10,10\", size: 6",
            "circle: hole, at: \"26,10\", size: 34",
        ),
        ("- {place: score, at: \"16,28\", says: broken}\n", ""),
        ("toward:", "unit_mm: 0\ntoward:"),
        ("toward:", "unit_mm: wide\ntoward:"),
        ("toward:", "unit_mm: 900\ntoward:"),
        ("places:", "labels:\n- {label: rim, at: \"90,4\"}\nplaces:"),
        (
            "places:",
            "labels:\n- {label: a notch is here, at: \"5,4\"}\nplaces:",
        ),
        ("places:", "labels:\n- {text: rim, at: 4}\nplaces:"),
        ("places:", "labels: rim\nplaces:"),
    ] {
        told += &[from, " -> ", to, "\n"].concat();
        let found = with(from, to);
        assert!(!found.is_empty(), "{from} -> {to}");
        for finding in found {
            told += &["    ", &finding, "\n"].concat();
        }
    }
    insta::assert_snapshot!(told);
}

/// By hand: a cell of the smallest drawing is 2 * 70 / 69 = 2.03 mm wide here, so 4 mm are 1.97 of them; incisors are 8.5
/// and 6.5 mm wide.
#[test]
fn what_falls_short_is_not_told_as_if_it_did_not() {
    assert_eq!(
        with("at: \"16,28\"", "at: \"31,30\""),
        [
            "places[4].at: \"bow\" and \"score\" are 1.9 cells apart in the smallest drawing (35 by 18 cells); 2 are needed"
        ]
    );
    assert_eq!(
        with("45,8 66,8", "45,8 59.96,8"),
        ["draw[7]: the curve is 14.9 mm long, the teeth along it are 15.0"]
    );
}

/// A pair out of reach is pointed at, in whatever unit it is written.
#[test]
fn a_pair_too_far_out_is_pointed_at() {
    let far = findings(
        &SOUND
            .replace("toward:", "unit_mm: 10\ntoward:")
            .replace("40,10 35,18", "40,10 35,118"),
    );
    let told = "draw[1].through: byte 12: a coordinate must lie between -1000 and 1000 mm";
    assert!(far.contains(&told.to_owned()), "{far:?}");
}

#[test]
fn all_faults_are_told_in_one_go() {
    let broken = SOUND
        .replace("frame: 0,0", "frame: 0")
        .replace("line: bold", "line: thick")
        .replace("says: dots", "sayz: dots");
    assert_eq!(
        findings(&broken)
            .iter()
            .map(|f| f.split(':').next().unwrap())
            .collect::<Vec<_>>(),
        ["frame", "draw[0].line", "places[3]", "places[3]"]
    );
}

#[test]
fn other_values_are_refused() {
    for text in ["3", "[]", "~", "{}", "draw: 3", "draw: [3]", "{3: 4}"] {
        assert!(!findings(text).is_empty(), "{text}");
    }
}

#[test]
fn too_much_is_refused_fast() {
    let shape = "- {circle: c, at: \"5,5\", size: 2}\n";
    let many = SOUND.replace("draw:\n", &format!("draw:\n{}", shape.repeat(100)));
    assert_eq!(
        findings(&many),
        ["draw: 108 shapes; at most 60 can be told apart and are drawn"]
    );
    let far = with("\"10,28 20,22", &format!("\"{}", "1,1 ".repeat(250)));
    assert_eq!(
        far,
        ["draw[5].through: byte 800: more than 200 points in one shape"]
    );
    // A crowd of places is one fault, and each is not looked at by itself.
    let crowd = "- {place: p, at: \"5,5\", region: rim, says: there}\n".repeat(5000);
    let crowd = findings(&format!("{SOUND}{crowd}"));
    assert_eq!(
        crowd.first().unwrap(),
        "places: 5005 places; a question needs 5 to 12 to choose from"
    );
    assert!(
        !crowd
            .iter()
            .any(|finding| finding.starts_with("places[12]"))
    );
}

#[test]
fn texts_from_a_deck_are_quoted_without_control_characters() {
    let found = with("line: bold", "\"\\e]0;x\\a\": bold");
    assert!(
        found.iter().all(|text| !text.chars().any(char::is_control)),
        "{found:?}"
    );
}
