//! The accuracy budget of a job: how far each measurement may be out, and which to take twice.
//!
//! Budgets in millimetres and in degrees are not compared with each other but with how well each
//! measurement repeats (`Measurement::repeatability`): the tightest is the one whose budget is
//! the smallest share of that.

use crate::job::{Design, Job};
use crate::practice::{Practice, Threshold};
use crate::trade::eye::{Eye, PerEye};
use crate::trade::tolerance::budget::{
    Allowance, Basis, Budget, Places, Side, ThinLens, budget, places, smaller,
};
use crate::trade::tolerance::{LensKind, Quantity};
use crate::trade::units::{Degree, Millimetre};

use crate::judge::derive::lens::material;
use crate::judge::derive::places::design_height;
use crate::judge::derive::verification::{lens_kind, ordered_pair};

fn basis(job: &Job, practice: &Practice) -> Basis {
    Basis {
        standard: practice.standard,
        kind: lens_kind(job),
        options: practice.options,
        ordered: ordered_pair(job),
        fitted_vertex_mm: PerEye::from_fn(|eye| {
            job.fitting.eye(eye).vertex_mm.map(Millimetre::get)
        }),
        pantoscopic_deg: job.fitting.pantoscopic_deg.map(Degree::get),
        face_form_deg: job.fitting.face_form_deg.map(Degree::get),
        index: material(job).map(|m| m.n_d),
    }
}

/// Returns how far the centration distances and heights may be out.
pub(crate) fn place_budget(job: &Job, practice: &Practice) -> Option<Places> {
    places(&basis(job, practice)).ok()
}

/// Returns how far every measurement may be out.
pub fn full_budget(job: &Job, practice: &Practice) -> Option<Budget> {
    budget(&basis(job, practice), &ThinLens).ok()
}

/// What is measured on a wearer and has a budget.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Measurement {
    Cd,
    Height,
    Vertex,
    Pantoscopic,
    FaceForm,
}

impl Measurement {
    const fn label(self) -> &'static str {
        match self {
            Self::Cd => "CD",
            Self::Height => "height",
            Self::Vertex => "vertex",
            Self::Pantoscopic => "tilt",
            Self::FaceForm => "face form",
        }
    }

    const fn unit(self) -> &'static str {
        match self {
            Self::Cd | Self::Height | Self::Vertex => "mm",
            Self::Pantoscopic | Self::FaceForm => "degrees",
        }
    }

    /// Returns within what two readings of the same thing usually agree, in the measurement's unit.
    ///
    /// Distances 1 mm (`McMahon` et al. 2012), tilt 4 degrees (Garcia-Espinilla et al. 2022): the
    /// limits by which the gate questions a second reading. Heights and vertex distance: 1 mm, common
    /// practice. Face form: no published figure was at hand; the tilt's is used.
    const fn repeatability(self) -> f64 {
        match self {
            Self::Cd => Threshold::PdRepeat.default_value(),
            Self::Height | Self::Vertex => 1.0,
            Self::Pantoscopic | Self::FaceForm => Threshold::TiltRepeat.default_value(),
        }
    }
}

/// How far one measurement may be out each way, ready to be shown.
#[derive(Debug, Clone, PartialEq)]
pub struct BudgetRow {
    /// The field it is about (`fitting.right.cd_mm`).
    pub field: String,
    /// What is measured ("CD").
    pub label: &'static str,
    /// Whose; `None` where both eyes share the measurement.
    pub eye: Option<Eye>,
    /// "mm" or "degrees".
    pub unit: &'static str,
    /// How far the true value may lie below the recorded one, never negative; `None`: without end.
    pub minus: Option<f64>,
    /// How far the true value may lie above the recorded one, never negative; `None`: without end.
    pub plus: Option<f64>,
    /// The comparison of the standard that breaks on the nearer side; `None`: none ever does.
    pub rule: Option<Quantity>,
    /// Whether it is the tightest of the job, or as tight as that one.
    pub measure_twice: bool,
}

/// The mark of the tightest measurement, in words so that it does not rest on colour.
pub(crate) const MEASURE_TWICE: &str = "measure twice";

