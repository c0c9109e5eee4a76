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
    headline(&mut sheet, model, reveal);
    sheet.gap();
    if drawn {
        marking(&mut sheet, reveal);
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
        marking(&mut sheet, reveal);
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

/// Line by line, then what else would have been accepted.
fn marking(sheet: &mut Sheet, reveal: &Reveal) {
    for (place, told) in reveal.verdict.lines.iter().enumerate() {
        line(sheet, &reveal.ask.question.form, place, told);
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
    // The key comes before anything that may have to be scrolled to.
    let key = match reveal.ask.question.form {
        Form::Typed | Form::Number { .. } => {
            reveal.verdict.key.first().cloned().unwrap_or_default()
        }
        _ => reveal.verdict.key.join(", "),
    };
    let key = match reveal.ask.question.form {
        // A design is shown, not spelt.
        Form::Flap(_) => String::new(),
        _ => format!("Key: {key}."),
    };
    let mut pieces = vec![mark, (sure, Look::Strong)];
    pieces.extend((!key.is_empty()).then_some((key.as_str(), Look::Strong)));
    sheet.flow(0, &pieces);
    if let Some(part) = reveal.goes_on {
        sheet.text(&format!("The case goes on: {part}."), Look::Plain);
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

/// One line of the marking: what it says, then how the answer stands to it and why.
fn line(sheet: &mut Sheet, form: &Form, place: usize, line: &Line) {
    if let Form::Flap(_) = form {
        return rule(sheet, line);
    }
    let (look, words) = match (form, line.standing) {
        (Form::Sequence(_), Standing::Hit) => (Look::Right, "Right place."),
        (Form::Sequence(_), _) => (Look::Wrong, "Wrong place:"),
        (Form::Pairs { .. }, Standing::Hit) => (Look::Right, "Right."),
        (Form::Pairs { .. }, _) => (Look::Wrong, "Wrong:"),
        (_, Standing::Remark) => (Look::Strong, "Worth a remark."),
        (Form::Typed | Form::Number { .. }, Standing::Hit) => (Look::Right, "Right:"),
        (Form::Typed | Form::Number { .. }, Standing::Missed) => {
            (Look::Strong, "This was asked for.")
        }
        (_, Standing::Hit) => (Look::Right, "Your answer, right."),
        (_, Standing::Wrong) => (Look::Wrong, "Your answer, wrong."),
        (_, Standing::Missed) => (Look::Strong, "Right, but not your answer."),
        (_, Standing::Other) => (Look::Quiet, "Not right."),
    };
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
    let given = line
        .given
        .as_ref()
        .map(|given| given.trim_end_matches('.').to_owned() + ".");
    let mut pieces = vec![(words, look)];
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
