//! Words that must never be taken for each other.
//!
//! A slip of the keyboard is forgiven and a mended spelling changes no meaning, but "mesial" for "medial" or
//! "hypotension" for "hypertension" is another answer however near the letters are. The tables list such words in groups:
//! within one group every member excludes the others. Common practice of anatomical and clinical naming; positions
//! after Terminologia Anatomica. The groups of whole words stand in `terms.txt`. Words are given folded: lower case, no accents, `ae` and `oe` as `e`.

use std::collections::HashMap;
use std::sync::LazyLock;

use unicode_normalization::UnicodeNormalization as _;
use unicode_normalization::char::is_combining_mark;

/// The groups of whole words.
static TABLE: LazyLock<Table> = LazyLock::new(|| Table::read(include_str!("terms.txt")));

/// The groups with a way from each form to where it stands.
struct Table {
    /// Groups of members of forms.
    groups: Vec<Vec<Vec<&'static str>>>,
    /// For each form its places as (group, member).
    places: HashMap<&'static str, Vec<(usize, usize)>>,
    /// For each initial the forms, with the name of each.
    initials: HashMap<char, Vec<(&'static str, &'static str)>>,
}

impl Table {
    fn read(text: &'static str) -> Self {
        let lines = text
            .lines()
            .filter(|line| !line.is_empty() && !line.starts_with('#'));
        let groups: Vec<Vec<Vec<&str>>> = lines
            .map(|line| {
                line.split('|')
                    .map(|member| member.split_whitespace().collect())
                    .collect()
            })
            .collect();
        let mut places: HashMap<&str, Vec<(usize, usize)>> = HashMap::new();
        let mut initials: HashMap<char, Vec<(&str, &str)>> = HashMap::new();
        for (group, members) in groups.iter().enumerate() {
            for (member, forms) in members.iter().enumerate() {
                let name = forms.first().copied().unwrap_or_default();
                for form in forms {
                    places.entry(form).or_default().push((group, member));
                    let initial = form.chars().next().unwrap_or_default();
                    initials.entry(initial).or_default().push((form, name));
                }
            }
        }
        Self {
            groups,
            places,
            initials,
        }
    }

    fn places(&self, form: &str) -> &[(usize, usize)] {
        self.places.get(form).map(Vec::as_slice).unwrap_or_default()
    }

    /// The forms that start like a word, with the name of each.
    fn near(&self, word: &str) -> &[(&'static str, &'static str)] {
        let forms = word
            .chars()
            .next()
            .and_then(|initial| self.initials.get(&initial));
        forms.map(Vec::as_slice).unwrap_or_default()
    }
}

/// Groups of word beginnings: with the same rest they make different terms.
const PREFIXES: &[&[&str]] = &[
    &["hypo", "hyper", "normo", "eu"],
    &[
        "inter", "intra", "extra", "infra", "supra", "sub", "trans", "peri", "para", "retro",
        "juxta",
    ],
    &["pre", "post", "peri", "intra"],
    &["endo", "exo", "ecto", "epi"],
    &["ante", "anti", "post"],
    &["micro", "macro"],
    &["brady", "tachy"],
    &["uni", "bi", "tri", "multi"],
    &["mono", "di", "tri", "poly", "oligo"],
    &["ab", "ad"],
    &["iso", "hetero", "homo", "auto", "allo", "xeno"],
    &["mesio", "disto"],
    &["bucco", "linguo", "palato", "labio"],
    // These deny alike, so each stands against the bare word only.
    &["", "non"],
    &["", "un"],
    &["", "in"],
    &["", "im"],
    &["", "ir"],
    &["", "an"],
    &["", "a"],
    &["", "dis"],
    &["", "de"],
    &["", "contra"],
];

/// Beginnings that tell by themselves: long enough to start few words by chance, and one of each pair of opposites.
const TELLING: &[&str] = &[
    "hypo", "hyper", "inter", "intra", "extra", "supra", "infra", "post", "brady", "tachy",
    "micro", "macro", "mono", "poly",
];

/// Groups of word endings: with the same beginning they make different terms.
const SUFFIXES: &[&[&str]] = &[
    &[
        "ectomy", "otomy", "ostomy", "oplasty", "plasty", "opexy", "oscopy", "orrhaphy", "ography",
        "ogram",
    ],
    &["itis", "osis", "oma", "opathy", "algia"],
    &["blast", "clast", "cyte"],
    &["static", "cidal"],
];

/// Shortest word in which one wrong letter is taken for a slip.
const SLIP_LENGTH: usize = 5;

/// A word in the form of the tables: lower case, no accents, `ae` and `oe` as `e`.
#[must_use]
pub fn folded(word: &str) -> String {
    let bare: String = word
        .nfd()
        .filter(|character| !is_mark(*character))
        .collect();
    let bare = bare.to_lowercase().replace(['æ', 'œ'], "e");
    bare.replace("ae", "e").replace("oe", "e")
}

/// Whether a character is a mark on the letter before it.
pub(super) fn is_mark(character: char) -> bool {
    is_combining_mark(character)
}

/// The terms that a folded word stands for, by their names; a word one letter off stands for what it is nearest to. Empty
/// for an ordinary word.
#[must_use]
pub fn terms(word: &str) -> Vec<&'static str> {
    let exact = TABLE
        .places(word)
        .iter()
        .map(|(group, member)| &TABLE.groups[*group][*member]);
    let mut names: Vec<&'static str> = exact.filter_map(|member| member.first().copied()).collect();
    if names.is_empty() {
        let near = TABLE
            .near(word)
            .iter()
            .filter(|(form, _)| is_slip(word, form));
        names = near.map(|(_, name)| *name).collect();
    }
    names.sort_unstable();
    names.dedup();
    names
}

