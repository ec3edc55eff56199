//! The error of power that tilt and face form bring in, by exact ray trace where the lens's form is
//! known, by the thin lens otherwise.

use super::write::{signed, steps};
use super::{Axis, Limit, Mark, Number, Plot, Series};
use crate::trade::eye::Eye;
use crate::trade::optics::as_worn::{WornLens, as_worn};
use crate::trade::optics::prism::LensPoint;
use crate::trade::optics::tilt::{Tilt, oblique};
use crate::trade::optics::{OpticsError, PowerMatrix, Rx};

/// The front and the thickness of a lens, as far as the exact trace needs them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Form {
    /// True power of the front surface, dioptres.
    pub front_d: f64,
    /// Centre thickness, mm.
    pub centre_mm: f64,
}

/// A lens and how it is worn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TiltCase {
    /// Whose.
    pub eye: Eye,
    /// Back vertex power.
    pub rx: Rx,
    /// Refractive index.
    pub index: f64,
    /// Front and thickness, where known: without them the thin lens is used.
    pub form: Option<Form>,
    /// The angles as worn.
    pub tilt: Tilt,
    /// The error not to be passed, dioptres.
    pub limit: Option<Limit>,
}

/// The largest angle shown, degrees.
const SHOWN_DEG: f64 = 25.0;
/// Steps of a curve.
const STEPS: u32 = 50;

/// Returns the difference between the power as worn and the power of the lens.
///
/// # Errors
/// As [`as_worn`] and [`oblique`].
pub(crate) fn tilt_error(case: &TiltCase, tilt: Tilt) -> Result<PowerMatrix, OpticsError> {
    let worn = match case.form {
        Some(form) => {
            let lens = WornLens {
                index: case.index,
                front_d: form.front_d,
                centre_mm: form.centre_mm,
                tilt,
                optical_centre: LensPoint::default(),
            };
            as_worn(case.eye, case.rx, lens)?.rx
        }
        None => oblique(case.eye, case.rx, case.index, tilt)?,
    };
    Ok(worn.matrix() - case.rx.matrix())
}

/// Returns the largest error of power in any meridian over each angle, the other as worn.
///
/// # Errors
/// As [`tilt_error`].
pub(crate) fn tilt_plot(case: &TiltCase) -> Result<Plot, OpticsError> {
    let Tilt {
        pantoscopic_deg,
        face_form_deg,
    } = case.tilt;
    let model = if case.form.is_some() {
        "exact ray trace"
    } else {
        "thin lens: no front curve or thickness"
    };
    let over = |of: &dyn Fn(f64) -> Tilt| {
        steps(0.0, SHOWN_DEG, STEPS)
            .map(|deg| tilt_error(case, of(deg)).map(|e| (deg, e.largest_d())))
            .collect::<Result<Vec<_>, _>>()
    };
    let error = tilt_error(case, case.tilt)?;
    let here = error.largest_d();
    let mark = |name: &str, x: f64| Mark {
        name: name.to_owned(),
        x,
        y: here,
    };
    Ok(Plot {
        title: format!("{} eye: error of power as worn ({model})", case.eye),
        x: Axis::new("angle", "°"),
        y: Axis::new("largest error", "D"),
        series: vec![
            Series {
                name: format!("tilt, face form {face_form_deg:.0}°"),
                points: over(&|deg| Tilt {
                    pantoscopic_deg: deg,
                    face_form_deg,
                })?,
            },
            Series {
                name: format!("face form, tilt {pantoscopic_deg:.0}°"),
                points: over(&|deg| Tilt {
                    pantoscopic_deg,
                    face_form_deg: deg,
                })?,
            },
        ],
        marks: vec![
            mark("tilt as worn", pantoscopic_deg),
            mark("face form as worn", face_form_deg),
        ],
        limits: case.limit.iter().cloned().collect(),
        numbers: vec![
            Number::new(
                "mean sphere changes",
                signed(f64::midpoint(error.xx, error.yy), 3, "D"),
            ),
            Number::new(
                "cylinder brought in",
                format!("{:.3} D", error.cylinder_size_d()),
            ),
            Number::new("largest error", format!("{here:.3} D")),
        ],
        ..Plot::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn case(form: Option<Form>) -> TiltCase {
        TiltCase {
            eye: Eye::Left,
            rx: Rx::sphere(-6.0),
            index: 1.5,
            form,
            tilt: Tilt {
                pantoscopic_deg: 10.0,
                face_form_deg: 0.0,
            },
            limit: None,
        }
    }

    #[test]
    fn a_tilted_sphere_errs_as_martins_rule_says() {
        let plot = tilt_plot(&case(None)).unwrap();
        for &(deg, y) in plot.series[0].points.iter().filter(|p| p.0 <= 10.0) {
            let (sin, tan) = (deg.to_radians().sin(), deg.to_radians().tan());
            let sphere = 6.0 * (1.0 + sin * sin / 3.0);
            let martin = sphere - 6.0 + sphere * tan * tan;
            assert!((y - martin).abs() < 0.006, "{deg}: {y} {martin}");
        }
    }

    #[test]
    fn a_lens_squarely_before_the_eye_errs_in_nothing() {
        let form = Some(Form {
            front_d: 4.0,
            centre_mm: 2.0,
        });
        for case in [case(form), case(None)] {
            let plot = tilt_plot(&case).unwrap();
            assert!(plot.series[0].points[0].1.abs() < 1e-9);
            assert_eq!(plot.title.contains("ray trace"), case.form.is_some());
        }
    }

    #[test]
    fn the_marks_lie_on_their_curves() {
        let plot = tilt_plot(&case(None)).unwrap();
        for (series, mark) in plot.series.iter().zip(&plot.marks) {
            let on = series.points.iter().find(|p| (p.0 - mark.x).abs() < 1e-9);
            assert!((on.unwrap().1 - mark.y).abs() < 1e-12);
        }
    }
}
