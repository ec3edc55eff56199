//! The power and prism of a real lens as worn: thick, tilted, decentred; and what to order for it.
//!
//! Front surface a sphere, back surface the toroid that gives the stated back vertex power through
//! the thickness, `K2 = (F - F1/(1 - (t/n) F1) I) / (1 - n)`; the line of sight straight ahead is
//! traced exactly (`ray_trace`). Sources: as there; Jalie, The Principles of Ophthalmic
//! Lenses, for the back vertex power of a thick lens.

use super::back_vertex::through_thickness_d;
use super::error::{finite, within};
use super::prism::{LensPoint, Prism};
use super::ray_trace::Lens;
use super::surface::Surface;
use super::tilt::{Tilt, oblique_compensate};
use super::{OpticsError, PowerMatrix, Rx};
use crate::trade::eye::Eye;

/// A lens's form and how it is worn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WornLens {
    /// Refractive index.
    pub index: f64,
    /// True power of the front surface, dioptres.
    pub front_d: f64,
    /// Centre thickness, mm.
    pub centre_mm: f64,
    /// Pantoscopic and face-form angles.
    pub tilt: Tilt,
    /// The optical centre from the point where the line of sight meets the lens plane, in the
    /// plane of the lens.
    pub optical_centre: LensPoint,
}

/// The power and prism that the eye meets through a lens as worn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AsWorn {
    /// Power at the vertex sphere, minus-cylinder form.
    pub rx: Rx,
    /// Prism met by the line of sight.
    pub prism: Prism,
}

/// A power to order and how it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Compensated {
    /// Back vertex power to order, minus-cylinder form.
    pub rx: Rx,
    /// How many traces it took.
    pub iterations: u32,
}

/// Greatest error of an entry of the power matrix at which the search ends, dioptres.
const FOUND_D: f64 = 1e-10;

/// Limit of Newton's steps, each of which doubles the digits; beyond it no order exists.
const MOST_ITERATIONS: u32 = 30;

/// Step of the numerical derivative of the power as worn by the ordered power, dioptres.
const PROBE_D: f64 = 1e-5;

/// Returns what a lens of back vertex power `rx` (as a focimeter reads it) does as worn.
///
/// # Errors
/// [`OpticsError::Impossible`] when such a lens cannot exist or the line of sight does not pass it;
/// [`OpticsError::OutOfRange`] for angles beyond 60 degrees, an index not above 1 or a thickness
/// not above zero.
pub fn as_worn(eye: Eye, rx: Rx, lens: WornLens) -> Result<AsWorn, OpticsError> {
    let worn = trace(eye, rx.matrix(), lens)?;
    Ok(AsWorn {
        rx: worn.0.rx(),
        prism: worn.1,
    })
}

/// Returns the back vertex power to order so that the lens has `wanted` as worn: the inverse of
/// [`as_worn`] for the power.
///
/// Newton's method in the three entries of the power matrix, from [`oblique_compensate`]'s answer.
/// Adding the missing power to the order is not enough: in a steeply wrapped and decentred form one
/// ordered dioptre can change the power as worn by more than two.
///
/// # Errors
/// As [`as_worn`], and [`OpticsError::Impossible`] when no power to order does it.
pub fn as_worn_compensate(
    eye: Eye,
    wanted: Rx,
    lens: WornLens,
) -> Result<Compensated, OpticsError> {
    let target = wanted.matrix();
    let mut ordered = oblique_compensate(eye, wanted, lens.index, lens.tilt)?.matrix();
    for iterations in 1..=MOST_ITERATIONS {
        let worn = trace(eye, ordered, lens)?.0;
        let missing = target - worn;
        if entries(missing).into_iter().all(|d| d.abs() < FOUND_D) {
            return Ok(Compensated {
                rx: ordered.rx(),
                iterations,
            });
        }
        let mut effects = [[0.0; 3]; 3];
        for (effect, unit) in effects.iter_mut().zip(UNITS) {
            let probed = trace(eye, ordered + unit.scaled(PROBE_D), lens)?.0;
            *effect = entries((probed - worn).scaled(1.0 / PROBE_D));
        }
        match solve(effects, entries(missing)) {
            Some(more) => {
                for (part, unit) in more.into_iter().zip(UNITS) {
                    ordered = ordered + unit.scaled(part);
                }
            }
            None => break,
        }
    }
    Err(OpticsError::impossible(
        "no power of this curve, thickness and tilt does as worn what is wanted: choose a flatter or less tilted form",
    ))
}

