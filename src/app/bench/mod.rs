//! The workbench: any calculation without a job, or with the values of one.
//!
//! [`table`] says what there is, [`request`] asks the same core as the command line, `fill` takes
//! values from a job, [`carry`] offers results to it.

pub mod carry;
mod edit;
mod fill;
mod frames;
mod lens;
pub mod picture;
mod powers;
mod prisms;
pub mod request;
pub mod table;
mod worn;

pub use edit::text_of;
pub(crate) use edit::{begin, pasted, typed};

use super::action::Action;
use super::effect::Effect;
use super::line::Line;
use super::{App, Screen, list};
use crate::eye::Eye;
use picture::Drawing;
use request::{Entry, Outcome};
use table::Calculation;

/// The workbench.
#[derive(Debug, Default)]
pub struct Bench {
    /// The place of the calculation in front.
    pub calc: usize,
    /// Whether the keys go to its fields; else they go to the list.
    pub in_fields: bool,
    /// The row of the cursor among the visible fields.
    pub row: usize,
    /// What is being typed into the field under the cursor.
    pub edit: Option<Line>,
    /// The number of the job whose values were taken.
    pub job: Option<String>,
    /// The values beside the inputs, calculation by calculation.
    pub sheets: Vec<Vec<Entry>>,
    /// What comes of them.
    pub outcome: Outcome,
    /// The picture of it, worked out once for each change.
    pub drawing: Drawing,
    /// What is said once the change that was sent is recorded.
    sent: Option<String>,
}

impl Bench {
    /// The calculation in front.
    pub fn calculation(&self) -> Option<&'static Calculation> {
        table::all().get(self.calc)
    }

    /// The values beside its inputs.
    pub fn entries(&self) -> &[Entry] {
        self.sheets.get(self.calc).map_or(&[], Vec::as_slice)
    }

    /// The places of the inputs that are shown: whose values are taken is asked only beside a job.
    pub fn visible(&self) -> Vec<usize> {
        let inputs = self.calculation().map_or(&[][..], |c| &c.inputs);
        (0..inputs.len())
            .filter(|i| {
                self.job.is_some() || inputs.get(*i).is_some_and(|x| !x.key.starts_with('@'))
            })
            .collect()
    }

    /// The place of the input under the cursor.
    pub fn place(&self) -> Option<usize> {
        self.visible().get(self.row).copied()
    }

    /// The eye whose values are shown.
    pub fn eye(&self) -> Eye {
        self.calculation()
            .map_or(Eye::Right, |calc| fill::eye_of(calc, self.entries()))
    }

    /// Works the calculation in front out anew, what is being typed included.
    fn work(&mut self) {
        let Some(calc) = self.calculation() else {
            return;
        };
        let asked = self.with_edit().and_then(|entries| {
            Ok((
                request::request(calc, &entries)?,
                fill::eye_of(calc, &entries),
            ))
        });
        (self.outcome, self.drawing) = match asked {
            Err(why) => (Outcome::Refused(why), Drawing::None),
            Ok((request, eye)) => {
                let outcome = request::ask(calc, &request);
                let drawing = match &outcome {
                    Outcome::Worked(result) => picture::of(calc.name, &request, result, eye),
                    Outcome::Refused(_) => Drawing::None,
                };
                (outcome, drawing)
            }
        };
    }
}

/// Does an action of the workbench.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    match action {
        Action::Workbench if app.screen != Screen::Workbench && app.screen != Screen::Welcome => {
            open(app);
        }
        Action::Carry => return carry::offer(app),
        Action::Take if app.bench.in_fields => edit::next(app, 1),
        Action::NextField => edit::next(app, 1),
        Action::PreviousField => edit::next(app, -1),
        Action::Onward if app.bench.in_fields => edit::turn(app, true),
        Action::Take | Action::Onward => into_fields(app),
        Action::Backward if app.bench.in_fields => edit::turn(app, false),
        Action::StepUp => edit::step(app, true),
        Action::StepDown => edit::step(app, false),
        Action::ClearField | Action::ClearText => edit::clear(app),
        Action::NextCalculation => to_calculation(app, 1),
        Action::PreviousCalculation => to_calculation(app, -1),
        _ => {}
    }
    Vec::new()
}

/// Opens the workbench: with the values of the job in front, or with examples.
fn open(app: &mut App) {
    let of_job = matches!(
        app.screen,
        Screen::Job | Screen::Gate | Screen::Pictures | Screen::Choices
    );
    let number = app
        .job
        .as_ref()
        .filter(|_| of_job)
        .map(|j| j.open.number.clone());
    // Values of one wearer must not stay beside another's name, nor beside none.
    if app.bench.job != number || app.bench.sheets.is_empty() {
        app.bench.sheets = table::all().iter().map(fill::examples).collect();
        app.bench.edit = None;
        app.bench.job = number;
    }
    refill(app);
    app.bench.work();
    app.go(Screen::Workbench);
}

/// Takes the values of the job once more; what was typed stays.
fn refill(app: &mut App) {
    if app.bench.job.is_none() {
        return;
    }
    let Some(job) = &app.job else { return };
    for (calc, entries) in table::all().iter().zip(&mut app.bench.sheets) {
        fill::from_job(calc, entries, &job.open.job, &app.practice);
    }
}

/// Whether the calculation in front is the last one.
pub(crate) fn is_last(app: &App) -> bool {
    app.bench.calc + 1 >= table::all().len()
}

fn into_fields(app: &mut App) {
    app.bench.in_fields = true;
    // Whose values, or which eye, is right more often than the first number.
    app.bench.row = app
        .bench
        .row
        .min(app.bench.visible().len().saturating_sub(1));
}

/// Goes to another calculation.
fn to_calculation(app: &mut App, by: isize) {
    if edit::keep(app) {
        app.bench.calc = list::moved(app.bench.calc, by, table::all().len());
        app.bench.row = 0;
        app.bench.work();
    }
}

/// Goes up or down: in the list, or among the fields.
pub(crate) fn step(app: &mut App, by: isize) -> Vec<Effect> {
    if app.bench.in_fields {
        edit::next(app, by);
    } else {
        to_calculation(app, by);
    }
    Vec::new()
}

/// Goes one step back inside the workbench; says whether there was one.
pub(crate) fn back(app: &mut App) -> bool {
    if app.bench.edit.take().is_some() {
        app.bench.work();
        return true;
    }
    std::mem::take(&mut app.bench.in_fields)
}
