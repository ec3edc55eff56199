//! Materials and base curves of a job lined up: how thick, how heavy, how true, how coloured.
//!
//! Every row is the job's own pair (powers, frame, centration, tilt) made of another material or on
//! another front curve. The centre thickness that is recorded was ordered for the recorded lens and
//! counts for that row alone; the others are as thin as their material usually is, or as the least
//! thickness of the order allows.

use crate::job::{Design, Job, PowersAs};
use crate::judge::derive::compensation::vertex_compensated;
use crate::judge::derive::lens::{lens_body, magnification_percent, prism};
use crate::judge::derive::places::centration_point;
use crate::judge::derive::powers::ordered_or_prescribed;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::as_worn::{WornLens, as_worn};
use crate::trade::optics::base_curve::{FLATTEST_D, vogel_base_d};
use crate::trade::optics::chromatic::largest_transverse_chromatic_delta;
use crate::trade::optics::curves::{BASE_INDEX, true_power_d};
use crate::trade::optics::materials::{MATERIALS, Material};
use crate::trade::optics::prism::LensPoint;
use crate::trade::optics::thickness::thickness_with_prism;
use crate::trade::optics::tilt::Tilt;
use crate::trade::optics::{OpticsError, Rx};
use crate::trade::units::{Degree, Dioptre, Millimetre};

/// How far from the optical centre colour is looked at, mm.
pub(crate) const COLOUR_AT_MM: f64 = 20.0;
/// Steps between the curves that are lined up, and how many there are each way, dioptres.
const STEPS_D: [f64; 5] = [-4.0, -2.0, 0.0, 2.0, 4.0];
/// The steepest front curve that is lined up, dioptres.
const STEEPEST_D: f64 = 20.0;

/// What a lens does as worn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worn {
    /// The power as worn.
    pub rx: Rx,
    /// The largest principal power by which it differs from what is wanted, dioptres.
    pub error_d: f64,
}

/// One eye's lens.
#[derive(Debug, Clone, PartialEq)]
pub struct Lens {
    /// The thickest of the edge, mm.
    pub edge_max_mm: f64,
    /// The thinnest of the edge, mm.
    pub edge_min_mm: f64,
    /// At the optical centre, mm.
    pub centre_mm: f64,
    /// Weight, grams.
    pub weight_g: f64,
    /// By exact ray trace along the line of sight; or why not.
    pub worn: Result<Worn, String>,
    /// Transverse chromatic aberration [`COLOUR_AT_MM`] from the optical centre, prism dioptres.
    pub colour_delta: f64,
    /// Spectacle magnification in the strongest meridian, percent.
    pub size_percent: Option<f64>,
}

/// A material on a curve.
#[derive(Debug, Clone, PartialEq)]
pub struct ChoiceRow {
    /// The material.
    pub material: &'static Material,
    /// The front curve marked at index 1.530.
    pub base: Dioptre,
    /// Whether the job's lenses are just these.
    pub is_recorded: bool,
    /// The lenses, or the sentence why one cannot exist; nothing for an eye without a power.
    pub lenses: PerEye<Option<Result<Lens, String>>>,
}

/// What rows are sorted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Column {
    /// The order in which materials are offered.
    #[default]
    Material,
    /// Front curve.
    Curve,
    /// Largest edge thickness.
    Edge,
    /// Centre thickness.
    Centre,
    /// Weight of the lenses.
    Weight,
    /// Error as worn.
    Error,
    /// Transverse chromatic aberration.
    Colour,
    /// Spectacle magnification.
    Size,
}

impl Column {
    /// Every column, from left to right.
    pub const ALL: [Self; 8] = [
        Self::Material,
        Self::Curve,
        Self::Edge,
        Self::Centre,
        Self::Weight,
        Self::Error,
        Self::Colour,
        Self::Size,
    ];

