//! Writes XML: tags balance by construction, every text and attribute is cleaned and escaped.

use crate::text::{Shown, entities};

/// An attribute with its value, escaped when written.
pub(super) type Attribute<'a> = (&'static str, &'a str);

/// A document being written.
#[derive(Debug)]
pub(super) struct Xml {
    text: String,
    depth: usize,
}

impl Xml {
    /// A whole document: the XML declaration and one root element.
    pub(super) fn document(
        root: &'static str,
        attributes: &[Attribute<'_>],
        fill: impl FnOnce(&mut Self),
    ) -> Vec<u8> {
        let mut xml = Self {
            text: "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned(),
            depth: 0,
        };
        xml.element(root, attributes, fill);
        xml.text.into_bytes()
    }

    /// An element with elements in it.
    pub(super) fn element(
        &mut self,
        name: &'static str,
        attributes: &[Attribute<'_>],
        fill: impl FnOnce(&mut Self),
    ) {
        self.indent();
        self.open(name, attributes, ">\n");
        self.depth += 1;
        fill(self);
        self.depth -= 1;
        self.indent();
        self.close(name);
    }

    /// An element with a text in it, on one line.
    pub(super) fn text(&mut self, name: &'static str, attributes: &[Attribute<'_>], text: &str) {
        self.indent();
        self.open(name, attributes, ">");
        self.push(text);
        self.close(name);
    }

    /// An element with a strong text and a plain one behind it, on one line.
    pub(super) fn strong(&mut self, name: &'static str, strong: &str, text: &str) {
        self.indent();
        self.open(name, &[], "><strong>");
        self.push(strong);
        self.text.push_str("</strong>");
        if !text.is_empty() {
            self.text.push(' ');
            self.push(text);
        }
        self.close(name);
    }

    /// An element with nothing in it.
    pub(super) fn empty(&mut self, name: &'static str, attributes: &[Attribute<'_>]) {
        self.indent();
        self.open(name, attributes, "/>\n");
    }

    fn indent(&mut self) {
        self.text.push_str(&"  ".repeat(self.depth));
    }

    fn open(&mut self, name: &'static str, attributes: &[Attribute<'_>], end: &str) {
        self.text.extend(["<", name]);
        for (key, value) in attributes {
            self.text.extend([" ", key, "=\""]);
            self.push(value);
            self.text.push('"');
        }
        self.text.push_str(end);
    }

    fn close(&mut self, name: &'static str) {
        self.text.extend(["</", name, ">\n"]);
    }

    fn push(&mut self, text: &str) {
        self.text.push_str(&entities(&Shown::new(text)));
    }
}
