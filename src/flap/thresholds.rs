//! The table that a case is judged by: every number with its unit and source, and what a deck set otherwise.
//!
//! A deck may set another value and must then name its source. What guards against harm
//! it can move with a source, never turn into a remark.

use super::basis::Basis;
use super::limit::{Limit, Unit};
use super::rule::{Grade, Rule};
use thiserror::Error;

/// A number of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Threshold {
    /// Which one.
    pub limit: Limit,
    /// Its value in `unit`.
    pub value: f64,
    /// What it counts.
    pub unit: Unit,
    /// What it rests on.
    pub basis: Basis,
}

/// Why a value cannot be set.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LimitError {
    /// Not finite, or out of bounds for its unit.
    #[error("`{word}` cannot be {value}; give {bounds}")]
    Value {
        /// The limit's word.
        word: &'static str,
        /// What was given.
        value: f64,
        /// What may be given.
        bounds: &'static str,
    },
    /// No source named.
    #[error("`{word}` is set without a source; name the publication it rests on")]
    NoSource {
        /// The word of the limit or rule.
        word: &'static str,
    },
    /// A rule that keeps patients from harm is made a mere remark.
    #[error("`{word}` guards against harm and stays decisive")]
    Safety {
        /// The rule's word.
        word: &'static str,
    },
}

/// All numbers that decide, with what a deck set otherwise.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Thresholds {
    /// What the deck set, in the order in which it did, at most one a limit.
    set: Vec<Threshold>,
    /// The deck's source for letting a release start at a papilla.
    papilla_start: Option<String>,
    /// Rules graded otherwise than by default.
    grades: Vec<(Rule, Grade)>,
}

impl Thresholds {
    /// A number of the table.
    #[must_use]
    pub fn get(&self, limit: Limit) -> Threshold {
        let set = self.set.iter().find(|threshold| threshold.limit == limit);
        set.cloned().unwrap_or_else(|| {
            let (value, basis) = limit.default();
            Threshold {
                limit,
                value,
                unit: limit.unit(),
                basis,
            }
        })
    }

    /// The value alone.
    #[must_use]
    pub fn value(&self, limit: Limit) -> f64 {
        self.get(limit).value
    }

    /// The whole table.
    pub fn all(&self) -> impl Iterator<Item = Threshold> + '_ {
        Limit::ALL.into_iter().map(|limit| self.get(limit))
    }

    /// Sets a value as a deck gives it, in the limit's unit.
    ///
    /// # Errors
    /// [`LimitError`] if the value is out of bounds or no source is named; the table is unchanged then.
    pub fn set(&mut self, limit: Limit, value: f64, source: &str) -> Result<(), LimitError> {
        let word = limit.word();
        let (fits, bounds) = match limit.unit() {
            Unit::Mm => ((0.0..=100.0).contains(&value), "0 to 100 mm"),
            Unit::Degrees => ((0.0..=90.0).contains(&value), "0 to 90 degrees"),
            Unit::Teeth => (
                (0.0..=7.0).contains(&value) && value.fract() == 0.0,
                "0 to 7 whole teeth",
            ),
            Unit::Times => ((0.1..=10.0).contains(&value), "0.1 to 10 times the base"),
        };
        if !fits {
            return Err(LimitError::Value {
                word,
                value,
                bounds,
            });
        }
        let basis = Basis::Deck(named(source, word)?);
        self.set.retain(|threshold| threshold.limit != limit);
        self.set.push(Threshold {
            limit,
            value,
            unit: limit.unit(),
            basis,
        });
        Ok(())
    }

    /// Lets a release start at a papilla too, as some texts do.
    ///
    /// # Errors
    /// [`LimitError::NoSource`] if no source is named.
    pub fn allow_papilla_start(&mut self, source: &str) -> Result<(), LimitError> {
        self.papilla_start = Some(named(source, Rule::Start.word())?);
        Ok(())
    }

    /// The deck's source for letting a release start at a papilla, if it does.
    #[must_use]
    pub fn papilla_start(&self) -> Option<&str> {
        self.papilla_start.as_deref()
    }

    /// Grades a rule otherwise than by default.
    ///
    /// # Errors
    /// [`LimitError::Safety`] if a rule that guards against harm would become a remark.
    pub fn grade(&mut self, rule: Rule, grade: Grade) -> Result<(), LimitError> {
        if rule.is_safety() && grade == Grade::Advisory {
            return Err(LimitError::Safety { word: rule.word() });
        }
        self.grades.retain(|(graded, _)| *graded != rule);
        self.grades.push((rule, grade));
        Ok(())
    }

    /// The grade that the deck gave a rule, if any.
    #[must_use]
    pub fn given_grade(&self, rule: Rule) -> Option<Grade> {
        let given = self.grades.iter().find(|(graded, _)| *graded == rule);
        given.map(|&(_, grade)| grade)
    }

    /// What the place where a release may start rests on.
    #[must_use]
    pub fn start_basis(&self) -> Basis {
        match &self.papilla_start {
            Some(source) => Basis::Deck(source.clone()),
            None => Rule::Start.basis(),
        }
    }
}

fn named(source: &str, word: &'static str) -> Result<String, LimitError> {
    let source = source.trim();
    if source.is_empty() {
        Err(LimitError::NoSource { word })
    } else {
        Ok(source.to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_deck_sets_a_value_with_its_source() {
        let mut table = Thresholds::default();
        table.set(Limit::Bone, 5.0, "Class notes 2026").unwrap();
        table.set(Limit::Bone, 8.0, " Hupp 2019 ").unwrap();
        let bone = table.get(Limit::Bone);
        assert!((bone.value - 8.0).abs() < 1e-12);
        assert_eq!(bone.basis, Basis::Deck("Hupp 2019".to_owned()));
        assert_eq!(table.all().count(), Limit::ALL.len());
        assert_eq!(table.get(Limit::Mental).basis, Basis::Assumption);
    }

    #[test]
    fn hostile_values_are_refused() {
        let mut table = Thresholds::default();
        for (limit, value) in [
            (Limit::Bone, f64::NAN),
            (Limit::Bone, f64::INFINITY),
            (Limit::Bone, -1.0),
            (Limit::EnvelopeMesial, 1.5),
            (Limit::LimbTurn, 91.0),
            (Limit::LengthPerBase, 0.0),
        ] {
            let refused = table.set(limit, value, "Hupp 2019");
            assert!(matches!(refused, Err(LimitError::Value { .. })));
        }
        let no_source = LimitError::NoSource { word: "bone" };
        assert_eq!(table.set(Limit::Bone, 5.0, " "), Err(no_source));
        assert_eq!(table, Thresholds::default());
    }

    #[test]
    fn what_guards_against_harm_stays_decisive() {
        let mut table = Thresholds::default();
        for rule in Rule::ALL {
            let refused = table.grade(rule, Grade::Advisory).is_err();
            assert_eq!(refused, rule.is_safety(), "{}", rule.word());
        }
        assert_eq!(table.given_grade(Rule::Length), Some(Grade::Advisory));
        table.grade(Rule::Length, Grade::Decisive).unwrap();
        assert_eq!(table.given_grade(Rule::Length), Some(Grade::Decisive));
        assert_eq!(table.given_grade(Rule::Mental), None);
    }
}
