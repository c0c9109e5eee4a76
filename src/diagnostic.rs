//! What is wrong with a file: values that say what, where, why it matters and what to do.
//!
//! Making them is the readers' business, drawing them the faces'; nothing here prints. Texts are as
//! they come from the file and must be cleaned before they are shown.

use std::fmt;

use crate::source::Span;

/// Errors kept of one file; a file with more is not helped by a longer list.
pub const MOST: usize = 500;

/// Problems of all severities kept of one file, so that a flood of errors hides no flaw and none fills the memory.
pub const MOST_IN_ALL: usize = 20 * MOST;

/// How bad a problem is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The deck cannot be used.
    Error,
    /// The deck works but an item misleads or gives itself away.
    Warning,
    /// Could be better.
    Advice,
}

impl Severity {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Advice => "advice",
        }
    }
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// A place with what is to be said about it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is there; empty for a bare underline.
    pub text: String,
}

/// A place in another file with what is to be said about it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Elsewhere {
    /// Name of the file.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Character in the line, from 1.
    pub column: usize,
    /// Where it ends: line and character behind it.
    pub end: (usize, usize),
    /// What is there.
    pub text: String,
}

/// A replacement that would mend the problem.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Patch {
    /// What to replace; empty to insert.
    pub span: Span,
    /// By what.
    pub text: String,
}

/// One problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// Its stable name, such as `deck::unknown-key`.
    pub code: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// What is wrong, in one line.
    pub message: String,
    /// Where.
    pub primary: Label,
    /// Other places that have to do with it.
    pub related: Vec<Label>,
    /// Places in other files that have to do with it.
    pub elsewhere: Vec<Elsewhere>,
    /// Why it matters, with the published guideline if there is one.
    pub why: Option<String>,
    /// What to do.
    pub help: Option<String>,
    /// The same as a change to the text.
    pub patch: Option<Patch>,
    /// Id of the item it is in.
    pub item: Option<String>,
}

impl Diagnostic {
    /// A problem at a place.
    #[must_use]
    pub fn new(
        severity: Severity,
        code: &'static str,
        message: impl Into<String>,
        span: Span,
        label: impl Into<String>,
    ) -> Self {
        Self {
            code,
            severity,
            message: message.into(),
            primary: Label {
                span,
                text: label.into(),
            },
            related: Vec::new(),
            elsewhere: Vec::new(),
            why: None,
            help: None,
            patch: None,
            item: None,
        }
    }

    /// A problem that makes the deck useless.
    #[must_use]
    pub fn error(
        code: &'static str,
        message: impl Into<String>,
        span: Span,
        label: impl Into<String>,
    ) -> Self {
        Self::new(Severity::Error, code, message, span, label)
    }

    /// Adds another place.
    #[must_use]
    pub fn related(mut self, span: Span, text: impl Into<String>) -> Self {
        self.related.push(Label {
            span,
            text: text.into(),
        });
        self
    }

    /// Says why it matters.
    #[must_use]
    pub fn why(mut self, why: impl Into<String>) -> Self {
        self.why = Some(why.into());
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Says what to do as a change to the text.
    #[must_use]
    pub fn patch(mut self, span: Span, text: impl Into<String>) -> Self {
        self.patch = Some(Patch {
            span,
            text: text.into(),
        });
        self
    }

    /// Order of the list: by place, then severity, code and message.
    fn rank(&self) -> (Span, Severity, &'static str, &str) {
        (self.primary.span, self.severity, self.code, &self.message)
    }
}

/// The problems of one file, sorted by place, each once, at most [`MOST_IN_ALL`] and [`MOST`] errors.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Diagnostics {
    list: Vec<Diagnostic>,
    left_out: Counts,
    /// Errors so far, kept or not.
    errors: usize,
}

/// How many problems there are of each severity.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Problems that make the deck useless.
    pub errors: usize,
    /// Flaws.
    pub warnings: usize,
    /// Could be better.
    pub advice: usize,
}

