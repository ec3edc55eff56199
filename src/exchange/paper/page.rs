//! A page with its texts, lines and rectangles placed in millimetres.

use crate::views::sheet::drawing::Pen;

/// Millimetres of a point: 1 inch is 25.4 mm and 72 points. The one scale of every sheet.
pub(crate) const MM_PER_PT: f64 = 25.4 / 72.0;

/// How a line is drawn.
pub(crate) type Ink = Pen;

/// One thing on a page.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Item {
    /// Text on its base line.
    Text {
        /// Left end, mm.
        x: f64,
        /// Base line, mm.
        y: f64,
        /// Size, points.
        size_pt: f64,
        /// Whether it is bold.
        bold: bool,
        /// Whether it is secondary: grey.
        grey: bool,
        /// What.
        text: String,
    },
    /// A line from point to point, mm.
    Line {
        /// The points.
        points: Vec<(f64, f64)>,
        /// Whether it returns to its beginning.
        closed: bool,
        /// How.
        ink: Ink,
    },
    /// Black rectangles: left, top, width, height, mm.
    Black {
        /// Them.
        rectangles: Vec<(f64, f64, f64, f64)>,
    },
}

/// One page.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Page {
    /// What is on it.
    pub items: Vec<Item>,
}