    /// Its heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Material => "material",
            Self::Curve => "curve",
            Self::Edge => "edge",
            Self::Centre => "centre",
            Self::Weight => "weight",
            Self::Error => "error",
            Self::Colour => "colour",
            Self::Size => "size",
        }
    }

    /// The unit of its values.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Material => "",
            Self::Curve | Self::Error => "D",
            Self::Edge | Self::Centre => "mm",
            Self::Weight => "g",
            Self::Colour => "Δ",
            Self::Size => "%",
        }
    }

    /// Returns the column so many further, round and round.
    #[must_use]
    pub fn stepped(self, forward: bool) -> Self {
        let count = Self::ALL.len();
        let here = Self::ALL.iter().position(|c| *c == self).unwrap_or(0);
        let by = if forward { 1 } else { count - 1 };
        Self::ALL
            .get((here + by) % count)
            .copied()
            .unwrap_or_default()
    }
}

impl ChoiceRow {
    /// Returns why a lens of the row cannot exist.
    pub fn refusal(&self) -> Option<&str> {
        Eye::BOTH.iter().find_map(|eye| {
            self.lenses
                .get(*eye)
                .as_ref()
                .and_then(|l| l.as_ref().err())
                .map(String::as_str)
        })
    }

    /// Returns the lenses that there are.
    pub fn made(&self) -> impl Iterator<Item = &Lens> {
        Eye::BOTH
            .into_iter()
            .filter_map(|eye| self.lenses.get(eye).as_ref()?.as_ref().ok())
    }

    /// Returns the value of a column: the worse of the two eyes, of the weight the sum; `None` where
    /// a lens cannot exist or the value is not known.
    pub fn value(&self, column: Column) -> Option<f64> {
        let place = || MATERIALS.iter().position(|m| m.key == self.material.key);
        match column {
            Column::Material => return place().and_then(|p| u32::try_from(p).ok()).map(f64::from),
            Column::Curve => return Some(self.base.get()),
            _ => {}
        }
        if self.refusal().is_some() {
            return None;
        }
        let of = |l: &Lens| match column {
            Column::Edge => Some(l.edge_max_mm),
            Column::Centre => Some(l.centre_mm),
            Column::Weight => Some(l.weight_g),
            Column::Error => l.worn.as_ref().ok().map(|w| w.error_d),
            Column::Colour => Some(l.colour_delta),
            Column::Size => l.size_percent,
            Column::Material | Column::Curve => None,
        };
        let values: Vec<f64> = self.made().map(of).collect::<Option<_>>()?;
        if column == Column::Weight {
            return (!values.is_empty()).then(|| values.iter().sum());
        }
        values
            .into_iter()
            .max_by(|a, b| a.abs().total_cmp(&b.abs()))
    }
}

/// Everything lined up for a job.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// The rows, by material and then by curve.
    pub rows: Vec<ChoiceRow>,
    /// What Vogel's rule gives for the mean of the eyes, dioptres.
    pub vogel_d: f64,
    /// What was not recorded and is supposed.
    pub supposed: Vec<String>,
}

impl Table {
    /// Returns the places of the rows by a column, smallest first or largest first. Rows without
    /// a value come last either way: there is nothing to choose in them.
    pub fn sorted(&self, column: Column, largest_first: bool) -> Vec<usize> {
        let key = |i: &usize| {
            self.rows
                .get(*i)
                .and_then(|r| r.value(column))
                .map(|v| if column == Column::Size { v.abs() } else { v })
        };
        let mut order: Vec<usize> = (0..self.rows.len()).collect();
        order.sort_by(|a, b| match (key(a), key(b)) {
            (Some(a), Some(b)) if largest_first => b.total_cmp(&a),
            (Some(a), Some(b)) => a.total_cmp(&b),
            (a, b) => b.is_some().cmp(&a.is_some()),
        });
        order
    }
}

