//! Lefts to be given their rights. Right means every pair.

use super::{Form, Line, Pose, Standing, Verdict, letter, number};
use crate::deck::model::Match;

pub(super) fn form(pairs: &Match, pose: &Pose) -> Form {
    let rights = pairs.rights();
    Form::Pairs {
        lefts: pose
            .order
            .iter()
            .filter_map(|&index| Some(pairs.pairs.get(index)?.left.clone()))
            .collect(),
        rights: pose
            .targets
            .iter()
            .filter_map(|&index| Some((*rights.get(index)?).to_owned()))
            .collect(),
    }
}

pub(super) fn mark(pairs: &Match, pose: &Pose, places: &[usize]) -> Verdict {
    let rights = pairs.rights();
    let mut verdict = Verdict {
        right: true,
        key: Vec::new(),
        logged: Vec::new(),
        lines: Vec::new(),
        beliefs: Vec::new(),
    };
    for (place, (&index, &target)) in pose.order.iter().zip(places).enumerate() {
        let (Some(pair), Some(&given)) = (pairs.pairs.get(index), pose.targets.get(target)) else {
            continue;
        };
        let given_text = rights.get(given).copied().unwrap_or_default();
        let hit = given_text == pair.right;
        verdict.right &= hit;
        let key = pose
            .targets
            .iter()
            .position(|&right| rights.get(right) == Some(&pair.right.as_str()));
        verdict
            .key
            .push(letter(place) + number(key.unwrap_or_default()).as_str());
        verdict.logged.push(letter(index) + number(given).as_str());
        let why_not = pairs
            .extra
            .iter()
            .find(|extra| extra.text == given_text)
            .map(|extra| extra.why.as_str());
        verdict.lines.push(Line {
            label: letter(place),
            text: format!("{}: {}", pair.left, pair.right),
            standing: if hit { Standing::Hit } else { Standing::Wrong },
            given: (!hit).then(|| match why_not {
                Some(why) => format!("you chose {given_text}. {why}"),
                None => format!("you chose {given_text}"),
            }),
            why: pair.why.clone(),
        });
    }
    verdict.logged.sort();
    verdict
}
