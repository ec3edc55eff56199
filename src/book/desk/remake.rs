//! The visit about a pair that came back, and the remake that may follow it.

use chrono::NaiveDate;
use serde_json::{Value, json};

use super::drafts::Draft;
use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::import::enter;
use super::job_context::JobContext;
use super::open::Desk;
use super::session::acting;
use super::signing::Writer;
use super::view::OpenJob;
use crate::book::store::{NewEvent, RowExtras};
use crate::job::{Gate, Job, Outcome, Reason, Section, Stage, Visit};
use crate::judge::gate::{CheckId, Finding};
use crate::judge::rules::carry::begin_after_visit;

/// The jobs linked to a visit, and its unfinished texts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct VisitLinks {
    /// The job that is rechecked, where it is in the book.
    pub first: Option<Job>,
    /// Number of the remake that was begun, the latest one.
    pub remake: Option<String>,
    /// Unfinished texts of the visit.
    pub drafts: Vec<Draft>,
}

/// Name of the event in the history of the visit and of the remake.
const REMAKE_BEGUN: &str = "remake begun";
/// The check that wants the free moves tried before a remake.
const UNTRIED: CheckId = CheckId::RemakeUntried;

impl Desk {
    /// Merges a change into the record of a visit. Who decided, and when, is filled in with
    /// the outcome.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] for a job that is no recheck; [`ErrorKind::Input`] for an outcome
    /// that lacks what belongs to it.
    pub fn record_visit(
        &mut self,
        number: &str,
        by: &str,
        change: &Value,
    ) -> Result<OpenJob, DeskError> {
        self.record(number, Section::Visit, change, None, Some(by))
    }

    /// Returns the jobs linked to a visit, and its unfinished texts.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] without such a job.
    pub fn visit_links(&self, number: &str) -> Result<VisitLinks, DeskError> {
        let open = self.load(number)?;
        let first = match &open.job.linked_to {
            // Erased, or of another book: the visit is shown without it.
            Some(linked) => self.load(linked).ok().map(|o| o.job),
            None => None,
        };
        let remake = self
            .history(number)?
            .iter()
            .rev()
            .find(|e| e.what == REMAKE_BEGUN)
            .and_then(|e| e.detail["new_job"].as_str().map(str::to_owned));
        let drafts = self.drafts(number)?;
        Ok(VisitLinks {
            first,
            remake,
            drafts: drafts
                .into_iter()
                .filter(|draft| draft.field.starts_with("visit."))
                .collect(),
        })
    }

    /// Begins the remake that a recheck decided on: a new job, linked to the recheck, that carries
    /// what was taken at the visit, and the rest as [`Desk::begin_from`] carries it for a remake: as
    /// the pair is now.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] unless the recheck says remade with a cause, the moves that cost
    /// nothing were tried (or their finding is accepted), and no remake of it is open.
    pub fn begin_remake(&mut self, number: &str, by: &str) -> Result<OpenJob, DeskError> {
        let (today, now, clock) = (self.today(), self.clock.now(), self.clock);
        // Another process that begins one at the same time changes the visit's revision.
        let revision = self.load(number)?.revision;
        let begun_before = self.visit_links(number)?.remake;
        if let Some(other) = begun_before
            && self
                .load(&other)
                .is_ok_and(|o| o.job.stage() != Stage::Cancelled)
        {
            return Err(DeskError::new(
                ErrorKind::Refused,
                format!("job {other} is the remake of {number} already"),
            )
            .hint("give that one up first, if it is to be begun again"));
        }
        let write = self.store.write()?;
        let person = acting(self.session.as_deref(), &write, by)?;
        let mut old = write.job(number, Some(revision))?;
        may_be_remade(number, &old.job)?;
        let around = JobContext::within(&write, today, &old)?;
        let acceptances = write.acceptances(old.id)?;
        let holding = around.findings(Gate::Ordered, &old.job, &acceptances, &[]);
        let is_decider = |f: &&Finding| {
            f.check == CheckId::Unsigned && f.field.starts_with(Section::Visit.word())
        };
        if let Some(finding) = holding.iter().find(is_decider) {
            return Err(DeskError::new(ErrorKind::Refused, finding.message.clone()));
        }
        let untried = holding
            .into_iter()
            .find(|f| f.check == UNTRIED && f.is_open());
        if let Some(finding) = untried {
            let why = format!(
                "{}. Try and tick them, or accept {UNTRIED} with a reason at the gate of {number}",
                finding.message
            );
            return Err(DeskError::new(ErrorKind::Refused, why));
        }
        let passed = write.passed(old.id)?;
        // Open work continues on the new job.
        old.job.stage = Some(Stage::Cancelled);
        let held = around.held(&old.job, &acceptances, &passed);
        // One transaction: a remake that its visit does not link to would be begun twice.
        let extras = RowExtras {
            held: &held,
            held_on: today,
            questions: &old.questions,
        };
        write.put(&old, extras)?;
        // Erased, or of another book: then nothing says how the pair is now.
        let first = (old.job.linked_to.as_deref())
            .and_then(|linked| write.job(linked, None).ok())
            .map(|row| row.job);
        let practice = write.practice()?;
        let remake = begin_after_visit(&old.job, &old.number, first.as_ref(), today, &practice)?;
        let by = Some(person.name.as_str());
        let writer = Writer {
            session: self.session.as_deref(),
            staff: &around.staff,
            at: now,
        };
        let begun = enter(
            &write,
            clock,
            &writer,
            &old.job,
            remake.job,
            by,
            REMAKE_BEGUN,
        )?;
        write.event(
            old.id,
            NewEvent {
                at: now,
                by: Some(&person.name),
                what: REMAKE_BEGUN,
                detail: &with_trial_day(clock, json!({"new_job": begun, "visit": "closed"})),
            },
        )?;
        write.commit()?;
        self.load(&begun)
    }
}

