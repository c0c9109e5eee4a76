//! Arithmetic that decks may write: numbers, names, a handful of functions, and nothing that could run on.
//!
//! `translate` admits a small language and turns it into the one that `rhai` evaluates; no other part of that language
//! can be reached. All numbers are 64-bit floats, so 6/4 is 1.5. Rounding and comparing forgive the last digits
//! of a float: 0.3/0.1 rounds down to 3, and 0.1 + 0.2 equals 0.3. There are no functions whose results differ between machines.

mod translate;

use std::sync::LazyLock;

use rhai::{AST, Engine, EvalAltResult, OptimizationLevel, Position, Scope};
use thiserror::Error;

pub use translate::{DEEPEST, FUNCTIONS, LONGEST, Problem, is_name};

/// Steps that an evaluation may take; the longest expression needs about [`LONGEST`].
const MOST_STEPS: u64 = 2_000;

/// Two numbers are the same if they differ by less than this share of the larger one (or of 1).
const SAME: f64 = 1e-9;

/// A number is taken for a whole one if it lies this near to it at most, unless floats of its size lie further apart.
const MOST_ROOM: f64 = 1e-6;

/// An expression, fit to be evaluated.
#[derive(Clone, Debug)]
pub struct Expression {
    text: String,
    names: Vec<String>,
    tree: AST,
}

impl PartialEq for Expression {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}

/// Where an expression cannot be read, and why.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{problem}")]
pub struct Unreadable {
    /// First byte of what is wrong, in the expression's text.
    pub start: usize,
    /// The byte after it.
    pub end: usize,
    /// Why.
    pub problem: Problem,
}

/// Why an expression has no value for these numbers.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Fault {
    /// Something is divided by 0.
    #[error("divides by zero")]
    DivisionByZero,
    /// Infinite, or not a number.
    #[error("is larger than any number")]
    NotFinite,
    /// A number is wanted and a condition is there, or the other way round.
    #[error("mixes up numbers and conditions")]
    Mixed,
    /// A name without a value.
    #[error("uses `{0}`, which has no value")]
    Unbound(String),
}

/// Names with their values.
#[derive(Clone, Debug, Default)]
pub struct Bindings {
    scope: Scope<'static>,
}

impl Bindings {
    /// Gives a name its value.
    pub fn bind(&mut self, name: &str, value: f64) {
        self.scope.push(format!("v_{name}"), value);
    }

    /// The value of a name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<f64> {
        self.scope.get_value(&format!("v_{name}"))
    }
}

impl Expression {
    /// Reads an expression.
    ///
    /// # Errors
    /// [`Unreadable`], with the place.
    pub fn read(text: &str) -> Result<Self, Unreadable> {
        let translated = translate::translate(text)?;
        let tree = ENGINE
            .compile_expression(&translated.script)
            .map_err(|error| translated.unreadable(error.position().position()))?;
        Ok(Self {
            text: text.to_owned(),
            names: translated.names,
            tree,
        })
    }

    /// As it was written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The names it uses, each once, in the order of their first use.
    #[must_use]
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Its value as a number.
    ///
    /// # Errors
    /// [`Fault`] if there is none.
    pub fn number(&self, bindings: &mut Bindings) -> Result<f64, Fault> {
        let value = self.value(bindings)?;
        let number = value.as_float().map_err(|_| Fault::Mixed)?;
        if number.is_finite() {
            // -0 would be shown with its sign.
            Ok(number + 0.0)
        } else {
            Err(Fault::NotFinite)
        }
    }

    /// Whether it holds, as a condition.
    ///
    /// # Errors
    /// [`Fault`] if it is none.
    pub fn holds(&self, bindings: &mut Bindings) -> Result<bool, Fault> {
        self.value(bindings)?.as_bool().map_err(|_| Fault::Mixed)
    }

    fn value(&self, bindings: &mut Bindings) -> Result<rhai::Dynamic, Fault> {
        ENGINE
            .eval_ast_with_scope(&mut bindings.scope, &self.tree)
            .map_err(|error| fault(&error))
    }
}

fn fault(error: &EvalAltResult) -> Fault {
    match error {
        EvalAltResult::ErrorArithmetic(..) => Fault::DivisionByZero,
        EvalAltResult::ErrorVariableNotFound(name, _) => {
            Fault::Unbound(name.trim_start_matches("v_").to_owned())
        }
        _ => Fault::Mixed,
    }
}

