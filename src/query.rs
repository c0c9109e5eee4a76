//! The query: a candidate's remark on an item, for the instructor who wrote it.
//!
//! It is written on a reveal and kept beside the answers. Like them it is never altered; unlike them nothing follows from it.

use thiserror::Error;

use crate::answer::{self, AnswerId, Flaw, ItemRef, PartNumber};
use crate::text::{code_point, harmful};
use crate::time::Moment;

/// The longest text of a query, in characters.
pub const LONGEST: usize = 1000;

/// What every face says once a query is on disk.
pub const KEPT: &str = "Your query is kept. It reaches the instructor with your exported log.";

/// A remark with what it was made on. Equal in all, two are the same query.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Query {
    /// When it was written, and on which study day.
    pub at: Moment,
    /// The item remarked on.
    pub item: ItemRef,
    /// Edition of the deck that the item came from.
    pub edition: String,
    /// What the item meant then, see [`crate::answer::Answer::fingerprint`].
    pub fingerprint: String,
    /// Which part of a case; `None` for an item without parts.
    pub part: Option<PartNumber>,
    /// The answer on whose reveal it was written.
    pub answer: AnswerId,
    /// One paragraph of 1 to [`LONGEST`] characters.
    pub text: String,
}

/// Why a text is taken for no query. Each says what to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Refusal {
    /// There is nothing that it could be about.
    #[error("a query is written on the reveal of an item, and none is open")]
    NothingRevealed,
    /// Nothing but spaces.
    #[error("the query is empty; write something")]
    Empty,
    /// Its number of characters.
    #[error("the query has {0} characters; {LONGEST} are the most")]
    Long(usize),
    /// A character that could steer a terminal or deceive a reader.
    #[error("the query holds {}, which may not stand there; take it out", code_point(*.0))]
    Harmful(char),
}

/// The text of a query as it is kept: breaks and tabs as spaces, none at its ends.
///
/// # Errors
/// [`Refusal`] if nothing is left, it is too long, or a character may not stand where it does.
pub fn remark(text: &str) -> Result<String, Refusal> {
    let spaced = |c: char| if c.is_whitespace() { ' ' } else { c };
    let text: String = text.trim().chars().map(spaced).collect();
    let characters = text.chars().count();
    if let Some((_, character)) = harmful(&text).next() {
        return Err(Refusal::Harmful(character));
    }
    match characters {
        0 => Err(Refusal::Empty),
        1..=LONGEST => Ok(text),
        _ => Err(Refusal::Long(characters)),
    }
}

impl Query {
    /// Whether every value lies where it may. Looser than [`remark`], which may come to know more harmful characters: what was
    /// kept once can always be read.
    ///
    /// # Errors
    /// The first flaw found.
    pub fn check(&self) -> Result<(), Flaw> {
        answer::check_asking(&self.at, &self.item, &self.fingerprint, self.part)?;
        let has_room = (1..=LONGEST).contains(&self.text.chars().count());
        if !has_room || self.text.trim().is_empty() || self.text.contains(char::is_control) {
            return Err(Flaw::Remark);
        }
        let texts = [&self.item.deck, &self.item.item, &self.edition];
        if texts.map(String::len).iter().sum::<usize>() > answer::Answer::MOST_TEXT {
            return Err(Flaw::Long);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::time::Day;

    fn query(text: &str) -> Query {
        Query {
            at: Moment {
                utc_ms: 0,
                day: Day::from_number(0),
                offset_min: 60,
            },
            item: ItemRef::new("flaps", "base"),
            edition: "2026-11-01".into(),
            fingerprint: "0123456789abcdef".into(),
            part: None,
            answer: AnswerId([1; 16]),
            text: text.into(),
        }
    }

    #[test]
    fn a_remark_is_one_paragraph_of_harmless_characters() {
        assert_eq!(
            remark(" Is b\tnot right,\r\n too?\n").unwrap(),
            "Is b not right,   too?"
        );
        assert_eq!(remark(" \n\t "), Err(Refusal::Empty));
        assert_eq!(remark("a\u{1b}[31mb"), Err(Refusal::Harmful('\u{1b}')));
        assert_eq!(remark("a\u{202e}b"), Err(Refusal::Harmful('\u{202e}')));
        assert_eq!(remark(&"é".repeat(LONGEST)).unwrap().len(), 2 * LONGEST);
        let long = "x".repeat(LONGEST + 1);
        assert_eq!(remark(&long), Err(Refusal::Long(LONGEST + 1)));
        let told = Refusal::Harmful('\u{202e}').to_string();
        assert!(told.contains("‹U+202E›"), "{told}");
    }

    #[test]
    fn every_flaw_is_found() {
        type Spoil = fn(&mut Query);

        assert_eq!(query("Why not b?").check(), Ok(()));
        for bad in ["", "  ", "a\u{7}", "a\nb", &"x".repeat(LONGEST + 1)] {
            assert_eq!(query(bad).check(), Err(Flaw::Remark), "{bad:?}");
        }
        let spoils: [(Spoil, Flaw); 5] = [
            (|q| q.at.offset_min = i32::MIN, Flaw::Offset),
            (|q| q.item.deck = "a/b".into(), Flaw::Deck),
            (|q| q.fingerprint.truncate(15), Flaw::Fingerprint),
            (
                |q| q.part = Some(PartNumber { number: 3, of: 2 }),
                Flaw::Part,
            ),
            (
                |q| q.edition = "x".repeat(answer::Answer::MOST_TEXT),
                Flaw::Long,
            ),
        ];
        for (spoil, flaw) in spoils {
            let mut query = query("Why not b?");
            spoil(&mut query);
            assert_eq!(query.check(), Err(flaw));
        }
    }

    proptest! {
        #[test]
        fn what_is_taken_can_be_kept_and_is_taken_again(text in any::<String>()) {
            if let Ok(kept) = remark(&text) {
                prop_assert_eq!(query(&kept).check(), Ok(()));
                prop_assert_eq!(remark(&kept), Ok(kept.clone()));
            }
        }
    }
}
