//! Reading a written prescription: one line in, one prescription or one refusal out.
//!
//! Nothing is ever guessed. A line that can be read in two ways, or in none, is refused with one
//! code and one sentence that says what to type instead. The checks run in ten steps, and the
//! earliest step that fails is the one that is reported; within a step, the leftmost place.
//!
//! 1. a line with nothing in it, or only a mark for "no value" ([`characters`])
//! 2. characters ([`characters`])
//! 3. commas ([`commas`])
//! 4. which eye each part belongs to ([`eyes`])
//! 5. the order of the parts of one eye ([`parts`])
//! 6. how powers are written ([`number`])
//! 7. cylinder and axis together ([`parts`])
//! 8. plus cylinders stay as they were written
//! 9. prism ([`prism`]) and the hard limits ([`number`])
//! 10. nothing is left over
//!
//! This module knows nothing of jobs, storage or screens.

mod answer;
mod characters;
mod commas;
mod error;
mod eyes;
mod number;
mod parts;
mod prism;
mod read;
mod rx;
mod tokens;
mod words;
mod written;

pub use answer::answer;
pub use error::{ErrorKind, NotationError};
pub use read::read;
pub use rx::{Eighths, PrismBase, Reading, WrittenPrism, WrittenRx};
pub use written::written;
