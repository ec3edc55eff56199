//! Entries of the form: moving among them, typing, keeping, taking back.

use serde_json::{Value, json};

use super::action::{Action, Scope};
use super::editor::Edit;
use super::effect::{Deed, Effect};
use super::key::Key;
use super::line::Line;
use super::rows::{self, Row, place_of};
use super::screen::{JobScreen, TABS};
use super::{App, Screen, act as acting, list, offering, onward};
use crate::eye::Eye;
use crate::form::{self, Field};
use crate::job::Section;

/// Returns the row the cursor is on.
pub fn row(job: &JobScreen) -> Option<Row> {
    rows::of_tab(job.tab).get(job.row).copied()
}

/// Returns the field the cursor is on.
pub fn field(job: &JobScreen) -> Option<&'static Field> {
    row(job).map(|r| r.field(job.eye))
}

/// Does an action of the form.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    if let Some(tab) = action.section() {
        to_tab(app, tab);
        return Vec::new();
    }
    let tab = app.job.as_ref().map_or(0, |j| j.tab);
    match action {
        Action::NextSection => to_tab(app, (tab + 1) % TABS.len()),
        Action::PreviousSection => to_tab(app, (tab + TABS.len() - 1) % TABS.len()),
        Action::NextField => next_field(app, true),
        Action::PreviousField => next_field(app, false),
        Action::Left => side(app, Eye::Right),
        Action::Right => side(app, Eye::Left),
        Action::EditField => edit(app),
        Action::StepUp => return step(app, true),
        Action::StepDown => return step(app, false),
        Action::CopyOther => return copy_other(app),
        Action::ClearField => return clear(app),
        Action::Undo => return undo(app),
        Action::Commit | Action::CommitNext => return commit(app, true),
        Action::CommitPrevious => return commit(app, false),
        Action::ClearText => return retype(app, ""),
        Action::Restore => return restore(app),
        Action::NextMarked => return onward::next_marked(app),
        Action::TakeOffered => return offering::take(app),
        _ => {}
    }
    Vec::new()
}

fn to_tab(app: &mut App, tab: usize) {
    // Its own key goes to the first entry of the section in front, too.
    if let Some(job) = &mut app.job {
        (job.tab, job.row, job.eye) = (tab, 0, Eye::Right);
    }
}

fn side(app: &mut App, eye: Eye) {
    if let Some(job) = &mut app.job {
        job.eye = eye;
    }
}

/// Moves the cursor by rows.
pub(crate) fn step_rows(app: &mut App, by: isize) {
    if let Some(job) = &mut app.job {
        let count = match job.section() {
            Some(_) => rows::of_tab(job.tab).len(),
            None => job.history.len(),
        };
        job.row = list::moved(job.row, by, count);
    }
}

/// Goes to the next entry: the other eye's beside it, then the row below.
fn next_field(app: &mut App, forward: bool) {
    let Some(job) = &mut app.job else { return };
    let has_two = |job: &JobScreen| row(job).is_some_and(|r| r.is_pair());
    match (forward, job.eye, has_two(job)) {
        (true, Eye::Right, true) => job.eye = Eye::Left,
        (false, Eye::Left, true) => job.eye = Eye::Right,
        (true, ..) => {
            job.eye = Eye::Right;
            step_rows(app, 1);
        }
        (false, ..) => {
            if job.row > 0 {
                job.row -= 1;
                job.eye = if has_two(job) { Eye::Left } else { Eye::Right };
            }
        }
    }
}

/// Puts the cursor on a field; says whether there is such a field.
pub(crate) fn go_to(app: &mut App, path: &str) -> bool {
    let (Some(job), Some(place)) = (&mut app.job, place_of(path)) else {
        return false;
    };
    (job.tab, job.row, job.eye) = place;
    true
}

