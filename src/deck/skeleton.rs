//! A deck to start from: valid as it is written, with comments that say what to put where.

use super::read::shape::KINDS;
use crate::time::Day;

/// The kinds of items there are.
pub fn kinds() -> impl Iterator<Item = &'static str> {
    KINDS.iter().map(|kind| kind.what)
}

/// A deck with one item of each of these kinds. The id must be fit to be one and the title one line; see
/// [`super::read_deck`] on what came of it.
#[must_use]
pub fn skeleton(id: &str, title: &str, edition: Day, kinds: &[&str]) -> String {
    // A break written as an escape, so that the reader can say what is wrong with it.
    let title = title
        .replace('\\', "\\\\")
        .replace('"', "\\\"")
        .replace('\n', "\\n");
    let year = edition.year();
    let items: Vec<&str> = kinds.iter().map(|kind| item(kind)).collect();
    format!(
        "# A deck for luxate. `luxate deck check FILE` says what is wrong with it, and where.\n\
         # Put text with \": \" or \" #\" in it, or with a special first character, in double quotes.\n\
         deck: {id}\n\
         title: \"{title}\"\n\
         edition: \"{edition}\"          # raise it with every change that you hand out\n\
         language: en\n\
         # The SPDX name of a licence.\n\
         licence: CC-BY-4.0\n\
         \n\
         # What the deck covers. `weight` is the per cent of the exam that a topic stands for.\n\
         # The same id in two decks is the same topic.\n\
         topics:\n\
         \x20 - id: elevators\n\
         \x20   title: Elevators and what they rest on\n\
         \x20   weight: 2\n\
         \n\
         # What the items rest on. Each item names at least one, with the page.\n\
         sources:\n\
         \x20 - id: MANUAL\n\
         \x20   cite: \"Author A. {year}. Title of the manual. Publisher\"\n\
         \x20   year: {year}\n\
         \n\
         # The items. An id names its item for good: keep it when you reword, and answers go on counting.\n\
         items:\n{}",
        items.join("\n")
    )
}

fn item(kind: &str) -> &'static str {
    match kind {
        "multiple" => MULTIPLE,
        "order" => ORDER,
        "match" => MATCH,
        "short" => SHORT,
        "numeric" => NUMERIC,
        "locate" => LOCATE,
        "flap" => FLAP,
        "case" => CASE,
        _ => SINGLE,
    }
}

const LOCATE: &str = "\
\x20 - id: elevator-nerve
    topic: elevators
    # A place on a diagram of the program; decks/pictures.md lists them.
    kind: locate
    stem: An elevator slips at the lower premolars. Point to the opening that it must not meet.
    diagram: mandible-lateral
    key: mental foramen
    wrong:
      - place: lowest course of the canal
        why: The nerve still lies inside bone there.
    rationale: The nerve leaves the bone near the second premolar, just under where the tip would slide.
    sources:
      - MANUAL p 5
";

const FLAP: &str = "\
\x20 - id: elevator-flap
    topic: elevators
    # A design is measured by rules; `show` is one that keeps them all.
    kind: flap
    stem: A root tip of the lower left second premolar did not follow the elevator. Design the flap.
    case: {jaw: lower, side: left, site: [5], bone: {top: 2, bottom: 8}}
    show: 4ml r10@20 .. 6dl
    slips:
      - breaks: mental
        design: 5ml r10@10 .. 7dl
        why: The nerve leaves the bone below this very tooth.
    rationale: The cut stands one whole tooth in front of the bone work and clear of the foramen.
    sources:
      - MANUAL p 6
";

const NUMERIC: &str = "\
\x20 - id: elevator-force
    topic: elevators
    # Numbers are drawn afresh at each asking; the key is worked out from them.
    kind: numeric
    stem: \"A force of {force} N acts on an elevator {long} mm from where it rests. What is its moment in N mm?\"
    draw:
      force: {from: 5, to: 20, step: 1}
      long: [40, 50, 60]
    answer: force * long
    unit: N mm
    # Typical errors, told by name when somebody makes them.
    slips:
      - name: Divided in place of multiplied
        gives: long / force
        why: A moment grows with the length of the lever.
    solution: \"{force} N x {long} mm = {answer} N mm.\"
    rationale: The moment is the force times the length of its lever arm.
    sources:
      - MANUAL p 3
";

