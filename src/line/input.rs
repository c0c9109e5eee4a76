//! Lines of input, whatever they hold: over-long ones are cut, what is no UTF-8 is replaced.

use std::io::{self, BufRead, Read};

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
}
