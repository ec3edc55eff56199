//! The collections of the day: the on-face checks one after the other, one key each.

use chrono::NaiveDate;
use serde_json::{Map, Value, json};

use super::action::Action;
use super::dialog::{Dialog, Purpose};
use super::effect::{Deed, Effect};
use super::key::Key;
use super::update::card_for;
use super::{App, Screen, act as acting, people};
use crate::desk::JobLine;
use crate::eye::Eye;
use crate::form::{self, Kind};
use crate::gate::Practice;
use crate::job::{Advice, Design, Job, Purpose as PairPurpose, Section, Stage};
use crate::worked::advice::{Point, advice};

/// One check of the handover.
#[derive(Debug, Clone)]
pub struct Step {
    /// Path of the field that keeps the answer.
    pub path: &'static str,
    /// What is checked.
    pub question: &'static str,
    /// How it is done, or what to look at.
    pub hint: &'static str,
    /// The topic of advice, when the answer is one of several topics.
    pub topic: Option<Advice>,
    /// What is said under the topic, and why this wearer hears it.
    pub points: Vec<Point>,
}

/// Which pairs a step is for.
type For = fn(&Job) -> bool;

const ALL: For = |_| true;
const SEGMENT: For = |job| job.lenses.design.is_some_and(Design::has_segment);
const NO_SEGMENT: For = |job| !SEGMENT(job);
const INTERMEDIATE: For = |job| {
    job.lenses.purpose == Some(PairPurpose::Intermediate)
        || matches!(
            job.lenses.design,
            Some(Design::Trifocal | Design::Progressive | Design::Occupational)
        )
};
const PRISM: For = |job| {
    Eye::BOTH.iter().any(|eye| {
        let e = job.prescription.eye(*eye);
        [e.base_in_delta, e.base_up_delta]
            .into_iter()
            .flatten()
            .any(|d| d.thousandths() != 0)
    })
};
const DRIVES: For = |job| {
    job.wearer.drives == Some(true)
        && job.lenses.design != Some(Design::Occupational)
        && !job.lenses.is_near_single_vision()
};

/// The checks in the order in which they are done at the dispensing table: each rests on those
/// before it, so that nothing is adjusted once the heights are read.
const CHECKS: &[(&str, &str, &str, For)] = &[
    (
        "handover.identity_checked",
        "Two details of the wearer checked",
        "name and date of birth, said by the wearer",
        ALL,
    ),
    (
        "handover.frame_checked",
        "Frame print is that of the job",
        "read the print inside the side",
        ALL,
    ),
    (
        "handover.pads_level",
        "Bridge or pads bear full and level",
        "put it on the wearer yourself, stand back: level, brow line; then the bridge",
        ALL,
    ),
    (
        "handover.temples_free",
        "Width: no grip at the temples",
        "the gap is even on both sides, nothing springs out",
        ALL,
    ),
    (
        "handover.let_back_even",
        "Let-back equal on both sides",
        "from above: both lenses equally far from the brow",
        ALL,
    ),
    ("handover.pantoscopic_deg", "Pantoscopic angle", "", ALL),
    ("handover.face_form_deg", "Face-form angle", "", ALL),
    (
        "handover.right.length_to_bend_mm",
        "Length to bend as set, right",
        "",
        ALL,
    ),
    (
        "handover.left.length_to_bend_mm",
        "Length to bend as set, left",
        "",
        ALL,
    ),
    (
        "handover.drop_follows",
        "Bend at the ear point, drop follows",
        "the bend exactly where the ear begins; the drop along the bone, no point pressure",
        ALL,
    ),
    ("handover.sides_even", "Sides press evenly", "", ALL),
    ("handover.no_pressure_marks", "No pressure marks", "", ALL),
    (
        "handover.stays",
        "Stays: shake, smile, look down",
        "cheeks and lashes clear, nothing slides",
        ALL,
    ),
    (
        "handover.right.vertex_mm",
        "Vertex distance, right",
        "",
        ALL,
    ),
    ("handover.left.vertex_mm", "Vertex distance, left", "", ALL),
    (
        "handover.right.height_mm",
        "Cross or centre to pupil, right",
        "the marks still on the lens; adjusted afterwards means read again",
        NO_SEGMENT,
    ),
    (
        "handover.left.height_mm",
        "Cross or centre to pupil, left",
        "the marks still on the lens; adjusted afterwards means read again",
        NO_SEGMENT,
    ),
    (
        "handover.right.segment_height_mm",
        "Segment height on the face, right",
        "to the lower lid or as ordered; adjusted afterwards means read again",
        SEGMENT,
    ),
    (
        "handover.left.segment_height_mm",
        "Segment height on the face, left",
        "to the lower lid or as ordered; adjusted afterwards means read again",
        SEGMENT,
    ),
    (
        "handover.distance_acuity",
        "Marks off: distance acuity",
        "right, left, both",
        ALL,
    ),
    (
        "handover.near_acuity",
        "Near acuity",
        "at the real distance",
        ALL,
    ),
    (
        "handover.intermediate_acuity",
        "Intermediate acuity",
        "at the real distance of screen or desk",
        INTERMEDIATE,
    ),
    (
        "handover.sees_single",
        "Single: distance, near, looking down",
        "walk a few steps, look at the stairs",
        PRISM,
    ),
    (
        "handover.reads_number_plate",
        "Reads a number plate",
        "at the distance that driving asks for; no: not to be driven in",
        DRIVES,
    ),
    ("handover.comfortable", "The wearer is comfortable", "", ALL),
    (
        "handover.wearer_words",
        "In the wearer's own words",
        "as it is said, good or bad",
        ALL,
    ),
];

