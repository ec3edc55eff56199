//! The gate: what must be true before a job moves, and who may say otherwise.
//!
//! Each move runs every check of its gate on the job as it stands. The same code serves the screen,
//! the command line and a re-check of the whole book. It knows nothing of storage or terminal; the
//! day and the people come in through [`Surroundings`].

mod accept;
mod acceptance;
pub mod catalogue;
mod check;
mod checks;
mod context;
pub mod faults;
mod finding;
mod id;
mod question;
mod remedy;
mod run;
mod work;

pub use accept::Refusal;
pub use acceptance::{Acceptance, Values};
pub use check::{Check, Found, PRACTICE};
pub use context::{Compared, Context, Surroundings};
pub use finding::{About, Acceptable, Finding, Severity};
pub use id::CheckId;
pub use question::Question;
pub use remedy::of_finding;
pub use run::{Passed, findings, lets_through};
pub use work::{Seen, Work};
