//! The text of a value on the card.

use super::card_data::Written;
use super::card_line::MISSING;
use crate::job::fields::{self, FieldRef, JobPart, at, sibling};
use crate::trade::eye::Eye;

/// Returns the value of a field, or a dash.
pub(super) fn at(job: &Written<'_>, field: FieldRef) -> String {
    known(job, field).unwrap_or_else(|| MISSING.to_owned())
}

/// Returns the value of a field when there is one.
pub(super) fn known(job: &Written<'_>, field: FieldRef) -> Option<String> {
    fields::known(job, field)
}

/// Returns "R 31.5 L 31" of a field of both eyes.
pub(super) fn both(job: &Written<'_>, of: impl Fn(Eye) -> FieldRef) -> String {
    format!("R {} L {}", at(job, of(Eye::Right)), at(job, of(Eye::Left)))
}

/// Returns "12/12.5" of a field of both eyes, right first; one dash when neither is known.
pub(super) fn short_both(job: &Written<'_>, of: impl Fn(Eye) -> FieldRef) -> String {
    match (known(job, of(Eye::Right)), known(job, of(Eye::Left))) {
        (None, None) => MISSING.to_owned(),
        (right, left) => {
            let or_dash = |v: Option<String>| v.unwrap_or_else(|| MISSING.to_owned());
            format!("{}/{}", or_dash(right), or_dash(left))
        }
    }
}

/// Returns an angle with its degree sign, or a dash.
pub(super) fn angle(job: &Written<'_>, field: FieldRef) -> String {
    known(job, field).map_or_else(|| MISSING.to_owned(), |a| format!("{a}°"))
}

/// Returns one eye's prescription, such as "-2.00/-0.50x180 add +2.00".
pub(super) fn prescription(job: &Written<'_>, eye: Eye) -> String {
    powers(job, at!(prescription[eye].sphere_d))
}

/// Returns the powers that a sphere belongs to as they are written.
pub(super) fn powers(job: &Written<'_>, sphere: FieldRef) -> String {
    let key = |k: &str| known(job, sibling(sphere, k)?);
    let balance = sphere.place == JobPart::PrescriptionEye
        && sphere
            .eye
            .is_some_and(|eye| job.prescription.eye(eye).is_balance());
    let mut text = match key("sphere_d") {
        Some(sphere) if sphere == "0.00" => "plano".to_owned(),
        Some(sphere) => sphere,
        None if balance => "balance".to_owned(),
        None => return MISSING.to_owned(),
    };
    if let Some(cylinder) = key("cylinder_d").filter(|c| c != "0.00") {
        let axis = key("axis_deg").unwrap_or_else(|| MISSING.to_owned());
        text = format!("{text}/{cylinder}x{axis}");
    }
    if let Some(addition) = key("addition_d") {
        text = format!("{text} add {addition}");
    }
    for prism in ["base_in_delta", "base_up_delta"]
        .into_iter()
        .filter_map(key)
    {
        if prism != "0.00" {
            text = format!("{text} {prism}");
        }
    }
    if balance && !text.starts_with("balance") {
        text.push_str(" balance");
    }
    text
}

/// Returns the parts that are known, joined by blanks, or a dash.
pub(super) fn joined(parts: impl IntoIterator<Item = Option<String>>, between: &str) -> String {
    let known: Vec<String> = parts.into_iter().flatten().collect();
    if known.is_empty() {
        MISSING.to_owned()
    } else {
        known.join(between)
    }
}
