//! How far below the pupil the optical centre belongs, over the pantoscopic angle.
//!
//! [`crate::trade::optics::centration::drop_for_tilt_mm`].

use super::write::{mm, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::optics::OpticsError;
use crate::trade::optics::centration::drop_for_tilt_mm;

/// Angles that are always shown, degrees.
const SHOWN_DEG: (f64, f64) = (0.0, 25.0);
/// Steps of a curve.
const STEPS: u32 = 50;

/// Returns the drop over the pantoscopic angle, the given angle marked.
///
/// # Errors
/// As [`drop_for_tilt_mm`].
pub(crate) fn drop_plot(
    pantoscopic_deg: f64,
    vertex_mm: f64,
    rotation_mm: f64,
) -> Result<Plot, OpticsError> {
    let at = |deg: f64| drop_for_tilt_mm(deg, vertex_mm, rotation_mm);
    let here = at(pantoscopic_deg)?;
    let (from, to) = (
        SHOWN_DEG.0.min(pantoscopic_deg),
        SHOWN_DEG.1.max(pantoscopic_deg),
    );
    Ok(Plot {
        title: "drop of the optical centre over the tilt".to_owned(),
        x: Axis::new("pantoscopic angle", "°"),
        y: Axis::new("drop", "mm"),
        series: vec![Series {
            name: "drop below the pupil".to_owned(),
            points: steps(from, to, STEPS)
                .map(|deg| at(deg).map(|y| (deg, y)))
                .collect::<Result<_, _>>()?,
        }],
        marks: vec![Mark {
            name: "this tilt".to_owned(),
            x: pantoscopic_deg,
            y: here,
        }],
        numbers: vec![
            Number::new("drop", mm(here)),
            Number::new("to the centre of rotation", mm(vertex_mm + rotation_mm)),
        ],
        ..Plot::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_degrees_are_about_a_millimetre_and_none_is_none() {
        let plot = drop_plot(2.0, 13.5, 13.5).unwrap();
        assert!((plot.marks[0].y - 1.0).abs() < 0.1);
        assert!(plot.series[0].points[0].1.abs() < 1e-12);
    }

    #[test]
    fn an_impossible_tilt_is_refused() {
        assert!(drop_plot(70.0, 12.0, 13.5).is_err());
    }
}
