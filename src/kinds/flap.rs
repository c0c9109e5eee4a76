//! A flap to be designed. Right means that no decisive rule is broken and that the flap is of the kind asked for.
//!
//! Measuring and judging is [`crate::flap`]; here its findings become the lines of a reveal. The log keeps the design
//! and after it the id of every rule that it breaks, so that a class report can tell which.

use std::collections::BTreeSet;

use super::{Line, Standing, Unfit, Verdict};
use crate::deck::model::FlapTask;
use crate::flap::words::{describe, measures};
use crate::flap::{Assessment, Design, Finding, Outcome, Unit, assess, measure};
use crate::words::capital;

/// What no rule can measure on a drawing is said instead. That a flap takes the periosteum along is in Hupp JR, Ellis E,
/// Tucker MR 2019.
const FULL_THICKNESS: &str = "That it is raised at full thickness, mucosa and periosteum together, is taken as given: a drawing does not show it.";

/// Logged in place of a rule when the flap is of another kind than the one asked for.
const TYPE: &str = "type";

/// A design as text: `4ml r10@20 .. 6dl`, or with `to` between its ends.
pub(super) fn read(text: &str) -> Result<Design, Unfit> {
    let text = text.trim().to_lowercase();
    let text = match text.split_once(" to ") {
        Some((mesial, distal)) => format!("{mesial} .. {distal}"),
        None => text,
    };
    text.parse()
        .map_err(|error: crate::flap::text::TextError| Unfit::NotADesign(error.to_string()))
}

/// Whether a design can be laid on the case.
pub(super) fn check(case: &crate::flap::Case, design: &Design) -> Result<(), Unfit> {
    measure(case, design)
        .map(drop)
        .map_err(|error| Unfit::NotADesign(error.to_string()))
}

pub(super) fn mark(task: &FlapTask, design: &Design) -> Result<Verdict, Unfit> {
    let assessment =
        assess(&task.case, design).map_err(|error| Unfit::NotADesign(error.to_string()))?;
    let of_other_kind = task
        .family
        .filter(|family| assessment.name.family() != *family);
    let failed = assessment.failed();
    let right = failed.is_empty() && of_other_kind.is_none();
    let mut lines = vec![yours(design, &assessment, right)];
    if let Some(family) = of_other_kind {
        lines.push(Line {
            label: TYPE.to_owned(),
            text: format!(
                "Asked for is a {} flap; this one is {}.",
                family.word(),
                assessment.name
            ),
            standing: Standing::Wrong,
            given: None,
            why: None,
        });
    }
    lines.extend(assessment.revealed().map(|finding| told(task, finding)));
    lines.push(shown(task, design, right));
    let mut logged = vec![design.to_string()];
    logged.extend(failed.iter().map(|rule| rule.word().to_owned()));
    logged.extend(of_other_kind.map(|_| TYPE.to_owned()));
    let slips = task
        .slips
        .iter()
        .filter(|slip| failed.contains(&slip.breaks));
    let mut beliefs: Vec<String> = slips.filter_map(|slip| slip.belief.clone()).collect();
    let mut told = BTreeSet::new();
    beliefs.retain(|belief| told.insert(belief.clone()));
    Ok(Verdict {
        right,
        key: vec![task.show.to_string()],
        logged,
        lines,
        beliefs,
    })
}

fn yours(design: &Design, assessment: &Assessment, right: bool) -> Line {
    Line {
        label: String::new(),
        text: format!(
            "{}: {}. {}",
            capital(&assessment.name.to_string()),
            describe(design),
            measures(&assessment.figures)
        ),
        standing: if right {
            Standing::Hit
        } else {
            Standing::Wrong
        },
        given: Some(if right { "Sound" } else { "Not sound" }.to_owned()),
        why: None,
    }
}

/// One rule: what it says of this design, what the deck says of the slip, and what the rule rests on.
fn told(task: &FlapTask, finding: &Finding) -> Line {
    let slip = task
        .slips
        .iter()
        .find(|slip| slip.breaks == finding.rule && finding.outcome == Outcome::Fail);
    let grounds = grounds(finding);
    Line {
        label: finding.rule.word().to_owned(),
        text: finding.says.clone(),
        standing: match finding.outcome {
            Outcome::Fail => Standing::Wrong,
            Outcome::Remark => Standing::Remark,
            Outcome::Ok | Outcome::Told(_) | Outcome::NotApplicable => Standing::Hit,
        },
        given: None,
        why: Some(match slip {
            Some(slip) => format!("{} {grounds}", slip.why.trim()),
            None => grounds,
        }),
    }
}

/// The number that decided and what it and its rule rest on.
fn grounds(finding: &Finding) -> String {
    match &finding.threshold {
        None => format!("Rule: {}.", finding.basis),
        Some(threshold) => {
            let unit = match threshold.unit {
                Unit::Mm => " mm",
                Unit::Degrees => " degrees",
                Unit::Teeth if (threshold.value - 1.0).abs() < f64::EPSILON => " tooth",
                Unit::Teeth => " teeth",
                Unit::Times => " times the base",
            };
            let limit = format!("Limit {}{unit}", threshold.value);
            if threshold.basis == finding.basis {
                format!("{limit}: {}.", threshold.basis)
            } else {
                format!("{limit}: {}. Rule: {}.", threshold.basis, finding.basis)
            }
        }
    }
}

/// A sound design beside the candidate's, and what no rule could say of either.
fn shown(task: &FlapTask, design: &Design, right: bool) -> Line {
    let sound = if *design == task.show {
        "This is the design that the deck shows.".to_owned()
    } else {
        format!(
            "{}: {}; {}.",
            if right {
                "Another sound design"
            } else {
                "A sound design"
            },
            crate::flap::name(&task.show),
            describe(&task.show)
        )
    };
    Line {
        label: String::new(),
        text: format!("{sound} {FULL_THICKNESS}"),
        standing: Standing::Missed,
        given: None,
        why: None,
    }
}

/// The design that was handed in, from the log's terms.
#[must_use]
pub fn designed(verdict: &Verdict) -> Option<Design> {
    verdict.logged.first()?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::model::FlapSlip;
    use crate::figure::teeth::{Jaw, Tooth};
    use crate::flap::{Aspect, Bone, Case, Operation, Quadrant, Rule, Thresholds};

    #[test]
    fn a_belief_that_several_slips_betray_is_told_once() {
        let operation = Operation {
            jaw: Jaw::Lower,
            quadrant: Quadrant::Left,
            aspect: Aspect::Buccal,
            site: vec![Tooth::new(5).unwrap()],
            bone: Bone {
                top_mm: 2.0,
                bottom_mm: 8.0,
            },
            missing: Vec::new(),
        };
        let design: Design = "5ml r10@10 .. 7dl".parse().unwrap();
        let slip = |(breaks, belief): (Rule, &str)| FlapSlip {
            breaks,
            design,
            why: String::new(),
            belief: Some(belief.to_owned()),
        };
        let slips = [
            (Rule::Reach, "one"),
            (Rule::Sound, "other"),
            (Rule::Mental, "one"),
        ];
        let task = FlapTask {
            case: Case::new(operation, Thresholds::default()).unwrap().into(),
            family: None,
            show: "4ml r10@20 .. 6dl".parse().unwrap(),
            slips: slips.map(slip).into(),
        };
        let verdict = mark(&task, &design).unwrap();
        assert_eq!(verdict.logged[1..], ["reach", "sound", "mental"]);
        assert_eq!(verdict.beliefs, ["one", "other"]);
    }
}
