//! What changes an item's fingerprint, and what does not.
#![cfg(test)]

use luxate::deck::fingerprint;
use luxate::deck::model::{AnswerOption, Body, Choice, Item, Match, Pair, Short, Step};
use luxate::deck::terms;
use proptest::prelude::*;
use proptest::sample::{Index, subsequence};

/// Words with an initial of their own each, so that no two texts share a signature.
const FIRST: [&str; 12] = [
    "socket",
    "buccal",
    "lingual",
    "maxillary",
    "elevator",
    "forceps",
    "haemorrhage",
    "periosteum",
    "numbness",
    "radiograph",
    "antibiotic",
    "irrigation",
];

/// Words that may follow; among them some that exclude others.
const MORE: [&str; 10] = [
    "mandibular",
    "incision",
    "suture",
    "swelling",
    "pressure",
    "gauze",
    "posterior",
    "lidocaine",
    "increased",
    "12 mm",
];

#[derive(Clone, Copy, Debug)]
enum Kind {
    Single,
    Multiple,
    Order,
    Match,
    Short,
}

/// An item of a kind with these texts: the first is the key.
fn item(kind: Kind, texts: &[String]) -> Item {
    let option = |(index, text): (usize, &String)| AnswerOption {
        text: text.clone(),
        key: index == 0,
        why: None,
        belief: None,
    };
    let choice = || Choice {
        options: texts.iter().enumerate().map(option).collect(),
        keep_order: false,
    };
    let half = texts.len() / 2;
    let body = match kind {
        Kind::Single => Body::Single(choice()),
        Kind::Multiple => Body::Multiple(choice()),
        Kind::Order => Body::Order(
            texts
                .iter()
                .map(|text| Step {
                    text: text.clone(),
                    why: None,
                })
                .collect(),
        ),
        Kind::Match => Body::Match(Match {
            pairs: (0..half)
                .map(|index| Pair {
                    left: texts[index].clone(),
                    right: texts[half + index].clone(),
                    why: None,
                })
                .collect(),
            extra: Vec::new(),
        }),
        Kind::Short => Body::Short(Short {
            accept: texts.to_vec(),
            refuse: Vec::new(),
        }),
    };
    Item {
        id: "sample".to_owned(),
        topic: "sample".to_owned(),
        stems: vec!["Which?".to_owned()],
        body,
        rationale: "So.".to_owned(),
        sources: Vec::new(),
        caution: None,
    }
}

fn kind() -> impl Strategy<Value = Kind> {
    prop::sample::select(vec![
        Kind::Single,
        Kind::Multiple,
        Kind::Order,
        Kind::Match,
        Kind::Short,
    ])
}

fn texts() -> impl Strategy<Value = Vec<String>> {
    let more = prop::collection::vec(
        prop::collection::vec(prop::sample::select(&MORE[..]), 0..4),
        8,
    );
    (subsequence(&FIRST[..], 4..=8).prop_shuffle(), more).prop_map(|(first, more)| {
        let texts = first.into_iter().zip(more);
        texts
            .map(|(first, more)| [vec![first], more].concat().join(" "))
            .collect()
    })
}

/// A text with one letter changed within its first word, but not that word's first letter.
fn misspelt(text: &str, at: Index, letter: char) -> String {
    let (word, _) = text.split_once(' ').unwrap_or((text, ""));
    let at = 1 + at.index(word.len() - 1);
    let change = |(index, old)| if index == at { letter } else { old };
    text.chars().enumerate().map(change).collect()
}

proptest! {
    #[test]
    fn a_mended_letter_changes_nothing(kind in kind(), mut texts in texts(), which: Index, at: Index, letter in proptest::char::range('a', 'z')) {
        let before = fingerprint(&item(kind, &texts));
        let which = which.index(texts.len());
        let changed = misspelt(&texts[which], at, letter);
        // A letter that makes an `ae` or `oe`, or breaks one, counts for two.
        prop_assume!(terms::folded(&changed).len() == terms::folded(&texts[which]).len());
        texts[which] = changed;
        prop_assert_eq!(fingerprint(&item(kind, &texts)), before, "{}", texts[which]);
    }

    #[test]
    fn another_key_changes_it(kind in kind(), texts in texts(), which: Index) {
        let before = fingerprint(&item(kind, &texts));
        let mut moved = texts.clone();
        let which = 1 + which.index(texts.len() - 1);
        moved.swap(0, which);
        prop_assert_ne!(fingerprint(&item(kind, &moved)), before);
    }

    #[test]
    fn the_order_in_the_file_changes_nothing(texts in texts()) {
        for kind in [Kind::Single, Kind::Multiple, Kind::Match] {
            let mut turned = item(kind, &texts);
            match &mut turned.body {
                Body::Single(choice) | Body::Multiple(choice) => choice.options.reverse(),
                Body::Match(matching) => matching.pairs.reverse(),
                Body::Order(_)
                | Body::Short(_)
                | Body::Numeric(_)
                | Body::Locate(_)
                | Body::Flap(_)
                | Body::Case(_) => {}
            }
            prop_assert_eq!(fingerprint(&turned), fingerprint(&item(kind, &texts)));
        }
    }

    #[test]
    fn a_number_or_a_term_changes_it(kind in kind(), texts in texts(), which: Index) {
        let which = if matches!(kind, Kind::Single | Kind::Short) { 0 } else { which.index(texts.len() / 2) };
        for (one, two) in [("12 mm", "13 mm"), ("12 mm", "12 cm"), ("buccal", "lingual"), ("not", ""), ("hypotension", "hypertension")] {
            let with = |word: &str| {
                let mut texts = texts.clone();
                texts[which] = format!("{} {word}", texts[which]);
                fingerprint(&item(kind, &texts))
            };
            prop_assert_ne!(with(one), with(two), "{} {}", one, two);
        }
    }

    #[test]
    fn it_is_sixteen_hexadecimal_digits(kind in kind(), texts in prop::collection::vec(any::<String>(), 4..8)) {
        let print = fingerprint(&item(kind, &texts));
        prop_assert!(print.len() == 16 && print.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f')));
    }
}

/// One wrong letter in a term leaves it the term it was, or could be several; it never makes just another.
#[test]
fn a_slip_in_a_term_makes_no_other() {
    let forms = [
        "maxillary",
        "mandibular",
        "lingual",
        "palatal",
        "posterior",
        "inferior",
        "incision",
        "lidocaine",
        "hypertension",
    ];
    let (mut kept, mut all) = (0, 0);
    for form in forms {
        for at in 1..form.len() {
            for letter in 'a'..='z' {
                let change = |(index, old)| if index == at { letter } else { old };
                let changed: String = form.chars().enumerate().map(change).collect();
                let could_be = terms::terms(&changed);
                assert!(could_be.contains(&terms::terms(form)[0]), "{changed}");
                let is_clear = could_be.len() == 1;
                assert!(!(is_clear && terms::differ(&changed, form)), "{changed}");
                all += 1;
                kept += usize::from(could_be == terms::terms(form));
            }
        }
    }
    assert!(kept * 100 > all * 99, "{kept} of {all}");
}
