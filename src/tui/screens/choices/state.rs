//! Materials and base curves of a job side by side: sorted as asked for, taken only when told.

use serde_json::{Value, json};

use crate::book::desk::OpenJob;
use crate::job::{Section, Stage};
use crate::tui::action::{Action, Scope};
use crate::tui::effect::{Deed, Effect};
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::{Next, Question};
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;
use crate::views::choices::{ChoiceRow, Column, Table, table};

/// The table, worked out once for the current job.
#[derive(Debug)]
pub struct State {
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

impl Default for State {
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

impl State {
    /// The row at a place of those shown.
    pub fn row(&self, place: usize) -> Option<&ChoiceRow> {
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
    fn select(&mut self, wanted: impl Fn(&ChoiceRow) -> bool) {
        let place = (0..self.order.len()).find(|p| self.row(*p).is_some_and(&wanted));
        self.selected = place.unwrap_or(0);
    }

    fn work_out(&mut self, seen: Seen<'_>) {
        let Some(job) = seen.job else { return };
        self.table = table(&job.open.job);
        self.sort();
    }

    /// Works the table out for the job as it is now; the same material and curve stay selected.
    fn work_out_again(&mut self, seen: Seen<'_>) {
        let at = self.row(self.selected).map(|r| (r.material.key, r.base));
        self.work_out(seen);
        self.select(|r| Some((r.material.key, r.base)) == at);
    }

    /// Whether the selected material and curve can go into the job.
    fn can_take(&self, seen: Seen<'_>) -> bool {
        let is_measured = seen
            .job
            .is_some_and(|j| j.open.job.stage() == Stage::Measured);
        let row = self.row(self.selected);
        is_measured && row.is_some_and(|r| r.refusal().is_none() && !r.is_recorded)
    }

    /// Asks whether the selected material and curve go into the job.
    fn ask(&self, seen: Seen<'_>) -> Next {
        let Some(job) = seen.job else {
            return Next::Stay;
        };
        let Some(row) = self.row(self.selected) else {
            return Next::complain("Nothing is lined up yet: what is missing is said above.");
        };
        let stage = job.open.job.stage();
        if stage != Stage::Measured {
            return Next::complain(format!(
                "The job is {stage}: its lenses are ordered. Only a measured job takes another material or curve."
            ));
        }
        if let Some(why) = row.refusal() {
            return Next::complain(format!("This lens cannot be made: {why}"));
        }
        if row.is_recorded {
            return Next::say("The job has this material and base curve already.");
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
        let record = |change| {
            Next::Act(Deed::Record {
                number: job.open.number.clone(),
                section: Section::Lenses,
                change,
                // The revision that was looked at.
                revision: job.open.revision,
                field: None,
                is_undo: false,
            })
        };
        let change = json!({"material": row.material.key, "base_d": row.base});
        let mut offered = vec![("put them in".to_owned(), record(change.clone()))];
        // A thickness that was ordered for another lens is no longer anybody's figure; but it is the
        // person who says so.
        if let (Some(centre), Value::Object(mut with)) = (lenses.centre_mm, change) {
            with.insert("centre_mm".to_owned(), Value::Null);
            offered.push((
                format!("put them in and remove the centre thickness of {centre} mm"),
                record(Value::Object(with)),
            ));
        }
        offered.push((
            "leave the job as it is".to_owned(),
            Next::say("The job is as it was."),
        ));
        Next::Ask(Question::choose(title, offered))
    }
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Choices
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        let ScreenInput::Action(action) = input else {
            return Next::Pass;
        };
        if let Some(by) = action.rows() {
            self.selected = moved(self.selected, by, self.order.len());
            return Next::Stay;
        }
        match action {
            Action::SortNext | Action::SortPrevious => {
                self.column = self.column.stepped(action == Action::SortNext);
                self.sort();
                Next::Stay
            }
            Action::SortReverse => {
                self.largest_first = !self.largest_first;
                self.sort();
                Next::Stay
            }
            Action::TakeChoice => self.ask(seen),
            _ => Next::Pass,
        }
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        match news {
            News::Entered => {
                self.work_out(seen);
                self.select(|r| r.is_recorded);
                Next::Stay
            }
            News::Returned | News::Job => {
                self.work_out_again(seen);
                Next::Stay
            }
            News::BookChanged => seen.job.map(|j| Effect::Open(j.open.number.clone())).into(),
            _ => Next::Stay,
        }
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let mut hints = Vec::new();
        hints.extend(self.can_take(seen).then_some(Action::TakeChoice));
        if self.table.is_ok() {
            hints.extend([Action::SortNext, Action::SortReverse]);
        }
        hints.extend([Action::Help, Action::Back]);
        hints
    }

    fn named<'a>(&'a self, seen: Seen<'a>) -> Option<&'a OpenJob> {
        seen.job.map(|j| &j.open)
    }
}
