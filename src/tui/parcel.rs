//! What came from the laboratory this morning: one pair after the other is trued, read with its
//! order hidden, set against the order, and passed or sent back.

use serde_json::{Value, json};

use super::action::Action;
use super::editor::Editor;
use super::effect::{Deed, Effect, Opened};
use super::key::Key;
use super::line::Line;
use super::{App, Screen, gating, list, shell};
use crate::book::desk::JobLine;
use crate::job::fields;
use crate::job::{Job, Section, Stage};
use crate::judge::gate::faults::{SentBack, repeated};
use crate::judge::gate::{CheckId, Seen, Work};
use crate::practice::Threshold;

pub(crate) mod steps;
mod typing;
pub(crate) mod verdict;

use typing::draft;
pub(crate) use typing::{pasted_on, typed_on};

use steps::{Step, hidden_because, is_hidden};

/// The run through the parcel.
#[derive(Debug, Default)]
pub struct Parcel {
    /// The jobs with the laboratory: what is late or due first, what was done in this run last.
    pub lines: Vec<JobLine>,
    /// The selected one.
    pub selected: usize,
    /// A number as it is typed or scanned.
    pub number: Line,
    /// The job in hand.
    pub in_hand: Option<String>,
    /// The reading being typed.
    pub editor: Editor,
    /// The step the cursor is on.
    pub row: usize,
    /// First row of the verdict that is shown.
    pub top: usize,
    /// Whether the verdict is in front.
    pub shown: bool,
    /// What was sent to be kept corrects an answer: another may follow, so the steps stay.
    pub corrects: bool,
    /// The gate was asked for with what was sent to be kept: it is shown once that is kept.
    pub wants_gate: bool,
    /// Numbers that were passed or sent back in this run.
    pub done: Vec<String>,
    /// What was sent back lately, of every laboratory.
    pub sent_back: Vec<SentBack>,
}

/// The job in hand, as it stands.
pub fn in_hand(app: &App) -> Option<&Job> {
    let number = app.parcel.in_hand.as_ref()?;
    let open = &app.job.as_ref()?.open;
    (open.number == *number && open.job.stage() == Stage::Ordered).then_some(&open.job)
}

/// Whether the verdict is in front; never before every reading that decides is in.
pub fn shows_verdict(app: &App) -> bool {
    app.parcel.shown && in_hand(app).is_some_and(|job| !is_hidden(job, &app.practice))
}

/// What stands on a pair's card in place of what was ordered, while it is in hand and not read as
/// often as it takes: wherever the card is looked at. Nothing for any other pair.
pub(crate) fn card_hides(app: &App, number: &str, job: &Job) -> Option<&'static str> {
    let is_in_hand = app.parcel.in_hand.as_deref() == Some(number);
    if !is_in_hand || job.stage() != Stage::Ordered || !is_hidden(job, &app.practice) {
        return None;
    }
    Some(if steps::both_read(job) {
        "hidden until the readings decide"
    } else {
        "hidden until both lenses are read"
    })
}

/// The steps of the job in hand.
pub(crate) fn steps_now(app: &App) -> Vec<Step> {
    in_hand(app).map_or_else(Vec::new, |job| steps::steps(job, &app.practice))
}

/// Begins a run.
fn open(app: &mut App) -> Vec<Effect> {
    app.parcel = Parcel::default();
    app.close_job();
    app.go(Screen::Parcel);
    take(app);
    vec![Effect::SentBack]
}

/// Takes the ordered jobs from the worklist.
pub(crate) fn take(app: &mut App) {
    let chosen = app
        .parcel
        .lines
        .get(app.parcel.selected)
        .map(|l| l.number.clone());
    let done = &app.parcel.done;
    let mut lines: Vec<JobLine> = app
        .lines
        .iter()
        .filter(|l| l.stage == Stage::Ordered)
        .cloned()
        .collect();
    lines.sort_by_cached_key(|l| {
        let undated = l.due_on.is_none();
        (
            done.contains(&l.number),
            undated,
            l.due_on,
            l.number.clone(),
        )
    });
    let is_chosen = |l: &JobLine| Some(&l.number) == chosen.as_ref() && !done.contains(&l.number);
    app.parcel.selected = lines.iter().position(is_chosen).unwrap_or(0);
    if !lines
        .iter()
        .any(|l| Some(&l.number) == app.parcel.in_hand.as_ref())
    {
        app.parcel.in_hand = None;
    }
    app.parcel.lines = lines;
}

