//! The trial: draws thousands of askings of a computed number and refuses it if any of them does not work out.
//!
//! Which draws are tried is for `effort` to say.

use super::Reader;
use super::effort::{self, MOST_DRAWS};
use super::numeric::Places;
use crate::deck::expression::Fault;
use crate::deck::numeric::{Drawn, Numeric, Values, plain};
use crate::diagnostic::{Diagnostic, Severity};
use crate::source::Span;

/// The least share of draws that `require` must allow, or drawing takes too long.
const LEAST_ALLOWED: f64 = 0.1;

/// What was seen over all draws.
#[derive(Default)]
struct Tally {
    is_thorough: bool,
    /// The share of draws that proves that `require` allows too few.
    least_allowed: f64,
    tried: usize,
    allowed: usize,
    /// For each slip, how often it gave a number that would be right.
    slip_right: Vec<usize>,
    said: Vec<(&'static str, Span)>,
    keys: Vec<f64>,
}

impl Reader<'_> {
    pub(super) fn try_out(&mut self, numeric: &Numeric, places: &Places) {
        let steps = numeric.derive.len() + numeric.slips.len() + 2;
        let draws = self.effort.draws(steps);
        if draws.is_none() {
            self.effort.note_brief(places.answer, self.item.as_deref());
        }
        let tries = effort::tries(&numeric.counts(), draws);
        self.effort.spend(tries.picks.len() * steps);
        // Chance makes small samples differ.
        let is_rough = draws.is_some_and(|draws| draws < MOST_DRAWS / 3) && !tries.are_all;
        let mut tally = Tally {
            is_thorough: draws.is_some(),
            least_allowed: if is_rough {
                LEAST_ALLOWED / 2.0
            } else {
                LEAST_ALLOWED
            },
            slip_right: vec![0; numeric.slips.len()],
            ..Tally::default()
        };
        for (picks, is_sample) in tries.picks {
            self.try_draw(numeric, places, &numeric.at(&picks), is_sample, &mut tally);
        }
        // A few dozen draws prove a fault but no absence of one: what is said of all draws takes thousands.
        if tally.is_thorough {
            self.require_allows(places, &tally);
            self.keys_vary(places, &tally);
            self.slips_differ(numeric, places, &tally);
        } else if tally.said.is_empty() && !numeric.can_be_asked(&numeric.draw(0)) {
            self.never_holds(places);
        }
    }

    fn keys_vary(&mut self, places: &Places, tally: &Tally) {
        let is_same_key = tally
            .keys
            .windows(2)
            .all(|pair| pair.first() == pair.last());
        if is_same_key && tally.keys.len() > 1 {
            let diagnostic = Diagnostic::new(
                Severity::Warning,
                "deck::key-never-varies",
                "the key is the same for every draw",
                places.answer,
                "does not depend on what is drawn",
            );
            self.report(diagnostic.help("widen what is drawn, or ask it as another kind"));
        }
    }

    fn slips_differ(&mut self, numeric: &Numeric, places: &Places, tally: &Tally) {
        if tally.allowed == 0 {
            return;
        }
        for (index, slip) in numeric.slips.iter().enumerate() {
            let (right, span) = (tally.slip_right[index], places.slips[index]);
            let name = &slip.name;
            if right == tally.allowed {
                let message = format!("the slip `{name}` gives the key for every draw");
                let diagnostic =
                    Diagnostic::error("deck::slip-is-key", message, span, "always right");
                self.report(diagnostic.help("mend the expression, or take the slip out"));
            } else if 3 * right > 2 * tally.allowed {
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

    fn never_holds(&mut self, places: &Places) {
        let diagnostic = Diagnostic::error(
            "deck::require-never-holds",
            "no draw meets the condition",
            places.require,
            "never true",
        )
        .related(places.drawn, "of what is drawn here");
        self.report(diagnostic.help("widen the ranges, or loosen the condition"));
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
            self.never_holds(places);
        } else if share < tally.least_allowed {
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
            && tally.is_thorough
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
