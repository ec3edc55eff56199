//! The fitting card: what a dispensing optician wants to see of a pair at one glance.
//!
//! Two arrangements of the same lines of plain text: narrow (40 columns, at most 16 lines) and wide
//! (78 columns, at most 8 lines). Right always stands before left, units are said, a value that is
//! missing is a dash. After what was measured stands how far it may be out ("±1.0"), and after the
//! tightest of them the words "measure twice", in a short line "read twice" or "read 2x" and no other
//! budget beside it. Nothing here knows of a terminal.

mod aloud;
mod budgets;
mod facts;
mod lines;
mod now;
mod second;
mod words;

pub use aloud::read_aloud;
pub use facts::Facts;
pub use lines::{arranged, fitting_card};
pub use second::second_card;

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

use crate::form::clean;

/// Columns from which the wide arrangement is used.
pub const WIDE_FROM: usize = 60;
/// Columns of the names of the values.
const LABEL_WIDTH: usize = 7;

/// How much a line matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Emphasis {
    /// As any other.
    Plain,
    /// Who and which pair.
    Strong,
    /// What must not be overlooked.
    Alert,
}

/// One line of the card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardLine {
    /// The name of the value; empty for a line that needs none.
    pub label: &'static str,
    /// The value, cut to the width that was asked for.
    pub value: String,
    /// How much it matters.
    pub emphasis: Emphasis,
}

impl CardLine {
    fn new(label: &'static str, value: &str, emphasis: Emphasis, width: usize) -> Self {
        let room = if label.is_empty() {
            width
        } else {
            width.saturating_sub(LABEL_WIDTH)
        };
        Self {
            label,
            value: fit(value, room),
            emphasis,
        }
    }

    /// Returns name and value as one line.
    pub fn text(&self) -> String {
        if self.label.is_empty() {
            self.value.clone()
        } else {
            format!("{:LABEL_WIDTH$}{}", self.label, self.value)
        }
    }
}

/// Returns text that is safe to draw and at most `width` columns wide; a cut is marked.
fn fit(text: &str, width: usize) -> String {
    let text = clean(text);
    if text.width() <= width {
        return text;
    }
    let mut out = String::new();
    let mut used = 0;
    for cluster in text.graphemes(true) {
        used += cluster.width();
        if used + 1 > width {
            break;
        }
        out.push_str(cluster);
    }
    if width > 0 {
        out.push('…');
    }
    out
}
