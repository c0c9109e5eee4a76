//! The trial: draws thousands of askings of a computed number and refuses it if any of them does not work out.
//!
//! Where an item has few draws all of them are tried; otherwise the corners (each value at one of its ends, every row) and a
//! fixed sample. The same item is always tried with the same draws.

use super::Reader;
use super::numeric::Places;
use crate::chance::Chance;
use crate::deck::expression::Fault;
use crate::deck::numeric::{Drawn, Numeric, Values, plain};
use crate::diagnostic::{Diagnostic, Severity};
use crate::source::Span;

/// How much is tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::deck) enum Trial {
    /// Thousands of draws: when a deck is checked or added.
    Thorough,
    /// A few dozen: at each start, for decks that were checked before.
    Brief,
}

impl Trial {
    const fn draws(self) -> usize {
        match self {
            Self::Thorough => 3_000,
            Self::Brief => 24,
        }
    }

    const fn corners(self) -> usize {
        match self {
            Self::Thorough => 512,
            Self::Brief => 16,
        }
    }
}

/// The least share of draws that `require` must allow, or drawing takes too long.
const LEAST_ALLOWED: f64 = 0.1;

/// The stream of chance that samples come from; 0 shuffles, 1 draws.
const STREAM: u64 = 2;

/// What was seen over all draws.
#[derive(Default)]
struct Tally {
    tried: usize,
    allowed: usize,
    /// For each slip, how often it gave a number that would be right.
    slip_right: Vec<usize>,
    said: Vec<(&'static str, Span)>,
    keys: Vec<f64>,
}

impl Reader<'_> {
    pub(super) fn try_out(&mut self, numeric: &Numeric, places: &Places) {
        let mut tally = Tally {
            slip_right: vec![0; numeric.slips.len()],
            ..Tally::default()
        };
        for (picks, is_sample) in picks(&numeric.counts(), self.trial) {
            self.try_draw(numeric, places, &numeric.at(&picks), is_sample, &mut tally);
        }
        self.require_allows(places, &tally);
        if tally.allowed == 0 {
            return;
        }
        let is_same_key = tally
            .keys
            .windows(2)
            .all(|pair| pair.first() == pair.last());
        if is_same_key && tally.keys.len() > 1 && self.trial == Trial::Thorough {
            let diagnostic = Diagnostic::new(
                Severity::Warning,
                "deck::key-never-varies",
                "the key is the same for every draw",
                places.answer,
                "does not depend on what is drawn",
            );
            self.report(diagnostic.help("widen what is drawn, or ask it as another kind"));
        }
        for (index, slip) in numeric.slips.iter().enumerate() {
            let (right, span) = (tally.slip_right[index], places.slips[index]);
            let name = &slip.name;
            if right == tally.allowed {
                let message = format!("the slip `{name}` gives the key for every draw");
                let diagnostic =
                    Diagnostic::error("deck::slip-is-key", message, span, "always right");
                self.report(diagnostic.help("mend the expression, or take the slip out"));
            } else if 3 * right > 2 * tally.allowed && self.trial == Trial::Thorough {
                let share = 100 * right / tally.allowed;
                let message = format!("the slip `{name}` gives the key for {share} % of draws");
                let diagnostic = Diagnostic::new(
                    Severity::Warning,
                    "deck::slip-often-key",
                    message,
                    span,
                    "seldom seen",
                );
                self.report(
                    diagnostic
                        .why("whoever makes this error is mostly marked right and learns nothing")
                        .help(
                            "let `require` exclude draws that do not tell the error from the key",
                        ),
                );
            }
        }
    }

