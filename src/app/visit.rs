//! The visit about a pair that came back: differences, steps, causes, outcome, a page each.

pub mod entries;

use crate::form::at;
use serde_json::{Value, json};

use super::action::{Action, Scope};
use super::editor::Edit;
use super::effect::{Deed, Effect};
use super::key::Key;
use super::line::Line;
use super::question::ChoiceAsker;
use super::{App, Screen, list};
use crate::desk::VisitLinks;
use crate::form;
use crate::job::{Complaint, Outcome, Reason, Section, Stage};
use crate::recheck::{Comparison, Likely, STEPS, compare, likely};

pub use entries::Entry;

/// A page of the visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Page {
    /// The values side by side.
    #[default]
    Differences,
    /// The order of work.
    Steps,
    /// The complaints, and what they and the values point to.
    Causes,
    /// What was found and decided.
    Outcome,
}

impl Page {
    /// Every page, in order.
    pub const ALL: [Self; 4] = [Self::Differences, Self::Steps, Self::Causes, Self::Outcome];

    /// What a person calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Differences => "differences",
            Self::Steps => "steps",
            Self::Causes => "causes",
            Self::Outcome => "outcome",
        }
    }

    fn place(self) -> usize {
        Self::ALL.iter().position(|p| *p == self).unwrap_or(0)
    }
}

/// What the screen remembers.
#[derive(Debug, Default)]
pub struct Visit {
    /// The job it is about.
    pub number: String,
    /// The jobs it hangs together with, once they are read.
    pub links: Option<VisitLinks>,
    /// The page in front.
    pub page: Page,
    /// The row of the cursor on each page.
    pub rows: [usize; 4],
    /// The values side by side.
    pub comparison: Option<Comparison>,
    /// What is likely.
    pub causes: Vec<Likely>,
    /// What is being typed.
    pub edit: Option<Edit>,
    /// What was sent to be kept and is not kept yet.
    sent: Option<Edit>,
    /// The day that is being typed is the one on which a waiting wearer comes back.
    waits: bool,
    /// A recheck was asked for from here: it is shown here once it is begun.
    wanted: bool,
    /// A word was sent to be kept that may make it a remake at the practice's cost.
    pub(super) leads_to_price: bool,
}

impl Visit {
    /// The row of the cursor on the page in front.
    pub fn row(&self) -> usize {
        self.rows[self.page.place()]
    }

    /// The entry under the cursor, on the page that has entries.
    pub fn entry(&self) -> Option<Entry> {
        (self.page == Page::Outcome)
            .then(|| Entry::ALL.get(self.row()).copied())
            .flatten()
    }
}

/// The letter of a complaint: a for the first.
pub fn letter(complaint: Complaint) -> char {
    let place = Complaint::ALL.iter().position(|c| *c == complaint);
    ('a'..='z').nth(place.unwrap_or(0)).unwrap_or('a')
}

/// Does an action of the table.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    match action {
        Action::Visit if app.screen != Screen::Visit => return open(app),
        Action::NextPage => turn(app, 1),
        Action::PreviousPage => turn(app, Page::ALL.len() - 1),
        Action::Tick => return enter(app),
        Action::Remake => return remake(app),
        _ => {}
    }
    Vec::new()
}

/// Opens the visit of a recheck; of a collected pair, offers to begin one.
fn open(app: &mut App) -> Vec<Effect> {
    let Some(job) = &app.job else {
        return Vec::new();
    };
    let number = job.open.number.clone();
    let stage = job.open.job.stage();
    if job.open.job.reason == Some(Reason::Recheck) {
        app.go(Screen::Visit);
        return read(app, number);
    }
    if stage == Stage::Collected {
        app.choose(
            "The pair is collected. A recheck is a new job linked to it:",
            vec![
                ("begin a recheck of this pair".to_owned(), true),
                ("leave it".to_owned(), false),
            ],
            Begin { number },
        );
    } else {
        app.complain(format!(
            "The job is {stage} and no recheck: a visit is about a collected pair."
        ));
    }
    Vec::new()
}

/// Whether a collected pair is rechecked.
#[derive(Debug)]
struct Begin {
    number: String,
}

impl ChoiceAsker for Begin {
    type Answer = bool;

    fn answered(self, app: &mut App, begins: bool) -> Vec<Effect> {
        if !begins {
            return Vec::new();
        }
        app.visit.wanted = true;
        vec![Effect::Act(Deed::Recheck {
            number: self.number,
        })]
    }
}

