//! One eye's prism as an arrow from the centre towards its base, as seen facing the wearer.

use super::write::{delta, steps};
use super::{Axis, Mark, Number, Plot, Series};
use crate::trade::eye::Eye;
use crate::trade::optics::prism::{CompoundPrism, Prism, compound};

/// Steps of the circle.
const STEPS: u32 = 72;
/// Room round the circle, as a share of its radius.
const ROOM: f64 = 1.25;

/// Returns the prism as an arrow, with its two parts, the circle of its amount and the four
/// directions named for the eye.
pub(crate) fn prism_compass(eye: Eye, prism: Prism) -> Plot {
    let CompoundPrism {
        amount_delta,
        base_deg,
    } = compound(eye, prism);
    let radius = if amount_delta > 0.0 {
        amount_delta
    } else {
        1.0
    };
    let side = eye.nasal_sign();
    let tip = (side * prism.base_in_delta, prism.base_up_delta);
    let (right, left) = match eye {
        Eye::Right => ("in", "out"),
        Eye::Left => ("out", "in"),
    };
    let word = |name: String, x: f64, y: f64| Mark {
        name,
        x: x * radius,
        y: y * radius,
    };
    let mut plot = Plot {
        title: format!("{eye} eye: base of the prism, facing the wearer"),
        x: Axis::new(format!("base {left} (left) or base {right} (right)"), "Δ"),
        y: Axis::new("base down or up", "Δ"),
        is_map: true,
        words: vec![
            word(format!("0° {right}"), ROOM, 0.0),
            word("90° up".to_owned(), 0.0, ROOM),
            word(format!("180° {left}"), -ROOM, 0.0),
            word("270° down".to_owned(), 0.0, -ROOM),
        ],
        ..Plot::default()
    };
    if amount_delta > 0.0 {
        plot.series = vec![
            Series {
                name: "prism, from the centre to its base".to_owned(),
                points: vec![(0.0, 0.0), tip],
            },
            Series {
                name: "its two parts".to_owned(),
                points: vec![(0.0, 0.0), (tip.0, 0.0), tip],
            },
        ];
        plot.marks.push(Mark {
            name: "base".to_owned(),
            x: tip.0,
            y: tip.1,
        });
    }
    plot.series.push(Series {
        name: format!("every base of {radius:.2} Δ"),
        points: steps(0.0, 360.0, STEPS)
            .map(|deg| {
                let (sin, cos) = deg.to_radians().sin_cos();
                (radius * cos, radius * sin)
            })
            .collect(),
    });
    let way = |value: f64, plus: &str, minus: &str| {
        let base = if value < 0.0 { minus } else { plus };
        format!("{} base {base}", delta(value))
    };
    plot.numbers = vec![
        Number::new(
            "prism",
            format!("{} base {base_deg:.0}°", delta(amount_delta)),
        ),
        Number::new("across", way(prism.base_in_delta, "in", "out")),
        Number::new("up or down", way(prism.base_up_delta, "up", "down")),
    ];
    plot
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base_in_points_right_for_the_right_eye_and_left_for_the_left() {
        let prism = Prism {
            base_in_delta: 3.0,
            base_up_delta: -4.0,
        };
        for (eye, x) in [(Eye::Right, 3.0), (Eye::Left, -3.0)] {
            let plot = prism_compass(eye, prism);
            let tip = &plot.marks[0];
            assert!((tip.x - x).abs() < 1e-12 && (tip.y + 4.0).abs() < 1e-12);
            assert!(plot.numbers[0].text.starts_with("5.00 Δ"));
            assert!(
                plot.series[2]
                    .points
                    .iter()
                    .all(|p| (p.0.hypot(p.1) - 5.0).abs() < 1e-9)
            );
        }
        assert_eq!(prism_compass(Eye::Right, prism).words[0].name, "0° in");
        assert_eq!(prism_compass(Eye::Left, prism).words[0].name, "0° out");
    }

    #[test]
    fn no_prism_has_no_arrow() {
        let plot = prism_compass(Eye::Left, Prism::default());
        assert!(plot.marks.is_empty());
        assert_eq!(plot.series.len(), 1);
    }
}
