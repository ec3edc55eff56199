//! `list` and `find`: jobs, a line each.

use chrono::NaiveDate;
use clap::Args;

use super::book_place::BookPlace;
use super::output::{Outcome, Output, Series};
use super::value_words::stage;
use crate::book::desk::{DeskError, JobLine, ListFilter, Waiting};
use crate::job::Stage;

#[derive(Debug, Args)]
pub(crate) struct List {
    /// Only this stage
    #[arg(long, value_parser = stage, value_name = "STAGE")]
    pub(crate) stage: Option<Stage>,
    /// Only what a check holds
    #[arg(long)]
    pub(crate) held: bool,
    /// Only what is late at the laboratory
    #[arg(long)]
    pub(crate) late: bool,
    /// Only what is ready and not collected for longer than the practice waits
    #[arg(long, conflicts_with_all = ["stage", "held", "late", "on"])]
    pub(crate) uncollected: bool,
    /// Only what is due, promised or to be collected on that day (2026-12-03)
    #[arg(long, value_name = "DATE")]
    pub(crate) on: Option<NaiveDate>,
}

/// Lists jobs, some at a time, because a list may be the whole book.
pub(crate) fn list(place: &BookPlace, out: &mut Output, what: &List) -> Result<Outcome, DeskError> {
    if what.uncollected {
        return uncollected(place, out);
    }
    let filter = ListFilter {
        stage: what.stage,
        held: what.held,
        late: what.late,
        on: what.on,
    };
    let mut series = Series::default();
    let mut any = false;
    place.open()?.each_line(&filter, |jobs| {
        any |= !jobs.is_empty();
        if out.json {
            for job in &jobs {
                series.add(out, job);
            }
        } else {
            out.lines(jobs.iter().map(job_line));
        }
        Ok(())
    })?;
    if out.json {
        series.end(out);
    } else if !any {
        Output::aside("no job");
    }
    Ok(Outcome::Done)
}

/// Lists pairs that have been ready for longer than the practice's limit and are not collected.
fn uncollected(place: &BookPlace, out: &mut Output) -> Result<Outcome, DeskError> {
    let mut all: Vec<Waiting> = place.open()?.waiting()?;
    all.retain(|w| w.uncollected);
    if out.json {
        out.value(&all);
        return Ok(Outcome::Done);
    }
    if all.is_empty() {
        Output::aside("no job");
    }
    for w in all {
        let phone = w
            .phone
            .as_ref()
            .map_or_else(String::new, |p| format!(", telephone {p}"));
        out.line(&format!("{}  {}{phone}, {}", w.number, w.wearer, w.words()));
    }
    Ok(Outcome::Done)
}

/// Lists jobs found by name, number, telephone, date of birth or frame.
pub(crate) fn find(
    place: &BookPlace,
    out: &mut Output,
    text: &str,
    limit: usize,
) -> Result<Outcome, DeskError> {
    let jobs = place.open()?.find(text, limit)?;
    say_jobs(out, &jobs);
    Ok(Outcome::Done)
}

/// A job of a list as one line of text.
fn job_line(job: &JobLine) -> String {
    let mut parts = vec![format!(
        "{}  {}  {}",
        job.number,
        job.stage_words(),
        job.wearer
    )];
    parts.extend(job.born.map(|day| format!("born {day}")));
    parts.extend(job.past.then(|| "from before the book".to_owned()));
    parts.extend(job.collection_at.map(|at| format!("collection {at}")));
    parts.extend(job.due_on.map(|day| format!("due {day}")));
    parts.extend(job.late.then(|| "late".to_owned()));
    if !job.held.is_empty() {
        let ids: Vec<&str> = job.held.iter().collect();
        parts.push(format!("held by {}", ids.join(" ")));
    }
    parts.join(", ")
}

fn say_jobs(out: &mut Output, jobs: &[JobLine]) {
    if out.json {
        out.value(&jobs);
    } else if jobs.is_empty() {
        Output::aside("no job");
    } else {
        out.lines(jobs.iter().map(job_line));
    }
}
