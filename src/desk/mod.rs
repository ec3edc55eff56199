//! The desk: everything a person can do with the book, the same for screens and command line.
//!
//! It joins the pure core with the store: what a change does to the gate is worked out inside the
//! transaction that keeps it.

mod accept;
mod access;
mod aftercare;
mod appointments;
mod backup;
mod begin;
mod doctor;
mod encryption;
mod erase;
mod error;
mod figures;
mod import;
mod judge;
mod lists;
mod moves;
mod printing;
mod record;
mod remake;
mod restore;
mod retention;
mod secret;
mod session;
mod used;
mod view;
mod waiting;
mod wholesale;

use std::path::Path;

use chrono::NaiveDate;
use serde_json::Value;

pub use access::Access;
pub use backup::{BackedUp, BackupPlan, BackupState, Occasion, PlanChange};
pub use doctor::{Check, Doctor, Level, Repair, examine, library_version, network_drive};
pub use encryption::is_encrypted;
pub use erase::{Erased, Erasure};
pub use error::{DeskError, ErrorKind};
pub use import::Imported;
pub use judge::Judged;
pub use lists::ListFilter;
pub use printing::{HandOver, Printed};
pub use remake::VisitLinks;
pub use restore::{Restore, restore};
pub use retention::Review;
pub use session::{LONGEST_IDLE_MINUTES, Security};
pub use used::{Given, Used, Whose};
pub use view::{Accepted, Advance, Event, JobLine, OpenJob, Standing};
pub use waiting::Waiting;
pub use wholesale::{Invented, InventedEvent, InventedMove};

use crate::clock::Clock;
pub use crate::gate::Question;
use crate::gate::{Acceptance, Finding, Passed, Surroundings, findings};
use crate::job::{Gate, Job, StaffMember, StaffRoll};
use crate::practice::Practice;
pub use crate::store::Held;
use crate::store::{EventRow, JobRow, NewEvent, Store, Write};

/// How many of the same wearer's other jobs the checks look at.
const OTHERS: i64 = 50;

/// The book with a clock beside it.
#[derive(Debug)]
pub struct Desk {
    store: Store,
    clock: Clock,
    /// Who has proved who they are, where the practice asks for it.
    session: Option<String>,
}

/// What the checks of a job need to know beside the job; read once for a write.
struct Around {
    today: NaiveDate,
    staff: StaffRoll,
    practice: Practice,
    others: Vec<Job>,
    question: Option<Question>,
}

impl Around {
    /// Reads what stands around a job inside the write that judges it: somebody else may have
    /// changed it since the job was read.
    fn within(write: &Write<'_>, today: NaiveDate, row: &JobRow) -> Result<Self, DeskError> {
        Self::among(write.staff()?, write, today, row)
    }

    /// As [`Around::within`], where the staff list has been read in this write.
    fn among(
        staff: StaffRoll,
        write: &Write<'_>,
        today: NaiveDate,
        row: &JobRow,
    ) -> Result<Self, DeskError> {
        Ok(Self {
            question: row.question.clone(),
            ..Self::of_new(staff, write, today, row.id, &row.job)?
        })
    }

    /// As [`Around::among`] for a job without a row, of which `id` is no other's.
    fn of_new(
        staff: StaffRoll,
        write: &Write<'_>,
        today: NaiveDate,
        id: i64,
        job: &Job,
    ) -> Result<Self, DeskError> {
        Ok(Self {
            today,
            staff,
            practice: write.practice()?,
            others: write.others(id, job, OTHERS)?,
            question: None,
        })
    }

    fn findings(
        &self,
        gate: Gate,
        job: &Job,
        acceptances: &[Acceptance],
        passed: &[Passed],
    ) -> Vec<Finding> {
        let around = Surroundings {
            today: self.today,
            staff: &self.staff,
            practice: &self.practice,
            others: &self.others,
            question: self.question.as_ref(),
        };
        findings(gate, job, around, acceptances, passed)
    }

    /// What the next gate of a job says; nothing where no gate lies ahead.
    fn ahead(&self, job: &Job, acceptances: &[Acceptance], passed: &[Passed]) -> Vec<Finding> {
        match next_gate(job) {
            Some(gate) => self.findings(gate, job, acceptances, passed),
            None => Vec::new(),
        }
    }

