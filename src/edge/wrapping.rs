//! Lines broken between words where a terminal would break them within one.

use std::io::{self, Write};

use crate::text::Shown;

/// Hands lines on to `inner`, broken at spaces to fit `width`; what is flushed without a line end is a prompt.
#[derive(Debug)]
pub struct Wrapping<W, F> {
    inner: W,
    /// How wide the terminal is at the moment, in cells.
    width: F,
    line: Vec<u8>,
}

impl<W: Write, F: Fn() -> Option<usize>> Wrapping<W, F> {
    /// A writer that asks for the `width` before every line; without one, lines are handed on as they are.
    pub const fn new(inner: W, width: F) -> Self {
        Self {
            inner,
            width,
            line: Vec::new(),
        }
    }

    /// Writes the line so far in as many lines as it takes.
    fn put(&mut self) -> io::Result<()> {
        let line = std::mem::take(&mut self.line);
        let text = String::from_utf8_lossy(&line);
        let lines = match (self.width)() {
            // The last cell stays free, since some terminals break the line as soon as it is taken.
            Some(width) => Shown::new(&text).wrap(width.saturating_sub(1)),
            None => vec![Shown::new(&text)],
        };
        for (number, line) in lines.iter().enumerate() {
            if number > 0 {
                self.inner.write_all(b"\n")?;
            }
            self.inner.write_all(line.as_str().as_bytes())?;
        }
        Ok(())
    }
}

impl<W: Write, F: Fn() -> Option<usize>> Write for Wrapping<W, F> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        for piece in bytes.split_inclusive(|byte| *byte == b'\n') {
            match piece.strip_suffix(b"\n") {
                Some(end) => {
                    self.line.extend_from_slice(end);
                    self.put()?;
                    self.inner.write_all(b"\n")?;
                }
                None => self.line.extend_from_slice(piece),
            }
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        if !self.line.is_empty() {
            self.put()?;
        }
        self.inner.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(width: Option<usize>, parts: &[&str]) -> String {
        let mut writer = Wrapping::new(Vec::new(), || width);
        for part in parts {
            writer.write_all(part.as_bytes()).unwrap();
        }
        writer.flush().unwrap();
        String::from_utf8(writer.inner).unwrap()
    }

    #[test]
    fn lines_break_between_words() {
        let parts = ["The lingual ner", "ve runs close.\n\nYour answer, a to d: "];
        assert_eq!(
            written(Some(13), &parts),
            "The lingual\nnerve runs\nclose.\n\nYour answer,\na to d: "
        );
        assert_eq!(written(None, &parts), parts.concat());
        assert_eq!(written(Some(1), &["ab"]), "a\nb");
    }
}
