//! Power over the meridian, the principal meridians marked.
//!
//! [`crate::trade::optics::meridian`]: a section's power, `S + C sin^2`.

use super::write::{power, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::optics::Rx;
use crate::trade::optics::meridian::meridian_power_d;
use crate::trade::optics::power::normal_axis;

/// Steps of a curve, one each 2 degrees.
const STEPS: u32 = 90;

/// Returns the power over the meridian of one or several named powers.
pub(crate) fn meridian_plot(title: impl Into<String>, powers: &[(String, Rx)]) -> Plot {
    let mut plot = Plot {
        title: title.into(),
        x: Axis::new("meridian", "°"),
        y: Axis::new("power", "D"),
        ..Plot::default()
    };
    for (name, rx) in powers {
        plot.series.push(Series {
            name: name.clone(),
            points: steps(0.0, 180.0, STEPS)
                .map(|deg| (deg, meridian_power_d(*rx, deg)))
                .collect(),
        });
        let principal = rx.minus_form();
        if principal.cylinder_d < 0.0 {
            let (along, across) = principal.principal_powers();
            let across_deg = normal_axis(principal.axis_deg + 90.0);
            for (part, x, y) in [
                ("along its axis", principal.axis_deg, along),
                ("across its axis", across_deg, across),
            ] {
                plot.marks.push(Mark {
                    name: format!("{name} {part}"),
                    x,
                    y,
                });
            }
        } else {
            plot.numbers.push(Number::new(
                format!("{name} in every meridian"),
                power(principal.sphere_d),
            ));
        }
    }
    plot
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_marks_are_the_highest_and_the_lowest_of_the_curve() {
        for rx in [Rx::new(2.0, -3.0, 40.0), Rx::new(-1.0, 2.5, 170.0)] {
            let plot = meridian_plot("t", &[("one".to_owned(), rx)]);
            let ys = || plot.series[0].points.iter().map(|p| p.1);
            let high = ys().fold(f64::NEG_INFINITY, f64::max);
            let low = ys().fold(f64::INFINITY, f64::min);
            assert!((plot.marks[0].y - high).abs() < 1e-12);
            assert!((plot.marks[1].y - low).abs() < 1e-12);
        }
    }

    #[test]
    fn both_cylinder_forms_draw_one_curve() {
        let a = meridian_plot("t", &[("a".to_owned(), Rx::new(-1.0, -0.75, 10.0))]);
        let b = meridian_plot("t", &[("a".to_owned(), Rx::new(-1.75, 0.75, 100.0))]);
        for (p, q) in a.series[0].points.iter().zip(&b.series[0].points) {
            assert!((p.1 - q.1).abs() < 1e-12);
        }
    }

    #[test]
    fn a_sphere_has_no_principal_meridians_to_mark() {
        let plot = meridian_plot("t", &[("one".to_owned(), Rx::sphere(1.0))]);
        assert!(plot.marks.is_empty());
        assert_eq!(plot.numbers[0].text, "+1.00 D");
    }
}
