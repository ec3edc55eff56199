//! What the screens are told where an effect failed.

use crate::book::desk::{DeskError, ErrorKind};
use crate::tui::effect::Message;

/// Returns the message of an error: of a book that is no longer in its place one of its own.
pub(super) fn failed(error: DeskError) -> Message {
    if error.kind == ErrorKind::Gone {
        return Message::BookGone(error.message);
    }
    Message::Failed {
        message: error.message,
        hints: error.hints,
    }
}
