//! A page with its texts, lines and rectangles placed in millimetres.

use crate::views::sheet::drawing::Pen;

/// Millimetres a point: 1 inch is 25.4 mm and 72 points. Every sheet uses this scale.
pub(crate) const MM_PER_PT: f64 = 25.4 / 72.0;

/// The kind of a line: thin, strong, grey or dashed.
pub(crate) type Ink = Pen;

/// A text, line or rectangle on a page; x from its left edge, y from its upper edge, mm.
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
        /// The text, already limited to characters of the font.
        text: String,
    },
    /// A line from point to point, mm.
    Line {
        /// Its corners in order: x and y, mm.
        points: Vec<(f64, f64)>,
        /// Whether the last point is joined to the first.
        closed: bool,
        /// Its kind.
        ink: Ink,
    },
    /// Black rectangles: left, top, width, height, mm.
    Black {
        /// Each as left, top, width and height, mm.
        rectangles: Vec<(f64, f64, f64, f64)>,
    },
}

/// A page of the practice's paper size.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Page {
    /// Its items, drawn in this order.
    pub items: Vec<Item>,
}
