//! Decks for other examination systems.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{Cursor, Read};

use insta::assert_snapshot;
use luxate::deck::model::Deck;
use luxate::interchange::qti::{Export, archive, export};
use proptest::prelude::*;
use quick_xml::events::Event;

use crate::fixture::{deck, with_text};

fn text(export: &Export, name: &str) -> String {
    let file = export.files.iter().find(|file| file.name == name).unwrap();
    String::from_utf8(file.bytes.clone()).unwrap()
}

#[test]
fn each_kind_as_an_item() {
    let export = export(&deck());
    for item in deck().items {
        let file = format!("items/i-harbour-clinic_{}.xml", item.id);
        if item.body.kind() == "flap" {
            assert!(export.files.iter().all(|other| other.name != file));
        } else {
            assert_snapshot!(format!("qti_{}", item.body.kind()), text(&export, &file));
        }
    }
}

#[test]
fn the_package() {
    let export = export(&deck());
    let names: Vec<&str> = export.files.iter().map(|file| file.name.as_str()).collect();
    assert!(names.is_sorted());
    assert_snapshot!("qti_manifest", text(&export, "imsmanifest.xml"));
    assert_snapshot!("qti_test", text(&export, "test.xml"));
    assert_snapshot!("qti_report", export.report);
    assert_snapshot!("qti_names", export.report.names_csv().replace("\r\n", "\n"));
}

#[test]
fn the_zip_holds_the_files_and_no_moment() {
    let files = export(&deck()).files;
    let bytes = archive(&files).unwrap();
    assert_eq!(bytes, archive(&export(&deck()).files).unwrap());
    let mut zip = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    assert_eq!(zip.len(), files.len());
    for (place, file) in files.iter().enumerate() {
        let mut entry = zip.by_index(place).unwrap();
        assert_eq!(entry.name().unwrap(), file.name);
        assert_eq!(entry.last_modified(), Some(zip::DateTime::DEFAULT));
        let mut bytes = Vec::new();
        entry.read_to_end(&mut bytes).unwrap();
        assert_eq!(bytes, file.bytes);
    }
}

/// What an XML reader makes of a document.
#[derive(Debug, Default)]
struct Found {
    /// Names of elements with those of their attributes, in order.
    shape: Vec<String>,
    /// Values of attributes by `element/attribute`.
    values: BTreeMap<String, Vec<String>>,
    /// Texts by the element that they stand in.
    texts: BTreeMap<String, Vec<String>>,
}

impl Found {
    fn set(&self, key: &str) -> BTreeSet<&str> {
        self.values
            .get(key)
            .into_iter()
            .flatten()
            .map(String::as_str)
            .collect()
    }

    fn all_text(&self) -> String {
        self.texts.values().flatten().map(String::as_str).collect()
    }
}

fn entity(name: &str) -> &'static str {
    match name {
        "lt" => "<",
        "gt" => ">",
        "amp" => "&",
        "quot" => "\"",
        "#39" => "'",
        other => panic!("entity {other}"),
    }
}

/// Reads a document with a reader that knows nothing of the writer; panics if it is not well-formed.
fn read(xml: &str) -> Found {
    let mut reader = quick_xml::Reader::from_str(xml);
    let mut found = Found::default();
    let mut open: Vec<String> = Vec::new();
    loop {
        let event = reader.read_event().unwrap();
        match &event {
            Event::Start(tag) | Event::Empty(tag) => {
                let name = tag.name().as_ref().to_owned();
                let mut shape = name.clone();
                for attribute in tag.attributes() {
                    let attribute = attribute.unwrap();
                    let key = attribute.key.as_ref().to_owned();
                    shape.extend([" ", &key]);
                    let value = quick_xml::escape::unescape(&attribute.value)
                        .unwrap()
                        .into_owned();
                    found
                        .values
                        .entry(format!("{name}/{key}"))
                        .or_default()
                        .push(value);
                }
                found.shape.push(shape);
                if matches!(event, Event::Start(_)) {
                    open.push(name.clone());
                    found.texts.entry(name).or_default().push(String::new());
                }
            }
            Event::End(tag) => assert_eq!(open.pop().as_deref(), Some(tag.name().as_ref())),
            Event::Text(piece) => push(&mut found, &open, piece),
            Event::GeneralRef(name) => push(&mut found, &open, entity(name)),
            Event::Decl(_) => assert!(found.shape.is_empty()),
            Event::Eof => break,
            other => panic!("{other:?}"),
        }
    }
    assert!(open.is_empty());
    found
}

fn push(found: &mut Found, open: &[String], text: &str) {
    match open.last() {
        Some(name) => found
            .texts
            .get_mut(name)
            .unwrap()
            .last_mut()
            .unwrap()
            .push_str(text),
        None => assert!(text.trim().is_empty()),
    }
}

/// Identifiers as the standard wants them.
fn is_identifier(text: &str) -> bool {
    let mut letters = text.chars();
    letters
        .next()
        .is_some_and(|first| first.is_ascii_alphabetic() || first == '_')
        && letters.all(|letter| letter.is_ascii_alphanumeric() || "-_.".contains(letter))
}