    fn require_allows(&mut self, places: &Places, tally: &Tally) {
        if tally.tried == 0 {
            return;
        }
        #[expect(clippy::cast_precision_loss, reason = "counts are small")]
        let share = tally.allowed as f64 / tally.tried as f64;
        let is_said = |code| tally.said.contains(&(code, places.require));
        if is_said("deck::not-a-number") || is_said("deck::division-by-zero") {
            return;
        }
        if tally.allowed == 0 {
            let diagnostic = Diagnostic::error(
                "deck::require-never-holds",
                "no draw meets the condition",
                places.require,
                "never true",
            )
            .related(places.drawn, "of what is drawn here");
            self.report(diagnostic.help("widen the ranges, or loosen the condition"));
        } else if share < LEAST_ALLOWED && self.trial == Trial::Thorough {
            let message = format!(
                "only {} of {} draws meet the condition",
                tally.allowed, tally.tried
            );
            let diagnostic = Diagnostic::error(
                "deck::require-too-narrow",
                message,
                places.require,
                "must hold for at least one draw in ten",
            )
            .related(places.drawn, "of what is drawn here");
            self.report(diagnostic.help("draw from narrower ranges instead"));
        }
    }

    fn try_draw(
        &mut self,
        numeric: &Numeric,
        places: &Places,
        drawn: &[Drawn],
        is_sample: bool,
        tally: &mut Tally,
    ) {
        let mut values = numeric.values(drawn);
        tally.tried += usize::from(is_sample);
        match numeric.allows(&mut values) {
            Ok(true) => {}
            Ok(false) => return,
            Err(fault) => {
                // A derived value without one is reported where it stands.
                self.derived_faults(numeric, places, &values, drawn, tally);
                self.fault(&fault, "the condition", places.require, drawn, tally);
                return;
            }
        }
        tally.allowed += usize::from(is_sample);
        self.derived_faults(numeric, places, &values, drawn, tally);
        let key = match numeric.key(&mut values) {
            Ok(key) => key,
            Err(fault) => {
                self.fault(&fault, "the answer", places.answer, drawn, tally);
                return;
            }
        };
        self.key(numeric, places, key, &mut values, drawn, tally);
        if is_sample {
            tally.keys.push(key);
        }
        for (index, slip) in numeric.slips.iter().enumerate() {
            let span = places.slips[index];
            match numeric.slipped(slip, &mut values) {
                Ok(gives) if is_sample && numeric.accepts(key, gives) => {
                    tally.slip_right[index] += 1;
                }
                Ok(_) => {}
                Err(fault) => {
                    let what = format!("the slip `{}`", slip.name);
                    self.fault(&fault, &what, span, drawn, tally);
                }
            }
        }
    }

    fn key(
        &mut self,
        numeric: &Numeric,
        places: &Places,
        key: f64,
        values: &mut Values,
        drawn: &[Drawn],
        tally: &mut Tally,
    ) {
        let span = places.answer;
        if key < 0.0 && !numeric.allow_negative {
            let message = format!("the key is {}, below 0", plain(key));
            let help = "exclude such draws with `require`, or write `allow_negative: true`";
            self.once("deck::negative-key", message, span, drawn, help, tally);
        }
        let shown: f64 = plain(key).parse().unwrap_or(f64::NAN);
        if !numeric.accepts(key, shown) {
            let message =
                format!("the key {key} cannot be typed: as shown, {shown}, it would be wrong");
            let help = "add `round`, such as `nearest 0.1`, or a `tolerance`";
            self.once("deck::key-not-typeable", message, span, drawn, help, tally);
        }
        if let Some(rounding) = numeric.round
            && self.trial == Trial::Thorough
            && numeric.room(key) < rounding.step
            && numeric
                .unrounded(values)
                .is_ok_and(|number| rounding.is_at_half(number))
        {
            let message = "a draw lies halfway between two keys";
            let diagnostic = Diagnostic::new(
                Severity::Warning,
                "deck::rounds-at-half",
                message,
                places.round,
                when(drawn),
            );
            self.report_once(
                diagnostic
                    .why("some round a half up and some to the even neighbour, and both are taught")
                    .help("exclude such draws with `require`, or give a `tolerance` of one step"),
                tally,
            );
        }
    }

