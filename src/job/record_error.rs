//! Why a change of a section is refused.

use super::file::JobFileError;
use crate::trade::eye::Eye;

/// Why a change could not be merged; nothing was changed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RecordError {
    /// The change is no JSON object.
    #[error("a section is recorded as one JSON object, such as {{\"due_on\":\"2026-12-03\"}}")]
    NotAnObject,
    /// The result would not be a section.
    #[error(transparent)]
    Section(#[from] JobFileError),
    /// A job needs its wearer's name.
    #[error("wearer.name cannot be empty: a job belongs to a named wearer")]
    Nameless,
    /// Heights to be read again are read, not struck off.
    #[error(
        "handover.adjusted_after_heights: the frame was adjusted after the {0} height was read; read that height again and record it, the mark goes with that"
    )]
    HeightNotRead(Eye),
}
