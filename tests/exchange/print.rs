//! Decks on paper.

use insta::assert_snapshot;
use luxate::deck::model::{Body, Deck, Item};
use luxate::kinds::{self, Pose};
use luxate::report::print::{Entry, FORMS_MAX, Format, Paper, forms, print};
use proptest::prelude::*;
use pulldown_cmark::{Event, Options, Parser, Tag};
use quick_xml::events::Event as Markup;

use crate::fixture::{deck, only, with_text};

const KINDS: [&str; 9] = [
    "single", "multiple", "order", "match", "short", "numeric", "case", "locate", "flap",
];
const FORMATS: [Format; 2] = [Format::Html, Format::CommonMark];
const PAPERS: [Paper; 2] = [Paper::Questions, Paper::Key];

/// One paper of a deck's first form.
fn paper(deck: &Deck, paper: Paper, format: Format) -> String {
    print(deck, &forms(deck, 7, 1)[0], paper, format)
}

/// The part of a page that its items fill.
fn items(html: &str) -> &str {
    let start = html.find("<main").unwrap();
    let end = html.find("</main>").unwrap();
    &html[start..end]
}

#[test]
fn each_kind_as_html() {
    for kind in KINDS {
        let deck = only(kind);
        let pages = PAPERS.map(|which| paper(&deck, which, Format::Html));
        assert_snapshot!(
            format!("html_{kind}"),
            pages.each_ref().map(|page| items(page)).join("\n")
        );
    }
}

#[test]
fn a_whole_deck_as_commonmark() {
    let pages = PAPERS.map(|which| paper(&deck(), which, Format::CommonMark));
    assert_snapshot!("commonmark_questions", pages[0]);
    assert_snapshot!("commonmark_key", pages[1]);
}

#[test]
fn the_frame_of_a_page() {
    let html = paper(&only("short"), Paper::Key, Format::Html);
    let (before, _) = html.split_once("<main").unwrap();
    let (style_start, style_end) = (
        before.find("<style>").unwrap(),
        before.find("</style>").unwrap(),
    );
    assert_snapshot!(
        "html_frame",
        format!("{}{}", &before[..style_start], &before[style_end..])
    );
}

#[test]
fn a_question_sheet_tells_nothing() {
    for format in FORMATS {
        let sheet = paper(&deck(), Paper::Questions, format);
        for secret in [
            "rationale",
            "Key",
            "HUPP7",
            "centre of rotation",
            "through no foramen",
            "numb half",
            "inferior alveolar nerve",
            "lowest course",
            "4ml",
        ] {
            assert!(!sheet.contains(secret), "{secret} on the sheet");
        }
        // Typed terms stand nowhere but on the key.
        assert!(!sheet.contains("Nervus lingualis"));
        assert!(paper(&deck(), Paper::Key, format).contains("Nervus lingualis"));
    }
}

/// The keys as printed at a glance, in order.
fn printed_keys(key: &str) -> Vec<String> {
    let (_, rest) = key.split_once("## Keys at a glance\n\n").unwrap();
    let (list, _) = rest.split_once("\n\n").unwrap();
    list.lines()
        .map(|line| line.split_once("**: ").unwrap().1.replace('\\', ""))
        .collect()
}

/// The questions of an entry: the item, or its parts if it is a case.
fn asked<'a>(deck: &'a Deck, entry: &'a Entry) -> Vec<(&'a Item, &'a Pose)> {
    let item = &deck.items[entry.item];
    if item.parts().is_empty() {
        return vec![(item, &entry.pose)];
    }
    let parts = item.parts().iter().map(|part| &part.item);
    parts.zip(&entry.parts).collect()
}

#[test]
fn every_printed_key_is_marked_right_and_belongs_to_its_form() {
    let deck = deck();
    for seed in 0..40 {
        for form in forms(&deck, seed, 3) {
            let keys = printed_keys(&print(&deck, &form, Paper::Key, Format::CommonMark));
            let asked: Vec<(&Item, &Pose)> = form
                .entries
                .iter()
                .flat_map(|entry| asked(&deck, entry))
                .collect();
            assert_eq!(keys.len(), asked.len());
            for ((item, pose), key) in asked.into_iter().zip(keys) {
                let question = kinds::question(item, pose);
                if let Body::Flap(task) = &item.body {
                    // A design takes more room than there is at a glance.
                    assert_eq!(key, "see below");
                    let html = print(&deck, &form, Paper::Key, Format::Html);
                    assert!(html.contains(&format!("({})</strong>", task.show)));
                    continue;
                }
                let ids: Vec<&str> = match question.form {
                    kinds::Form::Typed | kinds::Form::Number { .. } => vec![&key],
                    _ => key.split(' ').collect(),
                };
                let response = kinds::read(&question.form, &ids).unwrap();
                let verdict = kinds::mark(item, pose, &response).unwrap();
                assert!(verdict.right, "{}: {key}", item.id);
            }
        }
    }
}

#[test]
fn forms_differ_and_come_again() {
    let deck = deck();
    let three = forms(&deck, 11, 3);
    assert_eq!(
        three.iter().map(|form| form.letter).collect::<String>(),
        "ABC"
    );
    assert_ne!(three[0].entries, three[1].entries);
    assert_eq!(three[..2], forms(&deck, 11, 2));
    assert_ne!(three[0].entries, forms(&deck, 12, 1)[0].entries);
    assert_eq!(
        (forms(&deck, 1, 0).len(), forms(&deck, 1, 255).len()),
        (1, usize::from(FORMS_MAX))
    );
    for form in &three {
        let mut order: Vec<usize> = form.entries.iter().map(|entry| entry.item).collect();
        order.sort_unstable();
        assert_eq!(order, [0, 1, 2, 3, 4, 5, 6, 7, 8]);
    }
}

