//! Lists of jobs: the worklist, filters, look-up.

use std::collections::{BTreeSet, HashMap};

use chrono::NaiveDate;

use super::error::{DeskError, ErrorKind};
use super::job_context::{OTHERS, held_by};
use super::judge_many::{Alike, Unjudged, judge};
use super::open::Desk;
use super::session::sign_in_is_on;
use super::view::{JobLine, OpenJob};
use crate::book::store::{Held, LineRow, Made};
use crate::job::{Outcome, Stage};

/// How many numbers of a book are in memory at once while all of it is read.
const PAGE: usize = 500;

/// Which jobs a list shows; the default shows all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ListFilter {
    /// Of one stage.
    pub stage: Option<Stage>,
    /// Held by a check.
    pub held: bool,
    /// Late at the laboratory.
    pub late: bool,
    /// To be collected, handed over, promised or due on that day.
    pub on: Option<NaiveDate>,
}

impl ListFilter {
    /// Whether a job is to be collected, promised or due on the day of the filter.
    fn is_of_the_day(self, line: &JobLine) -> bool {
        self.on.is_none_or(|day| {
            line.collection_at.is_some_and(|m| m.0.date() == day)
                || line.promised_on == Some(day)
                || line.due_on == Some(day)
        })
    }

    fn takes(self, line: &JobLine) -> bool {
        (!self.held || !line.held.is_empty()) && (!self.late || line.late)
    }
}

impl Desk {
    fn line(today: NaiveDate, row: LineRow, fresh: &mut HashMap<String, Held>) -> JobLine {
        let is_open = row.stage.is_open() && !row.past;
        let held = if fresh.is_empty() {
            row.held
        } else {
            fresh.remove(&row.number).unwrap_or(row.held)
        };
        let late = is_open && row.stage == Stage::Ordered && row.due_on.is_some_and(|d| d < today);
        JobLine {
            number: row.number,
            stage: row.stage,
            past: row.past,
            wearer: row.wearer,
            born: row.born,
            due_on: row.due_on,
            promised_on: row.promised_on,
            collection_at: row.collection_at,
            outcome: row.outcome,
            review_on: row
                .review_on
                .filter(|_| is_open && row.outcome == Some(Outcome::Waiting)),
            late,
            held,
        }
    }

    fn held_now(&self, number: &str) -> Result<Held, DeskError> {
        let row = self.store.job(number)?;
        let id = row.id;
        let open = self.open_job(row)?;
        let around = self.around(&open, id)?;
        Ok(around.held(&open.job, &open.acceptances, &open.passed))
    }

