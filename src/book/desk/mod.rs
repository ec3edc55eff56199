//! The desk: everything a person can do with the book, the same for screens and command line.
//!
//! It joins the pure core with the store: what a change does to the gate is worked out inside the
//! transaction that keeps it.

mod accept;
mod access;
mod aftercare;
mod appointments;
mod backup;
mod begin;
mod confirm;
mod doctor;
mod drafts;
mod encryption;
mod erase;
mod error;
mod figures;
mod history;
mod import;
mod invented_jobs;
mod job_context;
mod judge_many;
mod lists;
mod moves;
mod open;
mod practice;
mod printing;
mod record;
mod remake;
mod restore;
mod retention;
mod secret;
mod session;
mod signing;
mod staff;
mod suggestions;
mod view;
mod waiting;

pub use crate::book::store::Made;
pub(crate) use access::Access;
pub(crate) use aftercare::RepairAnswer;
pub(crate) use backup::{BackedUp, BackupState};
pub use backup::{BackupPlan, Occasion, PlanChange};
pub use confirm::WaitingName;
pub use doctor::examine;
pub(crate) use doctor::{Level, Repair, library_version, network_drive};
pub use encryption::is_encrypted;
pub(crate) use erase::Erased;
pub use erase::Erasure;
pub use error::{DeskError, ErrorKind};
pub(crate) use invented_jobs::{Invented, InventedEvent, InventedMove};
pub use judge_many::Judged;
pub use lists::ListFilter;
pub use open::Desk;
pub use printing::HandOver;
pub(crate) use printing::Printed;
pub(crate) use remake::VisitLinks;
pub use restore::{Restore, restore};
pub(crate) use retention::Review;
pub(crate) use session::LONGEST_IDLE_MINUTES;
pub use session::Security;
pub(crate) use staff::Added;
pub(crate) use suggestions::Suggestions;
pub use suggestions::WearerId;
pub(crate) use view::{Event, JobLine};
pub use view::{JobWithFindings, OpenJob};
pub use waiting::Waiting;
