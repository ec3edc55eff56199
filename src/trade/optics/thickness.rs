//! Thickness of a finished lens at its centre and round its edge, and its weight.
//!
//! Front surface a sphere of radius `1000 (n0 - 1)/base`, back surface the toroid of
//! [`super::as_worn`], edge as in [`super::outline`]; thickness is measured parallel to the optical
//! axis by exact sags. Prescribed prism is a wedge about the point looked through, first order: thickness
//! grows by `P/(100 (n - 1))` mm for each mm towards the base. A real back surface is turned, not
//! sheared: the thick edge of a minus lens comes out 0.1 to 0.2 mm thicker than here at 2 prism
//! dioptres, 0.2 to 0.5 at 4, 0.5 to 1.1 at 8 (plus lenses under 0.15). Sources: Jalie, Ophthalmic Lenses and Dispensing (sag and substance); the
//! weight is the integral of the thickness over the shape times the density.

use super::back_vertex::through_thickness_d;
use super::curves::{radius_mm, sag_of_square, true_power_d};
use super::edge::{Edge, Extreme, Looks, Slope};
use super::error::within;
use super::integral::integrate;
use super::outline::Outline;
use super::prism::{LensPoint, Prism};
use super::surface::Surface;
use super::thinnest::least_within;
use super::{OpticsError, PowerMatrix, Rx};
use crate::trade::eye::Eye;

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
    /// The point looked through from the boxed centre; without prism it is the optical centre.
    pub centre: LensPoint,
    /// Which thickness is given.
    pub given: GivenThickness,
}

/// Thicknesses of a finished lens, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thickness {
    /// At the point looked through; without prism that is the optical centre.
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
    lens: Lens,
}

impl Thickness {
    /// Returns the volume of the lens, cubic millimetres. Worked out when asked for: it takes many
    /// times longer than all the rest, and few want it.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        integrate(&self.lens.outline, |x, y| {
            // Surfaces that reach the whole edge reach all within it.
            self.lens.thickness_mm(x, y).unwrap_or(0.0)
        })
    }

    /// Returns the thickness of the edge in a direction from the boxed centre, mm: degrees
    /// anticlockwise as seen facing the wearer, 0 to the observer's right.
    ///
    /// # Errors
    /// None for a lens that exists: its surfaces reach the whole edge.
    pub fn edge_at_mm(&self, meridian_deg: f64) -> Result<f64, OpticsError> {
        let angle = meridian_deg.to_radians();
        let (sin, cos) = angle.sin_cos();
        let r = self.lens.outline.radius_mm(angle);
        self.lens.thickness_mm(r * cos, r * sin)
    }

    /// Returns the weight in grams for a density in grams per cubic centimetre.
    #[must_use]
    pub fn weight_g(&self, density_g_cm3: f64) -> f64 {
        self.volume_mm3() / 1000.0 * density_g_cm3
    }
}

/// Greatest difference from the wanted thickness at which the search ends, mm.
const MET_MM: f64 = 1e-12;

/// Greatest difference from the wanted thickness with prism, where the thinnest place may be inside, mm.
const MET_INSIDE_MM: f64 = 1e-10;

/// Returns the thicknesses of a finished lens without prescribed prism.
///
/// # Errors
/// As [`thickness_with_prism`].
pub fn thickness(eye: Eye, body: LensBody, outline: &Outline) -> Result<Thickness, OpticsError> {
    thickness_with_prism(eye, body, Prism::default(), outline)
}

