//! Which job is selected on the worklist.

use crate::book::desk::JobLine;
use crate::tui::action::{Action, Scope};
use crate::tui::effect::Effect;
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::screen_name::Screen;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;

/// What the screen remembers.
#[derive(Debug, Default)]
pub struct State {
    /// Place of the selected job.
    pub(super) selected: usize,
    /// Its number: it stays selected where the list changes.
    number: Option<String>,
}

impl State {
    /// The selected line.
    pub fn line<'a>(&self, lines: &'a [JobLine]) -> Option<&'a JobLine> {
        lines.get(self.selected)
    }

    fn select(&mut self, place: usize, seen: Seen<'_>) -> Option<String> {
        self.selected = place;
        self.number = self.line(seen.lines).map(|l| l.number.clone());
        self.number.clone()
    }
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Worklist
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        match input {
            ScreenInput::Action(action) => match action.rows() {
                Some(by) => {
                    let place = moved(self.selected, by, seen.lines.len());
                    Next::Card(self.select(place, seen))
                }
                None => Next::Pass,
            },
            // A number, a telephone number, a date of birth: nothing else here begins so.
            ScreenInput::Key(key) => match key.types().filter(char::is_ascii_digit) {
                Some(digit) => Next::LookUp(digit.to_string()),
                None => Next::Pass,
            },
            _ => Next::Pass,
        }
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        match news {
            News::Book => {
                let is = |l: &JobLine| Some(&l.number) == self.number.as_ref();
                let last = seen.lines.len().saturating_sub(1);
                let same = seen.lines.iter().position(is);
                let place = same.unwrap_or_else(|| self.selected.min(last));
                let number = self.select(place, seen);
                if seen.screen == Screen::Worklist {
                    return Next::Card(number);
                }
                Next::Stay
            }
            News::Returned => Next::Do(vec![Effect::Reload]),
            _ => Next::Stay,
        }
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let is_selected = self.line(seen.lines).is_some();
        let mut hints = Vec::new();
        hints.extend(is_selected.then_some(Action::Open));
        hints.extend([
            Action::NewJob,
            Action::Lookup,
            Action::Collections,
            Action::Parcel,
            Action::Help,
            Action::Quit,
        ]);
        if is_selected {
            hints.extend([Action::OpenGate, Action::Told]);
        }
        hints
    }

    fn selected<'a>(&'a self, seen: Seen<'a>) -> Option<&'a str> {
        self.line(seen.lines).map(|l| l.number.as_str())
    }
}
