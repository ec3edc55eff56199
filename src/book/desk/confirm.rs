//! Names that wait for their owner, and how the owner confirms them.

use serde::Serialize;
use serde_json::{Value, json};

use super::error::{DeskError, ErrorKind};
use super::open::Desk;
use super::record::Happened;
use super::view::OpenJob;
use crate::job::names::label_of_name;
use crate::job::{Moment, StaffRoll};

/// A name that waits for the confirmation of its owner.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WaitingName {
    /// Number of the job.
    pub number: String,
    /// The wearer's name.
    pub wearer: String,
    /// Path of the name.
    pub path: String,
    /// What it says of its owner: "measured by".
    pub label: String,
    /// The name as it is written.
    pub name: String,
    /// Who entered it, or changed a value beside it.
    pub typed_by: String,
}

fn is_named(staff: &StaffRoll, name: &str, owner: &str) -> bool {
    staff.find(name).is_some_and(|m| m.name == owner)
}

impl Desk {
    /// Returns the names that wait for somebody's confirmation, by the jobs' ids.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn waiting_names(&self, owner: &str) -> Result<Vec<WaitingName>, DeskError> {
        if !self.security()?.sign_in {
            return Ok(Vec::new());
        }
        let staff = self.store.staff()?;
        let mut waiting = Vec::new();
        for (number, job) in self.store.with_typed_names()? {
            for (name, typed_by) in job.unsigned_names() {
                if is_named(&staff, name.name, owner) {
                    waiting.push(WaitingName {
                        number: number.clone(),
                        wearer: job.wearer.name.clone().unwrap_or_default(),
                        label: label_of_name(&name.path),
                        name: name.name.to_owned(),
                        typed_by: typed_by.to_owned(),
                        path: name.path,
                    });
                }
            }
        }
        Ok(waiting)
    }

    /// Signs names of a job that somebody else typed: those at `paths`, or all that wait for `by`.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] while sign-in is off, and where nothing waits for `by`, or not at a path.
    pub fn confirm(
        &mut self,
        number: &str,
        paths: &[String],
        by: &str,
    ) -> Result<OpenJob, DeskError> {
        let person = self.person(by)?;
        if !self.security()?.sign_in {
            return Err(DeskError::new(
                ErrorKind::Refused,
                "nobody signs in to this book: names are kept as not signed in, and nothing waits",
            ));
        }
        let staff = self.store.staff()?;
        let at = Moment(self.clock.now());
        self.change(number, None, &|_, _| Ok(()), |row| {
            let waiting: Vec<(String, Value)> = row
                .job
                .unsigned_names()
                .into_iter()
                .filter(|(name, _)| is_named(&staff, name.name, &person.name))
                .filter(|(name, _)| paths.is_empty() || paths.contains(&name.path))
                .map(|(name, typed_by)| {
                    let said = json!({"field": name.path, "name": name.name, "typed_by": typed_by});
                    (name.path, said)
                })
                .collect();
            let missing = paths.iter().find(|p| !waiting.iter().any(|(w, _)| w == *p));
            if let Some(path) = missing {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!("{path} of job {number} does not wait for {}", person.name),
                )
                .hint(format!("rimbook check {number} names what waits")));
            }
            if waiting.is_empty() {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!("nothing of job {number} waits for {}", person.name),
                ));
            }
            let said: Vec<&Value> = waiting.iter().map(|(_, said)| said).collect();
            let detail = json!({"confirmed": said});
            for (path, _) in &waiting {
                row.job.sign_name(path, at);
            }
            Ok(Happened {
                by: Some(&person.name),
                what: "names confirmed",
                detail,
            })
        })
    }

    /// As [`Desk::confirm`] for an owner who types the PIN at another's screen: whoever is signed in
    /// stays so.
    ///
    /// # Errors
    /// As [`Desk::sign_in`] and [`Desk::confirm`].
    pub fn confirm_with_secret(
        &mut self,
        number: &str,
        paths: &[String],
        owner: &str,
        given: &str,
    ) -> Result<OpenJob, DeskError> {
        let (person, _) = self.prove(owner, given)?;
        let session = self.session.replace(person.name.clone());
        let confirmed = self.confirm(number, paths, &person.name);
        self.session = session;
        confirmed
    }
}
