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
mod staff;
mod suggestions;
mod view;
mod waiting;

pub use crate::book::store::Held;
pub use access::Access;
pub use backup::{BackedUp, BackupPlan, BackupState, Occasion, PlanChange};
pub use doctor::{Doctor, DoctorFinding, Level, Repair, examine, library_version, network_drive};
pub use encryption::is_encrypted;
pub use erase::{Erased, Erasure};
pub use error::{DeskError, ErrorKind};
pub use import::Imported;
pub use invented_jobs::{Invented, InventedEvent, InventedMove};
pub use judge_many::Judged;
pub use lists::ListFilter;
pub use open::Desk;
pub use printing::{HandOver, Printed};
pub use remake::VisitLinks;
pub use restore::{Restore, restore};
pub use retention::Review;
pub use session::{LONGEST_IDLE_MINUTES, Security};
pub use suggestions::{PastReason, Suggestions, WearerId};
pub use view::{Accepted, Advance, Event, JobLine, OpenJob, Standing};
pub use waiting::Waiting;
