//! The deck format as a JSON Schema (draft 2020-12), so that editors complete and check while an author types.
//!
//! The keys come from the tables that the reader goes by; here is only what each of them may hold. What a schema cannot
//! say (ids that are known and unique, texts that look alike) stays with the reader.

use serde_json::{Map, Value, json};

use super::read::flap::{JAWS, SIDES, SURFACES};
use super::read::shape::{
    ALLOW, BELIEF, BONE, DECK, DEFECT, EXTRA, FLAP_CASE, FLAP_SLIP, ITEM, KINDS, Key, OPTION, PAIR,
    PART, RANGE, REFUSED, SLIP, SOURCE, STEP, Shape, THRESHOLD, TOPIC, WRONG_PLACE, longest,
};
use crate::figure::teeth::Jaw;
use crate::flap::{Aspect, Family, Limit, Quadrant, Rule};

/// The whole schema.
#[must_use]
pub fn schema() -> Value {
    let mut defs = Map::new();
    for (name, shape) in [
        ("topic", &TOPIC),
        ("source", &SOURCE),
        ("belief", &BELIEF),
        ("allowance", &ALLOW),
        ("step", &STEP),
        ("pair", &PAIR),
        ("extra", &EXTRA),
        ("refused", &REFUSED),
        ("option", &OPTION),
        ("range", &RANGE),
        ("slip", &SLIP),
        ("wrong-place", &WRONG_PLACE),
        ("flap-case", &FLAP_CASE),
        ("bone", &BONE),
        ("defect", &DEFECT),
        ("threshold", &THRESHOLD),
        ("flap-slip", &FLAP_SLIP),
    ] {
        defs.insert(name.to_owned(), object(shape.keys.iter()));
    }
    if let Some(option) = defs.get_mut("option") {
        // A distractor says why it is wrong, and the key betrays no mistaken belief.
        option["if"] = json!({"properties": {"key": {"const": true}}, "required": ["key"]});
        option["then"] = json!({"not": {"required": ["belief"]}});
        option["else"] = json!({"required": ["why"]});
    }
    for kind in KINDS {
        defs.insert(format!("item-{}", kind.what), of_kind(&ITEM, kind));
        if kind.what != "case" {
            defs.insert(format!("part-{}", kind.what), of_kind(&PART, kind));
        }
    }
    defs.insert("item".to_owned(), by_kind("item", KINDS.iter()));
    let parts = KINDS.iter().filter(|kind| kind.what != "case");
    defs.insert("part".to_owned(), by_kind("part", parts));
    let mut schema = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A deck of exam items",
        "description": "Which keys a deck has and what they hold. `luxate deck check` tells more: references, texts, flaws in the writing.",
    });
    for (key, value) in object(DECK.keys.iter()).as_object().into_iter().flatten() {
        schema[key] = value.clone();
    }
    schema["$defs"] = Value::Object(defs);
    schema
}

/// Any kind: the one that `kind` names, so that what is wrong is said of that kind alone.
fn by_kind<'k>(what: &str, kinds: impl Iterator<Item = &'k Shape> + Clone) -> Value {
    let words: Vec<&str> = kinds.clone().map(|kind| kind.what).collect();
    let of_kind = kinds.map(|kind| {
        json!({
            "if": {"properties": {"kind": {"const": kind.what}}, "required": ["kind"]},
            "then": def(&format!("{what}-{}", kind.what)),
        })
    });
    json!({
        "type": "object",
        "properties": {"kind": {"enum": words}},
        "required": ["kind"],
        "allOf": of_kind.collect::<Vec<Value>>(),
    })
}

