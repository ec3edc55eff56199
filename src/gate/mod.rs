//! The gate: what must be true before a job moves, and who may say otherwise.
//!
//! Each move runs every check of its gate on the job as it stands. The same code serves the screen,
//! the command line and a re-check of the whole book. It knows nothing of storage or terminal; the
//! day and the people come in through [`Surroundings`].

mod acceptance;
pub mod catalogue;
mod check;
mod checks;
mod context;
mod finding;
mod practice;
mod printing;
mod question;
mod run;
pub mod suspects;
pub mod thresholds;

pub use acceptance::{Acceptance, Refusal};
pub use check::{Check, Found, PRACTICE};
pub use checks::remakes::{FREE_MOVES, moves_left};
pub use context::{Compared, Context, Surroundings};
pub use finding::{About, Acceptable, Finding, Severity, Values};
pub use practice::{Practice, Setting, settings};
pub use printing::{Paper, Printing, command_words};
pub use question::Question;
pub use run::{Passed, findings, lets_through};
pub use thresholds::{Threshold, Thresholds};

use crate::job::{Job, StaffRoll};

/// Whether the prescription has changed against the previous pair by as much as `rx-change` says.
pub fn prescription_has_changed(job: &Job, practice: &Practice, today: chrono::NaiveDate) -> bool {
    let around = Surroundings {
        today,
        staff: &StaffRoll::default(),
        practice,
        others: &[],
        question: None,
    };
    checks::prescriptions::has_changed(&Context {
        job,
        around,
        acceptances: &[],
        compared: &Compared::default(),
    })
}
