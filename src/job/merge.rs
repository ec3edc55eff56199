//! How a section is written, and how a change is merged into one.

use chrono::NaiveDate;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::days;
use super::file::{JobFileError, read_removed, read_value, write_value, wrong};
use super::heights_to_read_again::ChangeSource;
use super::{
    Aftercare, Fitting, Frame, Handover, Job, Lenses, Moment, Order, Prescription, Readings,
    Reason, RecordError, Section, Visit, Wearer,
};
use crate::job::fields;

/// The job's own keys that may be recorded.
#[derive(Debug, Clone, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields, default)]
struct Own {
    reason: Option<Reason>,
    linked_to: Option<String>,
    promised_on: Option<NaiveDate>,
    collection_at: Option<Moment>,
}

impl Job {
    /// Returns one section as the job file writes it, without what is absent.
    ///
    /// # Errors
    /// [`JobFileError`] when the section cannot be written as JSON. Nothing is taken for absent then.
    pub fn section(&self, section: Section) -> Result<Value, JobFileError> {
        let root = section.word();
        match section {
            Section::Job => write_value(
                &Own {
                    reason: self.reason,
                    linked_to: self.linked_to.clone(),
                    promised_on: self.promised_on,
                    collection_at: self.collection_at,
                },
                root,
            ),
            Section::Wearer => write_value(&self.wearer, root),
            Section::Prescription => write_value(&self.prescription, root),
            Section::Fitting => write_value(&self.fitting, root),
            Section::Frame => write_value(&self.frame, root),
            Section::Lenses => write_value(&self.lenses, root),
            Section::Order => write_value(&self.order, root),
            Section::Readings => write_value(&self.readings, root),
            Section::Handover => write_value(&self.handover, root),
            Section::Origins => write_value(&self.origins, root),
            Section::Visit => write_value(&self.visit, root),
            Section::Aftercare => write_value(&self.aftercare, root),
        }
    }

    /// Returns the value of the field at a path from the job, such as `fitting.right.cd_mm`; `None`
    /// where the table has no such field, too.
    pub fn value_at(&self, path: &str) -> Option<Value> {
        fields::find(path)?.value(self)
    }

    /// Merges a change into one section by RFC 7396 (null removes a value).
    ///
    /// # Errors
    /// [`RecordError`] naming the place; the job is then as it was.
    pub fn record(&mut self, section: Section, change: &Value) -> Result<(), RecordError> {
        self.merge(section, change, ChangeSource::Entered)
    }

    /// Takes an entry back: merges what [`Job::undoing_change`] returned for it. A height that it brings
    /// back was not read now, so no mark of `handover.adjusted_after_heights` goes with it.
    ///
    /// # Errors
    /// As [`Job::record`].
    pub fn undo_change(&mut self, section: Section, back: &Value) -> Result<(), RecordError> {
        self.merge(section, back, ChangeSource::Undone)
    }

    fn merge(
        &mut self,
        section: Section,
        change: &Value,
        source: ChangeSource,
    ) -> Result<(), RecordError> {
        if !change.is_object() {
            return Err(RecordError::NotAnObject);
        }
        known_removals(section, change)?;
        if let Some((place, day)) = days::out_of_reach(change) {
            let place = format!("{}.{place}", section.word());
            return Err(wrong(place, days::why(day)).into());
        }
        let mut merged = self.section(section)?;
        json_patch::merge(&mut merged, change);
        match section {
            Section::Job => {
                let own: Own = parse(section, &merged)?;
                self.reason = own.reason;
                self.linked_to = own.linked_to;
                self.promised_on = own.promised_on;
                self.collection_at = own.collection_at;
            }
            Section::Wearer => {
                let wearer: Wearer = parse(section, &merged)?;
                if wearer.name.as_deref().is_none_or(|n| n.trim().is_empty()) {
                    return Err(RecordError::Nameless);
                }
                self.wearer = wearer;
            }
            Section::Prescription => self.prescription = parse(section, &merged)?,
            Section::Fitting => self.fitting = parse(section, &merged)?,
            Section::Frame => {
                let frame = parse(section, &merged)?;
                let before = std::mem::replace(&mut self.frame, frame);
                self.note_other_pads(&before, source);
            }
            Section::Lenses => {
                let lenses = parse(section, &merged)?;
                let before = std::mem::replace(&mut self.lenses, lenses);
                self.note_other_design(&before);
            }
            Section::Order => self.order = parse(section, &merged)?,
            Section::Readings => self.readings = parse(section, &merged)?,
            Section::Handover => {
                let before = self.section(section)?;
                let stood = self.handover.clone();
                self.handover = parse(section, &merged)?;
                if let Err(refused) = self.note_adjusted(&before, change, source) {
                    self.handover = stood;
                    return Err(refused);
                }
            }
            Section::Origins => self.origins = parse(section, &merged)?,
            Section::Visit => self.visit = parse(section, &merged)?,
            Section::Aftercare => self.aftercare = parse(section, &merged)?,
        }
        self.end_origins(section.word(), change);
        Ok(())
    }

    /// Gives a value the origin of the one that it was copied from: the copy was not taken for this job
    /// either. Of a value that was taken for this job, a copy is this job's own.
    pub fn take_over_origin(&mut self, from: &str, to: &str) {
        match self.origins.get(from).cloned() {
            Some(origin) => self.origins.insert(to.to_owned(), origin),
            None => self.origins.remove(to),
        };
    }

    /// Ends the origins of what a change names: it was taken for this job, even where the value is
    /// the same as before.
    fn end_origins(&mut self, path: &str, change: &Value) {
        match change {
            Value::Object(map) => {
                for (key, inner) in map {
                    self.end_origins(&format!("{path}.{key}"), inner);
                }
            }
            _ => self.origins.retain(|of, _| {
                of.strip_prefix(path)
                    .is_none_or(|rest| !rest.is_empty() && !rest.starts_with('.'))
            }),
        }
    }
}

/// Refuses a change that takes away a value there is none of: merging it would leave no trace, and
/// whoever misspelt the key would think that the value is gone.
fn known_removals(section: Section, change: &Value) -> Result<(), JobFileError> {
    let read = match section {
        Section::Job => read_removed::<Own>,
        Section::Wearer => read_removed::<Wearer>,
        Section::Prescription => read_removed::<Prescription>,
        Section::Fitting => read_removed::<Fitting>,
        Section::Frame => read_removed::<Frame>,
        Section::Lenses => read_removed::<Lenses>,
        Section::Order => read_removed::<Order>,
        Section::Readings => read_removed::<Readings>,
        Section::Handover => read_removed::<Handover>,
        // Any path may have an origin.
        Section::Origins => return Ok(()),
        Section::Visit => read_removed::<Visit>,
        Section::Aftercare => read_removed::<Aftercare>,
    };
    read(change, section.word())
}

fn parse<T: DeserializeOwned>(section: Section, merged: &Value) -> Result<T, JobFileError> {
    read_value(merged, section.word())
}
