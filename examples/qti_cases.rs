//! Writes a deck's QTI package and, by way of the program's own marking, answers with the scores that they deserve:
//! `cargo run --example qti_cases -- DECK.yaml FOLDER`. The scripts in tests/qti give those answers to other programs.
//!
//! Answers are told in the deck's words and not in the identifiers of the package, so that a mistake in these cannot hide.

use std::fs;
use std::path::Path;

use anyhow::{Context, bail};
use luxate::deck::model::{Body, Item};
use luxate::deck::read_deck;
use luxate::interchange::qti::{archive, export};
use luxate::kinds::{self, Form, Pose, Response};
use serde_json::{Value, json};

fn main() -> anyhow::Result<()> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [path, folder] = arguments.as_slice() else {
        bail!("name a deck file and a folder to write to");
    };
    let folder = Path::new(folder);
    let deck = read_deck(path, &fs::read(path)?)
        .deck
        .with_context(|| format!("{path} has errors"))?;
    let package = export(&deck);
    fs::create_dir_all(folder)?;
    fs::write(folder.join("package.zip"), archive(&package.files)?)?;
    fs::write(folder.join("names.csv"), package.report.names_csv())?;
    fs::write(folder.join("report.txt"), package.report.to_string())?;
    let cases: Vec<Value> = deck.items.iter().flat_map(cases).collect();
    fs::write(
        folder.join("cases.json"),
        serde_json::to_vec_pretty(&cases)?,
    )?;
    Ok(())
}

/// Right and wrong answers to one item, each with its score; none to what has to stay behind.
fn cases(item: &Item) -> Vec<Value> {
    if item.parts().is_empty() {
        return answers(item);
    }
    // All the parts are answered at once: each in turn goes through all its answers while the others have their last, which is
    // right wherever there is a choice, and once all have their first, which is wrong.
    let parts: Vec<Vec<Value>> = item
        .parts()
        .iter()
        .map(|part| answers(&part.item))
        .collect();
    if parts.iter().any(Vec::is_empty) {
        return Vec::new();
    }
    let last: Vec<&Value> = parts.iter().filter_map(|part| part.last()).collect();
    let each = parts.iter().enumerate().flat_map(|(place, own)| {
        let last = &last;
        own.iter().map(move |answer| {
            let mut given = last.clone();
            given[place] = answer;
            given
        })
    });
    let first = parts.iter().filter_map(|part| part.first()).collect();
    each.chain([first])
        .map(|given| {
            let score: u64 = given.iter().filter_map(|part| part["score"].as_u64()).sum();
            json!({
                "item": item.id,
                "kind": item.body.kind(),
                "stem": item.stems[0],
                "parts": given,
                "score": score,
            })
        })
        .collect()
}

/// Right and wrong answers to one question.
fn answers(item: &Item) -> Vec<Value> {
    let pose = Pose::new(item, None, 0);
    let question = kinds::question(item, &pose);
    let form = &question.form;
    let mut responses = match right(item, &pose, form) {
        Some(key) => wrong(form, &key).into_iter().chain([key]).collect(),
        None => Vec::new(),
    };
    if let Body::Short(short) = &item.body {
        let accepted = short.accept.iter();
        let spelt = accepted.flat_map(|term| [term.clone(), term.to_uppercase()]);
        let refused = short.refuse.iter().map(|refused| refused.text.clone());
        responses.extend(spelt.chain(refused).map(Response::Typed));
    }
    let marked = responses.into_iter().filter_map(|response| {
        let verdict = kinds::mark(item, &pose, &response).ok()?;
        Some(json!({
            "item": item.id,
            "kind": item.body.kind(),
            "stem": question.stem,
            "answer": told(form, &response),
            "score": u8::from(verdict.right),
        }))
    });
    marked.collect()
}

