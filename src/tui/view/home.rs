//! Home: what to do now and why.
//!
//! One step, then the figures it rests on, a row each: what is learnt about the exam later goes in as further rows.

use super::sheet::{Row, Sheet};
use super::theme::Look;
use super::{Parts, fact};
use crate::round::Home;
use crate::tui::advice::advice;
use crate::tui::model::Model;
use crate::tui::words::{about_minutes, count, date, whole_minutes};

pub(super) fn page(model: &Model, width: usize) -> Parts {
    let home = &model.home;
    let today = model.today();
    let mut sheet = Sheet::new(width);
    let next = advice(home, today);
    sheet.rows.push(Row::default());
    sheet.text(&next.say, Look::Strong);
    if let Some(does) = next.enter {
        sheet.rows.push(Row::new([
            ("Enter", Look::Key),
            (&format!(" to {does}"), Look::Plain),
        ]));
    }
    sheet.gap();
    for (label, text) in facts(home) {
        fact(&mut sheet, label, &text);
    }
    sheet.gap();
    sheet.text("A study aid, not clinical guidance: current labels, local protocols and your supervisors come first.", Look::Quiet);
    ("luxate".to_owned(), date(today), sheet)
}

/// The figures behind the next step.
fn facts(home: &Home) -> Vec<(&'static str, String)> {
    let mut facts = Vec::new();
    facts.push(("Due", due(home)));
    if home.again > 0 {
        facts.push((
            "Again",
            format!(
                "{} from a round that was stopped",
                count(home.again, "item")
            ),
        ));
    }
    facts.push((
        "Unseen",
        format!("{} of {}", home.unseen, count(home.items, "item")),
    ));
    facts.push(("Today", today(home)));
    facts
}

fn due(home: &Home) -> String {
    if home.due == 0 {
        return "nothing".to_owned();
    }
    let overdue = if home.overdue > 0 {
        format!("; {} overdue", home.overdue)
    } else {
        String::new()
    };
    format!(
        "{}, {}{overdue}",
        count(home.due, "item"),
        about_minutes(home.seconds_due)
    )
}

fn today(home: &Home) -> String {
    let done = whole_minutes(home.seconds_today);
    let answers = count(
        usize::try_from(home.answers_today).unwrap_or(usize::MAX),
        "answer",
    );
    if home.seconds_left > 0.0 {
        let planned = count(
            whole_minutes(home.seconds_today + home.seconds_left),
            "minute",
        );
        format!("{done} of {planned} done, {answers}")
    } else {
        format!(
            "{} done, all that were planned; {answers}",
            count(done, "minute")
        )
    }
}
