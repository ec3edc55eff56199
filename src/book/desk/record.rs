//! Recording a change in one section of a job.

use serde_json::{Value, json};

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::job_context::{JobContext, held_by};
use super::open::Desk;
use super::session::{acting_among, signed};
use super::signing::{Writer, entered, keep_names};
use super::view::{JobWithFindings, OpenJob};
use crate::book::store::{JobRow, NewEvent, RowExtras, Write, key_of};
use crate::job::{Gate, Job, Origins, Section, Stage};
use crate::judge::gate::{Acceptance, Passed};
use crate::trade::eye::Eye;

/// An event to be kept with a change.
pub(super) struct Happened<'a> {
    pub(super) by: Option<&'a str>,
    pub(super) what: &'a str,
    pub(super) detail: Value,
}

/// A requested change of one section.
struct Asked<'a> {
    number: &'a str,
    section: Section,
    change: &'a Value,
    revision: Option<i64>,
    by: Option<&'a str>,
    /// Path of the field in which it was typed.
    field: Option<&'a str>,
    /// Whether it undoes an earlier entry.
    is_undo: bool,
    /// The paths from the job of a value that it copies, and of the copy.
    copied: Option<(&'a str, &'a str)>,
}

/// Further work of a change inside its transaction.
pub(super) type Also<'a> = dyn Fn(&Write<'_>, i64) -> Result<(), DeskError> + 'a;

/// The job after a write, one revision later.
pub(super) fn after_write(
    row: JobRow,
    acceptances: Vec<Acceptance>,
    passed: Vec<Passed>,
) -> OpenJob {
    OpenJob {
        number: row.number,
        revision: row.revision + 1,
        job: row.job,
        acceptances,
        passed,
        questions: row.questions,
    }
}

impl<'a> Asked<'a> {
    /// A change that somebody enters, without a field, a copy or an undo.
    fn entered(
        number: &'a str,
        section: Section,
        change: &'a Value,
        revision: Option<i64>,
        by: Option<&'a str>,
    ) -> Self {
        Self {
            number,
            section,
            change,
            revision,
            by,
            field: None,
            is_undo: false,
            copied: None,
        }
    }
}

/// The eyes whose height on the face must be measured again because of this change.
fn newly_marked(was: &Job, now: &Job) -> Vec<Eye> {
    let marks = |job: &Job| {
        job.handover
            .adjusted_after_heights
            .clone()
            .unwrap_or_default()
    };
    let before = marks(was);
    let mut marked = marks(now);
    marked.retain(|eye| !before.contains(eye));
    marked
}

/// Refuses to remove entries: repairs and contacts can only be added,
/// with who and when, and an origin ends when its value is measured again.
fn only_adds(section: Section, before: &Job, after: &Job) -> Result<(), DeskError> {
    let refused = |why: &str, hint: &str| {
        Err(DeskError::new(ErrorKind::Refused, why.to_owned()).hint(hint.to_owned()))
    };
    match section {
        Section::Aftercare => {
            let (old, new) = (&before.aftercare, &after.aftercare);
            let is_added = new.repairs.starts_with(&old.repairs)
                && new.contacts.starts_with(&old.contacts)
                && (new.repairs.iter().skip(old.repairs.len()))
                    .all(|r| r.by.is_some() && r.on.is_some())
                && (new.contacts.iter().skip(old.contacts.len()))
                    .all(|c| c.by.is_some() && c.at.is_some());
            if is_added {
                return Ok(());
            }
            refused(
                "repairs and contacts are added, with who and when; those that are there stay",
                "rimbook repair NUMBER and rimbook contact NUMBER add one",
            )
        }
        Section::Origins if !before.origins.keys().all(|p| after.origins.contains_key(p)) => {
            refused(
                "where a value comes from is not taken away from it",
                "record the value itself when it was taken for this job: its origin ends with that",
            )
        }
        _ => Ok(()),
    }
}

/// Refuses to make a job that carries what was measured on one wearer another wearer's.
fn still_theirs(row: &JobRow, first: Option<&JobRow>) -> Result<(), DeskError> {
    let (Some(first), false) = (first, row.job.origins.is_empty()) else {
        return Ok(());
    };
    let (now, then) = (&row.job.wearer, &first.job.wearer);
    let key = |name: Option<&String>| name.map(|n| key_of(n)).unwrap_or_default();
    let is_other_birth = matches!((now.born, then.born), (Some(a), Some(b)) if a != b);
    if key(now.name.as_ref()) == key(then.name.as_ref()) && !is_other_birth {
        return Ok(());
    }
    Err(DeskError::new(
        ErrorKind::Refused,
        format!(
            "this job carries values of the wearer of {}: name and date of birth stay those of that job",
            first.number
        ),
    )
    .hint(format!(
        "where they are misspelt, put them right in {} first; for another wearer begin a new job",
        first.number
    )))
}

