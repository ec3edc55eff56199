//! Turn-round: the calendar days that a pair takes from stage to stage, once for each pair.
//!
//! A stage counts in the period in which it ended. A pair that went back counts from its order to the
//! valid verification, including all rounds between.

use chrono::NaiveDate;

use super::line::{Figure, FigureLine};
use super::period::Period;
use super::record::CountedJob;
use super::sparkline::{PARTS, Parts};
use super::spread::Spread;

/// The intervals whose days are counted.
const INTERVALS: [&str; 4] = [
    "measured to ordered",
    "ordered to verified",
    "verified to collected",
    "measured to collected",
];

/// Days of one interval.
#[derive(Debug, Clone, Default)]
struct Interval {
    days: Spread,
    parts: Parts,
}

/// Turn-round of one period.
#[derive(Debug, Clone)]
pub(crate) struct TurnRound {
    intervals: [Interval; INTERVALS.len()],
}

impl Default for TurnRound {
    fn default() -> Self {
        Self {
            intervals: std::array::from_fn(|_| Interval {
                days: Spread::default(),
                parts: [0; PARTS],
            }),
        }
    }
}

impl TurnRound {
    /// Counts a job.
    pub(crate) fn add(&mut self, record: &CountedJob, period: &Period) {
        let verified = record.verified().map(|v| v.1);
        let ends: [(Option<NaiveDate>, Option<NaiveDate>); INTERVALS.len()] = [
            (record.begun(), record.ordered_on()),
            (record.ordered_on(), verified),
            (verified, record.collected_on()),
            (record.begun(), record.collected_on()),
        ];
        for (interval, ends) in self.intervals.iter_mut().zip(ends) {
            let (Some(from), Some(to)) = ends else {
                continue;
            };
            // Negative times, from a clock that was set back, are not counted.
            let Ok(days) = u64::try_from((to - from).num_days()) else {
                continue;
            };
            if let Some(part) = period.part(to) {
                interval.days.add(days);
                if let Some(count) = interval.parts.get_mut(part) {
                    *count += 1;
                }
            }
        }
    }

    /// Returns the days of every interval.
    pub(crate) fn lines(now: &Self, before: &Self) -> Vec<FigureLine> {
        INTERVALS
            .iter()
            .zip(now.intervals.iter().zip(&before.intervals))
            .map(|(label, (now, before))| {
                FigureLine::new(
                    "calendar days",
                    *label,
                    Figure::Days(now.days.clone()),
                    Figure::Days(before.days.clone()),
                )
                .with(now.parts)
            })
            .collect()
    }
}
