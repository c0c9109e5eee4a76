//! One item as a QTI 3.0 document: declarations, body, scoring.
//!
//! A question scores 1 or 0, as everywhere in the program; a case scores 1 for each of its parts. The scoring rules are written out rather than named by a
//! template, because a template would leave no room to show the explanation.

use super::explain;
use super::names;
use super::plan::{Asked, Interaction, Named, asked, pose};
use super::xml::{Attribute, Xml};
use crate::deck::model::{Deck, Item};
use crate::figure::places::described;
use crate::kinds;
use crate::text::paragraphs;

/// Namespace of items and tests.
pub(super) const NAMESPACE: &str = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0";

/// Outcome that shows the explanation, and its value once there is an answer.
pub(super) const FEEDBACK: &str = "FEEDBACK";
/// See [`FEEDBACK`].
pub(super) const ANSWERED: &str = "answered";

const SCORE: &str = "SCORE";

/// The document of `item`, under this identifier and with this title.
pub(super) fn document(deck: &Deck, item: &Item, identifier: &str, title: &str) -> Vec<u8> {
    let questions = asked(item);
    let attributes = [
        ("xmlns", NAMESPACE),
        ("identifier", identifier),
        ("title", title),
        ("adaptive", "false"),
        ("time-dependent", "false"),
        ("xml:lang", &deck.language),
    ];
    Xml::document("qti-assessment-item", &attributes, |xml| {
        for question in &questions {
            response_declaration(xml, question);
        }
        outcome_declarations(xml, questions.len());
        xml.element("qti-item-body", &[], |xml| {
            stem(xml, item);
            for question in &questions {
                body(xml, question, &names::drawing(deck, item, question.part));
            }
            explain::write(xml, deck, item);
        });
        xml.element("qti-response-processing", &[], |xml| {
            for question in &questions {
                scoring(xml, question);
            }
            set(xml, FEEDBACK, "identifier", ANSWERED);
        });
    })
}

fn stem(xml: &mut Xml, item: &Item) {
    for paragraph in paragraphs(&kinds::question(item, &pose(item)).stem) {
        xml.text("p", &[], paragraph.as_str());
    }
}

/// What there is to answer with, the drawing of this name among it; of a part of a case also what has come to light and what is
/// asked.
fn body(xml: &mut Xml, question: &Asked<'_>, drawing: &str) {
    let Some(number) = question.part else {
        answering(xml, question, drawing);
        return;
    };
    xml.element("div", &[], |xml| {
        xml.text("p", ENGLISH, &format!("Part {number}"));
        for paragraph in question.finding.into_iter().flat_map(paragraphs) {
            xml.text("p", &[], paragraph.as_str());
        }
        stem(xml, question.item);
        answering(xml, question, drawing);
    });
}

/// The drawing, told in words to whoever cannot see it, and the interaction.
fn answering(xml: &mut Xml, question: &Asked<'_>, drawing: &str) {
    if let Some(figure) = &question.plan.drawing {
        let view = figure.view.trim_end_matches('.');
        let alt = format!("{view}. {}.", described(figure).trim_end_matches('.'));
        let src = format!("{drawing}.svg");
        xml.element("p", &[], |xml| {
            xml.empty("img", &[("src", src.as_str()), ("alt", alt.as_str())]);
        });
    }
    interaction(xml, question);
}

fn response_declaration(xml: &mut Xml, question: &Asked<'_>) {
    let plan = &question.plan;
    let attributes = [
        ("identifier", question.response.as_str()),
        ("cardinality", plan.cardinality),
        ("base-type", plan.base_type),
    ];
    xml.element("qti-response-declaration", &attributes, |xml| {
        xml.element("qti-correct-response", &[], |xml| {
            for value in &plan.correct {
                xml.text("qti-value", &[], value);
            }
        });
        if let Interaction::Type(spellings) = &plan.interaction {
            xml.element("qti-mapping", &[("default-value", "0")], |xml| {
                for spelling in spellings {
                    let entry = [
                        ("map-key", spelling.as_str()),
                        ("mapped-value", "1"),
                        ("case-sensitive", "false"),
                    ];
                    xml.empty("qti-map-entry", &entry);
                }
            });
        }
    });
}

