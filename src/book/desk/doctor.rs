//! Examining a book: what is well, what needs attention, what is broken.
//!
//! No finding identifies a wearer: it names numbers of jobs and entries at most.

mod against;
mod files_and_drive;
mod finding;
mod repair;
mod salvage;

use std::path::Path;

use serde::Serialize;

pub(crate) use files_and_drive::network_drive;
pub(crate) use finding::{DoctorFinding, Level};
pub(crate) use repair::Repair;
pub(crate) use salvage::salvage;

use finding::REPAIR;

use super::error::{DeskError, ErrorKind};
use super::open::Desk;
use crate::book::clock::Clock;
use crate::book::store;

/// Findings and repairs of an examination.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Doctor {
    /// One finding for each part examined, in order.
    pub findings: Vec<DoctorFinding>,
    /// The repairs that were made, a sentence each.
    pub repaired: Vec<String>,
    /// What was not repaired although it could be, and why, a sentence each.
    pub not_repaired: Vec<String>,
}

impl Doctor {
    /// Whether nothing is broken.
    pub fn is_sound(&self) -> bool {
        self.findings.iter().all(|c| c.level != Level::Fault)
    }
}

const RESTORE: &str =
    "keep the file as it is and restore the newest backup: rimbook restore FILE --as NAME";

const SALVAGE: &str = "keep the file as it is and restore the newest backup: rimbook restore FILE --as NAME; or write all that can be read into a new book: rimbook doctor --salvage FILE";

/// Examines a book, after repairing what can be if that is asked for; also against a code of its
/// history, or a signed head, that somebody kept.
///
/// # Errors
/// [`DeskError`] when a repair was asked for and is refused or fails; what an examination finds is
/// no error.
pub fn examine(
    book: &Path,
    clock: Clock,
    secret: Option<&str>,
    repair: Option<Repair<'_>>,
    against: Option<&str>,
) -> Result<Doctor, DeskError> {
    let mut doctor = Doctor::default();
    if let Some(repair) = repair {
        (doctor.repaired, doctor.not_repaired) = repair.run(book, clock, secret)?;
    }
    let found = &mut doctor.findings;
    found.push(library());
    found.extend(files_and_drive::drive(book));
    found.extend(files_and_drive::permissions(book));
    found.push(files_and_drive::space(book));
    found.push(files_and_drive::unfinished_files(book, clock));
    let desk = match Desk::open_by(book, clock, secret) {
        Ok(desk) => desk,
        Err(e) => {
            found.push(DoctorFinding::bad(
                "file",
                Level::Fault,
                e.message,
                e.hints
                    .first()
                    .cloned()
                    .unwrap_or_else(|| RESTORE.to_owned()),
            ));
            return Ok(doctor);
        }
    };
    for look in [
        Desk::look_at_file,
        Desk::look_at_tables,
        Desk::look_at_search,
        Desk::look_at_lists,
        Desk::look_at_jobs,
        Desk::look_at_history,
        Desk::look_at_last_backup,
        Desk::look_at_age,
        Desk::look_into_backups,
        Desk::look_at_sign_in,
        Desk::look_at_clock,
        Desk::look_at_erasing,
    ] {
        found.push(look(&desk).unwrap_or_else(not_looked_at));
    }
    if let Some(kept) = against {
        found.push(desk.look_against(kept).unwrap_or_else(not_looked_at));
    }
    Ok(doctor)
}

fn not_looked_at(e: DeskError) -> DoctorFinding {
    match e.kind {
        ErrorKind::Busy => DoctorFinding::bad("file", Level::Warning, e.message, "rimbook doctor"),
        _ => DoctorFinding::bad("file", Level::Fault, e.message, RESTORE),
    }
}

/// Returns the version of the SQLite that works in the book.
pub(crate) fn library_version() -> &'static str {
    store::library().0
}

fn library() -> DoctorFinding {
    let (version, sound) = store::library();
    if sound {
        DoctorFinding::ok("library", format!("SQLite {version}"))
    } else {
        DoctorFinding::bad(
            "library",
            Level::Fault,
            format!("SQLite {version} can damage a book that two terminals write to"),
            "use a newer rimbook",
        )
    }
}

impl Desk {
    fn look_at_file(&self) -> Result<DoctorFinding, DeskError> {
        let found = self.store.integrity()?;
        Ok(if found.is_whole() {
            DoctorFinding::ok("integrity", "the file is whole")
        } else {
            let message = format!("the file is damaged: {}", found.words());
            DoctorFinding::bad("integrity", Level::Fault, message, RESTORE)
        })
    }