/// The beginning of a folded word that turns its meaning, such as `hypo`.
#[must_use]
pub fn beginning(word: &str) -> Option<&'static str> {
    const LEAST_REST: usize = 4;
    let begins = |start: &&&str| {
        let rest = word.strip_prefix(**start);
        rest.is_some_and(|rest| rest.chars().count() >= LEAST_REST)
    };
    TELLING.iter().find(begins).copied()
}

/// Whether two folded words are different terms, however alike they look: different members of one group, or the
/// same word with another beginning or ending of a group. A word that could be a slip for several terms counts as different
/// from each.
#[must_use]
pub fn differ(one: &str, two: &str) -> bool {
    one != two && (excluded(one, two) || excluded(two, one) || ends_differ(one, two))
}

/// Whether `known` is a term and `word` is, or is one letter from, another of its group.
fn excluded(word: &str, known: &str) -> bool {
    TABLE.places(known).iter().any(|(group, own)| {
        let members = &TABLE.groups[*group];
        let mut others = members
            .iter()
            .enumerate()
            .filter(|(member, _)| member != own);
        !members[*own].contains(&word)
            && others.any(|(_, forms)| {
                forms
                    .iter()
                    .any(|form| *form == word || is_slip(word, form))
            })
    })
}

fn ends_differ(one: &str, two: &str) -> bool {
    let long_enough = |rest: &str| rest.chars().count() >= 3;
    let beginning = PREFIXES.iter().any(|group| {
        rests(group, one, |word, prefix| word.strip_prefix(prefix)).any(|(mine, rest)| {
            long_enough(rest)
                && group
                    .iter()
                    .any(|other| *other != mine && two.strip_prefix(other) == Some(rest))
        })
    });
    beginning
        || SUFFIXES.iter().any(|group| {
            rests(group, one, |word, suffix| word.strip_suffix(suffix)).any(|(mine, rest)| {
                long_enough(rest)
                    && group
                        .iter()
                        .any(|other| *other != mine && two.strip_suffix(other) == Some(rest))
            })
        })
}

fn rests<'w>(
    group: &'static [&'static str],
    word: &'w str,
    strip: impl Fn(&'w str, &'static str) -> Option<&'w str>,
) -> impl Iterator<Item = (&'static str, &'w str)> {
    group
        .iter()
        .filter_map(move |part| strip(word, part).map(|rest| (*part, rest)))
}

/// Whether a word is a form with one letter wrong, missing, added or swapped; never its first. Forms are ASCII, so
/// bytes will do: a letter of two bytes is taken for two slips.
fn is_slip(word: &str, form: &str) -> bool {
    let (word, form) = (word.as_bytes(), form.as_bytes());
    if form.len() < SLIP_LENGTH || word.first() != form.first() {
        return false;
    }
    let start = word
        .iter()
        .zip(form)
        .take_while(|(one, two)| one == two)
        .count();
    let (word, form) = (&word[start..], &form[start..]);
    let ends = word.iter().rev().zip(form.iter().rev());
    let end = ends.take_while(|(one, two)| one == two).count();
    match (&word[..word.len() - end], &form[..form.len() - end]) {
        ([] | [_], [] | [_]) => true,
        ([a, b], [c, d]) => a == d && b == c,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn different_terms_differ_however_alike() {
        for (one, two) in [
            ("maxillary", "mandibular"),
            ("buccal", "lingual"),
            ("mesial", "medial"),
            ("incision", "excision"),
            ("hypotension", "hypertension"),
            ("hypodontia", "hyperdontia"),
            ("interdental", "intradental"),
            ("gingivectomy", "gingivoplasty"),
            ("osteoblast", "osteoclast"),
            ("bacteriostatic", "bactericidal"),
            ("abducted", "adducted"),
            ("septic", "aseptic"),
            ("lidocaine", "prilocaine"),
            ("first", "third"),
        ] {
            assert!(differ(one, two) && differ(two, one), "{one} {two}");
        }
    }

    #[test]
    fn forms_of_one_term_and_slips_do_not_differ() {
        for (one, two) in [
            ("buccal", "buccally"),
            ("bucal", "buccal"),
            ("maxilla", "maxillary"),
            ("lidocaine", "lignocaine"),
            ("mandibuler", "mandibular"),
            ("nerve", "nerves"),
            ("socket", "sockets"),
        ] {
            assert!(!differ(one, two), "{one} {two}");
        }
        // Could be either, so it is neither.
        assert!(differ("mecial", "medial"));
    }

    #[test]
    fn a_slip_keeps_its_term() {
        assert_eq!(terms("lingual"), ["lingual"]);
        assert_eq!(terms("lingaul"), ["lingual"]);
        assert_eq!(terms("socket"), Vec::<&str>::new());
        assert_eq!(beginning("hyperdontia"), Some("hyper"));
        assert_eq!(beginning("post"), None);
        assert_eq!(folded("Anæsthésia"), "anesthesia");
    }

    #[test]
    fn the_tables_are_folded_and_name_each_member_once_a_group() {
        for group in &TABLE.groups {
            let forms: Vec<&str> = group.iter().flatten().copied().collect();
            for (index, form) in forms.iter().enumerate() {
                assert_eq!(folded(form), *form);
                assert!(!forms[index + 1..].contains(form), "{form}");
            }
            assert!(group.iter().all(|member| !member.is_empty()));
        }
        for part in PREFIXES.iter().chain(SUFFIXES).copied().flatten() {
            assert_eq!(folded(part), *part);
        }
    }
}
