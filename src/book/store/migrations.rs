//! The versions of a book: how each is made from the one before.

use rusqlite::Connection;

use super::error::StoreError;
use super::{as_found, earlier_events, recall};

/// The migrations in order; the version of a book is how many have been run.
const MIGRATIONS: &[Migration] = &[
    Migration {
        sql: include_str!("schema/0001_book.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0002_history.sql"),
        then: Some(earlier_events::bind_earlier_events),
    },
    Migration {
        sql: include_str!("schema/0003_days.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0004_figures.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0005_sent_back.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0006_visits.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0007_made.sql"),
        then: Some(recall::fill),
    },
    Migration {
        sql: include_str!("schema/0008_typed_names.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0009_as_found.sql"),
        then: Some(as_found::bind_as_found),
    },
    Migration {
        sql: include_str!("schema/0010_attempts.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0011_whose_draft.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0012_reads.sql"),
        then: None,
    },
];

/// What a migration does besides its SQL.
type Then = fn(&Connection) -> Result<(), StoreError>;

/// One step from a version of the book to the next.
struct Migration {
    sql: &'static str,
    /// What SQL cannot do.
    then: Option<Then>,
}

/// The newest version of a book this program knows.
pub fn newest_version() -> i64 {
    i64::try_from(MIGRATIONS.len()).unwrap_or(i64::MAX)
}

/// Runs the migrations from a version to the newest.
pub(super) fn run_from(c: &Connection, found: i64) -> Result<(), StoreError> {
    run_between(c, found, newest_version())
}

fn run_between(c: &Connection, found: i64, wanted: i64) -> Result<(), StoreError> {
    let place = |version: i64| usize::try_from(version).unwrap_or(0).min(MIGRATIONS.len());
    for step in MIGRATIONS
        .get(place(found)..place(wanted))
        .unwrap_or_default()
    {
        c.execute_batch(step.sql)?;
        if let Some(then) = step.then {
            then(c)?;
        }
    }
    Ok(())
}

/// Returns an empty book of a version that is no file: what its tables look like.
#[allow(
    clippy::disallowed_methods,
    reason = "no file: it needs none of the settings of a book"
)]
pub(super) fn in_memory(version: i64) -> Result<Connection, StoreError> {
    let c = Connection::open_in_memory()?;
    run_between(&c, 0, version)?;
    Ok(c)
}
