//! The book's file: the only place that knows SQL.
//!
//! One connection a process. Reads finish their statement before anything is drawn; every write is
//! one `BEGIN IMMEDIATE` transaction that holds the row, its search entry and its history event
//! together, and is on the disk when it returns. A transaction that is dropped changes nothing.

mod appointments;
mod backup;
mod book;
mod book_id;
pub mod bulk;
pub mod chain;
mod check;
mod credential;
pub mod disk;
mod doctor;
mod earlier_events;
#[cfg(feature = "encrypted")]
pub mod encrypt;
mod erase;
mod error;
mod figures;
mod header;
mod history;
mod holding_checks;
pub mod key;
#[cfg(feature = "encrypted")]
pub mod keyring;
mod open;
mod queries;
mod reads;
mod restore;
mod row;
mod same_wearer;
mod search;
mod sent_back;
mod settings;
mod writes;
mod written_lately;

pub use backup::{Copied, Head, Keep, LastBackup, OwnBackup, SIDE_FILES, UNFINISHED, moment_of};
pub use book::{Store, Write, key_opened_by};
pub use check::{Integrity, SearchIndex};
pub use credential::Credential;
pub use doctor::library;
pub use erase::{Gone, WearerRow, key_of};
pub use error::StoreError;
pub use figures::{Counted, CountedRow, counting_queries};
pub use history::{EventRow, NewEvent, RESTORED};
pub use holding_checks::Held;
pub use open::{APPLICATION_ID, newest_version};
pub use queries::queries;
pub use restore::{Prepared, Restored};
pub use row::{Beside, JobRow, LineRow};
pub use search::expression;
