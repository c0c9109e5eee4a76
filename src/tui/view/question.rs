//! A question, in all its forms, and how sure the candidate is of the answer.

use super::Parts;
use super::sheet::{Row, Sheet};
use super::theme::Look;
use crate::answer::Confidence;
use crate::figure::model::Figure;
use crate::flap::EndSide;
use crate::flap::words::describe_case;
use crate::kinds::{Form, letter, number};
use crate::round::{Ask, Home};
use crate::text::Shown;
use crate::tui::designing::Designing;
use crate::tui::entry::Entry;
use crate::tui::field::Field;
use crate::tui::model::{Model, Sitting, Step};
use crate::words::minutes;

/// `drawn` if what there is to choose from stands beside the text as a drawing.
pub(super) fn page(
    model: &Model,
    sitting: &Sitting,
    ask: &Ask,
    width: usize,
    drawn: bool,
) -> Parts {
    let mut sheet = Sheet::new(width);
    standing(&mut sheet, sitting, ask);
    sheet.gap();
    stem(&mut sheet, ask);
    let answering = sitting.step == Step::Answer;
    match (&ask.question.form, &sitting.entry) {
        (Form::Places(figure), Entry::Place(pointing)) if drawn => {
            pointed(&mut sheet, figure, pointing.chosen());
        }
        (Form::Flap(_), Entry::Flap(designing)) => designed(&mut sheet, designing),
        (form, entry) => answer(&mut sheet, form, entry, answering),
    }
    if let Step::Confidence { level, .. } = sitting.step {
        sheet.gap();
        sheet.focused(|sheet| confidence(sheet, level));
    }
    let place = format!(
        "question {}, {}",
        ask.number,
        left(&model.home, sitting, ask)
    );
    (topic(sitting, ask.item), place, sheet)
}

/// What a case has told by now, then the stem.
pub(super) fn stem(sheet: &mut Sheet, ask: &Ask) {
    for told in &ask.question.context {
        sheet.text(told, Look::Plain);
        sheet.gap();
    }
    sheet.text(&ask.question.stem, Look::Strong);
    sheet.gap();
}

/// The topic of an item.
pub(super) fn topic(sitting: &Sitting, item: usize) -> String {
    let library = sitting.round.library();
    let topic = library
        .entries()
        .get(item)
        .and_then(|entry| library.topics().get(entry.topic));
    topic.map(|topic| topic.title.clone()).unwrap_or_default()
}

/// What is left of the round.
fn left(home: &Home, sitting: &Sitting, ask: &Ask) -> String {
    if let Some(part) = ask.part {
        return part.to_string();
    }
    if ask.pick.reask {
        return format!("{} to ask again", home.again);
    }
    match sitting.round.seconds_left() {
        _ if home.due > 0 => format!("{} due", home.due),
        Some(seconds) => format!("{} left", minutes(seconds)),
        None => format!("{} unseen", home.unseen),
    }
}

/// Safety, why it is asked now, and whether it has changed.
fn standing(sheet: &mut Sheet, sitting: &Sitting, ask: &Ask) {
    let why = ask.pick.why.to_string();
    if sitting
        .round
        .item(ask)
        .is_some_and(crate::deck::model::Item::is_safety)
    {
        sheet.flow(0, &[("Safety item.", Look::Caution), (&why, Look::Quiet)]);
    } else {
        sheet.text(&why, Look::Quiet);
    }
    if ask.changed {
        sheet.text(
            "The key of this item has changed since you last answered it.",
            Look::Plain,
        );
    }
}

fn answer(sheet: &mut Sheet, form: &Form, entry: &Entry, open: bool) {
    match (form, entry) {
        (Form::One(options), Entry::One { chosen, .. }) => {
            sheet.text("Choose one.", Look::Quiet);
            for (place, text) in options.iter().enumerate() {
                let chosen = *chosen == Some(place);
                choice(
                    sheet,
                    if chosen { "> " } else { "  " },
                    place,
                    text,
                    open && chosen,
                );
            }
        }
        (Form::Several(options), Entry::Several { focus, chosen }) => {
            sheet.text("Choose all that apply.", Look::Quiet);
            for (place, text) in options.iter().enumerate() {
                let mark = if chosen.get(place) == Some(&true) {
                    "[x] "
                } else {
                    "[ ] "
                };
                choice(sheet, mark, place, text, open && *focus == place);
            }
        }
        (Form::Sequence(steps), Entry::Sequence { focus, placed, .. }) => {
            sheet.text("Put these in order, the first one first.", Look::Quiet);
            for (place, text) in steps.iter().enumerate() {
                let position = placed.iter().position(|&step| step == place);
                let mark = slot(position, steps.len());
                choice(sheet, &mark, place, text, open && *focus == place);
            }
            sheet.gap();
            sheet.text(&order_so_far(placed, steps.len()), Look::Plain);
        }
        (Form::Pairs { lefts, rights }, Entry::Pairs { focus, given, .. }) => {
            sheet.text(
                "Give each letter a number. A number may serve twice, or not at all.",
                Look::Quiet,
            );
            for (place, text) in lefts.iter().enumerate() {
                let right = given.get(place).copied().flatten();
                let mark = slot(right, rights.len());
                choice(sheet, &mark, place, text, open && *focus == place);
            }
            sheet.gap();
            for (place, text) in rights.iter().enumerate() {
                let lead = Row::new([(&format!("{:>3}  ", number(place)), Look::Key)]);
                sheet.hang(lead, text, Look::Plain);
            }
        }
        (Form::Typed, Entry::Typed { field, inside }) => {
            sheet.text(
                "Type the term. Case, accents and small slips do not count.",
                Look::Quiet,
            );
            sheet.focused(|sheet| typed(sheet, field, open && *inside));
        }
        (Form::Number { unit, .. }, Entry::Typed { field, inside }) => {
            let ask = match unit {
                Some(unit) => format!("Type the number, in {unit}. The unit may be left out."),
                None => "Type the number.".to_owned(),
            };
            sheet.text(&ask, Look::Quiet);
            sheet.focused(|sheet| typed(sheet, field, open && *inside));
        }
        (Form::Places(figure), Entry::Place(pointing)) => {
            sheet.text(
                "The drawing cannot be made out in this window: choose by the words, or make the window larger.",
                Look::Quiet,
            );
            sheet.text(
                &format!("Seen: {}.", figure.view.trim_end_matches('.')),
                Look::Quiet,
            );
            for (place, spot) in figure.places.iter().enumerate() {
                let chosen = pointing.chosen() == Some(place);
                let mark = if chosen { "> " } else { "  " };
                choice(sheet, mark, place, &spot.says, open && chosen);
            }
        }
        // The entry is made from the form of the open question.
        _ => {}
    }
}

