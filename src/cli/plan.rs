//! `luxate plan`: how the candidate prepares, and where that leads.

use std::io::Write;

use serde_json::{Value, json};

use super::args::Plan;
use super::session::{Place, Session};
use super::{DONE, Failure, mistakes};
use crate::edge::terminal;
use crate::edge::wrapping::Wrapping;
use crate::memory::forecast::Forecast;
use crate::round::{Outlook, Preparation, Record};
use crate::settings::Setting;
use crate::text::{self, Shown};
use crate::words::{self, counted};

pub(super) fn plan(
    place: &Place,
    what: &Plan,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let Session {
        clock,
        mut store,
        record,
        mut preparation,
    } = Session::open(place, err)?;
    let now = clock.now();
    if let Some(day) = record.ahead_of_clock(now) {
        let today = now.day;
        writeln!(
            err,
            "luxate: the latest answer is dated {day}, but this machine's clock says {today}: days are counted on from {day}. Set the clock right if it is wrong."
        )?;
    }
    let asked = [
        (Setting::Exam, &what.exam),
        (Setting::Minutes, &what.minutes),
        (Setting::Rest, &what.rest),
        (Setting::Pass, &what.pass),
    ];
    let asked: Vec<(Setting, &String)> = asked
        .into_iter()
        .filter_map(|(setting, text)| Some((setting, text.as_ref()?)))
        .collect();
    // All or nothing: a slip in one setting leaves the others as they were, too.
    for (setting, text) in &asked {
        preparation.set(*setting, text, record.study_day(now.day))?;
    }
    if !what.what_if {
        for (setting, _) in asked {
            store.set(setting, &preparation.kept(setting))?;
        }
    }
    let outlook = record.outlook(&preparation, now);
    if what.json {
        let object = object(&preparation, &outlook, &record).to_string();
        writeln!(out, "{}", text::escaped_json(&object))?;
    } else {
        let out = &mut Wrapping::new(out, terminal::width);
        if what.what_if {
            writeln!(out, "Tried out only: nothing of this is kept.\n")?;
        }
        tell(out, &preparation, &outlook)?;
        mistakes::tell(out, &record)?;
        writeln!(
            out,
            "\nA forecast is an estimate from your own answers, not a promise."
        )?;
    }
    Ok(DONE)
}

fn tell(out: &mut impl Write, preparation: &Preparation, outlook: &Outlook) -> Result<(), Failure> {
    match (preparation.exam, outlook.days_left) {
        (Some(exam), Some(days)) => {
            let ahead = match usize::try_from(days).unwrap_or(0) {
                0 => "today".to_owned(),
                days => format!("in {}", counted(days, "day", "days")),
            };
            writeln!(out, "Exam      {exam}, {ahead}")?;
        }
        (Some(exam), None) => writeln!(
            out,
            "Exam      {exam}, which is over: the schedule is plain SM-2 (luxate plan --exam DATE sets the next one, --exam none drops this one)"
        )?,
        (None, _) => writeln!(
            out,
            "Exam      none: the schedule is plain SM-2 (luxate plan --exam YYYY-MM-DD sets one)"
        )?,
    }
    let rest = match preparation.kept(Setting::Rest).as_str() {
        "none" => String::new(),
        days => format!(", no study on {}", days.replace(',', ", ")),
    };
    writeln!(
        out,
        "Study     {} a day{rest}",
        counted(preparation.minutes as usize, "minute", "minutes")
    )?;
    tell_forecast(out, preparation, outlook)?;
    match (outlook.never_met, outlook.all_met) {
        (Some(0), Some(day)) => writeln!(out, "Unseen    every item is met by {day}")?,
        (Some(0), None) => writeln!(out, "Unseen    every item has been met")?,
        (Some(count), _) => {
            writeln!(
                out,
                "Unseen    {} will not be met: others gain more per minute",
                counted(count, "item", "items")
            )?;
        }
        (None, _) => {}
    }
    for (minutes, forecast) in &outlook.what_if {
        writeln!(
            out,
            "What if   {minutes} minutes a day: {}",
            interval(forecast)
        )?;
    }
    if outlook.uncovered >= 0.005 {
        writeln!(
            out,
            "Uncovered {:.0} % of the exam has no item in any deck",
            100.0 * outlook.uncovered
        )?;
    }
    let whose = if outlook.days_left.is_some() {
        "by the plan"
    } else {
        "by due dates"
    };
    if !outlook.load.is_empty() && outlook.days_left != Some(0) {
        writeln!(out, "\nLoad ahead {whose}, in minutes")?;
    }
    let load: &[_] = if outlook.days_left == Some(0) {
        &[]
    } else {
        &outlook.load
    };
    for week in load.chunks(7) {
        let days: Vec<String> = week
            .iter()
            .map(|(day, minutes)| format!("{} {minutes:>3.0}", day.date().format("%a %d")))
            .collect();
        writeln!(out, "  {}", days.join(" "))?;
    }
    writeln!(
        out,
        "\nTopics, most marks at stake first; weights are shares of what the decks cover\n  weight  recall  at stake"
    )?;
    for topic in &outlook.topics {
        let (weight, stake) = (100.0 * topic.weight, 100.0 * topic.at_stake);
        let recall = if topic.is_met {
            format!("{:.0}%", 100.0 * topic.recall)
        } else {
            "not met".to_owned()
        };
        writeln!(
            out,
            "  {weight:>5.1}% {recall:>7}  {stake:>7.1}%  {}",
            Shown::new(&topic.title).cut(48)
        )?;
    }
    Ok(())
}

