//! Judging a design: every rule with its figure, its threshold and the sentence that the candidate reads.
//!
//! One slip is told once: where a graver rule has said it, the other is marked as told. A design is sound when no
//! decisive rule is broken. Nothing here knows a number of its own; they come from the case's table.

mod access;
mod bone;
mod cover;
mod cuts;
mod danger;
mod shape;

use super::basis::Basis;
use super::case::Case;
use super::design::{Design, DesignError};
use super::form::{EQUAL_MM, FlapType, name};
use super::limit::Limit;
use super::measure::{Figures, measure};
use super::rule::{Grade, Rule};
use super::thresholds::Threshold;

/// A verdict that changes when something shifts by less than this hangs on a threshold, mm. Tooth widths are means
/// and differ by about half of it either way; an item should not rest on them.
pub const HANGS_WITHIN_MM: f64 = 1.0;

/// How a design stands to a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Kept.
    Ok,
    /// Broken, and the rule is decisive.
    Fail,
    /// Broken, and worth a remark.
    Remark,
    /// Broken, but this graver rule has said so.
    Told(Rule),
    /// The design or the case has nothing that the rule speaks of.
    NotApplicable,
}

/// What one rule says of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Which rule.
    pub rule: Rule,
    /// Kept, broken, or not asked.
    pub outcome: Outcome,
    /// How heavily the rule weighs here.
    pub grade: Grade,
    /// The row of the table that decided, with its source; none where two lengths of the design were compared.
    pub threshold: Option<Threshold>,
    /// What the rule itself rests on.
    pub basis: Basis,
    /// What the candidate reads; empty where the rule does not apply.
    pub says: String,
    slack_mm: Option<f64>,
}

/// A design measured and judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Assessment {
    /// What kind of flap it is.
    pub name: FlapType,
    /// What it measures.
    pub figures: Figures,
    /// One finding a rule, in the order of [`Rule::ALL`].
    pub findings: Vec<Finding>,
}

/// The threshold on which a verdict hangs most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hanging {
    /// The rule.
    pub rule: Rule,
    /// How far the verdict is from changing, mm.
    pub slack_mm: f64,
}

/// Measures and judges a design.
///
/// # Errors
/// [`DesignError`] if the design cannot be laid on this case.
pub fn assess(case: &Case, design: &Design) -> Result<Assessment, DesignError> {
    let figures = measure(case, design)?;
    let ground = Ground {
        case,
        design,
        figures: &figures,
    };
    let mut findings: Vec<Finding> = Rule::ALL.map(|rule| ground.find(rule)).into();
    tell_once(&ground, &mut findings);
    Ok(Assessment {
        name: name(design),
        figures,
        findings,
    })
}

impl Assessment {
    /// Whether no decisive rule is broken.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.findings
            .iter()
            .all(|finding| finding.outcome != Outcome::Fail)
    }

    /// The decisive rules that are broken, for the log.
    #[must_use]
    pub fn failed(&self) -> Vec<Rule> {
        self.findings
            .iter()
            .filter(|finding| finding.outcome == Outcome::Fail)
            .map(|finding| finding.rule)
            .collect()
    }

    /// What a rule says.
    #[must_use]
    pub fn finding(&self, rule: Rule) -> Option<&Finding> {
        self.findings.iter().find(|finding| finding.rule == rule)
    }

    /// The findings as a reveal tells them: broken decisive rules, remarks, kept rules. Told and inapplicable ones
    /// stay out.
    pub fn revealed(&self) -> impl Iterator<Item = &Finding> {
        [Outcome::Fail, Outcome::Remark, Outcome::Ok]
            .into_iter()
            .flat_map(|outcome| self.findings.iter().filter(move |f| f.outcome == outcome))
    }

    /// On which threshold the verdict hangs, and by how much. Of a sound design: the decisive rule that is kept most
    /// narrowly. Of an unsound one: the broken rule that is farthest from being kept, since all of them must give
    /// way. None where no shift in millimetres changes the verdict.
    #[must_use]
    pub fn margin_of_safety(&self) -> Option<Hanging> {
        let hanging = |finding: &Finding| {
            finding.slack_mm.map(|slack_mm| Hanging {
                rule: finding.rule,
                slack_mm,
            })
        };
        let decisive = self
            .findings
            .iter()
            .filter(|finding| finding.grade == Grade::Decisive);
        let nearer = |a: &Hanging, b: &Hanging| a.slack_mm.total_cmp(&b.slack_mm);
        if self.is_sound() {
            decisive
                .filter(|finding| finding.outcome == Outcome::Ok)
                .filter_map(hanging)
                .min_by(nearer)
        } else {
            let broken: Option<Vec<Hanging>> = decisive
                .filter(|finding| matches!(finding.outcome, Outcome::Fail | Outcome::Told(_)))
                .map(hanging)
                .collect();
            broken?.into_iter().max_by(nearer)
        }
    }

    /// The threshold on which the verdict hangs within [`HANGS_WITHIN_MM`], if it does: reason to refuse an item.
    #[must_use]
    pub fn hangs_on(&self) -> Option<Hanging> {
        self.margin_of_safety()
            .filter(|hanging| hanging.slack_mm < HANGS_WITHIN_MM)
    }
}

/// What every rule looks at.
struct Ground<'a> {
    case: &'a Case,
    design: &'a Design,
    figures: &'a Figures,
}

/// What a rule that applies has found.
struct Judged {
    holds: bool,
    limit: Option<Limit>,
    /// What it rests on where that is not what the rule as a whole rests on.
    basis: Option<Basis>,
    slack_mm: Option<f64>,
    /// Decisive here whatever the rule's usual grade, because harm threatens.
    harmful: bool,
    /// Decisive here unless the deck grades the rule, because the case asks for it.
    asked: bool,
    says: String,
}

