//! The values a job has for the inputs of a calculation.

use super::calculation::{Calculation, Input};
use super::request::{InputValue, Origin, figure, power_text, short};
use crate::job::Job;
use crate::job::fields;
use crate::judge::derive::{compensation, lens, places, powers, verification};
use crate::practice::Practice;
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;

/// Returns the values that the table begins with.
pub(super) fn examples(calc: &Calculation) -> Vec<InputValue> {
    calc.inputs
        .iter()
        .map(|i| InputValue {
            text: i.example.clone(),
            origin: Origin::Example,
        })
        .collect()
}

/// Returns the eye whose values a sheet shows.
pub(super) fn eye_of(calc: &Calculation, entries: &[InputValue]) -> Eye {
    let said = calc.place("eye").or_else(|| calc.place("@eye"));
    match said.and_then(|i| entries.get(i)) {
        Some(entry) if entry.text == "left" => Eye::Left,
        _ => Eye::Right,
    }
}

/// Puts the values of a job beside the inputs; what a person typed stays.
///
/// What the job does not have is left empty, so that no example is taken for the wearer's.
pub(super) fn from_job(
    calc: &Calculation,
    entries: &mut [InputValue],
    job: &Job,
    practice: &Practice,
) {
    let eye = eye_of(calc, entries);
    for (input, entry) in calc.inputs.iter().zip(entries) {
        let is_eye = input.key == "eye" || input.key == "@eye";
        if entry.origin == Origin::Typed || is_eye {
            continue;
        }
        let (text, origin) = match value(calc.name, input, job, practice, eye) {
            Some(found) => found,
            None if input.usual => (input.example.clone(), Origin::Example),
            None => (String::new(), Origin::Example),
        };
        *entry = InputValue { text, origin };
    }
}

/// The value of one input, and whether the job has it or a rule gives it.
fn value(
    name: &str,
    input: &Input,
    job: &Job,
    practice: &Practice,
    eye: Eye,
) -> Option<(String, Origin)> {
    let of_job = |text: Option<String>| text.map(|t| (t, Origin::Job));
    let ruled = |recorded: bool, value: Option<f64>| {
        let origin = if recorded { Origin::Job } else { Origin::Rule };
        value.map(|v| (short(v), origin))
    };
    let key = input.key.as_str();
    if name == "tolerance" {
        return of_job(compared(key, job, practice));
    }
    if let Some((whose, part)) = rx_part(key) {
        return of_job(rx(name, whose, job, eye).and_then(|rx| part_of(rx, part)));
    }
    let eye_key = |path: &str| format!("{path}.{eye}.{key}");
    match key {
        "from_mm" => of_job(field(job, "prescription.tested_vertex_mm")),
        "to_mm" => of_job(powers::fitted_vertex_mm(job).map(short)),
        "vertex_mm" | "cd_mm" => of_job(field(job, &eye_key("fitting"))),
        "index" => of_job(lens::material(job).map(|m| short(m.n_d))),
        "density" => of_job(lens::material(job).map(|m| short(m.density_g_cm3))),
        "front_d" => ruled(job.lenses.base_d.is_some(), lens::front_d(job, eye)),
        "base_d" => ruled(job.lenses.base_d.is_some(), lens::base_d(job, eye)),
        "centre_mm" if name == "thickness" => of_job(field(job, "lenses.centre_mm")),
        "centre_mm" => ruled(
            job.lenses.centre_mm.is_some(),
            lens::lens_thickness(job, eye).map(|t| t.centre_mm),
        ),
        // Only one of the two is taken, and an ordered centre goes before.
        "thinnest_mm" if job.lenses.centre_mm.is_some() => None,
        "thinnest_mm" => of_job(field(job, "lenses.thinnest_mm")).or_else(|| {
            let t = lens::lens_thickness(job, eye)?;
            Some((short(t.edge_min_mm.min(t.centre_mm)), Origin::Rule))
        }),
        "frame.a_mm" | "frame.b_mm" | "frame.dbl_mm" | "frame.ed_mm" => of_job(field(job, key)),
        "in_mm" if name != "prism_at" => {
            of_job(places::centration_point(job, eye).map(|p| short(p.in_mm)))
        }
        "up_mm" if name != "prism_at" => {
            of_job(places::centration_point(job, eye).map(|p| short(p.up_mm)))
        }
        "right.cd_mm" => of_job(places::ordered_cd_mm(job, Eye::Right).map(short)),
        "left.cd_mm" => of_job(places::ordered_cd_mm(job, Eye::Left).map(short)),
        "right.height_mm" | "left.height_mm" | "pantoscopic_deg" | "face_form_deg" => {
            of_job(field(job, &format!("fitting.{key}")))
        }
        "working_mm" => of_job(field(job, "prescription.working_mm")),
        "power_d" => of_job(powers::prescribed(job, eye).map(|rx| power_text(rx.matrix().xx))),
        "addition_d" | "base_in_delta" | "base_up_delta" => {
            of_job(field(job, &eye_key("prescription")))
        }
        "top_to_centre_mm" => of_job(field(job, "lenses.segment.top_to_centre_mm")),
        _ => None,
    }
}

