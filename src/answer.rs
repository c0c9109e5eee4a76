//! The answer: the only primary record there is.
//!
//! An answer says who asked what, when, in which form, what came back and how it was marked. It is never
//! altered. Everything else (intervals, estimates, forecasts) is worked out from answers.

use std::fmt;

use thiserror::Error;

use crate::time::Moment;

/// How sure a candidate was, said before the reveal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Confidence {
    /// No idea, or a bare guess.
    Guessing,
    /// More likely right than wrong.
    Likely,
    /// Would stake a patient on it.
    Certain,
}

impl Confidence {
    /// All levels, lowest first.
    pub const ALL: [Self; 3] = [Self::Guessing, Self::Likely, Self::Certain];

    /// The word for it in logs, lines and on screens.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Guessing => "guessing",
            Self::Likely => "likely",
            Self::Certain => "certain",
        }
    }

    /// The level with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|level| level.word() == word)
    }
}

/// SM-2's quality of a response, 0 to 5 (Wozniak 1990), derived from mark and confidence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Quality(u8);

impl Quality {
    /// The quality of an answer: right 5, 4, 3 for certain, likely, guessing; wrong 0, 1, 2.
    /// A confident error is the worst there is, a lucky guess only just passes.
    #[must_use]
    pub const fn of(right: bool, confidence: Confidence) -> Self {
        Self(match (right, confidence) {
            (true, Confidence::Certain) => 5,
            (true, Confidence::Likely) => 4,
            (true, Confidence::Guessing) => 3,
            (false, Confidence::Guessing) => 2,
            (false, Confidence::Likely) => 1,
            (false, Confidence::Certain) => 0,
        })
    }

    /// A quality given as a number; `None` above 5.
    #[must_use]
    pub const fn new(value: u8) -> Option<Self> {
        if value <= 5 { Some(Self(value)) } else { None }
    }

    /// The number, 0 to 5.
    #[must_use]
    pub const fn value(self) -> u8 {
        self.0
    }

    /// Whether the item is asked again before the round ends (SM-2: below 4).
    #[must_use]
    pub const fn asks_again(self) -> bool {
        self.0 < 4
    }
}

/// What an answer was given in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RoundKind {
    /// The day's scheduled work.
    Review,
    /// A chosen set of items.
    Drill,
    /// A mock exam paper.
    Paper,
}

impl RoundKind {
    /// All kinds.
    pub const ALL: [Self; 3] = [Self::Review, Self::Drill, Self::Paper];

    /// The word for it in logs.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Review => "review",
            Self::Drill => "drill",
            Self::Paper => "paper",
        }
    }

    /// The kind with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// Names one item in all decks: `deck/item`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ItemRef {
    /// Id of the deck.
    pub deck: String,
    /// Id of the item within its deck.
    pub item: String,
}

impl ItemRef {
    /// The reference to `item` of `deck`.
    #[must_use]
    pub fn new(deck: impl Into<String>, item: impl Into<String>) -> Self {
        Self {
            deck: deck.into(),
            item: item.into(),
        }
    }

    /// Reads `deck/item`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (deck, item) = text.split_once('/')?;
        (!deck.is_empty() && !item.is_empty()).then(|| Self::new(deck, item))
    }
}

impl fmt::Display for ItemRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.deck, self.item)
    }
}

/// 16 random bytes that name an answer wherever it travels; merging logs is a union by them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct AnswerId(pub [u8; 16]);

impl AnswerId {
    /// Reads 32 hexadecimal digits.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        u128::from_str_radix(text, 16)
            .ok()
            .filter(|_| text.len() == 32 && !text.starts_with('+'))
            .map(|number| Self(number.to_be_bytes()))
    }
}

impl fmt::Display for AnswerId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:032x}", u128::from_be_bytes(self.0))
    }
}

/// Which part of a case: `number` of `of`, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PartNumber {
    /// 1 for the first.
    pub number: u8,
    /// How many the case has.
    pub of: u8,
}

impl PartNumber {
    /// Whether it is the last part of its case.
    #[must_use]
    pub const fn is_last(self) -> bool {
        self.number >= self.of
    }

    /// The part after it, if there is one.
    #[must_use]
    pub fn next(self) -> Option<Self> {
        (!self.is_last()).then(|| Self {
            number: self.number.saturating_add(1),
            ..self
        })
    }

