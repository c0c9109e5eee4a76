//! A typed term: forgiving of how it is written, never of what it means.
//!
//! Marking, step by step:
//! 1. Both sides are folded: case, accents, punctuation, hyphens, spacing, a leading article, plural endings and British or
//!    American spelling of oe and ae do not count. Numbers stay what they are: 2.5 and 2,5 are one number, 2.5 and 25 are two,
//!    2-3 is not 23, and a sign counts.
//! 2. A folded form that is refused is wrong; one that is accepted is right. What is wrong is told as the refused term that it
//!    is but for the noun at the end of an accepted form.
//! 3. Otherwise a slip of the keyboard is forgiven: word by word, one letter added, left out, changed or
//!    swapped in a word of five to nine letters, two in a longer one; none in a shorter one, none in digits, none in the first
//!    letter (mental is not dental), and never one that turns a term into another term (mesial into medial, hypo- into hyper-).

use strsim::osa_distance;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::{Line, Standing, Verdict};
use crate::deck::model::{Refused, Short};
use crate::deck::terms;

pub(super) fn mark(short: &Short, typed: &str) -> Verdict {
    let words = fold(typed);
    let refused = short
        .refuse
        .iter()
        .find(|refused| same(&words, &fold(&refused.text)));
    let right = refused.is_none() && accepted(short, &words);
    // Told as a refused term only if it was not accepted: a slip of it deserves the same explanation, and so does the same
    // term with or without the noun of the key, "inferior alveolar nerve" for "inferior alveolar".
    let nouns = nouns(short);
    let refused = refused.or_else(|| {
        short.refuse.iter().find(|refused| {
            let form = fold(&refused.text);
            !right && (slip(&words, &form) || slip(bare(&words, &nouns), bare(&form, &nouns)))
        })
    });
    let mut lines = Vec::new();
    if !right {
        lines.push(wrong_line(typed, refused));
    }
    lines.push(Line {
        label: String::new(),
        text: short.accept.first().cloned().unwrap_or_default(),
        standing: if right {
            Standing::Hit
        } else {
            Standing::Missed
        },
        given: right.then(|| format!("you typed {}", typed.trim())),
        why: None,
    });
    Verdict {
        right,
        key: short.accept.clone(),
        logged: vec![typed.trim().to_owned()],
        lines,
        beliefs: refused
            .and_then(|refused| refused.belief.clone())
            .into_iter()
            .collect(),
    }
}

fn wrong_line(typed: &str, refused: Option<&Refused>) -> Line {
    Line {
        label: String::new(),
        text: typed.trim().to_owned(),
        standing: Standing::Wrong,
        given: None,
        why: refused.map(|refused| refused.why.clone()),
    }
}

fn accepted(short: &Short, words: &[String]) -> bool {
    let forms: Vec<Vec<String>> = short.accept.iter().map(|form| fold(form)).collect();
    if forms.iter().any(|form| same(words, form)) {
        return true;
    }
    // A slip that lies as near to a refused term as to an accepted one could be either: not forgiven.
    let nearest_refused = short
        .refuse
        .iter()
        .map(|r| distance(words, &fold(&r.text)))
        .min();
    forms.iter().any(|form| {
        slip(words, form) && nearest_refused.is_none_or(|refused| distance(words, form) < refused)
    })
}

/// The nouns that accepted forms of several words end with: nerve, artery, flap.
fn nouns(short: &Short) -> Vec<String> {
    let forms = short.accept.iter().map(|form| fold(form));
    let several = forms.filter(|form| form.len() > 1);
    several.filter_map(|mut form| form.pop()).collect()
}

/// A term without such a noun at its end; the noun alone stays as it is.
fn bare<'w>(words: &'w [String], nouns: &[String]) -> &'w [String] {
    match words {
        [rest @ .., last] if !rest.is_empty() && nouns.contains(last) => rest,
        _ => words,
    }
}

/// The words of a text with all that is forgiven taken out.
fn fold(text: &str) -> Vec<String> {
    let letters: Vec<char> = text
        .nfkd()
        .filter(|c| !is_combining_mark(*c) && !matches!(c, '\'' | '’'))
        .flat_map(char::to_lowercase)
        .collect();
    let mut plain = String::with_capacity(text.len());
    for (at, letter) in letters.iter().enumerate() {
        let before = at.checked_sub(1).and_then(|before| letters.get(before));
        let rest = letters.get(at + 1..).unwrap_or_default();
        match sign(before, *letter, rest) {
            Some(sign) => plain.push_str(sign),
            None if letter.is_alphanumeric() => plain.push(*letter),
            None => plain.push(' '),
        }
    }
    let mut words: Vec<String> = plain.split_whitespace().map(singular).collect();
    if words.len() > 1 && matches!(words[0].as_str(), "the" | "a" | "an") {
        words.remove(0);
    }
    words
}

