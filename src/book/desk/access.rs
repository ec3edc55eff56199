//! What the book holds of one wearer, for a wearer who asks.

use chrono::NaiveDate;
use serde_json::json;

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::session::acting;
use crate::book::store::chain::ACCESS_GIVEN;
use crate::book::store::{NewEvent, key_of};

/// The jobs of a wearer who asked, and other jobs under the same name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Access {
    /// Numbers of the wearer's jobs, oldest first.
    pub numbers: Vec<String>,
    /// Numbers of jobs under the same name without a date of birth or with another.
    pub namesakes: Vec<String>,
}

impl Desk {
    /// Finds the jobs of a wearer by name and date of birth and keeps in the history of each that
    /// access was given, by whom and when, without content.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when there is none; the hint then lists the jobs of that name that were
    /// left out.
    pub fn give_access(
        &mut self,
        name: &str,
        born: NaiveDate,
        by: &str,
    ) -> Result<Access, DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let key = key_of(name);
        let write = self.store.write()?;
        let person = acting(self.session.as_deref(), &write, by)?;
        let (meant, others): (Vec<_>, Vec<_>) = write
            .every_job()?
            .into_iter()
            .filter(|r| !key.is_empty() && r.key == key)
            .partition(|r| r.job.wearer.born == Some(born));
        let namesakes: Vec<String> = others.into_iter().map(|r| r.number).collect();
        if meant.is_empty() {
            let error = DeskError::new(
                ErrorKind::NotFound,
                "no job is a wearer's of that name and date of birth",
            );
            return Err(if namesakes.is_empty() {
                error.hint("the whole name is needed, as the job has it: rimbook find TEXT")
            } else {
                error.hint(format!(
                    "under that name with another date of birth, or without one: {}",
                    namesakes.join(", ")
                ))
            });
        }
        for row in &meant {
            write.event(
                row.id,
                NewEvent {
                    at: now,
                    by: Some(&person.name),
                    what: ACCESS_GIVEN,
                    detail: &with_trial_day(clock, json!({})),
                },
            )?;
        }
        write.commit()?;
        Ok(Access {
            numbers: meant.into_iter().map(|r| r.number).collect(),
            namesakes,
        })
    }
}
