//! How a value is typed.

/// The two directions in which prism is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrismAxis {
    /// Base in is positive, base out negative.
    In,
    /// Base up is positive, base down negative.
    Up,
}

impl PrismAxis {
    /// The words of the positive and the negative direction.
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::In => ("in", "out"),
            Self::Up => ("up", "down"),
        }
    }
}

/// How a value is typed, shown and stepped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FieldKind {
    /// One line of words.
    Text,
    /// Words over several lines.
    Notes,
    /// A day.
    Date,
    /// A day and a time.
    Moment,
    /// A written power: exact eighths of a dioptre, sign required.
    Power,
    /// A power to the hundredth (a thousandth is kept), sign required.
    Reading,
    /// The axis of a cylinder, degrees, 1 to 180.
    Axis,
    /// An addition, never negative; eighths in a prescription.
    Addition,
    /// Prism with its base direction.
    Prism(PrismAxis),
    /// A size of prism without its base.
    PrismSize,
    /// A size in dioptres: a surface curve at index 1.530, how much a power falls.
    Curve,
    /// A length, mm.
    Length,
    /// An angle, degrees.
    Angle,
    /// A refractive index.
    Index,
    /// A share, percent.
    Percent,
    /// A filter category, 0 to 4.
    Category,
    /// Yes or no.
    Flag,
    /// One of a list of words.
    Choice(&'static [&'static str]),
    /// Free words, comma separated.
    Words,
    /// Several of a list of words, comma separated.
    Advice(&'static [&'static str]),
    /// What a pair is for, each with its distance, comma separated.
    Tasks,
    /// A name of the staff list: who is answerable for the values beside it. With sign-in on it
    /// counts only where that person signed it.
    Staff,
    /// A key of the materials table.
    Material,
}

impl FieldKind {
    /// The unit of its numbers as the table of fields writes it; empty where there is none.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Power | Self::Reading | Self::Addition | Self::Curve => "D",
            Self::Axis | Self::Angle => "degrees",
            Self::Prism(_) | Self::PrismSize => "prism dioptres",
            Self::Length => "mm",
            Self::Percent => "%",
            _ => "",
        }
    }
}
