//! The names of a computed number's values: fit to be names, each given once, known where they are used, and used.

use std::collections::HashSet;

use super::{Reader, nearest};
use crate::deck::expression::{FUNCTIONS, is_name};
use crate::deck::numeric::ANSWER;
use crate::deck::yaml::{Entry, brief};
use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// Most values of one item: an asking works out all of them, a trial does so thousands of times.
pub(super) const MOST_NAMES: usize = 40;

/// The names of an item, in the order they may be used.
#[derive(Default)]
pub(super) struct Names<'t> {
    pub(super) known: Vec<Name<'t>>,
    used: HashSet<String>,
    /// Whether names were left out, because there are too many or they cannot be read.
    pub(super) is_cut: bool,
    /// Whether an expression could not be read, so that nobody knows which names it uses.
    pub(super) is_unread: bool,
}

pub(super) struct Name<'t> {
    pub(super) text: &'t str,
    pub(super) span: Span,
    is_text: bool,
    /// The things drawn that it follows from, each by the number of its first name; the table is one thing.
    pub(super) drawn: HashSet<usize>,
}

impl<'t> Names<'t> {
    pub(super) fn find(&self, name: &str) -> Option<&Name<'t>> {
        self.known.iter().find(|known| known.text == name)
    }
}

impl Reader<'_> {
    /// Takes a name into use.
    pub(super) fn name<'t>(
        &mut self,
        entry: &'t Entry<'_>,
        is_text: bool,
        drawn: HashSet<usize>,
        names: &mut Names<'t>,
    ) -> Option<&'t str> {
        let (name, span) = (entry.key.as_ref(), entry.key_span);
        if name.is_empty() {
            return None;
        }
        if !is_name(name) || name == ANSWER {
            let message = format!("`{}` is not fit to name a value", brief(name));
            let label = "a name has lower-case letters, digits and `_`, starts with a letter and has at most 32";
            let diagnostic = Diagnostic::error("deck::bad-name", message, span, label);
            self.report(diagnostic.help(format!(
                "and it is none of: {}, and, or, not, {ANSWER}",
                FUNCTIONS.map(|(function, _)| function).join(", ")
            )));
            return None;
        }
        if let Some(first) = names.find(name) {
            let message = format!("two values have the name `{name}`");
            let diagnostic = Diagnostic::error("deck::duplicate-name", message, span, "again here")
                .related(first.span, "first here")
                .help("give one of them another name");
            self.report(diagnostic);
            return None;
        }
        if names.known.len() == MOST_NAMES {
            self.too_many(span, names);
            return None;
        }
        names.known.push(Name {
            text: name,
            span,
            is_text,
            drawn,
        });
        Some(name)
    }

    /// Reports that an item has too many names, once.
    pub(super) fn too_many(&mut self, span: Span, names: &mut Names<'_>) {
        if !std::mem::replace(&mut names.is_cut, true) {
            let message = format!("more than {MOST_NAMES} values in one item");
            let diagnostic =
                Diagnostic::error("deck::too-many-names", message, span, "one too many");
            self.report(diagnostic.help("join some of them in one expression"));
        }
    }

    /// Notes that a name is used; refuses one that is not known.
    pub(super) fn uses(
        &mut self,
        name: &str,
        span: Span,
        in_text: bool,
        names: &mut Names<'_>,
    ) -> bool {
        names.used.insert(name.to_owned());
        let Some(known) = names.find(name) else {
            if names.is_cut {
                return false;
            }
            let message = format!("there is no value `{}` here", brief(name));
            let diagnostic =
                Diagnostic::error("deck::unknown-name", message, span, "not known here");
            let others = || names.known.iter().map(|known| known.text);
            self.report(match nearest(name, others()) {
                Some(near) => {
                    diagnostic.help(format!("a value with a similar name exists: `{near}`"))
                }
                None => diagnostic.help(format!(
                    "known here: {}; a derived value is known to what stands below it",
                    others().collect::<Vec<&str>>().join(", ")
                )),
            });
            return false;
        };
        if known.is_text && !in_text {
            let message = format!("`{name}` is a text and cannot be reckoned with");
            let diagnostic = Diagnostic::error(
                "deck::text-in-expression",
                message,
                span,
                "used as a number here",
            )
            .related(known.span, "drawn here");
            self.report(
                diagnostic
                    .help("put the number that belongs to it in a column of its own under `rows`"),
            );
            return false;
        }
        true
    }

    pub(super) fn unused(&mut self, names: &Names<'_>) {
        if names.is_unread || names.is_cut {
            return;
        }
        for name in &names.known {
            if !names.used.contains(name.text) {
                let message = format!("nothing uses the value `{}`", name.text);
                let diagnostic =
                    Diagnostic::error("deck::unused-value", message, name.span, "only here");
                self.report(diagnostic.help("use it, or take it out"));
            }
        }
    }
}
