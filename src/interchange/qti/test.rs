//! The test that holds a deck's items: one section a topic, in the deck's order; its score is the sum of theirs.

use super::item::NAMESPACE;
use super::names;
use super::plan::is_exported;
use super::xml::Xml;
use crate::deck::model::{Deck, Item, Topic};

const STUDY_AID: &str = "This is study material and not clinical guidance. Follow local protocols and current labels, and practise only within your licence.";

/// The test's document.
pub(super) fn document(deck: &Deck) -> Vec<u8> {
    let identifier = names::test(deck);
    let attributes = [
        ("xmlns", NAMESPACE),
        ("identifier", identifier.as_str()),
        ("title", deck.title.as_str()),
        ("xml:lang", deck.language.as_str()),
    ];
    Xml::document("qti-assessment-test", &attributes, |xml| {
        let score = [
            ("identifier", "SCORE"),
            ("cardinality", "single"),
            ("base-type", "float"),
        ];
        xml.empty("qti-outcome-declaration", &score);
        let part = [
            ("identifier", "part"),
            ("navigation-mode", "nonlinear"),
            ("submission-mode", "individual"),
        ];
        xml.element("qti-test-part", &part, |xml| {
            for topic in &deck.topics {
                section(xml, deck, topic);
            }
        });
        xml.element("qti-outcome-processing", &[], |xml| {
            let score = [("identifier", "SCORE")];
            xml.element("qti-set-outcome-value", &score, |xml| {
                xml.element("qti-sum", &[], |xml| {
                    xml.empty("qti-test-variables", &[("variable-identifier", "SCORE")]);
                });
            });
        });
    })
}

/// A topic without items gets no section: an empty one is not allowed.
fn section(xml: &mut Xml, deck: &Deck, topic: &Topic) {
    let items: Vec<&Item> = deck
        .items
        .iter()
        .filter(|item| item.topic == topic.id && is_exported(item))
        .collect();
    if items.is_empty() {
        return;
    }
    let identifier = names::section(topic);
    let attributes = [
        ("identifier", identifier.as_str()),
        ("title", topic.title.as_str()),
        ("visible", "true"),
    ];
    xml.element("qti-assessment-section", &attributes, |xml| {
        let rubric = [("use", "instructions"), ("view", "candidate")];
        xml.element("qti-rubric-block", &rubric, |xml| {
            xml.element("qti-content-body", &[], |xml| {
                xml.text("p", &[("xml:lang", "en")], STUDY_AID);
            });
        });
        for item in items {
            let (identifier, file) = (names::item(deck, item), names::item_file(deck, item));
            let reference = [("identifier", identifier.as_str()), ("href", file.as_str())];
            xml.empty("qti-assessment-item-ref", &reference);
        }
    });
}
