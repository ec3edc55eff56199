//! Repairs of a pair and contacts with its wearer; each is added to the list, none replaces another.

use chrono::NaiveDate;
use serde_json::{Value, json};

use super::error::{DeskError, ErrorKind};
use super::open::Desk;
use super::record::Happened;
use super::view::OpenJob;
use crate::job::{Contact, Job, JobFileError, Moment, Repair, Section, Stage, write_value};
use crate::judge::gate::{Finding, lets_through};

/// What came of a repair.
#[derive(Debug, Clone, PartialEq)]
pub struct RepairAnswer {
    /// The job with the repair; `None` where it was not kept.
    pub kept: Option<OpenJob>,
    /// What the checks of the handover say of the values it sets.
    pub findings: Vec<Finding>,
}

impl Desk {
    /// Adds a repair or adjustment to a pair that was handed over. Who and when are filled in.
    ///
    /// The values it sets are judged as at the handover. One that is held is kept only for somebody
    /// registered who gives a reason: the frame is as it is, and history says so.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] for a pair that the wearer does not have yet; [`ErrorKind::Input`]
    /// for one that says neither what was done nor a value.
    pub fn add_repair(
        &mut self,
        number: &str,
        by: &str,
        repair: Repair,
    ) -> Result<RepairAnswer, DeskError> {
        let person = self.person(by)?;
        let today = self.today();
        let repair = told(repair, &person.name, today)?;
        let open = self.load(number)?;
        may_be_repaired(&open, repair.on.unwrap_or(today), today)?;
        let around = self.around(&open, self.store.id_of(&open.number)?)?;
        let findings = around.of_repair(&open, &repair);
        let is_held = !lets_through(&findings);
        let may = person.is_registrant(around.practice.registration) && repair.reason.is_some();
        if is_held && !may {
            return Ok(RepairAnswer {
                kept: None,
                findings,
            });
        }
        let held_by: Vec<Value> = findings
            .iter()
            .filter(|f| f.is_open())
            .map(|f| json!({"check": f.check, "eye": f.eye, "message": f.message}))
            .collect();
        // Judged for this revision of the job: another change meanwhile is refused.
        let kept = self.change(number, Some(open.revision), &|_, _| Ok(()), |row| {
            let change = added(&row.job, "repairs", &repair)?;
            row.job.record(Section::Aftercare, &change)?;
            let mut detail = json!({"repair": repair});
            if is_held {
                detail["kept_although"] = json!(held_by);
            }
            Ok(Happened {
                by: Some(&person.name),
                what: "repaired",
                detail,
            })
        })?;
        Ok(RepairAnswer {
            kept: Some(kept),
            findings,
        })
    }

    /// Adds a contact, or an attempt at one, with the wearer of a job. Who and when are filled in.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] for an empty one, [`ErrorKind::Refused`] for a cancelled job.
    pub fn add_contact(
        &mut self,
        number: &str,
        by: &str,
        mut contact: Contact,
    ) -> Result<OpenJob, DeskError> {
        let person = self.person(by)?;
        if contact.told.as_ref().is_none_or(|t| t.trim().is_empty()) && contact.how.is_none() {
            return Err(DeskError::new(
                ErrorKind::Input,
                "say how the wearer was reached or what was said: an empty line helps nobody",
            ));
        }
        contact.by = Some(person.name.clone());
        let now = self.clock.now();
        if let Some(at) = contact.at.filter(|at| at.0.date() > now.date()) {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!(
                    "nobody was told anything on {at} yet: today is {}",
                    now.date()
                ),
            ));
        }
        contact.at = contact.at.or(Some(Moment(now)));
        self.change(number, None, &|_, _| Ok(()), |row| {
            if row.job.stage() == Stage::Cancelled {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    "the job is cancelled; its record is closed",
                ));
            }
            let change = added(&row.job, "contacts", &contact)?;
            row.job.record(Section::Aftercare, &change)?;
            Ok(Happened {
                by: Some(&person.name),
                what: "wearer contacted",
                detail: json!({"contact": contact}),
            })
        })
    }
}

/// Returns a repair as it is kept, with who and when; blank words are none.
fn told(mut repair: Repair, by: &str, today: NaiveDate) -> Result<Repair, DeskError> {
    let written = |text: Option<String>| {
        let text = text.map(|text| text.trim().to_owned());
        text.filter(|text| !text.is_empty())
    };
    repair.supervised_by = written(repair.supervised_by);
    repair.reason = written(repair.reason);
    let without_names = Repair {
        supervised_by: None,
        reason: None,
        ..repair.clone()
    };
    if without_names == Repair::default() {
        return Err(DeskError::new(
            ErrorKind::Input,
            "an empty repair is not kept: say what was done, or give a value as it is now",
        ));
    }
    repair.by = Some(by.to_owned());
    let on = repair.on.unwrap_or(today);
    if on > today {
        return Err(DeskError::new(
            ErrorKind::Input,
            format!("a repair on {on} has not been done yet: today is {today}"),
        ));
    }
    repair.on = Some(on);
    Ok(repair)
}

/// Refuses a repair of a pair that the wearer does not have, or did not have on the day.
fn may_be_repaired(open: &OpenJob, on: NaiveDate, today: NaiveDate) -> Result<(), DeskError> {
    let (number, job) = (&open.number, &open.job);
    if job.stage() != Stage::Collected {
        return Err(DeskError::new(
            ErrorKind::Refused,
            format!(
                "job {number} is {}: only a collected pair is repaired; what is set before the handover is recorded in its sections",
                job.stage()
            ),
        ));
    }
    // Its values would replace those of a later handover.
    let given = job.handover.given_on.filter(|given| *given <= today);
    if let Some(given) = given.filter(|given| on < *given) {
        return Err(DeskError::new(
            ErrorKind::Input,
            format!(
                "a repair on {on} is from before the handover on {given}: see which day it was"
            ),
        ));
    }
    Ok(())
}

/// Returns the change of the aftercare section that adds one entry to a list: lists are merged
/// whole, so it repeats the earlier ones.
fn added<T: serde::Serialize>(job: &Job, list: &str, entry: &T) -> Result<Value, JobFileError> {
    let mut aftercare = job.section(Section::Aftercare)?;
    let mut all = match aftercare[list].take() {
        Value::Array(all) => all,
        _ => Vec::new(),
    };
    all.push(write_value(entry, Section::Aftercare.word())?);
    Ok(json!({ list: all }))
}
