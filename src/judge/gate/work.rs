//! Whose work a check is about.

/// How a fault of the laboratory's work is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// As a line of the table of readings.
    InTable,
    /// By another comparison with the order.
    Compared,
    /// By looking at the lenses alone, before any number of the order is shown.
    ByLooking,
}

/// Whose work a check is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// What the laboratory made.
    Laboratory(Seen),
    /// The practice's own reading and setting up of a delivered pair.
    Bench,
    /// The work with the wearer: prescription, measurements, choices, handover.
    Wearer,
}

impl Work {
    /// Whether it is what the laboratory made.
    pub const fn is_laboratory(self) -> bool {
        matches!(self, Self::Laboratory(_))
    }
}
