//! The values of one eye read so far.

use super::reading::{PrismBase, WrittenRx};

/// The values of one eye that have been read so far; `None` where not yet or not written.
#[derive(Default)]
pub(super) struct Draft {
    /// The values read.
    pub rx: WrittenRx,
    /// The bases written so far, those of refused amounts included.
    pub bases: Vec<PrismBase>,
    /// Position of the addition, characters.
    pub addition_at: Option<usize>,
    /// Whether the sphere was not where it belongs, so that a later power may be it.
    pub without_sphere: bool,
    /// Whether a vertex distance has been written.
    pub vertex: bool,
}