impl Diagnostics {
    /// Adds a problem; past [`MOST_IN_ALL`], and past [`MOST`] errors, it is only counted.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.push_with(diagnostic.severity, || diagnostic);
    }

    /// Adds a problem that is worked out only if it is kept.
    pub fn push_with(&mut self, severity: Severity, make: impl FnOnce() -> Diagnostic) {
        let is_error = severity == Severity::Error;
        self.errors += usize::from(is_error);
        if self.list.len() < MOST_IN_ALL && !(is_error && self.errors > MOST) {
            self.list.push(make());
        } else {
            self.left_out.add(severity);
        }
    }

    /// Brings the list into order and drops what is said twice.
    pub fn settle(&mut self) {
        self.list.sort_by(|one, two| one.rank().cmp(&two.rank()));
        self.list.dedup();
    }

    /// The problems that were kept.
    pub fn iter(&self) -> std::slice::Iter<'_, Diagnostic> {
        self.list.iter()
    }

    /// Those that are no advice.
    #[must_use]
    pub fn without_advice(&self) -> Self {
        let is_serious = |diagnostic: &&Diagnostic| diagnostic.severity != Severity::Advice;
        Self {
            list: self.list.iter().filter(is_serious).cloned().collect(),
            left_out: Counts {
                advice: 0,
                ..self.left_out
            },
            errors: self.errors,
        }
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether any makes the deck useless.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.errors > 0
    }

    /// How many make the deck useless.
    #[must_use]
    pub const fn errors(&self) -> usize {
        self.errors
    }

    /// How many there are, those that were only counted included.
    #[must_use]
    pub fn counts(&self) -> Counts {
        let mut counts = self.left_out;
        for diagnostic in &self.list {
            counts.add(diagnostic.severity);
        }
        counts
    }

    /// How many were counted but not kept.
    #[must_use]
    pub const fn left_out(&self) -> usize {
        self.left_out.total()
    }
}

impl<'a> IntoIterator for &'a Diagnostics {
    type Item = &'a Diagnostic;
    type IntoIter = std::slice::Iter<'a, Diagnostic>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

impl Counts {
    /// Counts one more.
    pub const fn add(&mut self, severity: Severity) {
        match severity {
            Severity::Error => self.errors += 1,
            Severity::Warning => self.warnings += 1,
            Severity::Advice => self.advice += 1,
        }
    }

    /// The counts of two files together.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self {
            errors: self.errors + other.errors,
            warnings: self.warnings + other.warnings,
            advice: self.advice + other.advice,
        }
    }

    /// All of them.
    #[must_use]
    pub const fn total(self) -> usize {
        self.errors + self.warnings + self.advice
    }
}

impl fmt::Display for Counts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let plural = |count: usize| if count == 1 { "" } else { "s" };
        write!(
            f,
            "{} error{}, {} warning{}, {} piece{} of advice",
            self.errors,
            plural(self.errors),
            self.warnings,
            plural(self.warnings),
            self.advice,
            plural(self.advice)
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::SourceFile;

    fn at(start: usize) -> Diagnostic {
        let file = SourceFile::new("a", "abcdefgh");
        Diagnostic::error("deck::sample", "sample", file.span(start..start + 1), "")
    }

    #[test]
    fn the_list_is_sorted_and_says_nothing_twice() {
        let mut list = Diagnostics::default();
        for start in [3, 1, 3, 2] {
            list.push(at(start));
        }
        list.settle();
        let starts: Vec<usize> = list
            .iter()
            .map(|found| found.primary.span.start())
            .collect();
        assert_eq!(starts, [1, 2, 3]);
        assert_eq!(
            list.counts().to_string(),
            "3 errors, 0 warnings, 0 pieces of advice"
        );
    }

    #[test]
    fn a_flood_is_counted_but_not_kept() {
        let mut list = Diagnostics::default();
        for _ in 0..MOST + 7 {
            list.push(at(1));
        }
        assert_eq!((list.iter().count(), list.left_out()), (MOST, 7));
        assert_eq!(list.counts().errors, MOST + 7);
    }
}