    /// Ids of the checks that hold a job at its next gate, each once.
    fn held(&self, job: &Job, acceptances: &[Acceptance], passed: &[Passed]) -> Held {
        held_by(&self.ahead(job, acceptances, passed))
    }
}

/// The gate that lies ahead of a job.
fn next_gate(job: &Job) -> Option<Gate> {
    job.stage().next_gate().filter(|_| !job.is_past())
}

/// Ids of the checks that hold a job at its next gate, each once, from what that gate says.
fn held_by(ahead: &[Finding]) -> Held {
    let mut ids: Vec<&str> = Vec::new();
    for finding in ahead {
        if finding.is_open() && !ids.contains(&finding.check) {
            ids.push(finding.check);
        }
    }
    ids.into_iter().collect()
}

impl Desk {
    /// Opens an existing book.
    ///
    /// # Errors
    /// [`DeskError`] with one sentence about the file, which is then untouched.
    pub fn open(path: &Path, clock: Clock) -> Result<Self, DeskError> {
        Ok(Self {
            store: Store::open(path)?,
            clock,
            session: None,
        })
    }

    /// Makes a new, empty book.
    ///
    /// # Errors
    /// [`DeskError`]; an existing file is never replaced.
    pub fn create(path: &Path, clock: Clock) -> Result<Self, DeskError> {
        Ok(Self {
            store: Store::create(path)?,
            clock,
            session: None,
        })
    }

    /// Opens the book, or makes it where there is none.
    ///
    /// # Errors
    /// As [`Desk::open`] and [`Desk::create`].
    pub fn open_or_create(path: &Path, clock: Clock) -> Result<Self, DeskError> {
        if path.exists() {
            Self::open(path, clock)
        } else {
            Self::create(path, clock)
        }
    }

    /// Returns today, as the program takes it.
    pub fn today(&self) -> NaiveDate {
        self.clock.today()
    }

    /// Whether a trial has fixed the day.
    pub fn today_is_fixed(&self) -> bool {
        self.clock.fixed.is_some()
    }

    /// Returns a job with everything the gate needs to know of it.
    pub fn load(&self, number: &str) -> Result<OpenJob, DeskError> {
        let row = self.store.job(number)?;
        self.open_job(row)
    }

    fn open_job(&self, row: JobRow) -> Result<OpenJob, DeskError> {
        Ok(OpenJob {
            acceptances: self.store.acceptances(row.id)?,
            passed: self.store.passed(row.id)?,
            question: row.question,
            number: row.number,
            revision: row.revision,
            job: row.job,
        })
    }

    /// Returns what the gate says of a job as it stands.
    pub fn findings(&self, job: &OpenJob, gate: Gate) -> Result<Vec<Finding>, DeskError> {
        let around = self.around(job, self.store.id_of(&job.number)?)?;
        Ok(around.findings(gate, &job.job, &job.acceptances, &job.passed))
    }

    fn around(&self, open: &OpenJob, id: i64) -> Result<Around, DeskError> {
        Ok(Around {
            today: self.today(),
            staff: self.store.staff()?,
            practice: self.store.practice()?,
            others: self.store.others(id, &open.job, OTHERS)?,
            question: open.question.clone(),
        })
    }

    /// Returns the staff list.
    pub fn staff(&self) -> Result<StaffRoll, DeskError> {
        Ok(self.store.staff()?)
    }

