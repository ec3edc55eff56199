//! A repair or adjustment of a collected pair: what was done, and the few values that changed.

use super::dialog::{Dialog, Purpose};
use super::effect::{Deed, Effect};
use super::line::Line;
use super::{App, new_from, people};
use crate::desk::OpenJob;
use crate::form::{repair_fields, repair_label, set_repair_value, show_value};
use crate::job::{Job, Repair, RepairKind, Stage, TakenAs, as_it_stands};
use crate::views::WorkedLine;

/// A repair that is not kept yet.
#[derive(Debug, Clone, PartialEq)]
pub struct Mending {
    /// The job.
    pub open: OpenJob,
    /// What was done until now.
    pub repair: Repair,
}

/// Places of the list before its values: keeping it, and its words.
const BEFORE: usize = 2;

/// Asks what was done.
pub(crate) fn ask(app: &mut App) -> Vec<Effect> {
    let Some(open) = new_from::in_front(app).cloned() else {
        return Vec::new();
    };
    let stage = open.job.stage();
    if stage != Stage::Collected {
        app.complain(format!(
            "The job is {stage}: only a collected pair is repaired; before that its own sections are changed."
        ));
        return Vec::new();
    }
    let items = RepairKind::ALL
        .iter()
        .map(|k| k.word().to_owned())
        .collect();
    app.choose(
        &format!("Job {}: what was done to the pair today?", open.number),
        items,
        Purpose::RepairKind {
            open: Box::new(open),
        },
    );
    Vec::new()
}

/// Takes a choice about a pair that was collected: what was done to it, or what follows it.
pub(crate) fn answered(app: &mut App, about: Purpose, index: usize) -> Vec<Effect> {
    match about {
        Purpose::NewFrom { number, reasons } => new_from::chosen(app, number, &reasons, index),
        Purpose::RepairKind { open } => kind_chosen(app, *open, index),
        Purpose::Repair(mending) => chosen(app, *mending, index),
        Purpose::RepairLeft(mending) => left_chosen(app, *mending, index),
        _ => Vec::new(),
    }
}

/// Goes on to the values.
fn kind_chosen(app: &mut App, open: OpenJob, index: usize) -> Vec<Effect> {
    if let Some(kind) = RepairKind::ALL.get(index) {
        let repair = Repair {
            kind: Some(*kind),
            ..Repair::default()
        };
        show(app, Mending { open, repair }, 0);
    }
    Vec::new()
}

/// Returns what a value was until now and what the repair says of it.
fn row(mending: &Mending, path: &str, field: &crate::form::Field) -> String {
    let job = &mending.open.job;
    let stood = as_it_stands(job)
        .remove(path)
        .map(|s| s.value)
        .or_else(|| field.value(job));
    let stood = match show_value(field, stood.as_ref()) {
        none if none.is_empty() => "not recorded".to_owned(),
        value => value,
    };
    let written = serde_json::to_value(&mending.repair).unwrap_or_default();
    let now = path
        .split('.')
        .try_fold(&written, |at, key| at.get(key))
        .filter(|v| !v.is_null());
    let label = repair_label(field);
    match now {
        None => format!("{label}: {stood}"),
        Some(value) => format!("{label}: {stood} → {}", show_value(field, Some(value))),
    }
}

/// Shows what the repair says, with the cursor on a place.
pub(crate) fn show(app: &mut App, mending: Mending, place: usize) {
    let kind = mending.repair.kind.map_or("", RepairKind::word);
    let note = mending.repair.note.as_deref().unwrap_or("-");
    let mut items = vec![format!("keep it: {kind}"), format!("in words: {note}")];
    items.extend(repair_fields().map(|field| row(&mending, field.path, field)));
    app.dialog = Some(Dialog::Choose {
        title: "Change what stands differently now, then keep it. Esc leaves it.".to_owned(),
        items,
        selected: place,
        typed: String::new(),
        purpose: Purpose::Repair(Box::new(mending)),
    });
}

/// The list is left: what was changed in it is not dropped without a question.
pub(crate) fn left(app: &mut App, mending: Mending) {
    let untouched = Repair {
        kind: mending.repair.kind,
        ..Repair::default()
    };
    if mending.repair == untouched {
        return;
    }
    let kind = mending.repair.kind.map_or("", RepairKind::word);
    app.choose(
        "This repair is not kept yet. What becomes of it?",
        vec![
            "go on with it".to_owned(),
            format!("keep it: {kind}"),
            "drop it, with what was changed".to_owned(),
        ],
        Purpose::RepairLeft(Box::new(mending)),
    );
}

/// Takes what becomes of a repair that was left.
fn left_chosen(app: &mut App, mending: Mending, index: usize) -> Vec<Effect> {
    match index {
        0 => show(app, mending, 0),
        1 => return chosen(app, mending, 0),
        _ => app.say("The repair was dropped; nothing of it is kept."),
    }
    Vec::new()
}

/// Takes a choice of the list.
fn chosen(app: &mut App, mending: Mending, place: usize) -> Vec<Effect> {
    if place == 0 {
        let deed = Deed::Repair {
            number: mending.open.number,
            repair: Box::new(mending.repair),
        };
        return people::by_somebody(app, deed);
    }
    let (title, text) = if place == 1 {
        (
            "What was done, in words:".to_owned(),
            mending.repair.note.clone().unwrap_or_default(),
        )
    } else {
        let Some(field) = repair_fields().nth(place - BEFORE) else {
            return Vec::new();
        };
        let unit = match field.unit {
            "" => String::new(),
            unit => format!(", {unit}"),
        };
        let title = format!(
            "{} now{unit}; empty where it did not change:",
            repair_label(field)
        );
        (title, String::new())
    };
    app.dialog = Some(Dialog::Text {
        title,
        line: Line::of(&text),
        error: None,
        purpose: Purpose::RepairValue {
            mending: Box::new(mending),
            place,
        },
    });
    Vec::new()
}

/// Takes a value, and shows the list again.
pub(crate) fn value(
    app: &mut App,
    mending: &Mending,
    place: usize,
    text: &str,
) -> Result<Vec<Effect>, String> {
    let mut mending = mending.clone();
    if place == 1 {
        let words = crate::form::clean(text);
        mending.repair.note = (!words.is_empty()).then_some(words);
    } else if let Some(field) = repair_fields().nth(place - BEFORE) {
        mending.repair = set_repair_value(&mending.repair, field.path, text, app.today)
            .map_err(|e| e.to_string())?;
    }
    show(app, mending, place);
    Ok(Vec::new())
}

/// Returns the values that stand differently since the handover, beside the fields they replace.
pub(crate) fn lines(job: &Job) -> Vec<WorkedLine> {
    as_it_stands(job)
        .into_iter()
        .filter(|(_, s)| s.taken_as == TakenAs::Adjusted)
        .filter_map(|(path, s)| {
            let field = repair_fields().find(|field| field.path == path)?;
            let since = s.on.map_or_else(String::new, |on| format!(" since {on}"));
            Some(WorkedLine {
                field: field.full_path(),
                label: "now".to_owned(),
                text: format!("{}{since}", show_value(field, Some(&s.value))),
            })
        })
        .collect()
}
