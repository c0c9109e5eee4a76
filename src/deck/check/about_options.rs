//! Options that speak of the other options: "all of the above", "none of these", "A to C".

use super::asked::{Asked, Given};
use super::words::Prose;
use super::{Flaw, numeral::worded};

/// What an option says of the others.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Says {
    /// That all of them are right.
    All,
    /// That none is.
    None,
}

/// Reports every option that says a thing of the others.
pub(super) fn report(asked: &Asked<'_>, says: Says, message: &str, flaws: &mut Vec<Flaw>) {
    let count = asked.options.len();
    for (place, given) in asked.options.iter().enumerate() {
        let is_it = of_others(&given.text, place, count) == Some(says)
            && !(is_every_letter(&given.text, place, count) && has_lettered_names(asked));
        if is_it || (says == Says::All && is_all_but(asked, given)) {
            flaws.push(Flaw::new(message, given.span, "not an answer of its own"));
        }
    }
}

/// Whether what is asked for has a letter or a small number as its name: hepatitis B, cranial nerve VI, ASA class II.
pub(super) fn has_lettered_names(asked: &Asked<'_>) -> bool {
    const NAMED: [&str; 10] = [
        "asa",
        "clotting",
        "coagulation",
        "cranial",
        "haemophilia",
        "hemophilia",
        "hepatitis",
        "influenza",
        "vitamin",
        "vitamins",
    ];
    asked.stems.iter().any(|stem| {
        let words = stem.text.words.windows(2);
        let mut groups = words.filter(|pair| pair[1].low.starts_with("group"));
        stem.text.has_any(&NAMED) || groups.any(|pair| pair[0].low == "blood")
    })
}

/// Whether an option is all of the others but one of them: "All except silk" beside "Silk".
fn is_all_but(asked: &Asked<'_>, given: &Given<'_>) -> bool {
    let mut low = given.text.low().peekable();
    if low.next() != Some("all") || !matches!(low.next(), Some("but" | "except")) {
        return false;
    }
    for fill in ["for", "the"] {
        low.next_if_eq(&fill);
    }
    let one: Vec<&str> = low.collect();
    let mut options = asked.options.iter();
    options.any(|other| !one.is_empty() && other.text.low().eq(one.iter().copied()))
}

/// What the option at a place among so many says of the others; `None` if it is an answer of its own.
pub(super) fn of_others(option: &Prose<'_>, place: usize, count: usize) -> Option<Says> {
    const MOST: usize = 8;
    let words = match option.words.as_slice() {
        // "By all of these", "In none of these".
        [first, rest @ ..]
            if matches!(
                first.low.as_ref(),
                "by" | "in" | "at" | "with" | "to" | "for"
            ) =>
        {
            rest
        }
        words => words,
    };
    let low = |at: usize| words.get(at).map_or("", |word| word.low.as_ref());
    if words.is_empty() || words.len() > MOST {
        return None;
    }
    let first = low(0);
    // Alone they can mean nothing else, where "none" may be an answer.
    match first {
        "both" if words.len() == 1 && count > 2 => return Some(Says::All),
        "neither" if words.len() == 1 && count > 2 => return Some(Says::None),
        _ => {}
    }
    // "The answer is not listed", "There is no right option", "Not any of these".
    let denies = || {
        matches!(
            first,
            "not" | "the" | "there" | "it" | "answer" | "correct" | "right"
        ) && option.has_any(&["not", "no"])
    };
    let says = if matches!(
        first,
        "all" | "both" | "each" | "every" | "everything" | "any"
    ) {
        Says::All
    } else if matches!(
        first,
        "none" | "neither" | "nothing" | "no" | "another" | "other"
    ) || (first == "some" && low(1) == "other")
        || denies()
    {
        Says::None
    } else {
        return is_every_letter(option, place, count).then_some(Says::All);
    };
    let is_closed = words.iter().all(|word| {
        let word = word.low.as_ref();
        FILL.contains(&word)
            || POINT.contains(&word)
            || PLACED.contains(&word)
            || number(word).is_some()
    });
    let is_it = if is_closed {
        // "All three" of four options.
        let others = u8::try_from(count.saturating_sub(1)).map_or(0.0, f64::from);
        let is_count = number(low(1)).is_some_and(|number| number.total_cmp(&others).is_eq());
        option.has_any(&POINT)
            || option.has_any(&["above", "listed", "mentioned"])
            || (low(0) == "all" && words.len() == 2 && is_count)
    } else {
        // "All of the factors mentioned".
        let is_of_those = matches!(low(1), "of" | "the" | "these");
        let is_these = |at: usize| matches!(low(at), "these" | "those");
        (words.len() <= 5 && (is_these(1) || (low(1) == "of" && is_these(2))))
            || (is_of_those
                && (PLACED.contains(&low(words.len() - 1))
                    || (words.len() <= 5 && option.has_any(&PLACED))))
    };
    (is_it || is_every_letter(option, place, count)).then_some(says)
}

