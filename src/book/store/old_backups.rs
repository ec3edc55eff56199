//! The copies in a directory of backups: which are of this book, in which order, which are kept.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use chrono::{Datelike, NaiveDateTime};

use super::book::Store;
use super::book_id::BOOK_ID;
use super::error::{StoreError, in_directory};
use super::head::Head;
use super::key::{Key, keyring_file};
use super::signed_head::head_file;
use super::{connection, open, settings};

/// Format of the time in a backup's name.
pub(super) const NAME: &str = "book-%Y-%m-%dT%H-%M-%S";
/// Largest number of backups named by the same second.
pub(super) const SAME_SECOND: u32 = 100;

/// A backup of this book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnBackup {
    /// The file.
    pub file: PathBuf,
    /// When it was made, by its name.
    pub at: NaiveDateTime,
    /// The newest entry of history in it.
    pub head: Head,
}

/// How many backups are kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Keep {
    /// The newest ones.
    pub last: usize,
    /// The newest of each of so many days.
    pub days: usize,
    /// The newest of each of so many weeks.
    pub weeks: usize,
    /// The newest of each of so many months.
    pub months: usize,
}

impl Store {
    /// Returns the backups of this book in a directory, oldest first. Other files are opened only
    /// as far as needed to recognise them.
    ///
    /// # Errors
    /// [`StoreError`] of the book, or of the directory.
    pub fn own_backups(&self, directory: &Path) -> Result<Vec<OwnBackup>, StoreError> {
        let Some(id) = self.setting::<String>(BOOK_ID)? else {
            return Ok(Vec::new());
        };
        let entries = std::fs::read_dir(directory).map_err(|e| in_directory(directory, &e))?;
        let mut found: Vec<OwnBackup> = entries
            .filter_map(Result::ok)
            // A symbolic link leads to another directory; backups are not looked for there.
            .filter(|e| e.file_type().is_ok_and(|t| t.is_file()))
            .filter_map(|e| own(&e.path(), &id, self.key.as_ref()))
            .collect();
        found.sort_by_key(|b| place_of(&b.file).map(|place| (place, b.head.id)));
        Ok(found)
    }

    /// Removes the backups of this book beyond the numbers to keep; returns those removed.
    ///
    /// # Errors
    /// As [`Store::own_backups`].
    pub fn rotate(
        &self,
        directory: &Path,
        keep: Keep,
        never: &Path,
    ) -> Result<Vec<PathBuf>, StoreError> {
        let all = self.own_backups(directory)?;
        let times: Vec<NaiveDateTime> = all.iter().map(|b| b.at).collect();
        let kept = kept(&times, keep);
        let mut gone = Vec::new();
        for (place, backup) in all.into_iter().enumerate() {
            let stays = kept.contains(&place) || backup.file == never;
            // Another process may have removed it a moment ago.
            if !stays && std::fs::remove_file(&backup.file).is_ok() {
                // A plain backup has no key file.
                std::fs::remove_file(keyring_file(&backup.file)).unwrap_or_default();
                std::fs::remove_file(head_file(&backup.file)).unwrap_or_default();
                gone.push(backup.file);
            }
        }
        Ok(gone)
    }
}

/// The moment in a backup's name; `None` for any other name.
pub fn moment_of(file: &Path) -> Option<NaiveDateTime> {
    place_of(file).map(|(at, _)| at)
}

/// The moment in a backup's name, and which one of that second it is.
fn place_of(file: &Path) -> Option<(NaiveDateTime, u32)> {
    let name = file.file_name()?.to_str()?.strip_suffix(".db")?;
    let (when, n) = match name.match_indices('-').nth(5) {
        Some((at, _)) => (name.get(..at)?, name.get(at + 1..)?),
        None => (name, ""),
    };
    let of_that_second = if n.is_empty() && !name.ends_with('-') {
        1
    } else {
        n.parse::<u32>()
            .ok()
            .filter(|n| (2..=SAME_SECOND).contains(n))?
    };
    let at = NaiveDateTime::parse_from_str(when, NAME).ok()?;
    Some((at, of_that_second))
}

