//! How a candidate prepares: exam date, minutes a day, rest days, pass mark, as they are typed, kept and used.
//!
//! Nothing that is remembered of an item depends on these: they may change on any day.

use chrono::Weekday;
use thiserror::Error;

use crate::memory::horizon::LONGEST;
use crate::memory::study::{Exam, RestDays, StudyPlan};
use crate::settings::Setting;
use crate::time::{Day, Moment};

/// Hour of local time at which an exam is taken to begin. Our assumption.
const EXAM_HOUR: f64 = 9.0;
/// Minutes a day for whoever has not said otherwise.
const USUAL_MINUTES: u32 = 30;
/// The days of the week by their short and full names.
const WEEK: [(&str, &str, Weekday); 7] = [
    ("mon", "monday", Weekday::Mon),
    ("tue", "tuesday", Weekday::Tue),
    ("wed", "wednesday", Weekday::Wed),
    ("thu", "thursday", Weekday::Thu),
    ("fri", "friday", Weekday::Fri),
    ("sat", "saturday", Weekday::Sat),
    ("sun", "sunday", Weekday::Sun),
];

/// What a candidate has set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Preparation {
    /// Day of the exam.
    pub exam: Option<Day>,
    /// Minutes of study on a study day, 1 to 1440.
    pub minutes: u32,
    /// Days of the week without study.
    pub rest: RestDays,
    /// Pass mark in per cent.
    pub pass: Option<f64>,
}

impl Default for Preparation {
    fn default() -> Self {
        Self {
            exam: None,
            minutes: USUAL_MINUTES,
            rest: RestDays::NONE,
            pass: None,
        }
    }
}

/// Why something cannot be set. Each says what can.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Unplannable {
    /// Not a date.
    #[error("{0:?} is no date; write it as 2027-05-20, or none for no exam")]
    NoDate(String),
    /// In the past.
    #[error("{exam} is over (the study day is {today}); give a later date, or none for no exam")]
    Past {
        /// The date given.
        exam: Day,
        /// The study day.
        today: Day,
    },
    /// Too far ahead.
    #[error(
        "{exam} is {days} days ahead, and a plan looks {LONGEST} days ahead; set the exam when it is nearer, and study by due dates until then"
    )]
    TooFar {
        /// The date given.
        exam: Day,
        /// How far ahead it is.
        days: i64,
    },
    /// Not a number of minutes.
    #[error("{0:?} minutes a day cannot be planned; give a whole number from 1 to 1440")]
    Minutes(String),
    /// Not a day of the week.
    #[error("{0:?} is no day of the week; write days as sat,sun, or none")]
    NoWeekday(String),
    /// Nothing is left to study on.
    #[error("all seven days are rest days; leave at least one to study on")]
    NoStudyDay,
    /// Not a mark.
    #[error("{0:?} is no pass mark; give per cent from 1 to 100, or none")]
    Pass(String),
}

impl Preparation {
    /// Takes one setting as it was typed or kept.
    ///
    /// # Errors
    /// [`Unplannable`]; nothing is changed then.
    pub fn set(&mut self, setting: Setting, text: &str, today: Day) -> Result<(), Unplannable> {
        let text = text.trim().to_lowercase();
        let some = (text != "none").then_some(text.as_str());
        match setting {
            Setting::Exam => self.exam = some.map(|text| exam(text, today)).transpose()?,
            Setting::Minutes => {
                let minutes = text
                    .parse()
                    .ok()
                    .filter(|minutes| (1..=1440).contains(minutes));
                self.minutes = minutes.ok_or(Unplannable::Minutes(text))?;
            }
            Setting::Rest => self.rest = some.map_or(Ok(RestDays::NONE), rest)?,
            Setting::Pass => self.pass = some.map(pass).transpose()?,
            Setting::CautionRead | Setting::Marks => {}
        }
        Ok(())
    }

    /// Takes one setting as it was kept. What was kept was sound when it was; only the date of an exam can have gone
    /// by since, and is kept as it is. Anything else that cannot be read is as if it had never been set.
    pub fn restore(&mut self, setting: Setting, text: &str, today: Day) {
        if let Err(Unplannable::Past { exam, .. }) = self.set(setting, text, today) {
            self.exam = Some(exam);
        }
    }

    /// The setting as it is kept; [`Self::restore`] reads it back.
    #[must_use]
    pub fn kept(&self, setting: Setting) -> String {
        let or_none = |text: Option<String>| text.unwrap_or_else(|| "none".to_owned());
        match setting {
            Setting::Exam => or_none(self.exam.map(|day| day.to_string())),
            Setting::Minutes => self.minutes.to_string(),
            Setting::Rest => {
                let days: Vec<&str> = WEEK
                    .iter()
                    .filter(|(.., day)| self.rest.has(*day))
                    .map(|(word, ..)| *word)
                    .collect();
                or_none((!days.is_empty()).then(|| days.join(",")))
            }
            Setting::Pass => or_none(self.pass.map(|mark| mark.to_string())),
            Setting::CautionRead | Setting::Marks => String::new(),
        }
    }