    /// Returns the numbers of the jobs whose rows say of today that they are held by other checks than
    /// hold them. A job that cannot be read is another matter.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub(super) fn held_wrongly(&self) -> Result<Vec<String>, DeskError> {
        let today = self.today();
        let mut wrong = self.store.held_without_a_gate()?;
        for row in self.store.open_lines()? {
            if row.held_on == Some(today)
                && let Ok(held) = self.held_now(&row.number)
                && held != row.held
            {
                wrong.push(row.number);
            }
        }
        Ok(wrong)
    }

    /// Judges jobs inside a write and stores what holds them: once a day for each job.
    fn keep_held(&self, numbers: &[String]) -> Result<HashMap<String, Held>, DeskError> {
        let today = self.today();
        let write = self.store.write_unless_busy()?;
        let alike = Alike {
            today,
            staff: write.staff()?,
            practice: write.practice()?,
            sign_in: sign_in_is_on(&write)?,
        };
        let read = |batch: &[String]| {
            batch
                .iter()
                .map(|number| {
                    let row = write.job_to_look_at(number)?;
                    Ok(Unjudged {
                        others: write.others(row.id, &row.job, OTHERS)?,
                        open: OpenJob {
                            acceptances: write.acceptances(row.id)?,
                            passed: write.passed(row.id)?,
                            questions: row.questions,
                            number: row.number,
                            revision: row.revision,
                            job: row.job,
                        },
                    })
                })
                .collect()
        };
        let mut fresh = HashMap::new();
        judge(numbers, alike, read, |judged| {
            let open = judged.open;
            let held = held_by(&judged.findings);
            write.note_held(&open.number, &held, today)?;
            fresh.insert(open.number, held);
            Ok(())
        })?;
        write.commit()?;
        Ok(fresh)
    }

    fn lines(&self, rows: Vec<LineRow>) -> Result<Vec<JobLine>, DeskError> {
        let today = self.today();
        let of_another_day = |r: &&LineRow| {
            // A new day alone may change which checks hold a job.
            r.stage.is_open() && !r.past && r.held_on != Some(today)
        };
        // Only ever forwards: two processes that take the day differently would otherwise each undo
        // what the other has kept, for ever.
        let older: Vec<String> = rows
            .iter()
            .filter(of_another_day)
            .filter(|r| r.held_on.is_none_or(|d| d < today))
            .map(|r| r.number.clone())
            .collect();
        let mut fresh = HashMap::new();
        if !older.is_empty() {
            // Another process writes, or the file is read-only: the list is right without storing.
            fresh = self.keep_held(&older).unwrap_or_default();
        }
        for row in rows.iter().filter(of_another_day) {
            if !fresh.contains_key(&row.number) {
                // A job that cannot be read is shown as its row says: the list is of the others too.
                let held = match self.held_now(&row.number) {
                    Err(e) if e.kind == ErrorKind::File => row.held.clone(),
                    held => held?,
                };
                fresh.insert(row.number.clone(), held);
            }
        }
        Ok(rows
            .into_iter()
            .map(|r| Self::line(today, r, &mut fresh))
            .collect())
    }

    /// Returns the open jobs in the order in which they need somebody: today's collections by
    /// time, late work, deliveries to verify, jobs to order, jobs at the laboratory.
    pub fn worklist(&self) -> Result<Vec<JobLine>, DeskError> {
        let today = self.today();
        let mut lines = self.lines(self.store.open_lines()?)?;
        let needed = |l: &JobLine| {
            let at = l.collection_at.map(|m| m.0);
            let urgency = match l.stage {
                Stage::Verified if at.is_some_and(|a| a.date() <= today) => 0,
                Stage::Ordered if l.late => 1,
                Stage::Measured => 2,
                Stage::Verified => 3,
                Stage::Ordered | Stage::Collected | Stage::Cancelled => 4,
            };
            (urgency, at, l.review_on.or(l.promised_on).or(l.due_on))
        };
        lines.sort_by(|a, b| {
            needed(a)
                .cmp(&needed(b))
                .then_with(|| a.number.cmp(&b.number))
        });
        Ok(lines)
    }

    /// Returns the jobs of a filter: all in memory, for lists known to be short.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn list(&self, filter: &ListFilter) -> Result<Vec<JobLine>, DeskError> {
        let mut all = Vec::new();
        self.each_line(filter, |lines| {
            all.extend(lines);
            Ok(())
        })?;
        Ok(all)
    }

    /// Passes the jobs of a filter to `tell` in batches: the collected ones may be the whole
    /// book. Without a stage these are the open ones and, for a day, those collected ones that
    /// belong to it.
    ///
    /// # Errors
    /// [`DeskError`] of the file, and what `tell` returns.
    pub fn each_line(
        &self,
        filter: &ListFilter,
        mut tell: impl FnMut(Vec<JobLine>) -> Result<(), DeskError>,
    ) -> Result<(), DeskError> {
        let narrow = filter.held || filter.late || filter.stage.is_none();
        let is_worklist = narrow && filter.stage.is_none_or(Stage::is_open);
        if let (Some(stage), false) = (filter.stage, is_worklist)
            && !(stage == Stage::Collected && filter.on.is_some())
        {
            let mut before = i64::MAX;
            loop {
                let page = self.store.lines_before(stage, before, PAGE)?;
                let Some(last) = page.last() else {
                    return Ok(());
                };
                before = last.0;
                let rows = page.into_iter().map(|(_, row)| row).collect();
                let mut lines = self.lines(rows)?;
                lines.retain(|l| filter.is_of_the_day(l) && filter.takes(l));
                tell(lines)?;
            }
        }
        let mut lines = Vec::new();
        if is_worklist {
            lines = self.worklist()?;
            lines.retain(|l| filter.stage.is_none_or(|s| l.stage == s) && filter.is_of_the_day(l));
        }
        if let Some(day) = filter.on
            && filter.stage.is_none_or(|s| s == Stage::Collected)
        {
            lines.extend(self.lines(self.store.collected_on(day)?)?);
        }
        lines.retain(|l| filter.takes(l));
        tell(lines)
    }

    /// Returns every number in the book, newest first: all in memory, for books known to be small.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn numbers(&self) -> Result<Vec<String>, DeskError> {
        let mut all = Vec::new();
        self.each_number(|number| {
            all.push(number.to_owned());
            Ok(())
        })?;
        Ok(all)
    }

    /// Calls `what` with every number in the book, newest first, a page of them in memory.
    ///
    /// # Errors
    /// [`DeskError`] of the file, and what is done with a number.
    pub fn each_number(
        &self,
        mut with: impl FnMut(&str) -> Result<(), DeskError>,
    ) -> Result<(), DeskError> {
        let mut before = i64::MAX;
        loop {
            let page = self.store.numbers_before(before, PAGE)?;
            let Some(last) = page.last() else {
                return Ok(());
            };
            before = last.0;
            for (_, number) in &page {
                with(number)?;
            }
        }
    }

    /// Returns the jobs that text finds by name, number, telephone, date of birth or frame.
    pub fn find(&self, text: &str, limit: usize) -> Result<Vec<JobLine>, DeskError> {
        self.lines(self.store.find(text, limit)?)
    }

    /// Returns the jobs, cancelled ones too, whose frame or one of whose lenses is what is looked for;
    /// with text, those of them that it finds.
    pub fn find_made(
        &self,
        made: &Made,
        text: &str,
        limit: usize,
    ) -> Result<Vec<JobLine>, DeskError> {
        let mut rows = self.store.find_made(made)?;
        if !text.trim().is_empty() {
            let found = self.store.find(text, usize::MAX)?;
            let numbers: BTreeSet<&str> = found.iter().map(|r| r.number.as_str()).collect();
            rows.retain(|r| numbers.contains(r.number.as_str()));
        }
        rows.truncate(limit);
        self.lines(rows)
    }
}
