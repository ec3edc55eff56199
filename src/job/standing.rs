//! A pair as it stands now: as it was handed over, and as repairs have changed it since.
//!
//! One value at a time: what a repair does not name stays as it was, also where the value is one of
//! several of a part, such as the pads.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::job::fields::{Field, FieldValue, repair_fields};

use super::{Job, Section, TakenAs};

/// A value of a finished pair, with the day from which it holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Stands<'a> {
    /// The value.
    pub value: FieldValue<'a>,
    /// Since when.
    pub on: Option<NaiveDate>,
    /// Who set it.
    pub by: Option<String>,
    /// Whether it is as handed over or was adjusted since.
    pub taken_as: TakenAs,
}

/// Returns the value that repairs have set, the latest by its day; `None` where none did.
///
/// A repair that was written down later may have been done earlier. Of several on one day the one
/// written down last holds.
pub(crate) fn set_by_repairs<'a>(job: &'a Job, field: &Field) -> Option<Stands<'a>> {
    let repairs = job.aftercare.repairs.iter();
    let set = repairs.filter_map(|repair| Some((repair, field.read_repair(repair)?)));
    let (repair, value) = set.max_by_key(|(repair, _)| repair.on)?;
    Some(Stands {
        value,
        on: repair.on,
        by: repair.by.clone(),
        taken_as: TakenAs::Adjusted,
    })
}

/// Returns a value as it was handed over; `None` for one that the handover does not have.
fn handed_over<'a>(job: &'a Job, field: &Field) -> Option<Stands<'a>> {
    if field.section != Section::Handover {
        return None;
    }
    Some(Stands {
        value: field.read(job)?,
        on: job.handover.given_on,
        by: job.handover.given_by.clone(),
        taken_as: TakenAs::HandedOver,
    })
}

/// Returns the pair as it stands, by the paths of its values: the handover's values, each replaced
/// by those of the repairs in the order of their days. The handover itself stays as it was.
pub fn as_it_stands(job: &Job) -> BTreeMap<&'static str, Stands<'_>> {
    repair_fields()
        .filter_map(|field| {
            let stands = set_by_repairs(job, field).or_else(|| handed_over(job, field))?;
            Some((field.path, stands))
        })
        .collect()
}

/// Returns a value that a repair may change as it is now: as repaired, else as handed over, else as
/// it was measured or recorded of the frame.
pub(crate) fn value_now<'a>(job: &'a Job, field: &Field) -> Option<FieldValue<'a>> {
    set_by_repairs(job, field)
        .map(|stands| stands.value)
        .or_else(|| field.read(job))
}
