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
    let (case, family) = (&task.case, task.family);
    Rule::ALL
        .into_iter()
        .filter(|rule| decides(case, *rule) && can_be_broken(case, family, *rule))
        .map(|rule| Told {
            rule,
            asks: asks(case, family, rule),
            grounds: grounds(case, rule, &limits(case, family, rule)),
        })
        .collect()
}

/// Whether a rule weighs enough here: by itself, for the deck, or for what the case asks.
fn decides(case: &Case, rule: Rule) -> bool {
    let given = case.thresholds().given_grade(rule);
    let asked_for = rule == Rule::Eminence && !case.surroundings().eminences.is_empty();
    given.unwrap_or(rule.grade()) == Grade::Decisive
        || (given.is_none() && asked_for)
        || only_by_artery(case, rule)
}

/// Whether a rule decides by the lower molars alone, where a release that is too deep meets the facial artery.
fn only_by_artery(case: &Case, rule: Rule) -> bool {
    let given = case.thresholds().given_grade(rule);
    rule == Rule::Vestibule
        && case.jaw() == Jaw::Lower
        && given.unwrap_or(rule.grade()) == Grade::Advisory
}

/// Whether a design of this kind can break a rule here. Of another kind than the one asked for it counts in no case.
fn can_be_broken(case: &Case, family: Option<Family>, rule: Rule) -> bool {
    let lower = case.jaw() == Jaw::Lower;
    let (buccal, around) = (case.aspect() == Aspect::Buccal, case.surroundings());
    let has_releases = family != Some(Family::Envelope);
    match rule {
        Rule::Base | Rule::Length | Rule::Breadth | Rule::Reach => true,
        Rule::Sides | Rule::Start | Rule::Cover | Rule::Sound => has_releases,
        Rule::Defect => has_releases && !around.defects.is_empty(),
        Rule::Eminence | Rule::Vestibule | Rule::Junction | Rule::Frenum => has_releases && buccal,
        Rule::Mental => has_releases && buccal && lower,
        Rule::Infraorbital => has_releases && buccal && !lower,
        Rule::Palate => has_releases && case.aspect() == Aspect::Palatal,
        Rule::Lingual => has_releases && case.aspect() == Aspect::Lingual,
        Rule::Access => buccal,
        Rule::Limb => lower,
        Rule::Margin => around.spares_margin,
        Rule::Attached => matches!(family, None | Some(Family::Submarginal)),
    }
}

/// The numbers that a rule compares with.
fn limits(case: &Case, family: Option<Family>, rule: Rule) -> Vec<Limit> {
    match rule {
        Rule::Sides => vec![Limit::Spread],
        Rule::Length => vec![Limit::LengthPerBase],
        Rule::Breadth => vec![Limit::BreadthPerBase],
        Rule::Eminence => vec![Limit::Eminence],
        Rule::Reach => {
            let limb = needs_limb(case).then_some(Limit::LimbLength);
            let ways = ways(family).into_iter();
            ways.flat_map(|(_, limits)| limits).chain(limb).collect()
        }
        Rule::Access => vec![Limit::RootEnd],
        Rule::Sound | Rule::Defect => vec![Limit::Bone],
        Rule::Mental => vec![Limit::Mental, Limit::MentalAlong],
        Rule::Infraorbital => vec![
            Limit::Infraorbital,
            Limit::InfraorbitalAlong,
            Limit::InfraorbitalHeight,
        ],
        Rule::Palate => vec![Limit::Palate],
        Rule::Limb => vec![Limit::LimbTurn],
        Rule::Vestibule => vec![Limit::vestibule(case.jaw())],
        Rule::Junction => vec![Limit::junction(case.jaw())],
        Rule::Frenum => vec![Limit::Frenum],
        // The palate is attached all over.
        Rule::Attached if case.aspect() == Aspect::Palatal => vec![Limit::Offset],
        Rule::Attached => vec![
            Limit::Offset,
            Limit::junction(case.jaw()),
            Limit::Sulcus,
            Limit::Attached,
        ],
        Rule::Base | Rule::Start | Rule::Cover | Rule::Lingual | Rule::Margin => Vec::new(),
    }
}

