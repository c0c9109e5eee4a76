//! Numbers and messages as people say them, the same on every face.

/// `1 item`, `2 items`.
#[must_use]
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// Seconds as whole minutes: `less than a minute`, `1 minute`, `14 minutes`.
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to a year just before"
)]
pub fn minutes(seconds: f64) -> String {
    // NaN fails the comparison and is said as the first.
    if seconds >= 30.0 {
        counted(
            (seconds.min(31_557_600.0) / 60.0).round() as usize,
            "minute",
            "minutes",
        )
    } else {
        "less than a minute".to_owned()
    }
}

/// A text with its first letter large.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// A message as a sentence: a capital at the start, a full stop at the end.
#[must_use]
pub fn sentence(text: &str) -> String {
    let mut sentence = capital(text.trim());
    if !sentence.ends_with(['.', '!', '?']) {
        sentence.push('.');
    }
    sentence
}

/// A forecast with the interval it lies in nine times out of ten; never one without the other.
#[must_use]
pub fn interval(score: f64, low: f64, high: f64) -> String {
    let per_cent = |share: f64| 100.0 * share;
    format!(
        "{:.0} % of the marks (90 % interval {:.0} to {:.0} %)",
        per_cent(score),
        per_cent(low),
        per_cent(high)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn messages_become_sentences() {
        assert_eq!(sentence("type a term"), "Type a term.");
        assert_eq!(sentence(" Done! "), "Done!");
        assert_eq!(sentence(""), ".");
        assert_eq!(capital("élan"), "Élan");
    }

    #[test]
    fn numbers_are_said_as_people_say_them() {
        assert_eq!(counted(1, "item", "items"), "1 item");
        assert_eq!(counted(0, "item", "items"), "0 items");
        let said = [0.0, 29.9, 30.0, 95.0, 840.0, f64::NAN].map(minutes);
        let expected = [
            "less than a minute",
            "less than a minute",
            "1 minute",
            "2 minutes",
            "14 minutes",
            "less than a minute",
        ];
        assert_eq!(said, expected);
    }
}
