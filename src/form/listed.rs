//! Values that have no place of their own on the card or a sheet, and are listed there by name.

use super::at;
use super::at::FieldRef;
use super::write::{Room, known_with_unit};
use crate::job::Job;

/// The fields that are listed by name.
const LISTED: [FieldRef; 2] = [at!(fitting.binocular_pd_mm), at!(fitting.near_pd_mm)];

/// Returns the recorded ones of the fields that are listed, each with its value and unit.
pub fn listed(job: &Job) -> Vec<(FieldRef, String)> {
    LISTED
        .into_iter()
        .filter_map(|field| Some((field, known_with_unit(job, field, Room::Enough)?)))
        .collect()
}

/// Returns them on one line: "PD 63.5 mm · near PD 60 mm".
pub fn listed_line(job: &Job, between: &str) -> String {
    let parts: Vec<String> = listed(job)
        .into_iter()
        .map(|(field, value)| format!("{} {value}", field.label))
        .collect();
    parts.join(between)
}
