//! Whether a collected pair is rechecked: asked where its visit is asked for.

use crate::tui::next::{Next, Question};

/// Asks whether the recheck of a collected pair is begun; its visit is shown then.
pub(crate) fn ask(number: String) -> Next {
    Next::Ask(Question::choose(
        "The pair is collected. A recheck is a new job linked to it:",
        vec![
            (
                "begin a recheck of this pair".to_owned(),
                Next::Recheck(number),
            ),
            ("leave it".to_owned(), Next::Stay),
        ],
    ))
}
