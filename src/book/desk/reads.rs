//! Who looked at what: kept where people sign in, for a set time, apart from history.

use serde::Serialize;

use super::error::DeskError;
use super::open::Desk;
use super::session::signed;
use crate::book::clock::local_of_utc_s;

/// Days for which it is kept who looked at what.
pub(crate) const READS_KEPT_DAYS: i64 = 400;
const DAY_S: i64 = 24 * 60 * 60;

/// One look at a job, or at all jobs at once.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Look {
    /// When, by the clock of this machine.
    pub at: String,
    /// Who.
    pub by: String,
    /// At what: "shown", "exported", "printed", "listed" and so on.
    pub what: String,
    /// The job; absent where it was all jobs at once.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<String>,
}

impl Desk {
    /// Keeps that whoever is signed in looks at jobs, or at all of them where no number is given. Nothing
    /// is kept where nobody signs in.
    ///
    /// # Errors
    /// [`super::ErrorKind::Refused`] where people sign in and nobody is signed in.
    pub fn note_read(&mut self, what: &str, numbers: &[&str]) -> Result<(), DeskError> {
        if !self.security()?.sign_in {
            return Ok(());
        }
        let now_s = self.clock.utc_s();
        let write = self.store.write()?;
        let Some(by) = self.session.as_deref() else {
            return signed(None, &write, None);
        };
        let times = (now_s, now_s - READS_KEPT_DAYS * DAY_S);
        write.note_reads(times, by, what, numbers)?;
        Ok(write.commit()?)
    }

    /// Returns who looked at a job, the oldest first; looks at all jobs at once are among them.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn reads_of(&self, number: &str) -> Result<Vec<Look>, DeskError> {
        let rows = self.store.reads_of(number)?;
        Ok(rows
            .into_iter()
            .map(|(at_s, by, what, number)| Look {
                at: local_of_utc_s(at_s)
                    .map_or_else(String::new, |at| at.format("%Y-%m-%dT%H:%M:%S").to_string()),
                by,
                what,
                number,
            })
            .collect())
    }
}
