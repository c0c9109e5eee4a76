//! Computed numbers: a question whose values are drawn afresh at each asking, and the key that follows from them.
//!
//! A draw is a list of names with values, as it stands in the log; everything else (derived values, the key, slips, the worked
//! solution) follows from it and the item. The reader tries an item out before it lets it pass, see `read::trial`.

mod draw;
mod number;
mod signature;
mod template;

pub use draw::Drawn;
pub use number::{fixed, plain};
pub use signature::numeric_signature;
pub use template::{Piece, fill, pieces};

use super::expression::{Bindings, Expression, Fault, nearest, same, snapped};

/// A number to be computed.
#[derive(Clone, Debug, PartialEq)]
pub struct Numeric {
    /// What is drawn, each value by itself.
    pub draw: Vec<Variable>,
    /// A table of which one row is drawn.
    pub rows: Option<Table>,
    /// Values that follow, in the order they are worked out.
    pub derive: Vec<Derived>,
    /// Which draws may be asked.
    pub require: Option<Expression>,
    /// The key.
    pub answer: Expression,
    /// How the key is rounded.
    pub round: Option<Rounding>,
    /// How far an answer may lie from the key; nothing means not at all.
    pub tolerance: Option<Tolerance>,
    /// The unit of the key.
    pub unit: Option<String>,
    /// Other spellings of that unit.
    pub units: Vec<String>,
    /// The key may be below 0.
    pub allow_negative: bool,
    /// Typical errors.
    pub slips: Vec<Slip>,
    /// The way to the key, with `{name}` where a value is shown.
    pub solution: String,
}

/// A value that is drawn by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Variable {
    /// Its name.
    pub name: String,
    /// What it may be.
    pub choices: Choices,
}

/// What a value may be.
#[derive(Clone, Debug, PartialEq)]
pub enum Choices {
    /// Every step of a range.
    Range(Range),
    /// One of these; all numbers or all texts.
    List(Vec<Quantity>),
}

/// A range in whole steps, in whole units of its last decimal: what is drawn is what is written on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Range {
    /// The first value.
    pub first: i64,
    /// From one value to the next.
    pub step: i64,
    /// How many values there are.
    pub count: usize,
    /// Decimals that `first` and `step` are counted in.
    pub decimals: u32,
}

/// A number or a text.
#[derive(Clone, Debug, PartialEq)]
pub enum Quantity {
    /// To be reckoned with.
    Number(f64),
    /// To be shown only.
    Text(String),
}

/// Rows of values that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Names of the columns.
    pub columns: Vec<String>,
    /// Rows with a value for each column; a column holds numbers or texts, not both.
    pub rows: Vec<Vec<Quantity>>,
}

/// A value that follows from others.
#[derive(Clone, Debug, PartialEq)]
pub struct Derived {
    /// Its name.
    pub name: String,
    /// How it follows.
    pub is: Expression,
}

/// How a key is rounded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rounding {
    /// To which side.
    pub side: Side,
    /// To whole multiples of this; above 0.
    pub step: f64,
}

/// The side that is rounded to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Towards minus infinity.
    Down,
    /// Towards plus infinity.
    Up,
    /// To the nearest, a half away from 0.
    Nearest,
}

/// How far an answer may lie from the key.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tolerance {
    /// In the key's unit; 0 or more.
    Absolute(f64),
    /// As a share of the key; above 0.
    Relative(f64),
}

/// A typical error.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// What it is called.
    pub name: String,
    /// The number that whoever makes it gives.
    pub gives: Expression,
    /// Why it is wrong, with `{name}` where a value is shown.
    pub why: String,
    /// Id of the belief that it betrays.
    pub belief: Option<String>,
}

/// The values of one asking.
#[derive(Clone, Debug, Default)]
pub struct Values {
    bindings: Bindings,
    texts: Vec<(String, String)>,
    /// Derived values that there are none of, by their number.
    faults: Vec<(usize, Fault)>,
}

impl Values {
    /// A value as it is shown: a number with these decimals, or with as many as it has.
    #[must_use]
    pub fn shown(&self, name: &str, decimals: Option<usize>) -> Option<String> {
        if let Some((_, text)) = self.texts.iter().find(|(known, _)| known == name) {
            return Some(text.clone());
        }
        let number = self.bindings.get(name)?;
        Some(decimals.map_or_else(|| plain(number), |decimals| fixed(number, decimals)))
    }

    /// Derived values that have none, by their number in the item, and why.
    #[must_use]
    pub fn faults(&self) -> &[(usize, Fault)] {
        &self.faults
    }

    /// Makes the key known as `answer`, for the worked solution.
    pub fn know_answer(&mut self, key: f64) {
        self.bindings.bind(ANSWER, key);
    }
}

/// The name under which a worked solution shows the key.
pub const ANSWER: &str = "answer";

impl Numeric {
    /// The values that follow from a draw.
    #[must_use]
    pub fn values(&self, drawn: &[Drawn]) -> Values {
        let mut values = Values::default();
        for Drawn { name, value } in drawn {
            match value.parse::<f64>() {
                Ok(number) if !self.is_text(name) => values.bindings.bind(name, number),
                _ => values.texts.push((name.clone(), value.clone())),
            }
        }
        for (index, derived) in self.derive.iter().enumerate() {
            match derived.is.number(&mut values.bindings) {
                Ok(number) => values.bindings.bind(&derived.name, number),
                Err(fault) => values.faults.push((index, fault)),
            }
        }
        values
    }

