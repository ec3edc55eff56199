//! Late work by laboratory: pairs that first came after the day on which they were due as ordered.
//!
//! The due day at the time of the order counts: moving it later makes no pair
//! punctual. Orders still at a laboratory are counted as of today only.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::line::{Figure, FigureLine, names};
use super::period::Period;
use super::record::{CountedJob, NO_LABORATORY};
use super::spread::Spread;

#[derive(Debug, Clone, Default)]
struct Laboratory {
    with_day: u64,
    late: u64,
    without_day: u64,
    days_late: Spread,
}

/// Late work of one period.
#[derive(Debug, Clone, Default)]
pub(crate) struct Late(BTreeMap<String, Laboratory>);

/// Orders at the laboratories today, and those past their day.
#[derive(Debug, Clone, Default)]
pub(crate) struct Out(BTreeMap<String, (u64, u64)>);

impl Out {
    /// Counts an order that is out.
    pub(crate) fn add(
        &mut self,
        laboratory: Option<&str>,
        due_on: Option<NaiveDate>,
        today: NaiveDate,
    ) {
        let name = laboratory.map(str::trim).filter(|n| !n.is_empty());
        let at = self
            .0
            .entry(name.unwrap_or(NO_LABORATORY).to_owned())
            .or_default();
        at.0 += 1;
        at.1 += u64::from(due_on.is_some_and(|d| d < today));
    }

    /// Returns the orders out today, and those past their day.
    pub(crate) fn lines(&self) -> Vec<FigureLine> {
        let whole = self.0.values().fold((0, 0), |a, b| (a.0 + b.0, a.1 + b.1));
        let all = ("all laboratories".to_owned(), whole);
        let mut each: Vec<_> = self.0.iter().map(|(n, c)| (n.clone(), *c)).collect();
        each.sort_by_key(|e| std::cmp::Reverse(e.1.1));
        std::iter::once(all)
            .chain(each)
            .map(|(label, (out, overdue))| FigureLine {
                group: "out today and overdue",
                label,
                now: Figure::rate(overdue, out),
                before: None,
                parts: None,
            })
            .collect()
    }
}

impl Late {
    /// Counts a job.
    pub(crate) fn add(&mut self, record: &CountedJob, period: &Period) {
        let Some((kept_on, came_on)) = record.first_delivery() else {
            return;
        };
        if !period.contains(kept_on) {
            return;
        }
        let at = self.0.entry(record.laboratory().to_owned()).or_default();
        let Some(due) = record.ordered.as_ref().and_then(|o| o.due_on) else {
            at.without_day += 1;
            return;
        };
        at.with_day += 1;
        if came_on > due {
            at.late += 1;
            at.days_late
                .add(u64::try_from((came_on - due).num_days()).unwrap_or(0));
        }
    }

    fn whole(&self) -> Laboratory {
        let mut all = Laboratory::default();
        for l in self.0.values() {
            all.with_day += l.with_day;
            all.late += l.late;
            all.without_day += l.without_day;
            all.days_late.join(&l.days_late);
        }
        all
    }

    /// Returns late work by laboratory, and how late it was.
    pub(crate) fn lines(now: &Self, before: &Self) -> Vec<FigureLine> {
        let none = Laboratory::default();
        let (whole_now, whole_before) = (now.whole(), before.whole());
        let mut rows = vec![("all laboratories", &whole_now, &whole_before)];
        for name in names(&now.0, &before.0, |l| l.late) {
            rows.push((
                name,
                now.0.get(name).unwrap_or(&none),
                before.0.get(name).unwrap_or(&none),
            ));
        }
        let line = |group, label: &str, of: fn(&Laboratory) -> Figure, n, b| {
            FigureLine::new(group, label, of(n), of(b))
        };
        let mut lines = Vec::new();
        for (name, n, b) in &rows {
            let late = |l: &Laboratory| Figure::rate(l.late, l.with_day);
            lines.push(line("came late", name, late, n, b));
        }
        if whole_now.without_day + whole_before.without_day > 0 {
            lines.push(FigureLine::new(
                "came late",
                "no day to be due",
                Figure::count(whole_now.without_day),
                Figure::count(whole_before.without_day),
            ));
        }
        for (name, n, b) in &rows {
            let days = |l: &Laboratory| Figure::Days(l.days_late.clone());
            lines.push(line("days late, of those that were", name, days, n, b));
        }
        lines
    }
}
