//! The book's file: the only place that knows SQL.
//!
//! One connection a process. Reads finish their statement before anything is drawn; every write is
//! one `BEGIN IMMEDIATE` transaction that holds the row, its search entry and its history event
//! together, and is on the disk when it returns. A transaction that is dropped changes nothing.

mod appointments;
mod as_found;
mod backup;
mod book;
mod book_id;
pub(crate) mod bulk;
pub(crate) mod chain;
mod completeness;
mod connection;
mod copy;
mod credential;
pub(crate) mod disk;
mod doctor;
mod earlier_events;
#[cfg(feature = "encrypted")]
pub(crate) mod encrypt;
mod erase;
mod error;
mod every_row;
mod fault;
mod figures;
mod hash;
mod head;
mod header;
mod history;
mod holding_checks;
mod integrity;
pub(crate) mod key;
#[cfg(feature = "encrypted")]
pub(crate) mod keyring;
mod lists;
mod made;
mod migrations;
mod old_backups;
mod open;
mod queries;
mod reading;
mod reads;
mod recall;
mod restore;
mod row;
mod salvage;
mod same_wearer;
mod search;
mod sent_back;
mod settings;
mod signed_head;
mod standing;
mod tables;
mod times;
mod typed_names;
mod walk;
mod writes;
mod written_lately;

pub(crate) use backup::Copied;
pub use book::Store;
pub(crate) use book::{Write, key_opened_by};
pub(crate) use copy::{SIDE_FILES, UNFINISHED};
pub(crate) use credential::Attempts;
pub(crate) use doctor::library;
pub(crate) use erase::{Gone, WearerRow, key_of};
pub(crate) use error::StoreError;
pub use fault::Fault;
pub use figures::counting_queries;
pub(crate) use figures::{Counted, CountedRow};
pub(crate) use history::{EventRow, NewEvent};
pub(crate) use holding_checks::Held;
pub use migrations::newest_version;
pub(crate) use old_backups::Keep;
pub use old_backups::moment_of;
pub use open::APPLICATION_ID;
pub(crate) use open::mend_version;
pub use queries::queries;
pub use recall::Made;
pub(crate) use restore::{Prepared, Restored};
pub(crate) use row::{JobRow, LineRow, RowExtras};
pub(crate) use salvage::{Salvaged, salvage};
pub(crate) use signed_head::Against;
