//! The faults of diagrams and flap designs: what each code means, why it matters, a wrong and a right example.

use super::Explanation;
use super::faults::fault;
use crate::diagnostic::Severity;

/// A flap for a lower right first molar with the jaw, the bone and the design of the example.
macro_rules! flap {
    ($jaw:literal, $bone:literal, $design:literal) => {
        concat!(
            "kind: flap\ncase: {jaw: ",
            $jaw,
            ", side: right, site: [6], bone: {",
            $bone,
            "}}\nshow: ",
            $design
        )
    };
    ($design:literal) => {
        flap!("lower", "top: 2, bottom: 8", $design)
    };
}

/// A flap for the root of a lower left second premolar, near the mental foramen.
macro_rules! premolar {
    ($design:literal) => {
        concat!(
            "kind: flap\ncase: {jaw: lower, side: left, site: [5], bone: {top: 2, bottom: 8}}\nshow: ",
            $design
        )
    };
}

/// A small diagram with the words, the outline and the place of the example.
macro_rules! block {
    ($right:literal, $through:literal, $crest:literal) => {
        concat!(
            "diagrams:\n  - diagram: block\n    view: a block of bone from the side\n    frame: 0,0 60,40\n    \
             toward: {left: in front, right: ",
            $right,
            ", up: above, down: below}\n    draw:\n      - {outline: block, through: \"",
            $through,
            "\"}\n    places:\n      - {place: crest, at: \"",
            $crest,
            "\", says: the upper edge}\n      - {place: lower border, at: \"30,2\", says: the bottom edge}\n      \
             - {place: front face, at: \"2,20\", says: the left edge}\n      \
             - {place: rear face, at: \"58,20\", says: the right edge}\n      \
             - {place: core, at: \"30,20\", says: the middle of all}"
        )
    };
}

/// The flap that most examples are mended to.
const SOUND_FLAP: &str = flap!("4ml .. 7dl");
/// The diagram that such examples are mended to.
const SOUND_BLOCK: &str = block!("behind", "2,2! 58,2! 58,38! 2,38!", "30,38");
/// The question for a place that such examples are mended to.
const SOUND_PLACE: &str = "kind: locate\ndiagram: mandible-lateral\nkey: mental foramen";

/// Every code of diagrams and flap designs, in order.
pub(super) const PICTURES: &[Explanation] = &[
    fault(
        "deck::bad-case",
        Severity::Error,
        "a flap is measured on what is to be reached, so that must be a possible operation",
        "give teeth 1 to 8 and a bone box that lies below the neck",
        flap!("lower", "top: 8, bottom: 2", "4ml .. 7dl"),
        SOUND_FLAP,
    ),
    fault(
        "deck::bad-design",
        Severity::Error,
        "a design that cannot be drawn cannot be measured",
        "write both ends, such as `4ml r10@20 .. 6dl`; see decks/pictures.md",
        flap!("7dl .. 4ml"),
        SOUND_FLAP,
    ),
    fault(
        "deck::bad-diagram",
        Severity::Error,
        "a drawing with a fault in its numbers cannot be drawn",
        "mend what the message names; see decks/pictures.md",
        block!("behind", "2,2!", "30,38"),
        SOUND_BLOCK,
    ),
    fault(
        "deck::bad-threshold",
        Severity::Error,
        "a number of the rules may be set otherwise within bounds and with its source",
        "name a limit, a value within its bounds and the source",
        flap!(
            "4ml .. 7dl\nthresholds:\n  - {limit: envelope-mesial, value: 100, source: MANUAL p 12}"
        ),
        flap!(
            "4ml .. 7dl\nthresholds:\n  - {limit: envelope-mesial, value: 1, source: MANUAL p 12}"
        ),
    ),
    fault(
        "deck::diagram-remark",
        Severity::Warning,
        "the drawing can be drawn, but part of it will be hard to make out",
        "mend what the message names",
        block!("in front", "2,2! 58,2! 58,38! 2,38!", "30,38"),
        SOUND_BLOCK,
    ),
    fault(
        "deck::hangs-on-threshold",
        Severity::Error,
        "a design within a millimetre of a threshold is judged by the mean width of teeth and not by its soundness",
        "move the design at least 1 mm clear of the threshold",
        premolar!("4ml r8@0 .. 6dl"),
        premolar!("4ml r10@20 .. 6dl"),
    ),
    fault(
        "deck::named-twice",
        Severity::Error,
        "a limit has one value, a rule one grade and one slip; the second would replace the first without a word",
        "take one of them out",
        flap!("4ml .. 7dl\ndecisive: [reach]\nadvisory: [reach]"),
        flap!("4ml .. 7dl\ndecisive: [reach]"),
    ),
    fault(
        "deck::no-slip",
        Severity::Error,
        "a design that breaks no such rule is no example of the error",
        "give a design that breaks the rule named, or another rule",
        flap!(
            "4ml .. 7dl\nslips:\n  - breaks: reach\n    design: 4ml .. 7dl\n    why: One tooth in front is too few."
        ),
        flap!(
            "4ml .. 7dl\nslips:\n  - breaks: reach\n    design: 5ml .. 7dl\n    why: One tooth in front is too few."
        ),
    ),
    fault(
        "deck::nothing-to-choose",
        Severity::Error,
        "where every place is right, or too few are left, nothing is asked",
        "leave at least four places, one of them wrong",
        "kind: locate\ndiagram: mandible-lateral\nplaces: [mental foramen, mandibular foramen, facial artery crossing, lowest course of the canal]\nkey: [mental foramen, mandibular foramen, facial artery crossing, lowest course of the canal]",
        "kind: locate\ndiagram: mandible-lateral\nplaces: [mental foramen, mandibular foramen, facial artery crossing, lowest course of the canal]\nkey: mental foramen",
    ),
    fault(
        "deck::unknown-diagram",
        Severity::Error,
        "a place can be asked for only in a drawing that there is",
        "name a diagram of the program or of this deck",
        "kind: locate\ndiagram: mandible-latral\nkey: mental foramen",
        SOUND_PLACE,
    ),
    fault(
        "deck::unknown-place",
        Severity::Error,
        "the places are those of the diagram",
        "use the name of a place of the diagram",
        "kind: locate\ndiagram: mandible-lateral\nkey: mental foraman",
        SOUND_PLACE,
    ),
    fault(
        "deck::unknown-word",
        Severity::Error,
        "jaw, side, surface, type and rules have their own words",
        "use one of the words that the message lists",
        flap!("lowr", "top: 2, bottom: 8", "4ml .. 7dl"),
        SOUND_FLAP,
    ),
    fault(
        "deck::unsound-design",
        Severity::Error,
        "the design that is shown as sound must keep every decisive rule",
        "change the design, or set a threshold with its source",
        flap!("5ml .. 7dl"),
        SOUND_FLAP,
    ),
    fault(
        "deck::unsound-diagram",
        Severity::Error,
        "places that overlap, lie outside or vanish at 80 by 24 cannot be told apart",
        "mend what the message names; see decks/pictures.md",
        block!("behind", "2,2! 58,2! 58,38! 2,38!", "30,48"),
        SOUND_BLOCK,
    ),
];
