//! Sources that may have been overtaken.

use super::{Find, Flaw, Rule, Whole};
use crate::deck::yaml::Node;
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::old-source",
    severity: Severity::Advice,
    why: "doses, drug choices and protocols change; an exam follows the edition that is current \
          (common practice; half of 2,770 items named no source at all: Tarrant, Knierim, Hayes & Ware 2006)",
    help: "see whether a later edition still says so; a classic may stay as it is. `--older-than YEARS` moves the limit",
    wrong: "A source of 1998 in an edition of 2026",
    right: "The same textbook in its edition of 2019",
    find: Find::Deck(find),
};

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    let Some(edition) = whole.draft.edition_year() else {
        return Vec::new();
    };
    let limit = i32::from(whole.settings.older_than_years);
    let sources = whole.draft.sources.iter();
    let old = sources.filter(|placed| edition - i32::from(placed.part.year) > limit);
    let flaws = old.map(|placed| {
        let span = placed
            .node
            .get("year")
            .map_or(placed.node.span, |year: &Node<'_>| year.span);
        let age = edition - i32::from(placed.part.year);
        let flaw = Flaw::new(
            format!(
                "the source `{}` is {age} years older than the edition",
                placed.part.id
            ),
            span,
            "does it still hold?",
        );
        // Named by the first item that rests on old sources alone, this one among them.
        let is_old = |id: &str| {
            let mut sources = whole.draft.sources.iter();
            sources.any(|one| one.part.id == id && edition - i32::from(one.part.year) > limit)
        };
        let first = whole.draft.items.iter().position(|item| {
            let mut cited = item.part.sources.iter().map(|place| place.source.as_str());
            let mut all = item.part.sources.iter();
            cited.any(|id| id == placed.part.id) && all.all(|place| is_old(&place.source))
        });
        match first {
            Some(item) => flaw.of_item(item),
            None => flaw,
        }
    });
    flaws.collect()
}