/// What a rule asks of a design for this case.
fn asks(case: &Case, family: Option<Family>, rule: Rule) -> String {
    let numbers = limits(case, family, rule).into_iter();
    let numbers: Vec<f64> = numbers
        .map(|limit| case.thresholds().value(limit))
        .collect();
    let first = numbers.first().copied().unwrap_or_default();
    match rule {
        Rule::Base => "The base is at least as wide as the margin.".to_owned(),
        Rule::Sides if first > 0.0 => {
            format!("Releases spread to the base by at least {first} degrees.")
        }
        Rule::Sides => "Releases run parallel or spread to the base.".to_owned(),
        Rule::Length | Rule::Breadth => {
            format!("The flap is at most {first} times as long as its base is wide.")
        }
        Rule::Start if case.thresholds().papilla_start().is_some() => {
            "Releases begin at a line angle or a papilla.".to_owned()
        }
        Rule::Start => {
            "Releases begin at a line angle, neither at a papilla nor over the middle of a root."
                .to_owned()
        }
        Rule::Eminence => format!(
            "Releases pass more than {first} mm from the middle of {}.",
            eminences(case)
        ),
        Rule::Reach => reach(case, family),
        Rule::Cover => {
            let bottom = case.bone().bottom_mm;
            let cut = if matches!(family, None | Some(Family::Submarginal)) {
                " A submarginal cut runs no deeper than that."
            } else {
                ""
            };
            format!(
                "A release ends at least {bottom} mm from the necks, as deep as the bone to be removed.{cut}"
            )
        }
        Rule::Access => format!(
            "Where bone goes nearer than {first} mm to a root end, there is a release or a limb."
        ),
        Rule::Sound => clear(family, first, "the bone to be removed"),
        Rule::Defect => clear(family, first, "the bone that is lost already"),
        Rule::Mental => {
            format!("Releases pass at least {first} mm from the mental foramen along the arch.")
        }
        Rule::Infraorbital => {
            format!("Releases stay at least {first} mm from the infraorbital foramen.")
        }
        Rule::Palate => {
            format!("A release on the palate lies between 3 and 4 and is at most {first} mm long.")
        }
        Rule::Lingual => "Releases stay mesial of the molars.".to_owned(),
        Rule::Limb => format!("A distal limb turns at least {first} degrees to the buccal."),
        Rule::Vestibule if only_by_artery(case, rule) => format!(
            "A release by 6 or 7 ends at most {first} mm from the necks, within the vestibule: below it lies the facial artery."
        ),
        Rule::Vestibule => {
            format!("Releases end at most {first} mm from the necks, within the vestibule.")
        }
        Rule::Junction => format!(
            "Releases end at least {first} mm from the necks, past the mucogingival junction."
        ),
        Rule::Frenum => format!("Releases stay at least {first} mm from the midline."),
        Rule::Margin => "The cut is submarginal: margin and papillae stay as they are.".to_owned(),
        Rule::Attached => attached(&numbers),
    }
}

/// The teeth whose roots stand out.
fn eminences(case: &Case) -> String {
    let named = case.surroundings().eminences.iter().map(Tooth::to_string);
    let named: Vec<String> = named.collect();
    if named.is_empty() {
        "the canine".to_owned()
    } else {
        named.join(" and ")
    }
}

fn clear(family: Option<Family>, least: f64, what: &str) -> String {
    let cuts = match family {
        Some(Family::ThreeCornered | Family::FourCornered) => "Releases",
        _ => "Releases, and a submarginal cut,",
    };
    format!("{cuts} run at least {least} mm from {what}.")
}

/// How a flap can free teeth, with the numbers of teeth mesial and distal.
fn ways(family: Option<Family>) -> Vec<(&'static str, [Limit; 2])> {
    let without = [Limit::EnvelopeMesial, Limit::EnvelopeDistal];
    let with = [Limit::ReleasedMesial, Limit::ReleasedDistal];
    let (without, with) = (("without a release", without), ("with a release", with));
    match family {
        Some(Family::Envelope) => vec![without],
        Some(Family::ThreeCornered | Family::FourCornered) => vec![with],
        Some(Family::Submarginal) | None => vec![without, with],
    }
}

/// Whether the site lies where only a limb up the ramus leads.
fn needs_limb(case: &Case) -> bool {
    case.jaw() == Jaw::Lower && case.site().iter().any(|site| site.number() == 8)
}

fn reach(case: &Case, family: Option<Family>) -> String {
    let value = |limit: Limit| case.thresholds().value(limit);
    let counts = ways(family).into_iter().map(|(how, [front, behind])| {
        let (front, behind) = (value(front), value(behind));
        format!("{how} {front} mesial and {behind} distal")
    });
    let counts: Vec<String> = counts.collect();
    let limb = if needs_limb(case) {
        format!(
            " A lower third molar needs a distal limb of at least {} mm that begins behind every other tooth that stands, and reaches it.",
            value(Limit::LimbLength)
        )
    } else {
        String::new()
    };
    format!(
        "Whole teeth freed beside the site, as far as they stand there: {}.{limb}",
        counts.join(", ")
    )
}

/// From the numbers of [`limits`].
fn attached(numbers: &[f64]) -> String {
    let offset = numbers.first().copied().unwrap_or_default();
    let clear = format!("A submarginal cut runs at least {offset} mm from the necks");
    let [_, junction, sulcus, width] = numbers else {
        return format!("{clear}.");
    };
    let there = junction - sulcus;
    format!(
        "{clear} and less than {junction} mm, where the mucogingival junction lies; the attached gingiva, here {there:.1} mm wide, must be {width} mm wide for it."
    )
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
