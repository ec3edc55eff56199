//! The prism a pair's eyes meet between them when looking down, over how far down.
//!
//! [`crate::trade::optics::near_prism`].

use super::write::{delta, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::eye::PerEye;
use crate::trade::optics::Rx;
use crate::trade::optics::near_prism::reading_prism;

/// The drop that is always shown, mm.
const SHOWN_MM: f64 = 20.0;
/// Steps of a curve.
const STEPS: u32 = 40;

/// Returns the vertical difference and the horizontal total over the drop, both by size, with the
/// given drop marked. Distances in millimetres; a drop above the centre is drawn as its size.
pub(crate) fn reading_prism_plot(powers: PerEye<Rx>, drop_mm: f64, inset_mm: f64) -> Plot {
    let drop_mm = drop_mm.abs();
    let at = |drop: f64| reading_prism(powers, drop, inset_mm);
    let here = at(drop_mm);
    let curve = |name: &str, of: &dyn Fn(f64) -> f64| Series {
        name: name.to_owned(),
        points: steps(0.0, SHOWN_MM.max(drop_mm), STEPS)
            .map(|drop| (drop, of(drop).abs()))
            .collect(),
    };
    Plot {
        title: "prism between the eyes when looking down".to_owned(),
        x: Axis::new("below the optical centres", "mm"),
        y: Axis::new("prism", "Δ"),
        series: vec![
            curve("vertical difference", &|d| at(d).vertical_difference_delta),
            curve("horizontal total", &|d| at(d).horizontal_total_delta),
        ],
        marks: vec![Mark {
            name: "reading point".to_owned(),
            x: drop_mm,
            y: here.vertical_difference_delta.abs(),
        }],
        numbers: vec![
            Number::new("vertical difference", delta(here.vertical_difference_delta)),
            Number::new("horizontal total", delta(here.horizontal_total_delta)),
        ],
        ..Plot::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_dioptres_apart_are_two_prism_dioptres_ten_millimetres_down() {
        let powers = PerEye {
            right: Rx::sphere(-4.0),
            left: Rx::sphere(-2.0),
        };
        let plot = reading_prism_plot(powers, 10.0, 0.0);
        assert!((plot.marks[0].y - 2.0).abs() < 1e-12);
        assert_eq!(plot.numbers[0].text, "2.00 Δ");
        assert!(plot.series[0].points[0].1.abs() < 1e-12);
    }
}
