//! Single best answer and multiple response: options with one or more keys.

use super::{Line, Pose, Standing, Verdict, letter};
use crate::deck::model::{AnswerOption, Choice};

fn shown<'a>(
    choice: &'a Choice,
    pose: &'a Pose,
) -> impl Iterator<Item = (usize, &'a AnswerOption)> {
    pose.order
        .iter()
        .filter_map(|&index| Some((index, choice.options.get(index)?)))
}

pub(super) fn texts(choice: &Choice, pose: &Pose) -> Vec<String> {
    shown(choice, pose)
        .map(|(_, option)| option.text.clone())
        .collect()
}

/// Right means every key and nothing else.
pub(super) fn mark(choice: &Choice, pose: &Pose, places: &[usize]) -> Verdict {
    let mut verdict = Verdict {
        right: true,
        key: Vec::new(),
        logged: Vec::new(),
        lines: Vec::new(),
        beliefs: Vec::new(),
    };
    for (place, (index, option)) in shown(choice, pose).enumerate() {
        let chosen = places.contains(&place);
        verdict.right &= chosen == option.key;
        if option.key {
            verdict.key.push(letter(place));
        }
        if chosen {
            verdict.logged.push(letter(index));
        }
        if chosen && !option.key {
            verdict.beliefs.extend(option.belief.clone());
        }
        verdict.lines.push(Line {
            label: letter(place),
            text: option.text.clone(),
            standing: match (option.key, chosen) {
                (true, true) => Standing::Hit,
                (true, false) => Standing::Missed,
                (false, true) => Standing::Wrong,
                (false, false) => Standing::Other,
            },
            given: None,
            why: option.why.clone(),
        });
    }
    verdict.logged.sort();
    verdict
}
