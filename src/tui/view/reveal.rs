//! The reveal: right or wrong, what could harm, and why, line by line.

use super::Parts;
use super::query;
use super::question::{stem, topic};
use super::sheet::{Row, Sheet};
use super::theme::Look;
use crate::answer::Confidence;
use crate::kinds::{Form, Line, Standing};
use crate::round::Reveal;
use crate::tui::model::{Model, Sitting};
use crate::tui::words::coming;

/// `drawn` if a drawing stands beside the text: then the marking comes first, since the drawing shows what was asked.
pub(super) fn page(
    model: &Model,
    sitting: &Sitting,
    reveal: &Reveal,
    width: usize,
    drawn: bool,
) -> Parts {
    let mut sheet = Sheet::new(width);
    let item = sitting.round.item(&reveal.ask);
    let preview = model.preview.as_ref();
    let of_key = preview.is_some_and(|preview| preview.of_key);
    match preview {
        Some(_) => headline_to_writer(&mut sheet, reveal, of_key),
        None => headline(&mut sheet, model, reveal),
    }
    sheet.gap();
    if drawn {
        marking(&mut sheet, reveal, of_key);
        sheet.gap();
    }
    let caution = item.and_then(|item| item.caution.as_deref());
    // After a wrong answer it must be seen without scrolling.
    if let Some(caution) = caution.filter(|_| !reveal.verdict.right) {
        sheet.boxed("Caution", caution, Look::Caution);
        sheet.gap();
    }
    stem(&mut sheet, &reveal.ask);
    if !drawn {
        marking(&mut sheet, reveal, of_key);
        sheet.gap();
    }
    if let Some(item) = item {
        sheet.text(&item.rationale, Look::Plain);
        sheet.gap();
        if let Some(caution) = caution.filter(|_| reveal.verdict.right) {
            sheet.boxed("Caution", caution, Look::Caution);
            sheet.gap();
        }
        let library = sitting.round.library();
        let (number, part) = (reveal.ask.item, reveal.ask.part);
        beliefs(
            &mut sheet,
            &library.beliefs(number, &reveal.verdict.beliefs),
        );
        for source in library.citations(number, part) {
            sheet.hang(Row::new([("Source  ", Look::Quiet)]), &source, Look::Quiet);
        }
    }
    if let Some(field) = &sitting.query {
        query::field(&mut sheet, field);
    }
    let mark = if reveal.verdict.right {
        "right"
    } else {
        "wrong"
    };
    (
        topic(sitting, reveal.ask.item),
        format!("question {}, {mark}", reveal.ask.number),
        sheet,
    )
}

/// Line by line, then what else would have been accepted. `of_key` if nobody answered.
fn marking(sheet: &mut Sheet, reveal: &Reveal, of_key: bool) {
    let form = &reveal.ask.question.form;
    for (place, told) in reveal.verdict.lines.iter().enumerate() {
        match (form, of_key) {
            (Form::Flap(_), _) => rule(sheet, told),
            (_, true) => line(sheet, form, place, told, as_key(form, told), None),
            (_, false) => {
                let given = told.given.as_deref();
                line(sheet, form, place, told, as_answered(form, told), given);
            }
        }
    }
    accepted(sheet, reveal);
}

fn headline(sheet: &mut Sheet, model: &Model, reveal: &Reveal) {
    let sure = match (reveal.verdict.right, reveal.confidence) {
        (true, Confidence::Certain) => "and you were certain.",
        (true, Confidence::Likely) => "and you thought it likely.",
        (true, Confidence::Guessing) => "but you were guessing.",
        (false, Confidence::Guessing) => "and you were guessing.",
        (false, Confidence::Likely) => "though you thought it likely.",
        (false, Confidence::Certain) => "though you were certain: a confident error.",
    };
    let mark = if reveal.verdict.right {
        ("Right,", Look::Right)
    } else {
        ("Wrong,", Look::Wrong)
    };
    let key = key(reveal);
    sheet.flow(
        0,
        &[mark, (sure, Look::Strong), (key.as_str(), Look::Strong)],
    );
    if goes_on(sheet, reveal) {
        return;
    }
    let again = if reveal.again {
        "It comes back this round. "
    } else {
        ""
    };
    let due = coming(reveal.next_due, model.today());
    let quality = reveal.quality.value();
    let quality = if reveal.ask.part.is_some() {
        format!("Quality {quality} in this part; a case counts as its weakest.")
    } else {
        format!("Quality {quality}.")
    };
    sheet.text(&format!("{again}Next due {due}. {quality}"), Look::Plain);
}

/// The writer was asked for no confidence, and nothing is scheduled.
fn headline_to_writer(sheet: &mut Sheet, reveal: &Reveal, of_key: bool) {
    let key = key(reveal);
    let mark = match (of_key, reveal.verdict.right) {
        (true, _) if key.is_empty() => ("The key.", Look::Strong),
        (true, _) => ("", Look::Plain),
        (false, true) => ("Right.", Look::Right),
        (false, false) => ("Wrong.", Look::Wrong),
    };
    sheet.flow(0, &[mark, (&key, Look::Strong)]);
    goes_on(sheet, reveal);
}

