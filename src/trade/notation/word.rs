//! The words of a written prescription, in any case and with or without dots.

use crate::trade::eye::Eye;

use super::reading::PrismBase;

/// A word with a meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Word {
    /// One eye.
    Side(Eye),
    /// Both eyes.
    Both,
    /// The word "eye", which only follows a side.
    Eyes,
    /// No power.
    Plano,
    /// No value.
    Nil,
    /// A balance lens.
    Balance,
    /// Dioptres.
    Dioptres,
    /// Marks a sphere.
    SphereMark,
    /// Marks a cylinder.
    CylinderMark,
    /// Before the axis.
    Axis,
    /// Degrees.
    Degrees,
    /// Before the addition.
    Add,
    /// Before the near prism; a near prescription; or what kind of addition follows.
    Near,
    /// Before the intermediate addition.
    Intermediate,
    /// A pupil distance.
    PupilDistance,
    /// Prism.
    Prism,
    /// "Base", before its direction.
    Base,
    /// A base and its direction, or a direction alone.
    Toward(PrismBase),
    /// A base in a half or quarter circle.
    HalfCircle,
    /// One letter that could be a base.
    Letter,
    /// "At", before a base angle.
    At,
    /// Joins two prisms.
    And,
    /// A prism to be shared between two lenses.
    Split,
    /// Before the vertex distance.
    Vertex,
    /// "Back", before "vertex".
    Back,
    /// "Distance", after "vertex" or "pupil", or before the distance prism.
    Distance,
    /// Before the acuity.
    Acuity,
    /// Millimetres.
    Millimetres,
}

/// Returns the meaning of a word written without dots.
pub(super) fn meaning(text: &str) -> Option<Word> {
    Some(match text.to_ascii_lowercase().as_str() {
        "r" | "re" | "od" | "right" => Word::Side(Eye::Right),
        "l" | "le" | "os" | "left" => Word::Side(Eye::Left),
        "ou" | "both" => Word::Both,
        "eye" | "eyes" => Word::Eyes,
        "pl" | "plano" => Word::Plano,
        "nil" | "none" | "na" => Word::Nil,
        "bal" | "balance" => Word::Balance,
        "d" | "dioptre" | "dioptres" | "diopter" | "diopters" => Word::Dioptres,
        "ds" | "sph" | "sphere" => Word::SphereMark,
        "dc" | "cyl" | "cylinder" => Word::CylinderMark,
        "x" | "ax" | "axis" => Word::Axis,
        "deg" | "degs" | "degree" | "degrees" => Word::Degrees,
        "add" | "addition" => Word::Add,
        "nv" | "near" | "reading" => Word::Near,
        "int" | "inter" | "intermediate" => Word::Intermediate,
        "pd" | "ipd" | "npd" | "pupil" | "pupillary" | "interpupillary" => Word::PupilDistance,
        "prism" => Word::Prism,
        "base" | "b" => Word::Base,
        "bu" | "up" => Word::Toward(PrismBase::Up),
        "bd" | "down" => Word::Toward(PrismBase::Down),
        "bi" | "in" => Word::Toward(PrismBase::In),
        "bo" | "out" => Word::Toward(PrismBase::Out),
        "bui" | "buo" | "bdi" | "bdo" => Word::HalfCircle,
        "u" | "i" | "o" => Word::Letter,
        "at" => Word::At,
        "and" => Word::And,
        "split" | "shared" | "divided" | "halved" | "each" | "total" => Word::Split,
        "bvd" | "vd" | "vertex" => Word::Vertex,
        "back" => Word::Back,
        "distance" | "dist" => Word::Distance,
        "va" | "acuity" => Word::Acuity,
        "mm" => Word::Millimetres,
        _ => return None,
    })
}

/// Returns the letters of `text` that make its first word when it is two known words written
/// together, such as `DCx`.
pub(super) fn first_of_two(text: &str) -> Option<usize> {
    ["axis", "ax", "x"].iter().find_map(|axis| {
        let first = text.len().checked_sub(axis.len()).filter(|n| *n > 0)?;
        let (head, tail) = text.split_at_checked(first)?;
        let mark = matches!(
            meaning(head)?,
            Word::Dioptres | Word::SphereMark | Word::CylinderMark | Word::Plano
        );
        (tail.eq_ignore_ascii_case(axis) && mark).then_some(first)
    })
}

impl Word {
    /// Whether the word may touch a figure before it. A letter that could be a mistyped figure
    /// (`9O`, `1l`) may not, nor may an eye, whose letters are among those.
    pub(super) fn may_touch_a_figure(self) -> bool {
        matches!(
            self,
            Self::Dioptres
                | Self::SphereMark
                | Self::CylinderMark
                | Self::Axis
                | Self::Degrees
                | Self::Millimetres
                | Self::Base
                | Self::Toward(_)
                | Self::HalfCircle
                | Self::Prism
                | Self::Add
                | Self::Intermediate
                | Self::PupilDistance
                | Self::Vertex
                | Self::Acuity
        )
    }
}
