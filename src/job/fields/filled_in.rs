//! What an entry leaves out because it is known: who is acting, what day it is, and the powers that
//! are ordered as prescribed.

use chrono::NaiveDate;
use serde_json::{Map, Value, json};

use super::field::Field;
use super::kind::FieldKind;
use super::record::Record;
use crate::job::{Job, PowersAs, Section, StaffRoll, power_to_order};
use crate::trade::eye::Eye;

/// Returns what a person meant by a short form typed into a field of a staff name: `me` for who is
/// acting, or the beginning of one name on the list. Anything else stays as it was typed.
pub(crate) fn staff_name(
    field: &Field,
    text: &str,
    roll: &StaffRoll,
    acting: Option<&str>,
) -> String {
    if field.kind != FieldKind::Staff || text.is_empty() {
        return text.to_owned();
    }
    if text.eq_ignore_ascii_case("me")
        && let Some(acting) = acting
    {
        return acting.to_owned();
    }
    let typed = text.to_lowercase();
    let mut begin = roll
        .0
        .iter()
        .filter(|m| m.name.to_lowercase().starts_with(&typed));
    match (begin.next(), begin.next()) {
        (Some(only), None) => only.name.clone(),
        _ => text.to_owned(),
    }
}

/// Adds who took a first measurement or reading, and when, to the change that records it: both are
/// then on the screen to be corrected, and one undo removes them together. Where nobody is acting the
/// change stays as it is.
pub(crate) fn signed(
    job: &Job,
    section: Section,
    mut change: Value,
    acting: Option<&str>,
    today: NaiveDate,
) -> Value {
    if section == Section::Lenses {
        return as_prescribed(job, change);
    }
    let (by, on) = match section {
        Section::Fitting => (&job.fitting.taken_by, job.fitting.taken_on),
        Section::Readings => (&job.readings.taken_by, job.readings.taken_on),
        _ => return change,
    };
    let Some(person) = acting else {
        return change;
    };
    // A day that was carried is that of the earlier job's measurements, not of this one.
    let is_carried = job
        .origins
        .contains_key(&format!("{}.taken_on", section.word()));
    if by.is_none()
        && (on.is_none() || is_carried)
        && is_a_value(&change)
        && let Some(map) = change.as_object_mut()
        && !map.contains_key("taken_by")
        && !map.contains_key("taken_on")
    {
        map.insert("taken_by".to_owned(), json!(person));
        map.insert("taken_on".to_owned(), json!(today));
    }
    change
}

/// Adds who answers the first check of a pair or of a handover, and when, to the change that records
/// the answer.
pub(crate) fn signed_answer(
    job: &Job,
    section: Section,
    change: Value,
    acting: &str,
    today: NaiveDate,
) -> Value {
    let (by, on, has_by, has_on) = match section {
        Section::Readings => {
            let r = &job.readings;
            let has = (r.taken_by.is_some(), r.taken_on.is_some());
            ("taken_by", "taken_on", has.0, has.1)
        }
        Section::Handover => {
            let h = &job.handover;
            let has = (h.given_by.is_some(), h.given_on.is_some());
            ("given_by", "given_on", has.0, has.1)
        }
        _ => return change,
    };
    let mut change = match change {
        Value::Object(map) => map,
        _ => Map::new(),
    };
    if !has_by {
        change.insert(by.to_owned(), json!(acting));
    }
    if !has_on {
        change.insert(on.to_owned(), json!(today));
    }
    Value::Object(change)
}

/// What a lens is ordered by, as the prescription has it too.
const POWERS: [&str; 6] = [
    "sphere_d",
    "cylinder_d",
    "axis_deg",
    "addition_d",
    "base_in_delta",
    "base_up_delta",
];

/// Adds the prescribed powers to the change that says that they are ordered as prescribed, where no
/// power is recorded to be ordered yet: nobody types the same figures twice, and each can be corrected.
fn as_prescribed(job: &Job, mut change: Value) -> Value {
    let powers = job.lenses.powers.as_ref();
    let has_sphere = |eye: Eye| powers.is_some_and(|p| p.eye(eye).sphere_d.is_some());
    let says_so = [PowersAs::Prescribed, PowersAs::LaboratoryCompensated]
        .iter()
        .any(|kind| change["powers"]["as"] == kind.word());
    if !says_so || Eye::BOTH.into_iter().any(has_sphere) {
        return change;
    }
    // Design and purpose may come with the same change.
    let mut after = job.clone();
    let lenses = match after.record(Section::Lenses, &change) {
        Ok(()) => after.lenses,
        Err(_) => job.lenses.clone(),
    };
    for eye in Eye::BOTH {
        let power = power_to_order(job.prescription.eye(eye), &lenses);
        for key in POWERS {
            if let Some(value) = power.value_of(key) {
                change["powers"][eye.word()][key] = value.to_json();
            }
        }
    }
    change
}

/// Whether a change sets something; one that only takes values away was measured by nobody.
fn is_a_value(change: &Value) -> bool {
    match change {
        Value::Object(map) => map.values().any(is_a_value),
        other => !other.is_null(),
    }
}
