//! Where the cursor of the form is, what is typed there, and where both go on.

use super::marked::first;
use crate::book::desk::{Draft, OpenJob};
use crate::job::Section;
use crate::job::fields::{self, Field};
use crate::trade::eye::Eye;
use crate::tui::action::{Action, Scope};
use crate::tui::editor::{Edit, Editor, typed_earlier};
use crate::tui::effect::Effect;
use crate::tui::form_rows::{self, EntryPlace, FormRow, TABS, place_of, tab_for};
use crate::tui::job_view::JobView;
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::screen_name::Screen;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;

/// What the screen remembers.
#[derive(Debug)]
pub struct State {
    /// Number of the job whose form it is.
    number: Option<String>,
    /// Place in the row of sections.
    pub tab: usize,
    /// Row of the cursor.
    pub row: usize,
    /// Column of the cursor, in rows that have one for each eye.
    pub eye: Eye,
    /// The entry being typed.
    pub(super) editor: Editor,
    /// From where the cursor goes on to the next entry that the gate asks for, once what was sent is
    /// recorded: only then is it known what that is.
    pub(super) onward: Option<EntryPlace>,
    /// Where the form opened, until the next entry was asked for.
    pub(super) opened_at: Option<EntryPlace>,
}

impl Default for State {
    fn default() -> Self {
        Self {
            number: None,
            tab: 0,
            row: 0,
            eye: Eye::Right,
            editor: Editor::default(),
            onward: None,
            opened_at: None,
        }
    }
}

impl State {
    /// The current section; none for the history.
    pub fn section(&self) -> Option<Section> {
        TABS.get(self.tab).and_then(|t| t.1)
    }

    /// The row the cursor is on.
    pub fn shown_row(&self) -> Option<FormRow> {
        form_rows::of_tab(self.tab).get(self.row).copied()
    }

    /// The field the cursor is on.
    pub fn field(&self) -> Option<&'static Field> {
        self.shown_row().map(|r| r.field(self.eye))
    }

    /// The entry being typed.
    pub const fn edit(&self) -> Option<&Edit> {
        self.editor.edit()
    }

    pub(super) const fn put(&mut self, place: EntryPlace) {
        (self.tab, self.row, self.eye) = place;
    }

    fn go_to(&mut self, path: &str) {
        if let Some(place) = place_of(path) {
            self.put(place);
        }
    }

    // Its own key goes to the first entry of the current section, too.
    fn go_to_tab(&mut self, tab: usize) -> Next {
        self.put((tab, 0, Eye::Right));
        Next::Stay
    }

    fn go_to_eye(&mut self, eye: Eye) -> Next {
        self.eye = eye;
        Next::Stay
    }

    /// Moves the cursor by rows.
    fn step_rows(&mut self, by: isize, seen: Seen<'_>) {
        let count = match self.section() {
            Some(_) => form_rows::of_tab(self.tab).len(),
            None => seen.job.map_or(0, |j| j.history.len()),
        };
        self.row = moved(self.row, by, count);
    }

    /// Goes to the next entry: the other eye's at its side, then the row below.
    pub(super) fn next_field(&mut self, forward: bool, seen: Seen<'_>) {
        let has_two = |state: &Self| state.shown_row().is_some_and(|r| r.is_pair());
        match (forward, self.eye, has_two(self)) {
            (true, Eye::Right, true) => self.eye = Eye::Left,
            (false, Eye::Left, true) => self.eye = Eye::Right,
            (true, ..) => {
                self.eye = Eye::Right;
                self.step_rows(1, seen);
            }
            (false, ..) => {
                if self.row > 0 {
                    self.row -= 1;
                    self.eye = if has_two(self) { Eye::Left } else { Eye::Right };
                }
            }
        }
    }

    /// Takes the job as it is recorded now; the place of the cursor and what is typed stay.
    fn take_job(&mut self, seen: Seen<'_>) -> Next {
        let Some(job) = seen.job else {
            return Next::Stay;
        };
        if self.is_of(job) {
            self.editor.recorded();
            return match self.onward.take() {
                Some(from) => self.go_on(from, job),
                None => Next::Stay,
            };
        }
        let tab = tab_for(job.open.job.stage());
        let place = first(&job.open.job, &job.findings, tab);
        *self = Self {
            number: Some(job.open.number.clone()),
            opened_at: Some(place),
            ..Self::default()
        };
        self.put(place);
        Next::Stay
    }

    fn is_of(&self, job: &JobView) -> bool {
        self.number.as_ref() == Some(&job.open.number)
    }

    /// Goes on with what was being typed when the program last ended.
    fn take_up(&mut self, drafts: &[Draft], seen: Seen<'_>) -> Next {
        if self.editor.is_open() {
            return Next::Stay;
        }
        let of_form = |d: &&Draft| fields::find(&d.field).is_some();
        let Some(Draft { field, text, by }) = drafts.iter().rfind(of_form) else {
            return Next::Stay;
        };
        self.go_to(field);
        self.editor.take_up(field, text);
        Next::say(typed_earlier(by.as_deref(), seen))
    }

    /// Keeps what is being typed and shows the gate; what cannot be kept stays, with the reason.
    fn leave_for_gate(&mut self, seen: Seen<'_>) -> Next {
        let kept = self.commit(true, seen);
        if self.editor.is_open() {
            return kept.and(Next::complain(seen.keys.sentence(
                "The gate is not shown yet: what is typed cannot be kept, and why stands with it. \
                 Correct it, or {restore} drops it.",
            )));
        }
        kept.and(Next::Go(Screen::Gate))
    }

    fn act(&mut self, action: Action, seen: Seen<'_>) -> Next {
        if let Some(tab) = action.section() {
            return self.go_to_tab(tab);
        }
        if let Some(by) = action.rows() {
            self.step_rows(by, seen);
            return Next::Stay;
        }
        match action {
            Action::NextSection => self.go_to_tab((self.tab + 1) % TABS.len()),
            Action::PreviousSection => self.go_to_tab((self.tab + TABS.len() - 1) % TABS.len()),
            Action::NextField | Action::PreviousField => {
                self.next_field(action == Action::NextField, seen);
                Next::Stay
            }
            Action::Left => self.go_to_eye(Eye::Right),
            Action::Right => self.go_to_eye(Eye::Left),
            Action::EditField => self.begin(seen),
            Action::StepUp => self.step(true, seen),
            Action::StepDown => self.step(false, seen),
            Action::CopyOther => self.copy_other(seen),
            Action::ClearField => self.clear(seen),
            Action::Commit | Action::CommitNext => self.commit(true, seen),
            Action::CommitPrevious => self.commit(false, seen),
            Action::ClearText => self.retype("", seen),
            Action::Restore => self.restore(seen),
            Action::NextMarked => self.next_marked(seen),
            Action::TakeOffered => self.take_offered(seen),
            Action::Gate => self.leave_for_gate(seen),
            _ => Next::Pass,
        }
    }

    fn works(&self, action: Action, job: &JobView) -> bool {
        let field = self.field();
        if let Some(edit) = self.edit() {
            let text = edit.line.text();
            return match action {
                // What was refused is refused again until something else is typed.
                Action::Commit | Action::NextMarked | Action::Gate => edit.error.is_none(),
                Action::StepUp => field.is_some_and(|f| fields::step(f, text, true).is_some()),
                Action::ClearText => !text.is_empty(),
                _ => true,
            };
        }
        match action {
            Action::EditField => field.is_some(),
            Action::NextMarked => self.has_next(job),
            Action::Undo => !job.undo.is_empty(),
            Action::CopyOther => field
                .and_then(fields::copy_from_other_eye)
                .is_some_and(|other| other.value(&job.open.job).is_some()),
            _ => true,
        }
    }
}

