//! Typing what is read of the pair in hand, and recording it.

use serde_json::Value;

use super::state::State;
use super::steps::{self, Step};
use crate::job::Section;
use crate::job::fields;
use crate::tui::action::Action;
use crate::tui::effect::{Deed, Effect};
use crate::tui::key::Key;
use crate::tui::next::Next;
use crate::tui::seen::Seen;

impl State {
    /// Takes a key that is no action: of a number, or of a value.
    pub(super) fn type_key(&mut self, key: Key, seen: Seen<'_>) -> Next {
        if self.editor.is_open() {
            if self.editor.key(key) {
                return self.draft().into();
            }
            let keys = seen.keys.kept_or_dropped();
            let text = format!("{key} does nothing while something is typed: {keys}.");
            return Next::say(text);
        }
        if self.in_hand.is_none() {
            self.number.key(key);
            return Next::Stay;
        }
        let Some(c) = key.types() else {
            return Next::Stay;
        };
        // A figure typed at a tick is the reading that comes next: nobody types figures to a tick.
        let steps = self.steps(seen);
        let is_tick = |s: &Step| s.yes_no.is_some();
        if !self.shows_verdict(seen)
            && (c.is_ascii_digit() || matches!(c, '+' | '-'))
            && steps.get(self.row).is_some_and(is_tick)
            && let Some(at) = steps.iter().position(|s| s.is_open() && !is_tick(s))
        {
            self.row = at;
        }
        self.begin(Some(key), seen)
    }

    /// Takes pasted text, as a scanner that pastes gives it.
    pub(super) fn paste(&mut self, text: &str, seen: Seen<'_>) -> Next {
        if self.in_hand.is_none() {
            self.number.paste(text);
            return Next::Stay;
        }
        if !self.editor.is_open()
            && let Some(instead) = self.begins(false, seen)
        {
            return instead;
        }
        self.editor.paste(text);
        self.draft().into()
    }

    /// Begins to type the value of the step under the cursor.
    pub(super) fn begin(&mut self, first: Option<Key>, seen: Seen<'_>) -> Next {
        if let Some(instead) = self.begins(first.is_none(), seen) {
            return instead;
        }
        first.map_or(Next::Stay, |key| self.type_key(key, seen))
    }

    /// Opens the entry of the step under the cursor; where it has none, returns what to do instead.
    pub(super) fn begins(&mut self, with_answer: bool, seen: Seen<'_>) -> Option<Next> {
        if self.shows_verdict(seen) {
            let key = seen.keys.shown(Action::Verdict).unwrap_or_default();
            let text = format!("This is the verdict; {key} goes back to the steps.");
            return Some(Next::say(text));
        }
        let Some(step) = self.steps(seen).into_iter().nth(self.row) else {
            return Some(Next::Stay);
        };
        if step.yes_no.is_some() {
            let text = format!("{}: {}.", step.question, seen.keys.yes_or_no());
            return Some(Next::complain(text));
        }
        let text = step.answer.filter(|_| with_answer).unwrap_or_default();
        self.editor.begin_with(&step.path, &text);
        None
    }

    /// Keeps what is being typed where a crash cannot take it.
    pub(super) fn draft(&self) -> Option<Effect> {
        self.editor.draft(self.in_hand.as_deref()?)
    }

    /// Records what was typed, or says under it what to type.
    pub(super) fn commit(&mut self, seen: Seen<'_>) -> Next {
        if self.editor.asks(seen) {
            return Next::Stay;
        }
        let (Some(job), Some(edit)) = (seen.job, self.editor.edit()) else {
            return Next::Stay;
        };
        let path = edit.path.clone();
        let text = edit.line.text().trim();
        let is_left_out = |s: &Step| s.path == path && s.offered && s.answer.is_none();
        if text.is_empty() && self.steps(seen).iter().any(is_left_out) {
            let dropped = self.editor.drop(&job.open.number);
            self.row += 1;
            self.next_step(seen);
            return dropped.into();
        }
        let change = match steps::change(&job.open.job, &path, text, seen.today) {
            Ok(change) => change,
            Err(why) => {
                self.editor.refuse(why);
                return Next::Stay;
            }
        };
        if seen.person.is_none() {
            let text = "First say who reads; then {commit} keeps it.";
            return Next::AskWho.and(Next::say(seen.keys.sentence(text)));
        }
        self.editor.send();
        self.record(change, Some(path), seen)
    }

    /// Records a change of the readings, in the name of whoever reads.
    pub(super) fn record(&mut self, change: Value, field: Option<String>, seen: Seen<'_>) -> Next {
        let Some(person) = seen.person else {
            return Next::AskWho.and(Next::say("First say who reads; then answer."));
        };
        let Some(job) = seen.job else {
            return Next::Stay;
        };
        let is_answered =
            (self.steps(seen).get(self.row)).is_some_and(|s| !s.is_open() && s.answer.is_some());
        self.corrects = is_answered && !self.shown;
        let of = &job.open.job;
        // What the laboratory states is part of the lenses.
        let entry = field.as_deref().and_then(fields::find);
        let section = entry.map_or(Section::Readings, |f| f.section);
        let change = fields::signed_answer(of, section, change, person, seen.today);
        Next::Act(Deed::Record {
            number: job.open.number.clone(),
            section,
            change,
            revision: job.open.revision,
            field,
            is_undo: false,
        })
    }
}
