//! What holds of every deck: the reader survives any bytes, what it says may be printed, and a deck that is
//! printed is read back as it was.
#![cfg(test)]

use std::fs;
use std::path::Path;
use std::sync::Arc;

use luxate::cli::render::{self, Look};
use luxate::deck::model::{
    AnswerOption, Belief, Body, Case, Choice, Citation, Deck, Extra, FlapSlip, FlapTask, Item,
    Locate, Match, Pair, Part, Refused, Short, Source, Step, Topic, WrongPlace,
};
use luxate::deck::{Reading, read_deck};
use luxate::figure::base;
use luxate::figure::teeth::{Jaw, Tooth};
use luxate::flap::{Aspect, Bone, Case as FlapCase, Family, Operation, Quadrant, Rule, Thresholds};
use luxate::text;
use luxate::time::Day;
use proptest::prelude::*;
use proptest::sample::Index;
use serde_json::{Value, json};

/// Reads bytes and draws everything that is said of them; fails if a terminal should not get it.
fn survive(name: &str, bytes: &[u8]) -> Reading {
    let reading = read_deck(name, bytes);
    let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
    assert_eq!(
        said.chars()
            .find(|character| text::is_forbidden(*character)),
        None,
        "{said:?}"
    );
    assert_eq!(reading.deck.is_none(), reading.diagnostics.has_errors());
    for found in &reading.diagnostics {
        let places = found
            .related
            .iter()
            .chain([&found.primary])
            .map(|label| label.span);
        for span in places.chain(found.patch.iter().map(|patch| patch.span)) {
            assert!(reading.source.text().get(span.range()).is_some());
        }
    }
    reading
}

/// A deck with all kinds in it.
fn all_kinds() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks/good/all-kinds.yaml");
    fs::read_to_string(path).unwrap()
}

/// A change to a text somewhere in it.
#[derive(Clone, Debug)]
enum Change {
    Cut(Index, usize),
    Put(Index, String),
    Twice(Index, usize),
}

fn change() -> impl Strategy<Value = Change> {
    let pieces = vec![
        "\n",
        "  ",
        "- ",
        ": ",
        "#",
        " #",
        "\"",
        "'",
        "&a ",
        "*a",
        "!t ",
        "|",
        ">",
        "[",
        "]",
        "{",
        "}",
        ",",
        "?",
        "---\n",
        "...",
        "\t",
        "\u{202e}",
        "\u{1b}",
        "\u{85}",
        "下",
        "\\",
        "~",
        "true",
        "1.10",
        "%",
        "@",
        "`",
        "<<: ",
        "\r",
        "\0",
        "key: true\n",
        "\u{feff}",
        "é",
        "\u{301}",
    ];
    let piece = prop::sample::select(pieces).prop_map(str::to_owned);
    prop_oneof![
        (any::<Index>(), 0_usize..40).prop_map(|(at, length)| Change::Cut(at, length)),
        (any::<Index>(), piece).prop_map(|(at, piece)| Change::Put(at, piece)),
        (any::<Index>(), 0_usize..200).prop_map(|(at, length)| Change::Twice(at, length)),
    ]
}

impl Change {
    fn make(&self, text: &str) -> String {
        let characters: Vec<char> = text.chars().collect();
        let (Self::Cut(at, _) | Self::Put(at, _) | Self::Twice(at, _)) = self;
        let (before, after) = characters.split_at(at.index(characters.len() + 1));
        let text = |characters: &[char]| characters.iter().collect::<String>();
        match self {
            Self::Cut(_, length) => {
                text(before) + text(&after[(*length).min(after.len())..]).as_str()
            }
            Self::Put(_, piece) => text(before) + piece.as_str() + text(after).as_str(),
            Self::Twice(_, length) => {
                text(before)
                    + text(&after[..(*length).min(after.len())]).as_str()
                    + text(after).as_str()
            }
        }
    }
}

proptest! {
    #[test]
    fn any_bytes_are_survived(name in any::<String>(), bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        survive(&name, &bytes);
    }

    #[test]
    fn any_text_is_survived(text in "[-a: \n#\"'&*!|>\\[\\]{},?~0.\t%@`é下\u{202e}]{0,80}") {
        survive("any.yaml", text.as_bytes());
    }

    #[test]
    fn a_changed_deck_is_survived(changes in prop::collection::vec(change(), 1..6)) {
        let text = changes.iter().fold(all_kinds(), |text, change| change.make(&text));
        survive("changed.yaml", text.as_bytes());
    }
}

