//! Who waits: pairs that are ready and not collected, who was told and when; and what a laboratory's
//! pairs were sent back for.

use chrono::{Days, NaiveDate};
use serde::Serialize;

use super::error::DeskError;
use super::open::Desk;
use crate::job::{Contact, Stage};
use crate::judge::gate::faults::SentBack;
use crate::practice::Threshold;

/// How many pairs that were sent back are looked at.
const SENT_BACK: usize = 500;

/// A pair that is ready and that nobody has come for, without an appointment to come.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Waiting {
    /// Number in the book.
    pub number: String,
    /// The wearer's name.
    pub wearer: String,
    /// The wearer's telephone.
    pub phone: Option<String>,
    /// The day since which it is ready.
    pub since: NaiveDate,
    /// An appointment that went by.
    pub missed: Option<NaiveDate>,
    /// What the wearer was told last, or tried to be told.
    pub told: Option<Contact>,
    /// Days since it was ready, or since the wearer was last told.
    pub days: i64,
    /// Whether that is longer than the practice waits.
    pub uncollected: bool,
}

impl Waiting {
    /// How it has waited, in few words.
    pub fn words(&self) -> String {
        let day = |d: NaiveDate| d.format("%-d %b").to_string();
        let mut text = format!("waiting since {}", day(self.since));
        if let Some(missed) = self.missed {
            text = format!("{text}, did not come {}", day(missed));
        }
        let Some(told) = &self.told else {
            return format!("{text}, nobody told");
        };
        let at = told.at.map_or_else(String::new, |m| day(m.0.date()));
        let how = told.how.map_or_else(String::new, |h| format!(" {h}"));
        let word = if told.reached == Some(false) {
            "tried"
        } else {
            "told"
        };
        format!("{text}, {word} {at}{how}")
    }
}

impl Desk {
    /// Returns the pairs that are ready and wait without an appointment, the longest waiting first.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn waiting(&self) -> Result<Vec<Waiting>, DeskError> {
        let today = self.today();
        let days = self.practice()?.thresholds.get(Threshold::UncollectedDays);
        let mut all = Vec::new();
        for line in self.store.open_lines()? {
            let appointment = line.collection_at.map(|m| m.0.date());
            if line.stage != Stage::Verified || appointment.is_some_and(|d| d >= today) {
                continue;
            }
            let row = self.store.job(&line.number)?;
            // Mostly read and passed the same day; only where nobody noted when it was read does
            // its move say since when it is ready.
            let since = match row.job.readings.taken_on {
                Some(day) => day,
                None => self
                    .store
                    .history(row.id)?
                    .iter()
                    .rfind(|(_, _, what, detail)| what == "moved" && detail["to"] == "verified")
                    .map_or(today, |(at, ..)| at.date()),
            };
            let contacts = row.job.aftercare.contacts;
            // Who was tried and not reached knows nothing yet, and waits on.
            let reached = contacts.iter().filter(|c| c.reached != Some(false));
            let from = reached
                .filter_map(|c| c.at)
                .map(|m| m.0.date())
                .max()
                .map_or(since, |day| day.max(since));
            let told = contacts.last().cloned();
            let waited = (today - from).num_days();
            all.push(Waiting {
                number: line.number,
                wearer: line.wearer,
                phone: row.job.wearer.phone,
                since,
                missed: appointment,
                told,
                days: waited,
                #[allow(
                    clippy::cast_precision_loss,
                    reason = "days of a life are far below what a float counts exactly"
                )]
                uncollected: waited as f64 >= days,
            });
        }
        all.sort_by(|a, b| (a.since, &a.number).cmp(&(b.since, &b.number)));
        Ok(all)
    }

    /// Returns what was sent back in the days in which a fault counts as the same again, of every
    /// laboratory.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn sent_back_lately(&self) -> Result<Vec<SentBack>, DeskError> {
        let days = self.practice()?.thresholds.get(Threshold::FaultDays);
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a setting between 0 and 1000"
        )]
        let since = self
            .today()
            .checked_sub_days(Days::new(days as u64))
            .unwrap_or(NaiveDate::MIN);
        let rows = self.store.sent_back_since(since, SENT_BACK)?;
        Ok(rows
            .into_iter()
            .map(|(on, laboratory, detail)| SentBack {
                on,
                laboratory,
                checks: detail["findings"]
                    .as_array()
                    .into_iter()
                    .flatten()
                    .filter_map(|f| f["check"].as_str().map(str::to_owned))
                    .collect(),
            })
            .collect())
    }
}
