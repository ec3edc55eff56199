//! How far a measurement may be out, in the few columns a card has for it.

use unicode_width::UnicodeWidthStr;

use crate::job::Job;
use crate::judge::derive::accuracy::{BudgetRow, MEASURE_TWICE, budget_rows};
use crate::practice::Practice;

/// Widest budget shown next to a value, mm or degrees.
const WORTH_SAYING: f64 = 10.0;

/// How much a line can say, the fullest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Wording {
    /// Everything in full.
    Whole,
    /// On a line that has the tightest, no other budget.
    Marked,
    /// The mark in fewer letters.
    Read,
    /// As short, and what else can be left out too.
    Tight,
    /// The mark in the fewest letters that still say what to do.
    Tighter,
    /// The mark without its number: what to do matters more than by how much it may be out.
    Least,
}

impl Wording {
    const ALL: [Self; 6] = [
        Self::Whole,
        Self::Marked,
        Self::Read,
        Self::Tight,
        Self::Tighter,
        Self::Least,
    ];

    const fn mark(self) -> &'static str {
        match self {
            Self::Whole | Self::Marked => MEASURE_TWICE,
            Self::Read | Self::Tight => "read twice",
            Self::Tighter | Self::Least => "read 2x",
        }
    }

    /// Whether units and the words of the eyes are omitted.
    pub(super) fn is_tight(self) -> bool {
        self >= Self::Tight
    }
}

/// The budgets of a job's measurements.
#[derive(Debug, Clone, Default)]
pub(super) struct Budgets(Vec<BudgetRow>);

impl Budgets {
    pub(super) fn of(job: &Job, practice: &Practice) -> Self {
        Self(budget_rows(job, practice))
    }

    /// Returns the budgets for one line of the card, which says these measurements.
    pub(super) fn on(&self, labels: &[&str]) -> BudgetLine<'_> {
        BudgetLine {
            budgets: self,
            has_tightest: labels.iter().any(|label| self.is_tightest(label)),
        }
    }

    fn is_tightest(&self, label: &str) -> bool {
        let mut rows = self.0.iter().filter(|r| r.label == label);
        rows.any(|r| r.measure_twice)
    }
}

/// The budgets of a job on one line of the card.
#[derive(Debug, Clone, Copy)]
pub(super) struct BudgetLine<'a> {
    budgets: &'a Budgets,
    /// Whether the line says one of the tightest measurements.
    has_tightest: bool,
}

impl BudgetLine<'_> {
    /// Returns " ±1.0" for a measurement and, where it is the tightest of the job, the mark; an empty text
    /// when it has no end.
    ///
    /// One number for both eyes and both directions: the smallest, so that an error within it breaks no
    /// limit. The fitting section shows each side of each eye.
    pub(super) fn after(&self, label: &str, wording: Wording) -> String {
        let rows = self.budgets.0.iter().filter(|r| r.label == label);
        let Some(row) = rows
            .filter(|r| r.smallest().is_some())
            .min_by(|a, b| f64::total_cmp(&least(a), &least(b)))
        else {
            return String::new();
        };
        let is_tightest = self.budgets.is_tightest(label);
        if self.has_tightest && !is_tightest && wording > Wording::Whole {
            return String::new();
        }
        // No measurement is so wrong: next to the value it would look like the error of measuring.
        if least(row) > WORTH_SAYING && !is_tightest {
            return String::new();
        }
        let by = row.smallest_text().unwrap_or_default();
        match (is_tightest, wording) {
            (false, _) => format!(" ±{by}"),
            (true, Wording::Least) => format!(" {}", wording.mark()),
            (true, _) => format!(" ±{by} {}", wording.mark()),
        }
    }
}

fn least(row: &BudgetRow) -> f64 {
    row.smallest().unwrap_or(f64::INFINITY)
}

/// Returns the fullest wording that fits, else the shortest.
pub(super) fn longest_that_fits(room: usize, text: &dyn Fn(Wording) -> String) -> String {
    Wording::ALL
        .into_iter()
        .map(text)
        .find(|t| t.width() <= room)
        .unwrap_or_else(|| text(Wording::Least))
}