    fn look_at_tables(&self) -> Result<DoctorFinding, DeskError> {
        const ID: &str = "tables";
        let found = self.store.tables()?;
        if found.is_right() {
            return Ok(DoctorFinding::ok(
                ID,
                "tables, indices and triggers are as this program makes them",
            ));
        }
        let mut said = Vec::new();
        for (names, how) in [
            (&found.missing, "missing"),
            (&found.changed, "changed"),
            (&found.foreign, "not of this program"),
        ] {
            if !names.is_empty() {
                said.push(format!("{} {how}: {}", names.len(), first_of(names)));
            }
        }
        let is_mendable = found.changed.is_empty() && found.foreign.is_empty();
        Ok(DoctorFinding::bad(
            ID,
            Level::Fault,
            format!(
                "tables, indices or triggers are not as this program makes them: {}",
                said.join("; ")
            ),
            if is_mendable { REPAIR } else { RESTORE },
        ))
    }

    /// What the lists show beside a job against the job, and what holds it today judged again.
    fn look_at_lists(&self) -> Result<DoctorFinding, DeskError> {
        const ID: &str = "lists";
        let mut wrong: Vec<String> = self
            .store
            .shown_wrongly()?
            .into_iter()
            .map(|w| format!("{} ({})", w.number, w.columns.join(", ")))
            .collect();
        let held = self.held_wrongly()?;
        wrong.extend(held.into_iter().map(|number| format!("{number} (held)")));
        Ok(if wrong.is_empty() {
            DoctorFinding::ok(ID, "lists show what the jobs hold")
        } else {
            DoctorFinding::bad(
                ID,
                Level::Fault,
                format!(
                    "lists show of {} jobs what they do not hold: {}",
                    wrong.len(),
                    first_of(&wrong)
                ),
                REPAIR,
            )
        })
    }

    fn look_at_search(&self) -> Result<DoctorFinding, DeskError> {
        let found = self.store.search_index()?;
        if found.is_right() {
            return Ok(DoctorFinding::ok(
                "search",
                "the search index is as the jobs are",
            ));
        }
        let torn = if found.torn {
            " and is torn in itself"
        } else {
            ""
        };
        Ok(DoctorFinding::bad(
            "search",
            Level::Fault,
            format!(
                "the search index lacks {} jobs as they are, has {} that are not there{torn}: some may not be found; the jobs themselves are not touched by it",
                found.differing, found.surplus
            ),
            REPAIR,
        ))
    }

    fn look_at_jobs(&self) -> Result<DoctorFinding, DeskError> {
        let found = self.store.unreadable()?;
        Ok(if found.is_empty() {
            DoctorFinding::ok(
                "jobs",
                "every row of every job and of the practice can be read",
            )
        } else {
            let found: Vec<String> = found.iter().map(ToString::to_string).collect();
            let message = format!("{} cannot be read: {}", found.len(), first_of(&found));
            DoctorFinding::bad("jobs", Level::Fault, message, SALVAGE)
        })
    }

    fn look_at_history(&self) -> Result<DoctorFinding, DeskError> {
        let walk = self.store.walk_history()?;
        if walk.faults.is_empty() {
            let message = format!("history is one chain of {} entries", walk.rows);
            return Ok(DoctorFinding::ok("history", message));
        }
        let faults: Vec<String> = walk.faults.iter().map(ToString::to_string).collect();
        Ok(DoctorFinding::bad(
            "history",
            Level::Fault,
            format!(
                "history shows {} faults: {}",
                faults.len(),
                first_of(&faults)
            ),
            "keep the file as it is, find out who changed it past the program, and compare with a backup from before",
        ))
    }

    /// Whether the book still has the entries of its backups: a chain alone does not show that its end was
    /// cut off.
    fn look_at_last_backup(&self) -> Result<DoctorFinding, DeskError> {
        const ID: &str = "since-backup";
        let cut = |file: &str, id: i64| {
            DoctorFinding::bad(
                ID,
                Level::Fault,
                format!(
                    "history no longer holds entry {id} as the backup {file} has it: entries were cut off or changed since"
                ),
                RESTORE,
            )
        };
        let last = self.store.last_backup()?;
        if let Some(last) = &last
            && !self.store.has_entry(&last.head)?
        {
            return Ok(cut(&last.file, last.head.id));
        }
        // After a restore from an older backup, newer backups hold entries that this book never had.
        let restored = self.store.restored_at()?;
        let dir = self.backup_plan()?.dir.filter(|d| d.is_dir());
        let mut compared = usize::from(last.is_some());
        if let Some(dir) = dir {
            for backup in self.store.own_backups(&dir)? {
                let is_the_last = last
                    .as_ref()
                    .is_some_and(|l| Path::new(&l.file) == backup.file);
                if is_the_last || restored.is_some_and(|r| backup.at <= r) {
                    continue;
                }
                if !self.store.has_entry(&backup.head)? {
                    return Ok(cut(&backup.file.display().to_string(), backup.head.id));
                }
                compared += 1;
            }
        }
        Ok(DoctorFinding::ok(
            ID,
            match compared {
                0 => "there is no backup to compare history with".to_owned(),
                1 => "history holds what the last backup holds".to_owned(),
                n => format!("history holds what the last {n} backups hold"),
            },
        ))
    }

