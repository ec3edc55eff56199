//! Carrying results of the workbench into the job it was opened from: offered, chosen, recorded.
//!
//! Nothing is carried that was not chosen from a list that shows the old value beside the new one,
//! and it is recorded like any other entry: with its revision, in history, to be taken back.

use std::fmt::Write as _;

use serde_json::{Map, Value, json};

use super::request::{Outcome, at, short};
use super::state::State;
use crate::job::fields;
use crate::job::{Job, PowersAs, Section};
use crate::judge::derive::powers::written;
use crate::judge::rules::remedy;
use crate::practice::{Threshold, Thresholds};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::tui::effect::Deed;
use crate::tui::next::{Next, Question};
use crate::tui::seen::Seen;

/// One thing that can be carried.
#[derive(Debug, Clone, PartialEq)]
struct Offer {
    /// What is said of it: the new value, and the one it takes the place of.
    line: String,
    /// Section of the job.
    section: Section,
    /// The change.
    change: Value,
}

impl State {
    /// Offers what of the result has a place in the job.
    pub(super) fn offer(&mut self, seen: Seen<'_>) -> Next {
        if let Err(why) = self.keep(seen) {
            return Next::complain(why);
        }
        let Some(open) = self.of_job(seen) else {
            return Next::complain(
                "No job is open here: open the workbench from a job to carry results into it.",
            );
        };
        let (Some(calc), Outcome::Worked(result)) = (self.calculation(), &self.outcome) else {
            return Next::complain("There is no result to carry yet.");
        };
        let Some(person) = seen.person else {
            // Who worked a power out is recorded with it, so it has to be known before it is offered.
            let why = "First say who is acting; then carry.";
            return Next::AskWho.and(Next::complain(why));
        };
        if let Some(why) = not_to_be_ordered(calc.name, &open.job, &seen.practice.thresholds) {
            return Next::complain(why);
        }
        let offers = offers(calc.name, self.eye(), result, &open.job, person);
        let Some(first) = offers.first() else {
            return Next::complain(format!(
                "No result of \"{}\" has a place in a job.",
                calc.title
            ));
        };
        let number = &open.number;
        let wearer = open.job.wearer.name.as_deref().unwrap_or("");
        let mut title = format!("Carry into job {number} {wearer}?");
        if let Some(kind) = first.change.pointer("/powers/as").and_then(Value::as_str) {
            let before = open
                .job
                .lenses
                .powers_as()
                .map_or("not said", PowersAs::word);
            // A String takes every write.
            let _ = write!(
                title,
                " The ordered powers of both eyes are then recorded as {kind} by {person} (now: {before})."
            );
        }
        // The revision at which the old values were read.
        let revision = open.revision;
        let carried = |o: Offer| {
            let said = format!("Carried into job {number}: {}.", o.line);
            let deed = Deed::Record {
                number: number.clone(),
                section: o.section,
                change: o.change,
                revision,
                field: None,
                is_undo: false,
            };
            (o.line, Next::Answer(said).and(Next::Act(deed)))
        };
        Next::Ask(Question::choose(
            title,
            offers.into_iter().map(carried).collect(),
        ))
    }

    /// Whether something of the result has a place in the job the workbench was opened from.
    pub(super) fn can_carry(&self, seen: Seen<'_>) -> bool {
        let (Some(open), Some(calc), Outcome::Worked(result)) =
            (self.of_job(seen), self.calculation(), &self.outcome)
        else {
            return false;
        };
        let by = seen.person.unwrap_or_default();
        not_to_be_ordered(calc.name, &open.job, &seen.practice.thresholds).is_none()
            && !offers(calc.name, self.eye(), result, &open.job, by).is_empty()
    }
}

/// Why a compensated power is not to be ordered: a vertex distance of the job is none that a pair is
/// worn at, and the gate holds it (`vertex-range`).
fn not_to_be_ordered(name: &str, job: &Job, thresholds: &Thresholds) -> Option<String> {
    let is_compensation = matches!(name, "vertex" | "oblique_compensate" | "as_worn_compensate");
    (is_compensation && !remedy::is_worn_there(job, thresholds)).then(|| {
        format!(
            "A vertex distance of this job is outside {} to {} mm, where a pair is worn: measure it again before any power is ordered for it.",
            thresholds.get(Threshold::VertexLow),
            thresholds.get(Threshold::VertexHigh)
        )
    })
}

