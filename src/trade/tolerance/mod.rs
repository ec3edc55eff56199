//! How far a finished pair may differ from what was ordered, by the standard the practice works to.
//!
//! The tables are data, one file for each standard, every row with its clause and with how sure we
//! are of it ([`Confidence`]): the paid texts of the standards were not at hand, so a practice that
//! owns them can confirm the rows one by one. [`compare`] applies them; [`budget`] turns them round
//! and says how far each measurement may be wrong. The rules are written out for a reader in
//! `docs/tolerances.md`.
//!
//! Everything here is a pure function of numbers: no storage, no clock, no screen.

mod ansi_z80_1;
pub(crate) mod budget;
mod compare;
mod iso_21987;
mod lens_kind;
mod limit;
mod lines;
mod markdown;
mod prism;
mod standard;
mod values;

pub(crate) use compare::ToleranceError;
pub use compare::compare;
pub use lens_kind::LensKind;
pub(crate) use limit::DUST;
pub use limit::{Confidence, Limit};
pub use lines::{LineEye, Quantity, Report, ToleranceLine};
pub use markdown::markdown;
pub(crate) use prism::complete;
pub use standard::{Options, PrismPower, Standard};
pub use values::{EyeValues, PairValues};