/// Returns the thicknesses of a finished lens with prescribed prism ground in.
///
/// # Errors
/// [`OpticsError::Impossible`] when the surfaces do not reach the edge or cross before it, or light
/// would come to a focus inside; [`OpticsError::OutOfRange`] for a thickness or index no lens has.
pub(crate) fn thickness_with_prism(
    eye: Eye,
    body: LensBody,
    prism: Prism,
    outline: &Outline,
) -> Result<Thickness, OpticsError> {
    let edge = Edge::of(outline);
    let rise = 100.0 * (body.index - 1.0);
    let wedge = [
        eye.nasal_sign() * prism.base_in_delta / rise,
        prism.base_up_delta / rise,
    ];
    let has_prism = wedge.iter().any(|w| w.abs() > 0.0);
    let from = (eye.nasal_sign() * body.centre.in_mm, body.centre.up_mm);
    let made = |centre_mm| {
        Ok::<_, OpticsError>(Lens {
            solid: Solid::new(&body, centre_mm)?,
            outline: *outline,
            centre: from,
            wedge,
        })
    };
    let (lens, looks, thinnest) = match body.given {
        GivenThickness::Centre(mm) => {
            within(mm, "centre thicknesses", 0.1, 60.0, "mm")?;
            seen(&edge, made(mm)?)?
        }
        GivenThickness::Thinnest(mm) => {
            within(mm, "thinnest points", 0.0, 60.0, "mm")?;
            if has_prism {
                as_thick_within(&edge, made, mm)?
            } else {
                as_thick_as(&edge, made, mm)?
            }
        }
    };
    let edge_min_mm = thinnest.value;
    if has_prism {
        let inside_mm = lens.least_within()?;
        if inside_mm < -1e-9 {
            return Err(OpticsError::impossible(format!(
                "the surfaces cross within the edge, where the lens would be {inside_mm:.2} mm thick: make the point looked \
                 through thicker than {:.2} mm",
                lens.solid.centre_mm - inside_mm
            )));
        }
    }
    let edge_max_mm = edge.greatest(&looks, |x, y| lens.slope(x, y))?.value;
    // An edge of 0 mm may come out below 0 by a rounding error.
    if edge_min_mm < -1e-9 {
        return Err(OpticsError::impossible(format!(
            "the surfaces cross before the edge, which would be {edge_min_mm:.2} mm thick: make the centre thicker than \
             {:.2} mm",
            lens.solid.centre_mm - edge_min_mm
        )));
    }
    let nasal = eye.nasal_sign() * outline.half_a_mm();
    Ok(Thickness {
        centre_mm: lens.solid.centre_mm,
        edge_nasal_mm: lens.thickness_mm(nasal, 0.0)?,
        edge_temporal_mm: lens.thickness_mm(-nasal, 0.0)?,
        edge_top_mm: lens.thickness_mm(0.0, outline.half_b_mm())?,
        edge_bottom_mm: lens.thickness_mm(0.0, -outline.half_b_mm())?,
        edge_max_mm,
        edge_min_mm: edge_min_mm.max(0.0),
        lens,
    })
}

/// Returns an upper limit of the edge thickness, mm, where one is cheap to find: for a lens that is
/// thinnest at its centre, or whose centre thickness is given. Otherwise `None`.
///
/// The toroid lies in front of the sphere of its greatest curvature, and the edge nowhere farther
/// from the optical centre than half the longest diameter and the decentration together. It spares the
/// whole calculation where only a limit is checked, since few edges are too thick.
#[must_use]
pub fn edge_at_most_mm(body: &LensBody, (a_mm, b_mm, ed_mm): (f64, f64, f64)) -> Option<f64> {
    let (centre_mm, is_least) = match body.given {
        GivenThickness::Centre(mm) => (mm, false),
        GivenThickness::Thinnest(mm) => (mm, true),
    };
    let solid = Solid::new(body, centre_mm).ok()?;
    let (most, least) = solid.back.curvatures();
    let (x, y) = (
        2.0 * body.centre.in_mm / a_mm,
        2.0 * body.centre.up_mm / b_mm,
    );
    // The thinnest place is the centre where the back is the steeper surface all round and the
    // centre lies on the lens, that is, within the ellipse that fills its box.
    if is_least && (least < solid.front_curvature || x * x + y * y > 1.0) {
        return None;
    }
    let reach = ed_mm / 2.0 + body.centre.in_mm.hypot(body.centre.up_mm);
    let square = reach * reach;
    let back = sag_of_square(most, square)?;
    let front = sag_of_square(solid.front_curvature, square)?;
    Some(centre_mm + f64::max(back - front, 0.0))
}

