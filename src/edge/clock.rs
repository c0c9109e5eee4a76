//! The one place that reads the clock.

use std::time::Instant;

use chrono::{DateTime, FixedOffset, Local};
use thiserror::Error;

use crate::time::Moment;

/// Environment variable that fixes the clock for demonstrations and tests.
pub const NOW_VARIABLE: &str = "LUXATE_NOW";

/// The value of `LUXATE_NOW` is no time.
#[derive(Debug, Error)]
#[error(
    "LUXATE_NOW is {given:?}, which is no time of the form 2027-03-02T19:30:00+01:00; correct it or unset it"
)]
pub struct BadNow {
    given: String,
}

/// A clock: the system's, or one that starts at a given time.
#[derive(Clone, Copy, Debug)]
pub struct Clock {
    fixed: Option<DateTime<FixedOffset>>,
    started: Instant,
    turnover_hour: u8,
}

impl Clock {
    /// The clock whose study day turns over at `turnover_hour` (0 to 23); it stands still at the time that
    /// `LUXATE_NOW` gives, if it is set.
    ///
    /// # Errors
    /// [`BadNow`] if the variable is set and is no RFC 3339 time.
    pub fn from_environment(turnover_hour: u8) -> Result<Self, BadNow> {
        let fixed = match std::env::var_os(NOW_VARIABLE) {
            None => None,
            Some(given) => {
                let given = given.to_string_lossy().into_owned();
                match DateTime::parse_from_rfc3339(given.trim()) {
                    Ok(time) => Some(time),
                    Err(_) => return Err(BadNow { given }),
                }
            }
        };
        Ok(Self {
            fixed,
            started: Instant::now(),
            turnover_hour,
        })
    }

    /// This moment.
    #[must_use]
    #[expect(
        clippy::disallowed_methods,
        reason = "this is the one place that reads the clock"
    )]
    pub fn now(&self) -> Moment {
        let local = self.fixed.unwrap_or_else(|| Local::now().fixed_offset());
        Moment::new(local, self.turnover_hour)
    }

    /// Seconds since the clock was made, from a clock that is never set back; also when the time is fixed.
    #[must_use]
    pub fn elapsed(&self) -> f64 {
        self.started.elapsed().as_secs_f64()
    }
}
