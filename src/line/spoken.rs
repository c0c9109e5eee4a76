//! What plain lines say of a question, a reveal and the end of a round.

use std::io::Write;

use super::LineError;
use crate::figure::model::Figure;
use crate::flap::words::describe_case;
use crate::kinds::{self, Form, Question, Standing};
use crate::round::{Ask, Closing, Ended, Reveal, Round};
use crate::text::{Block, Shown};
use crate::words::{counted, interval, minutes};

/// What a diagram shows: "mandible lateral, left half from the side".
fn seen(figure: &Figure) -> String {
    format!(
        "{}, {}",
        figure.id.replace('-', " "),
        figure.view.trim_end_matches('.')
    )
}

pub(super) fn say(writer: &mut impl Write, text: &str) -> Result<(), LineError> {
    for line in Block::new(text).lines() {
        writeln!(writer, "{line}")?;
    }
    Ok(())
}

pub(super) fn say_ask(writer: &mut impl Write, round: &Round, ask: &Ask) -> Result<(), LineError> {
    let library = round.library();
    let topic = library
        .entries()
        .get(ask.item)
        .and_then(|entry| library.topics().get(entry.topic))
        .map_or("", |topic| topic.title.as_str());
    writeln!(writer)?;
    say(
        writer,
        &format!("Question {}. {topic}. {}", ask.number, ask.pick.why),
    )?;
    if round
        .item(ask)
        .is_some_and(crate::deck::model::Item::is_safety)
    {
        say(writer, "Safety item.")?;
    }
    if ask.changed {
        say(
            writer,
            "The key of this item has changed since you last answered it.",
        )?;
    }
    let Question {
        context,
        stem,
        form,
    } = &ask.question;
    if let Some(part) = ask.part {
        say(writer, &format!("A case, {part}."))?;
    }
    for told in context {
        say(writer, told)?;
    }
    if let Form::Places(figure) = form {
        say(writer, &format!("Diagram: {}.", seen(figure)))?;
    }
    say(writer, stem)?;
    let mut list = |entries: &[String], name: fn(usize) -> String| -> Result<(), LineError> {
        for (place, entry) in entries.iter().enumerate() {
            writeln!(writer, "{}. {}", name(place), Shown::new(entry))?;
        }
        Ok(())
    };
    match form {
        Form::One(entries) | Form::Several(entries) | Form::Sequence(entries) => {
            list(entries, kinds::letter)
        }
        Form::Pairs { lefts, rights } => {
            list(lefts, kinds::letter)?;
            list(rights, kinds::number)
        }
        Form::Typed | Form::Number { .. } => Ok(()),
        Form::Flap(case) => say(writer, &describe_case(case)),
        // The same question without a drawing: what lies where, in words.
        Form::Places(figure) => {
            let says: Vec<String> = figure
                .places
                .iter()
                .map(|place| place.says.clone())
                .collect();
            list(&says, kinds::letter)
        }
    }
}

/// `of_key` if nobody answered.
pub(super) fn say_reveal(
    writer: &mut impl Write,
    round: &Round,
    reveal: &Reveal,
    of_key: bool,
) -> Result<(), LineError> {
    let Some(item) = round.item(&reveal.ask) else {
        return Ok(());
    };
    say(
        writer,
        match (of_key, reveal.verdict.right) {
            (true, _) => "The key.",
            (false, true) => "Right.",
            (false, false) => "Not right.",
        },
    )?;
    for line in &reveal.verdict.lines {
        let of_flap = matches!(reveal.ask.question.form, Form::Flap(_));
        if of_flap && line.standing == Standing::Missed {
            say(writer, &line.text)?;
            continue;
        }
        let is_rule = of_flap && !line.label.is_empty();
        let standing = match line.standing {
            Standing::Hit if is_rule => "Kept",
            Standing::Wrong if is_rule => "Broken",
            Standing::Remark => "Remark",
            Standing::Hit => "Right",
            Standing::Missed => "The key",
            Standing::Wrong => "Wrong",
            Standing::Other if of_key => "Not right",
            Standing::Other => "Rightly left out",
        };
        let label = if line.label.is_empty() {
            String::new()
        } else {
            format!(" {}", line.label)
        };
        let given = line
            .given
            .as_ref()
            .filter(|_| !of_key)
            .map(|given| format!(" ({given})"))
            .unwrap_or_default();
        let why = line
            .why
            .as_ref()
            .map(|why| format!(" - {why}"))
            .unwrap_or_default();
        say(
            writer,
            &format!("{standing}{label}: {}{given}{why}", line.text),
        )?;
    }
    say(writer, &format!("Because: {}", item.rationale.trim()))?;
    if let Some(caution) = &item.caution {
        say(writer, &format!("Caution: {}", caution.trim()))?;
    }
    for belief in round
        .library()
        .beliefs(reveal.ask.item, &reveal.verdict.beliefs)
    {
        say(writer, &format!("A mistaken belief: {belief}"))?;
    }
    for source in round.library().citations(reveal.ask.item, reveal.ask.part) {
        say(writer, &format!("Source: {source}"))?;
    }
    if let Some(part) = reveal.goes_on {
        return say(writer, &format!("The case goes on with {part}."));
    }
    let next = if reveal.again {
        "This item comes back before the round ends.".to_owned()
    } else {
        format!("Due next on {}.", reveal.next_due)
    };
    say(writer, &next)
}

pub(super) fn say_closing(
    writer: &mut impl Write,
    round: &Round,
    closing: &Closing,
) -> Result<(), LineError> {
    writeln!(writer)?;
    let how = match closing.ended {
        Ended::Done => "The round is done.",
        Ended::Minutes => "The minutes of this round are done.",
        Ended::Limit => "The round has reached the limit you set.",
        Ended::Stopped if closing.lost_answer => {
            "The round was stopped; 1 answer, the last, could not be stored and is not kept."
        }
        Ended::Stopped => "The round was stopped; everything you answered is kept.",
    };
    say(writer, how)?;
    let answers = counted(closing.answers as usize, "answer", "answers");
    let items = counted(closing.items, "item", "items");
    say(
        writer,
        &format!(
            "{answers} to {items}, {} right, {}.",
            closing.right,
            minutes(closing.seconds)
        ),
    )?;
    for topic in &closing.topics {
        say(
            writer,
            &format!(
                "{}: {} of {} right.",
                topic.title, topic.right, topic.answers
            ),
        )?;
    }
    for &item in &closing.confident_errors {
        let library = round.library();
        let (Some(item), Some(entry)) = (library.item(item), library.entries().get(item)) else {
            continue;
        };
        let safety = if item.is_safety() {
            " on a safety item"
        } else {
            ""
        };
        say(
            writer,
            &format!(
                "Certain but wrong{safety}: {} ({})",
                kinds::heading(item),
                entry.reference
            ),
        )?;
    }
    if closing.left_again > 0 {
        let items = counted(closing.left_again, "item", "items");
        say(writer, &format!("Still to come back today: {items}."))?;
    }
    if let Some((before, after)) = &closing.forecast {
        let now = interval(after.score, after.low, after.high);
        let before = 100.0 * before.score;
        say(
            writer,
            &format!("Forecast if you stopped now: {now}; {before:.0} % before this round."),
        )?;
    }
    match closing.next {
        Some((day, count)) => say(
            writer,
            &format!("Next: {} due by {day}.", counted(count, "item", "items")),
        ),
        None => Ok(()),
    }
}
