//! The surroundings of the file: drive, permissions, free space, unfinished files.

use std::path::{Path, PathBuf};

use chrono::{Local, NaiveDateTime, TimeDelta};

use super::finding::{DoctorFinding, Level, REPAIR};
use crate::book::clock::Clock;
use crate::book::store::disk::{self, Drive};
use crate::book::store::{SIDE_FILES, Store, UNFINISHED, moment_of};

/// Free space below which a day's work is not safe, bytes.
const LITTLE: u64 = 16 * 1024 * 1024;
/// Free space below which a warning is given, bytes.
const TIGHT: u64 = 256 * 1024 * 1024;
/// Hours after which an unfinished file is taken to be abandoned.
const STALE_HOURS: i64 = 24;

/// Returns a finding when the book lies on a drive that other machines may write to.
pub(super) fn drive(book: &Path) -> Option<DoctorFinding> {
    match disk::drive_of(book) {
        Drive::Own => None,
        Drive::Network(kind) => Some(DoctorFinding::bad(
            "drive",
            Level::Fault,
            format!(
                "the book lies on a network drive ({kind}): two machines writing to it would damage it"
            ),
            "move it to a drive of this machine; the backups may go to the network",
        )),
        Drive::Shared(kind) => Some(DoctorFinding::bad(
            "drive",
            Level::Warning,
            format!(
                "the book lies on a drive shared with the machine this one runs inside of ({kind})"
            ),
            "never open it from both sides at once; better, move it to a drive of this machine",
        )),
    }
}

/// Returns the book's file and its side files, those that exist.
pub(super) fn files(book: &Path) -> Vec<PathBuf> {
    std::iter::once(book.to_owned())
        .chain(SIDE_FILES.iter().map(|e| disk::side_file(book, e)))
        .filter(|f| f.exists())
        .collect()
}

/// Whether a directory holds only a book and its side files.
fn is_for_the_book_alone(directory: &Path, book: &Path) -> bool {
    let Some(name) = book.file_name().map(|n| n.to_string_lossy().into_owned()) else {
        return false;
    };
    std::fs::read_dir(directory).is_ok_and(|mut entries| {
        entries.all(|e| e.is_ok_and(|e| e.file_name().to_string_lossy().starts_with(&name)))
    })
}

/// Files and directories that other users can reach: path, permissions, and whether the program
/// may change them.
pub(super) fn open_to_others(book: &Path) -> Vec<(PathBuf, u32, bool)> {
    let mut found: Vec<(PathBuf, u32, bool)> = files(book)
        .into_iter()
        .filter_map(|f| disk::open_to_others(&f).map(|mode| (f, mode, true)))
        .collect();
    let directory = disk::directory_of(book);
    let own = is_for_the_book_alone(directory, book);
    // A shared directory may be readable by others. Whoever may write in it could replace the book,
    // unless the directory lets only owners rename files (sticky bit).
    if let Some(mode) = disk::open_to_others(directory)
        .filter(|mode| own || (mode & 0o022 != 0 && !disk::keeps_names(directory)))
    {
        found.push((directory.to_owned(), mode, own));
    }
    found
}

pub(super) fn permissions(book: &Path) -> Vec<DoctorFinding> {
    let found = open_to_others(book);
    if found.is_empty() {
        return vec![DoctorFinding::ok(
            "permissions",
            "only its owner can read and replace the book",
        )];
    }
    found
        .into_iter()
        .map(|(path, mode, ours)| {
            DoctorFinding::bad(
                "permissions",
                Level::Warning,
                format!(
                    "others can reach {} (permissions {mode:03o})",
                    path.display()
                ),
                if ours {
                    REPAIR
                } else {
                    "move the book to a directory of its own"
                },
            )
        })
        .collect()
}

fn megabytes(bytes: u64) -> u64 {
    bytes.div_ceil(1024 * 1024)
}

pub(super) fn space(book: &Path) -> DoctorFinding {
    let Ok(free) = disk::free_bytes(disk::directory_of(book)) else {
        return DoctorFinding::ok("space", "how much room there is cannot be asked here");
    };
    let size = std::fs::metadata(book).map_or(0, |m| m.len());
    let message = format!(
        "{} MB free, the book takes {} MB",
        megabytes(free),
        megabytes(size)
    );
    let level = match free {
        f if f < LITTLE.max(size / 4) => Level::Fault,
        f if f < TIGHT.max(size.saturating_mul(3)) => Level::Warning,
        _ => return DoctorFinding::ok("space", message),
    };
    DoctorFinding::bad("space", level, message, "make room on the drive")
}

/// Returns the unfinished files next to a book and among its backups, and whether each is stale.
pub(super) fn unfinished(book: &Path, clock: Clock) -> Vec<(PathBuf, bool)> {
    let Some(name) = book.file_name().map(|n| n.to_string_lossy().into_owned()) else {
        return Vec::new();
    };
    let plan = Store::open(book)
        .ok()
        .and_then(|s| s.setting::<crate::book::desk::BackupPlan>("backup").ok())
        .flatten();
    let restore = name + ".restore-";
    let backups = plan.and_then(|p| p.dir);
    // SQLite's side files of an unfinished file count with it.
    let is_ours = move |e: &std::fs::DirEntry| {
        let name = e.file_name().to_string_lossy().into_owned();
        name.split_once(UNFINISHED).is_some_and(|(begin, _)| {
            begin.starts_with(&restore) || moment_of(Path::new(begin)).is_some()
        })
    };
    std::iter::once(disk::directory_of(book).to_owned())
        .chain(backups)
        .flat_map(|directory| std::fs::read_dir(directory).into_iter().flatten())
        .filter_map(Result::ok)
        .filter(is_ours)
        .filter(|e| e.file_type().is_ok_and(|t| t.is_file()))
        .map(|e| (e.path(), is_stale(&e, clock.wall())))
        .collect()
}

fn is_stale(entry: &std::fs::DirEntry, now: NaiveDateTime) -> bool {
    entry
        .metadata()
        .and_then(|m| m.modified())
        .is_ok_and(|when| {
            let when = chrono::DateTime::<Local>::from(when).naive_local();
            now - when > TimeDelta::hours(STALE_HOURS)
        })
}

pub(super) fn unfinished_files(book: &Path, clock: Clock) -> DoctorFinding {
    let stale = unfinished(book, clock)
        .into_iter()
        .filter(|(_, stale)| *stale)
        .count();
    let journal = disk::side_file(book, "-journal");
    if stale > 0 {
        return DoctorFinding::bad(
            "left-over",
            Level::Warning,
            format!(
                "{stale} files of backups or restores that were never finished lie about for more than a day"
            ),
            REPAIR,
        );
    }
    if std::fs::metadata(&journal).is_ok_and(|m| m.len() > 0) {
        return DoctorFinding::bad(
            "left-over",
            Level::Warning,
            format!(
                "{} is left from a write that was not finished",
                journal.display()
            ),
            "leave it where it is: the next write uses it to put the book right",
        );
    }
    DoctorFinding::ok("left-over", "nothing was left lying about")
}

/// The kind of network drive a book lies on; `None` on a drive of this machine.
pub(crate) fn network_drive(book: &Path) -> Option<String> {
    match disk::drive_of(book) {
        Drive::Network(kind) => Some(kind),
        Drive::Own | Drive::Shared(_) => None,
    }
}