    /// The plan of study at `now`. An exam that is over is no exam.
    #[must_use]
    #[expect(
        clippy::cast_precision_loss,
        reason = "days and minutes are far below 2^53"
    )]
    pub fn plan(&self, now: Moment) -> StudyPlan {
        let offset_days = f64::from(now.offset_min) / 1440.0;
        let exam = self.exam.filter(|day| *day >= now.day).map(|day| Exam {
            at_days: day.number() as f64 + EXAM_HOUR / 24.0 - offset_days,
            day,
        });
        StudyPlan {
            exam,
            seconds_a_day: f64::from(self.minutes) * 60.0,
            rest: self.rest,
        }
    }
}

fn exam(text: &str, today: Day) -> Result<Day, Unplannable> {
    let day = Day::parse(text).ok_or_else(|| Unplannable::NoDate(text.to_owned()))?;
    match day.since(today) {
        ..0 => Err(Unplannable::Past { exam: day, today }),
        days if usize::try_from(days).is_ok_and(|days| days <= LONGEST) => Ok(day),
        days => Err(Unplannable::TooFar { exam: day, days }),
    }
}

fn rest(text: &str) -> Result<RestDays, Unplannable> {
    let mut rest = RestDays::NONE;
    // Nothing at all is a slip, such as an unset variable; whoever wants no rest days says so.
    if text.trim_matches([',', ' ']).is_empty() {
        return Err(Unplannable::NoWeekday(text.to_owned()));
    }
    for word in text.split([',', ' ']).filter(|word| !word.is_empty()) {
        // "mon-fri" and "sat/sun" begin with a day, too, and mean something else.
        let day = WEEK
            .iter()
            .find(|(short, full, _)| full.starts_with(word) && word.starts_with(short));
        let (.., day) = day.ok_or_else(|| Unplannable::NoWeekday(word.to_owned()))?;
        rest = rest.with(*day);
    }
    if rest.is_whole_week() {
        Err(Unplannable::NoStudyDay)
    } else {
        Ok(rest)
    }
}

fn pass(text: &str) -> Result<f64, Unplannable> {
    let mark = text.trim_end_matches('%').trim().parse::<f64>().ok();
    let mark = mark.filter(|mark| (1.0..=100.0).contains(mark));
    mark.ok_or_else(|| Unplannable::Pass(text.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [Setting; 4] = [
        Setting::Exam,
        Setting::Minutes,
        Setting::Rest,
        Setting::Pass,
    ];

    fn today() -> Day {
        Day::parse("2027-03-01").unwrap()
    }

    #[test]
    fn what_is_kept_is_read_back() {
        let mut set = Preparation::default();
        for (setting, text) in ALL
            .into_iter()
            .zip(["2027-05-20", "45", "sat, Sunday", "62.5%"])
        {
            set.set(setting, text, today()).unwrap();
        }
        let mut read = Preparation::default();
        for setting in ALL {
            read.set(setting, &set.kept(setting), today()).unwrap();
        }
        assert_eq!(read, set);
        assert_eq!(
            ALL.map(|setting| set.kept(setting)),
            ["2027-05-20", "45", "sat,sun", "62.5"]
        );
        for setting in [Setting::Exam, Setting::Rest, Setting::Pass] {
            set.set(setting, "none", today()).unwrap();
            assert_eq!(set.kept(setting), "none");
        }
    }

    #[test]
    fn what_cannot_be_planned_changes_nothing_and_says_what_can() {
        let mut set = Preparation::default();
        for (setting, text, part) in [
            (Setting::Exam, "2027-02-28", "is over"),
            (Setting::Exam, "2027-02-30", "is no date"),
            (Setting::Exam, "next May", "is no date"),
            (Setting::Exam, "2127-05-20", "400 days ahead"),
            (Setting::Minutes, "0", "from 1 to 1440"),
            (Setting::Minutes, "-5", "from 1 to 1440"),
            (Setting::Minutes, "half an hour", "from 1 to 1440"),
            (Setting::Minutes, "99999999999", "from 1 to 1440"),
            (
                Setting::Rest,
                "mon,tue,wed,thu,fri,sat,sun",
                "all seven days",
            ),
            (Setting::Rest, "someday", "no day of the week"),
            (Setting::Rest, "mon-fri", "no day of the week"),
            (Setting::Rest, "sat/sun", "no day of the week"),
            (Setting::Rest, "monkey", "no day of the week"),
            (Setting::Rest, "s", "no day of the week"),
            (Setting::Rest, "", "or none"),
            (Setting::Rest, " , ,", "or none"),
            (Setting::Pass, "0", "per cent"),
            (Setting::Pass, "nan", "per cent"),
        ] {
            let error = set.set(setting, text, today()).unwrap_err().to_string();
            assert!(error.contains(part), "{error}");
            assert_eq!(set, Preparation::default());
        }
    }

    #[test]
    fn an_exam_begins_in_the_local_morning_and_ends_with_its_day() {
        let set = Preparation {
            exam: Some(today()),
            ..Preparation::default()
        };
        let now = |day: &str| Moment {
            utc_ms: 0,
            day: Day::parse(day).unwrap(),
            offset_min: 120,
        };
        let exam = set.plan(now("2027-03-01")).exam.unwrap();
        let hours = (exam.at_days - exam.at_days.floor()) * 24.0;
        assert!(
            (hours - 7.0).abs() < 1e-6,
            "nine in the morning two hours east is seven in UTC"
        );
        assert_eq!(set.plan(now("2027-03-02")).exam, None);
    }
}
