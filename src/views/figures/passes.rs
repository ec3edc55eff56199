//! First-time passes: verified pairs that never went back, of all verified pairs.

use std::collections::BTreeMap;

use super::line::{Figure, FigureLine, names};
use super::period::Period;
use super::rate::Rate;
use super::record::CountedJob;
use super::sparkline::{PARTS, Parts};

/// Verifications of one period, by laboratory.
#[derive(Debug, Clone)]
pub(crate) struct Passes {
    laboratories: BTreeMap<String, Rate>,
    parts: Parts,
}

impl Default for Passes {
    fn default() -> Self {
        Self {
            laboratories: BTreeMap::new(),
            parts: [0; PARTS],
        }
    }
}

impl Passes {
    /// Counts a job.
    pub(crate) fn add(&mut self, record: &CountedJob, period: &Period) {
        let Some(part) = record.verified().and_then(|(_, on)| period.part(on)) else {
            return;
        };
        let at = self
            .laboratories
            .entry(record.laboratory().to_owned())
            .or_default();
        at.of += 1;
        if record.is_first_time() {
            at.count += 1;
            if let Some(count) = self.parts.get_mut(part) {
                *count += 1;
            }
        }
    }

    /// Number of pairs verified and not sent back afterwards.
    pub(crate) fn verified(&self) -> u64 {
        self.laboratories.values().map(|r| r.of).sum()
    }

    /// Pairs verified and not sent back afterwards, by laboratory.
    pub(crate) fn by_laboratory(&self) -> &BTreeMap<String, Rate> {
        &self.laboratories
    }

    fn whole(&self) -> Figure {
        Figure::rate(
            self.laboratories.values().map(|r| r.count).sum(),
            self.verified(),
        )
    }

    /// Returns first-time passes by laboratory.
    pub(crate) fn lines(now: &Self, before: &Self) -> Vec<FigureLine> {
        const GROUP: &str = "passed the first time";
        let whole =
            FigureLine::new(GROUP, "all laboratories", now.whole(), before.whole()).with(now.parts);
        let (a, b) = (&now.laboratories, &before.laboratories);
        std::iter::once(whole)
            .chain(names(a, b, |r| r.of).into_iter().map(|name| {
                let of = |t: &BTreeMap<String, Rate>| {
                    Figure::Rate(t.get(name).copied().unwrap_or_default())
                };
                FigureLine::new(GROUP, name.clone(), of(a), of(b))
            }))
            .collect()
    }
}
