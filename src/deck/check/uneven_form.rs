//! One option is built otherwise than the rest.

use super::asked::{Asked, Given};
use super::lettered_options::lettered;
use super::words::Prose;
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
    // What letters of their own do to the form is told by a rule of its own.
    if count < 3 || lettered(&asked.options).len() > 1 {
        return;
    }
    for (what, sign) in SIGNS {
        // "CT scan" among words in small letters is no other form.
        if what.starts_with("a capital") && asked.options.iter().any(starts_short) {
            continue;
        }
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
    if let Some((what, one)) = odd_one_out(&asked.options) {
        flaws.push(Flaw::new(what, one.span, "unlike the others"));
    }
}

/// Whether an option starts with a short form in capitals ("CT", "X-ray"), or with a number.
fn starts_short(given: &Given<'_>) -> bool {
    let first = given.text.words.first().map_or("", |word| word.raw);
    first.starts_with(|first: char| first.is_ascii_digit())
        || given
            .text
            .raw
            .get(1..)
            .is_some_and(|rest| rest.starts_with('-'))
        || (first.len() > 1 && !first.bytes().any(|byte| byte.is_ascii_lowercase()))
}

/// What an option is, as far as its first words show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    /// "Leave the root": a word with its object.
    Deed,
    /// "Loss of the root".
    Thing,
    /// "The patient is afraid to bite": with a verb of its own.
    Sentence,
    Other,
}

fn form(text: &Prose<'_>) -> Form {
    const OPENS: [&str; 46] = [
        "a", "about", "above", "across", "after", "all", "along", "an", "any", "around", "as",
        "at", "before", "behind", "below", "beneath", "beside", "between", "both", "by", "during",
        "each", "for", "from", "half", "if", "in", "into", "near", "no", "none", "not", "of", "on",
        "one", "only", "over", "that", "through", "to", "under", "until", "when", "while", "with",
        "without",
    ];
    const OBJECT: [&str; 12] = [
        "the", "a", "an", "it", "them", "him", "her", "his", "this", "its", "their", "both",
    ];
    const HELPER: [&str; 14] = [
        "is", "are", "was", "were", "has", "have", "can", "will", "should", "must", "may", "does",
        "do", "cannot",
    ];
    const CLAUSE: [&str; 10] = [
        "that", "which", "who", "when", "where", "if", "because", "as", "while", "until",
    ];
    let low = |at: usize| text.words.get(at).map_or("", |word| word.low.as_ref());
    let verb = text.low().position(|word| HELPER.contains(&word));
    let is_main = |verb: usize| !text.low().take(verb).any(|word| CLAUSE.contains(&word));
    if verb.is_some_and(|verb| verb > 0 && is_main(verb)) {
        Form::Sentence
    } else if OPENS.contains(&low(0)) || is_gerund(low(0)) {
        Form::Other
    } else if low(1) == "of" {
        Form::Thing
    } else if OBJECT.contains(&low(1)) {
        Form::Deed
    } else {
        Form::Other
    }
}

/// The option that is a deed among things, a thing among deeds, or a sentence among things.
fn odd_one_out<'a, 't>(options: &'a [Given<'t>]) -> Option<(&'static str, &'a Given<'t>)> {
    const ODD: [(Form, Form, &str); 3] = [
        (
            Form::Thing,
            Form::Deed,
            "one option alone starts with a noun",
        ),
        (
            Form::Deed,
            Form::Thing,
            "one option alone starts with a verb",
        ),
        (
            Form::Sentence,
            Form::Thing,
            "one option alone is a sentence",
        ),
    ];
    let forms: Vec<Form> = options.iter().map(|given| form(&given.text)).collect();
    ODD.iter().find_map(|(odd, rest, what)| {
        let mut odd_ones = options.iter().zip(&forms).filter(|(_, form)| *form == odd);
        let (one, _) = odd_ones.next()?;
        let alike = forms.iter().filter(|form| *form == rest).count();
        // The others that show no form must be too short to be sentences of their own.
        let is_plain = options.iter().zip(&forms).all(|(given, form)| {
            *form != Form::Other || *odd != Form::Sentence || given.text.words.len() <= 3
        });
        (odd_ones.next().is_none() && alike * 2 >= options.len() && is_plain)
            .then_some((*what, one))
    })
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

#[cfg(test)]
mod tests {
    use super::super::trial::told_by;
    use super::*;

    #[test]
    fn beside_a_number_a_capital_is_no_other_form() {
        let told = |options: &str| {
            let question = format!("For how long is aspirin stopped?\nkeep_order: true\n{options}");
            told_by("deck::uneven-form", &question).len()
        };
        assert_eq!(told("* No interruption is needed\n- 3 days\n- 7 days"), 0);
        assert_eq!(
            told("* X-ray from the side\n- occlusal view\n- oblique view"),
            0
        );
        assert_eq!(told("* Not at all\n- three days\n- seven days"), 1);
    }

    #[test]
    fn the_first_words_show_the_form() {
        let is = |text: &str, wanted: Form| assert_eq!(form(&Prose::new(text)), wanted, "{text}");
        is("Leave the root for a year", Form::Deed);
        is("Elevation of the root", Form::Thing);
        is("The patient is afraid to bite", Form::Sentence);
        is("Tooth that is loose", Form::Other);
        is("In the same direction", Form::Other);
        is("Refer for a root filling", Form::Other);
        is("None of the roots", Form::Other);
    }
}
