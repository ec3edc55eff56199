//! What is looked for, what was found, and which of it is selected.

use crate::book::desk::JobLine;
use crate::job::Stage;
use crate::tui::action::{Action, Scope};
use crate::tui::effect::Effect;
use crate::tui::line::Line;
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::questions::begin_job;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;

/// What the screen remembers.
#[derive(Debug, Default)]
pub struct State {
    /// What is looked for.
    pub line: Line,
    /// What was found.
    pub found: Vec<JobLine>,
    /// Place of the selected one.
    pub(super) selected: usize,
}

impl State {
    /// Begins to look for a text.
    pub fn of(text: &str) -> Self {
        Self {
            line: Line::of(text),
            ..Self::default()
        }
    }

    fn find(&self) -> Next {
        Next::Do(vec![Effect::Find(self.line.text().to_owned())])
    }

    fn number(&self) -> Option<String> {
        Some(self.found.get(self.selected)?.number.clone())
    }

    fn act(&mut self, action: Action) -> Next {
        if let Some(by) = action.rows() {
            self.selected = moved(self.selected, by, self.found.len());
            return Next::Card(self.number());
        }
        match action {
            Action::Gate => Next::Run(Action::OpenGate),
            Action::ClearText => {
                self.line = Line::default();
                self.find()
            }
            Action::NewJobNamed => {
                let sought = self.line.text().trim();
                // A number or a day is nobody's name.
                let is_name = sought.contains(char::is_alphabetic);
                Next::NewJob(if is_name { sought } else { "" }.to_owned())
            }
            _ => Next::Pass,
        }
    }
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Lookup
    }

    fn update(&mut self, input: ScreenInput<'_>, _seen: Seen<'_>) -> Next {
        match input {
            ScreenInput::Action(action) => self.act(action),
            ScreenInput::Key(key) if self.line.key(key) => self.find(),
            ScreenInput::Paste(text) => {
                self.line.paste(text);
                self.find()
            }
            _ => Next::Pass,
        }
    }

    fn notice(&mut self, news: News<'_>, _seen: Seen<'_>) -> Next {
        match news {
            News::Entered | News::BookChanged => self.find(),
            News::Returned => Next::Card(self.number()),
            // An answer to what is no longer asked says nothing.
            News::Found { text, lines } if text == self.line.text() => {
                self.found = lines.to_vec();
                self.selected = 0;
                Next::Card(self.number())
            }
            _ => Next::Stay,
        }
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let number = self.number();
        let is_empty = self.line.text().is_empty();
        let open = (seen.card).filter(|c| Some(&c.number) == number.as_ref());
        let can_begin = open.is_some_and(|o| begin_job::kinds(o).next().is_some());
        let is_collected = open.is_some_and(|o| o.job.stage() == Stage::Collected);
        [
            (Action::Open, number.is_some()),
            (Action::NewFrom, can_begin),
            (Action::Repair, is_collected),
            (Action::ReadAloud, open.is_some()),
            // A job is not begun for who is found.
            (Action::NewJobNamed, self.found.is_empty() && !is_empty),
            (Action::Back, true),
            (Action::Help, true),
            (Action::Gate, number.is_some()),
            (Action::ClearText, !is_empty),
        ]
        .into_iter()
        .filter_map(|(action, works)| works.then_some(action))
        .collect()
    }

    fn selected<'a>(&'a self, _seen: Seen<'a>) -> Option<&'a str> {
        self.found.get(self.selected).map(|l| l.number.as_str())
    }
}
