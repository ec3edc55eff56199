//! How much the images of a pair differ, over the direction.
//!
//! [`crate::trade::optics::aniseikonia`].

use super::write::{signed, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::optics::aniseikonia::Aniseikonia;

/// Steps of a curve, each of 3 degrees.
const STEPS: u32 = 60;

/// Returns right image size less left, percent points, over the direction in degrees; the worst is marked.
pub(crate) fn aniseikonia_plot(found: Aniseikonia) -> Plot {
    let other = found.along_180_percent + found.along_90_percent - found.worst_percent;
    let at = |deg: f64| {
        let cos = (deg - found.worst_meridian_deg).to_radians().cos();
        other + (found.worst_percent - other) * cos * cos
    };
    Plot {
        title: "right image larger than left, over the direction".to_owned(),
        x: Axis::new("direction", "°"),
        y: Axis::new("larger by", "%"),
        series: vec![Series {
            name: "right less left".to_owned(),
            points: steps(0.0, 180.0, STEPS).map(|deg| (deg, at(deg))).collect(),
        }],
        marks: vec![Mark {
            name: "worst".to_owned(),
            x: found.worst_meridian_deg,
            y: found.worst_percent,
        }],
        numbers: vec![
            Number::new("worst", signed(found.worst_percent, 2, "%")),
            Number::new("along", format!("{:.0}°", found.worst_meridian_deg)),
        ],
        ..Plot::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_goes_through_the_horizontal_and_the_vertical_value() {
        // Principal values 4 along 30 degrees and 1 across it.
        let found = Aniseikonia {
            along_180_percent: 3.25,
            along_90_percent: 1.75,
            worst_percent: 4.0,
            worst_meridian_deg: 30.0,
        };
        let points = &aniseikonia_plot(found).series[0].points;
        let at = |deg: f64| points.iter().find(|p| (p.0 - deg).abs() < 1e-9).unwrap().1;
        assert!((at(0.0) - 3.25).abs() < 1e-9 && (at(180.0) - 3.25).abs() < 1e-9);
        assert!((at(90.0) - 1.75).abs() < 1e-9);
        assert!((at(30.0) - 4.0).abs() < 1e-9 && (at(120.0) - 1.0).abs() < 1e-9);
    }
}