/// Text as authors may write it, with everything YAML could stumble over.
fn prose(lines: &'static str) -> impl Strategy<Value = String> {
    let pattern = format!(
        "[A-Za-z0-9#:'\"&*!%@`{{}}\\[\\]éß下,.?|>~=<-]([A-Za-z0-9 #:'\"&*!%@`é下,.?{lines}-]{{0,30}}[a-z0-9#.:\"'])?"
    );
    proptest::string::string_regex(&pattern).unwrap()
}

fn line() -> impl Strategy<Value = String> {
    prose("")
}

fn paragraphs() -> impl Strategy<Value = String> {
    prose("\n")
}

/// So many lines that do not look alike.
fn lines(count: std::ops::Range<usize>) -> impl Strategy<Value = Vec<String>> {
    let numbered = |lines: Vec<String>| {
        let lines = lines.into_iter().enumerate();
        lines
            .map(|(index, line)| format!("{line} {index}"))
            .collect()
    };
    prop::collection::vec(line(), count).prop_map(numbered)
}

fn choice(single: bool) -> impl Strategy<Value = Choice> {
    let belief = prop::option::of(Just("belief-1".to_owned()));
    let rest = prop::collection::vec((any::<bool>(), paragraphs(), belief), 8);
    (lines(2..9), rest, any::<Index>(), any::<bool>()).prop_map(
        move |(texts, rest, key, keep_order)| {
            let key = key.index(texts.len());
            let options = texts.into_iter().zip(rest).enumerate();
            let options = options.map(|(index, (text, (is_key, why, belief)))| {
                let key = index == key || (is_key && !single);
                let belief = belief.filter(|_| !key);
                AnswerOption {
                    text,
                    key,
                    why: Some(why),
                    belief,
                }
            });
            Choice {
                options: options.collect(),
                keep_order,
            }
        },
    )
}

fn matching() -> impl Strategy<Value = Match> {
    (lines(4..17), paragraphs(), prop::option::of(paragraphs())).prop_map(
        |(texts, extra_why, why)| {
            let half = texts.len() / 2;
            let (lefts, rights) = texts.split_at(half);
            let pairs = lefts.iter().zip(rights).map(|(left, right)| Pair {
                left: left.clone(),
                right: right.clone(),
                why: why.clone(),
            });
            let extra = rights.get(half).map(|text| Extra {
                text: text.clone(),
                why: extra_why.clone(),
            });
            Match {
                pairs: pairs.collect(),
                extra: extra.into_iter().collect(),
            }
        },
    )
}

fn locate() -> impl Strategy<Value = Locate> {
    let rest = (paragraphs(), prop::option::of(Just("belief-1".to_owned())));
    (any::<Index>(), any::<Index>(), rest).prop_map(|(figure, key, (why, belief))| {
        let figure = figure.get(base::all());
        let key = key.index(figure.places.len());
        let place = (key + 1) % figure.places.len();
        Locate {
            figure: Arc::new(figure.clone()),
            keys: vec![key],
            wrong: vec![WrongPlace { place, why, belief }],
        }
    })
}

/// Sound designs of three worked cases, one with a slip.
fn flap() -> impl Strategy<Value = FlapTask> {
    let task = |jaw, site: u8, show: &str, family, slip: Option<(Rule, &str, String)>| {
        let operation = Operation {
            jaw,
            quadrant: Quadrant::Right,
            aspect: Aspect::Buccal,
            site: vec![Tooth::new(site).unwrap()],
            bone: Bone {
                top_mm: 2.0,
                bottom_mm: 8.0,
            },
            missing: vec![],
        };
        FlapTask {
            case: Arc::new(FlapCase::new(operation, Thresholds::default()).unwrap()),
            family,
            show: show.parse().unwrap(),
            slips: slip
                .into_iter()
                .map(|(breaks, design, why)| FlapSlip {
                    breaks,
                    design: design.parse().unwrap(),
                    why,
                    belief: Some("belief-1".to_owned()),
                })
                .collect(),
        }
    };
    (0..3, paragraphs()).prop_map(move |(case, why)| match case {
        0 => task(Jaw::Lower, 6, "4ml .. 7dl", Some(Family::Envelope), None),
        1 => task(Jaw::Upper, 6, "5ml r12@20 .. 7dl", None, None),
        _ => {
            let slip = (Rule::Start, "4mp r10@5 .. 6dl", why);
            task(Jaw::Lower, 5, "4ml r10@20 .. 6dl", None, Some(slip))
        }
    })
}