/// What a sign means between what stands before and behind it; `None` if nothing, or if it is no sign.
fn sign(before: Option<&char>, letter: char, rest: &[char]) -> Option<&'static str> {
    let is_digit = |c: Option<&char>| c.is_some_and(char::is_ascii_digit);
    let digits = rest.iter().take_while(|c| c.is_ascii_digit()).count();
    match letter {
        '+' => Some("+"),
        '%' => Some("%"),
        '<' | '>' | '≤' | '≥' | '±' => Some(match letter {
            '<' => " <",
            '>' => " >",
            '≤' => " ≤",
            '≥' => " ≥",
            _ => " ±",
        }),
        // 1,000 has groups; 2,5 is a decimal number.
        ',' if is_digit(before) && digits == 3 => Some(""),
        ',' | '.' if is_digit(before) && digits > 0 => Some("."),
        '.' if digits > 0 && before.is_none_or(|c| !c.is_alphanumeric()) => Some(" 0."),
        '-' | '−' if digits > 0 && before.is_none_or(|c| !c.is_alphanumeric()) => Some(" -"),
        _ => None,
    }
}

/// One spelling for oe/ae and e, and for singular and plural.
fn singular(word: &str) -> String {
    let word = word.replace("oe", "e").replace("ae", "e");
    let Some(stem) = word.strip_suffix('s') else {
        return word;
    };
    // "molars" but not "mucous", "pus", "process", "fossa's" sibling "os".
    if stem.len() >= 4 && !stem.ends_with(['s', 'u', 'i']) {
        stem.to_owned()
    } else {
        word
    }
}

/// Equal but for spacing ("mucogingival", "muco-gingival").
fn same(left: &[String], right: &[String]) -> bool {
    joined(left) == joined(right)
}

/// The words without the spaces between them, but for those that part numbers.
fn joined(words: &[String]) -> String {
    let mut joined = String::new();
    for word in words {
        if joined.ends_with(|c: char| c.is_ascii_digit())
            && word.starts_with(|c: char| c.is_ascii_digit())
        {
            joined.push(' ');
        }
        joined.push_str(word);
    }
    joined
}

fn distance(left: &[String], right: &[String]) -> usize {
    osa_distance(&joined(left), &joined(right))
}

/// Whether `typed` is `form` but for slips of the keyboard.
fn slip(typed: &[String], form: &[String]) -> bool {
    // With a space too many or too few nobody can tell which word a slip is in, and it may make another term of it.
    typed.len() == form.len()
        && typed
            .iter()
            .zip(form)
            .all(|(typed, form)| slip_of_word(typed, form))
}

