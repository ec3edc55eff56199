//! How far prescribed prism moves the line of sight, over the amount.
//!
//! [`crate::trade::optics::prism_shift`].

use super::write::steps;
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::optics::prism_shift::sight_shift_mm;

/// The amount that is always shown, prism dioptres.
const SHOWN_DELTA: f64 = 10.0;

/// Returns the shift in the lens plane over the amount of prism, with the given amount marked;
/// `behind_mm` from the lens to the eye's centre of rotation.
pub(crate) fn prism_shift_plot(amount_delta: f64, behind_mm: f64) -> Plot {
    let at = |delta: f64| sight_shift_mm(delta, behind_mm, 0.0);
    let here = at(amount_delta);
    Plot {
        title: "shift of the line of sight over the prism".to_owned(),
        x: Axis::new("prism", "Δ"),
        y: Axis::new("shift away from the base", "mm"),
        series: vec![Series {
            name: "shift".to_owned(),
            points: steps(0.0, SHOWN_DELTA.max(amount_delta), 20)
                .map(|delta| (delta, at(delta)))
                .collect(),
        }],
        marks: vec![Mark {
            name: "this prism".to_owned(),
            x: amount_delta,
            y: here,
        }],
        numbers: vec![Number::new("shift", format!("{here:.2} mm"))],
        ..Plot::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_prism_dioptres_move_it_a_millimetre() {
        let plot = prism_shift_plot(4.0, 25.5);
        assert!((plot.marks[0].y - 1.02).abs() < 1e-12);
        assert_eq!(plot.numbers[0].text, "1.02 mm");
    }
}
