//! The values of a written prescription.

use crate::trade::eye::{Eye, PerEye};
use crate::trade::units::{Dioptre, Millimetre, PrismDioptre};

/// A power in whole eighths of a dioptre: every step in which lenses are prescribed, exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Eighths(pub i16);

impl Eighths {
    /// Returns the power in dioptres, exactly.
    pub fn to_dioptre(self) -> Dioptre {
        Dioptre::from_thousandths(i32::from(self.0) * 125)
    }
}

/// Where the base of a prism points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PrismBase {
    /// Up.
    Up,
    /// Down.
    Down,
    /// Towards the nose.
    In,
    /// Away from the nose.
    Out,
    /// At this angle, 0 to 359 degrees anticlockwise as one who faces the wearer sees it, 0 to
    /// that person's right (the axis convention of ISO 8429, carried round the full circle).
    Angle(u16),
}

/// One prism as it was written: an amount and where its base points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct WrittenPrism {
    /// The amount, 0 to 30 prism dioptres.
    pub amount: PrismDioptre,
    /// The direction of the base.
    pub base: PrismBase,
}

/// One eye's prescription as it was written.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WrittenRx {
    /// The sphere, -40 to 40 dioptres; plano is 0.
    pub sphere: Eighths,
    /// The cylinder, -20 to 20 dioptres and never 0, in the form in which it was written.
    pub cylinder: Option<Eighths>,
    /// The axis, 1 to 180 degrees; there is one exactly when there is a cylinder.
    pub axis_deg: Option<u16>,
    /// The near addition, 0 to 10 dioptres.
    pub addition: Option<Eighths>,
    /// The addition for intermediate distances, 0 to 10 dioptres.
    pub intermediate_addition: Option<Eighths>,
    /// Prism for distance: at most one vertical and one horizontal, or a single one at an angle.
    pub prism: Vec<WrittenPrism>,
    /// Prism for near, where it is written apart from that for distance; likewise.
    pub near_prism: Vec<WrittenPrism>,
    /// The acuity as a fraction, as it was written (`6/9-2`).
    pub acuity: Option<String>,
    /// The vertex distance at which the eye was tested, 5 to 25 mm.
    pub vertex_mm: Option<Millimetre>,
}

impl WrittenRx {
    /// Returns the prism of this lens as `(base_in, base_up)`, each to 0.01 prism dioptre.
    ///
    /// With H = P cos θ and V = P sin θ, a positive H is base in for the right eye and base out for
    /// the left, a positive V is base up for both: the viewing rule of ISO 8429. Out and down are
    /// negative.
    pub fn prism_components(&self, eye: Eye) -> (PrismDioptre, PrismDioptre) {
        components(&self.prism, eye)
    }

    /// Returns the near prism likewise, or `None` where none is written.
    pub fn near_prism_components(&self, eye: Eye) -> Option<(PrismDioptre, PrismDioptre)> {
        (!self.near_prism.is_empty()).then(|| components(&self.near_prism, eye))
    }
}

fn components(prism: &[WrittenPrism], eye: Eye) -> (PrismDioptre, PrismDioptre) {
    let (mut inward, mut up) = (0.0, 0.0);
    for prism in prism {
        let amount = prism.amount.get();
        match prism.base {
            PrismBase::In => inward += amount,
            PrismBase::Out => inward -= amount,
            PrismBase::Up => up += amount,
            PrismBase::Down => up -= amount,
            PrismBase::Angle(degrees) => {
                let (sin, cos) = f64::from(degrees).to_radians().sin_cos();
                inward += amount * cos * eye.nasal_sign();
                up += amount * sin;
            }
        }
    }
    (hundredth(inward), hundredth(up))
}

/// The hundredth nearest to an amount that the hard limits keep far inside what can be held.
fn hundredth(amount: f64) -> PrismDioptre {
    PrismDioptre::new((amount * 100.0).round() / 100.0).unwrap_or_default()
}

/// The values of one line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reading {
    /// One eye's prescription, with the eye where it was named.
    One {
        /// The eye, where the line names it.
        eye: Option<Eye>,
        /// What was written for it.
        rx: WrittenRx,
    },
    /// Both eyes'.
    Two {
        /// What was written for each.
        eyes: PerEye<WrittenRx>,
        /// What one of them was given that is written once, after the other.
        assumed: Vec<Assumption>,
    },
}

/// Something that a line does not say in so many words, and that is shown with its reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Assumption {
    /// One addition after two eyes counts for both.
    AdditionForBothEyes,
    /// So does one intermediate addition.
    IntermediateAdditionForBothEyes,
}

impl Assumption {
    /// Returns what was assumed, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::AdditionForBothEyes => "addition for both eyes",
            Self::IntermediateAdditionForBothEyes => "intermediate addition for both eyes",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(amount: i32, degrees: u16) -> WrittenRx {
        WrittenRx {
            prism: vec![WrittenPrism {
                amount: PrismDioptre::from_thousandths(amount),
                base: PrismBase::Angle(degrees),
            }],
            ..WrittenRx::default()
        }
    }

    fn hundredths(rx: &WrittenRx, eye: Eye) -> (i32, i32) {
        let (inward, up) = rx.prism_components(eye);
        (inward.thousandths() / 10, up.thousandths() / 10)
    }

    #[test]
    fn the_quarters_of_the_circle_are_in_up_out_and_down() {
        for (degrees, right, left) in [
            (0, (200, 0), (-200, 0)),
            (90, (0, 200), (0, 200)),
            (180, (-200, 0), (200, 0)),
            (270, (0, -200), (0, -200)),
        ] {
            let rx = at(2000, degrees);
            assert_eq!(hundredths(&rx, Eye::Right), right, "right at {degrees}");
            assert_eq!(hundredths(&rx, Eye::Left), left, "left at {degrees}");
        }
    }

    #[test]
    fn the_course_example_of_two_in_with_one_and_a_half_vertical_agrees() {
        assert_eq!(hundredths(&at(2500, 37), Eye::Right), (200, 150));
        assert_eq!(hundredths(&at(2500, 217), Eye::Left), (200, -150));
    }

    #[test]
    fn named_bases_mean_the_same_for_either_eye() {
        let rx = WrittenRx {
            prism: vec![
                WrittenPrism {
                    amount: PrismDioptre::from_thousandths(1500),
                    base: PrismBase::Out,
                },
                WrittenPrism {
                    amount: PrismDioptre::from_thousandths(500),
                    base: PrismBase::Down,
                },
            ],
            ..WrittenRx::default()
        };
        for eye in Eye::BOTH {
            assert_eq!(hundredths(&rx, eye), (-150, -50));
        }
    }
}
