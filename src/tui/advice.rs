//! The one next step of the home screen, from the day's numbers.

use super::words::{about_minutes, coming};
use crate::round::Home;
use crate::time::Day;
use crate::words::counted;

/// What to do now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Advice {
    /// The step, in a sentence or two.
    pub(super) say: String,
    /// What Enter does; `None` if there is nothing to ask.
    pub(super) enter: Option<&'static str>,
}

/// The next step on `today`.
pub(super) fn advice(home: &Home, today: Day) -> Advice {
    let done = home.is_done();
    let back = home.next.map_or_else(String::new, |(day, items)| {
        let due = if items == 1 { "is" } else { "are" };
        format!(
            " Come back {}: {} {due} due then.",
            coming(day, today),
            counted(items, "item", "items")
        )
    });
    let (say, enter) = match *home {
        Home { items: 0, .. } => {
            let say = "There is nothing to ask. Add a deck with: luxate deck add FILE";
            (say.to_owned(), None)
        }
        Home {
            is_rest_day: true, ..
        } if done && home.due + home.again + home.unseen > 0 => {
            let due = match home.due {
                0 => String::new(),
                1 => " 1 item is due.".to_owned(),
                due => format!(" {due} items are due."),
            };
            (
                format!("Today is a day of rest.{due}"),
                Some("study 10 minutes all the same"),
            )
        }
        Home { due: 1.., .. } if done => {
            let due = counted(home.due, "item", "items");
            let minutes = about_minutes(home.seconds_due);
            (
                format!("The minutes of today are done. {due} still due: {minutes}."),
                Some("go on with 10 more minutes"),
            )
        }
        Home { exam: Some(_), .. } if !done => {
            let minutes = about_minutes(home.seconds_left);
            (
                format!("Study for {minutes}: what gains most before the exam comes first."),
                Some("begin the review"),
            )
        }
        Home { due: 1.., .. } => {
            let due = counted(home.due, "due item", "due items");
            (
                format!("Review {due} now: {}.", about_minutes(home.seconds_due)),
                Some("begin the review"),
            )
        }
        Home { again: 1.., .. } => {
            let again = counted(home.again, "item", "items");
            (
                format!("Finish what you began: {again} to be asked again today."),
                Some("go on"),
            )
        }
        Home { unseen: 0, .. } => (format!("Nothing is left to ask today.{back}"), None),
        _ if done => {
            let say = format!("Nothing is due and the minutes of today are done.{back}");
            (say, Some("go on with 10 minutes of unseen items"))
        }
        Home {
            answers_today: 0,
            next: None,
            ..
        } => {
            let minutes = about_minutes(home.seconds_left);
            (
                format!("Meet your first items. Planned for today: {minutes}."),
                Some("begin"),
            )
        }
        _ => {
            let minutes = about_minutes(home.seconds_left);
            (
                format!("Nothing is due. Meet unseen items; left of today: {minutes}."),
                Some("begin"),
            )
        }
    };
    Advice { say, enter }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn home() -> Home {
        Home {
            due: 0,
            overdue: 0,
            unseen: 10,
            items: 20,
            again: 0,
            answers_today: 0,
            seconds_today: 0.0,
            seconds_left: 1800.0,
            is_rest_day: false,
            seconds_due: 0.0,
            next: None,
            confident_errors: 0,
            mistaken_beliefs: 0,
            ahead_of_clock: None,
            exam: None,
        }
    }

    fn told(home: &Home) -> (String, Option<&'static str>) {
        let Advice { say, enter } = advice(home, Day::parse("2026-11-25").unwrap());
        (say, enter)
    }

    #[test]
    fn there_is_one_next_step_for_every_day() {
        let tomorrow = Some((Day::parse("2026-11-26").unwrap(), 3));
        let done = Home {
            seconds_left: 20.0,
            answers_today: 9,
            next: tomorrow,
            ..home()
        };
        let (say, enter) = told(&Home {
            due: 12,
            seconds_due: 290.0,
            ..home()
        });
        assert_eq!(
            (say.as_str(), enter),
            (
                "Review 12 due items now: about 5 minutes.",
                Some("begin the review")
            )
        );
        let (say, enter) = told(&Home {
            due: 1,
            seconds_due: 20.0,
            ..done
        });
        assert!(
            say.starts_with("The minutes of today are done. 1 item still due") && enter.is_some()
        );
        let (say, enter) = told(&Home {
            due: 1,
            is_rest_day: true,
            ..done
        });
        assert!(say == "Today is a day of rest. 1 item is due." && enter.is_some());
        let (say, enter) = told(&done);
        assert!(
            say.ends_with("Come back tomorrow, Thursday 26 November: 3 items are due then.")
                && enter.is_some()
        );
        let (say, enter) = told(&Home { unseen: 0, ..done });
        assert!(
            say.starts_with("Nothing is left to ask today. Come back tomorrow") && enter.is_none()
        );
        assert!(
            told(&Home { again: 2, ..home() })
                .0
                .contains("2 items to be asked again")
        );
        assert!(told(&home()).0.starts_with("Meet your first items"));
        assert_eq!(
            told(&Home {
                items: 0,
                unseen: 0,
                ..home()
            })
            .1,
            None
        );
    }

    #[test]
    fn a_round_takes_what_is_left_of_the_day_or_a_little_more() {
        assert!((home().round_seconds() - 1800.0).abs() < 1e-9);
        let done = Home {
            seconds_left: 0.0,
            ..home()
        };
        assert!((done.round_seconds() - Home::MORE_SECONDS).abs() < 1e-9);
    }
}
