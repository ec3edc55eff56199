//! What the parcel answers for.

use super::state::State;
use crate::tui::action::{Action, Scope};
use crate::tui::editor::Edit;
use crate::tui::effect::Effect;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;

impl Behaviour for State {
    fn typing(&self) -> Option<&Edit> {
        self.editor.edit()
    }

    fn scope(&self, _seen: Seen<'_>) -> Scope {
        if self.editor.is_open() {
            Scope::Entry
        } else {
            Scope::Parcel
        }
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        self.editor.set_aside(&input);
        let next = match input {
            ScreenInput::Action(action) => self.act(action, seen),
            ScreenInput::Key(key) => self.type_key(key, seen),
            ScreenInput::Paste(text) => self.paste(text, seen),
            ScreenInput::Answer(_) => Next::Stay,
        };
        self.editor.look(seen);
        next
    }

    /// The pair of a tray is taken up here, with its order hidden, where it is in the list.
    fn scanned(&mut self, number: &str, _seen: Seen<'_>) -> Next {
        if self.lines.iter().any(|l| l.number == number) {
            return self.pick(number);
        }
        Next::Pass
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        match news {
            News::Entered => {
                self.take(seen);
                Next::Do(vec![Effect::SentBack])
            }
            News::Book => {
                self.take(seen);
                Next::Stay
            }
            News::BookChanged => {
                let open = seen.job.map(|j| Effect::Open(j.open.number.clone()));
                open.into()
            }
            News::SentBack(lately) => {
                self.sent_back = lately.to_vec();
                Next::Stay
            }
            News::Job => {
                self.read(seen);
                Next::Stay
            }
            News::Drafts(drafts) => {
                self.read(seen);
                self.go_on(drafts, seen)
            }
            News::Recorded { .. } => self.recorded(seen),
            News::Refused => {
                self.wants_gate = false;
                self.editor.give_back();
                self.editor.look(seen);
                Next::Stay
            }
            News::Moved { refused } => self.moved_on(refused, seen),
            _ => Next::Stay,
        }
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        if let Some(edit) = self.editor.edit() {
            // The steps lead on by themselves, and a reading is no value to be stepped.
            let named = [
                Action::Commit,
                Action::ClearText,
                Action::Restore,
                Action::Gate,
                Action::Help,
            ];
            let does = named.into_iter().filter(|action| match action {
                Action::Commit => edit.error.is_none(),
                Action::Gate => edit.error.is_none() && !self.hides(seen),
                Action::ClearText => !edit.line.text().is_empty(),
                _ => true,
            });
            return does.collect();
        }
        let named = [
            Action::TakeUp,
            Action::Yes,
            Action::No,
            Action::Verdict,
            Action::Move,
            Action::SendBack,
            Action::Help,
            Action::Back,
            Action::OpenGate,
            Action::OpenJob,
            Action::SwitchPerson,
        ];
        let does = named.into_iter().filter(|a| self.does(*a, seen));
        does.collect()
    }
}

impl State {
    /// Whether an action does more at the moment than say why it does nothing.
    fn does(&self, action: Action, seen: Seen<'_>) -> bool {
        if self.pair(seen).is_none() {
            return match action {
                Action::TakeUp => !self.number.text().trim().is_empty() || !self.lines.is_empty(),
                Action::OpenGate | Action::OpenJob => !self.lines.is_empty(),
                other => matches!(other, Action::Help | Action::Back | Action::SwitchPerson),
            };
        }
        let is_verdict = self.shows_verdict(seen);
        let steps = self.steps(seen);
        let is_tick = steps.get(self.row).is_some_and(|s| s.yes_no.is_some());
        match action {
            Action::TakeUp => !is_verdict && steps.get(self.row).is_some() && !is_tick,
            Action::Yes | Action::No if is_verdict => self.asks(seen),
            Action::Yes | Action::No => is_tick,
            Action::Verdict | Action::Move | Action::OpenGate | Action::OpenJob => {
                !self.hides(seen)
            }
            _ => true,
        }
    }
}
