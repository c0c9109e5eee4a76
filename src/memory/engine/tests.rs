//! The engine as a face drives it.

use super::*;
use crate::answer::Confidence;
use crate::memory::outlook::Outlook;
use crate::memory::pick::Why;
use crate::memory::study::Exam;

fn moment(day: i64, second: i64) -> Moment {
    Moment {
        utc_ms: day * 86_400_000 + 64_800_000 + second * 1000,
        day: Day::from_number(day),
        offset_min: 0,
    }
}

fn engine(items: usize) -> Engine {
    let facts = ItemFacts {
        weight: 0.1,
        chance: 0.25,
        topic: 0,
        safety: false,
    };
    Engine::new(vec![facts; items], StudyPlan::default())
}

fn answer(engine: &mut Engine, item: usize, at: Moment, right: bool) {
    let seen = Seen {
        at,
        right,
        confidence: Confidence::Certain,
        seconds: 20.0,
        round: RoundKind::Review,
    };
    engine.observe(item, &seen);
}

#[test]
fn unseen_items_come_by_number_and_due_ones_before_them() {
    let mut engine = engine(4);
    engine.open_day(moment(100, 0), 1800.0);
    for item in [0, 1] {
        let pick = engine.next(moment(100, 0)).unwrap();
        assert_eq!((pick.item, pick.why), (item, Why::Unseen));
        answer(&mut engine, item, moment(100, 1), true);
    }
    engine.open_day(moment(101, 0), 1800.0);
    let order: Vec<(usize, Why)> = (0..4)
        .map(|second| {
            let pick = engine.next(moment(101, second)).unwrap();
            answer(&mut engine, pick.item, moment(101, second), true);
            (pick.item, pick.why)
        })
        .collect();
    let expected = [
        (0, Why::Due),
        (1, Why::Due),
        (2, Why::Unseen),
        (3, Why::Unseen),
    ];
    assert_eq!(order, expected);
    assert_eq!(engine.next(moment(101, 9)), None);
}

#[test]
fn a_missed_item_comes_back_after_eight_others_or_at_the_end() {
    let mut engine = engine(12);
    engine.open_day(moment(100, 0), 1800.0);
    let mut asked = Vec::new();
    while let Some(pick) = engine.next(moment(100, 0)) {
        asked.push(pick.item);
        // everything is wrong at first and right when re-asked
        answer(&mut engine, pick.item, moment(100, 1), pick.reask);
    }
    assert_eq!(asked[..10], [0, 1, 2, 3, 4, 5, 6, 7, 8, 0]);
    assert_eq!(asked.len(), 24);
    assert_eq!(engine.reasks_waiting(Day::from_number(100)), 0);
}

#[test]
fn next_is_the_same_until_something_happens() {
    let mut engine = engine(3);
    engine.open_day(moment(100, 0), 1800.0);
    assert_eq!(engine.next(moment(100, 0)), engine.next(moment(100, 50)));
    assert_eq!(engine.workload(Day::from_number(100)).unseen, 3);
}

#[test]
fn a_round_taken_up_again_keeps_its_re_asks_and_the_next_day_drops_them() {
    let mut engine = engine(2);
    engine.open_day(moment(100, 0), 1800.0);
    answer(&mut engine, 0, moment(100, 1), false);
    engine.open_day(moment(100, 600), 1800.0);
    assert_eq!(engine.reasks_waiting(Day::from_number(100)), 1);
    engine.open_day(moment(101, 0), 1800.0);
    assert_eq!(engine.reasks_waiting(Day::from_number(101)), 0);
    assert_eq!(engine.workload(Day::from_number(101)).due, 1);
    assert_eq!(engine.next_due(0), Some(Day::from_number(101)));
}

#[test]
fn a_paper_is_never_interrupted_by_re_asks() {
    let mut engine = engine(2);
    let seen = Seen {
        at: moment(100, 0),
        right: false,
        confidence: Confidence::Certain,
        seconds: 20.0,
        round: RoundKind::Paper,
    };
    engine.observe(0, &seen);
    engine.observe(99, &seen);
    assert_eq!(engine.reasks_waiting(Day::from_number(100)), 0);
    assert!(seen.is_confident_error());
}

fn before_exam(items: usize, days: u32) -> Engine {
    let facts = |item: usize| ItemFacts {
        weight: 1.0,
        chance: 0.25,
        topic: item % 3,
        safety: item == 0,
    };
    let day = Day::from_number(100);
    let exam = Exam {
        at_days: moment(100, 0).days() + f64::from(days) - 0.35,
        day: day.plus(days),
    };
    let plan = StudyPlan {
        exam: Some(exam),
        ..StudyPlan::default()
    };
    Engine::new((0..items).map(facts).collect(), plan)
}

#[test]
fn safety_items_and_confident_errors_come_back_the_same_day_with_an_exam_ahead() {
    let mut engine = before_exam(40, 20);
    engine.open_day(moment(100, 0), 1800.0);
    let mut asked = Vec::new();
    for second in 0..40 {
        let pick = engine.next(moment(100, second)).unwrap();
        let mut seen = Seen {
            at: moment(100, second),
            right: pick.reask || pick.item > 1,
            confidence: Confidence::Likely,
            seconds: 20.0,
            round: RoundKind::Review,
        };
        if pick.item == 1 && !pick.reask {
            seen.confidence = Confidence::Certain;
        }
        engine.observe(pick.item, &seen);
        asked.push((pick.item, pick.reask));
    }
    for item in [0, 1] {
        let place = |reask| asked.iter().position(|ask| *ask == (item, reask)).unwrap();
        assert!(place(true) > place(false) + 8);
    }
}

