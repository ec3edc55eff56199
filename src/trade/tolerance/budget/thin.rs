//! The thin-lens model of a lens that is moved or tilted.

use crate::trade::eye::Eye;
use crate::trade::optics::power::{PowerMatrix, Rx};
use crate::trade::optics::tilt::{Tilt, oblique_matrix};
use crate::trade::optics::vertex::vertex;

use super::lens_model::{LensModel, Worn};

/// A lens without thickness, looked through at its pole.
///
/// Moved: F' = F / (1 + dF) for each principal power, d the distance it moves away from the eye in
/// metres. Tilted: Coddington's equations as a matrix (Blendowske 2002), with the lens turned by the
/// face-form angle about the vertical and then by the pantoscopic angle about the head's horizontal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ThinLens;

impl LensModel for ThinLens {
    fn moved(&self, power: PowerMatrix, farther_mm: f64) -> Option<PowerMatrix> {
        vertex(power.rx(), 0.0, farther_mm).ok().map(Rx::matrix)
    }

    fn as_worn(&self, eye: Eye, power: PowerMatrix, worn: Worn) -> Option<PowerMatrix> {
        let tilt = Tilt {
            pantoscopic_deg: worn.pantoscopic_deg,
            face_form_deg: worn.face_form_deg,
        };
        oblique_matrix(eye, power, worn.index, tilt).ok()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::float_cmp, reason = "tests")]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn a_minus_ten_lens_moved_two_millimetres_away_must_be_stronger_by_a_fifth() {
        let moved = ThinLens
            .moved(Rx::new(-10.0, -2.0, 30.0).matrix(), 2.0)
            .unwrap()
            .rx();
        assert_abs_diff_eq!(moved.sphere_d, -10.0 / (1.0 - 0.02), epsilon = 1e-12);
        assert_abs_diff_eq!(
            moved.sphere_d + moved.cylinder_d,
            -12.0 / (1.0 - 0.024),
            epsilon = 1e-12
        );
        assert_abs_diff_eq!(moved.axis_deg, 30.0, epsilon = 1e-9);
        assert!(ThinLens.moved(Rx::sphere(-10.0).matrix(), 100.0).is_none());
    }

    #[test]
    fn a_tilted_sphere_follows_martins_rule() {
        let worn = Worn {
            index: 1.5,
            pantoscopic_deg: 10.0,
            face_form_deg: 0.0,
        };
        let rx = ThinLens
            .as_worn(Eye::Left, Rx::sphere(-8.0).matrix(), worn)
            .unwrap()
            .rx();
        let sin2 = 10.0_f64.to_radians().sin().powi(2);
        let sphere = -8.0 * (1.0 + sin2 / 3.0);
        assert_abs_diff_eq!(rx.sphere_d, sphere, epsilon = 0.002);
        assert_abs_diff_eq!(
            rx.cylinder_d,
            sphere * 10.0_f64.to_radians().tan().powi(2),
            epsilon = 0.002
        );
        assert_abs_diff_eq!(rx.axis_deg, 180.0, epsilon = 1e-9);
    }

    #[test]
    fn a_lens_tilted_both_ways_agrees_with_an_independent_program() {
        let cases = [
            (
                Eye::Left,
                Rx::new(4.25, -2.0, 64.0),
                1.586,
                9.4,
                21.3,
                Rx::new(4.476_571_78, -1.672_430_62, 65.215_715_6),
            ),
            (
                Eye::Right,
                Rx::new(5.0, -5.0, 43.0),
                1.498,
                5.5,
                1.1,
                Rx::new(5.047_902_68, -5.047_902_68, 43.077_392_5),
            ),
        ];
        for (eye, rx, index, pantoscopic_deg, face_form_deg, wanted) in cases {
            let worn = Worn {
                index,
                pantoscopic_deg,
                face_form_deg,
            };
            let found = ThinLens.as_worn(eye, rx.matrix(), worn).unwrap().rx();
            assert_abs_diff_eq!(found.sphere_d, wanted.sphere_d, epsilon = 1e-5);
            assert_abs_diff_eq!(found.cylinder_d, wanted.cylinder_d, epsilon = 1e-5);
            assert_abs_diff_eq!(found.axis_deg, wanted.axis_deg, epsilon = 1e-4);
        }
    }

    #[test]
    fn no_tilt_leaves_the_power_alone() {
        let worn = Worn {
            index: 1.6,
            pantoscopic_deg: 0.0,
            face_form_deg: 0.0,
        };
        let f = Rx::new(3.0, -2.0, 70.0).matrix();
        let g = ThinLens.as_worn(Eye::Right, f, worn).unwrap();
        assert_abs_diff_eq!(g.xx, f.xx, epsilon = 1e-12);
        assert_abs_diff_eq!(g.xy, f.xy, epsilon = 1e-12);
        assert_abs_diff_eq!(g.yy, f.yy, epsilon = 1e-12);
    }
}
