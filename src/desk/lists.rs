//! Lists of jobs: the worklist, filters, look-up.

use chrono::NaiveDate;

use super::{Desk, DeskError, JobLine};
use crate::job::Stage;
use crate::store::LineRow;

/// Which jobs a list shows; what is not set does not matter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ListFilter {
    /// Of one stage.
    pub stage: Option<Stage>,
    /// Held by a check.
    pub held: bool,
    /// Late at the laboratory.
    pub late: bool,
    /// Collected, promised or due on that day.
    pub on: Option<NaiveDate>,
}

impl Desk {
    fn line(&self, row: LineRow) -> Result<JobLine, DeskError> {
        let today = self.today();
        let is_open = row.stage.is_open() && !row.past;
        let held = if is_open && row.held_on != Some(today) {
            // Written on another day: time alone may have changed what holds the job.
            self.held_now(&row.number)?
        } else {
            row.held
        };
        let late = is_open && row.stage == Stage::Ordered && row.due_on.is_some_and(|d| d < today);
        Ok(JobLine {
            number: row.number,
            stage: row.stage,
            past: row.past,
            wearer: row.wearer,
            born: row.born,
            due_on: row.due_on,
            promised_on: row.promised_on,
            collection_at: row.collection_at,
            late,
            held,
        })
    }

    fn held_now(&self, number: &str) -> Result<Vec<String>, DeskError> {
        let open = self.load(number)?;
        let around = self.around_number(number)?;
        Ok(around.held(
            &open.job,
            &open.acceptances,
            &open.passed,
            open.question.is_some(),
        ))
    }

    fn lines(&self, rows: Vec<LineRow>) -> Result<Vec<JobLine>, DeskError> {
        rows.into_iter().map(|row| self.line(row)).collect()
    }

    /// Returns the open jobs in the order in which they need somebody: today's collections by
    /// time, late work, deliveries to verify, what is to be ordered, what waits at the laboratory.
    pub fn worklist(&self) -> Result<Vec<JobLine>, DeskError> {
        let today = self.today();
        let mut lines = self.lines(self.store.open_lines()?)?;
        lines.sort_by_cached_key(|l| {
            let at = l.collection_at.map(|m| m.0);
            let urgency = match l.stage {
                Stage::Verified if at.is_some_and(|a| a.date() <= today) => 0,
                Stage::Ordered if l.late => 1,
                Stage::Measured => 2,
                Stage::Verified => 3,
                Stage::Ordered | Stage::Collected | Stage::Cancelled => 4,
            };
            (urgency, at, l.promised_on.or(l.due_on), l.number.clone())
        });
        Ok(lines)
    }

    /// Returns the jobs of a filter.
    pub fn list(&self, filter: &ListFilter) -> Result<Vec<JobLine>, DeskError> {
        let narrow = filter.held || filter.late || filter.stage.is_none();
        let lines = if narrow && filter.stage.is_none_or(Stage::is_open) {
            let mut lines = self.worklist()?;
            lines.retain(|l| filter.stage.is_none_or(|s| l.stage == s));
            lines
        } else {
            self.lines(self.store.lines_of(filter.stage)?)?
        };
        Ok(lines
            .into_iter()
            .filter(|l| !filter.held || !l.held.is_empty())
            .filter(|l| !filter.late || l.late)
            .filter(|l| {
                filter.on.is_none_or(|day| {
                    l.collection_at.is_some_and(|m| m.0.date() == day)
                        || l.promised_on == Some(day)
                        || l.due_on == Some(day)
                })
            })
            .collect())
    }

    /// Returns every number in the book, newest first.
    pub fn numbers(&self) -> Result<Vec<String>, DeskError> {
        Ok(self
            .store
            .lines_of(None)?
            .into_iter()
            .map(|r| r.number)
            .collect())
    }

    /// Returns the jobs that text finds by name, number, telephone, date of birth or frame.
    pub fn find(&self, text: &str, limit: usize) -> Result<Vec<JobLine>, DeskError> {
        self.lines(self.store.find(text, limit)?)
    }
}
