//! Power against vertex distance: what to order where the pair sits, for the power tested.
//!
//! [`crate::trade::optics::vertex`] for each principal meridian.

use super::write::{mm, power, signed, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::optics::power::normal_axis;
use crate::trade::optics::vertex::{per_mm_d, vertex_power_d};
use crate::trade::optics::{OpticsError, Rx};

/// Distances that are always shown, mm.
const SHOWN_MM: (f64, f64) = (8.0, 20.0);
/// Steps of a curve.
const STEPS: u32 = 96;

/// Returns both principal powers over the vertex distance, the tested and the fitted one marked.
///
/// `whose` heads the picture ("right eye"); `rx` is the power tested at `tested_mm`.
///
/// # Errors
/// As [`vertex_power_d`], where a shown distance has no power.
pub(crate) fn vertex_plot(
    whose: &str,
    rx: Rx,
    tested_mm: f64,
    fitted_mm: Option<f64>,
) -> Result<Plot, OpticsError> {
    let places = [Some(tested_mm), fitted_mm];
    let ends = places.iter().flatten().fold(SHOWN_MM, |(low, high), at| {
        (low.min(at.floor()), high.max(at.ceil()))
    });
    let mut plot = Plot {
        title: format!("{whose}: power to order against vertex distance"),
        x: Axis::new("vertex distance", "mm"),
        y: Axis::new("power", "D"),
        ..Plot::default()
    };
    let rx = rx.minus_form();
    let (along, across) = rx.principal_powers();
    let mut meridians = vec![(along, rx.axis_deg)];
    if rx.cylinder_d < 0.0 {
        meridians.push((across, normal_axis(rx.axis_deg + 90.0)));
    }
    for (tested_d, meridian_deg) in meridians {
        let at = |to: f64| vertex_power_d(tested_d, tested_mm, to);
        let points = steps(ends.0, ends.1, STEPS)
            .map(|to| at(to).map(|d| (to, d)))
            .collect::<Result<_, _>>()?;
        let along = format!("along {meridian_deg:.0}°");
        plot.marks.push(Mark {
            name: "tested".to_owned(),
            x: tested_mm,
            y: tested_d,
        });
        if let Some(to) = fitted_mm {
            let d = at(to)?;
            plot.marks.push(Mark {
                name: "fitted".to_owned(),
                x: to,
                y: d,
            });
            plot.numbers.push(Number::new(
                format!("{along}, change"),
                signed(d - tested_d, 3, "D"),
            ));
        }
        plot.series.push(Series {
            name: along,
            points,
        });
    }
    let (where_mm, there) = match fitted_mm {
        Some(to) => (to, crate::trade::optics::vertex::vertex(rx, tested_mm, to)?),
        None => (tested_mm, rx),
    };
    // A lens further away does more at the eye, so less is ordered: the curve falls by F^2/1000.
    plot.numbers.push(Number::new(
        format!("for 1 mm more, at {}", mm(where_mm)),
        signed(-per_mm_d(there), 3, "D"),
    ));
    plot.numbers.push(Number::new(
        "strongest power there",
        power(there.strongest_d()),
    ));
    Ok(plot)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_lie_on_the_curves_formula_and_the_slope_is_the_number_beside() {
        let rx = Rx::new(-10.0, -2.0, 30.0);
        let plot = vertex_plot("right eye", rx, 12.0, Some(14.0)).unwrap();
        assert_eq!(plot.series.len(), 2);
        let fitted: Vec<_> = plot.marks.iter().filter(|m| m.name == "fitted").collect();
        for (mark, tested) in fitted.iter().zip([-10.0, -12.0]) {
            let expected = vertex_power_d(tested, 12.0, 14.0).unwrap();
            assert!((mark.y - expected).abs() < 1e-12 && (mark.x - 14.0).abs() < 1e-12);
        }
        // The curve's own slope round the fitted point, by differences.
        let near: Vec<_> = plot.series[1]
            .points
            .iter()
            .filter(|p| (p.0 - 14.0).abs() < 0.2)
            .collect();
        let (first, last) = (near[0], near[near.len() - 1]);
        let slope = (last.1 - first.1) / (last.0 - first.0);
        let there = Rx::new(fitted[0].y, fitted[1].y - fitted[0].y, 30.0);
        assert!((slope + per_mm_d(there)).abs() < 1e-5, "{slope}");
        let beside = plot
            .numbers
            .iter()
            .find(|n| n.label.starts_with("for 1 mm"));
        assert_eq!(beside.unwrap().text, signed(slope, 3, "D"));
    }

    #[test]
    fn a_sphere_is_one_curve_and_a_far_distance_widens_the_picture() {
        let plot = vertex_plot("left eye", Rx::sphere(6.0), 12.0, Some(22.5)).unwrap();
        assert_eq!(plot.series.len(), 1);
        assert!((plot.series[0].points.last().unwrap().0 - 23.0).abs() < 1e-9);
    }
}