/// Lines materials and curves up for a job.
///
/// # Errors
/// The entries that are missing and without which no lens can be worked out.
pub fn table(job: &Job) -> Result<Table, Vec<&'static str>> {
    let powers = PerEye::from_fn(|eye| ordered_or_prescribed(job, eye));
    let mut missing = Vec::new();
    if job.frame.a_mm.is_none() {
        missing.push("boxed lens width (frame)");
    }
    if job.frame.b_mm.is_none() {
        missing.push("boxed lens height (frame)");
    }
    let vogel: Vec<f64> = Eye::BOTH
        .iter()
        .filter_map(|eye| powers.get(*eye).as_ref())
        .map(|rx| vogel_base_d(*rx))
        .collect();
    if vogel.is_empty() {
        missing.push("power of an eye (prescription or lenses)");
    }
    if !missing.is_empty() {
        return Err(missing);
    }
    let vogel_d = vogel.iter().sum::<f64>() / if vogel.len() == 2 { 2.0 } else { 1.0 };
    let rows = MATERIALS
        .iter()
        .flat_map(|m| {
            curves(vogel_d, job.lenses.base_d)
                .into_iter()
                .map(move |base| row(job, m, base))
        })
        .collect();
    Ok(Table {
        rows,
        vogel_d,
        supposed: supposed(job),
    })
}

/// The curves lined up: round the rule's whole dioptre, and the one recorded.
fn curves(vogel_d: f64, recorded: Option<Dioptre>) -> Vec<Dioptre> {
    let mut all: Vec<Dioptre> = STEPS_D
        .iter()
        .map(|step| vogel_d.round() + step)
        .filter(|d| (FLATTEST_D..=STEEPEST_D).contains(d))
        .map(Dioptre::nearest)
        .chain(recorded)
        .collect();
    all.sort_by_key(|d| d.thousandths());
    all.dedup();
    all
}

fn supposed(job: &Job) -> Vec<String> {
    let mut out = Vec::new();
    for eye in Eye::BOTH {
        if ordered_or_prescribed(job, eye).is_none() {
            out.push(format!("{eye} eye left out: no power of its own"));
        } else if centration_point(job, eye).is_none() {
            out.push(format!(
                "{eye} optical centre at the boxed centre: no CD or DBL"
            ));
        }
    }
    if job.lenses.design.is_some_and(Design::needs_addition) {
        out.push("distance power alone, no addition or segment".to_owned());
    }
    if job.frame.ed_mm.is_none() {
        out.push("longest diameter as the larger of box width and height".to_owned());
    }
    match (job.fitting.pantoscopic_deg, job.fitting.face_form_deg) {
        (Some(_), None) => out.push("face-form angle 0".to_owned()),
        (None, Some(_)) => out.push("pantoscopic angle 0".to_owned()),
        _ => {}
    }
    out
}

fn row(job: &Job, material: &'static Material, base: Dioptre) -> ChoiceRow {
    let recorded = &job.lenses;
    let is_recorded =
        recorded.material.as_deref() == Some(material.key) && recorded.base_d == Some(base);
    let mut trial = job.clone();
    trial.lenses.material = Some(material.key.to_owned());
    trial.lenses.base_d = Some(base);
    if !is_recorded {
        trial.lenses.centre_mm = None;
    }
    ChoiceRow {
        material,
        base,
        is_recorded,
        lenses: PerEye::from_fn(|eye| {
            ordered_or_prescribed(&trial, eye)
                .map(|rx| lens(&trial, eye, rx, material, base).map_err(|e| e.to_string()))
        }),
    }
}

fn lens(
    trial: &Job,
    eye: Eye,
    rx: Rx,
    material: &Material,
    base: Dioptre,
) -> Result<Lens, OpticsError> {
    let (body, outline) = lens_body(trial, eye, material).ok_or_else(|| {
        OpticsError::impossible("no shape has these boxed sizes: measure the frame again")
    })?;
    let found = thickness_with_prism(eye, body, prism(trial, eye), &outline)?;
    let front_d = true_power_d(base.get(), BASE_INDEX, material.n_d)?;
    // What is worn is what is made: the centre thickness just found, not the one of the order.
    let mut made = trial.clone();
    made.lenses.centre_mm = Millimetre::new(found.centre_mm).ok();
    Ok(Lens {
        edge_max_mm: found.edge_max_mm,
        edge_min_mm: found.edge_min_mm,
        centre_mm: found.centre_mm,
        weight_g: found.weight_g(material.density_g_cm3),
        worn: worn(trial, eye, rx, material.n_d, front_d, found.centre_mm),
        colour_delta: largest_transverse_chromatic_delta(rx, COLOUR_AT_MM, material.abbe),
        size_percent: magnification_percent(&made, eye),
    })
}

