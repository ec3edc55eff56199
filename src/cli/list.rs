//! `list` and `find`: jobs, a line each.

use chrono::NaiveDate;
use clap::Args;

use super::book_place::BookPlace;
use super::output::{Outcome, Output, Series, fail};
use super::value_words::stage;
use crate::book::desk::{DeskError, ErrorKind, JobLine, ListFilter, Made, Waiting};
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
    /// Who looks, where people sign in
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: Option<String>,
}

/// Lists jobs, some at a time, because a list may be the whole book.
pub(crate) fn list(place: &BookPlace, out: &mut Output, what: &List) -> Result<Outcome, DeskError> {
    if what.uncollected {
        return uncollected(place, out, what.by.as_deref());
    }
    let filter = ListFilter {
        stage: what.stage,
        held: what.held,
        late: what.late,
        on: what.on,
    };
    let mut series = Series::default();
    let mut any = false;
    let desk = place.open_to_read(what.by.as_deref(), "listed", &[])?;
    desk.each_line(&filter, |jobs| {
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
fn uncollected(
    place: &BookPlace,
    out: &mut Output,
    by: Option<&str>,
) -> Result<Outcome, DeskError> {
    let mut all: Vec<Waiting> = place.open_to_read(by, "listed", &[])?.waiting()?;
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

/// Lines of a search by text where no number is given.
const LINES: usize = 20;

#[derive(Debug, Args)]
pub(crate) struct Find {
    #[arg(required_unless_present_any = ["maker", "product", "lot"], value_name = "TEXT")]
    pub(crate) text: Vec<String>,
    /// Only who has a frame or lens of this maker
    #[arg(long, value_name = "NAME")]
    pub(crate) maker: Option<String>,
    /// Only who has this frame or lens, by its name or the first words of it
    #[arg(long, value_name = "NAME")]
    pub(crate) product: Option<String>,
    /// Only who has a frame or lens of this lot
    #[arg(long, value_name = "LOT")]
    pub(crate) lot: Option<String>,
    /// How many lines at most [default: 20; with maker, product or lot, all]
    #[arg(long, value_name = "N")]
    pub(crate) limit: Option<usize>,
    /// Who looks, where people sign in
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: Option<String>,
}

/// Lists jobs found by name, number, telephone, date of birth or frame, or by who has a frame or lens.
pub(crate) fn find(place: &BookPlace, out: &mut Output, what: Find) -> Result<Outcome, DeskError> {
    let text = what.text.join(" ");
    let made = Made {
        maker: what.maker,
        product: what.product,
        lot: what.lot,
    };
    let mut desk = place.open_as_maybe(what.by.as_deref())?;
    let jobs = if made.is_empty() {
        desk.find(&text, what.limit.unwrap_or(LINES))?
    } else {
        let names = [&made.maker, &made.product, &made.lot];
        if names
            .into_iter()
            .flatten()
            .any(|name| name.trim().is_empty())
        {
            return Err(fail(
                ErrorKind::Input,
                "the maker, product or lot to find is blank",
                &["name one, such as --lot L123, or leave it out"],
            ));
        }
        desk.find_made(&made, &text, what.limit.unwrap_or(usize::MAX))?
    };
    // Before they are shown: where people sign in, nobody finds without a name.
    let found: Vec<&str> = jobs.iter().map(|job| job.number.as_str()).collect();
    if found.is_empty() {
        desk.note_read("looked for, not found", &[])?;
    } else {
        desk.note_read("found", &found)?;
    }
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
