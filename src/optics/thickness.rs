//! Thickness of a finished lens at its centre and round its edge, and its weight.
//!
//! Front surface a sphere of radius `1000 (n0 - 1)/base`, back surface the toroid of
//! [`super::as_worn`], edge as in [`super::outline`]; thickness is measured parallel to the optical
//! axis by exact sags. Sources: Jalie, Ophthalmic Lenses and Dispensing (sag and substance); the
//! weight is the integral of the thickness over the shape times the density.

use super::back_vertex::through_thickness_d;
use super::curves::{radius_mm, sag_of_square, true_power_d};
use super::error::within;
use super::outline::Outline;
use super::prism::Place;
use super::surface::Surface;
use super::{OpticsError, PowerMatrix, Rx};
use crate::eye::Eye;

/// Which thickness of the lens is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GivenThickness {
    /// At the optical centre, mm.
    Centre(f64),
    /// At the thinnest point, edge or centre, mm: the centre is made as thick as that takes.
    Thinnest(f64),
}

/// A lens to be made, but for its outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LensBody {
    /// Back vertex power.
    pub rx: Rx,
    /// Refractive index.
    pub index: f64,
    /// Front curve as marked at `base_index`, dioptres.
    pub base_d: f64,
    /// Index at which the front curve is marked ([`super::curves::BASE_INDEX`]).
    pub base_index: f64,
    /// Optical centre from the boxed centre.
    pub centre: Place,
    /// Which thickness is given.
    pub given: GivenThickness,
}

/// Thicknesses of a finished lens, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thickness {
    /// At the optical centre.
    pub centre_mm: f64,
    /// At the edge, level with the boxed centre, towards the nose.
    pub edge_nasal_mm: f64,
    /// At the edge, level with the boxed centre, away from the nose.
    pub edge_temporal_mm: f64,
    /// At the edge above the boxed centre.
    pub edge_top_mm: f64,
    /// At the edge below the boxed centre.
    pub edge_bottom_mm: f64,
    /// The thickest of the edge.
    pub edge_max_mm: f64,
    /// The thinnest of the edge.
    pub edge_min_mm: f64,
    /// Volume of the lens, cubic millimetres.
    pub volume_mm3: f64,
}

impl Thickness {
    /// Returns the weight in grams for a density in grams per cubic centimetre.
    #[must_use]
    pub fn weight_g(&self, density_g_cm3: f64) -> f64 {
        self.volume_mm3 / 1000.0 * density_g_cm3
    }
}

/// Where a lens's edge is looked at before the thickest and thinnest places are closed in on.
const LOOKS: usize = 120;

/// The thickness wanted is met when this near, mm.
const MET_MM: f64 = 1e-12;

/// Returns the thicknesses of a finished lens.
///
/// # Errors
/// [`OpticsError::Impossible`] when the surfaces do not reach the edge or cross before it, or light
/// would come to a focus inside; [`OpticsError::OutOfRange`] for a thickness or index no lens has.
pub fn thickness(eye: Eye, body: LensBody, outline: &Outline) -> Result<Thickness, OpticsError> {
    let edge = Edge::of(eye, body.centre, outline);
    let solid = match body.given {
        GivenThickness::Centre(mm) => {
            within(mm, "centre thicknesses", 0.1, 60.0, "mm")?;
            Solid::new(&body, mm)?
        }
        GivenThickness::Thinnest(mm) => {
            within(mm, "thinnest points", 0.0, 60.0, "mm")?;
            as_thick_as(&body, &edge, mm)?
        }
    };
    let (edge_min_mm, edge_max_mm) = edge.range(&solid)?;
    // An edge asked to be nothing thick may come out a rounding below nothing.
    if edge_min_mm < -1e-9 {
        return Err(OpticsError::impossible(format!(
            "the surfaces cross before the edge, which would be {edge_min_mm:.2} mm thick: make the centre thicker than \
             {:.2} mm",
            solid.centre_mm - edge_min_mm
        )));
    }
    let at = |x: f64, y: f64| solid.thickness_mm(x - edge.centre_x, y - edge.centre_y);
    let nasal = eye.nasal_sign() * outline.half_a_mm();
    Ok(Thickness {
        centre_mm: solid.centre_mm,
        edge_nasal_mm: at(nasal, 0.0)?,
        edge_temporal_mm: at(-nasal, 0.0)?,
        edge_top_mm: at(0.0, outline.half_b_mm())?,
        edge_bottom_mm: at(0.0, -outline.half_b_mm())?,
        edge_max_mm,
        edge_min_mm: edge_min_mm.max(0.0),
        volume_mm3: edge.integrate(at)?,
    })
}

/// A place on a cut through a lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// From the boxed centre towards the nose, mm; temporal is negative.
    pub in_mm: f64,
    /// The front surface, mm forwards of the front vertex (behind it is negative).
    pub front_mm: f64,
    /// The back surface, mm forwards of the front vertex.
    pub back_mm: f64,
}