fn body() -> impl Strategy<Value = Body> {
    let steps = (lines(3..9), prop::option::of(paragraphs())).prop_map(|(texts, why)| {
        texts
            .into_iter()
            .map(|text| Step {
                text,
                why: why.clone(),
            })
            .collect()
    });
    let short = (lines(1..5), lines(0..4), paragraphs()).prop_map(|(accept, refuse, why)| Short {
        accept,
        refuse: refuse
            .into_iter()
            .map(|text| Refused {
                text: format!("not {text}"),
                why: why.clone(),
                belief: Some("belief-1".to_owned()),
            })
            .collect(),
    });
    prop_oneof![
        choice(true).prop_map(Body::Single),
        choice(false).prop_map(Body::Multiple),
        steps.prop_map(Body::Order),
        matching().prop_map(Body::Match),
        short.prop_map(Body::Short),
        locate().prop_map(Body::Locate),
        flap().prop_map(|task| Body::Flap(Box::new(task))),
    ]
}

fn item() -> impl Strategy<Value = Item> {
    prop_oneof![4 => item_of(body().boxed()), 1 => item_of(case().boxed())]
}

fn case() -> impl Strategy<Value = Body> {
    let finding = prop::option::of(paragraphs());
    let parts = prop::collection::vec((finding, item_of(body().boxed())), 2..5);
    parts.prop_map(|parts| {
        let part = |(index, (finding, mut item)): (usize, (Option<String>, Item))| {
            item.id = format!("part-{index}");
            item.stems.truncate(1);
            Part { finding, item }
        };
        let parts = parts.into_iter().enumerate().map(part).collect();
        Body::Case(Case { parts })
    })
}

fn item_of(body: BoxedStrategy<Body>) -> impl Strategy<Value = Item> {
    let place = prop_oneof![Just(String::new()), line()];
    (
        lines(1..4),
        body,
        paragraphs(),
        place,
        prop::option::of(paragraphs()),
    )
        .prop_map(|(stems, body, rationale, place, caution)| Item {
            id: String::new(),
            topic: "topic-1".to_owned(),
            stems,
            body,
            rationale,
            sources: vec![Citation {
                source: "SRC1".to_owned(),
                place,
            }],
            caution,
        })
}

fn deck() -> impl Strategy<Value = Deck> {
    (
        prop::collection::vec(item(), 1..4),
        line(),
        0.001..100.0_f64,
        0_i64..30_000,
        1500_u16..2200,
    )
        .prop_map(|(mut items, text, weight, day, year)| {
            for (index, item) in items.iter_mut().enumerate() {
                item.id = format!("item-{index}");
            }
            Deck {
                id: "sample-1".to_owned(),
                title: text.clone(),
                edition: Day::from_number(day),
                language: "pt-BR".to_owned(),
                licence: "CC-BY-4.0".to_owned(),
                topics: vec![Topic {
                    id: "topic-1".to_owned(),
                    title: text.clone(),
                    weight,
                }],
                sources: vec![Source {
                    id: "SRC1".to_owned(),
                    cite: text.clone(),
                    year,
                }],
                beliefs: vec![Belief {
                    id: "belief-1".to_owned(),
                    text,
                }],
                items,
            }
        })
}

/// A deck as plain data, keys without a value left out.
fn data(deck: &Deck) -> Value {
    let topics = deck
        .topics
        .iter()
        .map(|topic| json!({"id": topic.id, "title": topic.title, "weight": topic.weight}));
    let sources = deck
        .sources
        .iter()
        .map(|source| json!({"id": source.id, "cite": source.cite, "year": source.year}));
    let beliefs = deck
        .beliefs
        .iter()
        .map(|belief| json!({"id": belief.id, "text": belief.text}));
    json!({
        "deck": deck.id,
        "title": deck.title,
        "edition": deck.edition.to_string(),
        "language": deck.language,
        "licence": deck.licence,
        "topics": topics.collect::<Vec<_>>(),
        "sources": sources.collect::<Vec<_>>(),
        "beliefs": beliefs.collect::<Vec<_>>(),
        "items": deck.items.iter().map(item_data).collect::<Vec<_>>(),
    })
}