/// Goes on to the visit, where a recheck was begun for it.
pub(crate) fn opened(app: &mut App) -> Vec<Effect> {
    let is_recheck = app
        .job
        .as_ref()
        .is_some_and(|j| j.open.job.reason == Some(Reason::Recheck));
    if std::mem::take(&mut app.visit.wanted) && is_recheck {
        return open(app);
    }
    Vec::new()
}

/// Reads the jobs a visit hangs together with; what was shown of another is dropped.
fn read(app: &mut App, number: String) -> Vec<Effect> {
    if app.visit.number != number {
        app.visit = Visit {
            number: number.clone(),
            ..Visit::default()
        };
    }
    work_out(app);
    vec![Effect::VisitLinks(number)]
}

/// Takes the jobs that were read, and goes on with what was being typed.
pub(crate) fn linked(app: &mut App, number: &str, links: VisitLinks) {
    if app.visit.number != number {
        return;
    }
    let draft = links.drafts.last().cloned();
    app.visit.links = Some(links);
    work_out(app);
    if let (None, None, Some((path, text))) = (&app.visit.edit, &app.visit.sent, draft)
        && let Some(place) = place_of(&path)
    {
        app.visit.page = Page::Outcome;
        app.visit.rows[Page::Outcome.place()] = place;
        app.visit.edit = Some(Edit {
            path,
            line: Line::of(&text),
            error: None,
            touched: true,
        });
        let keys = app.kept_or_dropped();
        app.say(format!("This was typed earlier and not kept yet: {keys}."));
    }
}

fn place_of(path: &str) -> Option<usize> {
    let key = path.strip_prefix("visit.")?;
    Entry::ALL.iter().position(|e| e.key() == key)
}

/// Works everything out again for the job as it stands, when it is in front.
pub(crate) fn refresh(app: &mut App) {
    if app.screen != Screen::Visit {
        return;
    }
    let number = app.job.as_ref().map(|j| j.open.number.clone());
    if number.as_ref() == Some(&app.visit.number) {
        app.visit.sent = None;
        work_out(app);
    }
}

fn work_out(app: &mut App) {
    let Some(job) = &app.job else { return };
    let first = app.visit.links.as_ref().and_then(|l| l.first.as_ref());
    let comparison = compare(&job.open.job, first, &app.practice);
    app.visit.causes = likely(&job.open.job, first, &comparison);
    app.visit.comparison = Some(comparison);
    let count = count(app);
    let place = app.visit.page.place();
    app.visit.rows[place] = app.visit.rows[place].min(count.saturating_sub(1));
}

fn count(app: &App) -> usize {
    match app.visit.page {
        Page::Differences => app.visit.comparison.as_ref().map_or(0, |c| c.rows.len()),
        Page::Steps => STEPS.len(),
        Page::Causes => app.visit.causes.len(),
        Page::Outcome => Entry::ALL.len(),
    }
}

fn turn(app: &mut App, by: usize) {
    let place = (app.visit.page.place() + by) % Page::ALL.len();
    app.visit.page = Page::ALL[place];
    work_out(app);
}

/// Goes up or down.
pub(crate) fn step(app: &mut App, by: isize) -> Vec<Effect> {
    let count = count(app);
    let place = app.visit.page.place();
    app.visit.rows[place] = list::moved(app.visit.rows[place], by, count);
    Vec::new()
}

/// Ticks a step, or edits an entry.
fn enter(app: &mut App) -> Vec<Effect> {
    match app.visit.page {
        Page::Steps => tick(app),
        Page::Outcome => edit(app),
        Page::Differences => {
            app.say(
                app.keymap
                    .sentence("The values are entered in the form of the job: {back} goes there."),
            );
            Vec::new()
        }
        Page::Causes => {
            app.say("A letter ticks what is complained of; the outcome is on the next page.");
            Vec::new()
        }
    }
}

/// Takes a key that is typed here rather than looked up among the actions; says whether it was one.
pub(crate) fn typed(app: &mut App, key: Key) -> Option<Vec<Effect>> {
    if app.visit.edit.is_some() {
        return Some(edit_key(app, key));
    }
    let c = key.types()?;
    match app.visit.page {
        Page::Steps if c == ' ' => Some(tick(app)),
        Page::Causes if c.is_ascii_lowercase() => Some(complain_of(app, c)),
        Page::Outcome if c.is_alphanumeric() || matches!(c, '+' | '-') => {
            let entry = app.visit.entry()?;
            if !entry.words().is_empty() {
                let effects = edit(app);
                // The letter that opens the list also leads to what begins with it.
                if let Some(dialog) = &mut app.dialog {
                    dialog.type_letter(c);
                }
                return Some(effects);
            }
            app.visit.edit = Some(Edit {
                path: format!("visit.{}", entry.key()),
                line: Line::default(),
                error: None,
                touched: true,
            });
            Some(edit_key(app, key))
        }
        _ => None,
    }
}