    /// Its index in the list of parts.
    #[must_use]
    pub fn index(self) -> usize {
        usize::from(self.number.saturating_sub(1))
    }
}

impl fmt::Display for PartNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "part {} of {}", self.number, self.of)
    }
}

/// One response with everything needed to understand it later.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Its name for good.
    pub id: AnswerId,
    /// When it was given, and on which study day.
    pub at: Moment,
    /// Which item was asked.
    pub item: ItemRef,
    /// Edition of the deck that asked.
    pub edition: String,
    /// What the item meant when it was asked: 16 hexadecimal digits that change with its key.
    pub fingerprint: String,
    /// Which part of a case this answers; `None` for an item without parts.
    pub part: Option<PartNumber>,
    /// Which wording was shown; 0 is the stem.
    pub wording: u32,
    /// The form it was asked in: ids of options in the order shown, or drawn numbers as `name=value`.
    pub shown: Vec<String>,
    /// What was answered, in terms of the item and not of the screen: option ids, pairs, typed text.
    pub response: Vec<String>,
    /// Whether that was right.
    pub right: bool,
    /// How sure the candidate was.
    pub confidence: Confidence,
    /// SM-2's quality.
    pub quality: Quality,
    /// Seconds from question to response.
    pub seconds: f64,
    /// What it was asked in.
    pub round: RoundKind,
}

/// Why an answer or a query can neither be kept nor told: the log holds none of these.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Flaw {
    /// RFC 3339 cannot write it.
    #[error("its time lies outside the years 0 to 9999")]
    Time,
    /// `YYYY-MM-DD` cannot write it.
    #[error("its day lies outside the years 0 to 9999")]
    Day,
    /// No place on earth keeps such a time.
    #[error("its offset from UTC is a whole day or more")]
    Offset,
    /// The id must be told apart from the item's.
    #[error("its deck's id is empty or holds a space, a control character or a slash")]
    Deck,
    /// The id must be readable.
    #[error("its item's id is empty or holds a space or a control character")]
    Item,
    /// See [`Answer::fingerprint`].
    #[error("its fingerprint is not 16 hexadecimal digits in lower case")]
    Fingerprint,
    /// See [`PartNumber`].
    #[error("its part is not one of 2 to 8 parts")]
    Part,
    /// Time taken is a plain number from 0 up.
    #[error("its seconds are negative or not a number")]
    Seconds,
    /// See [`Answer::MOST_TEXT`].
    #[error(
        "its texts are too long together; {} bytes are the most",
        Answer::MOST_TEXT
    )]
    Long,
    /// See [`crate::query::Query::text`].
    #[error("its text is empty, too long or holds a control character")]
    Remark,
}

/// Whether it can be true that the item was asked then: the rules that answers and queries share.
///
/// # Errors
/// The first flaw found.
pub(crate) fn check_asking(
    at: &Moment,
    item: &ItemRef,
    fingerprint: &str,
    part: Option<PartNumber>,
) -> Result<(), Flaw> {
    let year = |date: chrono::NaiveDate| (0..=9999).contains(&chrono::Datelike::year(&date));
    let id_char = |c: char| !c.is_whitespace() && !c.is_control();
    let id = |text: &str| !text.is_empty() && text.chars().all(id_char);
    let hex = |b: u8| matches!(b, b'0'..=b'9' | b'a'..=b'f');
    let time = chrono::DateTime::from_timestamp_millis(at.utc_ms);
    let rules = [
        (time.is_some_and(|time| year(time.date_naive())), Flaw::Time),
        (year(at.day.date()), Flaw::Day),
        (at.offset_min.unsigned_abs() < 24 * 60, Flaw::Offset),
        (id(&item.deck) && !item.deck.contains('/'), Flaw::Deck),
        (id(&item.item), Flaw::Item),
        (
            part.is_none_or(|part| {
                (2..=8).contains(&part.of) && (1..=part.of).contains(&part.number)
            }),
            Flaw::Part,
        ),
        (
            fingerprint.len() == 16 && fingerprint.bytes().all(hex),
            Flaw::Fingerprint,
        ),
    ];
    first_flaw(rules)
}

