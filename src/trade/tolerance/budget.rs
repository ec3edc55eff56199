//! The accuracy budget of a job: how far each measurement may be wrong before the finished pair,
//! perfect in everything else, would be outside the standard.
//!
//! Nothing is restated here: each question is put to the comparison itself with one measurement
//! moved, and the first line past its *printed* limit ends the budget. The half hundredth that readings are
//! forgiven is left to the laboratory and the focimeter: a budget that used it up would leave them
//! none.

use super::compare::{PowerRules, ToleranceError, compare};
use super::lens_kind::LensKind;
use super::limit::DUST;
use super::lines::{Quantity, Report};
use super::prism::prentice;
use super::standard::{Options, Standard};
use super::values::{EyeValues, PairValues};
use crate::trade::eye::{Eye, PerEye};

mod allowance;
mod first_break;
mod lens_model;
mod thin;

pub use allowance::Allowance;
pub(crate) use allowance::{Side, smaller};
use first_break::{Bend, first_break};
pub use lens_model::{LensModel, Worn};
pub use thin::ThinLens;

/// The order and the fitting from which a budget is worked out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Basis {
    /// The standard to keep.
    pub standard: Standard,
    /// The kind of lens.
    pub kind: LensKind,
    /// How the standard is applied.
    pub options: Options,
    /// The ordered powers and prisms; places are not needed.
    pub ordered: PairValues,
    /// The fitted vertex distance, mm, where measured: a lens cannot be nearer than touching.
    pub fitted_vertex_mm: PerEye<Option<f64>>,
    /// The pantoscopic angle, degrees, where measured.
    pub pantoscopic_deg: Option<f64>,
    /// The face-form angle, degrees, where measured.
    pub face_form_deg: Option<f64>,
    /// The refractive index of the lens, where the material is chosen.
    pub index: Option<f64>,
}

/// The budgets of the centration distances and heights, mm.
///
/// `None` for an eye without a lens, and where the only rule is about the pair and the other lens is
/// not known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Places {
    /// Each eye's centration distance.
    pub cd_mm: PerEye<Option<Allowance>>,
    /// Each eye's height.
    pub height_mm: PerEye<Option<Allowance>>,
}

/// The budgets of everything measured.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Budget {
    /// Centration distances and heights.
    pub places: Places,
    /// Each eye's vertex distance, mm. An error in the tested and one in the fitted distance both
    /// draw on it: what counts is the distance between the two.
    pub vertex_mm: PerEye<Option<Allowance>>,
    /// The pantoscopic angle, degrees; `None` when an angle or the index is not known.
    pub pantoscopic_deg: Option<Allowance>,
    /// The face-form angle, degrees; `None` when an angle or the index is not known.
    pub face_form_deg: Option<Allowance>,
}

/// Vertex distances are not mistaken by more than this, mm: past it a budget has no end.
const FARTHEST_MM: f64 = 100.0;
/// Nor angles by more than this, degrees.
const FARTHEST_DEG: f64 = 45.0;

/// Returns every budget.
///
/// # Errors
/// As [`compare`], for an ordered lens without meaning. With no lens ordered there are no budgets.
pub fn budget(basis: &Basis, model: &impl LensModel) -> Result<Budget, ToleranceError> {
    let mut budget = Budget {
        places: places(basis)?,
        ..Budget::default()
    };
    for (eye, values) in basis.ordered.iter() {
        if let Some(values) = values {
            *budget.vertex_mm.get_mut(eye) = Some(vertex(basis, model, eye, values)?);
        }
    }
    let known = (basis.index, basis.pantoscopic_deg, basis.face_form_deg);
    if let (Some(index), Some(pantoscopic_deg), Some(face_form_deg)) = known {
        let worn = Worn {
            index,
            pantoscopic_deg,
            face_form_deg,
        };
        let tilted = |by: f64| Worn {
            pantoscopic_deg: pantoscopic_deg + by,
            ..worn
        };
        let wrapped = |by: f64| Worn {
            face_form_deg: face_form_deg + by,
            ..worn
        };
        budget.pantoscopic_deg = Some(angle(basis, model, worn, tilted)?);
        budget.face_form_deg = Some(angle(basis, model, worn, wrapped)?);
    }
    Ok(budget)
}

/// Returns the budgets of the centration distances and heights alone.
///
/// Prism grows in proportion to the displacement (Prentice) and a place by the displacement itself,
/// so one millimetre tells the rest: limit over error.
///
/// # Errors
/// As [`compare`].
pub fn places(basis: &Basis) -> Result<Places, ToleranceError> {
    let mut places = Places::default();
    for (eye, values) in basis.ordered.iter() {
        if values.is_some() {
            *places.cd_mm.get_mut(eye) = place(basis, |by| shifted(basis, eye, by, 0.0))?;
            *places.height_mm.get_mut(eye) = place(basis, |by| shifted(basis, eye, 0.0, by))?;
        }
    }
    Ok(places)
}

/// A pair ordered and the pair as it will be found.
type OrderedAndFound = (PairValues, PairValues);

