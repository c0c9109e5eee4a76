//! The key stands out by its length.

use super::asked::Asked;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::key-longest",
    severity: Severity::Warning,
    why: "writers qualify the key and not the distractors, so the longest option may help a guesser \
          (Haladyna, Downing & Rodriguez 2002, guideline 24; NBME item-writing guide)",
    help: "move the explanation to `rationale`, or give the distractors the same detail",
    wrong: "Where are the beaks of the forceps seated?\n* As far down the root as they go without force, in the long axis of the tooth\n- On the crown\n- On the gingiva",
    right: "Where are the beaks of the forceps seated?\n* Well down the root\n- On the crown\n- On the gingiva",
    find: Find::Item(find),
};

/// How much longer than the middle distractor the key must be to be told by it.
const TIMES: f64 = 1.5;
/// And by how many characters, or words.
const CHARACTERS: usize = 12;
const WORDS: usize = 3;
/// How much longer than the longest distractor: beside one nearly as long the key is not seen.
const TIMES_LONGEST: f64 = 1.25;
/// A key shorter than this holds no qualification that could give it away (our threshold).
const LONG: usize = 36;

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let Some((key, others)) = asked.single() else {
        return;
    };
    let others: Vec<&str> = others.iter().map(|given| given.text.raw).collect();
    if stands_out(key.text.raw, &others) {
        flaws.push(Flaw::new(
            "the key is much the longest option",
            key.span,
            "longer than any distractor",
        ));
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "options have at most a few hundred characters"
)]
fn stands_out(key: &str, others: &[&str]) -> bool {
    let characters = |text: &str| text.chars().count();
    let words = |text: &str| text.split_whitespace().count();
    let (length, count) = (characters(key), words(key));
    let mut lengths: Vec<usize> = others.iter().map(|text| characters(text)).collect();
    lengths.sort_unstable();
    let Some(longest) = lengths.last() else {
        return false;
    };
    let most_words = others
        .iter()
        .map(|text| words(text))
        .max()
        .unwrap_or_default();
    // The mean of the two middle lengths if their number is even.
    let middle = (lengths[(lengths.len() - 1) / 2] + lengths[lengths.len() / 2]) as f64 / 2.0;
    length >= LONG
        && length as f64 >= TIMES_LONGEST * *longest as f64
        && length as f64 >= TIMES * middle
        && (length >= longest + CHARACTERS || count >= most_words + WORDS)
}

#[cfg(test)]
mod tests {
    use super::stands_out;

    #[test]
    fn a_key_stands_out_by_half_again_and_a_dozen_characters() {
        let others = ["On the crown", "On the contact points", "On the gingiva"];
        assert!(stands_out(
            "As far down the root as the beaks will go without force",
            &others
        ));
        assert!(!stands_out("On the root, well down", &others));
        assert!(!stands_out("On the root", &others));
        assert!(!stands_out("Anything", &[]));
    }
}