/// The texts of an HTML page outside its stylesheet, and the names of its elements and attributes.
fn parsed(html: &str) -> (String, Vec<String>) {
    let html = html
        .replace("<!DOCTYPE html>\n", "")
        .replace("<meta charset=\"utf-8\">", "")
        .replace(
            "<meta name=\"viewport\" content=\"width=device-width\">",
            "",
        );
    let mut reader = quick_xml::Reader::from_str(&html);
    let (mut text, mut names, mut depth) = (String::new(), Vec::new(), 0);
    loop {
        match reader.read_event().unwrap() {
            Markup::Start(tag) => {
                depth += 1;
                names.push(tag.name().as_ref().to_owned());
                for attribute in tag.attributes() {
                    names.push(attribute.unwrap().key.as_ref().to_owned());
                }
            }
            Markup::Empty(tag) => {
                names.push(tag.name().as_ref().to_owned());
                for attribute in tag.attributes() {
                    names.push(attribute.unwrap().key.as_ref().to_owned());
                }
            }
            Markup::End(_) => depth -= 1,
            Markup::Text(piece) => text.push_str(&piece),
            Markup::GeneralRef(name) => {
                text.push_str(match &*name {
                    "lt" => "<",
                    "gt" => ">",
                    "amp" => "&",
                    "quot" => "\"",
                    "#39" => "'",
                    other => panic!("entity {other}"),
                });
            }
            Markup::Eof => break,
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(depth, 0);
    (text, names)
}

const HOSTILE: &str = "</style></main><script src=\"http://192.0.2.1/x.js\">alert('x')</script><img onerror=x> &lt;b&gt; *a* [l](u) `c` # h ]]>";

#[test]
fn hostile_text_stays_text_in_html() {
    let hostile = with_text(|number| format!("{HOSTILE}{number}\u{1b}]0;x\u{7}\u{202e}"));
    let plain = with_text(|number| format!("plain {number}"));
    for which in PAPERS {
        let html = paper(&hostile, which, Format::Html);
        let (text, names) = parsed(&html);
        let (_, expected) = parsed(&paper(&plain, which, Format::Html));
        assert_eq!(names, expected, "texts changed the elements");
        assert!(text.contains(HOSTILE));
        assert!(!html.contains(luxate::text::is_forbidden));
    }
}

/// Everything a `CommonMark` reader makes of a page: its structure without texts, and the texts.
fn understood(markdown: &str) -> (Vec<String>, String) {
    let (mut structure, mut texts) = (Vec::new(), String::new());
    // With every extension but the one that rewrites quotation marks: sheets are read by all sorts of programs.
    let options = Options::all() - Options::ENABLE_SMART_PUNCTUATION;
    for event in Parser::new_ext(markdown, options) {
        match event {
            Event::Text(text) => texts.push_str(&text),
            Event::Start(
                tag @ (Tag::Link { .. } | Tag::Image { .. } | Tag::CodeBlock(_) | Tag::HtmlBlock),
            ) => panic!("{tag:?}"),
            Event::Start(
                Tag::Item
                | Tag::Strong
                | Tag::Emphasis
                | Tag::Paragraph
                | Tag::List(None)
                | Tag::Heading { .. },
            )
            | Event::End(_) => {
                structure.push(format!("{event:?}"));
            }
            other => panic!("{other:?}"),
        }
    }
    (structure, texts)
}

#[test]
fn hostile_text_stays_text_in_commonmark() {
    let hostile = with_text(|number| format!("{HOSTILE}{number}"));
    let plain = with_text(|number| format!("plain {number}"));
    for which in PAPERS {
        let (structure, texts) = understood(&paper(&hostile, which, Format::CommonMark));
        assert_eq!(
            structure,
            understood(&paper(&plain, which, Format::CommonMark)).0
        );
        assert!(texts.contains(HOSTILE));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_text_becomes_markup(text in "[-+=#>*_`~<&|.:)(!\\[\\]\\\\1-3a \"'$^{}]{1,24}") {
        prop_assume!(!text.trim().is_empty());
        let odd = with_text(|_| text.clone());
        let plain = with_text(|_| "plain".to_owned());
        for which in PAPERS {
            let (structure, _) = understood(&paper(&odd, which, Format::CommonMark));
            prop_assert_eq!(structure, understood(&paper(&plain, which, Format::CommonMark)).0);
            let (_, names) = parsed(&paper(&odd, which, Format::Html));
            prop_assert_eq!(names, parsed(&paper(&plain, which, Format::Html)).1);
        }
    }

    #[test]
    fn the_same_values_give_the_same_text(seed in any::<u64>(), count in 1_u8..5) {
        let deck = deck();
        for (one, two) in forms(&deck, seed, count).iter().zip(&forms(&deck, seed, count)) {
            for which in PAPERS {
                for format in FORMATS {
                    prop_assert_eq!(print(&deck, one, which, format), print(&deck, two, which, format));
                }
            }
        }
    }
}