impl Desk {
    /// Merges a change into one section of a job (RFC 7396; null removes a value).
    ///
    /// # Errors
    /// [`ErrorKind::Stale`] when `revision` is given and is no longer the job's; otherwise an error
    /// that names the place. The job is then unchanged.
    pub fn record(
        &mut self,
        number: &str,
        section: Section,
        change: &Value,
        revision: Option<i64>,
        by: Option<&str>,
    ) -> Result<OpenJob, DeskError> {
        self.record_entry(number, section, change, revision, by, None)
            .map(|(standing, ..)| standing.open)
    }

    /// As [`Desk::record`]; also removes the unfinished text of `field` in the same transaction.
    /// Returns the new state of the job, the change that undoes this one, and the origins that it
    /// has ended.
    ///
    /// # Errors
    /// As [`Desk::record`]; the unfinished text is then kept.
    pub fn record_entry(
        &mut self,
        number: &str,
        section: Section,
        change: &Value,
        revision: Option<i64>,
        by: Option<&str>,
        field: Option<&str>,
    ) -> Result<(JobWithFindings, Value, Origins), DeskError> {
        self.enter_change(&Asked {
            field,
            ..Asked::entered(number, section, change, revision, by)
        })
    }

    /// As [`Desk::record_entry`] for a change that copies a value of the job from one path to another:
    /// the copy keeps the origin of that value.
    ///
    /// # Errors
    /// As [`Desk::record`].
    pub fn copy(
        &mut self,
        number: &str,
        section: Section,
        change: &Value,
        (from, to): (&str, &str),
        revision: Option<i64>,
        by: Option<&str>,
    ) -> Result<(JobWithFindings, Value, Origins), DeskError> {
        self.enter_change(&Asked {
            copied: Some((from, to)),
            ..Asked::entered(number, section, change, revision, by)
        })
    }

    /// Undoes an entry by the change that [`Desk::record_entry`] returned for it. The restored values
    /// were not measured now: heights that must be measured again stay marked.
    ///
    /// # Errors
    /// As [`Desk::record`].
    pub fn undo_entry(
        &mut self,
        number: &str,
        section: Section,
        back: &Value,
        revision: Option<i64>,
        by: Option<&str>,
    ) -> Result<(JobWithFindings, Value, Origins), DeskError> {
        self.enter_change(&Asked {
            is_undo: true,
            ..Asked::entered(number, section, back, revision, by)
        })
    }

