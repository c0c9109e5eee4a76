//! SM-2 against its publication.
//!
//! Source: P. A. Wozniak, "Optimization of Learning", master's thesis, University of
//! Technology in Poznan, 1990, algorithm SM-2: I(1) := 1, I(2) := 6, for n > 2 I(n) := I(n-1) * EF, fractions rounded up; EF' := EF + (0.1 - (5-q)(0.08 + (5-q) 0.02)),
//! at least 1.3, 2.5 to begin with; q < 3: repetitions start from the beginning without
//! changing the E-Factor. The sequences below are worked out by hand from these rules.

use luxate::answer::{Confidence, Quality};
use luxate::memory::sm2::{EASINESS_FLOOR, Sm2, easiness_after};
use luxate::time::Day;

fn quality(value: u8) -> Quality {
    use Confidence::{Certain, Guessing, Likely};
    match value {
        5 => Quality::of(true, Certain),
        4 => Quality::of(true, Likely),
        3 => Quality::of(true, Guessing),
        2 => Quality::of(false, Guessing),
        1 => Quality::of(false, Likely),
        _ => Quality::of(false, Certain),
    }
}

/// Intervals when every answer comes on its due day.
fn intervals(qualities: &[u8]) -> Vec<u32> {
    let mut day = Day::from_number(20_000);
    let mut state: Option<Sm2> = None;
    let mut out = Vec::new();
    for &value in qualities {
        let next = match state {
            None => Sm2::first(quality(value), day),
            Some(before) => before.after(quality(value), day),
        };
        out.push(next.interval_days);
        day = next.due();
        state = Some(next);
    }
    out
}

#[test]
fn easiness_moves_by_the_published_formula() {
    // Wozniak 1990: the value of the formula at q = 5, 4, 3, 2, 1, 0.
    let published = [0.10, 0.00, -0.14, -0.32, -0.54, -0.80];
    for (value, change) in (0..=5).rev().zip(published) {
        let got = easiness_after(2.5, quality(value)) - 2.5;
        assert!((got - change).abs() < 1e-12, "q = {value}: {got}");
    }
}

#[test]
fn constant_four_keeps_the_easiness_at_two_and_a_half() {
    // 6 x 2.5 = 15; 37.5 -> 38; 95; 237.5 -> 238; 595
    assert_eq!(intervals(&[4; 7]), [1, 6, 15, 38, 95, 238, 595]);
}

#[test]
fn constant_five_raises_the_easiness_by_a_tenth_each_time() {
    // The easiness before the third answer is 2.7: 16.2 -> 17; x 2.8 = 47.6 -> 48;
    // x 2.9 = 139.2 -> 140; x 3.0 = 420
    assert_eq!(intervals(&[5; 5]), [1, 6, 17, 48, 140]);
    let sixth = intervals(&[5; 6])[5];
    // 2.5 + 5 x 0.1 is 3.0 but for the last bit of a double: 420 or, rounded up, 421.
    assert!((420..=421).contains(&sixth));
}

#[test]
fn constant_three_lowers_the_easiness_to_its_floor() {
    // 2.5 - 2 x 0.14 = 2.22: 13.32 -> 14; x 2.08 = 29.12 -> 30; x 1.94 = 58.2 -> 59;
    // x 1.80 = 106.2 -> 107
    assert_eq!(intervals(&[3; 6]), [1, 6, 14, 30, 59, 107]);
    let day = Day::from_number(20_000);
    let mut state = Sm2::first(quality(3), day);
    for _ in 0..20 {
        state = state.after(quality(3), state.due());
    }
    assert!((state.easiness - EASINESS_FLOOR).abs() < f64::EPSILON);
}

#[test]
fn below_three_the_item_starts_again_with_its_easiness_unchanged() {
    for failing in 0..3 {
        assert_eq!(
            intervals(&[4, 4, 4, failing, 4, 4, 4]),
            [1, 6, 15, 1, 6, 15, 38],
            "q = {failing}"
        );
        let day = Day::from_number(20_000);
        let first = Sm2::first(quality(5), day);
        let failed = first.after(quality(failing), first.due());
        assert!((failed.easiness - first.easiness).abs() < f64::EPSILON);
        // a failure at the very first meeting leaves 2.5
        assert!((Sm2::first(quality(failing), day).easiness - 2.5).abs() < f64::EPSILON);
    }
}

#[test]
fn only_four_and_five_end_the_days_repetitions() {
    // Wozniak 1990: after the day's session all items below four are repeated until they
    // score at least four.
    let again: Vec<bool> = (0..=5).map(|value| quality(value).asks_again()).collect();
    assert_eq!(again, [true, true, true, true, false, false]);
}
