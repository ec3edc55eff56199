//! Records due for review, by wearer. Nothing is erased here.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;
use serde_json::json;

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::session::acting_registrant;
use crate::book::store::{NewEvent, WearerRow};
use crate::job::retention::{ADULT_YEARS, CHILD_UNTIL_AGE, Retention, Why, last_seen};

/// Name of the setting in the book.
const RETENTION: &str = "retention";

/// A wearer whose records are due for review.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Review {
    /// Name, as in the newest job.
    pub wearer: String,
    /// Date of birth.
    pub born: Option<NaiveDate>,
    /// Numbers of the wearer's jobs, oldest first.
    pub numbers: Vec<String>,
    /// The day the wearer was last seen.
    pub last_seen: NaiveDate,
    /// Whether that day is only the newest entry of history, no job saying when anybody was seen.
    pub seen_by_entry: bool,
    /// The first day on which the records were due.
    pub due_on: NaiveDate,
    /// Which part of the rule decided.
    pub rule: Why,
    /// The rule that decided, in words.
    pub why: String,
}

/// Jobs of one wearer: the same form of the name, the same date of birth. Without a name, each job
/// belongs to a different wearer.
pub(super) fn is_same_wearer(a: &WearerRow, b: &WearerRow) -> bool {
    a.id == b.id || (!a.key.is_empty() && a.key == b.key && a.job.wearer.born == b.job.wearer.born)
}

pub(super) fn is_open(row: &WearerRow) -> bool {
    row.job.stage().is_open() && !row.job.is_past()
}

impl Desk {
    /// Returns how long records are kept before they are due for review.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn retention(&self) -> Result<Retention, DeskError> {
        Ok(self.store.setting(RETENTION)?.unwrap_or_default())
    }

    /// Sets how long records are kept before they are due for review.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] unless a registered person does it; [`ErrorKind::Input`] for numbers
    /// outside what a rule may say.
    pub fn set_retention(&mut self, rule: Retention, by: &str) -> Result<(), DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let person = acting_registrant(
            self.session.as_deref(),
            &write,
            by,
            "set how long records are kept",
        )?;
        if !rule.is_sensible() {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!(
                    "{} years, age {}: a rule says {} to {} years after last seen and an age of {} to {}",
                    rule.adult_years,
                    rule.child_until_age,
                    ADULT_YEARS.start(),
                    ADULT_YEARS.end(),
                    CHILD_UNTIL_AGE.start(),
                    CHILD_UNTIL_AGE.end(),
                ),
            ));
        }
        let before: Retention = write.setting(RETENTION)?.unwrap_or_default();
        write.set_setting(RETENTION, &rule)?;
        let detail = with_trial_day(clock, json!({"from": before, "to": rule}));
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "retention set",
            detail: &detail,
        })?;
        Ok(write.commit()?)
    }

    /// Returns the wearers whose records are due for review on a day, the longest due first. A
    /// wearer with an open job is being looked after and is not due.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn due_for_review(&self, on: NaiveDate) -> Result<Vec<Review>, DeskError> {
        let rule = self.retention()?;
        let mut wearers: BTreeMap<(String, Option<NaiveDate>, i64), Vec<WearerRow>> =
            BTreeMap::new();
        for row in self.store.every_job()? {
            let alone = if row.key.is_empty() { row.id } else { 0 };
            wearers
                .entry((row.key.clone(), row.job.wearer.born, alone))
                .or_default()
                .push(row);
        }
        let mut out: Vec<Review> = wearers
            .into_values()
            .filter_map(|jobs| self.review(rule, &jobs))
            .filter(|r| r.due_on <= on)
            .collect();
        out.sort_by(|a, b| (a.due_on, &a.wearer).cmp(&(b.due_on, &b.wearer)));
        Ok(out)
    }

    fn review(&self, rule: Retention, jobs: &[WearerRow]) -> Option<Review> {
        let newest = jobs.last()?;
        if jobs.iter().any(is_open) {
            return None;
        }
        let today = self.today();
        let seen = jobs.iter().filter_map(|j| last_seen(&j.job, today)).max();
        let last_seen = match seen {
            Some(day) => day,
            None => jobs.iter().filter_map(|j| j.last_entry).max()?,
        };
        let born = newest.job.wearer.born;
        let due = rule.due(born, last_seen);
        Some(Review {
            wearer: newest.job.wearer.name.clone().unwrap_or_default(),
            born,
            numbers: jobs.iter().map(|j| j.number.clone()).collect(),
            last_seen,
            seen_by_entry: seen.is_none(),
            due_on: due.on,
            rule: due.why,
            why: rule.said(due.why),
        })
    }
}
