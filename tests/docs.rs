//! The examples in the documents can be copied: each is checked, and nothing is said of it.
#![cfg(test)]

use luxate::deck::{self, read_deck};

const PAGES: [(&str, &str); 3] = [
    ("README.md", include_str!("../README.md")),
    ("decks/README.md", include_str!("../decks/README.md")),
    ("decks/pictures.md", include_str!("../decks/pictures.md")),
];

fn head(topic: &str) -> String {
    format!(
        "deck: example\ntitle: An example\nedition: \"2026-11-25\"\nlanguage: en\nlicence: CC-BY-4.0\n\
         topics:\n  - {{id: {topic}, title: Its topic, weight: 2}}\n\
         sources:\n  - {{id: MANUAL, cite: \"Author A. 2020. A manual. Publisher\", year: 2020}}\n"
    )
}

/// A whole deck around an example; none around what is no more than a few keys of an item.
fn whole(block: &str) -> Option<String> {
    if block.starts_with("deck: ") {
        return Some(block.to_owned());
    }
    if block.starts_with("diagrams:") {
        let item = "items:\n  - id: dull\n    topic: nerves\n    kind: locate\n    stem: Point to where a nerve leaves this bone.\n    \
                    diagram: block\n    key: mental foramen\n    rationale: It leaves by the opening.\n    sources: [MANUAL p 1]\n";
        return Some(format!("{}{block}{item}", head("nerves")));
    }
    let topic = block
        .lines()
        .find_map(|line| line.trim().strip_prefix("topic: "))?;
    Some(format!("{}items:\n{block}", head(topic)))
}

/// What is said of a deck, a line each.
fn said(text: &str) -> Vec<String> {
    let mut readings = [read_deck("example.yaml", text.as_bytes())];
    deck::across(&mut readings, &[]);
    let found = readings[0].diagnostics.iter();
    found
        .map(|found| format!("{}: {}", found.code, found.message))
        .collect()
}

#[test]
fn nothing_is_said_of_the_examples() {
    let mut count = 0;
    for (page, text) in PAGES {
        for block in text.split("\n```yaml\n").skip(1) {
            let block = format!("{}\n", block.split("\n```").next().unwrap());
            if let Some(deck) = whole(&block) {
                assert_eq!(said(&deck), Vec::<String>::new(), "{page}:\n{block}");
                count += 1;
            }
        }
    }
    assert!(count >= 7, "{count}");
}

/// The keys of a flap's case, which fit no one design: nothing but that is said of them.
#[test]
fn the_case_of_a_flap_is_read() {
    let (_, case) = PAGES[2].1.split_once("```yaml\ncase:\n").unwrap();
    let case = case
        .split("```")
        .next()
        .unwrap()
        .replace("\n  ", "\n      ");
    let deck = format!(
        "{}items:\n  - id: root\n    topic: flaps\n    kind: flap\n    stem: A root is to be reached. Design the flap.\n    \
         case:\n    {}\n    show: 4ml .. 7dl\n    rationale: So it is.\n    sources: [MANUAL p 1]\n",
        head("flaps"),
        case.trim_end()
    );
    let said = said(&deck);
    assert!(
        said.iter()
            .all(|line| line.starts_with("deck::unsound-design")),
        "{said:#?}\n{deck}"
    );
}
