//! What stands around a question that is shown to its writer: what the checker says, and which item it is.

use super::Parts;
use super::sheet::{Row, Sheet};
use super::theme::Look;
use crate::round::Phase;
use crate::text::Shown;
use crate::tui::model::Model;
use crate::tui::preview::{Finding, Preview, Said};
use crate::words::counted;

/// Rows above the question that findings on the item take at most: the question must stay in sight.
const ROWS: usize = 4;

/// Findings elsewhere that are told at most, a row each.
const ELSEWHERE: usize = 1;

/// The page of the question with what the checker says of it above, and below it in full what had no room there.
pub(super) fn page(model: &Model, preview: &Preview, question: Parts, width: usize) -> Parts {
    let (title, _, below) = question;
    let mut sheet = Sheet::new(width);
    let mut rest = Sheet::new(width);
    if let Some(said) = &preview.said {
        rest = checked(&mut sheet, said, preview.item());
    }
    sheet.gap();
    let is_there = matches!(
        model.phase(),
        Some(Phase::Asking(_) | Phase::Storing(_) | Phase::Revealed(_))
    );
    let title = if is_there {
        sheet.append(below);
        title
    } else {
        sheet.text("There is no item to show.", Look::Plain);
        "Preview".to_owned()
    };
    if !rest.rows.is_empty() {
        sheet.gap();
        sheet.append(rest);
    }
    (title, preview.place(), sheet)
}

/// A finding with the item that it is in.
fn placed(finding: &Finding) -> Shown {
    let place = finding.item.as_ref().map(|item| format!("{item}: "));
    Shown::new(&format!("{}{}", place.unwrap_or_default(), finding.text))
}

fn plain(text: Shown) -> Row {
    Row(vec![(text, Look::Plain)])
}

/// Writes what fits above the question; what is to stand below it comes back.
fn checked(sheet: &mut Sheet, said: &Said, item: Option<&str>) -> Sheet {
    let (here, elsewhere): (Vec<&Finding>, Vec<&Finding>) = said
        .findings
        .iter()
        .partition(|finding| item.is_some() && finding.item.as_deref() == item);
    sheet.text(&said.whole, Look::Strong);
    let mut full = Sheet::new(sheet.width());
    for finding in here {
        full.text(&finding.text, Look::Strong);
    }
    let mut rest = Sheet::new(sheet.width());
    if full.rows.len() <= ROWS {
        sheet.append(full);
    } else {
        sheet.rows.extend(full.rows.iter().take(ROWS - 1).cloned());
        sheet.text("... in full at the end", Look::Plain);
        rest.text("The checker on this item:", Look::Strong);
        rest.append(full);
    }
    let elsewhere: Vec<Shown> = elsewhere.into_iter().map(placed).collect();
    let cut = |told: &Shown| told.cut(sheet.width());
    let first: Vec<Shown> = elsewhere.iter().take(ELSEWHERE).map(cut).collect();
    if first == elsewhere {
        sheet.rows.extend(first.into_iter().map(plain));
        return rest;
    }
    sheet.rows.extend(first.into_iter().map(plain));
    let more = match elsewhere.len().saturating_sub(ELSEWHERE) {
        0 => "... in full at the end".to_owned(),
        more => {
            let more = counted(more, "more elsewhere", "more elsewhere");
            format!("{more}, in full at the end")
        }
    };
    sheet.text(&more, Look::Plain);
    rest.gap();
    rest.text("The checker elsewhere:", Look::Strong);
    for told in &elsewhere {
        rest.text(told.as_str(), Look::Plain);
    }
    rest
}
