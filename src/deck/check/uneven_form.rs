//! One option is built otherwise than the rest.

use super::asked::{Asked, Given};
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::uneven-form",
    severity: Severity::Advice,
    why: "an option that looks different draws the eye, to the key or away from it \
          (Haladyna, Downing & Rodriguez 2002, guideline 23: keep choices alike in content and grammar)",
    help: "give all options the same form: all phrases or all sentences, all starting with the same kind of word",
    wrong: "What is done first?\n* Locating the tip.\n- Enlarge the socket\n- Raise a flap\n- Take a second film",
    right: "What is done first?\n* Locate the tip\n- Enlarge the socket\n- Raise a flap\n- Take a second film",
    find: Find::EnglishItem(find),
};

type Sign = (&'static str, fn(&Given<'_>) -> bool);

const SIGNS: [Sign; 5] = [
    ("a full stop at its end", |given| {
        given.text.raw.ends_with('.') && !given.text.raw.ends_with("etc.")
    }),
    ("a bracket", |given| given.text.raw.contains('(')),
    ("a capital at its start", |given| {
        given.text.raw.starts_with(char::is_uppercase)
    }),
    ("`to` at its start", |given| {
        given.text.low().next() == Some("to")
    }),
    ("a word in -ing at its start", |given| {
        given.text.low().next().is_some_and(is_gerund)
    }),
];

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let count = asked.options.len();
    if count < 3 {
        return;
    }
    for (what, sign) in SIGNS {
        let has: Vec<&Given<'_>> = asked.options.iter().filter(|given| sign(given)).collect();
        // Many a noun ends in -ing: that one option has it says little, that one lacks it much.
        if let [one] = has.as_slice()
            && !what.starts_with("a word")
        {
            flaws.push(Flaw::new(
                format!("one option alone has {what}"),
                one.span,
                "unlike the others",
            ));
            return;
        }
        // A bracket that one option lacks is not seen.
        let is_loud = what.starts_with("a full stop")
            || what.starts_with("a capital")
            || what.starts_with("a word")
            || what.starts_with("`to`");
        if is_loud
            && has.len() + 1 == count
            && let Some(one) = asked.options.iter().find(|given| !sign(given))
            && !one
                .text
                .raw
                .starts_with(|first: char| first.is_ascii_digit())
        {
            flaws.push(Flaw::new(
                format!("one option alone lacks {what}"),
                one.span,
                "unlike the others",
            ));
            return;
        }
    }
}

fn is_gerund(word: &str) -> bool {
    word.len() > 5
        && word.ends_with("ing")
        && !matches!(
            word,
            "during"
                | "nothing"
                | "something"
                | "everything"
                | "bleeding"
                | "swelling"
                | "lingering"
                | "following"
                | "spring"
                | "string"
        )
}