/// The response that the marking calls the key.
fn right(item: &Item, pose: &Pose, form: &Form) -> Option<Response> {
    let any = match form {
        Form::One(_) | Form::Several(_) | Form::Places(_) => Response::Chosen(vec![0]),
        Form::Sequence(steps) => Response::Sequence((0..steps.len()).collect()),
        Form::Pairs { lefts, .. } => Response::Pairs(vec![0; lefts.len()]),
        Form::Typed => Response::Typed("?".to_owned()),
        Form::Number { .. } => Response::Typed("0".to_owned()),
        // No rule of the standard can measure a design.
        Form::Flap(_) => return None,
    };
    let key = kinds::mark(item, pose, &any).ok()?.key;
    if matches!(form, Form::Places(_)) && key.len() > 1 {
        // Nor let one response be right in two ways.
        return None;
    }
    kinds::read(
        form,
        if matches!(form, Form::Typed | Form::Number { .. }) {
            key.get(..1)?
        } else {
            &key
        },
    )
    .ok()
}

/// Responses that differ from the key by little.
fn wrong(form: &Form, key: &Response) -> Vec<Response> {
    match (form, key) {
        (Form::One(options), _) => (0..options.len())
            .map(|place| Response::Chosen(vec![place]))
            .collect(),
        (Form::Places(figure), _) => (0..figure.places.len())
            .map(|place| Response::Chosen(vec![place]))
            .collect(),
        (Form::Several(options), Response::Chosen(key)) => {
            let turned = |place: usize| {
                let mut chosen: Vec<usize> = (0..options.len())
                    .filter(|option| key.contains(option) != (*option == place))
                    .collect();
                chosen.reverse();
                Response::Chosen(chosen)
            };
            let all = Response::Chosen((0..options.len()).collect());
            (0..options.len()).map(turned).chain([all]).collect()
        }
        (_, Response::Sequence(key)) => {
            let swapped = |place: usize| {
                let mut order = key.clone();
                order.swap(place, place + 1);
                Response::Sequence(order)
            };
            (0..key.len().saturating_sub(1)).map(swapped).collect()
        }
        (Form::Pairs { rights, .. }, Response::Pairs(key)) => {
            let moved = |left: usize| {
                let mut pairs = key.clone();
                pairs[left] = (pairs[left] + 1) % rights.len();
                Response::Pairs(pairs)
            };
            (0..key.len()).map(moved).collect()
        }
        (Form::Number { .. }, Response::Typed(key)) => {
            let key = number(key);
            let near = [0.98, 0.999, 1.001, 1.02].map(|factor| key * factor);
            let far = [0.0, key / 10.0, key * 10.0, key - 1.0, key + 1.0];
            let numbers = near.into_iter().chain(far);
            numbers
                .map(|near| Response::Typed(format!("{near:.4}")))
                .collect()
        }
        _ => vec![Response::Typed("something else".to_owned())],
    }
}

/// The number at the start of a key, without its unit.
fn number(typed: &str) -> f64 {
    let digits = typed
        .split(' ')
        .next()
        .and_then(|number| number.parse().ok());
    digits.unwrap_or(f64::NAN)
}

/// A response in words: options, steps in order, left and right, or the term.
fn told(form: &Form, response: &Response) -> Value {
    match (form, response) {
        (Form::One(texts) | Form::Several(texts), Response::Chosen(places))
        | (Form::Sequence(texts), Response::Sequence(places)) => {
            places.iter().map(|&place| texts[place].as_str()).collect()
        }
        (Form::Pairs { lefts, rights }, Response::Pairs(places)) => lefts
            .iter()
            .zip(places)
            .map(|(left, &right)| json!([left, rights[right]]))
            .collect(),
        (Form::Places(figure), Response::Chosen(places)) => places
            .iter()
            .map(|&place| &figure.places[place])
            .map(|place| json!({"says": place.says, "at": [place.at.x, place.at.y]}))
            .collect(),
        (Form::Number { .. }, Response::Typed(typed)) => json!(number(typed)),
        (_, Response::Typed(term)) => json!(term),
        _ => Value::Null,
    }
}
