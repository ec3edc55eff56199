//! Taking jobs in: from job files, or new ones begun at the desk.

use serde_json::{Value, json};

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::job_context::JobContext;
use super::open::Desk;
use super::session::{acting, signed};
use super::signing::{Writer, keep_names};
use super::view::OpenJob;
use crate::book::clock::Clock;
use crate::book::store::{NewEvent, RowExtras, Write};
use crate::job::{Job, Stage, read_jobs};
use crate::text::printable;

/// What an import did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Imported {
    /// The numbers given, in the order of the file.
    pub numbers: Vec<String>,
    /// Keys of the file that were ignored.
    pub ignored: Vec<String>,
}

impl Desk {
    /// Imports a job file, whole or not at all.
    ///
    /// A job enters at measured and is moved by the gate like any other; one marked as past keeps
    /// its stage and number and is never shown as checked.
    ///
    /// # Errors
    /// [`DeskError`] with the place in the file.
    pub fn import(&mut self, text: &str, by: Option<&str>) -> Result<Imported, DeskError> {
        let jobs = read_jobs(text)?;
        check_numbers(&jobs)?;
        let ignored = not_taken_over(text);
        let numbers = self.enter_all(jobs, by, "imported")?;
        Ok(Imported { numbers, ignored })
    }

    /// Imports jobs read from another system's file, all of them or none.
    ///
    /// # Errors
    /// As [`Desk::import`].
    pub fn import_jobs(&mut self, jobs: Vec<Job>, by: Option<&str>) -> Result<Imported, DeskError> {
        check_numbers(&jobs)?;
        Ok(Imported {
            numbers: self.enter_all(jobs, by, "imported")?,
            ignored: Vec::new(),
        })
    }

    /// Tries an import of jobs and changes nothing.
    ///
    /// # Errors
    /// As [`Desk::import_jobs`].
    pub fn would_import(&mut self, jobs: Vec<Job>) -> Result<(), DeskError> {
        check_numbers(&jobs)?;
        let clock = self.clock;
        // Added and rolled back: only the book knows which numbers are taken.
        let write = self.store.write()?;
        let staff = write.staff()?;
        let writer = Writer {
            session: None,
            staff: &staff,
            at: clock.now(),
        };
        enter_each(&write, clock, &writer, jobs, None, "imported").map(drop)
    }

    /// Begins a new job for a wearer.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] without a name.
    pub fn new_job(&mut self, wearer: &str, by: Option<&str>) -> Result<OpenJob, DeskError> {
        let name = wearer.trim();
        if name.is_empty() {
            return Err(DeskError::new(
                ErrorKind::Input,
                "a job belongs to a named wearer: type the name",
            ));
        }
        let mut job = Job::default();
        job.wearer.name = Some(name.to_owned());
        let mut begun = self.take_in(vec![job], by, "begun")?;
        begun
            .pop()
            .ok_or_else(|| DeskError::new(ErrorKind::File, "the job was not kept"))
    }

    pub(super) fn take_in(
        &mut self,
        jobs: Vec<Job>,
        by: Option<&str>,
        what: &str,
    ) -> Result<Vec<OpenJob>, DeskError> {
        let numbers = self.enter_all(jobs, by, what)?;
        numbers.iter().map(|n| self.load(n)).collect()
    }

    /// Enters jobs in one transaction; returns their numbers.
    fn enter_all(
        &mut self,
        jobs: Vec<Job>,
        by: Option<&str>,
        what: &str,
    ) -> Result<Vec<String>, DeskError> {
        let clock = self.clock;
        let write = self.store.write()?;
        if let Some(by) = by {
            acting(self.session.as_deref(), &write, by)?;
        } else {
            signed(self.session.as_deref(), &write, None)?;
        }
        let staff = write.staff()?;
        let writer = Writer {
            session: self.session.as_deref(),
            staff: &staff,
            at: clock.now(),
        };
        let numbers = enter_each(&write, clock, &writer, jobs, by, what)?;
        write.commit()?;
        Ok(numbers)
    }
}

fn enter_each(
    write: &Write<'_>,
    clock: Clock,
    writer: &Writer<'_>,
    jobs: Vec<Job>,
    by: Option<&str>,
    what: &str,
) -> Result<Vec<String>, DeskError> {
    let mut numbers = Vec::with_capacity(jobs.len());
    for mut job in jobs {
        if !job.is_past() {
            job.stage = Some(Stage::Measured);
            job.number = None;
        } else if job.stage.is_none() {
            job.stage = Some(Stage::Collected);
        }
        // What another book says of its names is not proved here.
        job.names.clear();
        numbers.push(enter(write, clock, writer, &Job::default(), job, by, what)?);
    }
    Ok(numbers)
}

/// Adds a job with its first event; returns its number. `earlier` is the job whose values it carries;
/// a new job without any otherwise.
pub(super) fn enter(
    write: &Write<'_>,
    clock: Clock,
    writer: &Writer<'_>,
    earlier: &Job,
    mut job: Job,
    by: Option<&str>,
    what: &str,
) -> Result<String, DeskError> {
    let today = clock.today();
    // What is carried whole stays signed by whoever signed it there.
    job.names.clone_from(&earlier.names);
    keep_names(write, writer, earlier, &mut job, &Value::Null)?;
    // The row does not exist yet: no id is excluded from the wearer's other jobs.
    let held = JobContext::of_new(write.staff()?, write, today, -1, &job)?.held(&job, &[], &[]);
    let extras = RowExtras {
        held: &held,
        held_on: today,
        questions: &[],
    };
    let row = write.add(&mut job, extras)?;
    let detail = json!({"past": job.is_past(), "job": job.to_file()?});
    write.event(
        row.id,
        NewEvent {
            at: clock.now(),
            by,
            what,
            detail: &with_trial_day(clock, detail),
        },
    )?;
    Ok(row.number)
}

/// Refuses a number that could not be typed to find the job again.
fn check_numbers(jobs: &[Job]) -> Result<(), DeskError> {
    for (i, job) in jobs.iter().enumerate().filter(|(_, j)| j.is_past()) {
        let Some(number) = &job.number else { continue };
        if number.trim().is_empty() || printable(number) != *number {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!(
                    "job {}: number: {number:?} cannot be typed to find the job again",
                    i + 1
                ),
            )
            .hint("leave the number out to be given one"));
        }
    }
    Ok(())
}

/// Returns the keys of a job file that were ignored, a sentence each.
fn not_taken_over(text: &str) -> Vec<String> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let jobs = match serde_json::from_str(text) {
        Ok(Value::Array(list)) => list,
        Ok(one) => vec![one],
        Err(_) => Vec::new(),
    };
    ["accepted", "history", "questions", "names"]
        .into_iter()
        .filter(|key| jobs.iter().any(|j| j.get(key).is_some()))
        .map(|key| format!("{key}: kept by the book it comes from, not taken over"))
        .collect()
}
