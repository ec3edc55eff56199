//! Entries of the form: typed, kept, stepped, copied and cleared.

use chrono::NaiveDate;
use serde_json::{Value, json};

use super::State;
use crate::job::Section;
use crate::job::fields::{self, Field};
use crate::tui::action::{Action, Scope};
use crate::tui::effect::Deed;
use crate::tui::job_view::JobView;
use crate::tui::key::Key;
use crate::tui::next::Next;
use crate::tui::seen::Seen;

impl State {
    /// Begins to edit the value under the cursor.
    pub(super) fn begin(&mut self, seen: Seen<'_>) -> Next {
        if let (Some(job), Some(field)) = (seen.job, self.field()) {
            let shown = fields::show(&job.open.job, field);
            self.editor.begin_with(&field.full_path(), &shown);
        }
        Next::Stay
    }

    /// Begins an entry that is empty, where none is being typed.
    pub(super) fn begin_if_closed(&mut self) {
        if let Some(field) = self.field()
            && !self.editor.is_open()
        {
            self.editor.begin(&field.full_path());
        }
    }

    /// Takes a key into the entry being typed, or begins one with its first character.
    pub(super) fn typed(&mut self, key: Key, seen: Seen<'_>) -> Next {
        if !self.editor.is_open() {
            if key.types().is_none() {
                return Next::Pass;
            }
            self.begin_if_closed();
            if !self.editor.is_open() {
                return Next::Stay;
            }
        }
        if self.editor.key(key) {
            return self.draft(seen);
        }
        self.away(key, seen)
    }

    /// A key that is none of a line of text and none of an entry: one of the form keeps what is typed
    /// and then does what it does. What cannot be kept stays, and is said to.
    fn away(&mut self, key: Key, seen: Seen<'_>) -> Next {
        let shown = |action| seen.keys.shown(action).unwrap_or_default();
        let drop = shown(Action::Restore);
        let Some(action) = seen.keys.action(Scope::Job, key) else {
            let keep = shown(Action::Commit);
            return Next::say(format!(
                "{key} does nothing while something is typed: {keep} keeps it, {drop} drops it."
            ));
        };
        let kept = self.commit(true, seen);
        if let Some(why) = self.edit().and_then(|e| e.error.clone()) {
            return kept.and(Next::complain(format!(
                "Still here, for what is typed is not kept: {why}. Correct it, or {drop} drops it."
            )));
        }
        if seen.person.is_some() || self.editor.sent().is_none() {
            return kept.and(Next::Run(action));
        }
        // First somebody says who they are.
        kept
    }

    /// Takes pasted text into the entry under the cursor, and nowhere else.
    pub(super) fn pasted(&mut self, text: &str, seen: Seen<'_>) -> Next {
        self.begin_if_closed();
        if self.editor.paste(text) {
            return self.draft(seen);
        }
        Next::Stay
    }

    /// Puts a text in the place of what is typed.
    pub(super) fn retype(&mut self, text: &str, seen: Seen<'_>) -> Next {
        self.editor.retype(text);
        self.draft(seen)
    }

    /// Keeps what is being typed where a crash cannot take it.
    fn draft(&self, seen: Seen<'_>) -> Next {
        seen.job
            .and_then(|j| self.editor.draft(&j.open.number))
            .into()
    }

    /// Drops what was typed.
    pub(super) fn restore(&mut self, seen: Seen<'_>) -> Next {
        seen.job
            .and_then(|j| self.editor.drop(&j.open.number))
            .into()
    }

    /// Keeps what was typed, or says beside it what to type.
    pub(super) fn commit(&mut self, forward: bool, seen: Seen<'_>) -> Next {
        let (Some(job), Some(edit)) = (seen.job, self.editor.edit()) else {
            return Next::Stay;
        };
        let Some(field) = fields::find(&edit.path) else {
            return Next::Stay;
        };
        if self.editor.asks(seen) {
            return Next::Stay;
        }
        let Some(edit) = self.editor.edit() else {
            return Next::Stay;
        };
        let text = fields::staff_name(field, edit.line.text().trim(), seen.staff, seen.person);
        let (change, said) = match read(field, &text, seen.today) {
            Ok(read) => read,
            Err(why) => {
                self.editor.refuse(why);
                return Next::Stay;
            }
        };
        let path = edit.path.clone();
        // Typed again, a carried value is this job's own and a height of before an adjustment was read
        // after it, even where it came out the same.
        let here = &job.open.job;
        let other = fields::copy_from_other_eye(field).map(Field::full_path);
        let is_stale = |p: &String| sets(&change, field.section, p) && here.is_to_be_read_again(p);
        let is_new = edit.touched
            && ((here.origins.keys()).any(|origin| sets(&change, field.section, origin))
                || is_stale(&path)
                || other.is_some_and(|p| is_stale(&p)));
        let same = !is_new
            && here
                .section(field.section)
                .is_ok_and(|section| holds(&section, &change));
        self.editor.send();
        self.next_field(forward, seen);
        if forward {
            self.past_filled(&change);
        }
        let said = said.map_or(Next::Stay, Next::say);
        if same {
            return Next::from(self.editor.same(&job.open.number)).and(said);
        }
        record(job, field.section, change, Some(path), seen).and(said)
    }