fn outcome_declarations(xml: &mut Xml, most: usize) {
    let most = most.to_string();
    let score = [
        ("identifier", SCORE),
        ("cardinality", "single"),
        ("base-type", "float"),
        ("normal-minimum", "0"),
        ("normal-maximum", most.as_str()),
    ];
    xml.element("qti-outcome-declaration", &score, |xml| {
        xml.element("qti-default-value", &[], |xml| {
            xml.text("qti-value", &[], "0");
        });
    });
    let feedback = [
        ("identifier", FEEDBACK),
        ("cardinality", "single"),
        ("base-type", "identifier"),
    ];
    xml.empty("qti-outcome-declaration", &feedback);
}

fn interaction(xml: &mut Xml, question: &Asked<'_>) {
    let response = question.response.as_str();
    match &question.plan.interaction {
        Interaction::Choose {
            options,
            several,
            shuffle,
        } => {
            let prompt = match (*several, &question.plan.drawing) {
                (true, _) => "Choose all that apply.",
                (false, None) => "Choose the one best answer.",
                (false, Some(_)) => "Choose the letter of the place in the drawing.",
            };
            choose(xml, response, prompt, options, *several, *shuffle);
        }
        Interaction::Order(steps) => order(xml, response, steps),
        Interaction::Pair { lefts, rights } => pair(xml, response, lefts, rights),
        Interaction::Type(spellings) => typed(xml, response, spellings),
        Interaction::Number { unit, .. } => number(xml, response, unit.as_deref()),
    }
}

fn choose(
    xml: &mut Xml,
    response: &str,
    prompt: &str,
    options: &[Named],
    several: bool,
    shuffle: bool,
) {
    let attributes = [
        ("response-identifier", response),
        ("shuffle", if shuffle { "true" } else { "false" }),
        ("max-choices", if several { "0" } else { "1" }),
    ];
    xml.element("qti-choice-interaction", &attributes, |xml| {
        xml.text("qti-prompt", ENGLISH, prompt);
        choices(xml, options);
    });
}

fn order(xml: &mut Xml, response: &str, steps: &[Named]) {
    let attributes = [("response-identifier", response), ("shuffle", "true")];
    xml.element("qti-order-interaction", &attributes, |xml| {
        xml.text(
            "qti-prompt",
            ENGLISH,
            "Put these in order, first step first.",
        );
        choices(xml, steps);
    });
}

fn choices(xml: &mut Xml, choices: &[Named]) {
    for choice in choices {
        let attributes = [("identifier", choice.id.as_str())];
        xml.text("qti-simple-choice", &attributes, &choice.text);
    }
}

fn pair(xml: &mut Xml, response: &str, lefts: &[Named], rights: &[Named]) {
    let count = lefts.len().to_string();
    let attributes = [
        ("response-identifier", response),
        ("shuffle", "true"),
        ("max-associations", count.as_str()),
    ];
    xml.element("qti-match-interaction", &attributes, |xml| {
        let prompt = "Give each entry of the first list one of the second. Those of the second may be used once, several times or not at all.";
        xml.text("qti-prompt", ENGLISH, prompt);
        // Every right may be taken by every left: a lower number would tell which are used.
        for (set, most) in [(lefts, "1"), (rights, count.as_str())] {
            xml.element("qti-simple-match-set", &[], |xml| {
                for choice in set {
                    let attributes = [("identifier", choice.id.as_str()), ("match-max", most)];
                    xml.text("qti-simple-associable-choice", &attributes, &choice.text);
                }
            });
        }
    });
}

