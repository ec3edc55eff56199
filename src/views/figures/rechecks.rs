//! Rechecks and remakes: pairs that their wearers could not get on with, against pairs handed over.
//!
//! Those that came back in the period and those handed over in it are not the same pairs: the share
//! is the usual one of a practice's books, and the interval takes the two as if they were.

use super::line::{Counts, Figure, FigureLine, shares};
use super::period::Period;
use super::record::CountedJob;
use super::sparkline::{PARTS, Parts};
use crate::job::{CostBearer, Outcome, Reason};

/// Label of rechecks without a recorded cause or outcome.
pub(crate) const NOT_SAID: &str = "not recorded yet";

/// Published figures, shown with the practice's own.
pub(crate) const REFERENCE: &str = "Published: 2.1 % of pairs came back (95 % CI 1.6-2.7), pooled over studies; Bist et al., \
    Ophthalmic Physiol Opt 2021;41:610-622. Studies count differently: a reference, not a target.";

/// Rechecks and handovers of one period.
#[derive(Debug, Clone)]
pub(crate) struct Rechecks {
    handed_over: u64,
    begun: u64,
    of_past: u64,
    remade: u64,
    remade_at_own_cost: u64,
    begun_as_remake: u64,
    causes: Counts,
    remade_by_cause: Counts,
    outcomes: Counts,
    costs: Counts,
    parts: Parts,
}

impl Default for Rechecks {
    fn default() -> Self {
        Self {
            handed_over: 0,
            begun: 0,
            of_past: 0,
            remade: 0,
            remade_at_own_cost: 0,
            begun_as_remake: 0,
            causes: Counts::new(),
            remade_by_cause: Counts::new(),
            outcomes: Counts::new(),
            costs: Counts::new(),
            parts: [0; PARTS],
        }
    }
}

impl Rechecks {
    /// Counts a job.
    pub(crate) fn add(&mut self, record: &CountedJob, period: &Period) {
        let is_in = |day: Option<chrono::NaiveDate>| day.is_some_and(|d| period.contains(d));
        if record.is_new_pair() && is_in(record.collected_on()) {
            self.handed_over += 1;
        }
        if record.reason == Some(Reason::Remake) && is_in(record.ordered_on()) {
            self.begun_as_remake += 1;
        }
        let Some(part) = record.recheck_begun().and_then(|d| period.part(d)) else {
            return;
        };
        self.begun += 1;
        self.of_past += u64::from(record.is_of_past);
        if let Some(count) = self.parts.get_mut(part) {
            *count += 1;
        }
        let cause = record.cause.map_or(NOT_SAID, crate::job::Cause::word);
        *self.causes.entry(cause.to_owned()).or_default() += 1;
        let outcome = record.outcome.map_or(NOT_SAID, Outcome::word);
        *self.outcomes.entry(outcome.to_owned()).or_default() += 1;
        let cost = record.at_cost_of.map_or(NOT_SAID, CostBearer::word);
        *self.costs.entry(cost.to_owned()).or_default() += 1;
        if record.outcome == Some(Outcome::Remade) {
            self.remade += 1;
            self.remade_at_own_cost += u64::from(record.at_cost_of == Some(CostBearer::Practice));
            *self.remade_by_cause.entry(cause.to_owned()).or_default() += 1;
        }
    }

    /// Returns rechecks and remakes with their denominators, and what remakes may have cost where the
    /// practice has set a price.
    pub(crate) fn lines(now: &Self, before: &Self, price: Option<u64>) -> Vec<FigureLine> {
        const OF_HANDED: &str = "for each pair handed over";
        let line = |group, label, of: fn(&Self) -> Figure| {
            FigureLine::new(group, label, of(now), of(before))
        };
        let mut lines = vec![
            line("handed over", "new pairs", |r| Figure::count(r.handed_over)),
            line(OF_HANDED, "rechecks begun", |r| {
                Figure::rate(r.begun, r.handed_over)
            })
            .with(now.parts),
            line(OF_HANDED, "rechecks ending in a remake", |r| {
                Figure::rate(r.remade, r.handed_over)
            }),
            line(OF_HANDED, "ordered as a remake", |r| {
                Figure::rate(r.begun_as_remake, r.handed_over)
            }),
            line("of the rechecks", "pair from before the book", |r| {
                Figure::rate(r.of_past, r.begun)
            }),
        ];
        for (group, table, whole) in [
            (
                "rechecks by cause",
                (|r| &r.causes) as fn(&Self) -> &Counts,
                (|r| r.begun) as fn(&Self) -> u64,
            ),
            ("remakes by cause", |r| &r.remade_by_cause, |r| r.remade),
            ("rechecks by outcome", |r| &r.outcomes, |r| r.begun),
            ("rechecks by who bears the cost", |r| &r.costs, |r| r.begun),
        ] {
            lines.extend(shares(
                group,
                (table(now), whole(now)),
                (table(before), whole(before)),
            ));
        }
        if let Some(price) = price {
            for (label, of) in [
                ("rechecks remade", (|r| r.remade) as fn(&Self) -> u64),
                ("of them paid by us", |r| r.remade_at_own_cost),
            ] {
                let cost = |r: &Self| Figure::count(of(r).saturating_mul(price));
                let label = format!("{label}, at {price} each");
                lines.push(FigureLine::new(
                    "estimated cost",
                    label,
                    cost(now),
                    cost(before),
                ));
            }
        }
        lines
    }
}
