//! The collections of the day: the on-face checks one after the other, one key each.

use serde_json::{Value, json};

use super::action::{Action, Scope};
use super::effect::{Deed, Effect};
use super::key::Key;
use super::next::Next;
use super::question::{Dialog, TextAsker};
use super::shell::hints;
use super::shell::selected::{card_for, on_worklist};
use super::{App, Screen, list};
use crate::book::desk::JobLine;
use crate::job::fields;
use crate::job::{Job, Section, Stage};
use crate::trade::eye::Eye;

mod checks;

pub use checks::{Step, steps};
pub(crate) use checks::{as_measured, is_answered, read_again, typed_because};

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

/// How many of the checks of the handover in front are answered, and how many there are.
pub fn answered(app: &App) -> (usize, usize) {
    let Some(card) = &app.card else {
        return (0, 0);
    };
    let steps = steps_now(app);
    let done = steps.iter().filter(|s| is_answered(s, &card.job)).count();
    (done, steps.len())
}

/// A card was read: the handover of another job begins at its first check without an answer.
pub(crate) fn card_read(app: &mut App) {
    let Some(number) = app.card.as_ref().map(|c| c.number.clone()) else {
        return;
    };
    if app.screen == Screen::Collections && app.collections.begun.as_ref() != Some(&number) {
        app.collections.begun = Some(number);
        app.collections.done = false;
        app.collections.step = open_from(app, 0).unwrap_or(0);
    }
}

/// Something was recorded: on to the next check without an answer; after an adjustment, to the first
/// height that is to be read again. `before` heights were to be read again before it.
pub(crate) fn recorded(app: &mut App, before: usize) {
    let adjusted = std::mem::take(&mut app.collections.adjusted);
    app.collections.done = false;
    if app.screen != Screen::Collections {
        return;
    }
    let stale = heights_to_read_again(app);
    if stale > before || (adjusted && stale > 0) {
        app.complain("Adjusted after the heights were read: read them again, they are marked.");
    }
    if adjusted && let Some(at) = first_to_read_again(app) {
        app.collections.step = at;
    } else if let Some(at) = open_from(app, app.collections.step + 1) {
        app.collections.step = at;
    } else {
        app.collections.done = true;
        let key = hints::key_here(app, Action::OpenGate);
        let key = key.map_or_else(String::new, |key| key.to_string());
        app.say(format!("Every check is answered. {key} shows the gate."));
    }
}

fn first_to_read_again(app: &App) -> Option<usize> {
    let job = &app.card.as_ref()?.job;
    steps_now(app)
        .iter()
        .position(|s| read_again(s, job).is_some())
}

/// The first check without an answer from a place on, then from the beginning.
fn open_from(app: &App, from: usize) -> Option<usize> {
    let job = &app.card.as_ref()?.job;
    let steps = steps_now(app);
    let from = from.min(steps.len());
    (from..steps.len())
        .chain(0..from)
        .find(|at| steps.get(*at).is_some_and(|s| !is_answered(s, job)))
}

/// Takes the day's handovers, and with them the pair that is selected on the worklist: whoever
/// stands there has come for it, with an appointment or without.
pub(crate) fn begin(app: &mut App) {
    let selected = on_worklist(app).filter(|l| l.stage == Stage::Verified);
    let selected = selected.map(|l| l.number.clone());
    app.collections.walk_in.clone_from(&selected);
    app.collections.replaced = None;
    take(app);
    let lines = &app.collections.lines;
    let place = lines
        .iter()
        .position(|l| Some(&l.number) == selected.as_ref());
    app.collections.selected = place.unwrap_or(app.collections.selected);
}

/// Takes the day's handovers from the worklist.
pub(crate) fn take(app: &mut App) {
    let chosen = line(app).map(|l| l.number.clone());
    let today = app.today;
    let walk_in = app.collections.walk_in.clone();
    let mut lines: Vec<JobLine> = app
        .lines
        .iter()
        .filter(|l| {
            l.stage == Stage::Verified && (is_on(l, today) || Some(&l.number) == walk_in.as_ref())
        })
        .cloned()
        .collect();
    // Whoever came without an appointment stands there now.
    lines.sort_by_key(|l| {
        (
            Some(&l.number) != walk_in.as_ref() || is_on(l, today),
            l.collection_at,
        )
    });
    let place = lines
        .iter()
        .position(|l| Some(&l.number) == chosen.as_ref());
    if app.screen == Screen::Collections
        && place.is_none()
        && let Some(gone) = line(app).cloned()
    {
        another_in_front(app, &gone, lines.first().map(|l| l.wearer.as_str()));
    }
    app.collections.selected = place.unwrap_or(0);
    app.collections.lines = lines;
}