/// Returns a file's description if it is a backup of this book.
fn own(file: &Path, book: &str, key: Option<&Key>) -> Option<OwnBackup> {
    let at = moment_of(file)?;
    let c = connection::connect_to_look(file, key).ok()?;
    open::refuse_foreign(&c, "").ok()?;
    let id: String = settings::setting(&c, BOOK_ID).ok()??;
    (id == book).then_some(())?;
    let head = Head::of(&c).ok()?;
    Some(OwnBackup {
        file: file.to_owned(),
        at,
        head,
    })
}

/// Indices of the moments, oldest first, that are kept.
fn kept(times: &[NaiveDateTime], keep: Keep) -> BTreeSet<usize> {
    fn newest_of_each<K: PartialEq>(
        times: &[NaiveDateTime],
        how_many: usize,
        of: impl Fn(&NaiveDateTime) -> K,
    ) -> Vec<usize> {
        let mut kept = Vec::new();
        let mut last: Option<K> = None;
        for (place, time) in times.iter().enumerate().rev() {
            if kept.len() == how_many {
                break;
            }
            let period = of(time);
            if last.as_ref() != Some(&period) {
                kept.push(place);
                last = Some(period);
            }
        }
        kept
    }
    let mut all: BTreeSet<usize> = (times.len().saturating_sub(keep.last)..times.len()).collect();
    all.extend(newest_of_each(times, keep.days, NaiveDateTime::date));
    all.extend(newest_of_each(times, keep.weeks, Datelike::iso_week));
    all.extend(newest_of_each(times, keep.months, |t| {
        (t.year(), t.month())
    }));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> NaiveDateTime {
        text.parse().unwrap()
    }

    #[test]
    fn the_newest_of_each_day_week_and_month_are_kept() {
        // Two a day, from a Monday for forty days: 2026-01-05 to 2026-02-13.
        let times: Vec<NaiveDateTime> = (0..40)
            .flat_map(|d| {
                let day = at("2026-01-05T00:00:00") + chrono::TimeDelta::days(d);
                [9, 18].map(|h| day + chrono::TimeDelta::hours(h))
            })
            .collect();
        let keep = |last, days, weeks, months| {
            let keep = Keep {
                last,
                days,
                weeks,
                months,
            };
            let mut found: Vec<String> = kept(&times, keep)
                .into_iter()
                .map(|i| times[i].format("%m-%d %H").to_string())
                .collect();
            found.reverse();
            found
        };
        assert_eq!(keep(3, 0, 0, 0), ["02-13 18", "02-13 09", "02-12 18"]);
        assert_eq!(keep(1, 3, 0, 0), ["02-13 18", "02-12 18", "02-11 18"]);
        // The newest of a week that is over is its Sunday evening.
        assert_eq!(keep(1, 0, 3, 0), ["02-13 18", "02-08 18", "02-01 18"]);
        assert_eq!(keep(1, 0, 0, 9), ["02-13 18", "01-31 18"]);
        assert_eq!(keep(0, 1, 2, 2), ["02-13 18", "02-08 18", "01-31 18"]);
        assert_eq!(keep(500, 0, 0, 0).len(), 80);
    }

    #[test]
    fn only_names_of_backups_are_taken_for_backups() {
        let moment = |name: &str| moment_of(Path::new(name));
        let wanted = Some(at("2026-11-25T14:47:03"));
        assert_eq!(moment("/b/book-2026-11-25T14-47-03.db"), wanted);
        assert_eq!(moment("/b/book-2026-11-25T14-47-03-2.db"), wanted);
        for other in [
            "book.db",
            "book-2026-11-25T14-47-03.db.part",
            "book-2026-11-25T14-47-03-x.db",
            "book-2026-11-25T14-47-03-1.db",
            "book-2026-13-25T14-47-03.db",
            "book-2026-11-25T14-47-03",
            "a-book-2026-11-25T14-47-03.db",
        ] {
            assert_eq!(moment(other), None, "{other}");
        }
    }
}