    fn look_at_age(&self) -> Result<DoctorFinding, DeskError> {
        const SET: &str = "rimbook backup --set DIR --as NAME, best on another drive";
        let state = self.backup_state()?;
        let (words, warns) = state.words();
        let dir = self.backup_plan()?.dir;
        if let Some(dir) = dir.filter(|d| !d.is_dir()) {
            return Ok(DoctorFinding::bad(
                "backup",
                Level::Warning,
                format!(
                    "the directory of the backups is not there: {}; last backup: {words}",
                    dir.display()
                ),
                "put the drive in, or set another place: rimbook backup --set DIR --as NAME",
            ));
        }
        Ok(if !state.has_directory {
            DoctorFinding::bad(
                "backup",
                Level::Warning,
                "no directory for backups is set",
                SET,
            )
        } else if warns {
            let message = format!("last backup: {words}");
            DoctorFinding::bad("backup", Level::Warning, message, "rimbook backup")
        } else {
            DoctorFinding::ok("backup", format!("last backup: {words}"))
        })
    }

    /// Whether the newest backup can be restored, and whether other users can read any backup.
    fn look_into_backups(&self) -> Result<DoctorFinding, DeskError> {
        const ID: &str = "backups";
        let dir = self.backup_plan()?.dir.filter(|d| d.is_dir());
        let all = dir.map_or(Ok(Vec::new()), |d| self.store.own_backups(&d))?;
        let Some(newest) = all.last() else {
            return Ok(DoctorFinding::ok(ID, "there is no backup to look into"));
        };
        let shown = newest.file.display();
        let wrong = self.store.look_into(&newest.file);
        if let Some(wrong) = wrong.unwrap_or_else(|e| Some(e.to_string())) {
            return Ok(DoctorFinding::bad(
                ID,
                Level::Fault,
                format!("the newest backup {shown} is damaged: {wrong}"),
                "rimbook backup makes a new one; look whether the drive is well",
            ));
        }
        let open = all
            .iter()
            .filter(|b| store::disk::open_to_others(&b.file).is_some())
            .count();
        Ok(if open > 0 {
            DoctorFinding::bad(
                ID,
                Level::Warning,
                format!(
                    "{open} of {} backups can be read by others on this machine",
                    all.len()
                ),
                "close them to others (chmod 600), or lock the drive away where it knows no owners",
            )
        } else {
            DoctorFinding::ok(ID, format!("the newest of {} is whole: {shown}", all.len()))
        })
    }

    fn look_at_sign_in(&self) -> Result<DoctorFinding, DeskError> {
        Ok(if self.security()?.sign_in {
            DoctorFinding::ok("sign-in", "people sign in")
        } else {
            DoctorFinding::bad(
                "sign-in",
                Level::Warning,
                "signing in is off: whoever is at the desk can act in anybody's name",
                "have a registered person turn it on, unless the practice has decided otherwise",
            )
        })
    }

    fn look_at_clock(&self) -> Result<DoctorFinding, DeskError> {
        let now = self.clock.now();
        let latest = self.store.latest_entry()?;
        // Local time itself goes back by an hour in autumn.
        Ok(
            match latest.filter(|l| *l > now + chrono::TimeDelta::hours(1)) {
                None => DoctorFinding::ok("clock", format!("the clock says {now}")),
                Some(latest) => DoctorFinding::bad(
                    "clock",
                    Level::Warning,
                    format!(
                        "the clock says {now} and history holds an entry of {latest}: the clock was set back, or was ahead then"
                    ),
                    "set the clock of this machine",
                ),
            },
        )
    }

    fn look_at_erasing(&self) -> Result<DoctorFinding, DeskError> {
        Ok(match self.store.unfinished_erasures()? {
            0 if self.sweep_is_due()? => DoctorFinding::bad(
                "erasing",
                Level::Warning,
                "what was erased may still lie in the file, because another terminal was reading then",
                "close the other terminals, then: rimbook erase --sweep",
            ),
            0 => DoctorFinding::ok("erasing", "no erasure was left half done"),
            n => DoctorFinding::bad(
                "erasing",
                Level::Fault,
                format!(
                    "{n} jobs are marked as being erased and nothing erases them: their history is not protected"
                ),
                REPAIR,
            ),
        })
    }
}

/// The first few of a list.
fn first_of(list: &[String]) -> String {
    const FEW: usize = 5;
    let more = match list.len().saturating_sub(FEW) {
        0 => String::new(),
        n => format!(" and {n} more"),
    };
    let few = list.get(..FEW.min(list.len())).unwrap_or_default();
    format!("{}{more}", few.join("; "))
}