fn is_on(line: &JobLine, today: chrono::NaiveDate) -> bool {
    line.collection_at.is_some_and(|m| m.0.date() == today)
}

/// The handover in front.
pub(crate) fn line(app: &App) -> Option<&JobLine> {
    app.collections.lines.get(app.collections.selected)
}

/// Somebody else has moved the pair in front away: what is asked about it is closed, and nothing is
/// answered for the next wearer before that is said.
fn another_in_front(app: &mut App, gone: &JobLine, next: Option<&str>) {
    if let Some(Dialog::Text { asker, .. }) = &app.dialog
        && asker.only_for() == Some(&gone.number)
    {
        app.dialog = None;
    }
    let next = next.map_or_else(
        || "nobody is left".to_owned(),
        |n| format!("{n} is in front now"),
    );
    let said = format!(
        "{} ({}) is no longer among the collections; {next}.",
        gone.wearer, gone.number
    );
    app.complain(said.clone());
    app.collections.begun = None;
    app.collections.replaced = Some(said);
}

/// Whether the key is only to say that another handover is in front; that is said once.
fn is_replaced(app: &mut App) -> bool {
    let said = app.collections.replaced.take();
    let is = said.is_some();
    if let Some(said) = said {
        app.complain(format!("{said} Nothing was answered."));
    }
    is
}

/// Does an action of the collections.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    let answers = matches!(
        action,
        Action::Yes | Action::No | Action::Adjusted | Action::Value
    );
    if answers && is_replaced(app) {
        return Vec::new();
    }
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
    app.collections.replaced = None;
    let count = app.collections.lines.len();
    app.collections.selected = list::moved(app.collections.selected, by, count);
    if count > 1 {
        app.collections.begun = None;
    }
    card_for(app, line(app).map(|l| l.number.clone()))
}

/// Whether a key begins the words of the check under the cursor rather than being a key of this
/// screen. Keys of everywhere, such as the one for help, stay what they are. Once every check is
/// answered nothing is waiting for words, and the keys are keys again.
pub(crate) fn begins_words(app: &App, key: Key) -> bool {
    app.screen == Screen::Collections
        && key.types().is_some_and(|c| !c.is_whitespace())
        && app.keymap.action(Scope::Everywhere, key).is_none()
        && line(app).is_some()
        && current(app).is_some_and(|step| step.takes_words())
        && !app.collections.done
}

/// A digit typed on a value begins the value; on words any letter begins them.
pub(crate) fn typed(app: &mut App, key: Key) -> Vec<Effect> {
    let begins = key.types().is_some_and(|c| c.is_ascii_digit()) || begins_words(app, key);
    if begins && !is_replaced(app) {
        prompt(app, Some(key));
    }
    Vec::new()
}

/// Pasted text begins the words of a check, or its value.
pub(crate) fn pasted(app: &mut App, text: &str) {
    if current(app).is_some_and(|step| !step.is_yes_no()) {
        prompt(app, None);
    }
    if let Some(Dialog::Text { line, .. }) = &mut app.dialog {
        line.paste(text);
    }
}

