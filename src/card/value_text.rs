//! The text of a value on the card.

use super::card_data::Written;
use super::card_line::MISSING;
use crate::eye::Eye;
use crate::form::{find, show_value};

/// Returns the value at a path of the job, or a dash.
pub(super) fn at(job: &Written<'_>, path: &str) -> String {
    known(job, path).unwrap_or_else(|| MISSING.to_owned())
}

/// Returns the value at a path of the job when there is one.
pub(super) fn known(job: &Written<'_>, path: &str) -> Option<String> {
    find(path)
        .map(|f| show_value(f, job.written(f.section).and_then(|s| f.value_in(s))))
        .filter(|s| !s.trim().is_empty())
}

/// Returns "R 31.5 L 31" of a key of both eyes.
pub(super) fn both(job: &Written<'_>, section: &str, key: &str) -> String {
    format!(
        "R {} L {}",
        at(job, &format!("{section}.right.{key}")),
        at(job, &format!("{section}.left.{key}"))
    )
}

/// Returns "12/12.5" of a key of both eyes, right first; one dash when neither is known.
pub(super) fn short_both(job: &Written<'_>, section: &str, key: &str) -> String {
    let eye = |e: Eye| known(job, &format!("{section}.{}.{key}", e.word()));
    match (eye(Eye::Right), eye(Eye::Left)) {
        (None, None) => MISSING.to_owned(),
        (right, left) => {
            let or_dash = |v: Option<String>| v.unwrap_or_else(|| MISSING.to_owned());
            format!("{}/{}", or_dash(right), or_dash(left))
        }
    }
}

/// Returns an angle with its degree sign, or a dash.
pub(super) fn angle(job: &Written<'_>, path: &str) -> String {
    known(job, path).map_or_else(|| MISSING.to_owned(), |a| format!("{a}°"))
}

/// Returns one eye's prescription, such as "-2.00/-0.50x180 add +2.00".
pub(super) fn prescription(job: &Written<'_>, eye: Eye) -> String {
    powers(job, "prescription", eye)
}

/// Returns one eye's powers in a section; "plano" for 0.00, a dash where unknown.
pub(super) fn powers(job: &Written<'_>, section: &str, eye: Eye) -> String {
    let key = |k: &str| known(job, &format!("{section}.{}.{k}", eye.word()));
    let balance = section == "prescription" && job.prescription.eye(eye).is_balance();
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
