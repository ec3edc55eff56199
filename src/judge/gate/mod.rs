//! The gate: what must be true before a job moves, and who may say otherwise.
//!
//! Each move runs every check of its gate on the job in its current state. The same code serves the screen,
//! the command line and a re-check of the whole book. It knows nothing of storage or terminal; the
//! day and the people come in through [`Surroundings`].

mod accept;
mod acceptance;
mod after_repair;
pub(crate) mod catalogue;
mod check;
mod checks;
mod context;
pub(crate) mod faults;
mod finding;
mod id;
mod question;
mod recorded;
mod remedy;
mod run;
mod work;

pub use accept::Refusal;
pub use acceptance::Acceptance;
pub(crate) use acceptance::Values;
pub use after_repair::of_repair;
pub use check::Found;
pub(crate) use check::{Check, PRACTICE};
pub use context::{Compared, Context, Surroundings};
pub(crate) use finding::Acceptable;
pub use finding::{About, Finding, Severity};
pub use id::CheckId;
pub use question::Question;
pub use recorded::recorded_remedies;
pub use remedy::of_finding;
pub use run::{Passed, findings, lets_through};
pub(crate) use work::{Seen, Work};