/// The error of what is ordered as this pair is worn: against what the ordered power is to do, which
/// for powers compensated as worn is the prescription at the fitted distance.
fn worn(
    job: &Job,
    eye: Eye,
    rx: Rx,
    index: f64,
    front_d: f64,
    centre_mm: f64,
) -> Result<Worn, String> {
    let f = &job.fitting;
    if f.pantoscopic_deg.is_none() && f.face_form_deg.is_none() {
        return Err("no tilt recorded".to_owned());
    }
    let wanted = if job.lenses.powers_as() == Some(PowersAs::AsWornCompensated) {
        vertex_compensated(job, eye).ok_or_else(|| "no prescription to compare with".to_owned())?
    } else {
        rx
    };
    let lens = WornLens {
        index,
        front_d,
        centre_mm,
        tilt: Tilt {
            pantoscopic_deg: f.pantoscopic_deg.map_or(0.0, Degree::get),
            face_form_deg: f.face_form_deg.map_or(0.0, Degree::get),
        },
        optical_centre: LensPoint {
            in_mm: 0.0,
            up_mm: 0.0,
        },
    };
    let worn = as_worn(eye, rx, lens).map_err(|e| e.to_string())?.rx;
    Ok(Worn {
        rx: worn,
        error_d: (worn.matrix() - wanted.matrix()).largest_d(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::derive::compensation;
    use serde_json::json;

    fn job(sphere_d: f64) -> Job {
        serde_json::from_value(json!({
            "prescription": {"right": {"sphere_d": sphere_d}, "left": {"sphere_d": sphere_d}},
            "fitting": {"right": {"cd_mm": 34}, "left": {"cd_mm": 34}, "pantoscopic_deg": 12, "face_form_deg": 5},
            "frame": {"a_mm": 50, "b_mm": 50, "ed_mm": 50, "dbl_mm": 18},
            "lenses": {"material": "resin 1.60", "base_d": 3, "centre_mm": 2.5},
        }))
        .unwrap()
    }

    fn find<'t>(table: &'t Table, material: &str, base_d: f64) -> &'t ChoiceRow {
        table
            .rows
            .iter()
            .find(|r| r.material.key == material && (r.base.get() - base_d).abs() < 1e-9)
            .unwrap()
    }

    #[test]
    fn the_edge_of_a_round_centred_lens_is_that_of_two_spheres() {
        let table = table(&job(-6.0)).unwrap();
        let row = find(&table, "resin 1.67", 5.0);
        // By hand in metres: two spheres cut at 25 mm, the centre as thin as is usual.
        let (n, t, h) = (1.661, 0.0012, 0.025f64);
        let r1 = 0.530 / 5.0;
        let f1 = (n - 1.0) / r1;
        let f2 = -6.0 - f1 / (1.0 - t / n * f1);
        let r2 = (n - 1.0) / -f2;
        let sag = |r: f64| r - (r * r - h * h).sqrt();
        let edge_mm = (t + sag(r2) - sag(r1)) * 1000.0;
        let found = row.value(Column::Edge).unwrap();
        assert!((found - edge_mm).abs() < 1e-6, "{found} {edge_mm}");
        assert!((row.value(Column::Centre).unwrap() - 1.2).abs() < 1e-9);
    }

    #[test]
    fn the_recorded_centre_counts_for_the_recorded_lens_alone() {
        let table = table(&job(-6.0)).unwrap();
        for row in &table.rows {
            let centre = row.value(Column::Centre).unwrap();
            let is = row.material.key == "resin 1.60" && (row.base.get() - 3.0).abs() < 1e-9;
            assert_eq!(row.is_recorded, is);
            let expected = if is {
                2.5
            } else {
                row.material.thinnest_centre_mm
            };
            assert!(
                (centre - expected).abs() < 1e-9,
                "{} {centre}",
                row.material.key
            );
        }
    }

    #[test]
    fn the_error_of_the_recorded_lens_is_the_one_shown_beside_the_job() {
        let job = job(-6.0);
        let table = table(&job).unwrap();
        let row = find(&table, "resin 1.60", 3.0);
        let rx = Rx::sphere(-6.0);
        let worn = compensation::worn(&job, Eye::Right, rx).unwrap();
        assert_eq!(worn.model, compensation::Model::Exact);
        let expected = (worn.rx.matrix() - rx.matrix()).largest_d();
        assert!((row.value(Column::Error).unwrap() - expected).abs() < 1e-12);
        assert!(expected > 0.1);
    }

    #[test]
    fn colour_is_centimetres_times_power_over_the_abbe_number_on_every_curve() {
        for row in &table(&job(-6.0)).unwrap().rows {
            let expected = 2.0 * 6.0 / row.material.abbe;
            assert!((row.value(Column::Colour).unwrap() - expected).abs() < 1e-12);
        }
    }

    #[test]
    fn a_lens_that_cannot_exist_says_why_and_comes_last_either_way() {
        let table = table(&job(11.0)).unwrap();
        let refused = |i: &usize| table.rows[*i].refusal().is_some();
        let count = table.rows.iter().filter(|r| r.refusal().is_some()).count();
        assert!(count > 0 && count < table.rows.len(), "{count}");
        for largest_first in [false, true] {
            let order = table.sorted(Column::Edge, largest_first);
            let first = order.iter().position(refused).unwrap();
            assert!(order[first..].iter().all(refused));
            assert_eq!(order.len() - first, count);
        }
        let why = table.rows.iter().find_map(ChoiceRow::refusal).unwrap();
        assert!(why.contains("mm"), "{why}");
    }

    #[test]
    fn the_curves_lie_round_the_rule_and_the_recorded_one_is_among_them() {
        let shown = |d: f64, recorded: Option<f64>| -> Vec<f64> {
            curves(d, recorded.map(Dioptre::nearest))
                .into_iter()
                .map(Dioptre::get)
                .collect()
        };
        assert_eq!(shown(3.0, None), [1.0, 3.0, 5.0, 7.0]);
        assert_eq!(shown(6.2, Some(4.25)), [2.0, 4.0, 4.25, 6.0, 8.0, 10.0]);
        assert_eq!(shown(0.5, Some(1.0)), [1.0, 3.0, 5.0]);
    }

    #[test]
    fn what_is_missing_is_named_and_a_balance_lens_is_left_out() {
        let mut empty = job(-1.0);
        empty.frame.b_mm = None;
        assert_eq!(table(&empty).unwrap_err(), ["boxed lens height (frame)"]);
        assert_eq!(table(&Job::default()).unwrap_err().len(), 3);
        let mut balance = job(-4.0);
        balance.prescription.left.sphere_d = None;
        let table = table(&balance).unwrap();
        assert!(table.rows.iter().all(|r| r.lenses.left.is_none()));
        assert!(
            table
                .supposed
                .iter()
                .any(|s| s.contains("left eye left out"))
        );
        assert!(table.rows[0].value(Column::Weight).unwrap() > 1.0);
    }

    #[test]
    fn the_columns_go_round() {
        let mut column = Column::Material;
        for _ in 0..Column::ALL.len() {
            let next = column.stepped(true);
            assert_eq!(next.stepped(false), column);
            column = next;
        }
        assert_eq!(column, Column::Material);
    }
}
