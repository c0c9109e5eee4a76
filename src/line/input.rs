//! Lines of input, whatever they hold: over-long ones are cut, what is no UTF-8 is replaced.

use std::io::{self, BufRead, Read};

use serde::de::DeserializeOwned;
use serde_json::Value;

/// Longest line that is looked at, in bytes. The rest of a longer one is read and dropped.
pub const LINE_MAX: usize = 1 << 20;

/// One line of input.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Input {
    /// A line without its end.
    Line(String),
    /// A line longer than [`LINE_MAX`].
    TooLong,
    /// The end of the input.
    End,
}

/// Reads the next line.
///
/// # Errors
/// Whatever the reader says.
pub fn next(reader: &mut impl BufRead) -> io::Result<Input> {
    let mut bytes = Vec::new();
    let limit = u64::try_from(LINE_MAX).unwrap_or(u64::MAX);
    reader
        .by_ref()
        .take(limit + 1)
        .read_until(b'\n', &mut bytes)?;
    if bytes.is_empty() {
        return Ok(Input::End);
    }
    if bytes.len() > LINE_MAX && bytes.last() != Some(&b'\n') {
        reader.skip_until(b'\n')?;
        return Ok(Input::TooLong);
    }
    let text = String::from_utf8_lossy(&bytes);
    Ok(Input::Line(text.trim_end_matches(['\n', '\r']).to_owned()))
}

/// Reads a line as one of some types of JSON object, told apart by their `type`; or says in plain words why it is none.
///
/// # Errors
/// A message for whoever wrote the line.
pub fn object<T: DeserializeOwned>(line: &str, types: &[&str]) -> Result<T, String> {
    let value: Value = serde_json::from_str(line).map_err(|error| {
        // The parser counts bytes.
        let before = line.get(..error.column().saturating_sub(1)).unwrap_or(line);
        let character = before.chars().count() + 1;
        format!("the line is not JSON from character {character} on")
    })?;
    let Some(name) = value.get("type").and_then(Value::as_str) else {
        return Err("a line is one object with a `type`; README names them".to_owned());
    };
    if !types.contains(&name) {
        return Err(format!("`type` is one of {}", types.join(", ")));
    }
    let name = name.to_owned();
    serde_json::from_value(value).map_err(|error| {
        let mut message = error.to_string();
        for (of_rust, plain) in [
            ("a sequence", "a list"),
            ("u32", "a whole number"),
            ("i64", "a whole number"),
            ("f64", "a number"),
        ] {
            message = message.replace(of_rust, plain);
        }
        format!("`{name}`: {message}")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_comes_through_and_monsters_do_not() {
        let mut bytes = b"one\r\n\n\xff two\n".to_vec();
        bytes.extend(vec![b'x'; LINE_MAX + 1]);
        bytes.extend(b"\nlast");
        let mut reader = bytes.as_slice();
        let lines: Vec<Input> = std::iter::repeat_with(|| next(&mut reader).unwrap())
            .take(6)
            .collect();
        let line = |text: &str| Input::Line(text.into());
        let expected = [
            line("one"),
            line(""),
            line("\u{fffd} two"),
            Input::TooLong,
            line("last"),
            Input::End,
        ];
        assert_eq!(lines, expected);
    }

    #[test]
    fn a_line_that_is_no_object_is_told_in_plain_words() {
        #[derive(Debug, serde::Deserialize)]
        #[serde(tag = "type", rename_all = "lowercase")]
        enum Said {
            Answer {
                #[serde(rename = "ask")]
                _ask: u32,
            },
            Stop,
        }
        let why = |line| object::<Said>(line, &["answer", "stop"]).unwrap_err();
        assert_eq!(
            why("{\"type\":"),
            "the line is not JSON from character 8 on"
        );
        for line in ["null", "[]", "{}", "{\"type\":7}"] {
            assert_eq!(
                why(line),
                "a line is one object with a `type`; README names them"
            );
        }
        assert_eq!(why("{\"type\":\"x\"}"), "`type` is one of answer, stop");
        assert_eq!(
            why("{\"type\":\"answer\"}"),
            "`answer`: missing field `ask`"
        );
        let wrong = "{\"type\":\"answer\",\"ask\":-1}";
        assert_eq!(
            why(wrong),
            "`answer`: invalid value: integer `-1`, expected a whole number"
        );
        assert!(matches!(
            object("{\"type\":\"stop\"}", &["stop"]),
            Ok(Said::Stop)
        ));
    }
}
