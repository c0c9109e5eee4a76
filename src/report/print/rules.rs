//! The rules that a flap is marked by, in words with their numbers and sources: whoever marks on paper gets designs of which no
//! key was printed.

use crate::deck::model::FlapTask;
use crate::figure::teeth::{Jaw, Tooth};
use crate::flap::{Aspect, Case, Family, Grade, Limit, Rule};

/// A rule that decides, as a marker reads it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Told {
    /// Which one.
    pub(super) rule: Rule,
    /// What it asks of a design for this case.
    pub(super) asks: String,
    /// What the rule and its numbers rest on.
    pub(super) grounds: String,
}

/// The decisive rules that a design for this task can break, in the order in which a reveal tells them.
pub(super) fn decisive(task: &FlapTask) -> Vec<Told> {
    Rule::ALL
        .into_iter()
        .filter_map(|rule| {
            let (asks, limits) = asked(&task.case, task.family, rule)?;
            let grounds = grounds(&task.case, rule, &limits);
            Some(Told {
                rule,
                asks,
                grounds,
            })
        })
        .collect()
}

/// Whether the deck or the rule itself makes it decisive, whatever the design.
fn decides(case: &Case, rule: Rule) -> bool {
    let given = case.thresholds().given_grade(rule);
    given.unwrap_or(rule.grade()) == Grade::Decisive
}

/// What a rule asks for this case, with the numbers in it; nothing if it does not decide, or cannot be broken here.
fn asked(case: &Case, family: Option<Family>, rule: Rule) -> Option<(String, Vec<Limit>)> {
    // Of another kind than the one asked for a design counts in no case.
    let of_releases = !matches!(
        rule,
        Rule::Base
            | Rule::Length
            | Rule::Breadth
            | Rule::Reach
            | Rule::Access
            | Rule::Limb
            | Rule::Margin
            | Rule::Attached
    );
    if (of_releases && family == Some(Family::Envelope))
        || (rule == Rule::Attached && family.is_some_and(|family| family != Family::Submarginal))
    {
        return None;
    }
    let value = |limit: Limit| case.thresholds().value(limit);
    let (upper, buccal) = (case.jaw() == Jaw::Upper, case.aspect() == Aspect::Buccal);
    let around = case.surroundings();
    let eminences = &around.eminences;
    let asked_for = rule == Rule::Eminence
        && !eminences.is_empty()
        && case.thresholds().given_grade(rule).is_none();
    // By the lower molars a release that is too deep meets the facial artery.
    let by_artery = rule == Rule::Vestibule && !upper && !decides(case, rule);
    if !decides(case, rule) && !asked_for && !by_artery {
        return None;
    }
    let plain = |asks: &str| Some((asks.to_owned(), Vec::new()));
    let with = |limit: Limit, asks: String| Some((asks, vec![limit]));
    match rule {
        Rule::Base => plain("The base is at least as wide as the margin."),
        Rule::Sides => {
            let least = value(Limit::Spread);
            let asks = if least > 0.0 {
                format!("Releases spread to the base by at least {least} degrees.")
            } else {
                "Releases run parallel or spread to the base.".to_owned()
            };
            with(Limit::Spread, asks)
        }
        Rule::Length => with(Limit::LengthPerBase, long(value(Limit::LengthPerBase))),
        Rule::Breadth => with(Limit::BreadthPerBase, long(value(Limit::BreadthPerBase))),
        Rule::Start if case.thresholds().papilla_start().is_some() => {
            plain("Releases begin at a line angle or a papilla.")
        }
        Rule::Start => plain(
            "Releases begin at a line angle, neither at a papilla nor over the middle of a root.",
        ),
        Rule::Eminence if buccal => {
            let teeth = if eminences.is_empty() {
                "the canine".to_owned()
            } else {
                let names: Vec<String> = eminences.iter().map(Tooth::to_string).collect();
                names.join(" and ")
            };
            let least = value(Limit::Eminence);
            with(
                Limit::Eminence,
                format!("Releases pass more than {least} mm from the middle of {teeth}."),
            )
        }
        Rule::Reach => Some(reach(case, family)),
        Rule::Cover => plain(&format!(
            "A release ends at least {} mm from the necks, as deep as the bone to be removed.",
            case.bone().bottom_mm
        )),
        Rule::Access if buccal => {
            let least = value(Limit::RootEnd);
            with(
                Limit::RootEnd,
                format!(
                    "Where bone goes nearer than {least} mm to a root end, there is a release or a limb."
                ),
            )
        }
        Rule::Sound => clear(case, family, "the bone to be removed"),
        Rule::Defect if !around.defects.is_empty() => {
            clear(case, family, "the bone that is lost already")
        }
        Rule::Mental if buccal && !upper => Some((
            format!(
                "Releases pass at least {} mm from the mental foramen along the arch.",
                value(Limit::Mental)
            ),
            vec![Limit::Mental, Limit::MentalAlong],
        )),
        Rule::Infraorbital if buccal && upper => Some((
            format!(
                "Releases stay at least {} mm from the infraorbital foramen.",
                value(Limit::Infraorbital)
            ),
            vec![
                Limit::Infraorbital,
                Limit::InfraorbitalAlong,
                Limit::InfraorbitalHeight,
            ],
        )),
        Rule::Palate if case.aspect() == Aspect::Palatal => {
            let most = value(Limit::Palate);
            with(
                Limit::Palate,
                format!(
                    "A release on the palate lies between 3 and 4 and is at most {most} mm long."
                ),
            )
        }
        Rule::Lingual if case.aspect() == Aspect::Lingual => {
            plain("Releases stay mesial of the molars.")
        }
        Rule::Limb if !upper => {
            let least = value(Limit::LimbTurn);
            with(
                Limit::LimbTurn,
                format!("A distal limb turns at least {least} degrees to the buccal."),
            )
        }
        Rule::Vestibule if buccal => {
            let limit = Limit::vestibule(case.jaw());
            let most = value(limit);
            let asks = if by_artery {
                format!(
                    "A release by 6 or 7 ends at most {most} mm from the necks, within the vestibule: below it lies the facial artery."
                )
            } else {
                format!("Releases end at most {most} mm from the necks, within the vestibule.")
            };
            with(limit, asks)
        }
        Rule::Junction if buccal => {
            let limit = Limit::junction(case.jaw());
            let least = value(limit);
            with(
                limit,
                format!(
                    "Releases end at least {least} mm from the necks, past the mucogingival junction."
                ),
            )
        }
        Rule::Frenum if buccal => {
            let least = value(Limit::Frenum);
            with(
                Limit::Frenum,
                format!("Releases stay at least {least} mm from the midline."),
            )
        }
        Rule::Margin if around.spares_margin => {
            plain("The cut is submarginal: margin and papillae stay as they are.")
        }
        Rule::Attached => Some(attached(case)),
        _ => None,
    }
}