/// An item, or a part of a case, of one kind.
fn of_kind(common: &Shape, kind: &Shape) -> Value {
    let mut item = object(common.keys.iter().chain(kind.keys));
    item["properties"]["kind"]["const"] = kind.what.into();
    // A caution with `safety: true`, and only there.
    item["if"] = json!({"properties": {"safety": {"const": true}}, "required": ["safety"]});
    item["then"] = json!({"required": ["caution"]});
    item["else"] = json!({"not": {"required": ["caution"]}});
    if let Some(options) = item["properties"].get_mut("options") {
        options["contains"] = json!({"properties": {"key": {"const": true}}, "required": ["key"]});
        if kind.what == "single" {
            options["maxContains"] = 1.into();
        }
    }
    item
}

/// A map with these keys and no others.
fn object<'k>(keys: impl Iterator<Item = &'k Key> + Clone) -> Value {
    let must = keys.clone().filter(|key| key.must).map(|key| key.name);
    let required: Vec<&str> = must.collect();
    let properties = keys.map(|key| {
        let mut value = value(key);
        value["description"] = key.holds.into();
        (key.name.to_owned(), value)
    });
    json!({
        "type": "object",
        "properties": properties.collect::<Map<String, Value>>(),
        "required": required,
        "additionalProperties": false,
    })
}

/// What a key may hold. Every key that the reader knows is named here; a test sees to it.
fn value(key: &Key) -> Value {
    match key.name {
        "deck" | "id" if key.holds.starts_with("the short name") => id("A-Za-z"),
        "deck" | "id" => id("a-z"),
        "title" | "rule" | "name" => line(longest::LINE),
        "unit" => line(longest::TERM),
        // Which kinds there are depends on where it stands: see `by_kind`.
        "kind" | "round" => json!({"type": "string"}),
        "edition" => json!({"type": "string", "pattern": r"^\s*[0-9]{4}-[0-9]{2}-[0-9]{2}\s*$"}),
        "language" => {
            json!({"type": "string", "pattern": r"^\s*(?![Ee][Nn][Gg]\b)[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*\s*$"})
        }
        "licence" => {
            json!({"type": "string", "pattern": r"^\s*[A-Za-z0-9.+-]+\s*$", "maxLength": longest::LINE})
        }
        "weight" => json!({"type": "number", "exclusiveMinimum": 0, "maximum": 100}),
        "year" => json!({"type": "integer", "minimum": 1500, "maximum": 2200}),
        "cite" => text(longest::CITE),
        "stem" | "finding" => text(longest::STEM),
        "rationale" | "caution" | "why" | "because" | "solution" => text(longest::REASON),
        // Whether it is the id of one, the reader asks.
        "topic" | "belief" => line(longest::REASON),
        "text" if key.holds.contains("sentence") => text(longest::REASON),
        "text" if key.holds.contains("term") => line(longest::TERM),
        "text" | "left" | "right" => line(longest::OPTION),
        "key" if key.holds.contains("right place") => {
            json!({"anyOf": [line(longest::LINE), list(&line(longest::LINE), 1, None)]})
        }
        "jaw" => words(JAWS.map(Jaw::word)),
        "side" => words(SIDES.map(Quadrant::word)),
        "surface" => words(SURFACES.map(Aspect::word)),
        "type" => words(Family::ALL.map(Family::word)),
        "limit" => words(Limit::ALL.map(Limit::word)),
        "breaks" => words(Rule::ALL.map(Rule::word)),
        "decisive" | "advisory" => list(&words(Rule::ALL.map(Rule::word)), 1, None),
        "diagram" | "show" | "papilla_start" | "place" | "source" | "design" => line(longest::CITE),
        // What a drawing holds is the drawings' own business.
        "diagrams" => list(&json!({"type": "object"}), 1, None),
        "places" => list(&line(longest::LINE), 4, Some(12)),
        "units" => list(&line(longest::TERM), 1, Some(20)),
        "wrong" => list(&def("wrong-place"), 1, None),
        "case" => def("flap-case"),
        "bone" => def("bone"),
        "site" | "missing" | "eminences" => list(&tooth(), 1, None),
        "defects" => list(&def("defect"), 1, None),
        "tooth" => tooth(),
        "attached" => json!({"type": "number", "minimum": 0, "maximum": 15}),
        "top" | "bottom" => json!({"type": "number", "minimum": 0, "maximum": 40}),
        "value" | "from" | "to" | "step" => json!({"type": "number"}),
        "thresholds" => list(&def("threshold"), 1, None),
        "slips" if key.holds.starts_with("what is to be said") => list(&def("flap-slip"), 1, None),
        "safety" | "key" | "keep_order" | "allow_negative" | "spare_margin" => {
            json!({"type": "boolean"})
        }
        "wordings" => list(&text(longest::STEM), 1, None),
        "sources" if key.holds.starts_with("the list") => list(&def("source"), 1, None),
        "sources" => list(&line(longest::CITE), 1, None),
        "accept" => list(&line(longest::TERM), 1, None),
        "topics" => list(&def("topic"), 1, None),
        "beliefs" => list(&def("belief"), 1, None),
        "items" => list(&def("item"), 1, None),
        "allow" => list(&def("allowance"), 1, None),
        "options" => list(&def("option"), 2, Some(8)),
        "steps" => list(&def("step"), 3, Some(8)),
        "pairs" => list(&def("pair"), 2, Some(8)),
        "extra" => list(&def("extra"), 1, Some(8)),
        "refuse" => list(&def("refused"), 1, None),
        "parts" => list(&def("part"), 2, Some(8)),
        "draw" => json!({"type": "object", "minProperties": 1, "additionalProperties": {"anyOf": [
            def("range"),
            {"type": "array", "minItems": 1, "items": {"type": ["number", "string"]}},
        ]}}),
        "rows" => json!({"type": "array", "minItems": 2, "items":
            {"type": "object", "minProperties": 1, "additionalProperties": {"type": ["number", "string"]}}}),
        "derive" => {
            json!({"type": "object", "minProperties": 1, "additionalProperties": {"type": ["number", "string"]}})
        }
        "require" | "answer" | "gives" | "tolerance" => json!({"type": ["number", "string"]}),
        "slips" => list(&def("slip"), 1, Some(8)),
        _ => json!({}),
    }
}

