//! The only place that asks what day it is.

use chrono::{NaiveDate, NaiveDateTime, NaiveTime};

/// Name of the environment variable that fixes the day for trials and tests.
pub const TODAY_VARIABLE: &str = "RIMBOOK_TODAY";

/// The day and the time, or a day fixed for a trial.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Clock {
    /// The day that a trial has fixed.
    pub fixed: Option<NaiveDate>,
}

impl Clock {
    /// Returns the clock that the environment asks for.
    ///
    /// # Errors
    /// A sentence when the variable is set to something that is no day.
    pub fn from_environment() -> Result<Self, String> {
        let Some(text) = std::env::var_os(TODAY_VARIABLE).filter(|t| !t.is_empty()) else {
            return Ok(Self::default());
        };
        text.to_str()
            .and_then(|t| t.parse().ok())
            .map(|day| Self { fixed: Some(day) })
            .ok_or_else(|| {
                format!("{TODAY_VARIABLE} is no day: write it as 2026-12-03, or unset it")
            })
    }

    /// Returns today.
    pub fn today(self) -> NaiveDate {
        self.fixed.unwrap_or_else(|| now().date())
    }

    /// Returns the present moment; on a fixed day, that day at the present time of day.
    pub fn now(self) -> NaiveDateTime {
        let now = now();
        match self.fixed {
            Some(day) => day.and_time(now.time()),
            None => now,
        }
    }

    /// Returns the present moment whatever day a trial has fixed: a wait is not shortened by one.
    pub fn wall(self) -> NaiveDateTime {
        now()
    }
}

#[allow(
    clippy::disallowed_methods,
    reason = "the one place where the time comes from"
)]
fn now() -> NaiveDateTime {
    let now = chrono::Local::now().naive_local();
    // Whole seconds: history is read by people.
    now.date().and_time(
        NaiveTime::from_num_seconds_from_midnight_opt(
            chrono::Timelike::num_seconds_from_midnight(&now),
            0,
        )
        .unwrap_or_default(),
    )
}