/// A place on a cut through a lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Cut {
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
pub(crate) fn level_cut(
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

/// A lens with the samples of its edge and its thinnest point.
type Seen = (Lens, Looks, Extreme);

fn seen(edge: &Edge<'_>, lens: Lens) -> Result<Seen, OpticsError> {
    let at = |x, y| lens.slope(x, y);
    let looks = edge.look(at)?;
    let thinnest = edge.least(&looks, at)?;
    Ok((lens, looks, thinnest))
}

/// Returns the lens whose thinnest point is `thinnest_mm` thick. The back surface depends a little on
/// the centre thickness, so the centre is corrected by the difference until there is none.
fn as_thick_as(
    edge: &Edge<'_>,
    made: impl Fn(f64) -> Result<Lens, OpticsError>,
    thinnest_mm: f64,
) -> Result<Seen, OpticsError> {
    let mut centre_mm = thinnest_mm;
    // An optical centre outside the shape is no point of the lens; its thickness may come out negative.
    let made = |centre_mm: f64| {
        if centre_mm < 0.0 {
            return Err(OpticsError::impossible(format!(
                "with the thinnest point {thinnest_mm:.2} mm thick nothing would be left at the optical centre, which lies outside the shape: \
                 make the thinnest point thicker or decentre less"
            )));
        }
        made(centre_mm)
    };
    for _ in 0..60 {
        let (lens, looks, edge_min) = seen(edge, made(centre_mm)?)?;
        let (x, y) = lens.centre;
        let centre_decides = edge_min.value > centre_mm && lens.outline.contains(x, y);
        let thinnest = if centre_decides {
            centre_mm
        } else {
            edge_min.value
        };
        let missing = thinnest_mm - thinnest;
        if missing.abs() < MET_MM {
            return Ok((lens, looks, edge_min));
        }
        centre_mm += missing;
        if centre_decides {
            continue;
        }
        // As the centre grows the thinnest place hardly moves: first make that place thick enough,
        // which is quickly done, and only then look round the whole edge again.
        let place = lens.outline.place(edge_min.angle);
        for _ in 0..12 {
            let missing = thinnest_mm - made(centre_mm)?.thickness_mm(place.x, place.y)?;
            centre_mm += missing;
            if missing.abs() < MET_MM {
                break;
            }
        }
    }
    Err(OpticsError::impossible(
        "no centre thickness leaves the thinnest point as thick as asked: choose a flatter curve or a smaller shape",
    ))
}

/// Returns the lens whose thinnest point, on the edge or within it, is `thinnest_mm` thick.
fn as_thick_within(
    edge: &Edge<'_>,
    made: impl Fn(f64) -> Result<Lens, OpticsError>,
    thinnest_mm: f64,
) -> Result<Seen, OpticsError> {
    let mut centre_mm = thinnest_mm;
    for _ in 0..60 {
        let (lens, looks, edge_min) = seen(edge, made(centre_mm)?)?;
        let missing = thinnest_mm - edge_min.value.min(lens.least_within()?);
        if missing.abs() < MET_INSIDE_MM {
            return Ok((lens, looks, edge_min));
        }
        centre_mm += missing;
        if centre_mm < 0.0 {
            return Err(OpticsError::impossible(format!(
                "with the thinnest point {thinnest_mm:.2} mm thick nothing would be left at the point looked through, \
                 which lies outside the shape: make the thinnest point thicker or decentre less"
            )));
        }
    }
    Err(OpticsError::impossible(
        "no centre thickness leaves the thinnest point as thick as asked: choose a flatter curve or a smaller shape",
    ))
}

/// A finished lens, seen from the boxed centre.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Lens {
    solid: Solid,
    outline: Outline,
    /// The point looked through.
    centre: (f64, f64),
    /// Growth of the thickness by prescribed prism along x and y, mm/mm.
    wedge: [f64; 2],
}

impl Lens {
    fn thickness_mm(&self, x: f64, y: f64) -> Result<f64, OpticsError> {
        let (x, y) = (x - self.centre.0, y - self.centre.1);
        let [by_x, by_y] = self.wedge;
        Ok(self.solid.thickness_mm(x, y)? + by_x * x + by_y * y)
    }

    fn slope(&self, x: f64, y: f64) -> Result<Slope, OpticsError> {
        let (x, y) = (x - self.centre.0, y - self.centre.1);
        let [wedge_x, wedge_y] = self.wedge;
        let (value, [by_x, by_y]) = self.solid.slope(x, y)?;
        Ok((
            value + wedge_x * x + wedge_y * y,
            [by_x + wedge_x, by_y + wedge_y],
        ))
    }