/// The unit matrices xx, xy and yy, of which every power matrix is a sum.
const UNITS: [PowerMatrix; 3] = [
    PowerMatrix {
        xx: 1.0,
        xy: 0.0,
        yy: 0.0,
    },
    PowerMatrix {
        xx: 0.0,
        xy: 1.0,
        yy: 0.0,
    },
    PowerMatrix {
        xx: 0.0,
        xy: 0.0,
        yy: 1.0,
    },
];

fn entries(f: PowerMatrix) -> [f64; 3] {
    [f.xx, f.xy, f.yy]
}

/// Solves `x0 c0 + x1 c1 + x2 c2 = wanted` by Cramer's rule.
fn solve(columns: [[f64; 3]; 3], wanted: [f64; 3]) -> Option<[f64; 3]> {
    let [c0, c1, c2] = columns;
    let volume = |a: [f64; 3], b: [f64; 3], c: [f64; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1])
            + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
    };
    let whole = volume(c0, c1, c2);
    (whole.abs() > 1e-9).then(|| {
        [
            volume(wanted, c1, c2) / whole,
            volume(c0, wanted, c2) / whole,
            volume(c0, c1, wanted) / whole,
        ]
    })
}

fn trace(
    eye: Eye,
    power: PowerMatrix,
    lens: WornLens,
) -> Result<(PowerMatrix, Prism), OpticsError> {
    lens.tilt.check()?;
    within(lens.centre_mm, "centre thicknesses", 0.01, 100.0, "mm")?;
    let arriving_d = through_thickness_d(lens.front_d, lens.centre_mm, lens.index)?;
    let back = PowerMatrix {
        xx: power.xx - arriving_d,
        xy: power.xy,
        yy: power.yy - arriving_d,
    };
    let body = Lens {
        front: Surface::sphere(lens.front_d / (lens.index - 1.0) / 1000.0),
        back: Surface::toroid(back.scaled(1.0 / (1.0 - lens.index))),
        centre_mm: lens.centre_mm,
        index: lens.index,
    };
    let side = eye.nasal_sign();
    let axes = lens.tilt.lens_axes(eye);
    let [x, y, normal] = axes;
    let start = [
        -side * lens.optical_centre.in_mm,
        -lens.optical_centre.up_mm,
        0.0,
    ];
    let traced = body.trace(start, [x[2], y[2], normal[2]])?;

    let in_head = |v: [f64; 3], axis: usize| v[0] * x[axis] + v[1] * y[axis] + v[2] * normal[axis];
    let first = traced.first_axis;
    let worn = traced.power.turned(in_head(first, 0), -in_head(first, 1));
    finite(worn.xx + worn.xy + worn.yy)?;
    let forward = in_head(traced.object_side, 2);
    let prism = Prism {
        base_in_delta: side * 100.0 * in_head(traced.object_side, 0) / forward,
        base_up_delta: 100.0 * in_head(traced.object_side, 1) / forward,
    };
    if forward <= 0.0 {
        return Err(OpticsError::impossible(
            "the line of sight is turned back by so much prism: choose a flatter form or decentre less",
        ));
    }
    Ok((worn, prism))
}

#[cfg(test)]
mod tests {
    use super::*;

    const LENS: WornLens = WornLens {
        index: 1.6,
        front_d: 5.0,
        centre_mm: 2.0,
        tilt: Tilt {
            pantoscopic_deg: 0.0,
            face_form_deg: 0.0,
        },
        optical_centre: LensPoint {
            in_mm: 0.0,
            up_mm: 0.0,
        },
    };

    #[test]
    fn squarely_through_the_centre_a_lens_has_its_back_vertex_power() {
        let rx = Rx::new(-3.0, -1.25, 37.0);
        let worn = as_worn(Eye::Right, rx, LENS).unwrap();
        assert!((worn.rx.sphere_d - rx.sphere_d).abs() < 1e-12);
        assert!((worn.rx.cylinder_d - rx.cylinder_d).abs() < 1e-12);
        assert!((worn.rx.axis_deg - rx.axis_deg).abs() < 1e-9);
        assert!(worn.prism.base_in_delta.abs() < 1e-12);
    }

    #[test]
    fn surfaces_that_cross_are_no_lens() {
        let lens = WornLens {
            centre_mm: 0.5,
            optical_centre: LensPoint {
                in_mm: 25.0,
                up_mm: 0.0,
            },
            ..LENS
        };
        let e = as_worn(Eye::Right, Rx::sphere(9.0), lens).unwrap_err();
        assert!(matches!(e, OpticsError::Impossible { .. }), "{e}");
    }
}