/// Takes up the job of a number, typed or scanned; the end of it is enough where only one fits.
pub fn pick(app: &mut App, number: &str) -> Vec<Effect> {
    let wanted = number.trim();
    let same = |l: &&JobLine| l.number.eq_ignore_ascii_case(wanted);
    let ends = |l: &&JobLine| {
        let (all, end) = (l.number.to_lowercase(), wanted.to_lowercase());
        !end.is_empty() && all.ends_with(&end)
    };
    let exact = app.parcel.lines.iter().find(same);
    let ending: Vec<&JobLine> = app.parcel.lines.iter().filter(ends).collect();
    let found = match (exact, ending.as_slice()) {
        (Some(line), _) => Ok(line.number.clone()),
        (None, [one]) => Ok(one.number.clone()),
        (None, []) => Err(format!(
            "No pair that is with the laboratory has the number {wanted}: look it up with its name, or see whether it is ordered."
        )),
        (None, more) => Err(format!(
            "{} pairs have a number that ends in {wanted}: type more of it.",
            more.len()
        )),
    };
    app.parcel.number = Line::default();
    match found {
        Ok(number) => {
            app.parcel.selected = app
                .parcel
                .lines
                .iter()
                .position(|l| l.number == number)
                .unwrap_or(0);
            app.parcel.in_hand = Some(number.clone());
            (app.parcel.shown, app.parcel.row, app.parcel.top) = (false, 0, 0);
            app.close_job();
            vec![Effect::Open(number)]
        }
        Err(why) => {
            app.complain(why);
            Vec::new()
        }
    }
}

/// Does an action of the parcel; nothing for one that is not its own.
pub(crate) fn act(app: &mut App, action: Action) -> Option<Vec<Effect>> {
    if action == Action::Parcel {
        return Some(open(app));
    }
    if app.screen != Screen::Parcel {
        return None;
    }
    let held = in_hand(app).is_some();
    Some(match action {
        Action::TakeUp if held => begin(app, None),
        Action::TakeUp => {
            let typed = app.parcel.number.text().to_owned();
            let selected = app.parcel.lines.get(app.parcel.selected);
            match (typed.trim().is_empty(), selected) {
                (false, _) => pick(app, &typed),
                (true, Some(line)) => pick(app, &line.number.clone()),
                (true, None) => Vec::new(),
            }
        }
        Action::Yes | Action::No if held => yes_no(app, action == Action::Yes),
        Action::Verdict => {
            verdict(app);
            Vec::new()
        }
        Action::Yes | Action::No | Action::Move | Action::SendBack if !held => {
            take_up_first(app);
            Vec::new()
        }
        Action::Move => move_on(app),
        Action::SendBack => send_back(app),
        Action::OpenJob | Action::OpenGate => look(app, action == Action::OpenGate),
        // The next reading is the next that is asked for.
        Action::Commit | Action::CommitNext | Action::CommitPrevious | Action::NextMarked => {
            commit(app)
        }
        Action::StepUp | Action::StepDown => Vec::new(),
        Action::ClearText => {
            app.parcel.editor.retype("");
            draft(app)
        }
        Action::Restore => {
            let number = app.parcel.in_hand.clone().unwrap_or_default();
            app.parcel.editor.drop(&number).into_iter().collect()
        }
        Action::TakeOffered => {
            app.say("Nothing is offered for this entry: type it.");
            Vec::new()
        }
        Action::Back if !app.parcel.number.text().is_empty() => {
            app.parcel.number = Line::default();
            Vec::new()
        }
        Action::Back if app.parcel.in_hand.is_some() => {
            app.parcel.in_hand = None;
            Vec::new()
        }
        _ => return None,
    })
}

/// Goes up or down.
pub(crate) fn step(app: &mut App, by: isize) {
    if shows_verdict(app) {
        let rows = in_hand(app).map_or(0, |job| verdict::rows(job, &app.practice));
        let count = rows.saturating_add(1);
        app.parcel.top = list::moved(app.parcel.top, by, count);
    } else if in_hand(app).is_some() {
        let count = steps_now(app).len();
        app.parcel.row = list::moved(app.parcel.row, by, count);
    } else {
        app.parcel.selected = list::moved(app.parcel.selected, by, app.parcel.lines.len());
    }
}