fn def(name: &str) -> Value {
    json!({"$ref": format!("#/$defs/{name}")})
}

/// One of a few words.
fn words<const N: usize>(words: [&str; N]) -> Value {
    json!({"enum": words.as_slice()})
}

fn tooth() -> Value {
    json!({"type": "integer", "minimum": 1, "maximum": 8})
}

fn list(of: &Value, least: usize, most: Option<usize>) -> Value {
    let mut list = json!({"type": "array", "items": of, "minItems": least});
    if let Some(most) = most {
        list["maxItems"] = most.into();
    }
    list
}

/// A text with something in it.
fn text(longest: usize) -> Value {
    json!({"type": "string", "pattern": r"\S", "maxLength": longest})
}

/// The same on one line; blank around it does not count.
fn line(longest: usize) -> Value {
    json!({"type": "string", "pattern": r"^\s*\S([^\n]*\S)?\s*$", "maxLength": longest})
}

fn id(letters: &str) -> Value {
    let pattern = format!(r"^\s*[{letters}0-9][{letters}0-9-]{{0,63}}\s*$");
    json!({"type": "string", "pattern": pattern})
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_of_the_reader_has_a_value() {
        let common = [
            &DECK,
            &TOPIC,
            &SOURCE,
            &BELIEF,
            &ALLOW,
            &STEP,
            &PAIR,
            &EXTRA,
            &REFUSED,
            &OPTION,
            &ITEM,
            &PART,
            &RANGE,
            &SLIP,
            &WRONG_PLACE,
            &FLAP_CASE,
            &BONE,
            &DEFECT,
            &THRESHOLD,
            &FLAP_SLIP,
        ];
        for shape in common.into_iter().chain(KINDS) {
            for key in shape.keys {
                assert_ne!(value(key), json!({}), "{} of {}", key.name, shape.what);
            }
        }
    }
}