fn references_resolve(export: &Export) {
    let manifest = read(&text(export, "imsmanifest.xml"));
    let test = read(&text(export, "test.xml"));
    let files: BTreeSet<&str> = export.files.iter().map(|file| file.name.as_str()).collect();
    let listed = manifest.set("file/href");
    assert_eq!(&listed | &BTreeSet::from(["imsmanifest.xml"]), files);
    assert_eq!(manifest.set("resource/href"), listed);
    let items = test.set("qti-assessment-item-ref/identifier");
    let needed = manifest.set("dependency/identifierref");
    assert!(items.is_subset(&needed));
    assert!(needed.is_subset(&manifest.set("resource/identifier")));
    assert!(test.set("qti-assessment-item-ref/href").is_subset(&listed));
    for file in export
        .files
        .iter()
        .filter(|file| file.name.starts_with("items/i-"))
    {
        let item = read(&text(export, &file.name));
        for drawing in item.set("img/src") {
            assert!(files.contains(format!("items/{drawing}").as_str()));
        }
        assert!(item.set("qti-assessment-item/identifier").is_subset(&items));
        let mut choices = item.set("qti-simple-choice/identifier");
        choices.extend(item.set("qti-simple-associable-choice/identifier"));
        assert!(choices.iter().all(|choice| is_identifier(choice)));
        let base_type = item.set("qti-response-declaration/base-type");
        if base_type.is_disjoint(&BTreeSet::from(["string", "float"])) {
            // Keys are all the values but the score's default, which is a number.
            let keys = item.texts["qti-value"].iter().filter(|value| *value != "0");
            for key in keys.flat_map(|key| key.split(' ')) {
                assert!(choices.contains(key), "{key} in {}", file.name);
            }
        }
        let outcomes = item.set("qti-outcome-declaration/identifier");
        assert_eq!(outcomes, item.set("qti-set-outcome-value/identifier"));
        assert!(
            item.set("qti-feedback-block/outcome-identifier")
                .is_subset(&outcomes)
        );
    }
    for name in &export.report.names {
        assert!(is_identifier(&name.identifier));
        assert!(files.contains(name.file.as_str()));
    }
}

#[test]
fn every_reference_resolves() {
    references_resolve(&export(&deck()));
}

#[test]
fn nothing_unanswerable_is_given_away_by_order() {
    // Rights and steps are written in the order of the alphabet, so their place says nothing.
    let export = export(&deck());
    for (name, element) in [
        ("flap-sequence", "qti-simple-choice"),
        ("foramen-nerve", "qti-simple-associable-choice"),
    ] {
        let item = read(&text(
            &export,
            &format!("items/i-harbour-clinic_{name}.xml"),
        ));
        let texts = &item.texts[element];
        // Lefts stand in the deck's order, three of them before the rights.
        let mixed = if name == "foramen-nerve" {
            &texts[3..]
        } else {
            &texts[..]
        };
        assert!(mixed.is_sorted(), "{mixed:?}");
    }
}

const HOSTILE: &str =
    "</qti-item-body><script>x</script> ]]> <!-- --> <?php?> &lt;b&gt; &x; \"q\" 'a'";

#[test]
fn hostile_text_stays_text() {
    let hostile = export(&with_text(|number| {
        format!("{HOSTILE} {number} \u{1b}]0;x\u{7}\u{0}\u{202e}\u{fffe}")
    }));
    let plain = export(&with_text(|number| format!("plain-ish {number}")));
    references_resolve(&hostile);
    let names = |export: &Export| -> Vec<String> {
        export.files.iter().map(|file| file.name.clone()).collect()
    };
    assert_eq!(names(&hostile), names(&plain));
    for file in &hostile.files {
        let written = text(&hostile, &file.name);
        assert!(
            !written.contains(luxate::text::is_forbidden),
            "{}",
            file.name
        );
        let found = read(&written);
        assert_eq!(
            found.shape,
            read(&text(&plain, &file.name)).shape,
            "{}",
            file.name
        );
        if file.name.starts_with("items/") {
            assert!(found.all_text().contains(HOSTILE));
        }
    }
}

#[test]
fn a_topic_without_items_gets_no_section() {
    let mut deck = deck();
    deck.items.retain(|item| item.topic == "nerves");
    let export = export(&deck);
    references_resolve(&export);
    assert_eq!(
        read(&text(&export, "test.xml")).set("qti-assessment-section/identifier"),
        BTreeSet::from(["s-nerves"])
    );
}

/// Two exports of equal decks must not differ in a byte.
fn same_bytes(deck: &Deck) -> bool {
    archive(&export(deck).files).unwrap() == archive(&export(&deck.clone()).files).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_text_is_written_well_formed_and_the_same_again(words in prop::collection::vec("\\PC{1,20}|[<>&'\"\\]\\[ \\n\\t]{1,12}", 5)) {
        let deck = with_text(|number| format!("{}{number}", words[number % words.len()]));
        references_resolve(&export(&deck));
        prop_assert!(same_bytes(&deck));
    }
}