const SINGLE: &str = "\
\x20 - id: elevator-rest
    topic: elevators
    # one best answer
    kind: single
    # One whole question, answerable with the options covered.
    stem: What does a straight elevator rest on while it turns?
    # Three or four options of like length and form, exactly one with `key: true`.
    options:
      - text: Alveolar bone
        key: true
      - text: The neighbouring crown
        # each wrong option says why
        why: The neighbour would be loosened.
      - text: The operator's finger
        why: The finger guards the tip and bears no load.
    rationale: Bone bears the force and the neighbour is spared.
    sources:
      - MANUAL p 12
    # safety: true                # a wrong answer could harm a patient; then also:
    # caution: What could go wrong.
";

const MULTIPLE: &str = "\
\x20 - id: elevator-dangers
    topic: elevators
    # every right option and no other
    kind: multiple
    stem: Which structures can a straight elevator harm when it slips from a lower third molar?
    options:
      - text: Tongue
        key: true
      - text: Floor of the mouth
        key: true
      - text: Hard palate
        why: It lies in the other jaw.
      - text: Parotid duct
        why: It opens beside the upper molars.
    rationale: A slip goes inwards and down, into the soft tissues beside the tooth.
    sources:
      - MANUAL p 14
";

const ORDER: &str = "\
\x20 - id: elevator-steps
    topic: elevators
    # the steps stand here in the right order
    kind: order
    stem: Put the steps of raising a root with a straight elevator in order.
    steps:
      - text: Sever the gingival attachment
      - text: Seat the blade between root and bone
      - text: Turn the handle slowly
        why: Turning before the blade is seated chips the bone.
    rationale: The blade needs room and hold before any force.
    sources:
      - MANUAL p 13
";

const MATCH: &str = "\
\x20 - id: elevator-principles
    topic: elevators
    # each left with its right; `extra` rights belong to none
    kind: match
    stem: Match each elevator to the principle by which it mainly works.
    pairs:
      - left: Straight elevator
        right: Wedge
      - left: Triangular elevator
        right: Wheel and axle
    extra:
      - text: Pulley
        why: No elevator works with a rope.
    rationale: A straight blade is driven in as a wedge; a triangular one is turned.
    sources:
      - MANUAL p 15
";

const SHORT: &str = "\
\x20 - id: elevator-fulcrum
    topic: elevators
    # typed; slips of the keyboard are forgiven, other terms are not
    kind: short
    stem: What is the point called on which a lever turns?
    # the first form is the one shown
    accept:
      - fulcrum
      - pivot
    # wrong answers to be expected
    refuse:
      - text: handle
        why: The handle is where the force comes in.
    rationale: Effort and load are on either side of the fulcrum.
    sources:
      - MANUAL p 11
";

const CASE: &str = "\
\x20 - id: elevator-slip
    topic: elevators
    # a vignette; its parts are asked in order
    kind: case
    stem: While a lower root is raised the elevator slips inwards, and the floor of the mouth begins to swell.
    parts:
      - id: first-step
        kind: single
        stem: What is done first?
        options:
          - text: Press on the site
            key: true
          - text: Go on with the root
            why: The swelling may reach the airway meanwhile.
          - text: Rinse with water
            why: Rinsing stops no vessel.
        rationale: Pressure slows the bleeding until its source is known.
        safety: true
        caution: A haematoma in the floor of the mouth can close the airway.
      - id: what-it-is
        # shown before this part
        finding: With pressure the swelling stays as it is; it is dark blue.
        kind: short
        stem: What is the swelling called?
        accept:
          - haematoma
        rationale: It is blood in the tissue.
    rationale: Press, watch the airway, and find the vessel.
    sources:
      - MANUAL p 16
";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::read_deck;

    #[test]
    fn every_kind_has_a_skeleton_with_nothing_to_report() {
        let edition = Day::parse("2026-11-25").unwrap();
        let all: Vec<&str> = kinds().collect();
        for kinds in all.iter().map(std::slice::from_ref).chain([all.as_slice()]) {
            let text = skeleton("my-deck", "A \"quoted\" \\ title", edition, kinds);
            let reading = read_deck("skeleton.yaml", text.as_bytes());
            let said: Vec<&str> = reading
                .diagnostics
                .iter()
                .map(|found| found.message.as_str())
                .collect();
            assert!(said.is_empty(), "{kinds:?}: {said:?}\n{text}");
            let deck = reading.deck.unwrap();
            assert_eq!(deck.title, "A \"quoted\" \\ title");
            let written: Vec<&str> = deck.items.iter().map(|item| item.body.kind()).collect();
            assert_eq!(written, kinds);
        }
    }
}
