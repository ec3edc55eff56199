//! A drawing in millimetres, with the same content in words.

/// A point, mm from the upper left corner of the drawing; down is positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pen {
    /// A reference line: thin and black.
    Fine,
    /// The shape of the lens.
    Strong,
    /// Secondary: thin and grey.
    Faint,
    /// A limit: dashed.
    Dashed,
}

/// How a word is aligned to its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// It begins there.
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A straight line.
    Line {
        /// From.
        from: Point,
        /// To.
        to: Point,
        /// How.
        pen: Pen,
    },
    /// A closed line.
    Shape {
        /// Its corners, close together where it is round.
        points: Vec<Point>,
        /// How.
        pen: Pen,
    },
    /// A word.
    Word {
        /// Its place on the base line.
        at: Point,
        /// What.
        text: String,
        /// Which part of the word lies on the point.
        align: Align,
        /// Whether it is large.
        large: bool,
    },
}

/// Something drawn to scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Its name.
    pub title: String,
    /// Width, mm on paper.
    pub width_mm: f64,
    /// Height, mm on paper.
    pub height_mm: f64,
    /// What is drawn.
    pub marks: Vec<Mark>,
    /// The content in words, for plain text and screen readers.
    pub words: Vec<String>,
    /// Whether the words are also printed below the drawing.
    pub explained: bool,
}

impl Point {
    /// A point.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}

impl Mark {
    /// A line between two places.
    pub const fn line(from: Point, to: Point, pen: Pen) -> Self {
        Self::Line { from, to, pen }
    }

    /// An upright cross.
    pub fn cross(at: Point, half_mm: f64, pen: Pen) -> [Self; 2] {
        [
            Self::line(
                Point::new(at.x - half_mm, at.y),
                Point::new(at.x + half_mm, at.y),
                pen,
            ),
            Self::line(
                Point::new(at.x, at.y - half_mm),
                Point::new(at.x, at.y + half_mm),
                pen,
            ),
        ]
    }

    /// An upright rectangle.
    pub fn rectangle(left: f64, top: f64, width: f64, height: f64, pen: Pen) -> Self {
        let (right, bottom) = (left + width, top + height);
        Self::Shape {
            points: vec![
                Point::new(left, top),
                Point::new(right, top),
                Point::new(right, bottom),
                Point::new(left, bottom),
            ],
            pen,
        }
    }

    /// An ellipse by its half axes.
    pub fn ellipse(centre: Point, half_x: f64, half_y: f64, pen: Pen) -> Self {
        let points = (0..72)
            .map(|i| {
                let (sin, cos) = (f64::from(i) * 5.0).to_radians().sin_cos();
                Point::new(half_x.mul_add(cos, centre.x), half_y.mul_add(sin, centre.y))
            })
            .collect();
        Self::Shape { points, pen }
    }

    /// A word.
    pub fn word(at: Point, text: impl Into<String>, align: Align) -> Self {
        Self::Word {
            at,
            text: text.into(),
            align,
            large: false,
        }
    }
}