const fn told(topic: Advice) -> &'static str {
    match topic {
        Advice::Adaptation => "Told about getting used to it",
        Advice::Driving => "Told about driving",
        Advice::Care => "Told about care",
        Advice::Aftercare => "Told to come back with any trouble",
        Advice::SafetyLimits => "Told what it does not protect against",
        Advice::Falls => "Told about stairs and falls",
        Advice::Child => "Told the child and who comes along",
        Advice::Field => "Told about the edge of the field",
        Advice::Solvents => "Told what harms the material",
        Advice::Photochromic => "Told when it is dark and when not",
        Advice::Retest => "Told when the next sight test is",
    }
}

/// Returns the checks of a job's handover in their order.
pub fn steps(job: &Job, practice: &Practice, today: NaiveDate) -> Vec<Step> {
    let plain = |path, question, hint| Step {
        path,
        question,
        hint,
        topic: None,
        points: Vec::new(),
    };
    let mut all: Vec<Step> = CHECKS
        .iter()
        .filter(|(.., is_for)| is_for(job))
        .map(|(path, question, hint, _)| plain(*path, *question, *hint))
        .collect();
    for point in advice(job, practice, today) {
        match all.iter_mut().find(|s| s.topic == Some(point.topic)) {
            Some(step) => step.points.push(point),
            None => all.push(Step {
                topic: Some(point.topic),
                points: vec![point.clone()],
                ..plain("handover.advice", told(point.topic), "")
            }),
        }
    }
    all.push(plain("handover.collected_by", "Collected by", ""));
    all
}

/// Returns the checks of the handover in front.
pub fn steps_now(app: &App) -> Vec<Step> {
    app.card
        .as_ref()
        .map_or_else(Vec::new, |c| steps(&c.job, &app.practice, app.today))
}

/// How many heights of the handover in front are to be read again.
pub(crate) fn heights_to_read_again(app: &App) -> usize {
    let stale = app
        .card
        .as_ref()
        .and_then(|c| c.job.handover.adjusted_after_heights.as_ref());
    stale.map_or(0, Vec::len)
}

/// Says that heights are to be read again, when more of them are than before.
pub(crate) fn say_stale(app: &mut App, before: usize) {
    if app.screen == Screen::Collections && heights_to_read_again(app) > before {
        app.complain("Adjusted after the heights were read: read them again, they are marked.");
    }
}

/// Returns the eye whose height a step reads, when the frame was adjusted after it was read.
pub fn read_again(step: &Step, job: &Job) -> Option<Eye> {
    let stale = job.handover.adjusted_after_heights.as_deref()?;
    stale
        .iter()
        .copied()
        .find(|eye| step.path.contains(eye.word()) && step.path.ends_with("height_mm"))
}

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
        Action::Adjusted => adjusted(app),
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
    let Some(step) = current(app) else {
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
    let Some(step) = current(app) else {
        return Vec::new();
    };
    let Some(card) = &app.card else {
        return Vec::new();
    };
    if !step.is_yes_no() {
        let job = &card.job;
        // What was adjusted since is read again, not agreed to.
        let same = as_measured(&step, job).filter(|_| yes && read_again(&step, job).is_none());
        if let Some(value) = same {
            return record(app, step.path, value);
        }
        app.complain(format!("{}: this one is a value; type it.", step.question));
        return Vec::new();
    }
    let value = match step.topic {
        None => json!(yes),
        Some(topic) => {
            let given = card.job.handover.advice.iter().flatten().map(|a| a.word());
            let mut topics: Vec<&str> = given.filter(|t| *t != topic.word()).collect();
            if yes {
                topics.push(topic.word());
            }
            json!(topics)
        }
    };
    record(app, step.path, value)
}

/// The value at the fitting of what a step reads again on the face.
pub fn as_measured(step: &Step, job: &Job) -> Option<Value> {
    form::find(&step.path.replace("handover.", "fitting."))
        .filter(|f| f.section == Section::Fitting)?
        .value(job)
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
    let Some(field) = form::find(path) else {
        return Vec::new();
    };
    let change = form::change(field, value);
    keep(app, change)
}

/// Keeps a change of the handover, in the name of whoever hands over.
fn keep(app: &mut App, change: Value) -> Vec<Effect> {
    let Some(person) = app.person.clone() else {
        people::who(app, None);
        app.say("First say who hands over; then answer.");
        return Vec::new();
    };
    let Some(card) = &app.card else {
        return Vec::new();
    };
    let mut change = match change {
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
    app.collections.step = acting::moved(app.collections.step, 1, steps_now(app).len());
    people::by_somebody(app, deed)
}

/// The step under the cursor.
fn current(app: &App) -> Option<Step> {
    steps_now(app).into_iter().nth(app.collections.step)
}

/// Something was adjusted at this step: what was answered there is well now, and heights that were
/// read before are read again.
fn adjusted(app: &mut App) -> Vec<Effect> {
    let (Some(step), Some(card)) = (current(app), &app.card) else {
        return Vec::new();
    };
    let stale: Vec<Eye> = Eye::BOTH
        .into_iter()
        .filter(|eye| card.job.handover.eye(*eye).has_height())
        .collect();
    let adjusts = step.topic.is_none() && step.is_yes_no();
    if stale.is_empty() && !adjusts {
        app.say("No height was read yet: nothing has to be read again.");
        return Vec::new();
    }
    let mut change = match form::find(step.path).filter(|_| adjusts) {
        Some(field) => form::change(field, json!(true)),
        None => json!({}),
    };
    if let (Value::Object(map), false) = (&mut change, stale.is_empty()) {
        map.insert("adjusted_after_heights".to_owned(), json!(stale));
    }
    keep(app, change)
}
