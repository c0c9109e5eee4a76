//! The load ahead: what each of the next days holds.

use super::engine::Engine;
use super::sm2::Sm2;
use crate::time::Moment;

impl Engine {
    /// Seconds of questions that fall on each of the next `days` study days, today first, counting the next asking of every
    /// item that has been met: where the plan puts it with an exam ahead, on its due day without one. Unseen items
    /// have no day of their own yet: they fill what is left.
    #[must_use]
    pub fn load(&self, now: Moment, days: usize) -> Vec<f64> {
        let mut load = vec![0.0; days];
        let plan = *self.plan();
        let planned = self.clone().plan_ahead(&plan, now, plan.seconds_a_day);
        for (item, slot) in self.slots.iter().enumerate() {
            let Some(due) = slot.sm2.map(Sm2::due).filter(|_| !slot.set_aside) else {
                continue;
            };
            let ahead = match &planned {
                Some((kept, left)) => kept.items[item]
                    .choice
                    .map(|choice| left.saturating_sub(choice.left)),
                None => Some(usize::try_from(due.since(now.day)).unwrap_or(0)),
            };
            if let Some(seconds) = ahead.and_then(|ahead| load.get_mut(ahead)) {
                *seconds += self.seconds_expected(item);
            }
        }
        load
    }
}
