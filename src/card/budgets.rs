//! How far a measurement may be out, in the few columns a card has for it.

use unicode_width::UnicodeWidthStr;

use crate::gate::Practice;
use crate::job::Job;
use crate::worked::accuracy::{BudgetRow, MEASURE_TWICE, budget_rows};

/// How much a line can say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wording {
    /// Everything in full.
    Whole,
    /// The mark of the tightest in one word.
    Short,
    /// As short, and what else can be left out too.
    Tight,
}

impl Wording {
    const fn mark(self) -> &'static str {
        match self {
            Self::Whole => MEASURE_TWICE,
            Self::Short | Self::Tight => "twice",
        }
    }
}

/// The budgets of a job's measurements.
#[derive(Debug, Clone, Default)]
pub(super) struct Budgets(Vec<BudgetRow>);

impl Budgets {
    pub(super) fn of(job: &Job, practice: &Practice) -> Self {
        Self(budget_rows(job, practice))
    }

    /// Returns " ±1.0" for a measurement and, where it is the tightest of the job, the mark; nothing
    /// when it has no end.
    ///
    /// One number for both eyes and both ways: the smallest, within which nothing breaks whichever
    /// way it is out. Each side of each eye stands in the fitting section.
    pub(super) fn after(&self, label: &str, wording: Wording) -> String {
        let rows = || self.0.iter().filter(|r| r.label == label);
        let Some(row) = rows()
            .filter(|r| r.smallest().is_some())
            .min_by(|a, b| f64::total_cmp(&least(a), &least(b)))
        else {
            return String::new();
        };
        let twice = if rows().any(|r| r.measure_twice) {
            format!(" {}", wording.mark())
        } else {
            String::new()
        };
        let by = row.smallest_text().unwrap_or_default();
        format!(" ±{by}{twice}")
    }
}

fn least(row: &BudgetRow) -> f64 {
    row.smallest().unwrap_or(f64::INFINITY)
}

/// Returns the fullest wording that fits, else the tightest.
pub(super) fn longest_that_fits(room: usize, text: &dyn Fn(Wording) -> String) -> String {
    [Wording::Whole, Wording::Short]
        .into_iter()
        .map(text)
        .find(|t| t.width() <= room)
        .unwrap_or_else(|| text(Wording::Tight))
}