/// Begins to edit the value under the cursor.
fn edit(app: &mut App) {
    if let Some(job) = &mut app.job
        && let Some(field) = field(job)
    {
        let shown = form::show(&job.open.job, field);
        job.edit = Some(Edit {
            path: field.full_path(),
            line: Line::of(&shown),
            error: None,
            touched: false,
        });
    }
}

/// Begins an entry with its first character.
pub(crate) fn begin_with(app: &mut App, key: Key) -> Vec<Effect> {
    if let Some(job) = &mut app.job
        && let Some(field) = field(job)
    {
        job.edit = Some(Edit {
            path: field.full_path(),
            line: Line::default(),
            error: None,
            touched: true,
        });
        return typed(app, key);
    }
    Vec::new()
}

/// Takes up a text that was being typed.
pub(crate) fn take_up(app: &mut App, path: &str, text: &str) {
    if let Some(job) = &mut app.job
        && form::find(path).is_some()
    {
        job.edit = Some(Edit {
            path: path.to_owned(),
            line: Line::of(text),
            error: None,
            touched: true,
        });
    }
}

/// Takes a key into the entry being typed.
pub(crate) fn typed(app: &mut App, key: Key) -> Vec<Effect> {
    if let Some(edit) = app.job.as_mut().and_then(|j| j.edit.as_mut())
        && edit.line.key(key)
    {
        edit.error = None;
        edit.touched = true;
        return draft(app);
    }
    away(app, key)
}

/// A key that is none of a line of text and none of an entry: one of the form keeps what is typed
/// and then does what it does. What cannot be kept stays, and is said to.
fn away(app: &mut App, key: Key) -> Vec<Effect> {
    let form = app.screen == Screen::Job;
    let action = app.keymap.action(Scope::Job, key).filter(|_| form);
    let shown = |app: &App, action| app.keymap.shown(action).unwrap_or_default();
    let drop = shown(app, Action::Restore);
    let Some(action) = action else {
        let keep = shown(app, Action::Commit);
        app.say(format!(
            "{key} does nothing while something is typed: {keep} keeps it, {drop} drops it."
        ));
        return Vec::new();
    };
    let mut effects = commit(app, true);
    let edit = app.job.as_ref().and_then(|j| j.edit.as_ref());
    if let Some(why) = edit.and_then(|e| e.error.clone()) {
        app.complain(format!(
            "Still here, for what is typed is not kept: {why}. Correct it, or {drop} drops it."
        ));
    } else if app.person.is_some() || !effects.iter().any(|e| matches!(e, Effect::Act(_))) {
        // Otherwise somebody first says who they are.
        effects.extend(acting::act(app, action));
    }
    effects
}

/// Takes pasted text into the entry under the cursor, and nowhere else.
pub(crate) fn pasted(app: &mut App, text: &str) -> Vec<Effect> {
    if let Some(job) = &mut app.job
        && job.edit.is_none()
        && let Some(field) = field(job)
    {
        job.edit = Some(Edit {
            path: field.full_path(),
            line: Line::default(),
            error: None,
            touched: true,
        });
    }
    let Some(edit) = app.job.as_mut().and_then(|j| j.edit.as_mut()) else {
        return Vec::new();
    };
    edit.line.paste(text);
    edit.error = None;
    edit.touched = true;
    draft(app)
}

pub(super) fn retype(app: &mut App, text: &str) -> Vec<Effect> {
    if let Some(edit) = app.job.as_mut().and_then(|j| j.edit.as_mut()) {
        edit.line = Line::of(text);
        edit.error = None;
        edit.touched = true;
    }
    draft(app)
}

/// Keeps what is being typed where a crash cannot take it.
fn draft(app: &App) -> Vec<Effect> {
    let Some(job) = &app.job else {
        return Vec::new();
    };
    job.edit.as_ref().map_or_else(Vec::new, |edit| {
        vec![Effect::SaveDraft {
            number: job.open.number.clone(),
            field: edit.path.clone(),
            text: edit.line.text().to_owned(),
        }]
    })
}