    fn enter_change(
        &mut self,
        asked: &Asked<'_>,
    ) -> Result<(JobWithFindings, Value, Origins), DeskError> {
        let &Asked {
            number,
            section,
            change,
            revision,
            by,
            field,
            is_undo,
            copied,
        } = asked;
        if let Some(by) = by {
            self.person(by)?;
        }
        let today = self.today();
        let is_renamed =
            section == Section::Wearer && ["name", "born"].iter().any(|k| change.get(k).is_some());
        let first = if is_renamed {
            let linked = self.store.job(number)?.job.linked_to;
            // An erased job is no evidence.
            linked.and_then(|linked| self.store.job(&linked).ok())
        } else {
            None
        };
        let forget_draft = |write: &Write<'_>, _| match field {
            Some(field) => Ok(write.draft(number, field, by.unwrap_or_default(), None)?),
            None => Ok(()),
        };
        let mut undoing_change = Value::Null;
        let mut ended = Origins::new();
        let standing = self.change_and_judge(number, revision, &forget_draft, |row| {
            // Who pays is often recorded after the decision, and a decision may be undone.
            let is_of_visit = section == Section::Visit && row.job.closed_as().is_some();
            if row.job.stage() == Stage::Cancelled && !is_of_visit {
                return Err(match row.job.closed_as() {
                    Some(outcome) => DeskError::new(
                        ErrorKind::Refused,
                        format!("the visit is closed: {outcome}; its record is closed"),
                    )
                    .hint("set its outcome to nothing yet, or to waiting, to open it again"),
                    None => DeskError::new(
                        ErrorKind::Refused,
                        "the job is cancelled; its record is closed",
                    ),
                });
            }
            let was = row.job.clone();
            let outcome_before = row.job.visit.outcome;
            let before = row.job.section(section)?;
            let origins = row.job.origins.clone();
            let change = &super::remake::decided(&row.job, section, change, by, today)?;
            if is_undo {
                row.job.undo_change(section, change)?;
            } else {
                row.job.record(section, change)?;
            }
            if let Some((from, to)) = copied {
                row.job.take_over_origin(from, to);
            }
            only_adds(section, &was, &row.job)?;
            still_theirs(row, first.as_ref())?;
            let back = row.job.undoing_change(section, &before, change);
            let mut detail = json!({"section": section, "change": change, "before": back});
            if section != Section::Origins {
                ended = crate::job::ended(&origins, &row.job.origins);
            }
            if section == Section::Visit
                && let Some(what) = row.job.settle_visit(outcome_before)
            {
                detail["visit"] = json!(what);
            }
            if let Some((from, to)) = copied {
                detail["copied_from"] = json!(from);
                // The copy has its own origin, even where both are of one job: undoing it ends that one.
                ended.extend(
                    origins
                        .get_key_value(to)
                        .map(|(p, o)| (p.clone(), o.clone())),
                );
            }
            if !ended.is_empty() {
                detail["origins_ended"] = json!(ended);
            }
            // Heights to measure again: a change of pads or sides does not show them.
            let heights_to_read = newly_marked(&was, &row.job);
            let is_said = change.get("adjusted_after_heights").is_some();
            if !heights_to_read.is_empty() && !is_said {
                detail["heights_to_read_again"] = json!(heights_to_read);
            }
            undoing_change = back;
            Ok(Happened {
                by,
                what: "recorded",
                detail,
            })
        })?;
        Ok((standing, undoing_change, ended))
    }

    /// Changes a job, stores its event and row, and runs `also`, in one transaction.
    pub(super) fn change<'h>(
        &mut self,
        number: &str,
        revision: Option<i64>,
        also: &Also<'_>,
        alter: impl FnOnce(&mut JobRow) -> Result<Happened<'h>, DeskError>,
    ) -> Result<OpenJob, DeskError> {
        self.change_and_judge(number, revision, also, alter)
            .map(|standing| standing.open)
    }

    /// As [`Desk::change`]; also returns the findings of the next gate.
    fn change_and_judge<'h>(
        &mut self,
        number: &str,
        revision: Option<i64>,
        also: &Also<'_>,
        alter: impl FnOnce(&mut JobRow) -> Result<Happened<'h>, DeskError>,
    ) -> Result<JobWithFindings, DeskError> {
        let (today, now, clock) = (self.today(), self.clock.now(), self.clock);
        let session = self.session.clone();
        let write = self.store.write()?;
        let mut row = write.job(number, revision)?;
        let before = row.job.clone();
        let mut happened = alter(&mut row)?;
        let staff = write.staff()?;
        match happened.by {
            Some(by) => drop(acting_among(&staff, session.as_deref(), &write, by)?),
            None => signed(session.as_deref(), &write, None)?,
        }
        let writer = Writer {
            session: session.as_deref(),
            staff: &staff,
            at: now,
        };
        let entered = entered(&happened.detail);
        let names = keep_names(&write, &writer, &before, &mut row.job, &entered)?;
        if !names.is_empty() {
            happened.detail["names"] = json!(names);
        }
        also(&write, row.id)?;
        // Judged after the change: it may have given the job another wearer.
        let around = JobContext::among(staff, &write, today, &row)?;
        let acceptances = write.acceptances(row.id)?;
        let passed = write.passed(row.id)?;
        let findings = around.ahead(&row.job, &acceptances, &passed);
        let extras = RowExtras {
            held: &held_by(&findings),
            held_on: around.today,
            questions: &row.questions,
        };
        write.put(&row, extras)?;
        write.event(
            row.id,
            NewEvent {
                at: now,
                by: happened.by,
                what: happened.what,
                detail: &with_trial_day(clock, happened.detail),
            },
        )?;
        write.commit()?;
        Ok(JobWithFindings {
            open: after_write(row, acceptances, passed),
            findings,
        })
    }

    /// Refuses a move through any gate but the job's next.
    pub(super) fn check_stage(number: &str, job: &Job, gate: Gate) -> Result<(), DeskError> {
        if job.is_past() {
            return Err(DeskError::new(
                ErrorKind::Refused,
                format!("job {number} is from before the book: it is kept as it was and not moved"),
            )
            .hint("begin a recheck to work on that pair again"));
        }
        if job.stage() == gate.from_stage() {
            return Ok(());
        }
        Err(DeskError::new(
            ErrorKind::Refused,
            format!(
                "job {number} stands at {}; only a job at {} moves to {gate}",
                job.stage(),
                gate.from_stage()
            ),
        ))
    }
}