/// Beside a drawing stands nothing that would tell where a place lies.
fn pointed(sheet: &mut Sheet, figure: &Figure, chosen: Option<usize>) {
    sheet.text(
        &format!("Seen: {}.", figure.view.trim_end_matches('.')),
        Look::Quiet,
    );
    sheet.gap();
    match chosen {
        Some(place) => sheet.flow(
            0,
            &[("You point to", Look::Plain), (&letter(place), Look::Key)],
        ),
        None => sheet.text("Point to one place: type its letter, or walk.", Look::Quiet),
    }
}

/// A design in words as it grows. No verdict: that comes after the answer.
fn designed(sheet: &mut Sheet, designing: &Designing) {
    for side in EndSide::BOTH {
        let mark = if designing.active() == side {
            "> "
        } else {
            "  "
        };
        let name = match side {
            EndSide::Mesial => "m ",
            EndSide::Distal => "d ",
        };
        let lead = Row::new([(mark, Look::Key), (name, Look::Key)]);
        sheet.hang(lead, &designing.end_in_words(side), Look::Plain);
    }
    for words in designing.more_in_words() {
        sheet.hang(Row::new([("    ", Look::Plain)]), &words, Look::Plain);
    }
    sheet.gap();
    for words in designing.measured().into_iter().flatten() {
        sheet.text(&words, Look::Plain);
    }
    sheet.gap();
    sheet.text(&describe_case(designing.case()), Look::Quiet);
}

/// A place for a number of up to `most`, empty or filled. Numbers count from 0 here and from 1 on the screen.
fn slot(filled: Option<usize>, most: usize) -> String {
    let digits = most.to_string().len();
    format!("[{:>digits$}] ", filled.map_or_else(String::new, number))
}

fn order_so_far(placed: &[usize], steps: usize) -> String {
    let ids: Vec<String> = placed.iter().map(|&step| letter(step)).collect();
    match placed.len() {
        0 => "Nothing is placed yet.".to_owned(),
        len if len < steps => format!(
            "Your order so far: {}. {} to go.",
            ids.join(", "),
            steps - len
        ),
        _ => format!("Your order: {}.", ids.join(", ")),
    }
}

fn choice(sheet: &mut Sheet, mark: &str, place: usize, text: &str, focus: bool) {
    let start = sheet.rows.len();
    let lead = Row::new([
        (mark, Look::Plain),
        (&letter(place), Look::Key),
        ("  ", Look::Plain),
    ]);
    sheet.hang(lead, text, Look::Plain);
    if focus {
        sheet.reverse_from(start);
        sheet.focus = Some(start..sheet.rows.len());
    }
}

/// The field, scrolled sideways so that the cursor is in it.
fn typed(sheet: &mut Sheet, field: &Field, open: bool) {
    const LEAD: &str = "> ";
    let (before, after) = field.halves();
    let room = sheet.width().saturating_sub(LEAD.len() + 1);
    let mut before = Shown::new(before);
    // Whole words of the start go first; the end, where the cursor is, stays.
    if before.width() > room {
        let lines = before.wrap(room);
        before = lines.last().cloned().unwrap_or_default();
    }
    let after = Shown::new(after).cut(room - before.width().min(room));
    if open {
        sheet.caret = Some((sheet.rows.len(), LEAD.len() + before.width()));
    }
    sheet.rows.push(Row(vec![
        (Shown::new(LEAD), Look::Key),
        (before, Look::Plain),
        (after, Look::Plain),
    ]));
    sheet.rows.push(Row::new([
        ("  ", Look::Plain),
        (
            &"─".repeat(sheet.width().saturating_sub(2).min(60)),
            Look::Quiet,
        ),
    ]));
}

fn confidence(sheet: &mut Sheet, level: Option<Confidence>) {
    sheet.text("How sure are you?", Look::Strong);
    for this in Confidence::ALL {
        let start = sheet.rows.len();
        let mark = if level == Some(this) { "> " } else { "  " };
        let word = this.word();
        let (key, word) = (word.get(..1).unwrap_or_default(), format!("  {word:<10}"));
        let mut row = Row::new([
            (mark, Look::Plain),
            (key, Look::Key),
            (&word, Look::Strong),
            (meaning(this), Look::Plain),
        ]);
        // Beside a drawing there is room for the words alone.
        if row.width() > sheet.width() {
            row.0.pop();
        }
        sheet.rows.push(row);
        if level == Some(this) {
            sheet.reverse_from(start);
        }
    }
}

const fn meaning(level: Confidence) -> &'static str {
    match level {
        Confidence::Guessing => "no idea, or a bare guess",
        Confidence::Likely => "more likely right than wrong",
        Confidence::Certain => "you would stake a patient on it",
    }
}
