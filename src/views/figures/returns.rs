//! Send-backs: each round of a pair that ended with the pair going back, by check and laboratory.

use std::collections::{BTreeMap, BTreeSet};

use super::line::{Counts, Figure, FigureLine, names, shares};
use super::passes::Passes;
use super::period::Period;
use super::record::{CountedJob, EventKind};
use super::sparkline::{PARTS, Parts};

/// Label of a send-back without a check; its reason is free text in the job's history.
pub(crate) const NO_CHECK: &str = "none (reason in words)";

/// Send-backs of one period.
#[derive(Debug, Clone)]
pub(crate) struct Returns {
    checks: Counts,
    laboratories: Counts,
    parts: Parts,
}

impl Default for Returns {
    fn default() -> Self {
        Self {
            checks: Counts::new(),
            laboratories: Counts::new(),
            parts: [0; PARTS],
        }
    }
}

impl Returns {
    /// Counts a job.
    pub(crate) fn add(&mut self, record: &CountedJob, period: &Period) {
        for (_, event) in record.sent_back() {
            let (Some(part), EventKind::SentBack { checks, .. }) =
                (period.part(event.on), &event.what)
            else {
                continue;
            };
            if let Some(count) = self.parts.get_mut(part) {
                *count += 1;
            }
            *self
                .laboratories
                .entry(record.laboratory().to_owned())
                .or_default() += 1;
            // Both eyes of a pair that fail the same check are one reason.
            let mut reasons: BTreeSet<&str> = checks.iter().map(String::as_str).collect();
            if reasons.is_empty() {
                reasons.insert(NO_CHECK);
            }
            for reason in reasons {
                *self.checks.entry(reason.to_owned()).or_default() += 1;
            }
        }
    }

    /// How many there were.
    pub(crate) fn number(&self) -> u64 {
        self.laboratories.values().sum()
    }

    /// Returns send-backs by check and by laboratory: of all rounds that ended, by going back or with
    /// a valid verification.
    pub(crate) fn lines(now: (&Self, &Passes), before: (&Self, &Passes)) -> Vec<FigureLine> {
        const BY_LABORATORY: &str = "rounds that ended with a send-back";
        let whole = |(returns, passes): (&Self, &Passes)| {
            Figure::rate(
                returns.number(),
                returns.number().saturating_add(passes.verified()),
            )
        };
        let mut lines = vec![
            FigureLine::new(BY_LABORATORY, "all laboratories", whole(now), whole(before))
                .with(now.0.parts),
        ];
        let rounds = |(returns, passes): (&Self, &Passes)| -> BTreeMap<String, (u64, u64)> {
            let mut all: BTreeMap<String, (u64, u64)> = BTreeMap::new();
            for (name, count) in &returns.laboratories {
                let at = all.entry(name.clone()).or_default();
                *at = (at.0 + count, at.1 + count);
            }
            for (name, verified) in passes.by_laboratory() {
                all.entry(name.clone()).or_default().1 += verified.of;
            }
            all
        };
        let (a, b) = (rounds(now), rounds(before));
        lines.extend(names(&a, &b, |r| r.0).into_iter().map(|name| {
            let of = |t: &BTreeMap<String, (u64, u64)>| {
                let (back, all) = t.get(name).copied().unwrap_or_default();
                Figure::rate(back, all)
            };
            FigureLine::new(BY_LABORATORY, name.clone(), of(&a), of(&b))
        }));
        lines.extend(shares(
            "send-backs in which a check failed",
            (&now.0.checks, now.0.number()),
            (&before.0.checks, before.0.number()),
        ));
        lines
    }
}