    /// Whether these values may be asked.
    ///
    /// # Errors
    /// [`Fault`] if that cannot be told.
    pub fn allows(&self, values: &mut Values) -> Result<bool, Fault> {
        self.require
            .as_ref()
            .map_or(Ok(true), |require| require.holds(&mut values.bindings))
    }

    /// The answer before it is rounded.
    ///
    /// # Errors
    /// [`Fault`] if there is none.
    pub fn unrounded(&self, values: &mut Values) -> Result<f64, Fault> {
        self.answer.number(&mut values.bindings)
    }

    /// The key.
    ///
    /// # Errors
    /// [`Fault`] if there is none.
    pub fn key(&self, values: &mut Values) -> Result<f64, Fault> {
        let number = self.unrounded(values)?;
        Ok(self.round.map_or(number, |rounding| rounding.apply(number)))
    }

    /// The number that a slip gives.
    ///
    /// # Errors
    /// [`Fault`] if there is none.
    pub fn slipped(&self, slip: &Slip, values: &mut Values) -> Result<f64, Fault> {
        slip.gives.number(&mut values.bindings)
    }

    /// Whether a number is near enough to the key.
    #[must_use]
    pub fn accepts(&self, key: f64, number: f64) -> bool {
        (number - key).abs() <= self.room(key) || same(number, key)
    }

    /// How far a number may lie from the key.
    #[must_use]
    pub fn room(&self, key: f64) -> f64 {
        match self.tolerance {
            None => 0.0,
            // The last digits of a float are nobody's error.
            Some(Tolerance::Absolute(room)) => room + 1e-9 * key.abs().max(1.0),
            Some(Tolerance::Relative(share)) => share * key.abs() * (1.0 + 1e-9),
        }
    }

    /// The slips that a wrong number betrays: those that give the nearest number, within half a per cent of it because
    /// people round on the way. Several errors may give the same number.
    #[must_use]
    pub fn slips_of(&self, values: &mut Values, key: f64, number: f64) -> Vec<&Slip> {
        const NEAR: f64 = 0.005;
        let mut near: Vec<(f64, &Slip)> = Vec::new();
        for slip in &self.slips {
            let Ok(gives) = self.slipped(slip, values) else {
                continue;
            };
            let distance = (gives - number).abs();
            let is_near = same(gives, number) || distance <= NEAR * gives.abs();
            if is_near && !self.accepts(key, gives) {
                near.push((distance, slip));
            }
        }
        let least = near
            .iter()
            .map(|(distance, _)| *distance)
            .fold(f64::INFINITY, f64::min);
        near.retain(|(distance, _)| same(*distance, least));
        near.into_iter().map(|(_, slip)| slip).collect()
    }

    /// The names that are drawn, those of the table last.
    pub fn drawn_names(&self) -> impl Iterator<Item = &str> {
        let columns = self.rows.iter().flat_map(|table| &table.columns);
        let names = self.draw.iter().map(|variable| &variable.name);
        names.chain(columns).map(String::as_str)
    }

    /// Whether a name stands for texts.
    #[must_use]
    pub fn is_text(&self, name: &str) -> bool {
        let is_text = |quantity: Option<&Quantity>| matches!(quantity, Some(Quantity::Text(_)));
        let variable = self.draw.iter().find(|variable| variable.name == name);
        if let Some(Choices::List(list)) = variable.map(|variable| &variable.choices) {
            return is_text(list.first());
        }
        self.rows.as_ref().is_some_and(|table| {
            let column = table.columns.iter().position(|column| column == name);
            is_text(column.and_then(|column| table.rows.first()?.get(column)))
        })
    }

    /// A number with the unit, as it is shown.
    #[must_use]
    pub fn with_unit(&self, number: f64) -> String {
        match &self.unit {
            Some(unit) => format!("{} {unit}", plain(number)),
            None => plain(number),
        }
    }
}

impl Rounding {
    /// A number rounded.
    #[must_use]
    pub fn apply(self, number: f64) -> f64 {
        let steps = number / self.step;
        let whole = match self.side {
            Side::Down => snapped(steps).floor(),
            Side::Up => snapped(steps).ceil(),
            Side::Nearest => nearest(steps),
        };
        number::tidy(whole * self.step) + 0.0
    }

    /// Whether a number lies so that the other way of rounding halves would give another key.
    #[must_use]
    pub fn is_at_half(self, number: f64) -> bool {
        let steps = number / self.step;
        self.side == Side::Nearest && same((steps - steps.floor()).abs(), 0.5)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rounding(side: Side, step: f64) -> Rounding {
        Rounding { side, step }
    }

    #[test]
    fn keys_are_rounded_as_on_paper() {
        assert_eq!(plain(rounding(Side::Down, 1.0).apply(11.67)), "11");
        assert_eq!(plain(rounding(Side::Down, 1.0).apply(3.0 * 0.1 / 0.1)), "3");
        assert_eq!(plain(rounding(Side::Up, 1.0).apply(14.29)), "15");
        assert_eq!(plain(rounding(Side::Nearest, 0.1).apply(0.25)), "0.3");
        assert_eq!(plain(rounding(Side::Nearest, 0.1).apply(2.65)), "2.7");
        assert_eq!(plain(rounding(Side::Nearest, 5.0).apply(912.0)), "910");
        assert_eq!(plain(rounding(Side::Nearest, 0.5).apply(7.26)), "7.5");
        assert_eq!(plain(rounding(Side::Down, 0.1).apply(0.3)), "0.3");
        assert!(rounding(Side::Nearest, 0.1).is_at_half(0.25));
        assert!(!rounding(Side::Nearest, 0.1).is_at_half(0.26));
        assert!(!rounding(Side::Down, 0.1).is_at_half(0.25));
    }
}
