//! Keys to model, through the update alone: whole rounds without a terminal.

use crate::decks::{all_kinds, deck, matching, multiple, order, short, single};
use crate::desk::Desk;
use luxate::answer::{Answer, Confidence};
use luxate::round::Limits;
use luxate::settings::Setting;
use luxate::tui::{Effect, Event, Settings};

fn begun(items: Vec<luxate::deck::model::Item>) -> Desk {
    let mut desk = Desk::new(vec![deck(items)]);
    desk.press("enter");
    desk
}

/// The letter on the screen of the option with this text.
fn letter_of(desk: &mut Desk, text: &str) -> String {
    let screen = desk.screen(120, 40);
    let line = screen
        .lines()
        .find(|line| line.contains(text))
        .unwrap_or_else(|| panic!("{text} in {screen}"));
    let before = line.split(text).next().unwrap();
    before.split_whitespace().last().unwrap().to_owned()
}

#[test]
fn a_round_of_all_kinds_is_answered_right_by_keys_alone() {
    let mut desk = Desk::new(vec![deck(vec![
        single(),
        multiple(),
        order(),
        matching(),
        short(),
    ])]);
    desk.press("enter");

    let key = letter_of(&mut desk, "Close to the lingual plate");
    desk.press(&key).press("enter c");
    assert!(
        desk.seen().contains("Right, and you were certain."),
        "{}",
        desk.seen()
    );

    desk.press("enter a b enter down down enter");
    assert!(
        desk.seen().contains("Right, and you thought it likely."),
        "{}",
        desk.seen()
    );

    desk.press("enter");
    for step in ["Incise", "Raise", "Remove bone", "Divide", "Rinse"] {
        let key = letter_of(&mut desk, step);
        desk.press(&key);
    }
    desk.press("enter g");
    assert!(
        desk.seen().contains("Right, but you were guessing."),
        "{}",
        desk.seen()
    );

    desk.press("enter");
    for (left, right) in [
        ("Lingual nerve", "Front of"),
        ("Mental nerve", "Lower lip"),
        ("Long buccal", "Gum beside"),
    ] {
        let (left, right) = (letter_of(&mut desk, left), letter_of(&mut desk, right));
        desk.press(&left).press(&right);
    }
    desk.press("enter c enter");
    desk.press("Mandibular space foramne enter c");
    assert!(
        desk.seen().contains("you typed Mandibular foramne."),
        "{}",
        desk.seen()
    );

    // The guess comes back before the round ends.
    desk.press("enter");
    assert!(desk.seen().contains("Again: not yet answered well today."));
    for step in ["Incise", "Raise", "Remove bone", "Divide", "Rinse"] {
        let key = letter_of(&mut desk, step);
        desk.press(&key);
    }
    desk.press("enter c enter");
    assert!(
        desk.seen().contains("Done: nothing is left to ask today."),
        "{}",
        desk.seen()
    );
    assert!(desk.answers.iter().all(|answer| answer.right));
    let said: Vec<Confidence> = desk
        .answers
        .iter()
        .map(|answer| answer.confidence)
        .collect();
    let (certain, likely, guessing) = (
        Confidence::Certain,
        Confidence::Likely,
        Confidence::Guessing,
    );
    assert_eq!(said, [certain, likely, guessing, certain, certain, certain]);

    desk.press("enter");
    assert!(
        desk.seen()
            .contains("Nothing is left to ask today. Come back tomorrow"),
        "{}",
        desk.seen()
    );
    desk.press("enter");
    assert!(desk.seen().contains("There is nothing to ask now."));
    assert_eq!(desk.effects, []);
    desk.press("q");
    assert_eq!(desk.effects, [Effect::Quit]);
}

#[test]
fn the_caution_comes_first_and_once() {
    let settings = Settings {
        caution: Some("Take care.".into()),
        begin: true,
        ..Settings::default()
    };
    let mut desk = Desk::with(vec![deck(vec![single()])], settings);
    assert!(desk.seen().contains("Take care."));
    desk.press("enter");
    assert_eq!(
        desk.effects,
        [Effect::Save(
            Setting::CautionRead,
            "2027-03-02T18:30:00.000Z".into()
        )]
    );
    assert!(
        desk.seen().contains("question 1"),
        "asked for at once, a round begins without home"
    );
}

#[test]
fn nothing_is_revealed_before_it_is_stored() {
    let mut desk = begun(vec![single()]);
    desk.store = Err("the disk is full (/data/luxate). Free some space".into());
    desk.press("b enter c");
    let screen = desk.seen();
    assert!(
        screen.contains("NOT SAVED. The disk is full (/data/luxate)."),
        "{screen}"
    );
    assert!(
        screen.contains("> b") && screen.contains("> c  certain") && !screen.contains("Key:"),
        "{screen}"
    );
    assert!(desk.answers.is_empty() && desk.model.record().answers() == 0);

    desk.press("enter");
    assert!(desk.seen().contains("NOT SAVED."), "it says so each time");
    desk.store = Ok(());
    desk.press("enter");
    assert!(desk.seen().contains("Your answer, wrong."));
    assert_eq!((desk.answers.len(), desk.model.record().answers()), (1, 1));
}

