//! Decks and stamps for the tests of the full-screen front end. Invented for the tests; nothing here is teaching.

use std::sync::Arc;

use chrono::DateTime;
use luxate::answer::Answer;
use luxate::deck::library::Library;
use luxate::deck::model::{
    AnswerOption, Belief, Body, Choice, Citation, Deck, Extra, Item, Match, Pair, Refused, Short,
    Source, Step, Topic,
};
use luxate::memory::study::StudyPlan;
use luxate::round::Record;
use luxate::time::{Day, Moment, TURNOVER_HOUR};

/// The moment of an RFC 3339 time.
pub(crate) fn moment(text: &str) -> Moment {
    Moment::new(DateTime::parse_from_rfc3339(text).unwrap(), TURNOVER_HOUR)
}

/// A record with these answers.
pub(crate) fn record(decks: Vec<Deck>, answers: &[Answer]) -> Record {
    Record::replay(Arc::new(Library::new(decks)), StudyPlan::default(), answers)
}

fn option(text: &str, key: bool, why: &str) -> AnswerOption {
    AnswerOption {
        text: text.into(),
        key,
        why: (!why.is_empty()).then(|| why.into()),
        belief: None,
    }
}

fn step(text: &str, why: &str) -> Step {
    Step {
        text: text.into(),
        why: (!why.is_empty()).then(|| why.into()),
    }
}

fn pair(left: &str, right: &str, why: &str) -> Pair {
    Pair {
        left: left.into(),
        right: right.into(),
        why: (!why.is_empty()).then(|| why.into()),
    }
}

fn item(id: &str, stems: &[&str], body: Body, rationale: &str, caution: Option<&str>) -> Item {
    Item {
        id: id.into(),
        topic: "nerves".into(),
        stems: stems.iter().map(ToString::to_string).collect(),
        body,
        rationale: rationale.into(),
        sources: vec![Citation {
            source: "ATLAS".into(),
            place: "p 41".into(),
        }],
        caution: caution.map(Into::into),
    }
}

/// A deck of these items.
pub(crate) fn deck(items: Vec<Item>) -> Deck {
    Deck {
        id: "harbour".into(),
        title: "Nerves and openings, a small deck".into(),
        edition: Day::parse("2027-01-15").unwrap(),
        language: "en".into(),
        licence: "CC-BY-4.0".into(),
        topics: vec![Topic {
            id: "nerves".into(),
            title: "Nerves about the lower jaw".into(),
            weight: 5.0,
        }],
        sources: vec![Source {
            id: "ATLAS".into(),
            cite: "Harbour School. 2024. An invented atlas of the jaws".into(),
            year: 2024,
        }],
        beliefs: vec![Belief {
            id: "deep".into(),
            text: "The lingual nerve always lies deep in the floor of the mouth".into(),
        }],
        items,
    }
}

/// One best answer, a safety item in two wordings.
pub(crate) fn single() -> Item {
    let mut deep = option(
        "Always well below the root apices",
        false,
        "It may lie at the height of the alveolar crest.",
    );
    deep.belief = Some("deep".into());
    let options = vec![
        option(
            "Close to the lingual plate, at times at the height of the crest",
            true,
            "That is why a lingual flap puts it at risk.",
        ),
        deep,
        option(
            "Inside the mandibular canal",
            false,
            "The inferior alveolar nerve runs there.",
        ),
        option(
            "Lateral to the masseter",
            false,
            "No branch of the mandibular nerve runs there to the tongue.",
        ),
    ];
    item(
        "lingual-course",
        &[
            "Where may the lingual nerve be met beside a lower third molar?",
            "A lower third molar is to be removed. Which course of the lingual nerve must be reckoned with?",
        ],
        Body::Single(Choice {
            options,
            keep_order: false,
        }),
        "The nerve often touches the lingual plate beside the third molar. Its height varies from person to person, so that no level of the lingual side is safe by itself.",
        Some(
            "A lingual flap, a bur through the lingual plate or a deep suture can cut this nerve: half of the tongue may stay numb. Follow the technique taught where you practise.",
        ),
    )
}