/// The flaw of the first rule that does not hold.
fn first_flaw<const N: usize>(rules: [(bool, Flaw); N]) -> Result<(), Flaw> {
    match rules.into_iter().find(|(holds, _)| !holds) {
        Some((_, flaw)) => Err(flaw),
        None => Ok(()),
    }
}

impl Answer {
    /// The most that all texts of an answer may take together, in bytes.
    pub const MOST_TEXT: usize = 100_000;

    /// Whether every value lies where it may.
    ///
    /// # Errors
    /// The first flaw found.
    pub fn check(&self) -> Result<(), Flaw> {
        check_asking(&self.at, &self.item, &self.fingerprint, self.part)?;
        let texts = [&self.item.deck, &self.item.item, &self.edition];
        let texts = texts.into_iter().chain(&self.shown).chain(&self.response);
        // An empty text takes room as well.
        let bytes: usize = texts.map(|text| text.len() + 1).sum();
        first_flaw([
            (
                self.seconds.is_finite() && self.seconds >= 0.0,
                Flaw::Seconds,
            ),
            (bytes <= Self::MOST_TEXT, Flaw::Long),
        ])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quality_follows_mark_and_confidence() {
        let of = |right, confidence| Quality::of(right, confidence).value();
        let levels = Confidence::ALL;
        assert_eq!(levels.map(|level| of(true, level)), [3, 4, 5]);
        assert_eq!(levels.map(|level| of(false, level)), [2, 1, 0]);
    }

    #[test]
    fn words_are_read_back() {
        for level in Confidence::ALL {
            assert_eq!(Confidence::parse(level.word()), Some(level));
        }
        for kind in RoundKind::ALL {
            assert_eq!(RoundKind::parse(kind.word()), Some(kind));
        }
        assert_eq!(Confidence::parse("Certain"), None);
    }

    #[test]
    fn ids_are_read_back_and_nothing_else_is() {
        let id = AnswerId([7; 16]);
        assert_eq!(AnswerId::parse(&id.to_string()), Some(id));
        for bad in ["", "07", "+7070707070707070707070707070707", "zz"] {
            assert_eq!(AnswerId::parse(bad), None);
        }
        assert_eq!(
            ItemRef::parse("flaps/base").unwrap().to_string(),
            "flaps/base"
        );
        assert_eq!(ItemRef::parse("flaps"), None);
    }

    #[test]
    fn every_flaw_is_found() {
        use crate::time::Day;

        type Spoil = fn(&mut Answer);
        let good = Answer {
            id: AnswerId([1; 16]),
            at: Moment {
                utc_ms: 0,
                day: Day::from_number(0),
                offset_min: 840,
            },
            item: ItemRef::new("flaps", "base"),
            edition: "2026-11-01".into(),
            fingerprint: "0123456789abcdef".into(),
            part: None,
            wording: 0,
            shown: vec![],
            response: vec![],
            right: true,
            confidence: Confidence::Certain,
            quality: Quality::of(true, Confidence::Certain),
            seconds: 0.0,
            round: RoundKind::Review,
        };
        assert_eq!(good.check(), Ok(()));
        let spoils: [(Spoil, Flaw); 12] = [
            (|a| a.at.utc_ms = i64::MAX, Flaw::Time),
            (|a| a.at.utc_ms = 253_402_300_800_000, Flaw::Time),
            (|a| a.at.day = Day::from_number(i64::MIN), Flaw::Day),
            (|a| a.at.offset_min = i32::MIN, Flaw::Offset),
            (|a| a.item.deck = "a/b".into(), Flaw::Deck),
            (|a| a.item.deck.clear(), Flaw::Deck),
            (|a| a.item.item = "a\u{1b}b".into(), Flaw::Item),
            (
                |a| a.fingerprint = "0123456789ABCDEF".into(),
                Flaw::Fingerprint,
            ),
            (|a| a.fingerprint.truncate(15), Flaw::Fingerprint),
            (|a| a.seconds = f64::NAN, Flaw::Seconds),
            (|a| a.seconds = -0.5, Flaw::Seconds),
            (
                |a| a.shown = vec![String::new(); Answer::MOST_TEXT],
                Flaw::Long,
            ),
        ];
        for (spoil, flaw) in spoils {
            let mut answer = good.clone();
            spoil(&mut answer);
            assert_eq!(answer.check(), Err(flaw));
        }
    }
}