/// The key in a sentence: it comes before anything that may have to be scrolled to. A design is shown, not spelt.
fn key(reveal: &Reveal) -> String {
    let key = &reveal.verdict.key;
    match reveal.ask.question.form {
        Form::Flap(_) => String::new(),
        Form::Typed | Form::Number { .. } => {
            format!("Key: {}.", key.first().map_or("", String::as_str))
        }
        _ => format!("Key: {}.", key.join(", ")),
    }
}

/// Says with which part a case goes on, if it does.
fn goes_on(sheet: &mut Sheet, reveal: &Reveal) -> bool {
    if let Some(part) = reveal.goes_on {
        sheet.text(&format!("The case goes on: {part}."), Look::Plain);
    }
    reveal.goes_on.is_some()
}

/// What a line is where nobody answered: of several that can be chosen, right or not.
const fn as_key(form: &Form, line: &Line) -> (&'static str, Look) {
    match (form, line.standing) {
        (_, Standing::Other) => ("Not right.", Look::Quiet),
        (Form::One(_) | Form::Several(_) | Form::Places(_), _) => ("Right.", Look::Right),
        _ => ("", Look::Plain),
    }
}

/// How the answer stands to a line.
const fn as_answered(form: &Form, line: &Line) -> (&'static str, Look) {
    match (form, line.standing) {
        (Form::Sequence(_), Standing::Hit) => ("Right place.", Look::Right),
        (Form::Sequence(_), _) => ("Wrong place:", Look::Wrong),
        (Form::Pairs { .. }, Standing::Hit) => ("Right.", Look::Right),
        (Form::Pairs { .. }, _) => ("Wrong:", Look::Wrong),
        (_, Standing::Remark) => ("Worth a remark.", Look::Strong),
        (Form::Typed | Form::Number { .. }, Standing::Hit) => ("Right:", Look::Right),
        (Form::Typed | Form::Number { .. }, Standing::Missed) => {
            ("This was asked for.", Look::Strong)
        }
        (_, Standing::Hit) => ("Your answer, right.", Look::Right),
        (_, Standing::Wrong) => ("Your answer, wrong.", Look::Wrong),
        (_, Standing::Missed) => ("Right, but not your answer.", Look::Strong),
        (_, Standing::Other) => ("Not right.", Look::Quiet),
    }
}

/// One line of the marking: what it says, then how it stands, what was given instead, and why.
fn line(
    sheet: &mut Sheet,
    form: &Form,
    place: usize,
    line: &Line,
    stands: (&str, Look),
    given: Option<&str>,
) {
    let lead = match form {
        Form::Sequence(_) => Row::new([
            (&format!("{:>2}  ", place + 1), Look::Plain),
            (&line.label, Look::Key),
            ("  ", Look::Plain),
        ]),
        _ if line.label.is_empty() => Row::new([("  ", Look::Plain)]),
        _ => Row::new([
            ("  ", Look::Plain),
            (&line.label, Look::Key),
            ("  ", Look::Plain),
        ]),
    };
    let indent = lead.width();
    sheet.hang(lead, &line.text, Look::Plain);
    let given = given.map(|given| given.trim_end_matches('.').to_owned() + ".");
    let mut pieces = vec![stands];
    pieces.extend(given.as_deref().map(|given| (given, Look::Plain)));
    pieces.extend(line.why.as_deref().map(|why| (why, Look::Plain)));
    sheet.flow(indent, &pieces);
}

/// What is said of a flap: the design, or one rule.
fn rule(sheet: &mut Sheet, line: &Line) {
    let (look, mark) = match line.standing {
        Standing::Hit => (Look::Right, "Kept"),
        Standing::Wrong => (Look::Wrong, "Broken"),
        Standing::Remark => (Look::Strong, "Remark"),
        Standing::Missed | Standing::Other => (Look::Plain, ""),
    };
    let given = line.given.as_ref().map(|given| format!("{given}:"));
    let rule = format!("{mark}, {}:", line.label);
    let mark = match &given {
        Some(given) => given,
        None if line.label.is_empty() => "",
        None => &rule,
    };
    let mut pieces: Vec<(&str, Look)> = Vec::new();
    if !mark.is_empty() {
        pieces.push((mark, look));
    }
    pieces.push((&line.text, Look::Plain));
    pieces.extend(line.why.as_deref().map(|why| (why, Look::Quiet)));
    sheet.flow(0, &pieces);
    sheet.gap();
}

/// All that would have been accepted, if it is more than the one form told.
fn accepted(sheet: &mut Sheet, reveal: &Reveal) {
    let key = &reveal.verdict.key;
    if reveal.ask.question.form == Form::Typed && key.len() > 1 {
        sheet.gap();
        sheet.text(&format!("Accepted: {}.", key.join(", ")), Look::Plain);
    }
}

fn beliefs(sheet: &mut Sheet, told: &[&str]) {
    for text in told {
        sheet.flow(
            0,
            &[
                ("A mistaken belief behind this answer:", Look::Strong),
                (text, Look::Plain),
            ],
        );
        sheet.gap();
    }
}
