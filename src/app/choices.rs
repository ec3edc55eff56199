//! Materials and base curves of a job side by side: sorted as asked for, taken only when told.

use serde_json::{Value, json};

use super::action::Action;
use super::effect::{Deed, Effect};
use super::question::ChoiceAsker;
use super::{App, Screen};
use crate::job::{Section, Stage};
use crate::views::choices::{Column, Row, Table, table};

/// The table, worked out once for the job as it stands.
#[derive(Debug)]
pub struct Choices {
    /// What is lined up, or what is missing for it.
    pub table: Result<Table, Vec<&'static str>>,
    /// Places of the rows as they are shown.
    pub order: Vec<usize>,
    /// Place of the selected row among those shown.
    pub selected: usize,
    /// What the rows are sorted by.
    pub column: Column,
    /// Whether the largest comes first.
    pub largest_first: bool,
}

impl Default for Choices {
    fn default() -> Self {
        Self {
            table: Err(Vec::new()),
            order: Vec::new(),
            selected: 0,
            column: Column::default(),
            largest_first: false,
        }
    }
}

impl Choices {
    /// The row at a place of those shown.
    pub fn row(&self, place: usize) -> Option<&Row> {
        self.table.as_ref().ok()?.rows.get(*self.order.get(place)?)
    }

    /// Sorts the rows again; the selected one stays selected.
    fn sort(&mut self) {
        let Ok(table) = &self.table else {
            (self.order, self.selected) = (Vec::new(), 0);
            return;
        };
        let row = self.order.get(self.selected).copied();
        self.order = table.sorted(self.column, self.largest_first);
        self.selected = self.order.iter().position(|i| Some(*i) == row).unwrap_or(0);
    }

    /// Selects the row of a material and curve, where there is one.
    fn select(&mut self, wanted: impl Fn(&Row) -> bool) {
        let place = (0..self.order.len()).find(|p| self.row(*p).is_some_and(&wanted));
        self.selected = place.unwrap_or(0);
    }
}

/// Does an action of the table.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    let c = &mut app.choices;
    match action {
        Action::Choices if app.job.is_some() => {
            app.go(Screen::Choices);
            work_out(app);
            app.choices.select(|r| r.is_recorded);
        }
        Action::SortNext | Action::SortPrevious => {
            c.column = c.column.stepped(action == Action::SortNext);
            c.sort();
        }
        Action::SortReverse => {
            c.largest_first = !c.largest_first;
            c.sort();
        }
        Action::TakeChoice => ask(app),
        _ => {}
    }
    Vec::new()
}

/// Goes up or down.
pub(crate) fn step(app: &mut App, by: isize) -> Vec<Effect> {
    let count = app.choices.order.len();
    app.choices.selected = super::list::moved(app.choices.selected, by, count);
    Vec::new()
}

/// Works the table out for the job as it stands, when it is in front.
pub(crate) fn refresh(app: &mut App) {
    if app.screen != Screen::Choices {
        return;
    }
    let at = app
        .choices
        .row(app.choices.selected)
        .map(|r| (r.material.key, r.base));
    work_out(app);
    app.choices.select(|r| Some((r.material.key, r.base)) == at);
}

fn work_out(app: &mut App) {
    let Some(job) = &app.job else { return };
    app.choices.table = table(&job.open.job);
    app.choices.sort();
}

/// Whether the selected material and curve can go into the job.
pub(crate) fn can_take(app: &App) -> bool {
    let is_measured = app
        .job
        .as_ref()
        .is_some_and(|j| j.open.job.stage() == Stage::Measured);
    let row = app.choices.row(app.choices.selected);
    is_measured && row.is_some_and(|r| r.refusal().is_none() && !r.is_recorded)
}

/// Asks whether the selected material and curve go into the job.
fn ask(app: &mut App) {
    let Some(job) = &app.job else { return };
    let Some(row) = app.choices.row(app.choices.selected) else {
        app.complain("Nothing is lined up yet: what is missing is said above.");
        return;
    };
    let stage = job.open.job.stage();
    if stage != Stage::Measured {
        app.complain(format!(
            "The job is {stage}: its lenses are ordered. Only a measured job takes another material or curve."
        ));
        return;
    }
    if let Some(why) = row.refusal() {
        let text = format!("This lens cannot be made: {why}");
        app.complain(text);
        return;
    }
    if row.is_recorded {
        app.say("The job has this material and base curve already.");
        return;
    }
    let lenses = &job.open.job.lenses;
    let now = format!(
        "{}, {}",
        lenses.material.as_deref().unwrap_or("no material"),
        lenses
            .base_d
            .map_or_else(|| "no base curve".to_owned(), |d| format!("curve {d} D"))
    );
    let title = format!(
        "Put {}, curve {} D into the lenses of the job? They say {now} now.",
        row.material.key, row.base
    );
    let change = json!({"material": row.material.key, "base_d": row.base});
    let mut offered = vec![("put them in".to_owned(), Some(change.clone()))];
    // A thickness that was ordered for another lens is no longer anybody's figure; but it is the
    // person who says so.
    if let (Some(centre), Value::Object(mut with)) = (lenses.centre_mm, change) {
        with.insert("centre_mm".to_owned(), Value::Null);
        offered.push((
            format!("put them in and remove the centre thickness of {centre} mm"),
            Some(Value::Object(with)),
        ));
    }
    offered.push(("leave the job as it is".to_owned(), None));
    let asker = PutIn {
        number: job.open.number.clone(),
        revision: job.open.revision,
    };
    app.choose(title, offered, asker);
}

/// A material and a base curve for a job: what each answer changes in its lenses, if anything.
#[derive(Debug)]
struct PutIn {
    number: String,
    /// The revision that was looked at.
    revision: i64,
}

impl ChoiceAsker for PutIn {
    type Answer = Option<Value>;

    fn answered(self, app: &mut App, change: Option<Value>) -> Vec<Effect> {
        let Some(change) = change else {
            app.say("The job is as it was.");
            return Vec::new();
        };
        vec![Effect::Act(Deed::Record {
            number: self.number,
            section: Section::Lenses,
            change,
            revision: self.revision,
            field: None,
            is_undo: false,
        })]
    }
}