fn long(times: f64) -> String {
    format!("The flap is at most {times} times as long as its base is wide.")
}

fn clear(case: &Case, family: Option<Family>, what: &str) -> Option<(String, Vec<Limit>)> {
    let least = case.thresholds().value(Limit::Bone);
    let cuts = match family {
        Some(Family::ThreeCornered | Family::FourCornered) => "Releases",
        _ => "Releases, and a submarginal cut,",
    };
    let asks = format!("{cuts} run at least {least} mm from {what}.");
    Some((asks, vec![Limit::Bone]))
}

fn reach(case: &Case, family: Option<Family>) -> (String, Vec<Limit>) {
    let envelope = (
        "by a flap without a release",
        [Limit::EnvelopeMesial, Limit::EnvelopeDistal],
    );
    let released = (
        "by one with a release",
        [Limit::ReleasedMesial, Limit::ReleasedDistal],
    );
    let ways = match family {
        Some(Family::Envelope) => vec![envelope],
        Some(Family::ThreeCornered | Family::FourCornered) => vec![released],
        Some(Family::Submarginal) | None => vec![envelope, released],
    };
    let value = |limit: Limit| case.thresholds().value(limit);
    let counts: Vec<String> = ways
        .iter()
        .map(|(by, [front, behind])| {
            format!(
                "{by} {} mesial and {} distal",
                value(*front),
                value(*behind)
            )
        })
        .collect();
    let limits: Vec<Limit> = ways.into_iter().flat_map(|(_, limits)| limits).collect();
    let third_molar = case.jaw() == Jaw::Lower && case.site().iter().any(|site| site.number() == 8);
    let limb = if third_molar {
        " A lower third molar needs a distal limb that begins behind every other tooth that stands, and reaches it."
    } else {
        ""
    };
    let asks = format!(
        "Whole teeth freed beside the site, as far as they stand there: {}.{limb}",
        counts.join(", ")
    );
    (asks, limits)
}

