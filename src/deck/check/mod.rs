//! Flaws in the writing: what makes a sound deck a poor one.
//!
//! One rule is one file with one [`Rule`], named in [`RULES`]. A rule sees parts that were read without
//! fault and says where a flaw is; its code, reason and remedy are the same wherever it is found. No rule makes
//! an error: what cannot be asked or marked is the reader's business.

mod about_options;
mod absolute_term;
mod across;
mod all_of_the_above;
mod asked;
mod clang;
mod clause;
mod combined_options;
mod convergence;
mod double_negative;
mod equal_options;
mod grammatical_cue;
mod hard_reading;
mod key_longest;
mod key_places;
mod keys_longest;
mod language;
mod late_source;
mod lettered_options;
mod linked_items;
mod measure;
mod mixed_units;
mod near_duplicate;
mod negative_stem;
mod none_of_the_above;
mod numbers_out_of_order;
mod numeral;
mod odd_spelling;
mod old_source;
mod open_question;
mod option_count;
mod outline;
mod overlapping_ranges;
mod paired_opposites;
mod quantity;
mod silence;
mod stop_words;
#[cfg(test)]
mod trial;
mod uneven_form;
mod unexpanded_acronym;
mod unfocused_stem;
mod unused;
mod vague_frequency;
mod weights;
mod window_dressing;
mod words;

pub use across::across;
pub use outline::Outline;
pub(super) use silence::codes;

use rayon::prelude::*;

use super::model::Item;
use super::read::{Draft, Placed};
use crate::diagnostic::{Diagnostic, Diagnostics, Label, Severity};
use crate::source::{SourceFile, Span};
use asked::Asked;

/// Every rule, in the order of their codes.
pub(super) const RULES: &[Rule] = &[
    absolute_term::RULE,
    all_of_the_above::RULE,
    clang::RULE,
    combined_options::RULE,
    convergence::RULE,
    double_negative::RULE,
    equal_options::RULE,
    grammatical_cue::RULE,
    hard_reading::RULE,
    key_longest::RULE,
    key_places::RULE,
    keys_longest::RULE,
    language::RULE,
    late_source::RULE,
    lettered_options::RULE,
    linked_items::RULE,
    mixed_units::RULE,
    near_duplicate::RULE,
    negative_stem::RULE,
    none_of_the_above::RULE,
    numbers_out_of_order::RULE,
    odd_spelling::RULE,
    old_source::RULE,
    option_count::RULE,
    overlapping_ranges::RULE,
    paired_opposites::RULE,
    unexpanded_acronym::RULE,
    uneven_form::RULE,
    unfocused_stem::RULE,
    unused::RULE,
    vague_frequency::RULE,
    weights::RULE,
    window_dressing::RULE,
];

/// What a check goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Settings {
    /// A source this many years older than the edition is told, as advice.
    pub older_than_years: u16,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            older_than_years: 15,
        }
    }
}

/// A rule of item writing.
pub(super) struct Rule {
    /// The code of its diagnostics.
    pub(super) code: &'static str,
    /// Warning for what is rarely wrong, advice for what a person must judge.
    pub(super) severity: Severity,
    /// Why it matters, with the published guideline.
    pub(super) why: &'static str,
    /// What to do.
    pub(super) help: &'static str,
    /// A question that breaks it, as people write questions: `*` before the key, `-` before the others.
    pub(super) wrong: &'static str,
    /// The same, mended.
    pub(super) right: &'static str,
    find: Find,
}