    /// Adds a person to the staff list.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] for a name that is empty or taken, or a supervisor who is not listed.
    #[allow(
        clippy::needless_pass_by_value,
        reason = "the list takes the person over"
    )]
    pub fn add_staff(&mut self, member: StaffMember) -> Result<(), DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let roll = write.staff()?;
        session::may_add_staff(self.session.as_deref(), &write, &roll)?;
        if member.name.trim().is_empty() || member.name.chars().any(char::is_control) {
            return Err(DeskError::new(ErrorKind::Input, "a person needs a name"));
        }
        if roll.find(&member.name).is_some() {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!("{} is on the staff list already", member.name),
            ));
        }
        write.add_staff(&member)?;
        write.practice_event(NewEvent {
            at: now,
            by: self.session.as_deref(),
            what: "person added",
            detail: &with_trial_day(clock, serde_json::json!({"person": member})),
        })?;
        Ok(write.commit()?)
    }

    fn person(&self, name: &str) -> Result<StaffMember, DeskError> {
        listed(&self.staff()?, name)
    }

    /// Returns the practice's choices.
    pub fn practice(&self) -> Result<Practice, DeskError> {
        Ok(self.store.practice()?)
    }

    /// Keeps the practice's choices; what holds each job is worked out again when it is next listed.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] unless a registered person does it: the standard and the thresholds
    /// decide what is let through.
    pub fn set_practice(&mut self, practice: &Practice, by: &str) -> Result<(), DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let person = session::registered(
            session::acting(self.session.as_deref(), &write, by)?,
            "set the practice's standard and thresholds",
        )?;
        let before = write.practice()?;
        write.set_practice(practice)?;
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "practice set",
            detail: &with_trial_day(clock, serde_json::json!({"from": before, "to": practice})),
        })?;
        Ok(write.commit()?)
    }

    /// Returns the history of a job, oldest first.
    pub fn history(&self, number: &str) -> Result<Vec<Event>, DeskError> {
        let id = self.store.id_of(number)?;
        Ok(self.store.history(id)?.into_iter().map(event).collect())
    }

    /// Returns the history of a job after an entry of which the id is known, oldest first, each with
    /// its id; 0 comes before all.
    ///
    /// # Errors
    /// [`DeskError`] for a job that is not there, and of the file.
    pub fn history_after(&self, number: &str, after: i64) -> Result<Vec<(i64, Event)>, DeskError> {
        let id = self.store.id_of(number)?;
        let rows = self.store.history_after(id, after)?;
        Ok(rows.into_iter().map(|(id, row)| (id, event(row))).collect())
    }

    /// Keeps what is being typed into a field.
    pub fn save_draft(&mut self, number: &str, field: &str, text: &str) -> Result<(), DeskError> {
        self.draft(number, field, Some(text))
    }

    /// Forgets what was being typed into a field.
    pub fn clear_draft(&mut self, number: &str, field: &str) -> Result<(), DeskError> {
        self.draft(number, field, None)
    }

    fn draft(&mut self, number: &str, field: &str, text: Option<&str>) -> Result<(), DeskError> {
        let write = self.store.write()?;
        session::signed(self.session.as_deref(), &write, self.session.as_deref())?;
        write.draft(number, field, text)?;
        Ok(write.commit()?)
    }

    /// Returns what was being typed into a job: path of the field and text.
    pub fn drafts(&self, number: &str) -> Result<Vec<(String, String)>, DeskError> {
        Ok(self.store.drafts(self.store.id_of(number)?)?)
    }

    /// Returns a number that changes when another process changes the book; 0 when it cannot be read.
    pub fn data_version(&self) -> i64 {
        self.store.data_version().unwrap_or(0)
    }
}

fn event((at, by, what, detail): EventRow) -> Event {
    Event {
        at,
        by,
        what,
        detail,
    }
}

/// Returns the person of a name on a staff list.
fn listed(roll: &StaffRoll, name: &str) -> Result<StaffMember, DeskError> {
    roll.find(name).cloned().ok_or_else(|| {
        let names: Vec<&str> = roll.0.iter().map(|m| m.name.as_str()).collect();
        let hint = if names.is_empty() {
            "the staff list is empty: rimbook staff add --name NAME --role ROLE".to_owned()
        } else {
            format!("on the list: {}", names.join(", "))
        };
        DeskError::new(
            ErrorKind::NotFound,
            format!("{name:?} is not on the staff list"),
        )
        .hint(hint)
    })
}

/// The words of a fixed day for history, so that a trial is never mistaken for a day's work.
fn with_trial_day(clock: Clock, mut detail: Value) -> Value {
    if let (Some(day), Some(map)) = (clock.fixed, detail.as_object_mut()) {
        map.insert("day_fixed_to".to_owned(), day.to_string().into());
    }
    detail
}
