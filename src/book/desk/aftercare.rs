//! Repairs of a pair and contacts with its wearer; each is added to the list, none replaces another.

use serde_json::{Value, json};

use super::error::{DeskError, ErrorKind};
use super::open::Desk;
use super::record::Happened;
use super::view::OpenJob;
use crate::job::{Contact, Job, JobFileError, Moment, Repair, Section, Stage, write_value};

impl Desk {
    /// Adds a repair or adjustment to a pair that was handed over. Who and when are filled in.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] for a pair that the wearer does not have yet; [`ErrorKind::Input`]
    /// for one that says neither what was done nor a value.
    pub fn add_repair(
        &mut self,
        number: &str,
        by: &str,
        mut repair: Repair,
    ) -> Result<OpenJob, DeskError> {
        let person = self.person(by)?;
        let today = self.today();
        if repair == Repair::default() {
            return Err(DeskError::new(
                ErrorKind::Input,
                "an empty repair is not kept: say what was done, or give a value as it stands now",
            ));
        }
        repair.by = Some(person.name.clone());
        let on = repair.on.unwrap_or(today);
        if on > today {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!("a repair on {on} has not been done yet: today is {today}"),
            ));
        }
        repair.on = Some(on);
        self.change(number, None, &|_, _| Ok(()), |row| {
            if row.job.stage() != Stage::Collected {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!(
                        "job {number} stands at {}: only a collected pair is repaired; what is set before the handover is recorded in its sections",
                        row.job.stage()
                    ),
                ));
            }
            // Its values would replace those of a later handover.
            if let Some(given) = row.job.handover.given_on.filter(|given| on < *given && *given <= today) {
                return Err(DeskError::new(
                    ErrorKind::Input,
                    format!("a repair on {on} is from before the handover on {given}: see which day it was"),
                ));
            }
            let change = added(&row.job, "repairs", &repair)?;
            row.job.record(Section::Aftercare, &change)?;
            Ok(Happened {
                by: Some(&person.name),
                what: "repaired",
                detail: json!({"repair": repair}),
            })
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