fn item_data(item: &Item) -> Value {
    let cited = item
        .sources
        .iter()
        .map(|cited| format!("{} {}", cited.source, cited.place));
    let mut data = json!({
        "id": item.id,
        "topic": item.topic,
        "kind": item.body.kind(),
        "stem": item.stems[0],
        "rationale": item.rationale,
        "sources": cited.collect::<Vec<_>>(),
    });
    if item.stems.len() > 1 {
        data["wordings"] = json!(item.stems[1..]);
    }
    if let Some(caution) = &item.caution {
        data["safety"] = json!(true);
        data["caution"] = json!(caution);
    }
    let set = |data: &mut Value, key: &str, list: Vec<Value>| {
        if !list.is_empty() {
            data[key] = list.into_iter().map(without_null).collect();
        }
    };
    match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => {
            let options = choice.options.iter().map(
                |option| json!({"text": option.text, "key": option.key, "why": option.why, "belief": option.belief}),
            );
            set(&mut data, "options", options.collect());
            data["keep_order"] = json!(choice.keep_order);
        }
        Body::Order(steps) => {
            let steps = steps
                .iter()
                .map(|step| json!({"text": step.text, "why": step.why}));
            set(&mut data, "steps", steps.collect());
        }
        Body::Match(matching) => {
            let pairs = matching.pairs.iter();
            let pairs =
                pairs.map(|pair| json!({"left": pair.left, "right": pair.right, "why": pair.why}));
            set(&mut data, "pairs", pairs.collect());
            let extra = matching
                .extra
                .iter()
                .map(|extra| json!({"text": extra.text, "why": extra.why}));
            set(&mut data, "extra", extra.collect());
        }
        Body::Locate(locate) => {
            let name = |place: usize| locate.figure.places[place].name.clone();
            data["diagram"] = json!(locate.figure.id);
            data["key"] = locate.keys.iter().map(|&key| name(key)).collect();
            let wrong = locate.wrong.iter();
            let wrong = wrong.map(
                |wrong| json!({"place": name(wrong.place), "why": wrong.why, "belief": wrong.belief}),
            );
            set(&mut data, "wrong", wrong.collect());
        }
        Body::Flap(task) => flap_data(task, &mut data),
        Body::Short(short) => {
            data["accept"] = json!(short.accept);
            let refuse = short.refuse.iter();
            let refuse = refuse
                .map(|wrong| json!({"text": wrong.text, "why": wrong.why, "belief": wrong.belief}));
            set(&mut data, "refuse", refuse.collect());
        }
        // Printed and read back by its own tests.
        Body::Numeric(_) => {}
        Body::Case(case) => {
            let parts = case.parts.iter().map(|part| {
                let mut data = item_data(&part.item);
                // The topic is that of the case.
                data.as_object_mut().unwrap().remove("topic");
                data["finding"] = json!(part.finding);
                data
            });
            set(&mut data, "parts", parts.collect());
        }
    }
    data
}

fn flap_data(task: &FlapTask, data: &mut Value) {
    let case = &task.case;
    let number = |tooth: &Tooth| tooth.number();
    data["case"] = json!({
        "jaw": case.jaw().word(),
        "side": case.quadrant().word(),
        "surface": case.aspect().word(),
        "site": case.site().iter().map(number).collect::<Vec<_>>(),
        "bone": {"top": case.bone().top_mm, "bottom": case.bone().bottom_mm},
    });
    data["show"] = json!(task.show.to_string());
    if let Some(family) = task.family {
        data["type"] = json!(family.word());
    }
    let slips = task.slips.iter().map(|slip| {
        json!({
            "breaks": slip.breaks.word(),
            "design": slip.design.to_string(),
            "why": slip.why,
            "belief": slip.belief,
        })
    });
    if !task.slips.is_empty() {
        data["slips"] = slips.map(without_null).collect();
    }
}

fn without_null(mut data: Value) -> Value {
    if let Some(map) = data.as_object_mut() {
        map.retain(|_, value| !value.is_null());
    }
    data
}

proptest! {
    #[test]
    fn a_printed_deck_is_read_back(deck in deck()) {
        let data = data(&deck);
        // JSON is YAML in flow style.
        let printed = [serde_yaml::to_string(&data).unwrap(), serde_json::to_string_pretty(&data).unwrap()];
        for text in printed {
            let reading = survive("printed.yaml", text.as_bytes());
            let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
            prop_assert_eq!(reading.deck.as_ref(), Some(&deck), "{}\n{}", text, said);
        }
    }
}
