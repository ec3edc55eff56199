//! The words of a prescription, in small letters and without dots.

use super::eyes::Label;
use super::rx::PrismBase;
use crate::eye::Eye;

/// What a word means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Word {
    /// Names the eye of what follows.
    Label(Label),
    /// "eye" after a label.
    AnEye,
    /// A lens without power.
    Plano,
    /// The unit, which marks neither sphere nor cylinder.
    Dioptre,
    /// Marks a sphere.
    Sphere,
    /// Marks a cylinder.
    Cylinder,
    /// Comes before an axis.
    Axis,
    /// Degrees in letters.
    Degrees,
    /// Comes before an addition.
    Addition,
    /// Comes before an addition for both eyes.
    AdditionBoth,
    /// Says that a number is a prism.
    Prism,
    /// "base", before a direction.
    Base,
    /// A base in full.
    BaseTo(PrismBase),
    /// A direction, which is a base only after an amount or "base".
    Direction(PrismBase),
    /// Two directions for one amount.
    TwoBases,
    /// A letter that might be meant as a direction.
    Letter,
    /// A prism shared between the lenses.
    Split,
    /// Between two prisms.
    And,
    /// Comes before a vertex distance.
    Vertex,
    /// "distance" after it.
    Distance,
    /// Millimetres.
    Millimetres,
    /// Comes before an acuity.
    Acuity,
    /// A prescription for near.
    Near,
    /// An addition for the middle distance.
    Intermediate,
    /// A balance lens.
    Balance,
    /// A pupil distance.
    PupilDistance,
    /// No value.
    Nothing,
}

impl Word {
    /// Whether the word can follow the figures of a power.
    pub(super) const fn is_unit(self) -> bool {
        matches!(self, Self::Dioptre | Self::Sphere | Self::Cylinder)
    }
}

/// Returns the meaning of a word.
pub(super) fn meaning(word: &str) -> Option<Word> {
    Some(match word {
        "r" | "re" | "od" | "right" => Word::Label(Label::One(Eye::Right)),
        "l" | "le" | "os" | "left" => Word::Label(Label::One(Eye::Left)),
        "ou" | "both" => Word::Label(Label::Both),
        "eye" | "eyes" => Word::AnEye,
        "plano" | "pl" => Word::Plano,
        "d" => Word::Dioptre,
        "ds" | "sph" | "sphere" => Word::Sphere,
        "dc" | "cyl" | "cylinder" => Word::Cylinder,
        "x" | "ax" | "axis" => Word::Axis,
        "deg" | "degs" | "degree" | "degrees" => Word::Degrees,
        "add" | "addition" => Word::Addition,
        "prism" => Word::Prism,
        "base" => Word::Base,
        "bu" | "baseup" => Word::BaseTo(PrismBase::Up),
        "bd" | "basedown" => Word::BaseTo(PrismBase::Down),
        "bi" | "basein" => Word::BaseTo(PrismBase::In),
        "bo" | "baseout" => Word::BaseTo(PrismBase::Out),
        "up" => Word::Direction(PrismBase::Up),
        "down" => Word::Direction(PrismBase::Down),
        "in" => Word::Direction(PrismBase::In),
        "out" => Word::Direction(PrismBase::Out),
        "bui" | "buo" | "bdi" | "bdo" => Word::TwoBases,
        "u" | "i" | "o" | "b" => Word::Letter,
        "split" | "shared" | "divided" | "total" => Word::Split,
        "and" => Word::And,
        "bvd" | "vd" | "vertex" => Word::Vertex,
        "distance" => Word::Distance,
        "mm" => Word::Millimetres,
        "va" => Word::Acuity,
        "near" | "nv" | "nvo" | "reading" => Word::Near,
        "int" | "inter" | "intermediate" => Word::Intermediate,
        "bal" | "balance" => Word::Balance,
        "pd" | "ipd" => Word::PupilDistance,
        "nil" | "none" => Word::Nothing,
        _ => return None,
    })
}

/// Returns a unit and the length of the axis mark glued to it, as in `DCx`.
pub(super) fn glued_axis(word: &str) -> Option<(Word, usize)> {
    ["axis", "ax", "x"].iter().find_map(|mark| {
        let unit = meaning(word.strip_suffix(mark)?)?;
        (unit.is_unit() || unit == Word::Plano).then_some((unit, mark.len()))
    })
}
