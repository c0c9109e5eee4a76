//! What a plain scalar means: text, or something that only looks like text.

use super::{Scalar, Style};

/// What a scalar stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::deck) enum Meaning {
    /// Text, to be had from the scalar.
    Text,
    /// Nothing, `~` or `null`.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A number, rounded to what a float can hold.
    Number(f64),
}

/// Asks `serde_yaml` what a scalar stands for.
pub(in crate::deck) fn meaning(scalar: &Scalar<'_>) -> Meaning {
    if scalar.style != Style::Plain || !may_be_other_than_text(&scalar.text) {
        return Meaning::Text;
    }
    // Spares the commonest ones the parser, too.
    match scalar.text.as_ref() {
        "" | "~" | "null" => return Meaning::Null,
        "true" => return Meaning::Bool(true),
        "false" => return Meaning::Bool(false),
        // Ends of documents to the parser, which takes the text for a whole file.
        text if text.starts_with("---") || text.starts_with("...") => return Meaning::Text,
        _ => {}
    }
    match serde_yaml::from_str(&scalar.text) {
        Ok(serde_yaml::Value::Null) => Meaning::Null,
        Ok(serde_yaml::Value::Bool(bool)) => Meaning::Bool(bool),
        Ok(serde_yaml::Value::Number(number)) => {
            number.as_f64().map_or(Meaning::Text, Meaning::Number)
        }
        Ok(_) => Meaning::Text,
        // Whole numbers past 64 bits are numbers too, but none that it can hold.
        Err(_) => scalar.text.parse().map_or(Meaning::Text, Meaning::Number),
    }
}

/// Spares nearly all texts the parser: numbers have no space in them and start with a digit, a sign or a dot.
fn may_be_other_than_text(text: &str) -> bool {
    match text.as_bytes().first() {
        None | Some(b'~') => true,
        Some(b'0'..=b'9' | b'+' | b'-' | b'.') => !text.contains(' '),
        Some(b'n' | b'N' | b't' | b'T' | b'f' | b'F') => text.len() <= 5,
        Some(_) => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_scalars_mean_what_serde_yaml_says() {
        let plain = |text: &'static str| {
            meaning(&Scalar {
                text: text.into(),
                style: Style::Plain,
            })
        };
        for text in [
            "no",
            "yes",
            "2026-11-25",
            "12:30",
            "017",
            "1_000",
            "5 mm",
            "Nerve",
            "none",
            "-",
            "---",
            "...",
            "truely",
        ] {
            assert_eq!(plain(text), Meaning::Text, "{text}");
        }
        for text in ["", "~", "null", "Null", "NULL"] {
            assert_eq!(plain(text), Meaning::Null, "{text}");
        }
        for (text, bool) in [("true", true), ("True", true), ("false", false)] {
            assert_eq!(plain(text), Meaning::Bool(bool));
            let other: serde_yaml::Value = serde_yaml::from_str(text).unwrap();
            assert_eq!(other, serde_yaml::Value::Bool(bool));
        }
        assert_eq!(plain("1.10"), Meaning::Number(1.1));
        assert_eq!(plain("0x1F"), Meaning::Number(31.0));
        assert_eq!(plain("99999999999999999999"), Meaning::Number(1e20));
        assert_eq!(plain(".inf"), Meaning::Number(f64::INFINITY));
    }
}
