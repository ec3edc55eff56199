//! The calculations of the workbench as one table: what each is called, what it needs, what it gives.
//!
//! No formula is worked here. A calculation is asked of [`crate::exchange::calc`] with the keys of this table,
//! so that ranges, refusals and results are those of the command line. The rows are written by family
//! in the files of this folder.

mod frames;
mod lens;
mod parts;
mod powers;
mod prisms;
mod worn;

use std::sync::LazyLock;

use super::calculation::Calculation;

static ALL: LazyLock<Vec<Calculation>> = LazyLock::new(|| {
    [
        powers::table(),
        worn::table(),
        prisms::table(),
        frames::table(),
        lens::table(),
    ]
    .concat()
});

/// Returns every calculation, families together.
pub fn all() -> &'static [Calculation] {
    &ALL
}
