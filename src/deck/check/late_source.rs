//! Sources that are later than the edition that cites them.

use super::{Find, Flaw, Rule, Whole};
use crate::deck::yaml::Node;
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::late-source",
    severity: Severity::Warning,
    why: "an edition cannot rest on what came after it: one of the two dates is a slip, and the edition's decides which \
          deck is the newer one (common practice)",
    help: "mend the source's `year` or the deck's `edition`",
    wrong: "A source of 2030 in an edition of 2026",
    right: "The same source with its year, 2020",
    find: Find::Deck(find),
};

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    let Some(edition) = whole.draft.edition_year() else {
        return Vec::new();
    };
    let sources = whole.draft.sources.iter();
    let late = sources.filter(|placed| i32::from(placed.part.year) > edition);
    let flaws = late.map(|placed| {
        let year = placed.node.get("year");
        Flaw::new(
            format!(
                "the source `{}` is of {} and the edition of {edition}",
                placed.part.id, placed.part.year
            ),
            year.map_or(placed.node.span, |year: &Node<'_>| year.span),
            "later than the edition",
        )
    });
    flaws.collect()
}
