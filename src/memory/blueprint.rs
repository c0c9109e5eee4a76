//! What each item counts in the exam.
//!
//! A topic's weight is shared among its items. Topics that no item covers are left out of
//! the sum, and their share is said, not hidden.

/// Shares of the exam.
#[derive(Clone, Debug, PartialEq)]
pub struct Shares {
    /// Share of each item; they add up to 1 (or to 0 if nothing carries weight).
    pub weights: Vec<f64>,
    /// Share of the blueprint that no item covers, 0 to 1.
    pub uncovered: f64,
}

/// Shares out `topic_weights` among items whose topics are `topics`. A weight that is
/// negative or no number counts as 0, as does the weight of a topic that is not listed.
#[must_use]
pub fn shares(topic_weights: &[f64], topics: &[usize]) -> Shares {
    let weight = |topic: usize| {
        topic_weights.get(topic).map_or(
            0.0,
            |weight| if *weight > 0.0 { weight.min(1e9) } else { 0.0 },
        )
    };
    let mut counts = vec![0_u32; topic_weights.len()];
    for &topic in topics {
        if let Some(count) = counts.get_mut(topic) {
            *count = count.saturating_add(1);
        }
    }
    let total: f64 = (0..counts.len()).map(weight).sum();
    let covered: f64 = (0..counts.len())
        .filter(|topic| counts[*topic] > 0)
        .map(weight)
        .sum();
    let share = |topic: usize| match counts.get(topic) {
        Some(&count) if covered > 0.0 && count > 0 => weight(topic) / covered / f64::from(count),
        _ => 0.0,
    };
    Shares {
        weights: topics.iter().map(|topic| share(*topic)).collect(),
        uncovered: if total > 0.0 {
            1.0 - covered / total
        } else {
            0.0
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_topic_is_shared_by_its_items_and_gaps_are_said() {
        let out = shares(&[2.0, 1.0, 1.0], &[0, 1, 0, 0]);
        assert!((out.weights[0] - 2.0 / 9.0).abs() < 1e-12);
        assert!((out.weights[1] - 1.0 / 3.0).abs() < 1e-12);
        assert!((out.weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!((out.uncovered - 0.25).abs() < 1e-12);
    }

    #[test]
    fn absurd_weights_stay_finite() {
        for weights in [vec![], vec![f64::NAN, f64::INFINITY], vec![-1.0, 0.0]] {
            let out = shares(&weights, &[0, 1, 7]);
            assert!(out.weights.iter().all(|share| (0.0..=1.0).contains(share)));
            assert!((0.0..=1.0).contains(&out.uncovered));
        }
    }
}
