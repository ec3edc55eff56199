//! Prism against decentration: the prism of a displaced lens, and the limit of the standard.
//!
//! Prentice's rule with the power matrix ([`crate::trade::optics::prism`]); the limits are those that
//! [`compare`] itself applies to the pair.

use super::write::{delta, mm, steps};
use super::{Axis, Limit, Mark, Number, Plot, Series};
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::prism::{LensPoint, Prism, prism_at};
use crate::trade::optics::{OpticsError, Rx};
use crate::trade::tolerance::{LensKind, Options, PairValues, Quantity, Standard, compare};

/// The pair and the rules it is held to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PrismCase {
    /// The ordered powers and prisms; places are not needed.
    pub ordered: PairValues,
    /// The standard to keep.
    pub standard: Standard,
    /// The kind of lens.
    pub kind: LensKind,
    /// How the standard is applied.
    pub options: Options,
}

/// Which way a lens is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum PrismDirection {
    /// Towards the nose.
    In,
    /// Upwards.
    Up,
}

/// The least and the most that is shown, mm.
const SHOWN_MM: (f64, f64) = (2.0, 12.0);
/// Steps of a curve.
const STEPS: u32 = 48;
/// Prism smaller than this for a millimetre counts as zero, prism dioptres.
const NONE_DELTA: f64 = 1e-9;

/// Returns the prism that one eye meets when its lens is a distance off the ordered place, in its
/// horizontal and vertical part, with the pair's limits and the millimetres that meet them.
///
/// # Errors
/// [`OpticsError::Impossible`] when the eye has no lens or the lens no meaning.
pub(crate) fn prism_plot(
    case: &PrismCase,
    eye: Eye,
    way: PrismDirection,
) -> Result<Plot, OpticsError> {
    let rx = power(case, eye)?;
    let parts = [
        ("horizontal", Quantity::PrismHorizontal),
        ("vertical", Quantity::PrismVertical),
    ];
    let one = moved(eye, rx, way, 1.0);
    let mut met = Vec::new();
    for (name, what) in parts {
        let per_mm = part(one, what).abs();
        let limit = prism_limit(case, eye, what);
        let at = limit.filter(|_| per_mm > NONE_DELTA).map(|l| l / per_mm);
        met.push((name, what, per_mm, limit, at));
    }
    let first = met.iter().filter_map(|m| m.4).reduce(f64::min);
    let far = first
        .map_or(SHOWN_MM.1, |mm| (mm * 1.6).ceil())
        .clamp(SHOWN_MM.0, SHOWN_MM.1);
    let (axis, moves) = match way {
        PrismDirection::In => ("lens off across, in or out", "across"),
        PrismDirection::Up => ("lens off up or down", "up or down"),
    };
    let mut plot = Plot {
        title: format!(
            "{eye} eye: prism when the lens is off {moves}, {}",
            case.standard.name()
        ),
        x: Axis::new(axis, "mm"),
        y: Axis::new("prism", "Δ"),
        ..Plot::default()
    };
    for (name, what, per_mm, limit, at) in met {
        // A part that is zero (no oblique cylinder) is shown as a number, not drawn on the axis.
        if per_mm > NONE_DELTA {
            plot.series.push(Series {
                name: format!("{name} prism"),
                points: steps(0.0, far, STEPS)
                    .map(|mm| (mm, part(moved(eye, rx, way, mm), what).abs()))
                    .collect(),
            });
            // A limit that is met far outside the picture would only press the curves flat.
            if let (Some(x), Some(y)) = (at.filter(|x| *x <= far), limit) {
                plot.limits.push(Limit {
                    name: format!("{name} limit of the pair"),
                    y,
                });
                plot.marks.push(Mark {
                    name: format!("{name} limit met"),
                    x,
                    y,
                });
            }
        }
        plot.numbers
            .push(Number::new(format!("{name}, 1 mm off"), delta(per_mm)));
        let ends = match (limit, at) {
            (None, _) => Some("not known for this pair".to_owned()),
            (Some(y), None) => Some(format!("{} is never met", delta(y))),
            (Some(y), Some(at)) if at > far => Some(format!("{} met at {}", delta(y), mm(at))),
            (Some(_), Some(_)) => None,
        };
        if let Some(ends) = ends {
            plot.numbers
                .push(Number::new(format!("{name} limit"), ends));
        }
    }
    if let Some(limit) = case
        .standard
        .centration_limit(case.kind, rx.matrix().xx)
        .filter(|_| way == PrismDirection::In)
    {
        plot.numbers
            .push(Number::new("centration limit, each eye", mm(limit.value)));
    }
    Ok(plot)
}

fn power(case: &PrismCase, eye: Eye) -> Result<Rx, OpticsError> {
    let values = case.ordered.get(eye).ok_or_else(|| {
        OpticsError::impossible(format!("no power is ordered for the {eye} eye: enter it"))
    })?;
    values
        .minus_form()
        .map_err(|e| OpticsError::impossible(e.to_string()))
}

