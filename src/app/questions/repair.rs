//! A repair or adjustment of a collected pair: what was done, and the few values that changed.

use super::begin_job;
use crate::app::App;
use crate::app::effect::{Deed, Effect};
use crate::app::line::Line;
use crate::app::question::{ChoiceAsker, TextAsker};
use crate::desk::OpenJob;
use crate::form::{repair_fields, repair_label, set_repair_value, show_value};
use crate::job::{Job, Repair, RepairKind, Stage, TakenAs, as_it_stands};
use crate::views::WorkedLine;

/// A repair that is not kept yet.
#[derive(Debug, Clone, PartialEq)]
struct Mending {
    open: OpenJob,
    /// What was done until now.
    repair: Repair,
}

/// Asks what was done.
pub(crate) fn ask(app: &mut App) -> Vec<Effect> {
    let Some(open) = begin_job::in_front(app).cloned() else {
        return Vec::new();
    };
    let stage = open.job.stage();
    if stage != Stage::Collected {
        app.complain(format!(
            "The job is {stage}: only a collected pair is repaired; before that its own sections are changed."
        ));
        return Vec::new();
    }
    let offered = (RepairKind::ALL.iter())
        .map(|k| (k.word().to_owned(), *k))
        .collect();
    app.choose(
        format!("Job {}: what was done to the pair today?", open.number),
        offered,
        WhatWasDone { open },
    );
    Vec::new()
}

/// What was done to a pair.
#[derive(Debug)]
struct WhatWasDone {
    open: OpenJob,
}

impl ChoiceAsker for WhatWasDone {
    type Answer = RepairKind;

    fn answered(self, app: &mut App, kind: RepairKind) -> Vec<Effect> {
        let mending = Mending {
            open: self.open,
            repair: Repair {
                kind: Some(kind),
                ..Repair::default()
            },
        };
        show(app, mending, Part::Kept);
        Vec::new()
    }
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

/// A row of the list of a repair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    /// Keeps the repair.
    Kept,
    /// What was done, in words.
    Words,
    /// A value, by its path in the list of values that a repair can change.
    Value(&'static str),
}

/// Shows what the repair says, with the cursor on a row.
fn show(app: &mut App, mending: Mending, at: Part) {
    let kind = mending.repair.kind.map_or("", RepairKind::word);
    let note = mending.repair.note.as_deref().unwrap_or("-");
    let mut offered = vec![
        (format!("keep it: {kind}"), Part::Kept),
        (format!("in words: {note}"), Part::Words),
    ];
    offered.extend(
        repair_fields().map(|field| (row(&mending, field.path, field), Part::Value(field.path))),
    );
    let selected = offered.iter().position(|(_, p)| *p == at).unwrap_or(0);
    app.choose_from(
        "Change what stands differently now, then keep it. Esc leaves it.",
        offered,
        selected,
        mending,
    );
}

impl ChoiceAsker for Mending {
    type Answer = Part;

    fn answered(self, app: &mut App, part: Part) -> Vec<Effect> {
        let (title, text) = match part {
            Part::Kept => return self.keep(),
            Part::Words => (
                "What was done, in words:".to_owned(),
                self.repair.note.clone().unwrap_or_default(),
            ),
            Part::Value(path) => {
                let Some(field) = repair_fields().find(|field| field.path == path) else {
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
            }
        };
        let asker = Entry {
            mending: self,
            part,
        };
        app.ask_with(title, Line::of(&text), asker);
        Vec::new()
    }

    /// What was changed is not dropped without a question.
    fn unanswered(self, app: &mut App) -> Vec<Effect> {
        let untouched = Repair {
            kind: self.repair.kind,
            ..Repair::default()
        };
        if self.repair == untouched {
            return Vec::new();
        }
        let kind = self.repair.kind.map_or("", RepairKind::word);
        app.choose(
            "This repair is not kept yet. What becomes of it?",
            vec![
                ("go on with it".to_owned(), Unfinished::GoOn),
                (format!("keep it: {kind}"), Unfinished::Keep),
                (
                    "drop it, with what was changed".to_owned(),
                    Unfinished::Drop,
                ),
            ],
            NotKept(self),
        );
        Vec::new()
    }
}

impl Mending {
    fn keep(self) -> Vec<Effect> {
        vec![Effect::Act(Deed::Repair {
            number: self.open.number,
            repair: Box::new(self.repair),
        })]
    }
}

/// What becomes of a repair that was left before it was kept.
#[derive(Debug)]
struct NotKept(Mending);

#[derive(Debug)]
enum Unfinished {
    GoOn,
    Keep,
    Drop,
}

impl ChoiceAsker for NotKept {
    type Answer = Unfinished;

    fn answered(self, app: &mut App, answer: Unfinished) -> Vec<Effect> {
        match answer {
            Unfinished::GoOn => return self.unanswered(app),
            Unfinished::Keep => return self.0.keep(),
            Unfinished::Drop => app.say("The repair was dropped; nothing of it is kept."),
        }
        Vec::new()
    }

    fn unanswered(self, app: &mut App) -> Vec<Effect> {
        show(app, self.0, Part::Kept);
        Vec::new()
    }
}

/// One value of a repair, or its words.
#[derive(Debug)]
struct Entry {
    mending: Mending,
    part: Part,
}

impl TextAsker for Entry {
    fn answered(&self, app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        let mut mending = self.mending.clone();
        match self.part {
            Part::Kept => {}
            Part::Words => {
                let words = crate::form::clean(text);
                mending.repair.note = (!words.is_empty()).then_some(words);
            }
            Part::Value(path) => {
                mending.repair = set_repair_value(&mending.repair, path, text, app.today)
                    .map_err(|e| e.to_string())?;
            }
        }
        show(app, mending, self.part);
        Ok(Vec::new())
    }

    fn unanswered(self: Box<Self>, app: &mut App) -> Vec<Effect> {
        show(app, self.mending, self.part);
        Vec::new()
    }
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
