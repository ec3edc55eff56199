//! How much larger one lens of a pair makes what its eye sees than the other, in every direction.
//!
//! Each lens magnifies as a matrix, `M = (I - hF)^-1 / (1 - (t/n) F1)`: symmetrical, with its principal
//! directions along and across the axis ([`super::magnification`]). The difference of the two has
//! its own principal directions; where the cylinders are oblique, those of neither lens. Source:
//! Bennett and Rabbetts, Clinical Visual Optics; matrices after Keating and Harris.

use super::magnification::{WornForm, magnification};
use super::{OpticsError, PowerMatrix, Rx};
use crate::trade::eye::PerEye;

/// Two principal values as large as each other within this count as equal, percent points.
const ALIKE: f64 = 1e-9;

/// Right magnification less left, in percent points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Aniseikonia {
    /// Along the horizontal.
    pub along_180_percent: f64,
    /// Along the vertical.
    pub along_90_percent: f64,
    /// The principal value of larger size, with its sign; of two as large the positive one.
    pub worst_percent: f64,
    /// The direction of that, degrees as an axis, 180 where every direction is alike.
    pub worst_meridian_deg: f64,
}

/// Returns by how much the magnifications of a pair of back vertex powers differ.
///
/// # Errors
/// [`OpticsError::Impossible`] when a focus lies inside a lens, or at or before a pupil.
pub(crate) fn aniseikonia(pair: PerEye<(Rx, WornForm)>) -> Result<Aniseikonia, OpticsError> {
    let apart = percent(pair.right)? - percent(pair.left)?;
    let principal = apart.rx();
    // In minus form the greater value lies along the axis.
    let (greater, lesser) = principal.principal_powers();
    let worst_is_greater = greater.abs() + ALIKE >= lesser.abs();
    let (worst_percent, worst_meridian_deg) = if worst_is_greater {
        (greater, principal.axis_deg)
    } else {
        (lesser, super::power::normal_axis(principal.axis_deg + 90.0))
    };
    Ok(Aniseikonia {
        along_180_percent: apart.xx,
        along_90_percent: apart.yy,
        worst_percent,
        worst_meridian_deg,
    })
}

/// The magnification of one lens as a matrix, percent.
fn percent((rx, form): (Rx, WornForm)) -> Result<PowerMatrix, OpticsError> {
    let m = magnification(rx, form)?;
    let (along, across) = (100.0 * m.along_axis.total, 100.0 * m.across_axis.total);
    Ok(Rx::new(along, across - along, rx.axis_deg).matrix())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form(front_d: f64, vertex_mm: f64, pupil_mm: f64) -> WornForm {
        WornForm {
            index: 1.5,
            front_d,
            centre_mm: 2.0,
            vertex_mm,
            pupil_mm,
        }
    }

    /// Published: a course slide, +4.50 and +7.00 at 15.5 mm, power factors alone: 4.68 apart.
    #[test]
    fn the_published_pair_agrees() {
        let form = form(0.0, 14.0, 1.5);
        let pair = PerEye {
            right: (Rx::sphere(4.5), form),
            left: (Rx::sphere(7.0), form),
        };
        let found = aniseikonia(pair).unwrap();
        assert!((found.worst_percent + 4.68).abs() < 0.01);
        assert!((found.worst_meridian_deg - 180.0).abs() < 1e-12);
    }

    #[test]
    fn crossed_cylinders_differ_as_much_each_way_and_the_positive_one_is_told() {
        let form = form(6.0, 12.0, 3.0);
        let pair = PerEye {
            right: (Rx::new(0.0, -4.0, 90.0), form),
            left: (Rx::new(0.0, -4.0, 180.0), form),
        };
        let found = aniseikonia(pair).unwrap();
        assert!((found.along_180_percent + found.along_90_percent).abs() < 1e-9);
        assert!(found.worst_percent > 5.0);
        assert!((found.worst_meridian_deg - 90.0).abs() < 1e-6);
    }

    /// Derived otherwise: the image of every direction by the matrix inverted by hand.
    #[test]
    fn no_direction_differs_more_than_the_worst() {
        let (right, left) = (form(8.0, 12.0, 3.0), form(5.0, 14.0, 3.0));
        let pair = PerEye {
            right: (Rx::new(3.0, -2.5, 25.0), right),
            left: (Rx::new(-1.0, -4.0, 110.0), left),
        };
        let found = aniseikonia(pair).unwrap();
        let matrix = |(rx, form): (Rx, WornForm)| {
            let height = (form.vertex_mm + form.pupil_mm) / 1000.0;
            let power = rx.matrix().scaled(-height);
            let (xx, xy, yy) = (1.0 + power.xx, power.xy, 1.0 + power.yy);
            let shape = 1.0 - form.centre_mm / 1000.0 / form.index * form.front_d;
            let scale = 100.0 / ((xx * yy - xy * xy) * shape);
            (yy * scale, -xy * scale, xx * scale)
        };
        let (r, l) = (matrix(pair.right), matrix(pair.left));
        let apart = (r.0 - l.0, r.1 - l.1, r.2 - l.2);
        assert!((found.along_180_percent - apart.0).abs() < 1e-9);
        assert!((found.along_90_percent - apart.2).abs() < 1e-9);
        let worst = (0..3600)
            .map(|i| {
                let (sin, cos) = (f64::from(i) / 20.0).to_radians().sin_cos();
                apart.0 * cos * cos + 2.0 * apart.1 * cos * sin + apart.2 * sin * sin
            })
            .max_by(|a, b| a.abs().total_cmp(&b.abs()))
            .unwrap();
        assert!(
            (found.worst_percent - worst).abs() < 1e-4,
            "{found:?} {worst}"
        );
    }
}
