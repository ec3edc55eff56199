//! Spectacle magnification over the centre thickness and over the front curve.
//!
//! [`crate::trade::optics::magnification`].

use super::write::{mm, signed, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::optics::magnification::{WornForm, magnification};
use crate::trade::optics::{OpticsError, Rx};

/// What of the form is changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Over {
    /// Centre thickness, 1 to 10 mm.
    Centre,
    /// True power of the front surface, 0 to 14 D.
    Front,
}

/// Steps of a curve.
const STEPS: u32 = 60;

/// Returns how much larger the image is, in percent, over one part of the form; the given form is
/// marked. The strongest principal meridian is shown.
///
/// # Errors
/// As [`magnification`].
pub(crate) fn magnification_plot(rx: Rx, form: WornForm, over: Over) -> Result<Plot, OpticsError> {
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
    let (axis, range, now) = match over {
        Over::Centre => (
            Axis::new("centre thickness", "mm"),
            (1.0, 10.0),
            form.centre_mm,
        ),
        Over::Front => (Axis::new("front surface", "D"), (0.0, 14.0), form.front_d),
    };
    let changed = |x: f64| match over {
        Over::Centre => WornForm {
            centre_mm: x,
            ..form
        },
        Over::Front => WornForm { front_d: x, ..form },
    };
    let points = steps(f64::min(range.0, now), f64::max(range.1, now), STEPS)
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
        let over = |o| magnification_plot(rx, form, o).unwrap();
        let flat = over(Over::Front).series[0].points[0];
        let power_only = (1.0 / (1.0 - 0.015 * 5.0) - 1.0) * 100.0;
        assert!(flat.0.abs() < 1e-12 && (flat.1 - power_only).abs() < 1e-9);
        let thick = over(Over::Centre);
        let ys: Vec<f64> = thick.series[0].points.iter().map(|p| p.1).collect();
        assert!(ys.windows(2).all(|w| w[1] > w[0]));
        let direct = magnification(rx, form).unwrap().along_axis.percent;
        assert!((thick.marks[0].y - direct).abs() < 1e-12);
    }
}