fn attached(case: &Case) -> (String, Vec<Limit>) {
    let junction = Limit::junction(case.jaw());
    let limits = [Limit::Offset, Limit::Attached, Limit::Sulcus, junction];
    let [offset, width, sulcus, junction] = limits.map(|limit| case.thresholds().value(limit));
    let clear = format!("A submarginal cut runs at least {offset} mm from the necks");
    // The palate is attached all over.
    if case.aspect() == Aspect::Palatal {
        return (format!("{clear}."), vec![Limit::Offset]);
    }
    let there = junction - sulcus;
    let asks = format!(
        "{clear} and less than {junction} mm, where the mucogingival junction lies; the attached gingiva, here {there} mm wide, must be {width} mm wide for it."
    );
    (asks, limits.to_vec())
}

/// What a rule and its numbers rest on, each source once.
fn grounds(case: &Case, rule: Rule, limits: &[Limit]) -> String {
    let table = case.thresholds();
    let basis = if rule == Rule::Start {
        table.start_basis()
    } else {
        rule.basis()
    };
    let rule = basis.to_string();
    let mut numbers: Vec<String> = Vec::new();
    for limit in limits {
        let basis = table.get(*limit).basis.to_string();
        if basis != rule && !numbers.contains(&basis) {
            numbers.push(basis);
        }
    }
    if numbers.is_empty() {
        format!("Source: {rule}.")
    } else {
        format!("Source: {rule}. Number: {}.", numbers.join("; "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::model::{Body, Item};
    use crate::deck::read_deck;
    use crate::flap::{Outcome, assess, name};

    /// Every rule that decides on a design of the built-in decks is on the list for its case.
    #[test]
    fn no_rule_that_decides_is_missing() {
        let bytes = include_bytes!("../../../decks/designing.yaml");
        let deck = read_deck("designing.yaml", bytes).deck.unwrap();
        let mut seen = Vec::new();
        for item in deck.items.iter().flat_map(Item::with_parts) {
            let Body::Flap(task) = &item.body else {
                continue;
            };
            let told: Vec<Rule> = decisive(task).iter().map(|told| told.rule).collect();
            let slips = task.slips.iter().map(|slip| &slip.design);
            let all = slips.chain([&task.show]);
            for design in all.filter(|design| {
                let kind = name(design).family();
                task.family.is_none_or(|asked| asked == kind)
            }) {
                for finding in assess(&task.case, design).unwrap().findings {
                    // Without a release a flap is raised as deep as it takes.
                    let can_be_broken = finding.outcome != Outcome::NotApplicable
                        && (finding.rule != Rule::Cover || design.has_release());
                    let decides = finding.grade == Grade::Decisive && can_be_broken;
                    assert!(
                        !decides || told.contains(&finding.rule),
                        "{}: {design}: {}",
                        item.id,
                        finding.rule
                    );
                    seen.extend(decides.then_some(finding.rule));
                }
            }
        }
        seen.sort_unstable();
        seen.dedup();
        assert!(seen.len() > 12, "{seen:?}");
    }

    #[test]
    fn a_rule_has_its_number_and_what_both_rest_on() {
        let bytes = include_bytes!("../../../tests/exchange/deck.yaml");
        let deck = read_deck("deck.yaml", bytes).deck.unwrap();
        let task = deck.items.iter().find_map(|item| match &item.body {
            Body::Flap(task) => Some(task),
            _ => None,
        });
        let told = decisive(task.unwrap());
        let of = |rule: Rule| told.iter().find(|told| told.rule == rule);
        let bone = of(Rule::Sound).unwrap();
        assert!(bone.asks.contains("at least 6 mm"), "{bone:?}");
        let mental = of(Rule::Mental).unwrap();
        assert!(mental.grounds.contains("our assumption"), "{mental:?}");
        assert!(of(Rule::Infraorbital).is_none() && of(Rule::Palate).is_none());
    }
}