/// Takes a key that is no action: of a number, or the beginning of a value.
pub(crate) fn typed(app: &mut App, key: Key) -> Vec<Effect> {
    if app.parcel.in_hand.is_none() {
        app.parcel.number.key(key);
        return Vec::new();
    }
    let Some(c) = key.types() else {
        return Vec::new();
    };
    // A figure typed beside a tick is the reading that comes next: nobody types figures to a tick.
    let steps = steps_now(app);
    let is_tick = |s: &Step| s.yes_no.is_some();
    if !shows_verdict(app)
        && (c.is_ascii_digit() || matches!(c, '+' | '-'))
        && steps.get(app.parcel.row).is_some_and(is_tick)
        && let Some(at) = steps.iter().position(|s| s.is_open() && !is_tick(s))
    {
        app.parcel.row = at;
    }
    begin(app, Some(key))
}

/// Takes pasted text, as a scanner that pastes gives it.
pub(crate) fn pasted(app: &mut App, text: &str) -> Vec<Effect> {
    if app.parcel.in_hand.is_none() {
        app.parcel.number.paste(text);
        return Vec::new();
    }
    if begins(app, false) {
        return pasted_on(app, text);
    }
    Vec::new()
}

/// Begins to type the value of the step under the cursor.
fn begin(app: &mut App, first: Option<Key>) -> Vec<Effect> {
    if !begins(app, first.is_none()) {
        return Vec::new();
    }
    first.map_or_else(Vec::new, |key| typed_on(app, key))
}

fn begins(app: &mut App, with_answer: bool) -> bool {
    if shows_verdict(app) {
        let key = app.keymap.shown(Action::Verdict).unwrap_or_default();
        app.say(format!(
            "This is the verdict; {key} goes back to the steps."
        ));
        return false;
    }
    let Some(step) = steps_now(app).into_iter().nth(app.parcel.row) else {
        return false;
    };
    if step.yes_no.is_some() {
        app.complain(format!("{}: {}.", step.question, app.keymap.yes_or_no()));
        return false;
    }
    let text = step.answer.filter(|_| with_answer).unwrap_or_default();
    app.parcel.editor.begin_with(&step.path, &text);
    true
}

/// Keeps what was typed, or says beside it what to type.
fn commit(app: &mut App) -> Vec<Effect> {
    let today = app.today;
    let nobody = app.person.is_none();
    let (Some(job), Some(edit)) = (&app.job, app.parcel.editor.edit()) else {
        return Vec::new();
    };
    let path = edit.path.clone();
    let change = match steps::change(&job.open.job, &path, edit.line.text().trim(), today) {
        Ok(change) => change,
        Err(why) => {
            app.parcel.editor.refuse(why);
            return Vec::new();
        }
    };
    if nobody {
        shell::ask_who(app, None);
        app.say(
            app.keymap
                .sentence("First say who reads; then {commit} keeps it."),
        );
        return Vec::new();
    }
    app.parcel.editor.send();
    record(app, change, Some(path))
}

/// Records a change of the readings, in the name of whoever reads.
fn record(app: &mut App, change: Value, field: Option<String>) -> Vec<Effect> {
    let Some(person) = app.person.clone() else {
        shell::ask_who(app, None);
        app.say("First say who reads; then answer.");
        return Vec::new();
    };
    let is_answered = steps_now(app)
        .get(app.parcel.row)
        .is_some_and(|s| !s.is_open() && s.answer.is_some());
    app.parcel.corrects = is_answered && !app.parcel.shown;
    let Some(job) = &app.job else {
        return Vec::new();
    };
    let of = &job.open.job;
    let change = fields::signed_answer(of, Section::Readings, change, &person, app.today);
    let deed = Deed::Record {
        number: job.open.number.clone(),
        section: Section::Readings,
        change,
        revision: job.open.revision,
        field,
        is_undo: false,
    };
    vec![Effect::Act(deed)]
}

