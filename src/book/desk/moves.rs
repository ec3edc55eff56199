//! The moves of a job: on through a gate, and the ways back.

use serde_json::json;

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::job_context::{JobContext, held_by};
use super::open::Desk;
use super::record::{Happened, after_write};
use super::session::acting_among;
use super::view::{Advance, JobWithFindings, OpenJob};
use crate::book::store::{NewEvent, RowExtras};
use crate::job::{Gate, Handover, QuestionTo, Section, Stage, write_value};
use crate::judge::gate::{Passed, Question, lets_through};

fn needs_reason(reason: &str, what: &str) -> Result<String, DeskError> {
    let reason = reason.trim();
    if reason.is_empty() {
        return Err(DeskError::new(
            ErrorKind::Input,
            format!("write why: {what} without a reason is not kept"),
        ));
    }
    Ok(reason.to_owned())
}

impl Desk {
    /// Moves a job through a gate, or says what holds it. Checking and moving are one transaction.
    ///
    /// # Errors
    /// [`DeskError`] when the person is not on the staff list, `gate` is not the job's next
    /// gate, or `revision` is no longer the job's. A job that is held is no error.
    pub fn advance(
        &mut self,
        number: &str,
        gate: Gate,
        by: &str,
        revision: Option<i64>,
    ) -> Result<Advance, DeskError> {
        self.advance_to(number, gate, by, revision)
            .map(|(advance, _)| advance)
    }

    /// As [`Desk::advance`]; also returns the state of a job that moved.
    ///
    /// # Errors
    /// As [`Desk::advance`].
    pub fn advance_to(
        &mut self,
        number: &str,
        gate: Gate,
        by: &str,
        revision: Option<i64>,
    ) -> Result<(Advance, Option<JobWithFindings>), DeskError> {
        let (today, now, clock) = (self.today(), self.clock.now(), self.clock);
        let write = self.store.write()?;
        let staff = write.staff()?;
        let person = acting_among(&staff, self.session.as_deref(), &write, by)?;
        let mut row = write.job(number, revision)?;
        let around = JobContext::among(staff, &write, today, &row)?;
        Self::check_stage(number, &row.job, gate)?;
        let acceptances = write.acceptances(row.id)?;
        let mut passed = write.passed(row.id)?;
        let findings = around.findings(gate, &row.job, &acceptances, &passed);
        if !lets_through(&findings) {
            let held = Advance {
                moved: false,
                stage: row.job.stage(),
                findings,
            };
            return Ok((held, None));
        }
        // Filled in before the snapshot, so that it does not count as a later change.
        let fills_day = gate == Gate::Ordered && row.job.order.ordered_on.is_none();
        if fills_day {
            row.job.order.ordered_on = Some(today);
        }
        write.pass(row.id, gate, &row.job)?;
        passed.push(Passed {
            gate,
            job: row.job.clone(),
        });
        row.job.stage = Some(gate.to_stage());
        let ahead = around.ahead(&row.job, &acceptances, &passed);
        let extras = RowExtras {
            held: &held_by(&ahead),
            held_on: around.today,
            questions: &[],
        };
        write.put(&row, extras)?;
        let settled: Vec<_> = findings
            .iter()
            .filter_map(|f| {
                f.settled.as_ref().map(
                    |a| json!({"check": f.check, "eye": f.eye, "by": a.by, "reason": a.reason}),
                )
            })
            .collect();
        let mut detail =
            json!({"from": gate.from_stage(), "to": gate.to_stage(), "settled": settled});
        if fills_day {
            detail["ordered_on"] = json!(today);
        }
        write.event(
            row.id,
            NewEvent {
                at: now,
                by: Some(&person.name),
                what: "moved",
                detail: &with_trial_day(clock, detail),
            },
        )?;
        write.commit()?;
        // A job that moved has no open question: the row is written without any.
        let standing = JobWithFindings {
            open: after_write(row, acceptances, passed),
            findings: ahead,
        };
        let moved = Advance {
            moved: true,
            stage: gate.to_stage(),
            findings,
        };
        Ok((moved, Some(standing)))
    }

