//! Spectacle magnification over the centre thickness, 1 to 10 mm.
//!
//! [`crate::trade::optics::magnification`].

use super::write::{mm, signed, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::optics::magnification::{WornForm, magnification};
use crate::trade::optics::{OpticsError, Rx};

/// Steps of a curve.
const STEPS: u32 = 60;

/// Returns how much larger the image is, in percent, over the centre thickness; the given form is
/// marked. The strongest principal meridian is shown.
///
/// # Errors
/// As [`magnification`].
pub(crate) fn magnification_plot(rx: Rx, form: WornForm) -> Result<Plot, OpticsError> {
    let percent = |form: WornForm| -> Result<f64, OpticsError> {
        let m = magnification(rx, form)?;
        let (along, across) = rx.principal_powers();
        Ok(if across.abs() > along.abs() {
            m.across_axis.percent
        } else {
            m.along_axis.percent
        })
    };
    let here = percent(form)?;
    let axis = Axis::new("centre thickness", "mm");
    let now = form.centre_mm;
    let changed = |centre_mm: f64| WornForm { centre_mm, ..form };
    let points = steps(f64::min(1.0, now), f64::max(10.0, now), STEPS)
        .map(|x| percent(changed(x)).map(|y| (x, y)))
        .collect::<Result<_, _>>()?;
    let shape = magnification(rx, form)?.shape;
    Ok(Plot {
        title: format!("image size over the {}", axis.label),
        x: axis,
        y: Axis::new("larger by", "%"),
        series: vec![Series {
            name: "strongest meridian".to_owned(),
            points,
        }],
        marks: vec![Mark {
            name: "this lens".to_owned(),
            x: now,
            y: here,
        }],
        numbers: vec![
            Number::new("image size", signed(here, 2, "%")),
            Number::new("of it by the shape", signed((shape - 1.0) * 100.0, 2, "%")),
            Number::new("vertex distance", mm(form.vertex_mm)),
        ],
        ..Plot::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flat_front_gives_no_shape_magnification_and_thickness_adds_it() {
        let form = WornForm {
            index: 1.5,
            front_d: 8.0,
            centre_mm: 5.0,
            vertex_mm: 12.0,
            pupil_mm: 3.0,
        };
        let rx = Rx::sphere(5.0);
        let flat = magnification_plot(
            rx,
            WornForm {
                front_d: 0.0,
                ..form
            },
        )
        .unwrap();
        let power_only = (1.0 / (1.0 - 0.015 * 5.0) - 1.0) * 100.0;
        assert!((flat.marks[0].y - power_only).abs() < 1e-9);
        let thick = magnification_plot(rx, form).unwrap();
        let ys: Vec<f64> = thick.series[0].points.iter().map(|p| p.1).collect();
        assert!(ys.windows(2).all(|w| w[1] > w[0]));
        let direct = magnification(rx, form).unwrap().along_axis.percent;
        assert!((thick.marks[0].y - direct).abs() < 1e-12);
    }
}
