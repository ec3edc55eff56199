//! What keys and news make of the workbench.

use super::state::State;
use super::table;
use crate::book::desk::OpenJob;
use crate::tui::action::{Action, Scope};
use crate::tui::key::Key;
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;

impl State {
    /// Goes one step back inside the workbench, where there is one.
    fn back(&mut self) -> Next {
        if self.editor.close() {
            self.work();
            return Next::Stay;
        }
        if std::mem::take(&mut self.in_fields) {
            return Next::Stay;
        }
        Next::Pass
    }

    fn enter_fields(&mut self) {
        self.in_fields = true;
        // Whose values, or which eye, is right more often than the first number.
        self.row = self.row.min(self.visible().len().saturating_sub(1));
    }

    /// Goes to another calculation.
    fn choose_calculation(&mut self, by: isize, seen: Seen<'_>) -> Result<(), String> {
        self.keep(seen)?;
        self.calc = moved(self.calc, by, table::all().len());
        self.row = 0;
        self.work();
        Ok(())
    }

    fn act(&mut self, action: Action, seen: Seen<'_>) -> Option<Result<(), String>> {
        if let Some(by) = action.rows() {
            return Some(if self.in_fields {
                self.next(by, seen)
            } else {
                self.choose_calculation(by, seen)
            });
        }
        Some(match action {
            Action::Take if self.in_fields => self.next(1, seen),
            Action::NextField => self.next(1, seen),
            Action::PreviousField => self.next(-1, seen),
            Action::Onward if self.in_fields => self.turn(true, seen),
            Action::Take | Action::Onward => {
                self.enter_fields();
                Ok(())
            }
            Action::Backward if self.in_fields => self.turn(false, seen),
            Action::StepUp => self.step(true, seen),
            Action::StepDown => self.step(false, seen),
            Action::ClearField | Action::ClearText => self.clear(seen),
            Action::NextCalculation => self.choose_calculation(1, seen),
            Action::PreviousCalculation => self.choose_calculation(-1, seen),
            Action::Backward => Ok(()),
            _ => return None,
        })
    }

    fn key(&mut self, key: Key, seen: Seen<'_>) -> Next {
        if self.typed(key) {
            return Next::Stay;
        }
        let Some(c) = key.types() else {
            return Next::Pass;
        };
        if self.in_fields {
            return said(self.begin(key, c, seen));
        }
        match self.calculation_beginning(c) {
            Some(by) => said(self.choose_calculation(by, seen)),
            None => Next::Stay,
        }
    }
}

/// Says why something was not kept.
fn said(done: Result<(), String>) -> Next {
    done.map_or_else(Next::complain, |()| Next::Stay)
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Workbench
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        match input {
            ScreenInput::Action(Action::Back) => self.back(),
            ScreenInput::Action(Action::Carry) => self.offer(seen),
            ScreenInput::Action(action) => self.act(action, seen).map_or(Next::Pass, said),
            ScreenInput::Key(key) => self.key(key, seen),
            ScreenInput::Paste(text) => {
                self.pasted(text);
                Next::Stay
            }
            // What is carried, to be said once it is recorded.
            ScreenInput::Answer(text) => {
                self.sent = Some(text.to_owned());
                Next::Stay
            }
        }
    }

    fn notice(&mut self, news: News<'_>, _seen: Seen<'_>) -> Next {
        match news {
            News::Recorded { is_undo: false } => self.sent.take().map_or(Next::Stay, Next::say),
            News::Refused => {
                self.sent = None;
                Next::Stay
            }
            _ => Next::Stay,
        }
    }

    // What is being typed takes every key that a line of text knows.
    fn is_text(&self, key: Key, _seen: Seen<'_>) -> bool {
        self.editor.takes(key)
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let mut hints = vec![Action::Take];
        hints.extend((!self.is_last()).then_some(Action::NextCalculation));
        hints.extend(self.can_carry(seen).then_some(Action::Carry));
        hints.extend([Action::Help, Action::Back]);
        hints
    }

    fn named<'a>(&'a self, seen: Seen<'a>) -> Option<&'a OpenJob> {
        // Only beside the values of that very job.
        self.of_job(seen)
    }
}