/// Whether the verdict asks to confirm something.
pub(crate) fn asks(app: &App, job: &Job) -> bool {
    let findings = app.job.as_ref().map_or(&[][..], |j| &j.findings);
    matches!(
        verdict::judge(job, findings, &app.practice).0,
        verdict::Verdict::Confirm(_)
    )
}

fn yes_no(app: &mut App, yes: bool) -> Vec<Effect> {
    if shows_verdict(app) {
        // Only what the verdict asks is answered: nobody confirms what was not read.
        let next = in_hand(app).filter(|job| asks(app, job));
        let Some(next) = next.and_then(steps::to_confirm) else {
            app.say("Nothing is asked here.");
            return Vec::new();
        };
        return record(app, json!({ next.key: yes }), None);
    }
    let Some(step) = steps_now(app).into_iter().nth(app.parcel.row) else {
        return Vec::new();
    };
    let (Some((good, bad)), Some(field)) = (step.yes_no, fields::find(&step.path)) else {
        app.complain(format!("{}: this one is a value; type it.", step.question));
        return Vec::new();
    };
    let value = if yes { good } else { bad };
    record(app, fields::change(field, value), None)
}

/// Says that nothing is done before a pair is taken up.
fn take_up_first(app: &mut App) {
    app.complain(
        app.keymap
            .sentence("Take a pair up first: type its number, or go to it and press {take-up}."),
    );
}

/// Shows the verdict, or goes back to the steps.
fn verdict(app: &mut App) {
    if shows_verdict(app) {
        app.parcel.shown = false;
        return;
    }
    let Some(job) = in_hand(app) else {
        take_up_first(app);
        return;
    };
    match hidden_because(job, &app.practice) {
        None => (app.parcel.shown, app.parcel.top) = (true, 0),
        Some(why) => app.complain(why),
    }
}

/// Passes the pair, when it was read well enough to be judged.
fn move_on(app: &mut App) -> Vec<Effect> {
    let Some(job) = in_hand(app) else {
        return Vec::new();
    };
    if is_hidden(job, &app.practice) {
        verdict(app);
        return Vec::new();
    }
    moves(app, Action::Move)
}

/// Asks why the pair goes back, with what failed put in already.
fn send_back(app: &mut App) -> Vec<Effect> {
    let can = app
        .job
        .as_ref()
        .filter(|j| j.open.job.stage().can_send_back());
    let Some(number) = can.map(|j| j.open.number.clone()) else {
        return moves(app, Action::SendBack);
    };
    let reason = gating::why_back(faults_found(app));
    let remark = faults(app)
        .first()
        .map_or_else(String::new, |first| format!(" ({first})"));
    shell::run(app, gating::ask_send_back(number, &remark, &reason))
}

fn moves(app: &mut App, action: Action) -> Vec<Effect> {
    let Some(job) = &app.job else {
        return Vec::new();
    };
    let next = gating::act(job, action);
    shell::run(app, next)
}

fn faults_found(app: &App) -> impl Iterator<Item = &crate::judge::gate::Finding> {
    let read = in_hand(app).is_some_and(|job| !is_hidden(job, &app.practice));
    app.job
        .iter()
        .flat_map(|j| gating::faults(&j.findings))
        .filter(move |f| read || f.work == Work::Laboratory(Seen::ByLooking))
}

/// What the laboratory has done wrong before and again now, a sentence each.
pub(crate) fn faults(app: &App) -> Vec<String> {
    let Some(laboratory) = in_hand(app).and_then(|j| j.order.laboratory.as_deref()) else {
        return Vec::new();
    };
    let now: Vec<CheckId> = faults_found(app).map(|f| f.check).collect();
    #[allow(
        clippy::cast_possible_truncation,
        reason = "a setting between 0 and 1000"
    )]
    let days = app.practice.thresholds.get(Threshold::FaultDays) as i64;
    repeated(&app.parcel.sent_back, laboratory, &now, app.today, days)
}

