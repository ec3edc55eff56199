//! A prescription as it was written: whole eighths of a dioptre, never a float.

use crate::eye::{Eye, PerEye};
use crate::units::{Dioptre, Millimetre, PrismDioptre};

/// A written power in whole eighths of a dioptre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Eighths(pub i16);

impl Eighths {
    /// Returns the power in dioptres, exactly.
    pub fn to_dioptre(self) -> Dioptre {
        Dioptre::from_thousandths(i32::from(self.0) * 125)
    }
}

/// Where the base of a prism lies, from the wearer's own side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PrismBase {
    /// Towards the brow.
    Up,
    /// Towards the cheek.
    Down,
    /// Towards the nose.
    In,
    /// Towards the temple.
    Out,
    /// In degrees, 0 to 359, anticlockwise from the right of somebody who faces the wearer
    /// (ISO 8429).
    Angle(u16),
}

impl PrismBase {
    /// Whether the base lies up or down.
    pub(super) const fn is_vertical(self) -> bool {
        matches!(self, Self::Up | Self::Down)
    }
}

/// One written prism.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct WrittenPrism {
    /// How much, from 0 to 30 prism dioptres.
    pub amount: PrismDioptre,
    /// Where its base lies.
    pub base: PrismBase,
}

/// The prescription of one eye as it was written.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct WrittenRx {
    /// Sphere, within 40 dioptres.
    pub sphere: Eighths,
    /// Cylinder as written, plus or minus, within 20 dioptres and never zero; always with an axis.
    pub cylinder: Option<Eighths>,
    /// Axis of the cylinder, 1 to 180 degrees.
    pub axis_deg: Option<u16>,
    /// Addition for near, 0 to 10 dioptres.
    pub addition: Option<Eighths>,
    /// No prism, one vertical and one horizontal at most, or one at an angle.
    pub prism: Vec<WrittenPrism>,
    /// Visual acuity as it was written ("6/6").
    pub acuity: Option<String>,
    /// Back vertex distance, 5 to 25 mm.
    pub vertex_mm: Option<Millimetre>,
}

impl WrittenRx {
    /// Returns the written prism as base in and base up, each to 0.01 prism dioptre.
    ///
    /// A direction in which nothing is written is `None`; base out and base down are negative. A
    /// prism at an angle θ has a horizontal part P cos θ, which is base in for the right eye and
    /// base out for the left, and a vertical part P sin θ, base up for both (viewing rule of
    /// ISO 8429).
    pub fn prism_components(&self, eye: Eye) -> (Option<PrismDioptre>, Option<PrismDioptre>) {
        let (mut base_in, mut base_up) = (None, None);
        for prism in &self.prism {
            let amount = prism.amount.get();
            match prism.base {
                PrismBase::Up => base_up = hundredths(amount),
                PrismBase::Down => base_up = hundredths(-amount),
                PrismBase::In => base_in = hundredths(amount),
                PrismBase::Out => base_in = hundredths(-amount),
                PrismBase::Angle(degrees) => {
                    let angle = f64::from(degrees).to_radians();
                    base_in = hundredths(amount * angle.cos() * eye.nasal_sign());
                    base_up = hundredths(amount * angle.sin());
                }
            }
        }
        (base_in, base_up)
    }
}

fn hundredths(amount: f64) -> Option<PrismDioptre> {
    PrismDioptre::new((amount * 100.0).round() / 100.0).ok()
}

/// What one line says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reading {
    /// The prescription of one eye, which may be named.
    One {
        /// The eye, where the line names it.
        eye: Option<Eye>,
        /// Its prescription.
        rx: WrittenRx,
    },
    /// The prescriptions of both eyes.
    Two(PerEye<WrittenRx>),
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(amount: i32, base: PrismBase) -> WrittenRx {
        let amount = PrismDioptre::from_thousandths(amount);
        WrittenRx {
            prism: vec![WrittenPrism { amount, base }],
            ..WrittenRx::default()
        }
    }

    fn found(rx: &WrittenRx, eye: Eye) -> (Option<i32>, Option<i32>) {
        let (base_in, base_up) = rx.prism_components(eye);
        (
            base_in.map(PrismDioptre::thousandths),
            base_up.map(PrismDioptre::thousandths),
        )
    }

    #[test]
    fn an_oblique_prism_splits_into_the_components_of_the_course_example() {
        let rx = with(2_500, PrismBase::Angle(37));
        assert_eq!(found(&rx, Eye::Right), (Some(2_000), Some(1_500)));
        let rx = with(2_500, PrismBase::Angle(217));
        assert_eq!(found(&rx, Eye::Left), (Some(2_000), Some(-1_500)));
    }

    #[test]
    fn the_four_main_directions_follow_the_eye() {
        for (angle, right, left) in [
            (0, (1_000, 0), (-1_000, 0)),
            (90, (0, 1_000), (0, 1_000)),
            (180, (-1_000, 0), (1_000, 0)),
            (270, (0, -1_000), (0, -1_000)),
        ] {
            let rx = with(1_000, PrismBase::Angle(angle));
            assert_eq!(found(&rx, Eye::Right), (Some(right.0), Some(right.1)));
            assert_eq!(found(&rx, Eye::Left), (Some(left.0), Some(left.1)));
        }
    }

    #[test]
    fn a_direction_with_nothing_written_stays_empty() {
        assert_eq!(
            found(&with(500, PrismBase::Out), Eye::Left),
            (Some(-500), None)
        );
        assert_eq!(
            found(&with(500, PrismBase::Down), Eye::Left),
            (None, Some(-500))
        );
        assert_eq!(found(&WrittenRx::default(), Eye::Right), (None, None));
    }
}