/// The forecast, and how it stands to the pass mark.
fn tell_forecast(
    out: &mut impl Write,
    preparation: &Preparation,
    outlook: &Outlook,
) -> Result<(), Failure> {
    match &outlook.forecast {
        Ok(forecast) => {
            writeln!(out, "Forecast  {} if the plan is kept", interval(forecast))?;
            if let Some(pass) = preparation.pass {
                let place = match () {
                    () if 100.0 * forecast.low >= pass => "the whole interval lies above it",
                    () if 100.0 * forecast.high < pass => "the whole interval lies below it",
                    () => "it lies within the interval",
                };
                writeln!(out, "Pass      {pass} %: {place}")?;
            }
        }
        Err(silence) => {
            writeln!(out, "Forecast  none: {}", silence.sentence())?;
            if let Some(pass) = preparation.pass {
                writeln!(out, "Pass      {pass} %")?;
            }
        }
    }
    Ok(())
}

fn interval(forecast: &Forecast) -> String {
    words::interval(forecast.score, forecast.low, forecast.high)
}

fn object(preparation: &Preparation, outlook: &Outlook, record: &Record) -> Value {
    let forecast = |forecast: &Forecast| json!({"score": share(forecast.score), "low": share(forecast.low), "high": share(forecast.high)});
    let what_if = |(minutes, forecast): &(u32, Forecast)| json!({"minutes": minutes, "score": share(forecast.score), "low": share(forecast.low), "high": share(forecast.high)});
    json!({
        "exam": preparation.exam.map(|day| day.to_string()),
        "days_left": outlook.days_left,
        "minutes": preparation.minutes,
        "rest": preparation.kept(Setting::Rest),
        "pass": preparation.pass,
        "forecast": outlook.forecast.as_ref().ok().map(forecast),
        "forecast_why": outlook.forecast.as_ref().err().map(|silence| silence.sentence()),
        "never_met": outlook.never_met,
        "all_met": outlook.all_met.map(|day| day.to_string()),
        "load": outlook.load.iter().map(|(day, minutes)| json!({"day": day.to_string(), "minutes": share(*minutes)})).collect::<Vec<_>>(),
        "what_if": outlook.what_if.iter().map(what_if).collect::<Vec<_>>(),
        "topics": outlook.topics.iter().map(|topic| json!({"topic": topic.id, "title": topic.title,
            "weight": share(topic.weight), "recall": share(topic.recall), "at_stake": share(topic.at_stake)})).collect::<Vec<_>>(),
        "uncovered": share(outlook.uncovered),
        "confident_errors": mistakes::errors(record),
        "mistaken_beliefs": mistakes::beliefs(record),
    })
}

/// To the millionth: further digits are noise of the arithmetic.
fn share(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}