    fn derived_faults(
        &mut self,
        numeric: &Numeric,
        places: &Places,
        values: &Values,
        drawn: &[Drawn],
        tally: &mut Tally,
    ) {
        for (index, fault) in values.faults() {
            if let (Some(derived), Some(span)) =
                (numeric.derive.get(*index), places.derive.get(*index))
            {
                let what = format!("`{}`", derived.name);
                self.fault(fault, &what, *span, drawn, tally);
            }
        }
    }

    fn fault(&mut self, fault: &Fault, what: &str, span: Span, drawn: &[Drawn], tally: &mut Tally) {
        let (code, help) = match fault {
            Fault::DivisionByZero => (
                "deck::division-by-zero",
                "exclude such draws with `require`, or branch with if(...)",
            ),
            Fault::NotFinite => ("deck::not-finite", "draw from smaller numbers"),
            Fault::Mixed => (
                "deck::not-a-number",
                "a comparison is no number and a number is no condition; use if(condition, then, otherwise)",
            ),
            // Follows from a fault that is reported where it stands.
            Fault::Unbound(_) => return,
        };
        self.once(code, format!("{what} {fault}"), span, drawn, help, tally);
    }

    /// Reports an error of a place for the first draw that shows it.
    fn once(
        &mut self,
        code: &'static str,
        message: String,
        span: Span,
        drawn: &[Drawn],
        help: &str,
        tally: &mut Tally,
    ) {
        let diagnostic = Diagnostic::error(code, message, span, when(drawn)).help(help);
        self.report_once(diagnostic, tally);
    }

    fn report_once(&mut self, diagnostic: Diagnostic, tally: &mut Tally) {
        let what = (diagnostic.code, diagnostic.primary.span);
        if !tally.said.contains(&what) {
            tally.said.push(what);
            self.report(diagnostic);
        }
    }
}

/// A draw in words.
fn when(drawn: &[Drawn]) -> String {
    let values: Vec<String> = drawn
        .iter()
        .map(|drawn| format!("{} = {}", drawn.name, drawn.value))
        .collect();
    format!("when {}", values.join(", "))
}

/// The draws to try, each with whether it belongs to the sample that shares are counted in.
fn picks(counts: &[usize], trial: Trial) -> Vec<(Vec<usize>, bool)> {
    let all = counts
        .iter()
        .fold(1_usize, |product, &count| product.saturating_mul(count));
    if all <= trial.draws() {
        return (0..all)
            .map(|number| (mixed(number, counts), true))
            .collect();
    }
    let ends: Vec<usize> = counts.iter().map(|&count| count.min(2)).collect();
    let corners = ends
        .iter()
        .fold(1_usize, |product, &count| product.saturating_mul(count))
        .min(trial.corners());
    let corner = |number| {
        let sides = mixed(number, &ends);
        let picks = sides.iter().zip(counts);
        let picks = picks.map(|(&side, &count)| if side == 0 { 0 } else { count - 1 });
        (picks.collect(), false)
    };
    let mut chance = Chance::new(0, STREAM);
    let sample = (0..trial.draws()).map(|_| {
        let picks = counts.iter().map(|&count| chance.below(count)).collect();
        (picks, true)
    });
    let sample: Vec<(Vec<usize>, bool)> = sample.collect();
    (0..corners).map(corner).chain(sample).collect()
}

/// The digits of a number whose places have these bases.
fn mixed(mut number: usize, bases: &[usize]) -> Vec<usize> {
    bases
        .iter()
        .map(|&base| {
            let digit = number % base.max(1);
            number /= base.max(1);
            digit
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_draws_are_all_tried_and_many_at_their_corners() {
        assert_eq!(picks(&[2, 3], Trial::Thorough).len(), 6);
        let many = picks(&[1000, 1000, 4], Trial::Thorough);
        assert_eq!(many.len(), 8 + 3_000);
        assert!(many.contains(&(vec![999, 0, 3], false)));
        let mut different = picks(&[5, 4, 3], Trial::Thorough);
        different.sort();
        different.dedup();
        assert_eq!(different.len(), 60);
    }
}