/// Drops what was typed.
fn restore(app: &mut App) -> Vec<Effect> {
    let Some(job) = &mut app.job else {
        return Vec::new();
    };
    job.edit.take().map_or_else(Vec::new, |edit| {
        vec![Effect::ClearDraft {
            number: job.open.number.clone(),
            field: edit.path,
        }]
    })
}

/// Puts what was sent to be kept back into the entry, when it was not kept.
pub(crate) fn keep_typed(app: &mut App) {
    if let Some(sent) = app.job.as_mut().and_then(|j| j.sent.take()) {
        go_to(app, &sent.path);
        if let Some(job) = &mut app.job {
            job.onward = None;
            job.edit = Some(sent);
        }
    }
}

/// Keeps what was typed, or says beside it what to type.
pub(crate) fn keep(app: &mut App) -> Vec<Effect> {
    commit(app, true)
}

fn commit(app: &mut App, forward: bool) -> Vec<Effect> {
    let today = app.today;
    let Some(job) = &mut app.job else {
        return Vec::new();
    };
    let Some(mut edit) = job.edit.take() else {
        return Vec::new();
    };
    let Some(field) = form::find(&edit.path) else {
        return Vec::new();
    };
    let text = form::staff_name(
        field,
        edit.line.text().trim(),
        &app.staff,
        app.person.as_deref(),
    );
    let change = match form::parse(field, &text, today) {
        Ok(value) => Ok(form::change(field, value)),
        Err(why) => form::whole_power(field, &text)
            .or_else(|| form::lengths(field, &text, today))
            .unwrap_or(Err(why.to_string())),
    };
    let change = match change {
        Ok(change) => change,
        Err(why) => {
            edit.error = Some(why);
            job.edit = Some(edit);
            return Vec::new();
        }
    };
    let path = edit.path.clone();
    // Typed anew, a carried value is this job's own and a height of before an adjustment was read
    // after it, even where it came out the same.
    let here = &job.open.job;
    let other = form::copy_from_other_eye(field).map(Field::full_path);
    let is_stale = |p: &String| sets(&change, field.section, p) && here.is_to_be_read_again(p);
    let is_anew = edit.touched
        && ((here.origins.keys()).any(|origin| sets(&change, field.section, origin))
            || is_stale(&path)
            || other.is_some_and(|p| is_stale(&p)));
    let same = !is_anew && holds(&job.open.job.section(field.section), &change);
    job.sent = Some(edit);
    next_field(app, forward);
    if forward && let Some(job) = &mut app.job {
        onward::past_filled(job, &change);
    }
    if same {
        // Nothing to record: only the draft is done with.
        let Some(job) = &mut app.job else {
            return Vec::new();
        };
        job.sent = None;
        return vec![Effect::ClearDraft {
            number: job.open.number.clone(),
            field: path,
        }];
    }
    record(app, field.section, change, Some(path), false)
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

fn record(
    app: &mut App,
    section: Section,
    change: Value,
    field: Option<String>,
    is_undo: bool,
) -> Vec<Effect> {
    let Some(job) = &app.job else {
        return Vec::new();
    };
    let change = if is_undo {
        change
    } else {
        form::signed(
            &job.open.job,
            section,
            change,
            app.person.as_deref(),
            app.today,
        )
    };
    let deed = Deed::Record {
        number: job.open.number.clone(),
        section,
        change,
        revision: job.open.revision,
        field,
        is_undo,
    };
    vec![Effect::Act(deed)]
}

fn step(app: &mut App, up: bool) -> Vec<Effect> {
    let Some(job) = &mut app.job else {
        return Vec::new();
    };
    let Some(field) = field(job) else {
        return Vec::new();
    };
    let is_typed = job.edit.as_ref().is_some_and(|e| e.touched);
    if !is_typed && job.open.job.is_to_be_read_again(&field.full_path()) {
        return not_read(app, field);
    }
    let typed = job.edit.as_ref().map(|e| e.line.text().to_owned());
    let current = typed
        .clone()
        .unwrap_or_else(|| form::show(&job.open.job, field));
    match form::step(field, &current, up) {
        Some(text) if typed.is_some() => retype(app, &text),
        Some(text) => put(app, field, &text),
        None => {
            app.complain(no_step(field, &current));
            Vec::new()
        }
    }
}

/// Why a value cannot be stepped, and what to do.
fn no_step(field: &Field, current: &str) -> String {
    let Field { label, unit, .. } = field;
    match form::limits(field) {
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
fn not_read(app: &mut App, field: &Field) -> Vec<Effect> {
    app.complain(format!(
        "{} is to be read again: read it and type it.",
        named(field)
    ));
    Vec::new()
}

/// What a field is called, with its eye.
fn named(field: &Field) -> String {
    field.eye.map_or_else(
        || field.label.to_owned(),
        |eye| format!("{} {eye}", field.label),
    )
}

/// Records a value that was not typed.
fn put(app: &mut App, field: &Field, text: &str) -> Vec<Effect> {
    match form::parse(field, text, app.today) {
        Ok(value) => record(app, field.section, form::change(field, value), None, false),
        Err(why) => {
            app.complain(why.to_string());
            Vec::new()
        }
    }
}

fn copy_other(app: &mut App) -> Vec<Effect> {
    let Some(job) = &app.job else {
        return Vec::new();
    };
    let Some(field) = field(job) else {
        return Vec::new();
    };
    let Some(other) = form::copy_from_other_eye(field) else {
        app.complain(format!(
            "{} belongs to no eye: there is nothing to copy.",
            field.label
        ));
        return Vec::new();
    };
    let here = &job.open.job;
    let (from, to) = (other.full_path(), field.full_path());
    for (path, asked) in [(&to, field), (&from, other)] {
        if here.is_to_be_read_again(path) {
            return not_read(app, asked);
        }
    }
    let Some(value) = other.value(here) else {
        app.complain("The other eye has no value to copy.");
        return Vec::new();
    };
    let change = form::change(field, value);
    // What was carried was measured by nobody here, on whichever side it stands.
    let change = if here.origins.contains_key(&from) {
        change
    } else {
        form::signed(
            here,
            field.section,
            change,
            app.person.as_deref(),
            app.today,
        )
    };
    let deed = Deed::Copy {
        number: job.open.number.clone(),
        section: field.section,
        change,
        from,
        to,
        revision: job.open.revision,
    };
    vec![Effect::Act(deed)]
}

fn clear(app: &mut App) -> Vec<Effect> {
    let Some(job) = &app.job else {
        return Vec::new();
    };
    let Some(field) = field(job) else {
        return Vec::new();
    };
    if field.value(&job.open.job).is_none() {
        return Vec::new();
    }
    record(
        app,
        field.section,
        form::change(field, json!(null)),
        None,
        false,
    )
}

fn undo(app: &mut App) -> Vec<Effect> {
    let Some(job) = &mut app.job else {
        return Vec::new();
    };
    if let Some(entry) = job.undo.pop() {
        if entry.still_stands(&job.open.job) {
            return record(app, entry.section, entry.change, None, true);
        }
        // An origin beneath belongs to the entry that stays.
        job.undo.pop_if(|e| e.section == Section::Origins);
        app.complain("What your last entry wrote was changed since: it is left as it is now.");
        return Vec::new();
    }
    app.say("Nothing is left to take back.");
    Vec::new()
}

/// Gives a value that was taken back its origin again, which stands beneath it.
pub(crate) fn undo_origins(app: &mut App) -> Vec<Effect> {
    let Some(job) = &mut app.job else {
        return Vec::new();
    };
    let beneath = job.undo.pop_if(|e| e.section == Section::Origins);
    beneath.map_or_else(Vec::new, |entry| {
        record(app, entry.section, entry.change, None, true)
    })
}