/// Takes pasted text into the entry under the cursor.
pub(crate) fn pasted(app: &mut App, text: &str) -> Vec<Effect> {
    if app.visit.edit.is_none() {
        match app.visit.entry() {
            Some(entry) if entry.words().is_empty() => {
                app.visit.edit = Some(Edit {
                    path: format!("visit.{}", entry.key()),
                    line: Line::default(),
                    error: None,
                    touched: true,
                });
            }
            _ => return Vec::new(),
        }
    }
    if let Some(edit) = &mut app.visit.edit {
        edit.line.paste(text);
        edit.error = None;
    }
    draft(app)
}

fn edit_key(app: &mut App, key: Key) -> Vec<Effect> {
    // The keys of an entry are those of the form, and as there what is kept leads on.
    match app.keymap.action(Scope::Entry, key) {
        Some(Action::Commit | Action::CommitNext) => return keep(app, 1),
        Some(Action::CommitPrevious) => return keep(app, -1),
        Some(Action::Restore) => {
            app.visit.waits = false;
            return app.visit.edit.take().map_or_else(Vec::new, |e| {
                vec![Effect::ClearDraft {
                    number: app.visit.number.clone(),
                    field: e.path,
                }]
            });
        }
        _ => {}
    }
    if let Some(edit) = &mut app.visit.edit
        && edit.line.key(key)
    {
        edit.error = None;
        return draft(app);
    }
    Vec::new()
}

/// Keeps what was typed and goes on to the next entry or the one before.
pub(crate) fn keep(app: &mut App, by: isize) -> Vec<Effect> {
    let effects = commit(app);
    if app.visit.edit.is_none() {
        step(app, by);
    }
    effects
}

/// Keeps what is being typed where a crash cannot take it.
fn draft(app: &App) -> Vec<Effect> {
    app.visit.edit.as_ref().map_or_else(Vec::new, |e| {
        vec![Effect::SaveDraft {
            number: app.visit.number.clone(),
            field: e.path.clone(),
            text: e.line.text().to_owned(),
        }]
    })
}

/// Keeps what was typed, or says beside it what to type.
fn commit(app: &mut App) -> Vec<Effect> {
    let Some(mut edit) = app.visit.edit.take() else {
        return Vec::new();
    };
    let Some(entry) = place_of(&edit.path).and_then(|p| Entry::ALL.get(p)) else {
        return Vec::new();
    };
    let text = edit.line.text().trim().to_owned();
    let value = if text.is_empty() {
        Value::Null
    } else if *entry == Entry::ReviewOn {
        // A day is read as every other day of the form is.
        match form::parse(at!(order.due_on), &text, app.today) {
            Ok(day) => day,
            Err(why) => {
                edit.error = Some(why.to_string());
                app.visit.edit = Some(edit);
                return Vec::new();
            }
        }
    } else {
        Value::String(text)
    };
    let mut change = json!({ entry.key(): value });
    if std::mem::take(&mut app.visit.waits) && !value.is_null() {
        change["outcome"] = json!(Outcome::Waiting);
    }
    let path = edit.path.clone();
    app.visit.sent = Some(edit);
    record(app, change, Some(path))
}

/// Puts what was sent to be kept back into the entry, when it was not kept.
pub(crate) fn keep_typed(app: &mut App) {
    app.visit.wanted = false;
    app.visit.leads_to_price = false;
    if let Some(sent) = app.visit.sent.take() {
        if let Some(place) = place_of(&sent.path) {
            app.visit.page = Page::Outcome;
            app.visit.rows[Page::Outcome.place()] = place;
        }
        app.visit.edit = Some(sent);
    }
}

fn record(app: &mut App, change: Value, field: Option<String>) -> Vec<Effect> {
    let Some(job) = &app.job else {
        return Vec::new();
    };
    let words = [Entry::Outcome, Entry::AtCostOf];
    app.visit.leads_to_price = words.iter().any(|e| change.get(e.key()).is_some());
    let deed = Deed::Record {
        number: job.open.number.clone(),
        section: Section::Visit,
        change,
        revision: job.open.revision,
        field,
        is_undo: false,
    };
    vec![Effect::Act(deed)]
}

