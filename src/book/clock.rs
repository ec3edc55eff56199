//! The only place that asks what day it is.

use chrono::{
    Local, MappedLocalTime, NaiveDate, NaiveDateTime, NaiveTime, Offset, TimeDelta, TimeZone,
};

/// Name of the environment variable that fixes the day for trials and tests.
pub(crate) const TODAY_VARIABLE: &str = "RIMBOOK_TODAY";

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

    /// Returns the seconds since 1970 in UTC, whatever day a trial has fixed and whatever zone is set.
    #[allow(
        clippy::disallowed_methods,
        reason = "the one place where the time comes from"
    )]
    pub fn utc_s(self) -> i64 {
        chrono::Utc::now().timestamp()
    }

    /// Returns the present moment whatever day a trial has fixed: a wait is not shortened by one.
    pub fn wall(self) -> NaiveDateTime {
        now()
    }
}

/// Returns seconds since 1970 in UTC as the local time of this machine; `None` beyond the calendar.
pub(crate) fn local_of_utc_s(seconds: i64) -> Option<NaiveDateTime> {
    let utc = chrono::DateTime::from_timestamp(seconds, 0)?;
    Some(utc.with_timezone(&Local).naive_local())
}

/// Returns a local day and time as UTC, by the rule of the machine's zone for that day.
///
/// Of an hour that a clock put back shows twice, the first is meant. A time that a clock put forward
/// leaves out is taken as far behind the jump as it was written behind its beginning.
pub(crate) fn utc_of(local: NaiveDateTime) -> NaiveDateTime {
    let in_zone = |local: NaiveDateTime| match Local.from_local_datetime(&local) {
        MappedLocalTime::Ambiguous(one, other) => Some(one.min(other)),
        found => found.single(),
    };
    in_zone(local)
        .or_else(|| {
            // No zone has ever left out more than a day at once.
            let before = (1..=24).find_map(|h| in_zone(local - TimeDelta::hours(h)))?;
            let offset = before.offset().fix();
            offset
                .from_local_datetime(&local)
                .earliest()
                .map(|t| t.with_timezone(&Local))
        })
        .map_or(local, |t| t.naive_utc())
}

/// Returns how far the clock of this machine is ahead of UTC now, as RFC 3339 writes it: `+01:00`.
#[allow(
    clippy::disallowed_methods,
    reason = "the one place where the time comes from"
)]
pub(crate) fn offset_now() -> String {
    Local::now().format("%:z").to_string()
}

/// Returns the present local moment whatever day a trial has fixed, in whole seconds.
pub(crate) fn local_now() -> NaiveDateTime {
    now()
}

#[allow(
    clippy::disallowed_methods,
    reason = "the one place where the time comes from"
)]
fn now() -> NaiveDateTime {
    let now = Local::now().naive_local();
    // Whole seconds: history is read by people.
    now.date().and_time(
        NaiveTime::from_num_seconds_from_midnight_opt(
            chrono::Timelike::num_seconds_from_midnight(&now),
            0,
        )
        .unwrap_or_default(),
    )
}
