//! The closing page: what the round came to and when to come back.

use super::sheet::{Row, Sheet};
use super::theme::Look;
use super::{Parts, fact};
use crate::deck::model::Item;
use crate::kinds;
use crate::round::{Closing, Ended};
use crate::tui::advice::advice;
use crate::tui::model::{Model, Sitting};
use crate::tui::words::{about_minutes, coming, date};
use crate::words::{counted, interval};

pub(super) fn page(model: &Model, sitting: &Sitting, closing: &Closing, width: usize) -> Parts {
    let mut sheet = Sheet::new(width);
    let today = model.today();
    sheet.rows.push(Row::default());
    sheet.text(ended(closing), Look::Strong);
    sheet.gap();
    let (answers, right) = (usize::try_from(closing.answers).unwrap_or(0), closing.right);
    if answers > 0 {
        let items = counted(closing.items, "item", "items");
        fact(
            &mut sheet,
            "Answers",
            &format!("{right} of {answers} right, on {items}"),
        );
        fact(&mut sheet, "Time", &about_minutes(closing.seconds));
    }
    if closing.left_again > 0 {
        fact(
            &mut sheet,
            "Again",
            &format!(
                "{} still to be asked again today",
                counted(closing.left_again, "item", "items")
            ),
        );
    }
    if let Some((day, items)) = closing.next {
        fact(
            &mut sheet,
            "Come back",
            &format!(
                "{}: {} due",
                coming(day, today),
                counted(items, "item", "items")
            ),
        );
    }
    if let Some((before, after)) = &closing.forecast {
        let text = format!(
            "{}; {:.0} % before this round",
            interval(after.score, after.low, after.high),
            100.0 * before.score
        );
        fact(&mut sheet, "Forecast", &text);
    }
    confident_errors(&mut sheet, sitting, closing);
    if !closing.topics.is_empty() {
        sheet.gap();
        sheet.text("By topic", Look::Strong);
        for topic in &closing.topics {
            fact(
                &mut sheet,
                &format!("{} of {}", topic.right, topic.answers),
                &topic.title,
            );
        }
    }
    sheet.gap();
    sheet.hang(
        Row::new([("Next  ", Look::Strong)]),
        &advice(&model.home, today).say,
        Look::Plain,
    );
    ("End of the round".to_owned(), date(today), sheet)
}

fn ended(closing: &Closing) -> &'static str {
    match closing.ended {
        Ended::Stopped if closing.lost_answer => {
            "Stopped here. Your last answer is not stored; every answer before it is kept."
        }
        Ended::Stopped if closing.answers == 0 => "Stopped before the first answer.",
        Ended::Stopped => "Stopped here. Every answer is kept.",
        Ended::Done if closing.answers == 0 => "There was nothing to ask.",
        Ended::Done => "Done: nothing is left to ask today.",
        Ended::Minutes => "The minutes of this round are done.",
        Ended::Limit => "The limit you set for this round is reached.",
    }
}

/// Items answered wrong and certain; those that could harm a patient come first and say so.
fn confident_errors(sheet: &mut Sheet, sitting: &Sitting, closing: &Closing) {
    if closing.confident_errors.is_empty() {
        return;
    }
    sheet.gap();
    sheet.text("Wrong and certain", Look::Strong);
    for &number in &closing.confident_errors {
        let Some(item) = sitting.round.library().item(number) else {
            continue;
        };
        let lead = if Item::is_safety(item) {
            ("safety      ", Look::Caution)
        } else {
            ("            ", Look::Plain)
        };
        sheet.hang(Row::new([lead]), &kinds::heading(item), Look::Plain);
    }
}