impl Judged {
    fn new(holds: bool, says: impl Into<String>) -> Self {
        Self {
            holds,
            limit: None,
            basis: None,
            slack_mm: None,
            harmful: false,
            asked: false,
            says: says.into(),
        }
    }

    fn by(self, limit: Limit) -> Self {
        Self {
            limit: Some(limit),
            ..self
        }
    }

    fn resting_on(self, basis: Basis) -> Self {
        Self {
            basis: Some(basis),
            ..self
        }
    }

    fn slack(self, slack_mm: f64) -> Self {
        Self {
            slack_mm: Some(slack_mm.abs()),
            ..self
        }
    }
}

impl Ground<'_> {
    fn value(&self, limit: Limit) -> f64 {
        self.case.thresholds().value(limit)
    }

    fn judge(&self, rule: Rule) -> Option<Judged> {
        match rule {
            Rule::Base => Some(shape::base(self)),
            Rule::Sides => shape::sides(self),
            Rule::Length => Some(shape::length(self)),
            Rule::Breadth => Some(shape::breadth(self)),
            Rule::Start => cuts::start(self),
            Rule::Eminence => cuts::eminence(self),
            Rule::Reach => Some(cover::reach(self)),
            Rule::Cover => Some(cover::cover(self)),
            Rule::Access => access::access(self),
            Rule::Sound => bone::sound(self),
            Rule::Defect => bone::defect(self),
            Rule::Mental => danger::mental(self),
            Rule::Infraorbital => danger::infraorbital(self),
            Rule::Palate => danger::palate(self),
            Rule::Lingual => danger::lingual(self),
            Rule::Limb => danger::limb(self),
            Rule::Vestibule => cuts::vestibule(self),
            Rule::Junction => cuts::junction(self),
            Rule::Frenum => cuts::frenum(self),
            Rule::Margin => access::margin(self),
            Rule::Attached => cuts::attached(self),
        }
    }

    fn find(&self, rule: Rule) -> Finding {
        let table = self.case.thresholds();
        let basis = if rule == Rule::Start {
            table.start_basis()
        } else {
            rule.basis()
        };
        let given = table.given_grade(rule);
        let usual = given.unwrap_or(rule.grade());
        let Some(judged) = self.judge(rule) else {
            return Finding {
                rule,
                outcome: Outcome::NotApplicable,
                grade: usual,
                threshold: None,
                basis,
                says: String::new(),
                slack_mm: None,
            };
        };
        let grade = if judged.harmful || (judged.asked && given.is_none()) {
            Grade::Decisive
        } else {
            usual
        };
        let outcome = match (judged.holds, grade) {
            (true, _) => Outcome::Ok,
            (false, Grade::Decisive) => Outcome::Fail,
            (false, Grade::Advisory) => Outcome::Remark,
        };
        Finding {
            rule,
            outcome,
            grade,
            threshold: judged.limit.map(|limit| table.get(limit)),
            basis: judged.basis.unwrap_or(basis),
            says: judged.says,
            slack_mm: judged.slack_mm,
        }
    }
}

/// Marks as told what a graver rule has said already.
fn tell_once(ground: &Ground<'_>, findings: &mut [Finding]) {
    let no_base = ground.figures.base_mm <= 0.0;
    let silences = [
        (Rule::Base, Rule::Sides, true),
        (Rule::Base, Rule::Length, no_base),
        (Rule::Base, Rule::Breadth, no_base),
        (Rule::Length, Rule::Breadth, true),
        (
            Rule::Start,
            Rule::Eminence,
            cuts::starts_mid_eminence(ground),
        ),
        (Rule::Infraorbital, Rule::Vestibule, true),
    ];
    for (graver, lesser, applies) in silences {
        let said = findings
            .iter()
            .any(|finding| finding.rule == graver && finding.outcome == Outcome::Fail);
        let broken = findings.iter_mut().find(|finding| {
            finding.rule == lesser && matches!(finding.outcome, Outcome::Fail | Outcome::Remark)
        });
        if let (true, true, Some(finding)) = (said, applies, broken) {
            finding.outcome = Outcome::Told(graver);
        }
    }
}

/// A length to a tenth of a millimetre.
pub(super) fn tenths(mm: f64) -> String {
    rounded(mm, 1)
}

/// A measured length with as many decimals as it takes to see on which side of its threshold it lies, at least one.
fn shown(value: f64, against: f64) -> String {
    let exactly = (value - against).abs() < EQUAL_MM;
    let places = (1..=4)
        .find(|&places| exactly || rounded(value, places) != rounded(against, places))
        .unwrap_or(5);
    rounded(value, places)
}

/// Halves away from zero, as people round: 26.25 is 26.3.
fn rounded(value: f64, places: u8) -> String {
    let unit = 10_f64.powi(i32::from(places));
    // A thousandth of a micrometre makes up for halves that binary fractions miss; adding 0 turns -0 into 0.
    let nudged = value + EQUAL_MM.copysign(value);
    let value = (nudged * unit).round() / unit + 0.0;
    format!("{value:.*}", usize::from(places))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_never_hides_the_side_of_a_threshold() {
        assert_eq!(shown(5.76, 6.0), "5.8");
        assert_eq!(shown(5.97, 6.0), "5.97");
        assert_eq!(shown(5.9996, 6.0), "5.9996");
        assert_eq!(shown(6.0, 6.0), "6.0");
        assert_eq!(shown(-2.34, 0.0), "-2.3");
        assert_eq!(tenths(26.25), "26.3");
        assert_eq!(tenths(0.15), "0.2");
        assert_eq!(tenths(-0.04), "0.0");
    }
}