/// Returns a finished lens cut level with the boxed centre, from the temporal to the nasal edge at
/// `steps` equal steps (at least one): its first and last thickness are the temporal and nasal edge
/// of [`thickness`].
///
/// # Errors
/// As [`thickness`].
pub fn level_cut(
    eye: Eye,
    body: LensBody,
    outline: &Outline,
    steps: u32,
) -> Result<Vec<Cut>, OpticsError> {
    let centre_mm = thickness(eye, body, outline)?.centre_mm;
    let solid = Solid::new(&body, centre_mm)?;
    let side = eye.nasal_sign();
    let steps = steps.max(1);
    (0..=steps)
        .map(|i| {
            let share = f64::from(i) / f64::from(steps);
            let in_mm = outline.half_a_mm() * (2.0 * share - 1.0);
            let (x, y) = (side * (in_mm - body.centre.in_mm), -body.centre.up_mm);
            let front_mm = -solid.front_depth(x, y)?;
            Ok(Cut {
                in_mm,
                front_mm,
                back_mm: front_mm - solid.thickness_mm(x, y)?,
            })
        })
        .collect()
}

/// The lens whose thinnest point is that thick. The back surface depends a little on the centre
/// thickness, so the centre is corrected by what is missing until nothing is.
fn as_thick_as(body: &LensBody, edge: &Edge<'_>, thinnest_mm: f64) -> Result<Solid, OpticsError> {
    let centre_on_lens = edge.outline.contains(edge.centre_x, edge.centre_y);
    let mut centre_mm = thinnest_mm;
    for _ in 0..60 {
        let solid = Solid::new(body, centre_mm)?;
        let (edge_min, _) = edge.range(&solid)?;
        let thinnest = if centre_on_lens {
            edge_min.min(centre_mm)
        } else {
            edge_min
        };
        let missing = thinnest_mm - thinnest;
        if missing.abs() < MET_MM {
            return Ok(solid);
        }
        centre_mm += missing;
    }
    Err(OpticsError::impossible(
        "no centre thickness leaves the thinnest point as thick as asked: choose a flatter curve or a smaller shape",
    ))
}

/// The two surfaces and the glass between them.
struct Solid {
    front_curvature: f64,
    back: Surface,
    centre_mm: f64,
}

impl Solid {
    fn new(body: &LensBody, centre_mm: f64) -> Result<Self, OpticsError> {
        let front_d = true_power_d(body.base_d, body.base_index, body.index)?;
        let arriving_d = through_thickness_d(front_d, centre_mm, body.index)?;
        let power = body.rx.matrix();
        let back = PowerMatrix {
            xx: power.xx - arriving_d,
            xy: power.xy,
            yy: power.yy - arriving_d,
        };
        Ok(Self {
            front_curvature: radius_mm(front_d, body.index).map_or(0.0, |r| 1.0 / r),
            back: Surface::toroid(back.scaled(1.0 / (1.0 - body.index))),
            centre_mm,
        })
    }

    /// Depth of the front surface behind its vertex, at a place measured from the optical centre.
    fn front_depth(&self, x: f64, y: f64) -> Result<f64, OpticsError> {
        sag_of_square(self.front_curvature, x * x + y * y).ok_or_else(|| too_steep(x, y))
    }

    /// Thickness at a place measured from the optical centre.
    fn thickness_mm(&self, x: f64, y: f64) -> Result<f64, OpticsError> {
        let front = self.front_depth(x, y)?;
        let back = self.back.depth(x, y).ok_or_else(|| too_steep(x, y))?;
        Ok(self.centre_mm + back - front)
    }
}

fn too_steep(x: f64, y: f64) -> OpticsError {
    OpticsError::impossible(format!(
        "the curves are too steep to reach {:.1} mm from the optical centre: choose a flatter front curve or a \
         smaller shape",
        x.hypot(y)
    ))
}

/// The edge of a lens, seen from the boxed centre, with the optical centre beside it.
struct Edge<'a> {
    outline: &'a Outline,
    centre_x: f64,
    centre_y: f64,
    points: [(f64, f64); LOOKS],
}

/// The angle of the i-th look.
#[allow(clippy::cast_precision_loss, reason = "there are few looks")]
fn look_rad(i: usize) -> f64 {
    i as f64 * std::f64::consts::TAU / LOOKS as f64
}

impl<'a> Edge<'a> {
    fn of(eye: Eye, centre: Place, outline: &'a Outline) -> Self {
        Self {
            outline,
            centre_x: eye.nasal_sign() * centre.in_mm,
            centre_y: centre.up_mm,
            points: std::array::from_fn(|i| point(outline, look_rad(i))),
        }
    }

