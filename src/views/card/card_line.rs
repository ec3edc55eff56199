//! One line of a card, cut to its width.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

use crate::job::fields::clean;

/// Columns from which the wide arrangement is used.
pub(crate) const WIDE_FROM: usize = 60;
/// Columns of the names of the values.
pub(super) const LABEL_WIDTH: usize = 7;

/// Shown for a missing value.
pub(super) const MISSING: &str = "-";

/// Weight of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Emphasis {
    /// Ordinary.
    Plain,
    /// Who and which pair.
    Strong,
    /// What must not be overlooked.
    Alert,
}

/// One line of the card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardLine {
    /// Label of the value; empty for a line without one.
    pub label: &'static str,
    /// The value, cut to the width that was asked for.
    pub value: String,
    /// How much it matters.
    pub emphasis: Emphasis,
}

impl CardLine {
    pub(super) fn new(label: &'static str, value: &str, emphasis: Emphasis, width: usize) -> Self {
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
pub(super) fn fit(text: &str, width: usize) -> String {
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
