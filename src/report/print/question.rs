//! What a question sheet shows of an item: the stem and what there is to answer with. One arm a kind.
//!
//! Nothing here may tell what is right.

use std::iter;

use super::asked::Asked;
use super::drawing;
use super::page::{Piece, Tick, labelled};
use crate::deck::model::{Body, Item};
use crate::flap::Draft;
use crate::flap::words::describe_case;
use crate::kinds::{self, Form, Pose, letter, number};

/// What the sheet shows under an item's number; of a case the vignette, then part by part.
pub(super) fn pieces(asked: &Asked<'_>) -> Vec<Piece> {
    if let Body::Case(_) = asked.item.body {
        let vignette = kinds::question(asked.item, asked.pose).stem;
        return iter::once(Piece::Text(vignette))
            .chain(asked.part_pieces(question))
            .collect();
    }
    question(asked.item, asked.pose)
}

/// The stem and the form of `item` in this pose.
fn question(item: &Item, pose: &Pose) -> Vec<Piece> {
    let question = kinds::question(item, pose);
    let mut pieces = vec![Piece::Text(question.stem)];
    pieces.extend(answering(question.form));
    pieces
}

fn answering(form: Form) -> Vec<Piece> {
    match form {
        Form::One(options) => vec![Piece::Options(Tick::One, labelled(options, letter))],
        Form::Several(options) => vec![
            Piece::Cue("Choose all that apply."),
            Piece::Options(Tick::Several, labelled(options, letter)),
        ],
        Form::Sequence(steps) => {
            let count = steps.len();
            vec![
                Piece::Cue("Put these in order, first step first."),
                Piece::Options(Tick::Elsewhere, labelled(steps, letter)),
                Piece::Blanks(count),
            ]
        }
        Form::Pairs { lefts, rights } => vec![
            Piece::Cue("Give each letter its number."),
            Piece::Pairs {
                lefts: labelled(lefts, letter),
                rights: labelled(rights, number),
            },
        ],
        Form::Number { unit, .. } => {
            vec![Piece::Cue("Write the number."), Piece::NumberLine(unit)]
        }
        Form::Places(figure) => {
            let says = figure.places.iter().map(|place| place.says.clone());
            let options = labelled(says.collect(), letter);
            vec![
                Piece::Remark("Seen", figure.view.clone()),
                drawing::places(figure, Vec::new()),
                Piece::Options(Tick::Drawn, options),
            ]
        }
        Form::Flap(case) => vec![
            Piece::Remark("Operation", describe_case(&case)),
            drawing::row(&case, &Draft::default()),
            Piece::Cue(
                "Write where each end of the margin lies, and each release with its length and slant.",
            ),
            Piece::WritingLine,
            Piece::WritingLine,
        ],
        Form::Typed => vec![Piece::Cue("Write the term."), Piece::WritingLine],
    }
}

/// What a kind is called on paper, and how it is answered.
pub(super) const fn instruction(body: &Body) -> (&'static str, &'static str) {
    match body {
        Body::Single(_) => (
            "Single best answer",
            "Circle one letter: the best of the options.",
        ),
        Body::Multiple(_) => (
            "All that apply",
            "Tick the letter of every right option. There is at least one; a question counts only if all the right ones and no others are ticked.",
        ),
        Body::Order(_) => (
            "In order",
            "Write the letters in the blanks, first step first. A question counts only if the whole sequence is right.",
        ),
        Body::Match(_) => (
            "Matching",
            "Write a number before each letter. A number may be used once, several times or not at all. A question counts only if every pair is right.",
        ),
        Body::Short(_) => ("Written term", "Write one to three words on the line."),
        Body::Locate(_) => (
            "Place",
            "Circle the letter of the place that is asked for. If two are right, either counts.",
        ),
        Body::Flap(_) => (
            "Flap design",
            "Describe the design on the line, and sketch it where the teeth are drawn. Every sound design of the kind asked for counts; the key shows one.",
        ),
        Body::Numeric(_) => (
            "Number",
            "Write one number on the line, in the unit that stands behind it.",
        ),
        Body::Case(_) => (
            "Case",
            "Answer the parts in their order, and do not go back: what a part tells may give away what was right before it.",
        ),
    }
}
