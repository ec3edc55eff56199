//! Backups: made on request or when one is due; how many are kept.

use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;
use serde::{Deserialize, Serialize};
use serde_json::json;

use super::error::{DeskError, ErrorKind};
use super::head;
use super::history::with_trial_day;
use super::open::Desk;
use super::session::acting_registrant;
use crate::book::store::{self, Copied, NewEvent};

/// Name of the setting in the book.
const PLAN: &str = "backup";
/// Days after which the last backup is called old.
pub(crate) const OLD_DAYS: i64 = 7;

/// What the practice has set about backups.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct BackupPlan {
    /// Directory of the backups; `None` until one is set.
    pub dir: Option<PathBuf>,
    /// How many of the newest are kept; at least 1.
    pub keep_last: usize,
    /// The newest of each of so many days is kept.
    pub keep_days: usize,
    /// The newest of each of so many weeks is kept.
    pub keep_weeks: usize,
    /// The newest of each of so many months is kept.
    pub keep_months: usize,
    /// Whether the first start of a day makes one.
    pub on_start: bool,
    /// Whether leaving makes one after changes.
    pub on_quit: bool,
}

impl Default for BackupPlan {
    fn default() -> Self {
        Self {
            dir: None,
            keep_last: 10,
            keep_days: 14,
            keep_weeks: 8,
            keep_months: 24,
            on_start: true,
            on_quit: true,
        }
    }
}

/// A change of the backup settings; `None` keeps the present value.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PlanChange {
    /// The directory.
    pub dir: Option<PathBuf>,
    /// How many of the newest are kept.
    pub keep_last: Option<usize>,
    /// Of how many days.
    pub keep_days: Option<usize>,
    /// Of how many weeks.
    pub keep_weeks: Option<usize>,
    /// Of how many months.
    pub keep_months: Option<usize>,
    /// Whether the first start of a day makes one.
    pub on_start: Option<bool>,
    /// Whether leaving makes one after changes.
    pub on_quit: Option<bool>,
}

impl PlanChange {
    fn to(&self, plan: &BackupPlan) -> Result<BackupPlan, DeskError> {
        let dir = match &self.dir {
            Some(dir) => Some(absolute(dir)?),
            None => plan.dir.clone(),
        };
        let to = BackupPlan {
            dir,
            keep_last: self.keep_last.unwrap_or(plan.keep_last),
            keep_days: self.keep_days.unwrap_or(plan.keep_days),
            keep_weeks: self.keep_weeks.unwrap_or(plan.keep_weeks),
            keep_months: self.keep_months.unwrap_or(plan.keep_months),
            on_start: self.on_start.unwrap_or(plan.on_start),
            on_quit: self.on_quit.unwrap_or(plan.on_quit),
        };
        if to.keep_last == 0 {
            return Err(DeskError::new(
                ErrorKind::Input,
                "0 of the newest backups: at least 1 is kept",
            ));
        }
        Ok(to)
    }
}

/// A relative directory is made absolute, so that it means the same wherever the program starts.
fn absolute(dir: &Path) -> Result<PathBuf, DeskError> {
    let no_directory = |e: std::io::Error| {
        DeskError::new(
            ErrorKind::Input,
            format!("{} is no directory ({e})", dir.display()),
        )
    };
    if dir
        .components()
        .any(|c| c == std::path::Component::ParentDir)
    {
        // Parents that are not there would be made on the way.
        return dir.canonicalize().map_err(no_directory);
    }
    std::path::absolute(dir).map_err(no_directory)
}

/// A backup that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackedUp {
    /// The new file, its size and the newest entry of its history.
    pub copied: Copied,
    /// Older backups that were removed.
    pub removed: Vec<PathBuf>,
    /// Further remarks for the person, a sentence each.
    pub notes: Vec<String>,
}

/// Whether backups are set up and how old the last one is, for the worklist.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackupState {
    /// Whether a directory is set.
    pub has_directory: bool,
    /// When the last one was made.
    pub last: Option<NaiveDateTime>,
    /// When this was read from the book.
    pub now: NaiveDateTime,
}

