//! Home: what to do now and why.
//!
//! One step, then the figures it rests on, a row each: what is learnt about the exam later goes in as further rows.

use super::sheet::{Row, Sheet};
use super::theme::Look;
use super::{Parts, fact};
use crate::round::Home;
use crate::time::Day;
use crate::tui::advice::advice;
use crate::tui::model::Model;
use crate::tui::words::{about_minutes, date, whole_minutes};
use crate::words::{counted, interval, minutes};

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
    for (label, text) in facts(model, today) {
        fact(&mut sheet, label, &text);
    }
    sheet.gap();
    sheet.text("A study aid, not clinical guidance: current labels, local protocols and your supervisors come first.", Look::Quiet);
    ("luxate".to_owned(), date(today), sheet)
}

/// The figures behind the next step.
fn facts(model: &Model, on: Day) -> Vec<(&'static str, String)> {
    let home = &model.home;
    let mut facts = Vec::new();
    if let Some(day) = home.ahead_of_clock {
        let text = format!(
            "your latest answer is dated {}, after today by this machine's clock; days are counted on from there. Set the clock right if it is wrong",
            date(day)
        );
        facts.push(("Clock", text));
    }
    if let Some(exam) = home.exam {
        let days = usize::try_from(exam.since(on)).unwrap_or(0);
        let ahead = match days {
            0 => "today".to_owned(),
            _ => format!("in {}", counted(days, "day", "days")),
        };
        facts.push(("Exam", format!("{}, {ahead}", date(exam))));
        let forecast = model.forecast.as_ref().map_or_else(
            || "too early to say".to_owned(),
            |forecast| {
                format!(
                    "{} if you stopped now",
                    interval(forecast.score, forecast.low, forecast.high)
                )
            },
        );
        facts.push(("Forecast", forecast));
    } else {
        let how = "none set; luxate plan --exam YYYY-MM-DD plans for one";
        facts.push(("Exam", how.to_owned()));
    }
    facts.push(("Due", due(home)));
    if home.again > 0 {
        facts.push((
            "Again",
            format!(
                "{} from a round that was stopped",
                counted(home.again, "item", "items")
            ),
        ));
    }
    facts.push((
        "Unseen",
        format!(
            "{} of {}",
            home.unseen,
            counted(home.items, "item", "items")
        ),
    ));
    facts.push(("Today", today(home)));
    if let Some(text) = to_put_right(home) {
        facts.push(("Put right", text));
    }
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
        counted(home.due, "item", "items"),
        about_minutes(home.seconds_due)
    )
}

/// What stands uncorrected. The list itself is long, and `luxate plan` prints it.
fn to_put_right(home: &Home) -> Option<String> {
    let told = [
        (home.confident_errors, "confident error", "confident errors"),
        (home.mistaken_beliefs, "mistaken belief", "mistaken beliefs"),
    ];
    let told: Vec<String> = told
        .into_iter()
        .filter(|(count, ..)| *count > 0)
        .map(|(count, one, many)| counted(count, one, many))
        .collect();
    (!told.is_empty()).then(|| format!("{}; luxate plan lists them", told.join(", ")))
}

fn today(home: &Home) -> String {
    let answers = usize::try_from(home.answers_today).unwrap_or(usize::MAX);
    let answers = counted(answers, "answer", "answers");
    if home.seconds_left > 0.0 {
        let done = whole_minutes(home.seconds_today);
        let planned = minutes(home.seconds_today + home.seconds_left);
        format!("{done} of {planned} done, {answers}")
    } else {
        let done = minutes(home.seconds_today);
        match (home.is_rest_day, home.answers_today) {
            (true, 0) => "a day of rest".to_owned(),
            (true, _) => format!("a day of rest; {done} done all the same, {answers}"),
            (false, _) => format!("{done} done, all that were planned; {answers}"),
        }
    }
}
