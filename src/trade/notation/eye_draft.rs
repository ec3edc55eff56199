//! The values of one eye read so far.

use super::reading::{PrismBase, WrittenPrism, WrittenRx};

/// The values of one eye that have been read so far; `None` where not yet or not written.
#[derive(Default)]
pub(super) struct Draft {
    /// The values read.
    pub rx: WrittenRx,
    /// The bases written so far of the prism for distance, those of refused amounts included.
    pub bases: Vec<PrismBase>,
    /// The same of the prism for near.
    pub near_bases: Vec<PrismBase>,
    /// What the next prism is for.
    pub prism_for: PrismFor,
    /// Position of the addition, characters.
    pub addition_at: Option<usize>,
    /// Position of the intermediate addition, characters.
    pub intermediate_at: Option<usize>,
    /// Whether the sphere was not where it belongs, so that a later power may be it.
    pub without_sphere: bool,
    /// Whether a vertex distance has been written.
    pub vertex: bool,
}

/// What a prism is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum PrismFor {
    /// Distance, as everything that is not called near.
    #[default]
    Distance,
    /// Near: the word came directly before it.
    Near,
    /// Either: other values came after the near prism.
    Either,
}

impl Draft {
    /// The bases and the prism that what comes next belongs to.
    pub(super) fn prism(&mut self) -> (&mut Vec<PrismBase>, &mut Vec<WrittenPrism>) {
        if self.prism_for == PrismFor::Near {
            (&mut self.near_bases, &mut self.rx.near_prism)
        } else {
            (&mut self.bases, &mut self.rx.prism)
        }
    }

    /// Whether any prism has been written.
    pub(super) fn has_prism(&self) -> bool {
        !self.bases.is_empty() || !self.near_bases.is_empty()
    }

    /// Notes that something other than prism was read.
    pub(super) fn end_near_prism(&mut self) {
        if self.prism_for == PrismFor::Near {
            self.prism_for = PrismFor::Either;
        }
    }
}