#[test]
fn an_answer_that_is_not_complete_is_not_taken() {
    for (item, keys, said) in [
        (single(), "enter", "Choose exactly one option"),
        (multiple(), "a a enter", "Choose at least one option"),
        (order(), "a b enter", "Name every step once"),
        (matching(), "1 2 enter", "Give every letter a number"),
        (short(), "space enter", "Type a term."),
    ] {
        let mut desk = begun(vec![item]);
        desk.press(keys);
        let screen = desk.seen();
        assert!(
            screen.contains(said) && !screen.contains("How sure"),
            "{screen}"
        );
    }
    let mut desk = begun(vec![single()]);
    desk.press("a enter enter");
    assert!(
        desk.seen().contains("Say how sure you are"),
        "no level is chosen beforehand"
    );
}

#[test]
fn an_answer_can_be_changed_until_it_is_handed_in() {
    let mut desk = begun(vec![single()]);
    desk.press("a enter down esc b enter");
    assert!(desk.seen().contains("> b") && !desk.seen().contains("> g  guessing"));
    desk.press("l");
    assert_eq!(desk.answers.len(), 1);
}

#[test]
fn stopping_keeps_what_was_answered_and_the_round_goes_on_later() {
    let mut desk = Desk::new(vec![all_kinds()]);
    desk.press("enter a enter g enter a");
    desk.press("q");
    let screen = desk.seen();
    assert!(
        screen.contains("Stopped here. Every answer is kept.") && screen.contains("0 of 1 right"),
        "{screen}"
    );
    desk.press("enter");
    assert!(
        desk.seen().contains("1 item from a round that was stopped"),
        "{}",
        desk.seen()
    );
    desk.press("enter");
    assert!(
        desk.seen().contains("question 1")
            && desk.seen().contains("in the mandibular canal is injured")
    );
}

#[test]
fn where_a_term_is_typed_letters_are_letters() {
    let mut desk = begun(vec![short()]);
    desk.press("quick? x back");
    assert!(
        desk.seen().contains("> quick?") && !desk.seen().contains("?: help"),
        "{}",
        desk.seen()
    );
    desk.send(Event::Paste(" pasted\u{1b}[2J\ntext ".into()));
    assert!(
        desk.seen().contains("> quick?pasted[2J text"),
        "{}",
        desk.seen()
    );
    desk.press("esc ?");
    assert!(desk.seen().contains("Keys here"));
    desk.press("esc q");
    assert!(desk.seen().contains("Stopped before the first answer."));
}

#[test]
fn pasted_text_is_never_a_command() {
    let mut desk = begun(vec![single()]);
    desk.send(Event::Paste("q".into()));
    let screen = desk.seen();
    assert!(
        screen.contains("question 1") && screen.contains("Text can be pasted only where"),
        "{screen}"
    );
    desk.press("a enter");
    desk.send(Event::Paste("c\n".into()));
    assert!(desk.answers.is_empty());
}

#[test]
fn ctrl_c_leaves_at_once_from_everywhere() {
    for keys in [
        "",
        "enter",
        "enter a enter",
        "enter a enter c",
        "enter q",
        "?",
    ] {
        let mut desk = Desk::new(vec![all_kinds()]);
        desk.press(keys).press("ctrl-c");
        assert_eq!(desk.effects, [Effect::Interrupt], "{keys}");
    }
}

#[test]
fn time_asleep_is_no_time_of_answering() {
    let mut desk = begun(vec![single()]);
    desk.press("a ctrl-z");
    assert_eq!(desk.effects, [Effect::Suspend]);
    for _ in 0..20 {
        desk.send(Event::Tick);
    }
    desk.send(Event::Resumed);
    desk.press("enter c");
    // a, Ctrl-Z; then after the sleep enter, c.
    assert!(
        (desk.answers[0].seconds - 4.0).abs() < 1e-9,
        "{}",
        desk.answers[0].seconds
    );
}

#[test]
fn too_small_a_screen_keeps_everything_and_can_be_left() {
    let mut desk = begun(vec![single()]);
    desk.press("b");
    let notice = desk.screen(59, 24);
    assert!(
        notice.contains("needs a screen of 60x20; this one is 59x24"),
        "{notice}"
    );
    desk.press("a enter c");
    assert!(
        desk.seen().contains("> b") && desk.answers.is_empty(),
        "keys that cannot be seen do nothing"
    );
    desk.screen(10, 3);
    desk.press("q");
    assert_eq!(desk.effects, [Effect::Quit]);
}