    /// Sends a delivered pair back: a new round begins; the failed readings, and what was seen of the
    /// pair at a handover, stay in history.
    ///
    /// # Errors
    /// [`DeskError`] without a reason, or for a job that is not ordered or verified.
    pub fn send_back(
        &mut self,
        number: &str,
        by: &str,
        reason: &str,
    ) -> Result<OpenJob, DeskError> {
        let person = self.person(by)?;
        let reason = needs_reason(reason, "a pair sent back")?;
        let open = self.load(number)?;
        let failed: Vec<_> = if open.job.stage().can_send_back() {
            self.findings(&open, Gate::Verified)?
                .into_iter()
                // A question says nothing of what the laboratory made.
                .filter(|f| f.is_open() && f.check != crate::judge::gate::CheckId::QuestionOpen)
                .map(|f| json!({"check": f.check, "eye": f.eye, "message": f.message}))
                .collect()
        } else {
            Vec::new()
        };
        let fall_back =
            |write: &crate::book::store::Write<'_>, id| Ok(write.fall_back(id, Gate::Verified)?);
        self.change(number, Some(open.revision), &fall_back, |row| {
            if row.job.is_past() || !row.job.stage().can_send_back() {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!("job {number} stands at {}: only an ordered or verified pair can be sent back", row.job.stage()),
                ));
            }
            let from = row.job.stage();
            let readings = std::mem::take(&mut row.job.readings);
            // Observations of this pair on the face do not hold for the next one.
            let handover = std::mem::take(&mut row.job.handover);
            row.job.stage = Some(Stage::Ordered);
            let readings = write_value(&readings, Section::Readings.word())?;
            let mut detail =
                json!({"from": from, "reason": reason, "readings": readings, "findings": failed});
            if handover != Handover::default() {
                detail["handover"] = write_value(&handover, Section::Handover.word())?;
            }
            Ok(Happened {
                by: Some(&person.name),
                what: "sent back",
                detail,
            })
        })
    }

    /// Cancels an open job.
    ///
    /// # Errors
    /// [`DeskError`] without a reason, or for a job that is not open.
    pub fn cancel(&mut self, number: &str, by: &str, reason: &str) -> Result<OpenJob, DeskError> {
        let person = self.person(by)?;
        let reason = needs_reason(reason, "a cancelled job")?;
        self.change(number, None, &|_, _| Ok(()), |row| {
            if row.job.is_past() || !row.job.stage().is_open() {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!(
                        "job {number} stands at {}: only an open job is cancelled",
                        row.job.stage()
                    ),
                ));
            }
            let from = row.job.stage();
            row.job.stage = Some(Stage::Cancelled);
            row.questions.clear();
            Ok(Happened {
                by: Some(&person.name),
                what: "cancelled",
                detail: json!({"from": from, "reason": reason}),
            })
        })
    }

    /// Puts a question to the prescriber or the laboratory; it holds the job until it is answered.
    ///
    /// # Errors
    /// [`DeskError`] without a question, for a job that is not open, or while another question to the
    /// same one waits for its answer.
    pub fn ask(
        &mut self,
        number: &str,
        by: &str,
        of: QuestionTo,
        text: &str,
    ) -> Result<OpenJob, DeskError> {
        let person = self.person(by)?;
        let text = needs_reason(text, "a question")?;
        let on = self.today();
        self.change(number, None, &|_, _| Ok(()), |row| {
            if row.job.is_past() || !row.job.stage().is_open() {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!("job {number} is not open"),
                ));
            }
            if let Some(first) = row.questions.iter().find(|q| q.of == of) {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!(
                        "a question to the {of} waits for its answer: {}",
                        first.text
                    ),
                )
                .hint("record its answer first"));
            }
            row.questions.push(Question {
                of,
                text: text.clone(),
                by: person.name.clone(),
                on,
            });
            Ok(Happened {
                by: Some(&person.name),
                what: match of {
                    QuestionTo::Prescriber => "asked the prescriber",
                    QuestionTo::Laboratory => "asked the laboratory",
                },
                detail: json!({"question": text}),
            })
        })
    }

    /// Records the answer to an open question; the job is no longer held by it. `of` says whose answer
    /// it is where both were asked.
    ///
    /// # Errors
    /// [`DeskError`] without an answer, when nothing was asked, or when it is not clear whose it is.
    pub fn answer(
        &mut self,
        number: &str,
        by: &str,
        of: Option<QuestionTo>,
        text: &str,
    ) -> Result<OpenJob, DeskError> {
        let person = self.person(by)?;
        let text = needs_reason(text, "an answer")?;
        self.change(number, None, &|_, _| Ok(()), |row| {
            let place = answered(number, &row.questions, of)?;
            let question = row.questions.remove(place);
            Ok(Happened {
                by: Some(&person.name),
                what: match question.of {
                    QuestionTo::Prescriber => "prescriber answered",
                    QuestionTo::Laboratory => "laboratory answered",
                },
                detail: json!({"question": question.text, "answer": text}),
            })
        })
    }
}

/// Returns the place of the question that is answered.
fn answered(
    number: &str,
    questions: &[Question],
    of: Option<QuestionTo>,
) -> Result<usize, DeskError> {
    let mut meant = (0..questions.len()).filter(|n| of.is_none_or(|of| questions[*n].of == of));
    match (meant.next(), meant.next()) {
        (Some(place), None) => Ok(place),
        (Some(_), Some(_)) => {
            let open: Vec<String> = questions
                .iter()
                .map(|q| format!("to the {}: {}", q.of, q.text))
                .collect();
            Err(DeskError::new(
                ErrorKind::Input,
                format!("say whose answer it is; open are {}", open.join("; ")),
            )
            .hint("--of prescriber or --of laboratory"))
        }
        (None, _) => {
            let whom = of.map_or_else(String::new, |of| format!(" the {of}"));
            Err(DeskError::new(
                ErrorKind::Refused,
                format!("nothing was asked{whom} about job {number}"),
            ))
        }
    }
}
