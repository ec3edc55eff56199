//! Repairing what can be repaired without a decision; each repair leaves an event.

use std::path::Path;

use serde_json::{Value, json};

use super::super::error::{DeskError, ErrorKind};
use super::super::history::with_trial_day;
use super::super::open::Desk;
use super::super::session::{acting, signed};
use super::files_and_drive;
use crate::book::clock::Clock;
use crate::book::store::{NewEvent, disk, mend_version};

/// A request to repair what needs no decision.
#[derive(Debug, Clone, Copy, Default)]
pub struct Repair<'a> {
    /// Name of the person; `None` for the program itself, while signing in is off.
    pub by: Option<&'a str>,
}

/// Why lists, search and tables are left as they are.
const LEFT: &str = "search, lists and tables were left as they are, because history shows faults: what differs there may be the trace of what was changed past the program. Restore a backup, or settle the faults first";

impl Repair<'_> {
    /// Repairs; returns what was repaired and what was left, a sentence each.
    pub(super) fn run(
        &self,
        book: &Path,
        clock: Clock,
        secret: Option<&str>,
    ) -> Result<(Vec<String>, Vec<String>), DeskError> {
        // Before it is opened: a book with a wrong number is not.
        let version_was_wrong = mend_version(book)?;
        let mut desk = Desk::open_by(book, clock, secret)?;
        if let (Some(by), Some(secret)) = (self.by, secret)
            && desk.security()?.sign_in
            && desk.signed_in() != Some(by)
        {
            desk.sign_in(by, secret)?;
        }
        let session = desk.session.clone();
        // All faults are looked up first: a repair never acts on its own changes.
        let search_is_wrong = !desk.store.search_index()?.is_right();
        let tables_are_missing = !desk.store.tables()?.missing.is_empty();
        let lists_are_wrong =
            !desk.store.shown_wrongly()?.is_empty() || !desk.held_wrongly()?.is_empty();
        // What differs may be the trace of a job that was changed or taken out past the program: it stays
        // until that is settled.
        let is_as_history = desk.store.walk_history()?.faults.is_empty();
        let erasing = desk.store.unfinished_erasures()?;
        let open = files_and_drive::open_to_others(book);
        let stale: Vec<_> = files_and_drive::unfinished(book, clock)
            .into_iter()
            .filter(|(_, stale)| *stale)
            .map(|(path, _)| path)
            .collect();
        let write = desk.store.write()?;
        let by = if let Some(by) = self.by {
            Some(acting(session.as_deref(), &write, by)?.name)
        } else {
            signed(session.as_deref(), &write, None)?;
            None
        };
        let mut done: Vec<(String, Value)> = Vec::new();
        let mut not_repaired: Vec<String> = Vec::new();
        if version_was_wrong {
            let said = "the number of the book's version was put right".to_owned();
            done.push((said, json!({"repair": "version"})));
        }
        if !is_as_history && (search_is_wrong || tables_are_missing || lists_are_wrong) {
            not_repaired.push(LEFT.to_owned());
        }
        if is_as_history && tables_are_missing {
            let made = write.make_missing_tables()?;
            done.push((
                format!("made again: {}", made.join(", ")),
                json!({"repair": "tables", "made": made}),
            ));
        }
        if is_as_history && lists_are_wrong {
            let jobs = write.show_rightly()?;
            let said = "what lists show was written again from the jobs".to_owned();
            done.push((said, json!({"repair": "lists", "jobs": jobs})));
        }
        if is_as_history && search_is_wrong {
            write.rebuild_search()?;
            let said = "the search index was built again from the jobs".to_owned();
            done.push((said, json!({"repair": "search index"})));
        }
        if erasing > 0 {
            write.clear_erasing()?;
            let said = format!("the marks of {erasing} jobs as being erased were cleared");
            done.push((said, json!({"repair": "erasing", "rows": erasing})));
        }
        for (path, mode, _) in open.into_iter().filter(|(.., ours)| *ours) {
            disk::close_to_others(&path).map_err(|e| file_error(&path, &e))?;
            let shown = path.display();
            let said = format!("{shown} is closed to others (permissions were {mode:03o})");
            let detail = json!({"repair": "permissions", "were": format!("{mode:03o}")});
            done.push((said, detail));
        }
        for path in stale {
            std::fs::remove_file(&path).map_err(|e| file_error(&path, &e))?;
            let said = format!("{} was removed: it was never finished", path.display());
            done.push((said, json!({"repair": "unfinished file removed"})));
        }
        for (_, detail) in &done {
            write.practice_event(NewEvent {
                at: clock.now(),
                by: by.as_deref(),
                what: "repaired",
                detail: &with_trial_day(clock, detail.clone()),
            })?;
        }
        write.commit()?;
        let repaired = done.into_iter().map(|(said, _)| said).collect();
        Ok((repaired, not_repaired))
    }
}

fn file_error(path: &Path, why: &std::io::Error) -> DeskError {
    DeskError::new(
        ErrorKind::File,
        format!("{} could not be repaired ({why})", path.display()),
    )
}
