//! Reading a written prescription: one line in, one reading or one refusal out.
//!
//! The policy is ten steps, tried in order; the earliest that fails is reported and, within a
//! step, the first position. No value is ever guessed: an ambiguous text is refused with
//! what to type instead. The user's guide is `docs/notation.md`.
//!
//! | Step | Rule | File |
//! |---|---|---|
//! | 1, 2 | blanks and characters | `characters` |
//! | 3 | decimal and separating commas | `comma` |
//! | - | whose a sign apart is; additions written figure first | `lone_sign`, `figure_first` |
//! | 4 | right, left and both eyes | `eyes` |
//! | 5, 7, 10 | the order of values in one eye | `one_eye`, `names`, `extras` |
//! | 6 | numbers, steps, signs and limits | `number`, `power` |
//! | 9 | prism | `prism` |
//! | - | acuity fractions | `acuity` |
//! | - | acuities in other texts, as logMAR | `log_mar` |
//!
//! Powers are whole eighths of a dioptre, never floats. A plus cylinder is kept as it was written:
//! which form is shown is for the screen to choose.

mod acuity;
mod characters;
mod comma;
mod cursor;
mod error;
mod extras;
mod eye_draft;
mod eyes;
mod figure_first;
mod format;
mod json_answer;
mod log_mar;
mod lone_sign;
mod names;
mod number;
mod one_eye;
mod power;
mod prism;
mod read;
mod reading;
mod token;
mod word;

pub use error::ErrorKind;
pub use format::written;
pub use json_answer::answer;
pub(crate) use log_mar::might_be_log_mar;
pub use log_mar::{LINE_LOG_MAR, best_log_mar};
pub use read::read;
pub use reading::{Assumption, Eighths, PrismBase, Reading, WrittenPrism, WrittenRx};
