//! A pair as it stands now: as it was handed over, and as repairs have changed it since.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde_json::Value;

use crate::job::fields::repair_fields;

use super::{Job, Section, TakenAs};

/// A value of a finished pair, with the day from which it holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Stands {
    /// The value as the job file writes it.
    pub value: Value,
    /// Since when.
    pub on: Option<NaiveDate>,
    /// Who set it.
    pub by: Option<String>,
    /// Whether it is as handed over or was adjusted since.
    pub taken_as: TakenAs,
}

/// Returns the pair as it stands: the handover's values, each overlaid by the repairs in the order
/// of their days. The handover itself stays as it was.
pub fn as_it_stands(job: &Job) -> BTreeMap<&'static str, Stands> {
    let handover = job.section(Section::Handover);
    let mut now = BTreeMap::new();
    for field in repair_fields().filter(|field| field.section == Section::Handover) {
        if let Some(value) = field.value_in(&handover) {
            now.insert(
                field.path,
                Stands {
                    value: value.clone(),
                    on: job.handover.given_on,
                    by: job.handover.given_by.clone(),
                    taken_as: TakenAs::HandedOver,
                },
            );
        }
    }
    let aftercare = job.section(Section::Aftercare);
    let written = aftercare["repairs"].as_array().into_iter().flatten();
    let mut repairs: Vec<_> = job.aftercare.repairs.iter().zip(written).collect();
    // A repair that was written down later may have been done earlier.
    repairs.sort_by_key(|(repair, _)| repair.on);
    for (repair, written) in repairs {
        for field in repair_fields() {
            if let Some(value) = field.value_in(written) {
                now.insert(
                    field.path,
                    Stands {
                        value: value.clone(),
                        on: repair.on,
                        by: repair.by.clone(),
                        taken_as: TakenAs::Adjusted,
                    },
                );
            }
        }
    }
    now
}
