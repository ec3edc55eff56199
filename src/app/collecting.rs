//! The collections of the day: the on-face checks one after the other, one key each.

use serde_json::{Map, Value, json};

use super::action::Action;
use super::dialog::{Dialog, Purpose};
use super::effect::{Deed, Effect};
use super::key::Key;
use super::update::card_for;
use super::{App, act as acting, people};
use crate::desk::JobLine;
use crate::form::{self, Kind};
use crate::job::{Section, Stage};

/// One check of the handover.
#[derive(Debug, Clone, Copy)]
pub struct Step {
    /// Path of the field that keeps the answer.
    pub path: &'static str,
    /// What is checked.
    pub question: &'static str,
    /// The topic of advice, when the answer is one of several topics.
    pub topic: Option<&'static str>,
}

const fn step(path: &'static str, question: &'static str) -> Step {
    Step {
        path,
        question,
        topic: None,
    }
}

const fn advice(topic: &'static str, question: &'static str) -> Step {
    Step {
        path: "handover.advice",
        question,
        topic: Some(topic),
    }
}

/// The checks in the order in which they are done at the dispensing table.
pub const STEPS: &[Step] = &[
    step(
        "handover.identity_checked",
        "Two details of the wearer checked",
    ),
    step("handover.pads_level", "Pads bear level"),
    step("handover.right.vertex_mm", "Vertex distance, right"),
    step("handover.left.vertex_mm", "Vertex distance, left"),
    step("handover.pantoscopic_deg", "Pantoscopic angle"),
    step("handover.face_form_deg", "Face-form angle"),
    step("handover.right.height_mm", "Height on the face, right"),
    step("handover.left.height_mm", "Height on the face, left"),
    step(
        "handover.right.segment_height_mm",
        "Segment height on the face, right",
    ),
    step(
        "handover.left.segment_height_mm",
        "Segment height on the face, left",
    ),
    step(
        "handover.right.length_to_bend_mm",
        "Length to bend as set, right",
    ),
    step(
        "handover.left.length_to_bend_mm",
        "Length to bend as set, left",
    ),
    step("handover.sides_even", "Sides press evenly"),
    step("handover.no_pressure_marks", "No pressure marks"),
    step("handover.distance_acuity", "Distance acuity"),
    step("handover.near_acuity", "Near acuity"),
    step("handover.comfortable", "The wearer is comfortable"),
    advice("adaptation", "Told about getting used to it"),
    advice("driving", "Told about driving"),
    advice("care", "Told about care"),
    advice("aftercare", "Told to come back with any trouble"),
    advice("safety limits", "Told what it does not protect against"),
    step("handover.collected_by", "Collected by"),
];

impl Step {
    /// Whether yes or no answers it.
    pub fn is_yes_no(&self) -> bool {
        self.topic.is_some() || form::find(self.path).is_some_and(|f| matches!(f.kind, Kind::Flag))
    }
}

/// Takes the day's handovers from the worklist.
pub(crate) fn take(app: &mut App) {
    let chosen = line(app).map(|l| l.number.clone());
    let today = app.today;
    let mut lines: Vec<JobLine> = app
        .worklist
        .lines
        .iter()
        .filter(|l| {
            l.stage == Stage::Verified && l.collection_at.is_some_and(|m| m.0.date() == today)
        })
        .cloned()
        .collect();
    lines.sort_by_key(|l| l.collection_at);
    app.collections.selected = lines
        .iter()
        .position(|l| Some(&l.number) == chosen.as_ref())
        .unwrap_or(0);
    app.collections.lines = lines;
}

/// The handover in front.
pub fn line(app: &App) -> Option<&JobLine> {
    app.collections.lines.get(app.collections.selected)
}

/// Does an action of the collections.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    match action {
        Action::NextJob => other(app, 1),
        Action::PreviousJob => other(app, -1),
        Action::Yes | Action::No => yes_no(app, action == Action::Yes),
        Action::Value => {
            prompt(app, None);
            Vec::new()
        }
        _ => Vec::new(),
    }
}

fn other(app: &mut App, by: isize) -> Vec<Effect> {
    let count = app.collections.lines.len();
    app.collections.selected = acting::moved(app.collections.selected, by, count);
    app.collections.step = 0;
    card_for(app, line(app).map(|l| l.number.clone()))
}

/// A digit typed on a value begins the value.
pub(crate) fn typed(app: &mut App, key: Key) -> Vec<Effect> {
    if key.types().is_some_and(|c| c.is_ascii_digit()) {
        prompt(app, Some(key));
    }
    Vec::new()
}

fn prompt(app: &mut App, first: Option<Key>) {
    let Some(step) = STEPS.get(app.collections.step) else {
        return;
    };
    if line(app).is_none() {
        return;
    }
    if step.is_yes_no() {
        app.complain(format!("{}: y or n.", step.question));
        return;
    }
    let Some(field) = form::find(step.path) else {
        return;
    };
    let unit = if field.unit.is_empty() {
        String::new()
    } else {
        format!(", {}", field.unit)
    };
    app.ask(
        format!("{}{unit}:", step.question),
        Purpose::HandoverValue {
            path: step.path.to_owned(),
        },
    );
    if let (Some(Dialog::Text { line, .. }), Some(key)) = (&mut app.dialog, first) {
        line.key(key);
    }
}

fn yes_no(app: &mut App, yes: bool) -> Vec<Effect> {
    let Some(step) = STEPS.get(app.collections.step) else {
        return Vec::new();
    };
    let Some(card) = &app.card else {
        return Vec::new();
    };
    if !step.is_yes_no() {
        app.complain(format!("{}: this one is a value; type it.", step.question));
        return Vec::new();
    }
    let value = match step.topic {
        None => json!(yes),
        Some(topic) => {
            let given = card.job.handover.advice.iter().flatten().map(|a| a.word());
            let mut topics: Vec<&str> = given.filter(|t| *t != topic).collect();
            if yes {
                topics.push(topic);
            }
            json!(topics)
        }
    };
    record(app, step.path, value)
}

/// Takes a value that was asked for; or says what to type.
pub(crate) fn value(app: &mut App, path: &str, text: &str) -> Result<Vec<Effect>, String> {
    let Some(field) = form::find(path) else {
        return Ok(Vec::new());
    };
    let value = form::parse(field, text, app.today).map_err(|e| e.to_string())?;
    Ok(record(app, path, value))
}

fn record(app: &mut App, path: &str, value: Value) -> Vec<Effect> {
    let Some(person) = app.person.clone() else {
        people::who(app, None);
        app.say("First say who hands over; then answer.");
        return Vec::new();
    };
    let Some(card) = &app.card else {
        return Vec::new();
    };
    let Some(field) = form::find(path) else {
        return Vec::new();
    };
    let mut change = match form::change(field, value) {
        Value::Object(map) => map,
        _ => Map::new(),
    };
    // The first answer says who hands over, and when.
    if card.job.handover.given_by.is_none() {
        change.insert("given_by".to_owned(), json!(person));
    }
    if card.job.handover.given_on.is_none() {
        change.insert("given_on".to_owned(), json!(app.today));
    }
    let deed = Deed::Record {
        number: card.number.clone(),
        section: Section::Handover,
        change: Value::Object(change),
        revision: card.revision,
        field: None,
        is_undo: false,
    };
    app.collections.step = acting::moved(app.collections.step, 1, STEPS.len());
    people::by_somebody(app, deed)
}