impl BackupState {
    /// The state in a few words, and whether it needs attention.
    pub fn words(&self) -> (String, bool) {
        const HOW: &str = "rimbook backup --set DIR --as NAME";
        let Some(last) = self.last else {
            return if self.has_directory {
                ("no backup yet".to_owned(), true)
            } else {
                (format!("no backup yet: {HOW}"), true)
            };
        };
        let days = (self.now.date() - last.date()).num_days();
        let words = match days {
            0 => format!("today {}", last.format("%H:%M")),
            1 => format!("yesterday {}", last.format("%H:%M")),
            2.. => format!("{days} days ago"),
            // Made on a later day than today: the clock was set back.
            _ => format!("dated {}", last.date()),
        };
        let how = if self.has_directory {
            String::new()
        } else {
            format!("; no place is set: {HOW}")
        };
        (
            format!("{words}{how}"),
            !(0..OLD_DAYS).contains(&days) || !self.has_directory,
        )
    }
}

/// Moments at which a backup may be due.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Occasion {
    /// The screens were opened.
    Start,
    /// The screens are closed.
    Quit,
}

impl Desk {
    /// Returns the backup settings.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn backup_plan(&self) -> Result<BackupPlan, DeskError> {
        Ok(self.store.setting(PLAN)?.unwrap_or_default())
    }

    /// Sets where backups go and how many are kept.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] unless a registered person does it: backups beyond the numbers are deleted.
    pub fn set_backup_plan(
        &mut self,
        change: &PlanChange,
        by: &str,
    ) -> Result<BackupPlan, DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let person = acting_registrant(
            self.session.as_deref(),
            &write,
            by,
            "set where backups go and how many are kept",
        )?;
        let before: BackupPlan = write.setting(PLAN)?.unwrap_or_default();
        let to = change.to(&before)?;
        write.set_setting(PLAN, &to)?;
        let detail = with_trial_day(clock, json!({"from": before, "to": to}));
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "backups set",
            detail: &detail,
        })?;
        write.commit()?;
        Ok(to)
    }

    /// Makes a backup by a changed plan, and keeps the plan only when that was done.
    ///
    /// # Errors
    /// As [`Desk::set_backup_plan`] and [`Desk::back_up`]; nothing is set then.
    pub fn back_up_by(&mut self, change: &PlanChange, by: &str) -> Result<BackedUp, DeskError> {
        let write = self.store.write()?;
        acting_registrant(
            self.session.as_deref(),
            &write,
            by,
            "set where backups go and how many are kept",
        )?;
        drop(write);
        let plan = self.backup_plan()?;
        let to = change.to(&plan)?;
        let Some(dir) = to.dir.clone() else {
            // Numbers alone, before a place is set: there is nothing to try.
            self.set_backup_plan(change, by)?;
            return self.back_up(None);
        };
        let copied = self.store.back_up(&dir, self.clock.now(), head::keys())?;
        self.set_backup_plan(change, by)?;
        self.let_go(copied, &to, &dir)
    }

    /// Copies the book into a directory, or into the one that is set, and removes old copies.
    ///
    /// Into the directory that is set nobody needs to be signed in: a registered person chose it, and a
    /// backup by a timer at night must not wait for a person. Any other directory needs somebody, where
    /// people sign in. No copy holds a secret.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] for another directory than the one that is set, where nobody is signed in;
    /// [`ErrorKind::Usage`] when no directory is set; [`ErrorKind::File`] with the reason: no new file
    /// remains and no older backup was removed.
    pub fn back_up(&mut self, into: Option<&Path>) -> Result<BackedUp, DeskError> {
        let plan = self.backup_plan()?;
        let Some(dir) = into.map(absolute).transpose()?.or_else(|| plan.dir.clone()) else {
            return Err(
                DeskError::new(ErrorKind::Usage, "no directory for backups is set").hint(
                    "name one: rimbook backup DIR; to set it for good: rimbook backup --set DIR --as NAME",
                ),
            );
        };
        if plan.dir.as_ref() != Some(&dir) && self.security()?.sign_in && self.session.is_none() {
            return Err(DeskError::new(
                ErrorKind::Refused,
                "a backup into another directory than the one that is set needs somebody who is signed in",
            )
            .hint("add --as NAME, or leave the directory out"));
        }
        let copied = self.store.back_up(&dir, self.clock.now(), head::keys())?;
        self.let_go(copied, &plan, &dir)
    }

    /// Removes old copies after a new one was made, and says what somebody should know.
    fn let_go(&self, copied: Copied, plan: &BackupPlan, dir: &Path) -> Result<BackedUp, DeskError> {
        let mut notes = Vec::new();
        let mut removed = Vec::new();
        if copied.history_faults > 0 {
            // The older copies may be the last ones without the damage.
            notes.push(format!(
                "history shows {} faults, so no older backup was removed; rimbook doctor names them",
                copied.history_faults
            ));
        } else if plan.dir.as_deref() == Some(dir) {
            // In another directory nobody has agreed to the removal of old copies.
            let keep = store::Keep {
                last: plan.keep_last,
                days: plan.keep_days,
                weeks: plan.keep_weeks,
                months: plan.keep_months,
            };
            removed = self.store.rotate(dir, keep, &copied.file)?;
        }
        let is_beside = self.store.path().is_some_and(|book| {
            let there = |p: &Path| p.canonicalize().ok();
            book.parent().and_then(there) == there(dir)
        });
        if is_beside {
            notes.push(
                "the backups lie beside the book: whatever takes the book takes them too; name a directory on another drive".to_owned(),
            );
        }
        if let Some(why) = &copied.unsigned {
            notes.push(format!("no signed head lies beside the backup: {why}"));
        }
        if !copied.noted {
            notes.push(
                "the book is being written to and could not note the backup; the backup itself is whole".to_owned(),
            );
        }
        if copied.search_broken {
            notes.push(
                "the search index is not whole; rimbook doctor --repair builds it again".to_owned(),
            );
        }
        Ok(BackedUp {
            copied,
            removed,
            notes,
        })
    }

    /// Returns whether backups are set up and when the last was made.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn backup_state(&self) -> Result<BackupState, DeskError> {
        Ok(BackupState {
            has_directory: self.backup_plan()?.dir.is_some(),
            last: self.store.last_backup()?.map(|l| l.at),
            now: self.clock.now(),
        })
    }

    /// Whether a backup is due at this moment.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn backup_is_due(&self, occasion: Occasion) -> Result<bool, DeskError> {
        let plan = self.backup_plan()?;
        if plan.dir.is_none() {
            return Ok(false);
        }
        let last = self.store.last_backup()?;
        Ok(match occasion {
            Occasion::Start => {
                plan.on_start && last.is_none_or(|l| l.at.date() != self.clock.today())
            }
            Occasion::Quit => {
                let head = self.store.head()?;
                plan.on_quit && last.is_none_or(|l| l.head != head)
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_age_of_the_last_backup_is_said_in_days() {
        let said = |last: Option<&str>, has_directory| {
            BackupState {
                has_directory,
                last: last.map(|l| l.parse().unwrap()),
                now: "2026-11-25T08:00:00".parse().unwrap(),
            }
            .words()
        };
        let plain = |text: &str, warns| (text.to_owned(), warns);
        assert_eq!(said(None, true), plain("no backup yet", true));
        let today = said(Some("2026-11-25T07:12:30"), true);
        assert_eq!(today, plain("today 07:12", false));
        let yesterday = said(Some("2026-11-24T23:59:00"), true);
        assert_eq!(yesterday, plain("yesterday 23:59", false));
        let week = said(Some("2026-11-19T09:00:00"), true);
        assert_eq!(week, plain("6 days ago", false));
        let old = said(Some("2026-11-18T09:00:00"), true);
        assert_eq!(old, plain("7 days ago", true));
        let ahead = said(Some("2026-11-26T09:00:00"), true);
        assert_eq!(ahead, plain("dated 2026-11-26", true));
        let (text, warns) = said(None, false);
        assert!(warns && text.contains("backup --set DIR"), "{text}");
    }
}