fn prompt(app: &mut App, first: Option<Key>) {
    let Some(step) = current(app) else {
        return;
    };
    let Some(number) = line(app).map(|l| l.number.clone()) else {
        return;
    };
    // Before anything is typed: what is typed under nobody's name could not be kept.
    if app.person.is_none() {
        super::shell::ask_who(app, None);
        app.say("First say who hands over; then answer.");
        return;
    }
    if step.is_yes_no() {
        app.complain(format!("{}: {}.", step.question, app.yes_or_no()));
        return;
    }
    let Some(field) = fields::find(step.path) else {
        return;
    };
    let unit = if field.unit.is_empty() {
        String::new()
    } else {
        format!(", {}", field.unit)
    };
    app.ask(
        format!("{}{unit}:", step.question),
        ValueOf {
            number,
            path: step.path,
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
        return match agreed(app, &step, &card.job) {
            Ok(value) if yes => record(app, step.path, value),
            Ok(_) => refused(app, &step, "this one is a value; type it."),
            Err(why) => refused(app, &step, &why),
        };
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

fn refused(app: &mut App, step: &Step, why: &str) -> Vec<Effect> {
    app.complain(format!("{}: {why}", step.question));
    Vec::new()
}

/// The value that a yes keeps for a step: what was measured; or why it is typed instead.
pub(crate) fn agreed(app: &App, step: &Step, job: &Job) -> Result<Value, String> {
    if read_again(step, job).is_some() {
        return Err("adjusted since it was read; read it again and type it.".to_owned());
    }
    if let Some(why) = typed_because(step, job, &app.practice) {
        return Err(format!("type what you read: {why}."));
    }
    as_measured(step, job).ok_or_else(|| "this one is a value; type it.".to_owned())
}

/// A value of the handover of a job.
#[derive(Debug)]
struct ValueOf {
    number: String,
    /// Path of the field.
    path: &'static str,
}

impl TextAsker for ValueOf {
    fn answered(&self, app: &mut App, text: &str) -> Result<Next, String> {
        let Self { number, path } = self;
        if app.card.as_ref().is_none_or(|c| c.number != *number) {
            return Err(format!(
                "This was asked for job {number}, which is not in front any more: Esc, and begin again."
            ));
        }
        let Some(field) = fields::find(path) else {
            return Ok(Next::Stay);
        };
        let value = fields::parse(field, text, app.today).map_err(|e| e.to_string())?;
        Ok(Next::Do(record(app, path, value)))
    }

    fn only_for(&self) -> Option<&str> {
        Some(&self.number)
    }
}

fn record(app: &mut App, path: &str, value: Value) -> Vec<Effect> {
    let Some(field) = fields::find(path) else {
        return Vec::new();
    };
    let change = fields::change(field, value);
    keep(app, change)
}

/// Keeps a change of the handover, in the name of whoever hands over.
fn keep(app: &mut App, change: Value) -> Vec<Effect> {
    let Some(person) = app.person.clone() else {
        super::shell::ask_who(app, None);
        app.say("First say who hands over; then answer.");
        return Vec::new();
    };
    let Some(card) = &app.card else {
        return Vec::new();
    };
    let change = fields::signed_answer(&card.job, Section::Handover, change, &person, app.today);
    let deed = Deed::Record {
        number: card.number.clone(),
        section: Section::Handover,
        change,
        revision: card.revision,
        field: None,
        is_undo: false,
    };
    app.collections.adjusted = false;
    vec![Effect::Act(deed)]
}

/// The step under the cursor.
fn current(app: &App) -> Option<Step> {
    steps_now(app).into_iter().nth(app.collections.step)
}

fn heights_read(job: &Job) -> Vec<Eye> {
    let all = Eye::BOTH.into_iter();
    all.filter(|eye| job.handover.eye(*eye).has_height())
        .collect()
}

/// Whether saying that something was adjusted changes anything at a step.
pub(crate) fn can_adjust(step: &Step, job: &Job) -> bool {
    step.is_of_fit() && (step.is_yes_no() || !heights_read(job).is_empty())
}

/// Says that a step is none of the fit, and what answers it instead.
fn not_adjusted(app: &App, step: &Step) -> String {
    let instead = if step.is_yes_no() {
        app.yes_or_no()
    } else {
        "type it".to_owned()
    };
    format!(
        "nothing is adjusted at this one: {instead}. Say adjusted at the check of the fit it was done for."
    )
}

/// Something was adjusted at this step: what was answered there is well now, and heights that were
/// read before are read again.
fn adjusted(app: &mut App) -> Vec<Effect> {
    let (Some(step), Some(card)) = (current(app), &app.card) else {
        return Vec::new();
    };
    let stale = heights_read(&card.job);
    let adjusts = step.is_yes_no();
    if !step.is_of_fit() {
        let what = not_adjusted(app, &step);
        return refused(app, &step, &what);
    }
    if !can_adjust(&step, &card.job) {
        app.say("No height was read yet: nothing has to be read again.");
        return Vec::new();
    }
    let mut change = match fields::find(step.path).filter(|_| adjusts) {
        Some(field) => fields::change(field, json!(true)),
        None => json!({}),
    };
    if let (Value::Object(map), false) = (&mut change, stale.is_empty()) {
        map.insert("adjusted_after_heights".to_owned(), json!(stale));
    }
    let effects = keep(app, change);
    app.collections.adjusted = !effects.is_empty();
    effects
}