/// Opens the form or the gate of the job in hand, or of the one selected. Both set readings against
/// the order: of a pair in hand they are shown once its readings are in.
fn look(app: &mut App, gate: bool) -> Vec<Effect> {
    if let Some(why) = in_hand(app).and_then(|job| hidden_because(job, &app.practice)) {
        say_hidden(app, &why, gate);
        return Vec::new();
    }
    let selected = app.parcel.lines.get(app.parcel.selected);
    let number = app
        .parcel
        .in_hand
        .clone()
        .or_else(|| selected.map(|l| l.number.clone()));
    let Some(number) = number else {
        return Vec::new();
    };
    app.close_job();
    let mut effects = shell::go(app, if gate { Screen::Gate } else { Screen::Job });
    effects.push(Effect::Open(number));
    effects
}

/// Says why the gate or the form is not shown, and how whoever has to see it comes there.
fn say_hidden(app: &mut App, why: &str, gate: bool) {
    let (action, what) = if gate {
        (Action::OpenGate, "the gate")
    } else {
        (Action::OpenJob, "the form")
    };
    let [back, key] = [Action::Back, action].map(|a| app.keymap.shown(a).unwrap_or_default());
    app.complain(format!(
        "{why} {back} puts the pair down; {key} in the list then shows {what}, and the order in it."
    ));
}

/// The gate was asked for, with `sent` while a reading was typed that is now to be kept. Whether it may
/// be shown is judged by the readings as they are kept, so after that one.
pub(crate) fn gate(app: &mut App, sent: bool) {
    app.parcel.wants_gate = sent;
    if sent {
        return;
    }
    match in_hand(app).and_then(|job| hidden_because(job, &app.practice)) {
        Some(why) => say_hidden(app, &why, true),
        None => drop(shell::go(app, Screen::Gate)),
    }
}

/// A job was read: the one in hand goes on where it was left.
pub(crate) fn opened(app: &mut App, opened: &Opened) {
    if app.parcel.in_hand.as_ref() != Some(&opened.open.number) {
        return;
    }
    if in_hand(app).is_none() {
        let stage = opened.open.job.stage();
        app.parcel.in_hand = None;
        app.complain(format!("{} is {stage} by now.", opened.open.number));
        return;
    }
    if app.parcel.editor.is_open() {
        return;
    }
    let draft = opened
        .drafts
        .iter()
        .rfind(|(path, _)| path.starts_with("readings."));
    let at = steps_now(app)
        .iter()
        .position(|s| draft.is_some_and(|(path, _)| *path == s.path));
    if let (Some(at), Some((path, text))) = (at, draft) {
        app.parcel.row = at;
        app.parcel.editor.take_up(path, text);
        let keys = app.kept_or_dropped();
        app.say(format!("This was typed earlier and not kept yet: {keys}."));
        return;
    }
    if app.parcel.row == 0 && !app.parcel.shown {
        onward(app);
    }
}

/// Something was recorded: on to what is asked next, or to the verdict.
pub(crate) fn recorded(app: &mut App) {
    let wants_gate = std::mem::take(&mut app.parcel.wants_gate);
    if app.screen != Screen::Parcel || in_hand(app).is_none() {
        return;
    }
    let steps = steps_now(app);
    if std::mem::take(&mut app.parcel.corrects) && !steps.iter().any(Step::is_open) {
        app.parcel.row = list::moved(app.parcel.row, 1, steps.len());
        let key = app.keymap.shown(Action::Verdict).unwrap_or_default();
        app.say(format!("Corrected. {key} shows the verdict again."));
    } else {
        onward(app);
    }
    if wants_gate {
        gate(app, false);
    }
}

fn onward(app: &mut App) {
    let steps = steps_now(app);
    let open = |at: &usize| steps.get(*at).is_some_and(Step::is_open);
    let here = app.parcel.row.min(steps.len());
    match (here..steps.len()).chain(0..here).find(open) {
        Some(at) => (app.parcel.row, app.parcel.shown) = (at, false),
        None => app.parcel.shown = true,
    }
}

/// The pair was passed or sent back: on to the next; or it was held, and the gate says by what.
pub(crate) fn stands(app: &mut App, refused: bool) -> Vec<Effect> {
    if app.screen != Screen::Parcel {
        return Vec::new();
    }
    if refused {
        return shell::go(app, Screen::Gate);
    }
    if let Some(number) = app.parcel.in_hand.take() {
        app.parcel.done.push(number);
    }
    app.parcel.selected = 0;
    take(app);
    vec![Effect::SentBack]
}
