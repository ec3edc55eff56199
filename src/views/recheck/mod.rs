//! A pair that comes back: comparison of its values, steps in order, likely causes.
//!
//! Pure functions of jobs. They decide nothing; they show where to look first.

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
