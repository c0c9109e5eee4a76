//! A flap asked for in plain lines: one end after the other, then the whole read back.

use std::io::{BufRead, Write};

use super::LineError;
use super::plain::{Said, hear};
use super::spoken::say;
use crate::flap::words::{
    describe, read_typed_cut, read_typed_end, read_typed_limb, read_typed_release,
};
use crate::flap::{Case, Cut, Draft, EndSide};
use crate::kinds::{self, Form, Response};
use crate::round::{Ask, Round};
use crate::words::sentence;

/// The prompts of one design.
struct Talk<'a, R, W> {
    reader: &'a mut R,
    writer: &'a mut W,
    round: &'a Round,
    ask: &'a Ask,
}

/// Asks for a design until one is kept; `None` to stop.
pub(super) fn hear_design(
    reader: &mut impl BufRead,
    writer: &mut impl Write,
    round: &Round,
    ask: &Ask,
    case: &Case,
) -> Result<Option<Response>, LineError> {
    let mut talk = Talk {
        reader,
        writer,
        round,
        ask,
    };
    loop {
        let Some(draft) = talk.draft(case)? else {
            return Ok(None);
        };
        let design = match draft.design() {
            Ok(design) => design,
            Err(error) => {
                say(
                    talk.writer,
                    &format!("That is no design: {error}. Once more."),
                )?;
                continue;
            }
        };
        let response = match kinds::read(&Form::Flap(case.clone().into()), &[design.to_string()]) {
            Ok(response) => response,
            Err(unfit) => {
                say(
                    talk.writer,
                    &format!("{} Once more.", sentence(&unfit.to_string())),
                )?;
                continue;
            }
        };
        let prompt = format!("You chose: {}. Keep it, yes or no?", describe(&design));
        let kept = talk.hear(&prompt, |text| match text.to_lowercase().as_str() {
            "y" | "yes" => Ok(true),
            "n" | "no" | "back" => Ok(false),
            _ => Err("say yes or no"),
        })?;
        match kept {
            None => return Ok(None),
            Some(true) => return Ok(Some(response)),
            Some(false) => {}
        }
    }
}

impl<R: BufRead, W: Write> Talk<'_, R, W> {
    /// All parts of a design; `None` to stop.
    fn draft(&mut self, case: &Case) -> Result<Option<Draft>, LineError> {
        let prompt = "Cut: sulcular, or how many mm from the necks?";
        let Some(cut) = self.hear(prompt, read_typed_cut)? else {
            return Ok(None);
        };
        let mut draft = Draft::default();
        if cut != Cut::Sulcular {
            draft = draft.with_cut(cut);
        }
        for side in EndSide::BOTH {
            let prompt = match side {
                EndSide::Mesial => {
                    "Mesial end, tooth and point (mp, ml, mf, dl, dp), such as 4 ml:"
                }
                EndSide::Distal => "Distal end, tooth and point:",
            };
            let Some((tooth, point)) = self.hear(prompt, read_typed_end)? else {
                return Ok(None);
            };
            let prompt = "Release there, length in mm and slant away from the flap in degrees, such as 10 20, or none:";
            let Some(release) = self.hear(prompt, read_typed_release)? else {
                return Ok(None);
            };
            draft = draft.at(side, tooth, point).released(side, release);
        }
        // A limb takes the place of a distal release.
        let released = draft
            .end(EndSide::Distal)
            .is_some_and(|end| end.release.is_some());
        if case.has_ramus() && !released {
            let prompt = "Limb behind the last tooth, length in mm and degrees to the buccal, such as 10 45, or none:";
            let Some(limb) = self.hear(prompt, read_typed_limb)? else {
                return Ok(None);
            };
            if limb.is_some() {
                draft = draft.with_limb(limb);
            }
        }
        Ok(Some(draft))
    }

    /// One prompt until it is answered; `None` to stop.
    fn hear<T, E: std::fmt::Display>(
        &mut self,
        prompt: &str,
        read: impl Fn(&str) -> Result<T, E>,
    ) -> Result<Option<T>, LineError> {
        loop {
            let Said::Text(text) = hear(self.reader, self.writer, prompt, self.round, self.ask)?
            else {
                return Ok(None);
            };
            match read(&text) {
                Ok(value) => return Ok(Some(value)),
                Err(error) => say(self.writer, &sentence(&error.to_string()))?,
            }
        }
    }
}