#[test]
fn limits_asked_for_are_kept_to() {
    let limits = Limits {
        items: Some(2),
        seconds: None,
    };
    let settings = Settings {
        limits,
        begin: true,
        seed: Some(3),
        ..Settings::default()
    };
    let mut desk = Desk::with(vec![all_kinds()], settings);
    let key = letter_of(&mut desk, "Close to the lingual plate");
    desk.press(&key).press("enter c enter a b enter c enter");
    assert!(
        desk.seen()
            .contains("The limit you set for this round is reached."),
        "{}",
        desk.seen()
    );
}

#[test]
fn another_day_is_noticed_while_the_program_waits() {
    let mut desk = begun(vec![single()]);
    let key = letter_of(&mut desk, "Close to the lingual plate");
    desk.press(&key).press("enter c enter enter");
    assert!(desk.seen().contains("Nothing is left to ask today"));
    desk.now = "2027-03-03T08:00:00+01:00";
    desk.send(Event::Tick);
    let screen = desk.seen();
    assert!(
        screen.contains("Wednesday 3 March 2027") && screen.contains("Review 1 due item now"),
        "{screen}"
    );
}

#[test]
fn an_empty_library_is_told_and_begins_nothing() {
    let mut desk = Desk::new(Vec::new());
    assert!(desk.seen().contains("luxate deck add FILE"));
    desk.press("enter");
    assert!(desk.seen().contains("There is nothing to ask now."));
}

#[test]
fn a_long_page_is_scrolled_to_its_ends_and_back() {
    let mut desk = begun(vec![crate::decks::long()]);
    desk.press("c enter l");
    assert!(desk.seen().contains("below: Space") && !desk.seen().contains("above: PgUp"));
    let mut steps = 0;
    while desk.seen().contains("below: Space") {
        desk.press("space");
        steps += 1;
        assert!(steps < 20);
    }
    assert!(desk.seen().contains("p 41.") && desk.seen().contains("above: PgUp"));
    desk.press("home");
    assert!(!desk.seen().contains("above: PgUp"));
    desk.press("end up");
    assert!(desk.seen().contains("1 more line below: Space"));
}

#[test]
fn what_is_chosen_stays_in_sight_on_a_small_screen() {
    let mut desk = begun(vec![crate::decks::long()]);
    desk.screen(60, 20);
    for (key, line) in [("d", "> d"), ("a", "> a"), ("enter", "certain")] {
        desk.press(key);
        let screen = desk.screen(60, 20);
        assert!(screen.contains(line), "{screen}");
    }
}

#[test]
fn a_page_stays_where_it_was_when_the_screen_was_too_small_for_a_while() {
    let mut desk = begun(vec![crate::decks::long()]);
    desk.press("c enter l");
    desk.seen();
    desk.press("pgdn");
    let before = desk.seen();
    desk.screen(20, 5);
    assert_eq!(desk.seen(), before);
}

/// The answers that these keys give, each as if it had taken so many seconds.
fn answered(keys: &str, seconds: f64) -> Vec<Answer> {
    let mut desk = begun(vec![single(), multiple()]);
    desk.press(keys);
    desk.answers
        .iter()
        .map(|answer| Answer {
            seconds,
            ..answer.clone()
        })
        .collect()
}

#[test]
fn a_key_that_has_changed_is_told() {
    let mut answers = answered("a enter c", 20.0);
    answers[0].fingerprint = "0123456789abcdef".into();
    let record = crate::decks::record(vec![deck(vec![single()])], &answers);
    let mut desk = Desk::after(
        record,
        Settings {
            begin: true,
            ..Settings::default()
        },
    );
    let screen = desk.seen();
    assert!(
        screen.contains("The key of this item has changed since you last answered it."),
        "{screen}"
    );
}

#[test]
fn when_the_minutes_of_the_day_are_done_it_says_so_and_goes_on_if_asked_to() {
    let answers = answered("a enter c enter a b enter c", 1000.0);
    let record = crate::decks::record(vec![all_kinds()], &answers);
    let mut desk = Desk::after(record, Settings::default());
    let screen = desk.seen();
    assert!(
        screen.contains("33 minutes done, all that were planned; 2 answers"),
        "{screen}"
    );
    desk.press("enter q enter");
    let again = "Finish what you began: 1 item to be asked again today.";
    assert!(desk.seen().contains(again), "{}", desk.seen());

    let right: Vec<Answer> = answers.into_iter().filter(|answer| answer.right).collect();
    let record = crate::decks::record(vec![all_kinds()], &[right.clone(), right].concat());
    let mut desk = Desk::after(record, Settings::default());
    let screen = desk.seen();
    assert!(
        screen.contains("Nothing is due and the minutes of today are done. Come back tomorrow"),
        "{screen}"
    );
    assert!(
        screen.contains("Enter to go on with 10 minutes of unseen items"),
        "{screen}"
    );
    desk.press("enter");
    assert!(
        desk.seen().contains("question 1, 10 minutes left"),
        "{}",
        desk.seen()
    );
}