/// Whether two numbers are the same but for the last digits of a float.
#[must_use]
pub fn same(one: f64, two: f64) -> bool {
    (one - two).abs() <= SAME * one.abs().max(two.abs()).max(1.0)
}

/// The whole number that a number is but for the last digits of a float, or the number itself.
#[must_use]
pub fn snapped(number: f64) -> f64 {
    let whole = number.round();
    let size = number.abs().max(1.0);
    // A share alone would reach the next whole number once the number is large enough.
    let room = (SAME * size).min(MOST_ROOM).max(2.0 * f64::EPSILON * size);
    if (number - whole).abs() <= room {
        whole
    } else {
        number
    }
}

/// The evaluator with everything that an expression can reach.
static ENGINE: LazyLock<Engine> = LazyLock::new(|| {
    let mut engine = Engine::new_raw();
    // Ours alone: the built-in operators compare and divide otherwise.
    engine.set_fast_operators(false);
    engine.set_optimization_level(OptimizationLevel::None);
    engine.set_max_operations(MOST_STEPS);
    // Bounded by `LONGEST` and `DEEPEST`, which say what is wrong.
    engine.set_max_expr_depths(0);
    engine.set_allow_looping(false);
    engine.set_allow_statement_expression(false);
    engine.set_allow_switch_expression(false);
    engine
        .register_fn("+", |one: f64, two: f64| one + two)
        .register_fn("-", |one: f64, two: f64| one - two)
        .register_fn("*", |one: f64, two: f64| one * two)
        .register_fn("/", divide)
        .register_fn("-", |number: f64| -number)
        .register_fn("<", |one: f64, two: f64| one < two && !same(one, two))
        .register_fn(">", |one: f64, two: f64| one > two && !same(one, two))
        .register_fn("<=", |one: f64, two: f64| one < two || same(one, two))
        .register_fn(">=", |one: f64, two: f64| one > two || same(one, two))
        .register_fn("==", same)
        .register_fn("!=", |one: f64, two: f64| !same(one, two))
        .register_fn("!", |condition: bool| !condition)
        .register_fn("min", f64::min)
        .register_fn("max", f64::max)
        .register_fn("abs", f64::abs)
        .register_fn("floor", |number: f64| snapped(number).floor())
        .register_fn("ceil", |number: f64| snapped(number).ceil())
        .register_fn("round", nearest);
    engine
});

fn divide(one: f64, two: f64) -> Result<f64, Box<EvalAltResult>> {
    if two == 0.0 {
        Err(EvalAltResult::ErrorArithmetic("division by zero".into(), Position::NONE).into())
    } else {
        Ok(one / two)
    }
}

