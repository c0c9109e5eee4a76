//! The list of what is in the package, at its root.

use super::names;
use super::plan::is_exported;
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
            let items: Vec<(String, String)> = items
                .map(|item| (names::item(deck, item), names::item_file(deck, item)))
                .collect();
            let needs: Vec<&str> = items
                .iter()
                .map(|(identifier, _)| identifier.as_str())
                .collect();
            let test = names::test(deck);
            resource(xml, &test, "imsqti_test_xmlv3p0", names::TEST_FILE, &needs);
            for (identifier, file) in &items {
                resource(xml, identifier, "imsqti_item_xmlv3p0", file, &[]);
            }
        });
    })
}

fn resource(xml: &mut Xml, identifier: &str, kind: &str, file: &str, needs: &[&str]) {
    let attributes = [("identifier", identifier), ("type", kind), ("href", file)];
    xml.element("resource", &attributes, |xml| {
        xml.empty("file", &[("href", file)]);
        for need in needs {
            xml.empty("dependency", &[("identifierref", need)]);
        }
    });
}
