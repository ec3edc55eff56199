//! What a picture shows, as numbers: curves with their marks and limits, bars, lenses in section.
//!
//! Each file computes one picture from plain values; `ui` draws it and writes its numbers next to
//! it, so that no value is shown by the drawing alone.

pub(crate) mod aniseikonia;
pub(crate) mod budget;
pub(crate) mod clear_range;
pub(crate) mod drop;
pub(crate) mod magnification;
pub(crate) mod meridian;
pub(crate) mod near_centration;
pub(crate) mod prism;
pub(crate) mod prism_compass;
pub(crate) mod prism_shift;
pub(crate) mod reading_prism;
pub(crate) mod section;
pub(crate) mod tilt;
pub(crate) mod vertex;
mod write;

/// What an axis shows.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Axis {
    /// Name of the quantity.
    pub label: String,
    /// Its unit, as written.
    pub unit: &'static str,
}

impl Axis {
    /// Makes an axis.
    pub fn new(label: impl Into<String>, unit: &'static str) -> Self {
        Self {
            label: label.into(),
            unit,
        }
    }
}

/// A curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// Its label, written at its end.
    pub name: String,
    /// Its points in the order of x.
    pub points: Vec<(f64, f64)>,
}

/// A point that matters.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// What it is.
    pub name: String,
    /// Where, along x.
    pub x: f64,
    /// Where, along y.
    pub y: f64,
}

/// A value along y that is not to be passed.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// What it is.
    pub name: String,
    /// The value.
    pub y: f64,
}

/// A number written next to a picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Number {
    /// What it is.
    pub label: String,
    /// The value with its unit.
    pub text: String,
}

impl Number {
    /// Makes a number.
    pub fn new(label: impl Into<String>, text: impl Into<String>) -> Self {
        Self {
            label: label.into(),
            text: text.into(),
        }
    }
}

/// Curves over one quantity.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plot {
    /// What it shows, one line.
    pub title: String,
    /// Along.
    pub x: Axis,
    /// Up.
    pub y: Axis,
    /// The curves.
    pub series: Vec<Series>,
    /// Points that matter.
    pub marks: Vec<Mark>,
    /// Values not to be passed.
    pub limits: Vec<Limit>,
    /// Names written into the picture at their place, outwards from its middle.
    pub words: Vec<Mark>,
    /// Whether both axes are to one scale: a map rather than a curve.
    pub is_map: bool,
    /// Its numbers.
    pub numbers: Vec<Number>,
}

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// What it is.
    pub label: String,
    /// How long; `None` where there is no end.
    pub value: Option<f64>,
    /// Its unit: bars of one unit are drawn to one scale.
    pub unit: &'static str,
    /// The value with its unit, and what ends it.
    pub text: String,
    /// Whether it is the one to look at.
    pub strong: bool,
}

/// Bars, those of one unit on one scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Bars {
    /// What they show, one line.
    pub title: String,
    /// The bars.
    pub bars: Vec<Bar>,
}

/// A lens cut level with its boxed centre, from the temporal to the nasal edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// What the lens is made of.
    pub name: String,
    /// Front surface: towards the nose (mm, temporal negative) and forwards (mm).
    pub front: Vec<(f64, f64)>,
    /// Back surface likewise.
    pub back: Vec<(f64, f64)>,
    /// Its numbers: edges, centre, weight.
    pub numbers: Vec<Number>,
}

/// A picture.
#[derive(Debug, Clone, PartialEq)]
pub enum Picture {
    /// Curves.
    Plot(Plot),
    /// Bars.
    Bars(Bars),
    /// Lenses side by side, all to one scale.
    Sections {
        /// What they show, one line.
        title: String,
        /// The lenses.
        sections: Vec<Section>,
    },
    /// Nothing can be drawn, and why.
    Missing(String),
}
