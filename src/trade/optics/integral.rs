//! The integral of a function over the shape of a lens.

use super::outline::Outline;

/// The integral of a function over the shape: Gauss-Legendre along each radius and, between the
/// sides and corners where the edge bends, round the angle.
pub(super) fn integrate(outline: &Outline, at: impl Fn(f64, f64) -> f64) -> f64 {
    let corner = outline.corner_rad();
    let quarter = std::f64::consts::FRAC_PI_2;
    let mut sum = 0.0;
    for (quadrant, turned) in [(0.0, false), (1.0, true), (2.0, false), (3.0, true)] {
        // The shape is symmetrical: in every other quadrant the corner lies the other way round.
        let bend = if turned { quarter - corner } else { corner };
        let start = quadrant * quarter;
        for (from, to) in [
            (0.0, bend / 2.0),
            (bend / 2.0, bend),
            (bend, f64::midpoint(bend, quarter)),
            (f64::midpoint(bend, quarter), quarter),
        ] {
            for (node, weight) in nodes(start + from, start + to) {
                let (sin, cos) = node.sin_cos();
                for (r, radial) in nodes(0.0, outline.radius_mm(node)) {
                    sum += weight * radial * r * at(r * cos, r * sin);
                }
            }
        }
    }
    sum
}

/// The eight Gauss-Legendre nodes and weights of an interval (Abramowitz and Stegun, table 25.4).
fn nodes(from: f64, to: f64) -> impl Iterator<Item = (f64, f64)> {
    const HALF: [(f64, f64); 4] = [
        (0.183_434_642_495_649_8, 0.362_683_783_378_362),
        (0.525_532_409_916_329, 0.313_706_645_877_887_3),
        (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
        (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
    ];
    let (middle, half) = (f64::midpoint(from, to), (to - from) / 2.0);
    HALF.into_iter()
        .flat_map(move |(x, w)| [(middle - half * x, w * half), (middle + half * x, w * half)])
}