/// Splits a key of a power into whose it is and which part.
fn rx_part(key: &str) -> Option<(&str, &str)> {
    let (whose, part) = key.rsplit_once('.')?;
    matches!(part, "sphere_d" | "cylinder_d" | "axis_deg").then_some((whose, part))
}

/// The power of a job that a calculation is most likely asked about.
fn rx(name: &str, whose: &str, job: &Job, eye: Eye) -> Option<Rx> {
    match (name, whose) {
        (_, "right") => powers::ordered_or_prescribed(job, Eye::Right),
        (_, "left") => powers::ordered_or_prescribed(job, Eye::Left),
        ("difference", "from") | ("vertex", _) => powers::prescribed(job, eye),
        ("difference", "to") => powers::ordered(job, eye),
        // What is wanted as worn is the prescription brought to the distance it is worn at.
        ("oblique_compensate" | "as_worn_compensate", _) => {
            compensation::vertex_compensated(job, eye)
        }
        ("combine", _) => None,
        _ => powers::ordered_or_prescribed(job, eye),
    }
}

fn part_of(rx: Rx, part: &str) -> Option<String> {
    let has_cylinder = rx.cylinder_d.abs() >= 0.0005;
    match part {
        "sphere_d" => Some(power_text(rx.sphere_d)),
        "cylinder_d" => has_cylinder.then(|| power_text(rx.cylinder_d)),
        _ => has_cylinder.then(|| short(rx.axis_deg)),
    }
}

/// A value of the comparison of a pair with its order.
fn compared(key: &str, job: &Job, practice: &Practice) -> Option<String> {
    let (side, rest) = match key {
        "standard" => return Some(practice.standard.name().to_owned()),
        "lens_kind" => return Some(verification::lens_kind(job).name().to_owned()),
        key => key.split_once('.')?,
    };
    if side == "measured" {
        return field(job, &format!("readings.{rest}"));
    }
    let (eye, part) = rest.split_once('.')?;
    let eye = if eye == "left" { Eye::Left } else { Eye::Right };
    let ordered = (*verification::ordered_pair(job).get(eye))?;
    let value = match part {
        "sphere_d" => return Some(power_text(ordered.sphere_d)),
        "cylinder_d" => {
            return (ordered.cylinder_d.abs() > 0.0).then(|| power_text(ordered.cylinder_d));
        }
        "axis_deg" => ordered.axis_deg,
        "addition_d" => ordered.addition_d,
        "base_in_delta" => ordered.base_in_delta,
        "base_up_delta" => ordered.base_up_delta,
        "cd_mm" => ordered.cd_mm,
        "height_mm" => ordered.height_mm,
        _ => None,
    };
    value.map(short)
}

/// A number of the job as it is typed.
fn field(job: &Job, path: &str) -> Option<String> {
    let value = fields::find(path)?.value(job)?.as_f64()?;
    let text = if path.ends_with("sphere_d") || path.ends_with("cylinder_d") {
        power_text(value)
    } else {
        short(value)
    };
    figure(&text).map(|_| text)
}
