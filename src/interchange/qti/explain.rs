//! What an exported item tells after the answer: the key, the reasons, the rationale, the caution, the sources. One function
//! a kind.

use std::iter;

use super::plan::pose;
use super::xml::Xml;
use crate::deck::model::{Body, Choice, Citation, Deck, Item, Locate, Match, Short, Step};
use crate::deck::numeric::Numeric;
use crate::figure::places::reading_order;
use crate::kinds::{self, Pose, letter};
use crate::text::paragraphs;

const STUDY_AID: &str = "Study material, not clinical guidance: follow local protocols, current labels and your licence.";

/// What is said of one option.
struct Reason {
    what: String,
    why: String,
}

/// The explanation as a feedback block that shows once the item has been answered.
pub(super) fn write(xml: &mut Xml, deck: &Deck, item: &Item) {
    let shown = [
        ("identifier", super::item::ANSWERED),
        ("outcome-identifier", super::item::FEEDBACK),
        ("show-hide", "show"),
    ];
    xml.element("qti-feedback-block", &shown, |xml| {
        xml.element("qti-content-body", &[], |xml| {
            for (place, part) in item.parts().iter().enumerate() {
                xml.element("div", &[], |xml| {
                    xml.strong("p", &format!("Part {}", place + 1), "");
                    told(xml, &part.item);
                });
            }
            told(xml, item);
            xml.strong("p", "Sources.", &sources(deck, item));
            let origin = format!(
                "{}, edition {}, {}.",
                deck.title, deck.edition, deck.licence
            );
            xml.text("p", &[], &format!("{origin} {STUDY_AID}"));
        });
    });
}

/// The reasons, the rationale and the caution.
fn told(xml: &mut Xml, item: &Item) {
    let reasons = reasons(item);
    if !reasons.is_empty() {
        xml.element("ul", &[], |xml| {
            for reason in reasons {
                xml.strong("li", &reason.what, &reason.why);
            }
        });
    }
    for paragraph in paragraphs(&item.rationale) {
        xml.text("p", &[], paragraph.as_str());
    }
    for paragraph in item.caution.iter().flat_map(|text| paragraphs(text)) {
        xml.strong("p", "Caution.", paragraph.as_str());
    }
}

/// The full references: an item must stand by itself wherever it is taken.
fn sources(deck: &Deck, item: &Item) -> String {
    let mut citations: Vec<&Citation> = Vec::new();
    for citation in item.with_parts().flat_map(|item| &item.sources) {
        if !citations.contains(&citation) {
            citations.push(citation);
        }
    }
    let cited = citations.into_iter().filter_map(|citation| {
        let source = deck
            .sources
            .iter()
            .find(|source| source.id == citation.source)?;
        let cite = source.cite.trim_end_matches('.');
        Some(match citation.place.as_str() {
            "" => format!("{cite}."),
            place => format!("{cite}, {place}."),
        })
    });
    cited.collect::<Vec<String>>().join(" ")
}

fn reasons(item: &Item) -> Vec<Reason> {
    match &item.body {
        Body::Single(choice) | Body::Multiple(choice) => of_choice(choice),
        Body::Order(steps) => of_order(steps),
        Body::Match(pairs) => of_match(pairs),
        Body::Short(short) => of_short(short),
        Body::Numeric(numeric) => of_numeric(numeric, &pose(item)),
        Body::Locate(locate) => of_places(locate),
        // A design is never exported, and a case itself asks nothing.
        Body::Flap(_) | Body::Case(_) => Vec::new(),
    }
}

fn of_choice(choice: &Choice) -> Vec<Reason> {
    let options = choice.options.iter();
    options
        .map(|option| Reason {
            what: format!("{}: {}", verdict(option.key), option.text),
            why: option.why.clone().unwrap_or_default(),
        })
        .collect()
}

/// In the order and by the letters of the drawing.
fn of_places(locate: &Locate) -> Vec<Reason> {
    let told = locate.in_words().options;
    let order = reading_order(&locate.figure);
    let places = order.iter().filter_map(|&index| told.get(index));
    places
        .enumerate()
        .map(|(place, option)| Reason {
            what: format!(
                "{}: {}, {}.",
                verdict(option.key),
                letter(place),
                option.text
            ),
            why: option.why.clone().unwrap_or_default(),
        })
        .collect()
}

fn of_order(steps: &[Step]) -> Vec<Reason> {
    let steps = steps.iter().enumerate();
    steps
        .map(|(place, step)| Reason {
            what: format!("{}. {}", place + 1, step.text),
            why: step.why.clone().unwrap_or_default(),
        })
        .collect()
}

fn of_match(pairs: &Match) -> Vec<Reason> {
    let paired = pairs.pairs.iter().map(|pair| Reason {
        what: format!("{}: {}", pair.left, pair.right),
        why: pair.why.clone().unwrap_or_default(),
    });
    let unused = pairs.extra.iter().map(|extra| Reason {
        what: format!("Unused: {}", extra.text),
        why: extra.why.clone(),
    });
    paired.chain(unused).collect()
}

fn of_short(short: &Short) -> Vec<Reason> {
    let (first, also) = match short.accept.as_slice() {
        [first, also @ ..] => (first.as_str(), also),
        [] => ("", &[][..]),
    };
    let key = Reason {
        what: format!("{}: {first}", verdict(true)),
        why: match also {
            [] => String::new(),
            also => format!("Also accepted: {}.", also.join("; ")),
        },
    };
    let refused = short.refuse.iter().map(|refused| Reason {
        what: format!("{}: {}", verdict(false), refused.text),
        why: refused.why.clone(),
    });
    iter::once(key).chain(refused).collect()
}

fn of_numeric(numeric: &Numeric, pose: &Pose) -> Vec<Reason> {
    let Some(worked) = kinds::worked(numeric, pose) else {
        return Vec::new();
    };
    let reason = |right, number: &str, why| Reason {
        what: format!("{}: {number}", verdict(right)),
        why,
    };
    let slips = worked.slips.into_iter();
    let key = reason(true, &numeric.with_unit(worked.key), worked.solution);
    iter::once(key)
        .chain(slips.map(|(number, why)| reason(false, &number, why)))
        .collect()
}

const fn verdict(right: bool) -> &'static str {
    if right { "Right" } else { "Wrong" }
}