/// The nearest whole number; a half goes away from 0, also one that a float only just misses.
#[must_use]
pub fn nearest(number: f64) -> f64 {
    let twice = snapped(2.0 * number);
    if twice % 2.0 == 0.0 {
        twice / 2.0
    } else if twice.fract() == 0.0 {
        f64::midpoint(twice, twice.signum())
    } else {
        number.round()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn number(text: &str) -> Result<f64, Fault> {
        let mut bindings = Bindings::default();
        bindings.bind("kg", 70.0);
        bindings.bind("let", 3.0);
        Expression::read(text)
            .unwrap_or_else(|error| panic!("{text}: {error}"))
            .number(&mut bindings)
    }

    #[test]
    fn arithmetic_is_that_of_paper() {
        for (text, value) in [
            ("6/4", 1.5),
            ("2 + 3 * 4", 14.0),
            ("(2 + 3) * 4", 20.0),
            ("10 - 4 - 3", 3.0),
            ("100 / 10 / 5", 2.0),
            ("-kg + 1", -69.0),
            ("2 - -3", 5.0),
            (".5 * kg", 35.0),
            ("min(7 * kg, 500)", 490.0),
            ("max(min(kg, 3), abs(-4))", 4.0),
            ("min(3, max(1, min(kg, 2)))", 2.0),
            ("floor(0.3 / 0.1)", 3.0),
            ("ceil(3 * 0.1 / 0.1)", 3.0),
            ("floor(-0.5)", -1.0),
            ("round(2.5) + round(-2.5) + round(3.5)", 4.0),
            ("round(1.005 * 100)", 101.0),
            ("if(kg < 70, 1, 2)", 2.0),
            ("if(0.1 + 0.2 == 0.3, 1, 2)", 1.0),
            ("if(0.1 + 0.2 > 0.3, 1, 2)", 2.0),
            ("if(kg > 60 and not (kg == 65 or kg != 70), 1, 2)", 1.0),
            ("if(kg > 0, if(kg > 80, 1, 2), 3) * 10", 20.0),
            // The branch not taken is not evaluated.
            ("if(kg > 0, 1, 1 / 0)", 1.0),
            ("let + 1", 4.0),
        ] {
            assert_eq!(number(text), Ok(value), "{text}");
        }
        assert_eq!(number("0 * -1").map(f64::is_sign_negative), Ok(false));
    }

    #[test]
    fn what_has_no_value_says_why() {
        for (text, fault) in [
            ("1 / 0", Fault::DivisionByZero),
            ("1 / (kg - 70)", Fault::DivisionByZero),
            ("kg > 3", Fault::Mixed),
            ("1 + (kg > 3)", Fault::Mixed),
            ("if(kg, 1, 2)", Fault::Mixed),
            ("lb / 2", Fault::Unbound("lb".into())),
        ] {
            assert_eq!(number(text), Err(fault), "{text}");
        }
        let huge = format!("{}1", "99999999999999999999 * ".repeat(12));
        assert!(number(&huge).is_ok());
        let mut bindings = Bindings::default();
        bindings.bind("x", f64::MAX);
        let twice = Expression::read("x * 2").unwrap();
        assert_eq!(twice.number(&mut bindings), Err(Fault::NotFinite));
        assert_eq!(twice.holds(&mut bindings), Err(Fault::Mixed));
    }

    #[test]
    fn whatever_is_short_enough_is_read() {
        // As deep and as long as `DEEPEST` and `LONGEST` allow.
        let branches = format!(
            "{}0{}",
            "if(kg<9 or kg<8,1,".repeat(DEEPEST),
            ")".repeat(DEEPEST)
        );
        assert_eq!(number(&branches), Ok(0.0));
        let brackets = format!("{}kg{}", "min(abs(".repeat(6), "), 9)".repeat(6));
        assert_eq!(number(&brackets), Ok(9.0));
        assert_eq!(number(&format!("1{}", "+1".repeat(149))), Ok(150.0));
        assert_eq!(number(&format!("1{}", "-kg".repeat(99))), Ok(-6929.0));
        assert_eq!(number(&format!("{}1", "- ".repeat(149))), Ok(-1.0));
        let nots = format!("if({}(kg > 9), 1, 2)", "not ".repeat(70));
        assert_eq!(number(&nots), Ok(1.0));
    }

    #[test]
    fn names_are_listed_once() {
        let expression = Expression::read("min(b * a, b) + if(c > 1, a, 2)").unwrap();
        assert_eq!(expression.names(), ["b", "a", "c"]);
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic_or_reach_out(text in "[a-z0-9_ .,()+*/<>=!&|{}\"';:%^-]{0,60}|(if|min|kg|1|\\(|\\)|,| |\\*|<|and|not|-){0,30}") {
            if let Ok(expression) = Expression::read(&text) {
                let mut bindings = Bindings::default();
                bindings.bind("kg", 70.0);
                let _value = expression.number(&mut bindings);
            }
        }

        #[test]
        fn places_lie_in_the_text(text in ".{0,60}") {
            if let Err(error) = Expression::read(&text) {
                prop_assert!(error.start <= error.end && text.get(error.start..error.end).is_some());
            }
        }

        #[test]
        fn rounding_is_that_of_decimals(
            cents in prop_oneof![-100_000_i64..100_000, -100_000_000_000_i64..100_000_000_000],
        ) {
            // Decimal halves go away from 0, whatever binary makes of them.
            #[expect(clippy::cast_precision_loss, reason = "far below 2^53")]
            let float = |whole: i64| whole as f64;
            let number = float(cents) / 100.0;
            let whole = (cents.abs() + 50) / 100 * cents.signum();
            let is = |number: f64, whole: i64| (number - float(whole)).abs() < 0.5;
            prop_assert!(is(nearest(number), whole));
            prop_assert!(is(snapped(number).floor(), cents.div_euclid(100)));
            prop_assert!(is(snapped(number).ceil(), -(-cents).div_euclid(100)));
        }
    }
}
