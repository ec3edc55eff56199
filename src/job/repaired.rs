//! The values of a handed-over pair now: as handed over, or as the latest repair set them.
//!
//! Repairs replace single values: what a repair does not name stays as it was, also where the value is
//! one of several of a part, such as the pads.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::job::fields::{Field, FieldValue, repair_fields};

use super::{Job, Section, TakenAs};

/// A value of the handover, or the value that a repair has put in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct HandoverValue<'a> {
    /// The value.
    pub value: FieldValue<'a>,
    /// The day of the handover or of the repair; `None` where it was not recorded.
    pub on: Option<NaiveDate>,
    /// Who handed the pair over or repaired it.
    pub by: Option<String>,
    /// Whether it is as handed over or was adjusted since.
    pub taken_as: TakenAs,
}

/// Returns the value that repairs have set, the latest by its day; `None` where none did.
///
/// A repair that was written down later may have been done earlier. Of several on one day the one
/// written down last holds.
pub(crate) fn set_by_repairs<'a>(job: &'a Job, field: &Field) -> Option<HandoverValue<'a>> {
    let repairs = job.aftercare.repairs.iter();
    let set = repairs.filter_map(|repair| Some((repair, field.read_repair(repair)?)));
    let (repair, value) = set.max_by_key(|(repair, _)| repair.on)?;
    Some(HandoverValue {
        value,
        on: repair.on,
        by: repair.by.clone(),
        taken_as: TakenAs::Adjusted,
    })
}

/// Returns a value as it was handed over; `None` for one that the handover does not have.
fn handed_over<'a>(job: &'a Job, field: &Field) -> Option<HandoverValue<'a>> {
    if field.section != Section::Handover {
        return None;
    }
    Some(HandoverValue {
        value: field.read(job)?,
        on: job.handover.given_on,
        by: job.handover.given_by.clone(),
        taken_as: TakenAs::HandedOver,
    })
}

/// Returns the current values of the handover by their paths: each as the latest repair set it, else as
/// it was handed over. The job is not changed.
pub fn handover_now(job: &Job) -> BTreeMap<&'static str, HandoverValue<'_>> {
    repair_fields()
        .filter_map(|field| {
            let current = set_by_repairs(job, field).or_else(|| handed_over(job, field))?;
            Some((field.path, current))
        })
        .collect()
}

/// Returns a value that a repair may change as it is now: as repaired, else as handed over, else as
/// it was measured or recorded of the frame.
pub(crate) fn value_now<'a>(job: &'a Job, field: &Field) -> Option<FieldValue<'a>> {
    set_by_repairs(job, field)
        .map(|current| current.value)
        .or_else(|| field.read(job))
}