    /// The least thickness within the edge.
    fn least_within(&self) -> Result<f64, OpticsError> {
        least_within(&self.outline, |x, y| self.slope(x, y))
    }
}

/// The two surfaces and the glass between them.
#[derive(Debug, Clone, Copy, PartialEq)]
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

    /// The same with how it changes along x and y.
    fn slope(&self, x: f64, y: f64) -> Result<Slope, OpticsError> {
        let k = self.front_curvature;
        let under_root = 1.0 - k * k * (x * x + y * y);
        let back = self.back.slope(x, y).filter(|_| under_root > 0.0);
        let (back, [by_x, by_y]) = back.ok_or_else(|| too_steep(x, y))?;
        let w = under_root.sqrt();
        let front = k * (x * x + y * y) / (1.0 + w);
        Ok((
            self.centre_mm + back - front,
            [by_x - k * x / w, by_y - k * y / w],
        ))
    }
}

fn too_steep(x: f64, y: f64) -> OpticsError {
    OpticsError::impossible(format!(
        "the curves are too steep to reach {:.1} mm from the optical centre: choose a flatter front curve or a \
         smaller shape",
        x.hypot(y)
    ))
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
            centre: LensPoint::default(),
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
        assert!((t.volume_mm3() - volume).abs() < 1e-9);
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
            centre: LensPoint::default(),
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

    fn with_prism(sphere_d: f64, out_delta: f64, given: GivenThickness) -> Thickness {
        let body = LensBody {
            rx: Rx::sphere(sphere_d),
            index: 1.5,
            base_d: if sphere_d < 0.0 { 4.0 } else { 0.5 },
            base_index: 1.5,
            centre: LensPoint {
                in_mm: 3.0,
                up_mm: 1.0,
            },
            given,
        };
        let prism = Prism {
            base_in_delta: -out_delta,
            base_up_delta: 0.0,
        };
        let outline = Outline::from_box(54.0, 44.0, 58.0).unwrap();
        thickness_with_prism(Eye::Right, body, prism, &outline).unwrap()
    }

    /// Worked by hand: 3 prism dioptres at n 1.5 over 54 mm are 3 * 54 / 50 = 3.24 mm.
    #[test]
    fn a_plano_prism_is_a_wedge() {
        let t = with_prism(0.0, 3.0, GivenThickness::Centre(4.0));
        assert!(
            (t.edge_temporal_mm - t.edge_nasal_mm - 3.24).abs() < 0.01,
            "{t:?}"
        );
        assert!((t.edge_at_mm(180.0).unwrap() - t.edge_temporal_mm).abs() < 1e-12);
        assert!((t.edge_at_mm(90.0).unwrap() - t.edge_top_mm).abs() < 1e-12);
        assert!((t.centre_mm - 4.0).abs() < 1e-12);
    }

    /// Derived otherwise, by search over the whole lens: a minus lens with prism is thinnest between
    /// the point looked through and the apex, 0.4 mm thinner than at the point for -4.00 with 4 out.
    #[test]
    fn the_thinnest_place_of_a_minus_lens_with_prism_is_inside() {
        let t = with_prism(-4.0, 4.0, GivenThickness::Thinnest(2.0));
        assert!((t.centre_mm - 2.4).abs() < 0.03, "{}", t.centre_mm);
        let mut least = f64::INFINITY;
        for i in 0..360 {
            let angle = f64::from(i).to_radians();
            for k in 0..=200 {
                let r = t.lens.outline.radius_mm(angle) * f64::from(k) / 200.0;
                let (x, y) = (r * angle.cos(), r * angle.sin());
                least = least.min(t.lens.thickness_mm(x, y).unwrap());
            }
        }
        assert!((0.0..1e-3).contains(&(least - 2.0)), "{least}");
        assert!(t.edge_min_mm > 2.0);
    }

    #[test]
    fn without_prism_nothing_changes() {
        let t = with_prism(-4.0, 0.0, GivenThickness::Thinnest(2.0));
        assert!((t.centre_mm - 2.0).abs() < 1e-12);
    }

    #[test]
    fn a_centre_too_thin_says_how_thick_it_must_be() {
        let body = LensBody {
            rx: Rx::sphere(8.0),
            index: 1.5,
            base_d: 10.0,
            base_index: 1.53,
            centre: LensPoint::default(),
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
