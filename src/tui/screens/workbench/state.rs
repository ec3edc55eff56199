//! What the workbench remembers, and the result of what is typed.

use super::calculation::Calculation;
use super::fill;
use super::picture::{self, Drawing};
use super::request::{self, InputValue, Outcome};
use super::sheet;
use super::table;
use crate::book::desk::OpenJob;
use crate::trade::eye::Eye;
use crate::tui::editor::Editor;
use crate::tui::seen::Seen;

/// What the screen remembers.
#[derive(Debug, Default)]
pub struct State {
    /// The place of the current calculation.
    pub calc: usize,
    /// Whether the keys go to its fields; else they go to the list.
    pub in_fields: bool,
    /// The row of the cursor among the visible fields.
    pub row: usize,
    /// What is being typed into the field under the cursor.
    pub editor: Editor,
    /// The number of the job whose values were taken.
    pub job: Option<String>,
    /// The values beside the inputs, calculation by calculation.
    pub sheets: Vec<Vec<InputValue>>,
    /// What comes of them.
    pub outcome: Outcome,
    /// The picture of it, worked out once for each change.
    pub drawing: Drawing,
    /// What is said once the change that was sent is recorded.
    pub(super) sent: Option<String>,
}

impl State {
    /// The current calculation.
    pub fn calculation(&self) -> Option<&'static Calculation> {
        table::all().get(self.calc)
    }

    /// The values beside its inputs.
    pub fn entries(&self) -> &[InputValue] {
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

    /// Whether the current calculation is the last one.
    pub(super) fn is_last(&self) -> bool {
        self.calc + 1 >= table::all().len()
    }

    /// The job whose values were taken, as long as it is the one that is open.
    pub(super) fn of_job<'a>(&self, seen: Seen<'a>) -> Option<&'a OpenJob> {
        seen.job
            .map(|j| &j.open)
            .filter(|open| Some(&open.number) == self.job.as_ref())
    }

    /// Begins with the values of a job, or with examples.
    pub(crate) fn open(&mut self, number: Option<String>, seen: Seen<'_>) {
        // Values of one wearer must not stay beside another's name, nor beside none.
        if self.job != number || self.sheets.is_empty() {
            self.sheets = table::all().iter().map(fill::examples).collect();
            self.editor.close();
            self.job = number;
        }
        self.refill(seen);
        self.work();
    }

    /// Takes the values of the job once more; what was typed stays.
    pub(super) fn refill(&mut self, seen: Seen<'_>) {
        let Some(open) = self.of_job(seen) else {
            return;
        };
        for (calc, entries) in table::all().iter().zip(&mut self.sheets) {
            fill::from_job(calc, entries, &open.job, seen.practice);
        }
    }

    /// Returns the values with what is being typed in its place.
    ///
    /// # Errors
    /// Why what is typed is no value.
    pub(super) fn with_edit(&self) -> Result<Vec<InputValue>, String> {
        let mut entries = self.entries().to_vec();
        if let (Some(calc), Some(edit), Some(place)) =
            (self.calculation(), self.editor.edit(), self.place())
        {
            sheet::set(calc, &mut entries, place, edit.line.text())?;
        }
        Ok(entries)
    }

    /// Works the current calculation out, what is being typed included.
    pub(super) fn work(&mut self) {
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
