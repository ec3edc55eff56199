//! Figures as lines: the same for the screen, the table of text, JSON and CSV.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::rate::Rate;
use super::sparkline::Parts;
use super::spread::Spread;

/// One figure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Figure {
    /// A plain number.
    Count {
        /// How many.
        count: u64,
    },
    /// A count of a number of cases.
    Rate(Rate),
    /// Days.
    Days(Spread),
}

impl Figure {
    /// A plain number.
    pub const fn count(count: u64) -> Self {
        Self::Count { count }
    }

    /// A count of a number of cases.
    pub const fn rate(count: u64, of: u64) -> Self {
        Self::Rate(Rate::new(count, of))
    }
}

/// A figure of the period, and the same of the one before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FigureLine {
    /// Its group, such as "late by laboratory".
    pub group: &'static str,
    /// What it is of.
    pub label: String,
    /// In the period.
    pub now: Figure,
    /// In the period before; absent where the book knows only today.
    pub before: Option<Figure>,
    /// Counts in each of the twelve parts of the period.
    pub parts: Option<Parts>,
}

impl FigureLine {
    /// A figure of both periods.
    pub fn new(group: &'static str, label: impl Into<String>, now: Figure, before: Figure) -> Self {
        Self {
            group,
            label: label.into(),
            now,
            before: Some(before),
            parts: None,
        }
    }

    /// With the counts of the parts.
    #[must_use]
    pub const fn with(mut self, parts: Parts) -> Self {
        self.parts = Some(parts);
        self
    }
}

/// Counts by name.
pub(crate) type Counts = BTreeMap<String, u64>;

/// Returns the names of two tables, those with most in the first coming first.
pub(super) fn names<'t, T>(
    now: &'t BTreeMap<String, T>,
    before: &'t BTreeMap<String, T>,
    weight: impl Fn(&T) -> u64,
) -> Vec<&'t String> {
    let all: BTreeSet<&String> = now.keys().chain(before.keys()).collect();
    let mut all: Vec<&String> = all.into_iter().collect();
    // Stable: names of the same weight stay in their order.
    all.sort_by_key(|name| std::cmp::Reverse(now.get(*name).map_or(0, &weight)));
    all
}

/// Returns a line for each name of two tables of counts, each a share of the whole of its period.
pub(super) fn shares(
    group: &'static str,
    (now, of_now): (&Counts, u64),
    (before, of_before): (&Counts, u64),
) -> Vec<FigureLine> {
    names(now, before, |c| *c)
        .into_iter()
        .map(|name| {
            let count = |table: &Counts| table.get(name).copied().unwrap_or(0);
            FigureLine::new(
                group,
                name.clone(),
                Figure::rate(count(now), of_now),
                Figure::rate(count(before), of_before),
            )
        })
        .collect()
}
