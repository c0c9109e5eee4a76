//! What must hold of the schedule for any log and any plan.

use std::collections::BTreeSet;

use luxate::answer::{Confidence, RoundKind};
use luxate::memory::engine::Engine;
use luxate::memory::estimate::{Honesty, Learner, Response, Trace};
use luxate::memory::pick::Why;
use luxate::memory::recall::Curve;
use luxate::memory::study::{Exam, ItemFacts, RestDays, Seen, StudyPlan};
use luxate::memory::theta::Theta;
use luxate::time::{Day, Moment};
use proptest::prelude::*;

const ITEMS: usize = 40;
const DAY_MS: i64 = 86_400_000;

fn moment(utc_ms: i64) -> Moment {
    Moment {
        utc_ms,
        day: Day::from_number(utc_ms.div_euclid(DAY_MS)),
        offset_min: 0,
    }
}

/// An answer some milliseconds after (or, with a clock moved back, before) the last.
fn answer() -> impl Strategy<Value = (usize, Seen)> {
    let step = prop_oneof![
        8 => 1_000..120_000_i64,
        4 => DAY_MS / 2..3 * DAY_MS,
        1 => -2 * DAY_MS..0,
    ];
    let seconds = prop_oneof![8 => 1.0..90.0, 1 => Just(f64::NAN), 1 => -1e9..1e12];
    (
        0..ITEMS,
        step,
        any::<bool>(),
        0..3_usize,
        seconds,
        0..3_usize,
    )
        .prop_map(|(item, step, right, confidence, seconds, round)| {
            let seen = Seen {
                at: moment(step),
                right,
                confidence: Confidence::ALL[confidence],
                seconds,
                round: RoundKind::ALL[round],
            };
            (item, seen)
        })
}

/// A log: the steps of the answers added up.
fn log() -> impl Strategy<Value = Vec<(usize, Seen)>> {
    prop::collection::vec(answer(), 0..180).prop_map(|mut answers| {
        let mut now = 20_000 * DAY_MS;
        for (_, seen) in &mut answers {
            now += seen.at.utc_ms;
            seen.at = moment(now);
        }
        answers
    })
}

fn items() -> Vec<ItemFacts> {
    (0..ITEMS)
        .map(|item| ItemFacts {
            weight: [0.01, 0.02, 0.0, 0.05][item % 4],
            chance: [0.25, 0.5, 0.0][item % 3],
            topic: item % 7,
            safety: item % 9 == 0,
        })
        .collect()
}

fn plan(days_left: Option<i64>, now: Moment, rest: u8) -> StudyPlan {
    let rest = [
        chrono::Weekday::Sat,
        chrono::Weekday::Sun,
        chrono::Weekday::Wed,
    ]
    .into_iter()
    .enumerate()
    .filter(|(bit, _)| rest >> bit & 1 == 1)
    .fold(RestDays::NONE, |rest, (_, day)| rest.with(day));
    StudyPlan {
        exam: days_left.map(|days| {
            let at = moment(now.utc_ms + days * DAY_MS - DAY_MS / 3);
            Exam {
                at_days: at.days(),
                day: at.day,
            }
        }),
        seconds_a_day: 1200.0,
        rest,
    }
}

fn after(log: &[(usize, Seen)]) -> Moment {
    moment(
        log.last()
            .map_or(20_000 * DAY_MS, |(_, seen)| seen.at.utc_ms)
            + DAY_MS,
    )
}