impl BudgetRow {
    /// Returns the smaller of the two sides; `None` when neither has an end.
    pub fn smallest(&self) -> Option<f64> {
        match (self.minus, self.plus) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (one, other) => one.or(other),
        }
    }

    /// Returns the smaller of the two sides in tenths, rounded down.
    pub fn smallest_text(&self) -> Option<String> {
        self.smallest().map(tenths)
    }

    /// Returns both sides in few letters without the unit: `±2.0`, `-1.8 +2.0`, `+0.9`; `None` when
    /// neither side has an end.
    ///
    /// Tenths, rounded down: what is shown is still within the standard.
    pub fn short(&self) -> Option<String> {
        match (self.minus.map(tenths), self.plus.map(tenths)) {
            (None, None) => None,
            (Some(minus), None) => Some(format!("-{minus}")),
            (None, Some(plus)) => Some(format!("+{plus}")),
            (Some(minus), Some(plus)) if minus == plus => Some(format!("±{plus}")),
            (Some(minus), Some(plus)) => Some(format!("-{minus} +{plus}")),
        }
    }

    /// Returns both sides with the unit and, where it is the tightest, the words for it.
    pub fn text(&self) -> Option<String> {
        let sides = self.short()?;
        let open = match (self.minus, self.plus) {
            (None, Some(_)) => ", less without limit",
            (Some(_), None) => ", more without limit",
            _ => "",
        };
        // The words stand first: where room is short, they are what must be read.
        let twice = if self.measure_twice {
            format!("{MEASURE_TWICE}: ")
        } else {
            String::new()
        };
        // The fields' writer of units is a layer above: these two are all that a budget has.
        let unit = if self.unit == "mm" { " mm" } else { "°" };
        Some(format!("{twice}{sides}{unit}{open}"))
    }
}

/// A tenth that is reached but for the last digits of the arithmetic counts as reached.
fn tenths(by: f64) -> String {
    format!("{:.1}", (by * 10.0 + 1e-6).floor() / 10.0)
}

/// Returns the budget of everything measured: both eyes' centration distances, heights and vertex
/// distances, then the angles; the tightest, or those as tight, marked.
///
/// A measurement whose budget cannot be said (no lens, an angle or the material not known) has no
/// row. A height that the design does not ask for and nobody took has a row but is never marked:
/// what was not measured once need not be measured twice.
pub fn budget_rows(job: &Job, practice: &Practice) -> Vec<BudgetRow> {
    let Some(budget) = full_budget(job, practice) else {
        return Vec::new();
    };
    let mut rows = Vec::new();
    let segment = job.lenses.design.is_some_and(Design::has_segment);
    let height = if segment {
        "segment_height_mm"
    } else {
        "height_mm"
    };
    for (what, key, budgets) in [
        (Measurement::Cd, "cd_mm", &budget.places.cd_mm),
        (Measurement::Height, height, &budget.places.height_mm),
        (Measurement::Vertex, "vertex_mm", &budget.vertex_mm),
    ] {
        for (eye, allowance) in budgets.iter() {
            let field = format!("fitting.{eye}.{key}");
            rows.extend(allowance.map(|a| (what, row(what, field, Some(eye), a))));
        }
    }
    for (what, key, allowance) in [
        (
            Measurement::Pantoscopic,
            "pantoscopic_deg",
            budget.pantoscopic_deg,
        ),
        (Measurement::FaceForm, "face_form_deg", budget.face_form_deg),
    ] {
        let field = format!("fitting.{key}");
        rows.extend(allowance.map(|a| (what, row(what, field, None, a))));
    }
    mark_tightest(job, &mut rows);
    rows.into_iter().map(|(_, row)| row).collect()
}

fn row(what: Measurement, field: String, eye: Option<Eye>, allowance: Allowance) -> BudgetRow {
    let by = |side: Option<Side>| side.map(|s| s.by);
    BudgetRow {
        field,
        label: what.label(),
        eye,
        unit: what.unit(),
        minus: by(allowance.minus),
        plus: by(allowance.plus),
        rule: smaller(allowance.minus, allowance.plus).map(|s| s.rule),
        measure_twice: false,
    }
}

fn mark_tightest(job: &Job, rows: &mut [(Measurement, BudgetRow)]) {
    let taken = |eye: Option<Eye>| {
        eye.is_some_and(|eye| design_height(job, job.fitting.eye(eye)).is_some())
            || lens_kind(job) != LensKind::SingleVision
    };
    let demand = |what: Measurement, row: &BudgetRow| {
        let counts = what != Measurement::Height || taken(row.eye);
        row.smallest()
            .filter(|_| counts)
            .map(|by| by / what.repeatability())
    };
    let Some(tightest) = rows
        .iter()
        .filter_map(|(what, row)| demand(*what, row))
        .min_by(f64::total_cmp)
    else {
        return;
    };
    for (what, row) in rows {
        row.measure_twice = demand(*what, row).is_some_and(|d| d <= tightest + 1e-6);
    }
}
