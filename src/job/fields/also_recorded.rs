//! Recorded values that a view of a job does not show, so that nothing is typed and then lost from
//! sight.

use serde_json::Value;

use super::at::FieldRef;
use super::show::show;
use super::table::all_fields;
use super::write::{Room, known_with_unit};
use crate::job::{Job, Section};

/// Returns the recorded fields of a job that no line of a view shows, each with its value and unit.
///
/// `view` makes the lines of a job. A field is shown where a line has its value as it is written and
/// reads otherwise once the value is taken out of the job.
pub(crate) fn also_recorded(
    job: &Job,
    view: impl Fn(&Job) -> Vec<String>,
) -> Vec<(FieldRef, String)> {
    let whole = view(job);
    let written = serde_json::to_value(job).unwrap_or_default();
    all_fields()
        .iter()
        .filter_map(|field| Some((field, known_with_unit(job, field, Room::Enough)?)))
        .filter(|(field, _)| {
            let value = show(job, field);
            // Most that is not shown is found without making the view again.
            let has_value = |line: &&String| line.contains(&value);
            if !whole.iter().any(|line| has_value(&line)) {
                return true;
            }
            let Some(without) = without(&written, field) else {
                return true;
            };
            let rest = view(&without);
            !whole
                .iter()
                .filter(has_value)
                .any(|line| !rest.contains(line))
        })
        .collect()
}

/// The job without one value.
fn without(written: &Value, field: FieldRef) -> Option<Job> {
    let mut written = written.clone();
    let section = match field.section {
        Section::Job => &mut written,
        section => written.get_mut(section.word())?,
    };
    let (parts, key) = field.path.rsplit_once('.').unwrap_or(("", field.path));
    let part = parts
        .split('.')
        .filter(|part| !part.is_empty())
        .try_fold(section, |at, part| at.get_mut(part))?;
    part.as_object_mut()?.remove(key)?;
    serde_json::from_value(written).ok()
}