/// Returns what of a result has a place in a job.
fn offers(name: &str, eye: Eye, result: &Value, job: &Job, person: &str) -> Vec<Offer> {
    let number = |path: &str| at(result, path).and_then(Value::as_f64);
    match name {
        "vertex" => {
            let path = if result.get("rounded").is_some() {
                "rounded"
            } else {
                "exact"
            };
            let kind = PowersAs::VertexCompensated;
            ordered(eye, at(result, path), job, Some((kind, person)))
                .into_iter()
                .collect()
        }
        "oblique_compensate" | "as_worn_compensate" => {
            let kind = PowersAs::AsWornCompensated;
            ordered(eye, at(result, "rx"), job, Some((kind, person)))
                .into_iter()
                .collect()
        }
        // The same power in its other form is still what it was said to be.
        "transpose" => ordered(eye, at(result, "rx"), job, None)
            .into_iter()
            .collect(),
        "near_centration" => number("near_cd_mm")
            .and_then(|mm| {
                single(
                    &format!("fitting.{eye}.near_cd_mm"),
                    "near CD",
                    tenth(mm),
                    job,
                )
            })
            .into_iter()
            .collect(),
        // A smaller blank than the smallest would not cover the shape.
        "blank" => number("minimum_mm")
            .and_then(|mm| {
                single(
                    "lenses.blank_mm",
                    "blank, up to the next mm",
                    mm.ceil(),
                    job,
                )
            })
            .into_iter()
            .collect(),
        "thickness" => number("centre_mm")
            .and_then(|mm| single("lenses.centre_mm", "centre thickness", tenth(mm), job))
            .into_iter()
            .collect(),
        "prism_resolve" => prism(eye, number("base_in_delta"), number("base_up_delta"), job),
        _ => Vec::new(),
    }
}

fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

fn hundredth(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}

/// The ordered power of an eye, and what the ordered powers then are.
fn ordered(
    eye: Eye,
    power: Option<&Value>,
    job: &Job,
    kind: Option<(PowersAs, &str)>,
) -> Option<Offer> {
    let part = |key: &str| power?.get(key)?.as_f64();
    let cylinder = hundredth(part("cylinder_d")?);
    let axis = part("axis_deg")?.round().rem_euclid(180.0);
    let axis = if axis < 0.5 { 180.0 } else { axis };
    let new = Rx::new(hundredth(part("sphere_d")?), cylinder, axis);
    let has_cylinder = cylinder.abs() > 0.0;
    let one = json!({
        "sphere_d": new.sphere_d,
        "cylinder_d": has_cylinder.then_some(cylinder),
        "axis_deg": has_cylinder.then_some(axis),
    });
    let mut powers = Map::new();
    powers.insert(eye.word().to_owned(), one);
    if let Some((kind, person)) = kind {
        powers.insert("as".to_owned(), json!(kind.word()));
        powers.insert("by".to_owned(), json!(person));
    }
    let now = job.lenses.powers.as_ref().and_then(|p| p.eye(eye).rx());
    Some(Offer {
        line: format!(
            "ordered {eye} := {} (now {})",
            plain(new),
            now.map_or_else(|| "nothing".to_owned(), plain)
        ),
        section: Section::Lenses,
        change: json!({"powers": powers}),
    })
}

/// A power in the form it has, to the hundredth.
fn plain(rx: Rx) -> String {
    if rx.cylinder_d > 0.0 {
        format!(
            "{:+.2} / {:+.2} x {:.0}",
            rx.sphere_d, rx.cylinder_d, rx.axis_deg
        )
    } else {
        written(rx)
    }
}

/// One number of the job.
fn single(path: &str, what: &str, value: f64, job: &Job) -> Option<Offer> {
    let field = fields::find(path)?;
    let now = fields::show(job, field);
    let now = if now.is_empty() {
        "nothing".to_owned()
    } else {
        now
    };
    let eye = field.eye.map_or_else(String::new, |e| format!(" {e}"));
    Some(Offer {
        line: format!("{what}{eye} := {} {} (now {now})", short(value), field.unit),
        section: field.section,
        change: fields::change(field, json!(value)),
    })
}

/// Prism in its parts, as it was prescribed or as it is ordered.
fn prism(eye: Eye, base_in: Option<f64>, base_up: Option<f64>, job: &Job) -> Vec<Offer> {
    let (Some(base_in), Some(base_up)) = (base_in.map(hundredth), base_up.map(hundredth)) else {
        return Vec::new();
    };
    [("prescription", "prescribed"), ("lenses.powers", "ordered")]
        .iter()
        .filter_map(|(place, word)| {
            let find = |key: &str| fields::find(&format!("{place}.{eye}.{key}"));
            let (across, upright) = (find("base_in_delta")?, find("base_up_delta")?);
            let mut change = fields::change(across, json!(base_in));
            json_patch::merge(&mut change, &fields::change(upright, json!(base_up)));
            let new = [(across, base_in), (upright, base_up)]
                .map(|(f, v)| fields::show_value(f, Some(&json!(v))))
                .join(", ");
            let now = [across, upright]
                .map(|f| fields::show(job, f))
                .into_iter()
                .filter(|t| !t.is_empty())
                .collect::<Vec<_>>()
                .join(", ");
            let now = if now.is_empty() {
                "nothing".to_owned()
            } else {
                now
            };
            Some(Offer {
                line: format!("{word} prism {eye} := {new} (now {now})"),
                section: across.section,
                change,
            })
        })
        .collect()
}
