//! What the schedule costs: `cargo bench --bench schedule`.
//!
//! Prints each cost as a multiple of a plain loop of a million exponentials run in between, so
//! that figures from different and busy machines can be compared; and in milliseconds as well.

#![expect(
    clippy::print_stdout,
    reason = "a benchmark reports on standard output"
)]

use std::hint::black_box;
use std::time::Instant;

use luxate::answer::{Confidence, RoundKind};
use luxate::memory::engine::Engine;
use luxate::memory::simulate::{Model, Preparation, play};
use luxate::memory::study::{Exam, ItemFacts, Seen, StudyPlan};
use luxate::time::{Day, Moment};

const ROUNDS: usize = 5;

fn main() {
    println!("cost                                                       x reference        ms");
    for items in [750, 1500, 3000] {
        let studied = studied(items, 6000);
        let mut fitted = studied.clone();
        fitted.open_day(evening(60), 1500.0);
        let fresh = || fitted.clone();
        report(
            &format!("start of day, {items} items, 240 days ahead, tables made"),
            fresh,
            |mut engine| {
                // an exam at another hour, so that no table made before holds
                engine.set_plan(plan(300.9));
                engine.open_day(evening(60), 1500.0);
                engine
            },
        );
        report(
            &format!("start of day, {items} items, 240 days ahead, tables kept"),
            fresh,
            |mut engine| {
                engine.open_day(evening(61), 1500.0);
                engine
            },
        );
        if items == 1500 {
            report(
                "first start, 6000 answers replayed and fitted",
                || (),
                |()| {
                    let mut engine = self::studied(1500, 6000);
                    engine.open_day(evening(60), 1500.0);
                    engine
                },
            );
        }
    }
    for model in Model::ALL {
        report(
            &format!("60 days, 800 items, {} candidate", model.word()),
            || (),
            |()| {
                play(&Preparation {
                    model,
                    ..Preparation::default()
                })
            },
        );
    }
}

/// Runs the reference and the work in turns; prints the least of each.
fn report<S, T>(name: &str, prepare: impl Fn() -> S, work: impl Fn(S) -> T) {
    let (mut reference, mut cost) = (f64::INFINITY, f64::INFINITY);
    for _ in 0..ROUNDS {
        let start = Instant::now();
        let mut sum = 0.0;
        for number in 0..1_000_000_u32 {
            sum += black_box(-f64::from(number) * 1e-6).exp();
        }
        black_box(sum);
        reference = start.elapsed().as_secs_f64().min(reference);
        let state = prepare();
        let start = Instant::now();
        let out = work(state);
        cost = start.elapsed().as_secs_f64().min(cost);
        black_box(out);
    }
    println!(
        "{name:<58} {:>11.2} {:>9.1}",
        cost / reference,
        cost * 1000.0
    );
}

fn evening(day: u16) -> Moment {
    Moment {
        utc_ms: i64::from(day) * 86_400_000 + 64_800_000,
        day: Day::from_number(day.into()),
        offset_min: 0,
    }
}

fn plan(exam_at: f64) -> StudyPlan {
    StudyPlan {
        exam: Some(Exam {
            at_days: exam_at,
            day: Day::from_number(300),
        }),
        seconds_a_day: 1500.0,
        ..StudyPlan::default()
    }
}

/// An engine with so many answers on sixty days.
fn studied(items: usize, answers: u32) -> Engine {
    let facts = (0..items)
        .map(|item| ItemFacts {
            weight: [1.0, 2.0, 0.5, 3.0, 1.4][item % 5],
            chance: 0.25,
            topic: item % 20,
            safety: false,
        })
        .collect();
    let mut engine = Engine::new(facts, plan(300.4));
    for number in 0..answers {
        let (day, place) = (number / 100, number % 100);
        let item = (usize::try_from(day).unwrap_or(0) * 37 + usize::try_from(place).unwrap_or(0))
            % (items / 2);
        let mut at = evening(u16::try_from(day).unwrap_or(0));
        at.utc_ms += i64::from(place) * 20_000;
        let luck = number.wrapping_mul(2_654_435_761) >> 24;
        engine.observe(
            item,
            &Seen {
                at,
                right: luck < 150,
                confidence: Confidence::ALL[usize::try_from(luck % 3).unwrap_or(0)],
                seconds: 15.0 + f64::from(luck % 16),
                round: RoundKind::Review,
            },
        );
    }
    engine
}