fn slip_of_word(typed: &str, form: &str) -> bool {
    if typed == form {
        return true;
    }
    let of_number =
        |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '<' | '>' | '≤' | '≥' | '±');
    let numbers = |word: &str| -> String { word.chars().filter(|c| of_number(*c)).collect() };
    let allowed = match form.chars().count() {
        0..=4 => 0,
        5..=9 => 1,
        _ => 2,
    };
    typed.chars().next() == form.chars().next()
        && numbers(typed) == numbers(form)
        && osa_distance(typed, form) <= allowed
        && !terms::differ(typed, form)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn short(accept: &[&str], refuse: &[&str]) -> Short {
        let refused = |text: &&str| Refused {
            text: (*text).into(),
            why: "another term".into(),
            belief: None,
        };
        Short {
            accept: accept.iter().map(ToString::to_string).collect(),
            refuse: refuse.iter().map(refused).collect(),
        }
    }

    fn right(accept: &str, typed: &str) -> bool {
        mark(&short(&[accept], &[]), typed).right
    }

    #[test]
    fn writing_is_forgiven() {
        for typed in [
            "lingual nerve",
            " Lingual  Nerve ",
            "the lingual nerve",
            "lingual-nerve",
            "lingualnerve",
            "língual nerve",
            "lingual nerves",
            "lingaul nerve",
            "lingal nerve",
            "lingual nervee",
        ] {
            assert!(right("lingual nerve", typed), "{typed}");
        }
        assert!(
            right("oedema", "edema")
                && right("edema", "Oedema")
                && right("haemostasis", "hemostasis")
        );
        assert!(right("Ludwig's angina", "ludwigs angina"));
        assert!(right("muco-gingival junction", "mucogingival junction"));
        assert!(right("three-cornered flap", "three cornerd flap"));
    }

    #[test]
    fn another_term_is_never_forgiven() {
        for (accept, typed) in [
            ("maxillary", "mandibular"),
            ("buccal", "lingual"),
            ("buccal nerve", "buccal artery"),
            ("mesial", "medial"),
            ("mesial root", "distal root"),
            ("hypertrophy", "hypotrophy"),
            ("hypercementosis", "hypocementosis"),
            ("infraorbital", "intraorbital"),
            ("infraorbital foramen", "supraorbital foramen"),
            ("incision", "excision"),
            ("superior", "inferior"),
            ("anterior", "posterior"),
            ("greater palatine", "lesser palatine"),
            ("mental nerve", "dental nerve"),
            ("ileum", "ilium"),
            ("abduction", "adduction"),
            ("lingual nerve", "lingual"),
            ("lingual nerve", "nerve"),
            ("tooth 38", "tooth 48"),
            ("6 mm", "8 mm"),
            ("0.5 mg", "5 mg"),
            ("pus", "pug"),
        ] {
            assert!(!right(accept, typed), "{typed} for {accept}");
        }
    }

    #[test]
    fn a_number_stays_the_number_it_is() {
        for (accept, typed) in [
            ("2.5 mg", "25mg"),
            ("2.5 mg", "25 mg"),
            ("15 mg", "1,5 mg"),
            ("15 mg", "1.5mg"),
            ("5 mg", ".5 mg"),
            ("0.5 mg", "5 mg"),
            ("2-3 mm", "23 mm"),
            ("> 4 mm", "< 4 mm"),
            ("-1", "1"),
            ("1500 mg", "1.5 mg"),
            ("mesial root", "medialroot"),
        ] {
            assert!(!right(accept, typed), "{typed} for {accept}");
        }
        for (accept, typed) in [
            ("2.5 mg", "2,5 mg"),
            ("2.5 mg", "2.5mg"),
            ("0.5 mg", ".5 mg"),
            ("1000 mg", "1,000 mg"),
            ("2-3 mm", "2 - 3 mm"),
            ("2-3 mm", "2–3 mm"),
            ("> 4 mm", ">4mm"),
            ("tooth 38", "tooth-38"),
            ("100%", "100 %"),
            ("i.v.", "IV"),
        ] {
            assert!(right(accept, typed), "{typed} for {accept}");
        }
    }

    #[test]
    fn a_refused_term_is_told_with_or_without_the_noun_of_the_key() {
        let item = short(
            &["lingual nerve", "lingual"],
            &["inferior alveolar", "long buccal nerve"],
        );
        let why = |typed: &str| mark(&item, typed).lines[0].why.is_some();
        for typed in [
            "inferior alveolar nerve",
            "inferior alveolar",
            "inferior alveloar nerve",
            "long buccal",
        ] {
            assert!(why(typed), "{typed}");
        }
        for typed in [
            "nerve",
            "superior alveolar nerve",
            "inferior alveolar artery",
        ] {
            assert!(!why(typed), "{typed}");
        }
        assert!(mark(&item, "lingual").right && mark(&item, "lingual nerve").right);
        // The noun is the key's own: where no accepted form has it, it is another answer.
        assert!(
            mark(&short(&["lingual"], &["alveolar"]), "alveolar nerve").lines[0]
                .why
                .is_none()
        );
    }

    #[test]
    fn a_refused_form_is_wrong_however_near() {
        let item = short(&["envelope flap"], &["envelop flop"]);
        let verdict = mark(&item, "Envelop flop");
        assert!(!verdict.right);
        assert_eq!(verdict.lines[0].why.as_deref(), Some("another term"));
        assert!(mark(&item, "envelopp flap").right);
    }

    #[test]
    fn a_slip_between_two_terms_is_not_forgiven() {
        // One letter from either: nobody can say which was meant.
        assert!(!mark(&short(&["palatal"], &["palatel"]), "palatol").right);
    }
}