fn may_be_remade(number: &str, job: &Job) -> Result<(), DeskError> {
    let refused = |why: String| Err(DeskError::new(ErrorKind::Refused, why));
    if job.reason != Some(Reason::Recheck) {
        return refused(format!(
            "job {number} is no recheck: a remake follows the visit that decided on it"
        ));
    }
    if job.stage() != Stage::Measured && job.closed_as() != Some(Outcome::Remade) {
        return refused(format!(
            "job {number} stands at {}: a remake is begun from a recheck that is still measured",
            job.stage()
        ));
    }
    if job.visit.outcome != Some(Outcome::Remade) {
        return refused(format!(
            "the outcome of {number} is {}: record remade first",
            job.visit.outcome.map_or("not recorded", Outcome::word)
        ));
    }
    if job.visit.is_warning_unreported() {
        return Err(warned(&job.visit));
    }
    if job.visit.cause.is_none() {
        return refused(format!(
            "the cause is not recorded for {number}: without one nobody can tell what the remake is to change"
        ));
    }
    Ok(())
}

/// Refuses to decide anything but a re-test where the wearer's words may mean a disease and nobody
/// who may judge it was informed: nobody looks at a closed visit again.
fn told_of_warning(before: &Visit, after: &Visit) -> Result<(), DeskError> {
    let decides = after.outcome.is_some_and(|o| o != Outcome::RetestAsked);
    if !after.is_warning_unreported() || !decides || before.outcome == after.outcome {
        return Ok(());
    }
    Err(warned(after))
}

/// The refusal when nobody was informed of words that may mean a disease.
fn warned(visit: &Visit) -> DeskError {
    let signs = visit.warning_signs();
    DeskError::new(
        ErrorKind::Refused,
        format!(
            "the wearer's words ({}) may mean a disease: the optometrist today, nothing is adjusted first",
            signs.join(", ")
        ),
    )
    .hint("record who was told (visit.warning_told), then decide; a re-test asked needs no more")
}

/// Returns the change of a section to store: who decided on the outcome of a visit, and when, is
/// filled in; the change of any other section is returned unchanged.
///
/// # Errors
/// [`ErrorKind::Refused`] for a visit of a job that is no recheck; [`ErrorKind::Input`] for waiting
/// without a day to come back.
pub(super) fn decided(
    job: &Job,
    section: Section,
    change: &Value,
    by: Option<&str>,
    today: NaiveDate,
) -> Result<Value, DeskError> {
    if section != Section::Visit {
        return Ok(change.clone());
    }
    // The reason for an unchanged order may be written on the remake itself.
    if !matches!(job.reason, Some(Reason::Recheck | Reason::Remake)) {
        return Err(DeskError::new(
            ErrorKind::Refused,
            "this job is no recheck: a visit is recorded on the recheck of a collected pair",
        )
        .hint("begin one with rimbook recheck NUMBER --as NAME"));
    }
    let mut change = change.clone();
    let outcome = change.get("outcome").cloned();
    if let (Some(outcome), Some(map)) = (outcome, change.as_object_mut()) {
        let is_decided = !outcome.is_null();
        if is_decided && by.is_none() && map.get("decided_by").is_none_or(Value::is_null) {
            return Err(DeskError::new(
                ErrorKind::Input,
                "an outcome is somebody's decision: say whose",
            )
            .hint("add --as NAME"));
        }
        let who = if is_decided {
            [json!(by), json!(today)]
        } else {
            [Value::Null, Value::Null]
        };
        for (key, value) in ["decided_by", "decided_on"].into_iter().zip(who) {
            map.entry(key).or_insert(value);
        }
    }
    let mut after = job.clone();
    after.record(section, &change)?;
    told_of_warning(&job.visit, &after.visit)?;
    let waits = after.visit.outcome == Some(Outcome::Waiting);
    if waits && after.visit.review_on.is_none() {
        return Err(DeskError::new(
            ErrorKind::Input,
            "waiting needs the day on which the wearer comes back: record review_on with it",
        ));
    }
    Ok(change)
}
