//! The faults of diagrams and flap designs: what each code means and why it matters. Their examples are told in words,
//! since a drawing takes more lines than a terminal shows; decks/pictures.md has whole ones.

use super::Explanation;
use super::faults::fault;
use crate::diagnostic::Severity;

/// Where sound ones are to be seen.
const SEE: &str = "(A whole example is in decks/pictures.md)";

/// Every code of diagrams and flap designs, in order.
pub(super) const PICTURES: &[Explanation] = &[
    fault(
        "deck::bad-case",
        Severity::Error,
        "a flap is measured on what is to be reached, so that must be a possible operation",
        "give teeth 1 to 8 and a bone box that lies below the neck",
        "(A flap for tooth 9)",
        SEE,
    ),
    fault(
        "deck::bad-design",
        Severity::Error,
        "a design that cannot be drawn cannot be measured",
        "write both ends, such as `4ml r10@20 .. 6dl`; see decks/pictures.md",
        "(A flap whose distal end lies in front of its mesial end)",
        SEE,
    ),
    fault(
        "deck::bad-diagram",
        Severity::Error,
        "a drawing with a fault in its numbers cannot be drawn",
        "mend what the message names; see decks/pictures.md",
        "(A curve through a single point)",
        SEE,
    ),
    fault(
        "deck::bad-threshold",
        Severity::Error,
        "a number of the rules may be set otherwise within bounds and with its source",
        "name a limit, a value within its bounds and the source",
        "(A clearance of 100 mm, or one without a source)",
        SEE,
    ),
    fault(
        "deck::diagram-remark",
        Severity::Warning,
        "the drawing can be drawn, but part of it will be hard to make out",
        "mend what the message names",
        "(An arch too short for its teeth)",
        SEE,
    ),
    fault(
        "deck::hangs-on-threshold",
        Severity::Error,
        "a design within a millimetre of a threshold is judged by the mean width of teeth and not by its soundness",
        "move the design at least 1 mm clear of the threshold",
        "(A release that passes the foramen at 5.2 mm where 5 are asked for)",
        SEE,
    ),
    fault(
        "deck::no-slip",
        Severity::Error,
        "a design that breaks no such rule is no example of the error",
        "give a design that breaks the rule named, or another rule",
        "(A slip said to break the rule of the base, with a base broader than its margin)",
        SEE,
    ),
    fault(
        "deck::nothing-to-choose",
        Severity::Error,
        "where every place is right, or too few are left, nothing is asked",
        "leave at least four places, one of them wrong",
        "(A diagram of which all places are keys)",
        SEE,
    ),
    fault(
        "deck::unknown-diagram",
        Severity::Error,
        "a place can be asked for only in a drawing that there is",
        "name a diagram of the program or of this deck",
        "(A diagram named mandible-latral)",
        SEE,
    ),
    fault(
        "deck::unknown-place",
        Severity::Error,
        "the places are those of the diagram",
        "use the name of a place of the diagram",
        "(A key that is no place of its diagram)",
        SEE,
    ),
    fault(
        "deck::unknown-word",
        Severity::Error,
        "jaw, side, surface, type and rules have their own words",
        "use one of the words that the message lists",
        "(A jaw called lowr)",
        SEE,
    ),
    fault(
        "deck::unsound-design",
        Severity::Error,
        "the design that is shown as sound must keep every decisive rule",
        "change the design, or set a threshold with its source",
        "(A shown design with a release through the middle of a crown)",
        SEE,
    ),
    fault(
        "deck::unsound-diagram",
        Severity::Error,
        "places that overlap, lie outside or vanish at 80 by 24 cannot be told apart",
        "mend what the message names; see decks/pictures.md",
        "(Two places in one spot)",
        SEE,
    ),
];
