//! Words about places: which ones give a name away, and how a name stands in a sentence.

/// Words that may stand both in a name and in its description: teeth are named to say where something lies.
const TOOTH_WORDS: [&str; 9] = [
    "first", "second", "third", "central", "lateral", "incisor", "canine", "premolar", "molar",
];

/// A word of five letters or more that stands in both texts, other than the names of teeth.
#[must_use]
pub fn shared_word(name: &str, says: &str) -> Option<String> {
    let described: Vec<String> = long_words(says).collect();
    long_words(name).find(|word| described.iter().any(|other| same_word(word, other)))
}

/// Equal but for a plural ending.
fn same_word(one: &str, other: &str) -> bool {
    let plural_of = |long: &str, short: &str| {
        long.strip_prefix(short)
            .is_some_and(|ending| matches!(ending, "" | "s" | "es"))
    };
    plural_of(one, other) || plural_of(other, one)
}

/// Words of at least five letters, small, tooth words left out.
fn long_words(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|letter: char| !letter.is_alphabetic())
        .filter(|word| word.chars().count() >= 5)
        .map(str::to_lowercase)
        .filter(|word| !TOOTH_WORDS.iter().any(|tooth| same_word(word, tooth)))
}

/// Whether a direction wants "of" before what it is measured from: distal of, but behind and above.
#[must_use]
pub fn needs_of(direction: &str) -> bool {
    let last = direction.split_whitespace().next_back().unwrap_or_default();
    ![
        "above", "below", "behind", "beside", "beyond", "inside", "outside",
    ]
    .contains(&last)
}

/// A name in a sentence: with "the", unless it has an article.
#[must_use]
pub fn with_article(name: &str) -> String {
    let first = name.split_whitespace().next().unwrap_or_default();
    if ["a", "an", "the"].contains(&first.to_lowercase().as_str()) {
        name.to_owned()
    } else {
        format!("the {name}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shared_words_are_found() {
        for (name, says, shared) in [
            ("mental foramen", "13 mm above the lower border", None),
            (
                "mental foramen",
                "the Foramen below the premolars",
                Some("foramen"),
            ),
            (
                "apex of the first premolar",
                "root tip of the first premolar",
                None,
            ),
            ("condyle", "between the condyles", Some("condyle")),
            ("notch", "one of two notches", Some("notch")),
            ("frontal process", "in front of it", None),
            ("nasion", "the nasal root", None),
            ("line", "a line", None),
        ] {
            assert_eq!(
                shared_word(name, says).as_deref(),
                shared,
                "{name} / {says}"
            );
        }
    }

    #[test]
    fn directions_join_their_object() {
        assert!(needs_of("distal"));
        assert!(needs_of("in front"));
        assert!(needs_of("to the patient's right"));
        assert!(!needs_of("behind"));
        assert_eq!(with_article("condyle"), "the condyle");
        assert_eq!(with_article("the condyle"), "the condyle");
        assert_eq!(with_article("The condyle"), "The condyle");
    }
}
