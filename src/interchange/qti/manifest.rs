//! The list of what is in the package, at its root.

use super::names;
use super::plan::{asked, is_exported};
use super::xml::Xml;
use crate::deck::model::Deck;

const NAMESPACE: &str = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1";

/// The manifest's document.
pub(super) fn document(deck: &Deck) -> Vec<u8> {
    let identifier = names::manifest(deck);
    let attributes = [("xmlns", NAMESPACE), ("identifier", identifier.as_str())];
    Xml::document("manifest", &attributes, |xml| {
        xml.element("metadata", &[], |xml| {
            xml.text("schema", &[], "QTI Package");
            xml.text("schemaversion", &[], "3.0.0");
        });
        xml.empty("organizations", &[]);
        xml.element("resources", &[], |xml| {
            let items = deck.items.iter().filter(|item| is_exported(item));
            let needs: Vec<String> = items.clone().map(|item| names::item(deck, item)).collect();
            let test = names::test(deck);
            resource(xml, &test, "imsqti_test_xmlv3p0", names::TEST_FILE, &needs);
            for item in items {
                let drawn = asked(item).into_iter();
                let drawn = drawn.filter(|question| question.plan.drawing.is_some());
                let drawings: Vec<String> = drawn
                    .map(|question| names::drawing(deck, item, question.part))
                    .collect();
                let (identifier, file) = (names::item(deck, item), names::item_file(deck, item));
                resource(xml, &identifier, "imsqti_item_xmlv3p0", &file, &drawings);
                for drawing in drawings {
                    let file = names::drawing_file(&drawing);
                    resource(xml, &drawing, "webcontent", &file, &[]);
                }
            }
        });
    })
}

fn resource(xml: &mut Xml, identifier: &str, kind: &str, file: &str, needs: &[String]) {
    let attributes = [("identifier", identifier), ("type", kind), ("href", file)];
    xml.element("resource", &attributes, |xml| {
        xml.empty("file", &[("href", file)]);
        for need in needs {
            xml.empty("dependency", &[("identifierref", need)]);
        }
    });
}
