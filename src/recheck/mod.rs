//! A pair that comes back: what was meant and what is, what to do in which order, likely causes.
//!
//! Pure: jobs go in, rows and sentences come out. Nothing here decides; it says where to look first.

mod axes;
pub mod cause_row;
pub mod causes;
mod causes_table;
pub mod compare;
mod gather;
pub mod parameter;
pub mod row;
pub mod steps;

pub use crate::practice::suspects::Suspect;
pub use axes::{axis_limit, centration_limit_mm, vertex_limit_mm};
pub use causes::{Likely, likely};
pub use compare::{Comparison, VectorChange, compare};
pub use parameter::{Parameter, Source};
pub use row::{ComparedRow, ComparedValue, Difference, NOT_RECORDED};
pub use steps::{RecheckStep, STEPS};