/// Several right answers.
pub(crate) fn multiple() -> Item {
    let options = vec![
        option("Feeling of the lower lip", true, ""),
        option("Feeling of the chin", true, ""),
        option(
            "Taste of the front of the tongue",
            false,
            "The chorda tympani carries it with the lingual nerve.",
        ),
        option(
            "Movement of the lower lip",
            false,
            "The facial nerve moves it.",
        ),
    ];
    item(
        "canal-injury",
        &["Which of these can be lost when the nerve in the mandibular canal is injured?"],
        Body::Multiple(Choice {
            options,
            keep_order: true,
        }),
        "The inferior alveolar nerve ends as the mental nerve, which feels for lower lip and chin.",
        None,
    )
}

/// Steps in order.
pub(crate) fn order() -> Item {
    let steps = vec![
        step(
            "Incise through periosteum to bone",
            "A flap of full thickness begins with a cut to bone.",
        ),
        step(
            "Raise the flap under the periosteum",
            "Only then is bone seen.",
        ),
        step("Remove bone under irrigation", ""),
        step("Divide the tooth", "Divided roots need less bone removed."),
        step("Rinse the socket, then suture", ""),
    ];
    item(
        "surgical-steps",
        &["A lower molar is to be removed by flap and division. Put the steps in order."],
        Body::Order(steps),
        "Each step makes the next one possible.",
        None,
    )
}

/// Lefts to be given rights.
pub(crate) fn matching() -> Item {
    let pairs = vec![
        pair(
            "Lingual nerve",
            "Front of the tongue",
            "Feeling, with taste fibres on board.",
        ),
        pair("Mental nerve", "Lower lip and chin", ""),
        pair(
            "Long buccal nerve",
            "Gum beside the lower molars, cheek side",
            "",
        ),
    ];
    let extra = vec![Extra {
        text: "Upper lip".into(),
        why: "The infraorbital nerve feels for it.".into(),
    }];
    item(
        "areas",
        &["Which area does each nerve feel for?"],
        Body::Match(Match { pairs, extra }),
        "All three are branches of the mandibular nerve.",
        None,
    )
}

/// A typed term.
pub(crate) fn short() -> Item {
    let refuse = vec![Refused {
        text: "mental foramen".into(),
        why: "There the nerve leaves the bone as the mental nerve.".into(),
        belief: None,
    }];
    let accept = vec!["mandibular foramen".into(), "foramen mandibulae".into()];
    item(
        "entry",
        &["Through which opening does the inferior alveolar nerve enter the lower jaw?"],
        Body::Short(Short { accept, refuse }),
        "It lies on the inner face of the ramus, covered in front by the lingula.",
        None,
    )
}

/// Long lines, wide characters and a script that runs from right to left.
pub(crate) fn long() -> Item {
    let options = vec![
        option(
            "下顎孔から下顎管に入り、オトガイ孔から出てオトガイ神経となる経路",
            true,
            "下顎神経の枝である。",
        ),
        option(
            "العصب اللساني يمر بجانب الصفيحة اللسانية للفك السفلي",
            false,
            "هذا عصب آخر.",
        ),
        option(
            &"a course that is told at great length ".repeat(9),
            false,
            &"for reasons that go on and on ".repeat(12),
        ),
        option(
            "Thisisonewordwithoutanyspaceinitthatfitsnolineofanyscreenandmustbebrokensomewhereinsideofitselfsothatitcanbereadatallbyanyone",
            false,
            "Too long.",
        ),
    ];
    item(
        "long",
        &["下顎の神経についての問い: which course does the inferior alveolar nerve take, from where it leaves its stem below the skull base to where its last branches end in skin? العصب السنخي السفلي"],
        Body::Single(Choice { options, keep_order: true }),
        &"A rationale of many words, told in several sentences, so that it has to be scrolled on a small screen. ".repeat(12),
        Some(&"Take care, and take it at length. ".repeat(10)),
    )
}

/// All kinds, in this order.
pub(crate) fn all_kinds() -> Deck {
    deck(vec![
        single(),
        multiple(),
        order(),
        matching(),
        short(),
        long(),
    ])
}
