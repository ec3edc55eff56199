//! Likely causes, by the complaints and by the values.
//!
//! The rows are in `causes_table`. A row is listed when a complaint or a value points to
//! it; words that may mean a disease come first whatever the values show.

use serde::Serialize;
use serde_json::{Value, json};

use super::cause_row::{CauseRow, Direction, Sign};
use super::causes_table::CAUSES;
use super::compare::Comparison;
use super::parameter::{Parameter, Source};
use super::row::ComparedRow;
use crate::job::{Cause, Complaint, Design, Job, PowersAs, danger_words};
use crate::judge::derive::powers::strength_d;
use crate::trade::eye::Eye;
use crate::trade::optics::materials::Material;

/// A cause that is likely, and why it is listed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Likely {
    /// The row.
    pub row: &'static CauseRow,
    /// What points to it, a sentence each.
    pub because: Vec<String>,
    /// How much points to it.
    pub weight: Weight,
}

/// How much points to a cause, the weightiest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Weight {
    /// It may be a disease.
    Health,
    /// A complaint and a value.
    Both,
    /// A complaint alone.
    Complaint,
    /// A value alone, of which nobody complains.
    Values,
}

impl Likely {
    /// The cause for programs.
    pub fn to_json(&self) -> Value {
        json!({
            "id": self.row.id, "cause": self.row.cause, "check": self.row.check,
            "remedy": self.row.remedy, "counts_as": self.row.counts_as,
            "source": self.row.source, "weight": self.weight, "because": self.because,
        })
    }
}

/// Returns the likely causes, weightiest first.
pub fn likely(recheck: &Job, first: Option<&Job>, comparison: &Comparison) -> Vec<Likely> {
    let order = first.unwrap_or(recheck);
    let kinds = recheck.visit.complaints.as_deref().unwrap_or_default();
    let words = danger_words(recheck.visit.complaint.as_deref().unwrap_or_default());
    let mut list: Vec<Likely> = CAUSES
        .iter()
        .filter_map(|row| {
            let mut because: Vec<String> = kinds
                .iter()
                .filter(|k| row.complaints.contains(k))
                .map(|k| format!("complaint: {}", k.word()))
                .collect();
            let complained = !because.is_empty();
            if row.counts_as == Cause::EyeHealth && row.signs.is_empty() {
                because.extend(
                    words
                        .iter()
                        .filter(|_| row.complaints.contains(&Complaint::Warning))
                        .map(|w| format!("the wearer's words contain \"{w}\"")),
                );
                return (!because.is_empty()).then_some(Likely {
                    row,
                    because,
                    weight: if row.complaints.contains(&Complaint::Warning) {
                        Weight::Health
                    } else {
                        Weight::Complaint
                    },
                });
            }
            let shown: Vec<String> = row
                .signs
                .iter()
                .filter(|s| complained || !s.is_fact())
                .flat_map(|s| shows(*s, order, comparison))
                .collect();
            let weight = match (complained, !shown.is_empty()) {
                (true, true) => Weight::Both,
                (false, true) => Weight::Values,
                (true, false) => Weight::Complaint,
                (false, false) => return None,
            };
            because.extend(shown);
            Some(Likely {
                row,
                because,
                weight,
            })
        })
        .collect();
    list.sort_by_key(|l| l.weight);
    list
}

/// Returns a sentence for each eye or pair that shows a sign; empty where it is absent.
fn shows(sign: Sign, order: &Job, comparison: &Comparison) -> Vec<String> {
    match sign {
        Sign::Before(parameter, way) => {
            differences(comparison, parameter, way, |from| from == Source::Previous)
        }
        Sign::Since(parameter, way) => {
            differences(comparison, parameter, way, |from| from != Source::Previous)
        }
        Sign::Made(parameter) => differences(comparison, parameter, Direction::Any, |_| true),
        Sign::NotAsPrescribed => not_as_prescribed(order),
        _ => fact(sign, order).into_iter().collect(),
    }
}

