//! Texts with values in them: `{name}` shows a value, `{name:1}` shows it with one decimal.

/// A stretch of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece<'t> {
    /// Shown as it is.
    Text(&'t str),
    /// A value is shown in its place.
    Value {
        /// Its name.
        name: &'t str,
        /// Decimals it is shown with, if they are fixed.
        decimals: Option<usize>,
        /// Where it stands, braces included.
        place: (usize, usize),
    },
    /// Braces that show nothing, with their place.
    Wrong(&'t str, (usize, usize)),
}

/// The pieces of a text in order.
pub fn pieces(text: &str) -> impl Iterator<Item = Piece<'_>> {
    let mut at = 0;
    std::iter::from_fn(move || {
        let rest = text.get(at..).filter(|rest| !rest.is_empty())?;
        let start = at;
        let Some(brace) = rest.find(['{', '}']).filter(|brace| *brace == 0) else {
            let length = rest.find(['{', '}']).unwrap_or(rest.len());
            at += length;
            return rest.get(..length).map(Piece::Text);
        };
        let end = rest
            .get(brace + 1..)
            .and_then(|inner| inner.find(['{', '}', '\n']))
            .filter(|_| rest.starts_with('{'))
            .map(|length| length + 2)
            .filter(|end| rest.get(..*end).is_some_and(|run| run.ends_with('}')));
        let run = rest.get(..end.unwrap_or(1)).unwrap_or_default();
        at += run.len();
        let place = (start, at);
        let inner = run.trim_start_matches('{').trim_end_matches('}');
        let (name, decimals) = match inner.split_once(':') {
            None => (inner, Some(None)),
            Some((name, digit)) => (
                name,
                digit.parse().ok().filter(|_| digit.len() == 1).map(Some),
            ),
        };
        Some(match decimals {
            Some(decimals) if end.is_some() && !name.is_empty() => Piece::Value {
                name,
                decimals,
                place,
            },
            _ => Piece::Wrong(run, place),
        })
    })
}

/// A text with its values in place; what has no value stays as it was written.
#[must_use]
pub fn fill(text: &str, value: impl Fn(&str, Option<usize>) -> Option<String>) -> String {
    pieces(text)
        .map(|piece| match piece {
            Piece::Text(text) => text.to_owned(),
            Piece::Value {
                name,
                decimals,
                place,
            } => value(name, decimals)
                .unwrap_or_else(|| text.get(place.0..place.1).unwrap_or_default().to_owned()),
            Piece::Wrong(run, _) => run.to_owned(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn values_stand_where_they_are_named() {
        let value = |name: &str, decimals: Option<usize>| {
            (name == "kg").then(|| format!("70{}", ".0".repeat(decimals.unwrap_or(0))))
        };
        assert_eq!(fill("{kg} kg, {kg:1} kg", value), "70 kg, 70.0 kg");
        assert_eq!(fill("{lb} and {kg", value), "{lb} and {kg");
        assert_eq!(fill("", value), "");
    }

    #[test]
    fn braces_that_show_nothing_are_told() {
        let wrong = |text| {
            pieces(text)
                .filter(|piece| matches!(piece, Piece::Wrong(..)))
                .count()
        };
        for text in [
            "{", "}", "{}", "{kg", "kg}", "{kg:}", "{kg:x}", "{kg:12}", "{k{g}", "{k\ng}",
        ] {
            assert!(wrong(text) > 0, "{text:?}");
        }
        for text in ["{kg}", "{kg:0} and {kg:9}", "no braces"] {
            assert_eq!(wrong(text), 0, "{text:?}");
        }
    }

    proptest! {
        #[test]
        fn nothing_is_lost(text in "[{}a-c:0-9 \nß]{0,40}") {
            prop_assert_eq!(fill(&text, |_, _| None), text);
        }
    }
}