impl Behaviour for State {
    fn typing(&self) -> Option<&Edit> {
        self.editor.edit()
    }

    fn scope(&self, _seen: Seen<'_>) -> Scope {
        if self.editor.is_open() {
            Scope::Entry
        } else {
            Scope::Job
        }
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        self.editor.set_aside(&input);
        let next = match input {
            ScreenInput::Action(action) => self.act(action, seen),
            ScreenInput::Key(key) => self.typed(key, seen),
            ScreenInput::Paste(text) => self.pasted(text, seen),
            ScreenInput::Answer(_) => Next::Pass,
        };
        self.editor.look(seen);
        next
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        match news {
            News::Entered if seen.job.is_some_and(|j| !self.is_of(j)) => self.take_job(seen),
            News::Job => {
                let next = self.take_job(seen);
                self.editor.look(seen);
                next
            }
            News::GoTo(path) => {
                if seen.job.is_some_and(|j| !self.is_of(j)) {
                    self.take_job(seen);
                }
                self.go_to(path);
                Next::Stay
            }
            News::Drafts(drafts) => self.take_up(drafts, seen),
            News::Refused => {
                if let Some(path) = self.editor.give_back().map(str::to_owned) {
                    self.go_to(&path);
                    self.onward = None;
                    self.editor.look(seen);
                }
                Next::Stay
            }
            News::FromTray => {
                let tab = seen.job.map_or(self.tab, |j| tab_for(j.open.job.stage()));
                if !self.editor.is_open() && self.tab != tab {
                    (self.tab, self.row) = (tab, 0);
                }
                Next::Stay
            }
            News::BookChanged => self.number.clone().map(Effect::Open).into(),
            _ => Next::Stay,
        }
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let Some(job) = seen.job else {
            return vec![Action::Help, Action::Back];
        };
        let named: &[Action] = if self.editor.is_open() {
            &[
                Action::Commit,
                Action::NextMarked,
                Action::StepUp,
                Action::ClearText,
                Action::Restore,
                Action::Gate,
                Action::Help,
            ]
        } else {
            &[
                Action::EditField,
                Action::NextMarked,
                Action::NextSection,
                Action::Undo,
                Action::Gate,
                Action::Help,
                Action::Back,
                Action::CopyOther,
            ]
        };
        let works = |action: &Action| self.works(*action, job);
        named.iter().copied().filter(works).collect()
    }

    fn named<'a>(&'a self, seen: Seen<'a>) -> Option<&'a OpenJob> {
        seen.job.map(|j| &j.open)
    }
}