fn typed(xml: &mut Xml, response: &str, spellings: &[String]) {
    let longest = spellings.iter().map(|form| form.chars().count()).max();
    // Rounded up to tens: the width of the field must not tell the term.
    let length = (longest.unwrap_or_default().div_ceil(10).max(2) * 10).to_string();
    let attributes = [
        ("response-identifier", response),
        ("expected-length", length.as_str()),
    ];
    xml.text("p", ENGLISH, "Write the term.");
    xml.element("p", &[], |xml| {
        xml.empty("qti-text-entry-interaction", &attributes);
    });
}

fn number(xml: &mut Xml, response: &str, unit: Option<&str>) {
    let attributes = [("response-identifier", response), ("expected-length", "10")];
    let prompt = match unit {
        Some(unit) => format!("Write the number alone, in {unit}."),
        None => "Write the number.".to_owned(),
    };
    xml.text("p", ENGLISH, &prompt);
    xml.element("p", &[], |xml| {
        xml.empty("qti-text-entry-interaction", &attributes);
    });
}

/// Our own words are English, whatever the deck's language.
const ENGLISH: &[Attribute<'static>] = &[("xml:lang", "en")];

fn scoring(xml: &mut Xml, question: &Asked<'_>) {
    let response = [("identifier", question.response.as_str())];
    let is_part = question.part.is_some();
    xml.element("qti-response-condition", &[], |xml| {
        match &question.plan.interaction {
            Interaction::Type(_) => {
                xml.element("qti-response-if", &[], |xml| {
                    xml.element("qti-is-null", &[], |xml| {
                        xml.empty("qti-variable", &response);
                    });
                    gain(xml, is_part, |xml| base_value(xml, "float", "0"));
                });
                xml.element("qti-response-else", &[], |xml| {
                    gain(xml, is_part, |xml| xml.empty("qti-map-response", &response));
                });
            }
            Interaction::Choose { .. }
            | Interaction::Order(_)
            | Interaction::Pair { .. }
            | Interaction::Number { .. } => {
                xml.element("qti-response-if", &[], |xml| {
                    condition(xml, question);
                    gain(xml, is_part, |xml| base_value(xml, "float", "1"));
                });
                xml.element("qti-response-else", &[], |xml| {
                    gain(xml, is_part, |xml| base_value(xml, "float", "0"));
                });
            }
        }
    });
}

/// When the response is right.
fn condition(xml: &mut Xml, question: &Asked<'_>) {
    let response = [("identifier", question.response.as_str())];
    let Interaction::Number { limits, .. } = question.plan.interaction else {
        xml.element("qti-match", &[], |xml| {
            xml.empty("qti-variable", &response);
            xml.empty("qti-correct", &response);
        });
        return;
    };
    // Players disagree on how a tolerance is meant, and not on limits.
    xml.element("qti-and", &[], |xml| {
        for (comparison, limit) in [("qti-gte", limits.0), ("qti-lte", limits.1)] {
            xml.element(comparison, &[], |xml| {
                xml.empty("qti-variable", &response);
                base_value(xml, "float", &limit.to_string());
            });
        }
    });
}

/// Makes this the score, or adds it to that of the parts before.
fn gain(xml: &mut Xml, is_part: bool, value: impl FnOnce(&mut Xml)) {
    let score = [("identifier", SCORE)];
    xml.element("qti-set-outcome-value", &score, |xml| {
        if is_part {
            xml.element("qti-sum", &[], |xml| {
                xml.empty("qti-variable", &score);
                value(xml);
            });
        } else {
            value(xml);
        }
    });
}

fn set(xml: &mut Xml, outcome: &str, base_type: &str, value: &str) {
    xml.element("qti-set-outcome-value", &[("identifier", outcome)], |xml| {
        base_value(xml, base_type, value);
    });
}

fn base_value(xml: &mut Xml, base_type: &str, value: &str) {
    xml.text("qti-base-value", &[("base-type", base_type)], value);
}