fn place(
    basis: &Basis,
    found: impl Fn(f64) -> Result<OrderedAndFound, ToleranceError>,
) -> Result<Option<Allowance>, ToleranceError> {
    let side = |by: f64| -> Result<(bool, Option<Side>), ToleranceError> {
        let (ordered, found) = found(by)?;
        let report = verify(basis, &ordered, &found)?;
        let ends = report
            .lines
            .iter()
            .filter(|l| is_place(l.what) && l.error > DUST);
        let first = ends
            .map(|l| Side {
                by: l.limit / l.error,
                rule: l.what,
                eye: l.eye,
            })
            .min_by(|a, b| a.by.total_cmp(&b.by));
        Ok((report.lines.iter().any(|l| is_place(l.what)), first))
    };
    let (ruled, minus) = side(-1.0)?;
    let (_, plus) = side(1.0)?;
    Ok(ruled.then_some(Allowance { minus, plus }))
}

fn is_place(what: Quantity) -> bool {
    matches!(
        what,
        Quantity::PrismHorizontal
            | Quantity::PrismVertical
            | Quantity::Centration
            | Quantity::Height
            | Quantity::HeightDifference
    )
}

/// The pair as ordered for the recorded places, and as the wearer meets it when one eye's true
/// place is `cd_by`, `height_by` more than recorded.
///
/// Places are counted from the recorded ones; the prism ordered for the recorded point is there, and
/// looking past it adds Prentice's.
fn shifted(
    basis: &Basis,
    moved: Eye,
    cd_by: f64,
    height_by: f64,
) -> Result<OrderedAndFound, ToleranceError> {
    let mut wanted = basis.ordered;
    let mut found = basis.ordered;
    for eye in Eye::BOTH {
        let Some(values) = basis.ordered.get(eye) else {
            continue;
        };
        let power = values
            .minus_form()
            .map_err(|why| ToleranceError::Ordered { eye, why })?
            .matrix();
        let (in_mm, up_mm) = if eye == moved {
            // A true distance larger than the one made for is a point looked through more temporal.
            (-cd_by, height_by)
        } else {
            (0.0, 0.0)
        };
        let (extra_in, extra_up) = prentice(eye, power, in_mm, up_mm);
        let (base_in, base_up) = values.prism().unwrap_or_default();
        *wanted.get_mut(eye) = Some(EyeValues {
            cd_mm: Some(-in_mm),
            height_mm: Some(up_mm),
            ..*values
        });
        *found.get_mut(eye) = Some(EyeValues {
            cd_mm: Some(0.0),
            height_mm: Some(0.0),
            base_in_delta: Some(base_in + extra_in),
            base_up_delta: Some(base_up + extra_up),
            ..*values
        });
    }
    Ok((wanted, found))
}

fn verify(
    basis: &Basis,
    ordered: &PairValues,
    found: &PairValues,
) -> Result<Report, ToleranceError> {
    compare(basis.standard, basis.kind, ordered, found, basis.options)
}

/// The lens ordered for the recorded distance against the one the true distance would have called
/// for, by the power limits of the ordered lens.
fn vertex(
    basis: &Basis,
    model: &impl LensModel,
    eye: Eye,
    values: &EyeValues,
) -> Result<Allowance, ToleranceError> {
    let rules = power_rules(basis, eye, values)?;
    let power = rules.ordered().matrix();
    let needed = |by: f64| model.moved(power, by);
    let nearest = basis.fitted_vertex_mm.get(eye).unwrap_or(FARTHEST_MM);
    Ok(Allowance {
        minus: first_break(&rules, nearest, Bend::OfVertex, |by| needed(-by)),
        plus: first_break(&rules, FARTHEST_MM, Bend::OfVertex, needed),
    })
}

/// An angle's budget: the ordered lens with the change that the true angle makes to the power the
/// eye meets, by the power limits of the ordered lens. The eye that breaks first decides.
fn angle(
    basis: &Basis,
    model: &impl LensModel,
    worn: Worn,
    turned: impl Fn(f64) -> Worn,
) -> Result<Allowance, ToleranceError> {
    let mut both = Allowance::default();
    for (eye, values) in basis.ordered.iter() {
        let Some(values) = values else { continue };
        let rules = power_rules(basis, eye, values)?;
        let power = rules.ordered().matrix();
        let Some(recorded) = model.as_worn(eye, power, worn) else {
            continue;
        };
        let met = |by: f64| {
            let actual = model.as_worn(eye, power, turned(by))?;
            Some(power + (actual - recorded))
        };
        // Past the other eye's break the budget has ended already.
        let farthest = |side: Option<Side>| side.map_or(FARTHEST_DEG, |s| s.by);
        let minus = first_break(&rules, farthest(both.minus), Bend::OfTilt, |by| met(-by));
        both.minus = smaller(both.minus, minus);
        let plus = first_break(&rules, farthest(both.plus), Bend::OfTilt, met);
        both.plus = smaller(both.plus, plus);
    }
    Ok(both)
}

fn power_rules(basis: &Basis, eye: Eye, values: &EyeValues) -> Result<PowerRules, ToleranceError> {
    let ordered = values
        .minus_form()
        .map_err(|why| ToleranceError::Ordered { eye, why })?;
    Ok(PowerRules::of(basis.standard, basis.kind, eye, ordered))
}
