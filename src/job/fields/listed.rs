//! Values that have no place of their own on the card or a sheet, and are listed there by name.

use super::at::FieldRef;
use super::record::Shown;
use super::row::copy_from_other_eye;
use super::table::all_fields;
use super::write::{Room, known_with_unit};
use crate::job::Job;
use crate::trade::eye::Eye;

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
    in_words(&listed(job)).join(between)
}

/// Returns recorded values in words, each with its label: of an eye with its name, of both eyes once
/// where they have the same.
pub(crate) fn in_words(values: &[(FieldRef, String)]) -> Vec<String> {
    let is_twin = |a: &(FieldRef, String), b: &(FieldRef, String)| {
        a.0.eye != b.0.eye && *a.1 == *b.1 && copy_from_other_eye(a.0) == Some(b.0)
    };
    let mut words = Vec::new();
    for one in values {
        let (field, value) = one;
        let twin = values.iter().find(|other| is_twin(one, other));
        match (field.eye, twin) {
            (None, _) => words.push(format!("{} {value}", field.label)),
            (Some(Eye::Right), Some(_)) => {
                words.push(format!("{} {value} in both eyes", field.label));
            }
            (Some(Eye::Left), Some(_)) => {}
            (Some(eye), None) => words.push(format!("{eye} {} {value}", field.label)),
        }
    }
    words
}
