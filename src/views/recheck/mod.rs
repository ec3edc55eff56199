//! A pair that comes back: comparison of its values, steps in order, likely causes.
//!
//! Pure functions of jobs. They decide nothing; they show where to look first.

mod axes;
pub(crate) mod cause_row;
pub(crate) mod causes;
mod causes_table;
pub mod compare;
mod gather;
pub(crate) mod parameter;
pub(crate) mod row;
pub(crate) mod steps;

pub use crate::practice::suspects::Suspect;
pub use axes::{axis_limit, centration_limit_mm, vertex_limit_mm};
pub use causes::{Likely, likely};
pub use compare::{Comparison, compare};
pub use parameter::{Parameter, Source};
pub(crate) use row::NOT_RECORDED;
pub use row::{ComparedRow, ComparedValue};
pub(crate) use steps::STEPS;