/// Ticks the step under the cursor as done, or takes the tick away.
fn tick(app: &mut App) -> Vec<Effect> {
    let (Some(job), Some(tried_now)) = (&app.job, STEPS.get(app.visit.row())) else {
        return Vec::new();
    };
    let mut tried = job.open.job.visit.tried.clone().unwrap_or_default();
    if let Some(at) = tried.iter().position(|t| t == tried_now.id) {
        tried.remove(at);
    } else {
        tried.push(tried_now.id.to_owned());
        // In the order of work, whatever the order of ticking.
        tried.sort_by_key(|id| STEPS.iter().position(|s| s.id == id));
        step(app, 1);
    }
    record(app, json!({ "tried": tried }), None)
}

/// Ticks a complaint of the short list, or takes the tick away.
fn complain_of(app: &mut App, c: char) -> Vec<Effect> {
    let (Some(job), Some(kind)) = (
        &app.job,
        Complaint::ALL.iter().copied().find(|k| letter(*k) == c),
    ) else {
        return Vec::new();
    };
    let mut kinds = job.open.job.visit.complaints.clone().unwrap_or_default();
    if let Some(at) = kinds.iter().position(|k| *k == kind) {
        kinds.remove(at);
    } else {
        kinds.push(kind);
        kinds.sort_unstable();
    }
    record(app, json!({ "complaints": kinds }), None)
}

/// Edits the entry under the cursor, or offers the words it is chosen from.
fn edit(app: &mut App) -> Vec<Effect> {
    let (Some(job), Some(entry)) = (&app.job, app.visit.entry()) else {
        return Vec::new();
    };
    let now = entry.value(&job.open.job);
    let words = entry.words();
    if words.is_empty() {
        app.visit.edit = Some(Edit {
            path: format!("visit.{}", entry.key()),
            line: Line::of(now.as_deref().unwrap_or_default()),
            error: None,
            touched: true,
        });
        return Vec::new();
    }
    // The cause that most points to is offered where none is recorded.
    let likely = (app.visit.causes.first())
        .filter(|_| entry == Entry::Cause)
        .map(|c| c.row.counts_as.word());
    let likely = now.as_deref().or(likely);
    let at = words.iter().position(|w| Some(*w) == likely);
    let mut offered: Vec<(String, Option<&'static str>)> =
        words.iter().map(|w| ((*w).to_owned(), Some(*w))).collect();
    offered.push(("nothing yet".to_owned(), None));
    app.choose_from(entry.asks(), offered, at.unwrap_or(0), WordOf { entry });
    Vec::new()
}

/// A word for an entry of the visit, or none yet.
#[derive(Debug)]
struct WordOf {
    entry: Entry,
}

impl ChoiceAsker for WordOf {
    type Answer = Option<&'static str>;

    /// Records the word; waiting first asks for the day.
    fn answered(self, app: &mut App, word: Option<&'static str>) -> Vec<Effect> {
        let entry = self.entry;
        let is_waiting = entry == Entry::Outcome && word == Some(Outcome::Waiting.word());
        let has_day = app
            .job
            .as_ref()
            .is_some_and(|j| j.open.job.visit.review_on.is_some());
        if is_waiting && !has_day {
            let place = Entry::ALL.iter().position(|e| *e == Entry::ReviewOn);
            app.visit.rows[Page::Outcome.place()] = place.unwrap_or(0);
            app.visit.waits = true;
            app.visit.edit = Some(Edit {
                path: format!("visit.{}", Entry::ReviewOn.key()),
                line: Line::default(),
                error: None,
                touched: true,
            });
            app.say(app.keymap.sentence(
                "On which day does the wearer come back? +14 is in two weeks; {commit} keeps both.",
            ));
            return Vec::new();
        }
        // What comes next is under the cursor: who pays after the outcome.
        step(app, 1);
        record(app, json!({ entry.key(): word }), None)
    }
}

/// Begins the remake that was decided on, or opens the one that was begun.
fn remake(app: &mut App) -> Vec<Effect> {
    if let Some(number) = app.visit.links.as_ref().and_then(|l| l.remake.clone()) {
        return vec![Effect::Open(number)];
    }
    let number = app.visit.number.clone();
    vec![Effect::Act(Deed::Remake { number })]
}
