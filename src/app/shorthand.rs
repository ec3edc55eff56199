//! Fewer keys for what the program knows already: who is acting, and what day it is.

use serde_json::{Value, json};

use super::App;
use crate::form::{Field, Kind};
use crate::job::{Job, PowersAs, Section, StaffRoll};

/// Returns what a person meant by a short form typed into a field of a staff name: `me` for who is
/// acting, or the beginning of one name on the list. Anything else stays as it was typed.
pub(crate) fn name(field: &Field, text: &str, roll: &StaffRoll, acting: Option<&str>) -> String {
    if field.kind != Kind::Staff || text.is_empty() {
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
/// then on the screen to be corrected, and undo takes them back together.
pub(crate) fn signed(app: &App, job: &Job, section: Section, mut change: Value) -> Value {
    if section == Section::Lenses {
        return as_prescribed(job, change);
    }
    let (by, on) = match section {
        Section::Fitting => (&job.fitting.taken_by, job.fitting.taken_on),
        Section::Readings => (&job.readings.taken_by, job.readings.taken_on),
        _ => return change,
    };
    let Some(person) = app.person.as_deref() else {
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
        map.insert("taken_on".to_owned(), json!(app.today));
    }
    change
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
    let stands = job.section(Section::Lenses);
    let is_empty = |eye: &str| stands["powers"][eye]["sphere_d"].is_null();
    let says_so = change["powers"]["as"] == json!(PowersAs::Prescribed);
    if !says_so || !is_empty("right") || !is_empty("left") {
        return change;
    }
    let prescribed = job.section(Section::Prescription);
    for eye in ["right", "left"] {
        for key in POWERS {
            let value = &prescribed[eye][key];
            if !value.is_null() {
                change["powers"][eye][key] = value.clone();
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