/// What a rule looks at.
enum Find {
    /// One item at a time, also in a deck with errors elsewhere.
    Item(fn(&Asked<'_>, &mut Vec<Flaw>)),
    /// The same, of a deck in English.
    EnglishItem(fn(&Asked<'_>, &mut Vec<Flaw>)),
    /// A whole deck, only if all of it could be read.
    Deck(fn(&Whole<'_>) -> Vec<Flaw>),
    /// Items beside each other, only if all of a deck in English could be read.
    EnglishItems(fn(&Whole<'_>) -> Vec<Flaw>),
    /// Decks side by side; asked by [`across`].
    Across,
}

/// A deck of which all could be read.
struct Whole<'t> {
    source: &'t SourceFile,
    draft: &'t Draft<'t, 't>,
    outline: &'t Outline,
    settings: Settings,
}

/// Where a rule is broken.
struct Flaw {
    message: String,
    place: Label,
    related: Vec<Label>,
    /// If other than the rule's.
    severity: Option<Severity>,
    /// Number of the item in the deck, if it is about one.
    item: Option<usize>,
}

impl Flaw {
    fn new(message: impl Into<String>, span: Span, label: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            place: Label {
                span,
                text: label.into(),
            },
            related: Vec::new(),
            severity: None,
            item: None,
        }
    }

    fn related(mut self, span: Span, text: impl Into<String>) -> Self {
        self.related.push(Label {
            span,
            text: text.into(),
        });
        self
    }

    /// Makes a hint of it that a person must judge.
    const fn advice(mut self) -> Self {
        self.severity = Some(Severity::Advice);
        self
    }

    const fn of_item(mut self, item: usize) -> Self {
        self.item = Some(item);
        self
    }
}

/// A flaw with the rule that found it.
type Found = (&'static Rule, Flaw);

/// Reports every flaw of a deck and returns what later checks over several decks go by.
pub(super) fn check(
    source: &SourceFile,
    draft: &Draft<'_, '_>,
    settings: Settings,
    found: &mut Diagnostics,
) -> Outline {
    let is_whole = !found.has_errors();
    let is_english = draft.language().is_none_or(language::is_english);
    let mut outline = Outline::new(draft.id().unwrap_or_default(), is_english);
    let mut flaws: Vec<Found> = Vec::new();
    let portions = draft.items.par_chunks(PORTION).enumerate();
    let portions: Vec<(Vec<Found>, Outline)> = portions
        .map(|(number, items)| {
            let outline = Outline::new("", is_english);
            portion(source, items, number * PORTION, outline)
        })
        .collect();
    for (found, words) in portions {
        flaws.extend(found);
        outline.append(words);
    }
    if is_whole {
        let whole = Whole {
            source,
            draft,
            outline: &outline,
            settings,
        };
        for rule in RULES {
            let of_deck = match rule.find {
                Find::Deck(find) => find(&whole),
                Find::EnglishItems(find) if is_english => find(&whole),
                _ => continue,
            };
            flaws.extend(of_deck.into_iter().map(|flaw| (rule, flaw)));
        }
    }
    let silenced = silence::apply(draft, is_whole, flaws);
    for diagnostic in silenced.idle {
        found.push(diagnostic);
    }
    let mut flaws = silenced.flaws;
    // Those that weigh more first, so that a flood of the others cannot hide them.
    flaws.sort_by_key(|(rule, flaw)| flaw.severity.unwrap_or(rule.severity));
    for (rule, flaw) in flaws {
        let item = flaw.item.and_then(|number| draft.items.get(number));
        found.push(rule.diagnostic(source, flaw, item.map(|placed| &placed.part.id)));
    }
    outline
}

/// Items that are checked in one go; a large deck has many such portions, for all cores.
const PORTION: usize = 256;

/// Asks the rules about items one by one, the first of them the deck's `first`th, and adds their words to an outline.
fn portion(
    source: &SourceFile,
    items: &[Placed<'_, '_, Item>],
    first: usize,
    mut outline: Outline,
) -> (Vec<Found>, Outline) {
    let mut flaws = Vec::new();
    let mut here = Vec::new();
    for (number, placed) in (first..).zip(items) {
        for (part, asked) in
            Asked::all(source, &placed.part, placed.node, outline.is_english).enumerate()
        {
            for rule in RULES {
                match rule.find {
                    Find::Item(find) => find(&asked, &mut here),
                    Find::EnglishItem(find) if outline.is_english => find(&asked, &mut here),
                    _ => {}
                }
                flaws.extend(here.drain(..).map(|flaw| (rule, flaw.of_item(number))));
            }
            if part == 0 {
                outline.add(&asked);
            } else {
                outline.learn(&asked);
            }
        }
    }
    (flaws, outline)
}

impl Rule {
    fn diagnostic(&self, source: &SourceFile, flaw: Flaw, item: Option<&String>) -> Diagnostic {
        let severity = flaw.severity.unwrap_or(self.severity);
        let span = source.first_line(flaw.place.span);
        let mut diagnostic =
            Diagnostic::new(severity, self.code, flaw.message, span, flaw.place.text)
                .why(self.why)
                .help(self.help);
        diagnostic.related = flaw.related;
        diagnostic.item = item.cloned();
        diagnostic
    }
}