    /// Steps the value under the cursor up or down.
    pub(super) fn step(&mut self, up: bool, seen: Seen<'_>) -> Next {
        let (Some(job), Some(field)) = (seen.job, self.field()) else {
            return Next::Stay;
        };
        let is_typed = self.edit().is_some_and(|e| e.touched);
        if !is_typed && job.open.job.is_to_be_read_again(&field.full_path()) {
            return not_read(field);
        }
        let typed = self.edit().map(|e| e.line.text().to_owned());
        let current = typed
            .clone()
            .unwrap_or_else(|| fields::show(&job.open.job, field));
        match fields::step(field, &current, up) {
            Some(text) if typed.is_some() => self.retype(&text, seen),
            Some(text) => match fields::parse(field, &text, seen.today) {
                Ok(value) => {
                    let change = fields::change(field, value);
                    record(job, field.section, change, None, seen)
                }
                Err(why) => Next::complain(why.to_string()),
            },
            None => Next::complain(no_step(field, &current)),
        }
    }

    /// Copies the other eye's value.
    pub(super) fn copy_other(&self, seen: Seen<'_>) -> Next {
        let (Some(job), Some(field)) = (seen.job, self.field()) else {
            return Next::Stay;
        };
        let Some(other) = fields::copy_from_other_eye(field) else {
            return Next::complain(format!(
                "{} belongs to no eye: there is nothing to copy.",
                field.label
            ));
        };
        let here = &job.open.job;
        let (from, to) = (other.full_path(), field.full_path());
        for (path, asked) in [(&to, field), (&from, other)] {
            if here.is_to_be_read_again(path) {
                return not_read(asked);
            }
        }
        let Some(value) = other.value(here) else {
            return Next::complain("The other eye has no value to copy.");
        };
        let change = fields::change(field, value);
        // What was carried was measured by nobody here, on whichever side it is.
        let change = if here.origins.contains_key(&from) {
            change
        } else {
            fields::signed(here, field.section, change, seen.person, seen.today)
        };
        Next::Act(Deed::Copy {
            number: job.open.number.clone(),
            section: field.section,
            change,
            from,
            to,
            revision: job.open.revision,
        })
    }

    /// Removes the value under the cursor.
    pub(super) fn clear(&self, seen: Seen<'_>) -> Next {
        let (Some(job), Some(field)) = (seen.job, self.field()) else {
            return Next::Stay;
        };
        if field.value(&job.open.job).is_none() {
            return Next::Stay;
        }
        let change = fields::change(field, json!(null));
        record(job, field.section, change, None, seen)
    }
}

fn record(
    job: &JobView,
    section: Section,
    change: Value,
    field: Option<String>,
    seen: Seen<'_>,
) -> Next {
    Next::Act(Deed::Record {
        number: job.open.number.clone(),
        section,
        change: fields::signed(&job.open.job, section, change, seen.person, seen.today),
        revision: job.open.revision,
        field,
        is_undo: false,
    })
}

/// Reads what was typed into an entry: a scanned code, one value, a whole written prescription or several
/// lengths. Returns the change with what has to be said of it, or what to type instead.
fn read(field: &Field, text: &str, today: NaiveDate) -> Result<(Value, Option<String>), String> {
    let alone = |change| (change, None);
    if let Some(scanned) = fields::scanned_code(field, text) {
        return scanned.map(alone);
    }
    let why = match fields::parse(field, text, today) {
        Ok(value) => return Ok(alone(fields::change(field, value))),
        Err(why) => why,
    };
    if let Some(line) = fields::whole_power(field, text) {
        let line = line?;
        let said = line.said();
        return Ok((line.change, said));
    }
    match fields::lengths(field, text, today) {
        Some(lengths) => lengths.map(alone),
        None => Err(why.to_string()),
    }
}

/// Whether a change of a section says something of a path from the job.
fn sets(change: &Value, section: Section, path: &str) -> bool {
    path.strip_prefix(section.word())
        .and_then(|p| p.strip_prefix('.'))
        .is_some_and(|p| {
            p.split('.')
                .try_fold(change, |at, key| at.get(key))
                .is_some()
        })
}

/// Whether a section already holds everything a change says.
fn holds(section: &Value, change: &Value) -> bool {
    match change {
        Value::Object(map) => map.iter().all(|(k, v)| match section.get(k) {
            Some(inner) => holds(inner, v),
            None => match v {
                Value::Object(_) => holds(&Value::Null, v),
                other => other.is_null(),
            },
        }),
        other => section == other,
    }
}

/// Why a value cannot be stepped, and what to do.
fn no_step(field: &Field, current: &str) -> String {
    let Field { label, unit, .. } = field;
    match fields::limits(field) {
        Some(_) if current.trim().is_empty() => {
            format!("{label} has nothing to step from: type it.")
        }
        Some((least, most)) => {
            let range = format!("{least} to {most} {unit}");
            format!("{label} goes from {}: no step leads on.", range.trim_end())
        }
        None => format!("{label} has no steps: type it."),
    }
}

/// Refuses a height that nobody has read: it would count as read after the frame was adjusted.
fn not_read(field: &Field) -> Next {
    Next::complain(format!(
        "{} is to be read again: read it and type it.",
        named(field)
    ))
}

/// What a field is called, with its eye.
fn named(field: &Field) -> String {
    field.eye.map_or_else(
        || field.label.to_owned(),
        |eye| format!("{} {eye}", field.label),
    )
}