#[test]
fn with_an_exam_ahead_items_are_asked_before_they_are_due_and_it_is_said() {
    let mut engine = before_exam(5, 8);
    for day in [100, 101, 107] {
        engine.open_day(moment(day, 0), 1800.0);
        for second in 0..5 {
            let pick = engine.next(moment(day, second)).unwrap();
            let late = engine
                .next_due(pick.item)
                .is_some_and(|due| due.number() >= 108);
            assert_eq!(late, matches!(pick.why, Why::BeyondExam { .. }));
            answer(&mut engine, pick.item, moment(day, second), true);
        }
        assert_eq!(engine.next(moment(day, 9)), None);
    }
    // Once the exam has begun, the order is SM-2's again.
    engine.open_day(moment(108, 0), 1800.0);
    assert_eq!(engine.next(moment(108, 0)), None);
}

#[test]
fn spot_checks_come_by_and_by() {
    let mut engine = before_exam(60, 30);
    let mut checks = 0;
    for day in 100..106 {
        engine.open_day(moment(day, 0), 1800.0);
        for second in 0..45 {
            let pick = engine.next(moment(day, second)).unwrap();
            checks += usize::from(pick.why == Why::SpotCheck);
            answer(&mut engine, pick.item, moment(day, second), second % 3 > 0);
        }
    }
    assert!((8..=18).contains(&checks), "{checks}");
    assert!(engine.forecast(130.0).is_some());
}

#[test]
fn no_day_is_promised_more_new_items_than_it_has_room_for() {
    let engine = before_exam(200, 60);
    let seconds = engine.seconds_expected(0);
    let mut days = Vec::new();
    for minutes in [30_u32, 60, 240] {
        let plan = StudyPlan {
            seconds_a_day: f64::from(minutes) * 60.0,
            ..*engine.plan()
        };
        let outlook = engine.outlook(&plan, moment(100, 0), 0.0).unwrap();
        let Some(last) = outlook.all_met else {
            continue;
        };
        let ahead = u32::try_from(last.number() - 100).unwrap();
        let met = u32::try_from(200 - outlook.never_met).unwrap();
        let room = f64::from(minutes) * 60.0 * f64::from(ahead + 1);
        assert!(
            seconds * f64::from(met) <= room + 60.0,
            "{met} items in {ahead} days of {minutes} minutes"
        );
        days.push(ahead);
    }
    assert!(
        days.len() >= 2 && days.is_sorted_by(|few, many| few >= many),
        "{days:?}"
    );
}

#[test]
fn an_outlook_promises_more_than_stopping_and_less_than_all() {
    let mut engine = before_exam(200, 30);
    for day in 100..108 {
        engine.open_day(moment(day, 0), 1800.0);
        for second in 0..60 {
            let pick = engine.next(moment(day, second)).unwrap();
            answer(&mut engine, pick.item, moment(day, second), second % 4 > 0);
        }
    }
    let plan = *engine.plan();
    let at = plan.exam.unwrap().at_days;
    let idle = engine.forecast(at).unwrap().score;
    let more = |minutes: f64| {
        let plan = StudyPlan {
            seconds_a_day: minutes * 60.0,
            ..plan
        };
        engine.outlook(&plan, moment(108, 0), 0.0).unwrap()
    };
    let (few, many) = (more(5.0), more(45.0));
    let score = |outlook: &Outlook| outlook.forecast.unwrap().score;
    assert!(idle < score(&few) && score(&few) < score(&many) && score(&many) < 1.0);
    assert!(few.never_met >= many.never_met);
    assert_eq!(many.load.len(), 22);
    let all: f64 = engine.topics(at).iter().map(|topic| topic.at_stake).sum();
    assert!((1.0 - all - idle).abs() < 1e-9);
}

#[test]
fn more_minutes_meet_more_items_also_if_all_are_alike() {
    let engine = before_exam(300, 3);
    let outlook = |minutes: u32, spent: f64| {
        let plan = StudyPlan {
            seconds_a_day: f64::from(minutes) * 60.0,
            ..*engine.plan()
        };
        engine.outlook(&plan, moment(100, 0), spent).unwrap()
    };
    let unmet: Vec<usize> = (5..=60)
        .step_by(5)
        .map(|minutes| outlook(minutes, 0.0).never_met)
        .collect();
    assert!(unmet.is_sorted_by(|few, many| few >= many), "{unmet:?}");
    let (some, all) = (unmet[0], unmet[unmet.len() - 1]);
    assert!(some > 200 && all < some, "{unmet:?}");
    // What was spent today is not there a second time.
    assert!(outlook(20, 1200.0).never_met > outlook(20, 0.0).never_met);
    assert!(outlook(20, 1200.0).load[0].1.abs() < 1e-9);
    // Where some are left over, no day is named by which all are met.
    assert!(outlook(5, 0.0).all_met.is_none_or(|_| some < 300));
}
