//! The lines that are read out, and the one that is read now.

use chrono::NaiveDate;

use crate::book::desk::OpenJob;
use crate::tui::action::{Action, Scope};
use crate::tui::effect::Effect;
use crate::tui::list::moved;
use crate::tui::news::ScreenInput;
use crate::tui::next::Next;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::{Clipboard, Seen};
use crate::views::card::read_aloud;

/// The job that is read out.
#[derive(Debug, Default)]
pub struct State {
    /// Its lines.
    pub lines: Vec<String>,
    /// The line that is read now.
    pub line: usize,
}

impl State {
    /// Begins to read a job out.
    pub fn of(open: &OpenJob, today: NaiveDate) -> Self {
        Self {
            lines: read_aloud(&open.job, &open.number, today),
            line: 0,
        }
    }

    fn step(&mut self, by: isize) -> Next {
        self.line = moved(self.line, by, self.lines.len());
        Next::Stay
    }

    fn copy(&self, seen: Seen<'_>) -> Next {
        if seen.clipboard == Clipboard::Refused {
            return Next::complain(
                "Nothing copied: this terminal takes nothing onto its clipboard. rimbook show NUMBER --aloud prints the lines.",
            );
        }
        // No terminal answers, so the sentence says how to find out.
        Next::say("Copied to the terminal's clipboard; paste it to see that the terminal took it.")
            .and(Next::Do(vec![Effect::Copy(self.lines.join("\n"))]))
    }
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Aloud
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        let ScreenInput::Action(action) = input else {
            return Next::Pass;
        };
        if let Some(by) = action.rows() {
            return self.step(by);
        }
        match action {
            Action::CopyCard => self.copy(seen),
            _ => Next::Pass,
        }
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let can_copy = seen.clipboard != Clipboard::Refused;
        let copy = can_copy.then_some(Action::CopyCard);
        copy.into_iter()
            .chain([Action::Help, Action::Back])
            .collect()
    }
}