fn differences(
    comparison: &Comparison,
    parameter: Parameter,
    way: Direction,
    from: impl Fn(Source) -> bool,
) -> Vec<String> {
    let goes = |row: &ComparedRow, size: Option<f64>| match way {
        Direction::Any => true,
        // A longer minus cylinder is a smaller number: more cylinder is what people call more.
        Direction::More | Direction::Less => size.is_some_and(|s| {
            let s = if row.parameter == Parameter::Cylinder {
                -s
            } else {
                s
            };
            if way == Direction::More {
                s > 0.0
            } else {
                s < 0.0
            }
        }),
    };
    comparison
        .rows
        .iter()
        .filter(|r| r.parameter == parameter)
        .filter_map(|r| {
            r.differences
                .iter()
                .filter(|d| d.beyond && from(d.from) && goes(r, d.size))
                .max_by(|a, b| {
                    let size = |s: Option<f64>| s.map_or(0.0, f64::abs);
                    size(a.size).total_cmp(&size(b.size))
                })
                .map(|d| r.says(d))
        })
        .collect()
}

/// The eyes whose order is not the prescription although it says so.
fn not_as_prescribed(order: &Job) -> Vec<String> {
    if order.lenses.powers_as() != Some(PowersAs::Prescribed) {
        return Vec::new();
    }
    Eye::BOTH
        .into_iter()
        .filter_map(|eye| {
            let meant = crate::judge::derive::powers::prescribed(order, eye)?;
            let ordered = crate::judge::derive::powers::ordered(order, eye)?;
            let away = (meant.matrix() - ordered.matrix()).largest_d();
            (away > 0.06).then(|| {
                format!(
                    "{eye}: prescribed {}, ordered {}",
                    crate::judge::derive::powers::written(meant),
                    crate::judge::derive::powers::written(ordered)
                )
            })
        })
        .collect()
}

/// What the order itself shows, without anything to compare.
fn fact(sign: Sign, order: &Job) -> Option<String> {
    let l = &order.lenses;
    match sign {
        Sign::LowAbbe => {
            let m = Material::by_key(l.material.as_deref()?)?;
            let strength = strength_d(order);
            // Fringes are 1/Abbe of the prism looked through (formulas page, chromatic).
            (m.abbe < 36.0 && strength >= 3.0).then(|| {
                format!(
                    "{}, Abbe {:.0}, in a pair of {strength:.2} D",
                    m.key, m.abbe
                )
            })
        }
        Sign::Uncoated => l
            .coatings
            .as_ref()
            .is_some_and(|c| !c.iter().any(|c| c.to_lowercase().contains("reflect")))
            .then(|| "ordered without a coating against reflections".to_owned()),
        Sign::DarkTint => {
            let t = l.tint.as_ref()?;
            let passes = t
                .transmittance_percent
                .map(crate::trade::units::Percent::get);
            (passes.is_some_and(|p| p < 75.0) || t.category.is_some_and(|c| c > 0))
                .then(|| "the tint is darker than driving at dusk allows (75 %)".to_owned())
        }
        Sign::Wrapped => {
            let angle = order.fitting.face_form_deg?.get();
            (angle > 10.0 && l.powers_as() != Some(PowersAs::AsWornCompensated))
                .then(|| format!("face form {angle:.0} degrees, powers not compensated for it"))
        }
        Sign::NoIntermediate => {
            let has_addition = Eye::BOTH
                .iter()
                .any(|e| order.prescription.eye(*e).addition_d.is_some());
            let lacks = matches!(
                l.design,
                Some(Design::SingleVision | Design::Bifocal | Design::Progressive)
            );
            (has_addition && lacks).then(|| {
                format!(
                    "an addition, and a {} pair",
                    l.design.map_or("", Design::word)
                )
            })
        }
        Sign::FirstProgressive => {
            let before = order
                .prescription
                .previous
                .as_ref()
                .and_then(|p| p.design.as_deref())?;
            let is_new = l.design.is_some_and(Design::is_power_variation)
                && !before.to_lowercase().contains("progressive")
                && !before.to_lowercase().contains("varifocal");
            is_new.then(|| format!("a progressive design after a {before} pair"))
        }
        _ => None,
    }
}
