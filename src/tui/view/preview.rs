//! What stands around a question that is shown to its writer: what the checker says, and which item it is.

use super::Parts;
use super::sheet::Sheet;
use super::theme::Look;
use crate::round::Phase;
use crate::tui::model::Model;
use crate::tui::preview::Preview;

/// Findings shown at most: the question must stay in sight.
const MOST: usize = 6;

/// The page of the question with the findings above it.
pub(super) fn page(model: &Model, preview: &Preview, question: Parts, width: usize) -> Parts {
    let (title, _, below) = question;
    let mut sheet = Sheet::new(width);
    for finding in preview.findings.iter().take(MOST) {
        sheet.text(finding, Look::Strong);
    }
    if let Some(more) = preview
        .findings
        .len()
        .checked_sub(MOST)
        .filter(|more| *more > 0)
    {
        let more = format!("and {more} more; luxate deck check tells all");
        sheet.text(&more, Look::Plain);
    }
    sheet.gap();
    match model.phase() {
        Some(Phase::Asking(_) | Phase::Storing(_) | Phase::Revealed(_)) => sheet.append(below),
        _ => sheet.text("There is no item to show.", Look::Plain),
    }
    (title, preview.place(), sheet)
}
