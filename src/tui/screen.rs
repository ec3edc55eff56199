//! What each screen remembers.

use crate::book::desk::JobLine;

/// The collections of the day.
#[derive(Debug, Default)]
pub struct Collections {
    /// The day's handovers by time.
    pub lines: Vec<JobLine>,
    /// The selected one.
    pub selected: usize,
    /// The check the cursor is on.
    pub step: usize,
    /// The job whose handover the cursor was put into.
    pub begun: Option<String>,
    /// The handover in front is another than it was, and why: the next key that answers says so
    /// first.
    pub replaced: Option<String>,
    /// A pair that waits and whose wearer has come without an appointment today.
    pub walk_in: Option<String>,
    /// The last check was answered and the cursor was not moved since: the keys for what comes then
    /// are keys even where words could be typed.
    pub done: bool,
    /// What was sent to be kept says that the frame was adjusted.
    pub adjusted: bool,
}