/// Items in the order asked when every answer is right and certain at once.
fn asked(engine: &mut Engine, now: Moment) -> Vec<(usize, Why, bool)> {
    engine.open_day(now, 1200.0);
    let mut out = Vec::new();
    while let Some(pick) = engine.next(now) {
        out.push((pick.item, pick.why, pick.reask));
        let at = moment(now.utc_ms + 1000 * i64::try_from(out.len()).unwrap_or(0));
        let seen = Seen {
            at: Moment { day: now.day, ..at },
            right: true,
            confidence: Confidence::Certain,
            seconds: 20.0,
            round: RoundKind::Review,
        };
        engine.observe(pick.item, &seen);
        assert!(out.len() <= 2 * ITEMS, "a day that never ends");
    }
    out
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, ..ProptestConfig::default() })]

    #[test]
    fn replay_is_the_same_as_living_it(log in log(), days in prop::option::of(-2..50_i64), rest in 0..8_u8) {
        let now = after(&log);
        let plan = plan(days, now, rest);
        let mut lived = Engine::new(items(), StudyPlan::default());
        for (number, (item, seen)) in log.iter().enumerate() {
            // rounds are opened, plans change and questions are drawn on the way
            if number % 7 == 0 {
                lived.set_plan(if number % 2 == 0 { plan } else { StudyPlan::default() });
                lived.open_day(seen.at, 600.0);
                lived.next(seen.at);
            }
            lived.observe(*item, seen);
        }
        lived.set_plan(plan);
        let mut replayed = Engine::new(items(), plan);
        for (item, seen) in &log {
            replayed.observe(*item, seen);
            replayed.observe(*item, seen); // a log merged twice
        }
        // Whoever only wants figures, as home and the plan do, gets those that a round would have.
        lived.refit();
        replayed.refit();
        prop_assert_eq!(lived.forecast(now.days() + 9.0), replayed.forecast(now.days() + 9.0));
        let before = replayed.forecast(now.days() + 9.0);
        lived.open_day(now, 1200.0);
        replayed.open_day(now, 1200.0);
        prop_assert_eq!(replayed.forecast(now.days() + 9.0), before);
        prop_assert_eq!(lived.chances(now.days() + 9.0), replayed.chances(now.days() + 9.0));
        prop_assert_eq!(lived.forecast(now.days() + 9.0), replayed.forecast(now.days() + 9.0));
        prop_assert_eq!(asked(&mut lived, now), asked(&mut replayed, now));
        for item in 0..ITEMS {
            prop_assert_eq!(lived.next_due(item), replayed.next_due(item));
        }
    }

    #[test]
    fn a_day_asks_every_item_once_and_re_asks_only_what_was_missed(log in log(), days in 1..60_i64) {
        let now = after(&log);
        let mut engine = Engine::new(items(), plan(Some(days), now, 0));
        for (item, seen) in &log {
            engine.observe(*item, seen);
        }
        let order = asked(&mut engine, now);
        let first: BTreeSet<usize> = order.iter().filter(|ask| !ask.2).map(|ask| ask.0).collect();
        // A clock that ran ahead may have answered an item "later" than today already.
        prop_assert_eq!(first.len(), order.iter().filter(|ask| !ask.2).count());
        for (item, why, reask) in order {
            prop_assert_eq!(reask, why == Why::Again);
            prop_assert!(item < ITEMS);
        }
    }

    #[test]
    fn every_number_is_one(log in log(), days in prop::option::of(prop_oneof![9 => 0..50_i64, 1 => Just(500)]), at in -1e7..1e7_f64) {
        let now = after(&log);
        let plan = plan(days, now, 1);
        let mut engine = Engine::new(items(), plan);
        for (item, seen) in &log {
            engine.observe(*item, seen);
        }
        engine.open_day(now, 1200.0);
        engine.next(now);
        let share = |value: f64| (0.0..=1.0).contains(&value);
        prop_assert!(engine.chances(at).into_iter().all(share));
        for item in 0..ITEMS {
            prop_assert!(share(engine.recall(item, at)));
            prop_assert!(engine.seconds_expected(item).is_finite());
        }
        for forecast in engine.forecast(at).into_iter().chain(engine.outlook(&plan, now, 0.0).and_then(|outlook| outlook.forecast)) {
            prop_assert!(share(forecast.low) && share(forecast.high));
            prop_assert!(forecast.low <= forecast.score && forecast.score <= forecast.high);
        }
        for (_, seconds) in engine.outlook(&plan, now, 0.0).map(|outlook| outlook.load).unwrap_or_default() {
            prop_assert!(seconds.is_finite() && seconds >= 0.0);
        }
        let topics = engine.topics(at);
        let weight: f64 = topics.iter().map(|topic| topic.weight).sum();
        prop_assert!((weight - 1.0).abs() < 1e-9);
        prop_assert!(topics.iter().all(|topic| share(topic.score) && share(topic.at_stake)));
    }

    #[test]
    fn recall_falls_with_time_and_rises_with_what_was_known(
        ln_psi in -1.6..3.0, strength in -2.0..7.3, sooner in 0.0..100.0, more in 0.001..300.0_f64,
    ) {
        let curve = Curve::new(ln_psi);
        prop_assert!(curve.recall(strength, sooner + more) <= curve.recall(strength, sooner));
        prop_assert!(curve.recall(strength + more.min(1.0), sooner) >= curve.recall(strength, sooner));
    }

    #[test]
    fn a_known_answer_never_leaves_less_than_a_miss(
        strength in -1.0..6.0, delay in 0.3..60.0, ease in -1.5..1.5, chance in 0.02..0.5, later in 0.5..60.0,
    ) {
        let learner = Learner::new(Theta::default(), &Honesty::default());
        let before = Trace {
            strength, variance: 0.5, ease, at: 0.0, unknown: 0.3, sittings: 3, known_sittings: 2.0,
        };
        let then = |right, confidence| {
            let mut trace = before;
            learner.step(&mut trace, chance, &Response { at: delay, right, confidence });
            learner.mean_recall(&trace, later)
        };
        let untouched = learner.mean_recall(&before, delay + later);
        let known = then(true, Confidence::Certain);
        prop_assert!(known >= untouched);
        prop_assert!(known >= then(false, Confidence::Guessing));
        prop_assert!(known >= then(false, Confidence::Certain));
    }

    #[test]
    fn a_clock_moved_back_makes_no_negative_time(back in 0.0..1e6) {
        let learner = Learner::new(Theta::default(), &Honesty::default());
        let seen = Response { at: 100.0, right: true, confidence: Confidence::Likely };
        let (mut trace, _) = learner.meet(0.3, 0.25, &seen);
        prop_assert!(trace.delay(100.0 - back) >= 0.0);
        learner.step(&mut trace, 0.25, &Response { at: 100.0 - back, ..seen });
        prop_assert!(trace.at >= 100.0);
        prop_assert!(trace.strength.is_finite());
    }
}