    /// The thinnest and the thickest of the edge.
    fn range(&self, solid: &Solid) -> Result<(f64, f64), OpticsError> {
        let at = |(x, y): (f64, f64)| solid.thickness_mm(x - self.centre_x, y - self.centre_y);
        let (mut thinnest, mut thickest) = ((0, f64::INFINITY), (0, f64::NEG_INFINITY));
        for (i, &p) in self.points.iter().enumerate() {
            let t = at(p)?;
            if t < thinnest.1 {
                thinnest = (i, t);
            }
            if t > thickest.1 {
                thickest = (i, t);
            }
        }
        let low = self.close_in(thinnest, at)?;
        let high = self.close_in((thickest.0, -thickest.1), |p| at(p).map(|t| -t))?;
        Ok((low, -high))
    }

    /// The least value near a look, by golden sections between its neighbours.
    fn close_in(
        &self,
        (i, seen): (usize, f64),
        at: impl Fn((f64, f64)) -> Result<f64, OpticsError>,
    ) -> Result<f64, OpticsError> {
        const SHORTER: f64 = 0.618_033_988_749_894_9;
        let at = |angle: f64| at(point(self.outline, angle));
        let half = look_rad(1);
        let (mut low, mut high) = (look_rad(i) - half, look_rad(i) + half);
        let mut left = high - SHORTER * (high - low);
        let mut right = low + SHORTER * (high - low);
        let (mut at_left, mut at_right) = (at(left)?, at(right)?);
        let mut least = seen;
        for _ in 0..40 {
            if at_left < at_right {
                (high, right, at_right) = (right, left, at_left);
                left = high - SHORTER * (high - low);
                at_left = at(left)?;
            } else {
                (low, left, at_left) = (left, right, at_right);
                right = low + SHORTER * (high - low);
                at_right = at(right)?;
            }
            least = least.min(at_left).min(at_right);
        }
        Ok(least)
    }

    /// The integral of a function over the shape: Gauss-Legendre along each radius and, between the
    /// sides and corners where the edge bends, round the angle.
    fn integrate(
        &self,
        at: impl Fn(f64, f64) -> Result<f64, OpticsError>,
    ) -> Result<f64, OpticsError> {
        let corner = self.outline.corner_rad();
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
                    for (r, radial) in nodes(0.0, self.outline.radius_mm(node)) {
                        sum += weight * radial * r * at(r * cos, r * sin)?;
                    }
                }
            }
        }
        Ok(sum)
    }
}

fn point(outline: &Outline, angle: f64) -> (f64, f64) {
    let (sin, cos) = angle.sin_cos();
    let r = outline.radius_mm(angle);
    (r * cos, r * sin)
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

#[cfg(test)]
mod tests {
    use super::*;

    fn round_plano(base_d: f64, given: GivenThickness) -> Thickness {
        let body = LensBody {
            rx: Rx::sphere(0.0),
            index: 1.5,
            base_d,
            base_index: 1.5,
            centre: Place::default(),
            given,
        };
        thickness(
            Eye::Right,
            body,
            &Outline::from_box(40.0, 40.0, 40.0).unwrap(),
        )
        .unwrap()
    }

    #[test]
    fn a_flat_disc_weighs_its_volume_times_its_density() {
        let t = round_plano(0.0, GivenThickness::Centre(2.0));
        let volume = std::f64::consts::PI * 400.0 * 2.0;
        assert!((t.volume_mm3 - volume).abs() < 1e-9);
        assert!((t.weight_g(1.25) - volume / 800.0).abs() < 1e-9);
        assert!((t.edge_min_mm - 2.0).abs() < 1e-12 && (t.edge_max_mm - 2.0).abs() < 1e-12);
    }

    #[test]
    fn a_plano_convex_edge_is_the_centre_less_the_sag() {
        let body = LensBody {
            rx: Rx::sphere(5.0),
            index: 1.5,
            base_d: 5.0,
            base_index: 1.5,
            centre: Place::default(),
            given: GivenThickness::Thinnest(1.0),
        };
        let t = thickness(
            Eye::Left,
            body,
            &Outline::from_box(50.0, 50.0, 50.0).unwrap(),
        )
        .unwrap();
        // F'v = 5 with F1 = 5 leaves a back surface of 5 - 5/(1 - t/n F1), nearly flat.
        assert!((t.edge_min_mm - 1.0).abs() < 1e-11);
        let front = 100.0 - (10_000f64 - 625.0).sqrt();
        assert!((t.centre_mm - 1.0 - front).abs() < 0.05);
    }

    #[test]
    fn a_centre_too_thin_says_how_thick_it_must_be() {
        let body = LensBody {
            rx: Rx::sphere(8.0),
            index: 1.5,
            base_d: 10.0,
            base_index: 1.53,
            centre: Place::default(),
            given: GivenThickness::Centre(2.0),
        };
        let e = thickness(
            Eye::Left,
            body,
            &Outline::from_box(50.0, 50.0, 50.0).unwrap(),
        )
        .unwrap_err();
        assert!(
            e.to_string().contains("make the centre thicker than"),
            "{e}"
        );
    }
}