/// The prism met at the ordered point when the lens sits so far off it.
fn moved(eye: Eye, rx: Rx, way: PrismDirection, by_mm: f64) -> Prism {
    let place = match way {
        PrismDirection::In => LensPoint {
            in_mm: -by_mm,
            up_mm: 0.0,
        },
        PrismDirection::Up => LensPoint {
            in_mm: 0.0,
            up_mm: -by_mm,
        },
    };
    prism_at(eye, rx, place)
}

fn part(prism: Prism, what: Quantity) -> f64 {
    if what == Quantity::PrismVertical {
        prism.base_up_delta
    } else {
        prism.base_in_delta
    }
}

/// The limit that the comparison prints for the pair's prism, asked by giving one eye a prism.
fn prism_limit(case: &PrismCase, eye: Eye, what: Quantity) -> Option<f64> {
    let ordered = PerEye::from_fn(|e| {
        let mut values = (*case.ordered.get(e))?;
        values.cd_mm = None;
        values.height_mm = None;
        values.base_in_delta = values.base_in_delta.or(Some(0.0));
        values.base_up_delta = values.base_up_delta.or(Some(0.0));
        Some(values)
    });
    let mut found = ordered;
    if let Some(values) = found.get_mut(eye) {
        values.base_in_delta = values.base_in_delta.map(|d| d + 0.1);
        values.base_up_delta = values.base_up_delta.map(|d| d + 0.1);
    }
    let report = compare(case.standard, case.kind, &ordered, &found, case.options).ok()?;
    let line = report.lines.iter().find(|l| l.what == what)?;
    Some(line.limit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::tolerance::EyeValues;

    fn case(standard: Standard) -> PrismCase {
        PrismCase {
            ordered: PerEye {
                right: Some(EyeValues::of(Rx::new(-6.0, -1.5, 30.0))),
                left: Some(EyeValues::of(Rx::new(-5.0, -1.0, 150.0))),
            },
            standard,
            kind: LensKind::SingleVision,
            options: Options::default(),
        }
    }

    /// Whether the pair's prism lines stay within print when the eye meets this prism too much.
    fn within(case: &PrismCase, eye: Eye, prism: Prism) -> bool {
        let ordered = case.ordered.map(|_, v| {
            v.map(|v| EyeValues {
                base_in_delta: Some(0.0),
                base_up_delta: Some(0.0),
                ..v
            })
        });
        let mut found = ordered;
        if let Some(values) = found.get_mut(eye) {
            values.base_in_delta = Some(prism.base_in_delta);
            values.base_up_delta = Some(prism.base_up_delta);
        }
        let report = compare(case.standard, case.kind, &ordered, &found, case.options).unwrap();
        let prisms = [Quantity::PrismHorizontal, Quantity::PrismVertical];
        report
            .lines
            .iter()
            .filter(|l| prisms.contains(&l.what))
            .all(crate::trade::tolerance::ToleranceLine::within_print)
    }

    #[test]
    fn the_comparison_passes_just_inside_the_marked_millimetres_and_fails_just_outside() {
        for standard in Standard::ALL {
            for eye in Eye::BOTH {
                for way in [PrismDirection::In, PrismDirection::Up] {
                    let case = case(standard);
                    let rx = case.ordered.get(eye).unwrap().minus_form().unwrap();
                    let plot = prism_plot(&case, eye, way).unwrap();
                    let met = plot.marks.iter().map(|m| m.x).fold(f64::INFINITY, f64::min);
                    assert!(met.is_finite(), "{standard:?} {eye} {way:?}");
                    assert!(within(&case, eye, moved(eye, rx, way, met * 0.999)));
                    assert!(!within(&case, eye, moved(eye, rx, way, met * 1.001)));
                }
            }
        }
    }

    #[test]
    fn ten_times_the_power_leaves_a_tenth_of_the_millimetres_under_one_limit() {
        let mut numbers = Vec::new();
        for d in [-1.0, -3.0] {
            let of = |d| Some(EyeValues::of(Rx::sphere(d)));
            let mut case = case(Standard::Iso21987_2017);
            case.ordered = PerEye {
                right: of(d),
                left: of(d),
            };
            let plot = prism_plot(&case, Eye::Right, PrismDirection::In).unwrap();
            // Prism at one millimetre is a tenth of the power.
            let at_one = part(
                moved(Eye::Right, Rx::sphere(d), PrismDirection::In, 1.0),
                Quantity::PrismHorizontal,
            );
            assert!((at_one.abs() - d.abs() / 10.0).abs() < 1e-12);
            numbers.push(plot.limits[0].y / (d.abs() / 10.0));
        }
        assert!(numbers[1] < numbers[0]);
    }

    #[test]
    fn an_eye_without_a_power_is_said() {
        let mut case = case(Standard::Iso21987_2017);
        case.ordered.left = None;
        let e = prism_plot(&case, Eye::Left, PrismDirection::In).unwrap_err();
        assert!(e.to_string().contains("left eye"), "{e}");
    }
}
