//! Values that have no place of their own on the card or a sheet, and are listed there by name.

use super::at::FieldRef;
use super::record::Shown;
use super::table::all_fields;
use super::write::{Room, known_with_unit};
use crate::job::Job;

/// Returns the recorded ones of the fields that are listed, each with its value and unit.
pub(crate) fn listed(job: &Job) -> Vec<(FieldRef, String)> {
    all_fields()
        .iter()
        .filter(|field| field.shown() == Shown::Listed)
        .filter_map(|field| Some((field, known_with_unit(job, field, Room::Enough)?)))
        .collect()
}

/// Returns them on one line: "PD 63.5 mm · near PD 60 mm".
pub(crate) fn listed_line(job: &Job, between: &str) -> String {
    let parts: Vec<String> = listed(job)
        .into_iter()
        .map(|(field, value)| format!("{} {value}", field.label))
        .collect();
    parts.join(between)
}