/// A small number in words or digits.
fn number(word: &str) -> Option<f64> {
    worded(word).or_else(|| word.parse::<u8>().ok().map(f64::from))
}

/// Words that alone make an option speak of the others.
const POINT: [&str; 20] = [
    "these",
    "those",
    "them",
    "options",
    "option",
    "answers",
    "answer",
    "statements",
    "statement",
    "choices",
    "choice",
    "correct",
    "right",
    "true",
    "apply",
    "applies",
    "others",
    "previous",
    "preceding",
    "foregoing",
];

/// Words that do so behind a noun: "the factors above".
const PLACED: [&str; 7] = [
    "above",
    "listed",
    "mentioned",
    "following",
    "given",
    "named",
    "below",
];

/// Words that may stand beside them.
const FILL: [&str; 24] = [
    "all",
    "both",
    "each",
    "every",
    "everything",
    "any",
    "none",
    "neither",
    "nothing",
    "no",
    "not",
    "of",
    "the",
    "is",
    "are",
    "there",
    "it",
    "here",
    "among",
    "that",
    "another",
    "other",
    "some",
    "than",
];

/// Whether an option names the letters of all others: "A, B and C", "A to C", "Both A and B" of three.
fn is_every_letter(option: &Prose<'_>, place: usize, count: usize) -> bool {
    let Some(others) = count.checked_sub(1).filter(|others| *others > 1) else {
        return false;
    };
    let (mut named, mut is_range) = ([false; 26], option.raw.contains(['-', '–']));
    let (mut first, mut last, mut letters) = (usize::MAX, 0, 0);
    for word in &option.words {
        match (word.low.as_bytes(), word.low.as_ref()) {
            ([letter @ b'a'..=b'z'], _) => {
                let at = usize::from(letter - b'a');
                if let Some(slot) = named.get_mut(at) {
                    *slot = true;
                }
                (first, last, letters) = (first.min(at), last.max(at), letters + 1);
            }
            (_, "to" | "through") => is_range = true,
            (
                _,
                "and" | "neither" | "nor" | "both" | "all" | "are" | "correct" | "right" | "true"
                | "options" | "answers",
            ) => {}
            _ => return false,
        }
    }
    if is_range && letters == 2 {
        named
            .iter_mut()
            .take(last)
            .skip(first)
            .for_each(|slot| *slot = true);
    }
    letters > 1
        && named.iter().filter(|is| **is).count() == others
        && (0..count).all(|at| at == place || named.get(at) == Some(&true))
}

#[cfg(test)]
mod tests {
    use super::super::trial::told_by;
    use super::*;

    #[test]
    fn all_but_one_of_the_options_speaks_of_them() {
        let told = |options: &str| {
            let question = format!("Which are resorbed?\n{options}");
            told_by("deck::all-of-the-above", &question).len()
        };
        assert_eq!(told("* All except silk\n- Silk\n- Catgut"), 1);
        assert_eq!(told("* All except the silk\n- Nylon\n- Catgut"), 0);
    }

    #[test]
    fn letters_that_are_names_speak_of_no_option() {
        let told = |stem: &str| {
            let question = format!("{stem}\n* B and C\n- A and E\n- A and C");
            told_by("deck::all-of-the-above", &question).len()
                + told_by("deck::combined-options", &question).len()
        };
        assert_eq!(told("Which hepatitis viruses are caught from a needle?"), 0);
        assert_eq!(told("Which blood groups are rare?"), 0);
        assert_eq!(told("Which of the drugs in the list thin the blood?"), 2);
    }

    fn last_of_four(text: &str) -> Option<Says> {
        of_others(&Prose::new(text), 3, 4)
    }

    #[test]
    fn an_option_about_the_others_is_told_from_an_answer() {
        for text in [
            "All of the above",
            "Both of these",
            "Both",
            "All are correct",
            "All the above.",
            "Every one of these",
            "By all of these",
            "All the statements are correct",
            "All of the factors mentioned",
            "All three",
            "All 3",
            "All the previous",
            "A, B and C",
            "A to C",
            "a-c",
        ] {
            assert_eq!(last_of_four(text), Some(Says::All), "{text}");
        }
        for text in [
            "None of the above",
            "Neither of these",
            "Neither",
            "None of these instruments",
            "None is correct",
            "No option is right",
            "Nothing of the mentioned",
            "The answer is not listed",
            "There is no correct answer",
            "Neither A nor B nor C",
            "Another answer",
            "Other than the above",
        ] {
            assert_eq!(last_of_four(text), Some(Says::None), "{text}");
        }
        for text in [
            "All of the buccal bone",
            "All four third molars",
            "All four",
            "Both the roots",
            "All teeth on the right",
            "Above the apex",
            "None",
            "None is given",
            "None of the mental nerve's branches",
            "No suture",
            "Other teeth",
            "In all patients",
            "A and B",
            "Vitamins A, B and C",
        ] {
            assert_eq!(last_of_four(text), None, "{text}");
        }
    }
}
