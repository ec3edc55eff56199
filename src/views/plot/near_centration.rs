//! How far one eye's near centration lies inside its distance one, over the working distance.
//!
//! [`crate::trade::optics::centration::near_inset_mm`].

use super::write::{mm, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::optics::OpticsError;
use crate::trade::optics::centration::{NearTask, near_inset_mm};

/// Working distances that are always shown, mm.
const SHOWN_MM: (f64, f64) = (250.0, 800.0);
/// Steps of a curve.
const STEPS: u32 = 55;

/// Returns the inset over the working distance, with the task's own distance marked.
///
/// # Errors
/// As [`near_inset_mm`].
pub(crate) fn near_centration_plot(cd_mm: f64, task: NearTask) -> Result<Plot, OpticsError> {
    let at = |working_mm: f64| near_inset_mm(cd_mm, NearTask { working_mm, ..task });
    let here = at(task.working_mm)?;
    let (from, to) = (
        SHOWN_MM.0.min(task.working_mm),
        SHOWN_MM.1.max(task.working_mm),
    );
    Ok(Plot {
        title: "near inset over the working distance".to_owned(),
        x: Axis::new("working distance", "mm"),
        y: Axis::new("inset, one eye", "mm"),
        series: vec![Series {
            name: "inset".to_owned(),
            points: steps(from, to, STEPS)
                .map(|w| at(w).map(|y| (w, y)))
                .collect::<Result<_, _>>()?,
        }],
        marks: vec![Mark {
            name: "this task".to_owned(),
            x: task.working_mm,
            y: here,
        }],
        numbers: vec![
            Number::new("inset", format!("{here:.2} mm")),
            Number::new("near centration", mm(cd_mm - here)),
        ],
        ..Plot::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearer_the_object_the_more_inset() {
        let task = NearTask {
            working_mm: 400.0,
            vertex_mm: 12.0,
            rotation_mm: 13.0,
            power_d: 0.0,
        };
        let plot = near_centration_plot(32.0, task).unwrap();
        assert!((plot.marks[0].y - 32.0 * 25.0 / 425.0).abs() < 1e-12);
        assert!(plot.series[0].points.windows(2).all(|w| w[1].1 < w[0].1));
    }
}
