//! One entry while it is typed: begun, changed by keys, kept as a draft, sent to be recorded, and
//! given back where it was not.

use super::action::Action;
use super::effect::Effect;
use super::key::Key;
use super::line::Line;
use super::news::ScreenInput;
use super::seen::Seen;
use crate::job::fields::{find, show};

/// An entry being typed.
#[derive(Debug, Clone)]
pub struct Edit {
    /// Path of the field.
    pub path: String,
    /// What is typed.
    pub line: Line,
    /// Why it was not kept, and what to type.
    pub error: Option<String>,
    /// Whether anything was typed: the same value typed again was read again.
    pub touched: bool,
    /// Whether it was typed earlier and is only offered: nothing was typed on it.
    pub offered: bool,
    /// What was recorded when it was begun, as it is shown; `None` before that was looked at.
    recorded: Option<String>,
    /// What was recorded when it was last asked whether this replaces it.
    asked: Option<String>,
    /// Whether it was sent and came back: the answer was the question.
    was_sent: bool,
}

/// The entry that is typed on a screen, and the one that was sent to be recorded.
#[derive(Debug, Default)]
pub struct Editor {
    now: Option<Edit>,
    sent: Option<Edit>,
}

impl Editor {
    /// The entry being typed.
    pub const fn edit(&self) -> Option<&Edit> {
        self.now.as_ref()
    }

    /// The entry that was sent to be recorded and is not recorded yet.
    pub const fn sent(&self) -> Option<&Edit> {
        self.sent.as_ref()
    }

    /// Whether an entry is being typed.
    pub const fn is_open(&self) -> bool {
        self.now.is_some()
    }

    /// Begins an entry with nothing in it, to be typed from its first character.
    pub(crate) fn begin(&mut self, path: &str) {
        self.open(path, "", true);
    }

    /// Begins an entry with the value that is recorded.
    pub(crate) fn begin_with(&mut self, path: &str, text: &str) {
        self.open(path, text, false);
    }

    /// Goes on with what was typed before and not recorded.
    pub(crate) fn take_up(&mut self, path: &str, text: &str) {
        self.open(path, text, true);
        if let Some(edit) = &mut self.now {
            edit.offered = true;
        }
    }

    /// Closes an entry that is only offered before an input that would leave it; its draft stays. Only the
    /// key that keeps an entry keeps it.
    pub(crate) fn set_aside(&mut self, input: &ScreenInput<'_>) {
        if self.now.as_ref().is_none_or(|edit| !edit.offered) {
            return;
        }
        let stays = match input {
            ScreenInput::Action(action) => matches!(
                action,
                Action::Commit
                    | Action::Restore
                    | Action::ClearText
                    | Action::StepUp
                    | Action::StepDown
                    | Action::TakeOffered
            ),
            ScreenInput::Key(key) => self.takes(*key),
            ScreenInput::Paste(_) | ScreenInput::Answer(_) => true,
        };
        if !stays {
            self.now = None;
        }
    }

    /// Looks at what is recorded for the field that is typed into, and says under the entry where
    /// somebody else has recorded another value since it was begun.
    pub(crate) fn look(&mut self, seen: Seen<'_>) {
        let (Some(recorded), Some(edit)) = (recorded(self.now.as_ref(), seen), &mut self.now)
        else {
            return;
        };
        let begun_with = edit.recorded.get_or_insert_with(|| recorded.clone());
        if *begun_with != recorded && edit.error.is_none() && edit.line.text() != recorded {
            edit.error = Some(overtaken(&recorded, seen));
            if edit.was_sent {
                edit.asked = Some(recorded);
            }
        }
    }

    /// Asks before what somebody else has recorded since the entry was begun is replaced, once for each
    /// value; says whether it asks.
    pub(crate) fn asks(&mut self, seen: Seen<'_>) -> bool {
        let (Some(recorded), Some(edit)) = (recorded(self.now.as_ref(), seen), &mut self.now)
        else {
            return false;
        };
        let is_theirs = edit.recorded.as_ref().is_some_and(|r| *r != recorded);
        if !is_theirs || edit.asked.as_ref() == Some(&recorded) {
            return false;
        }
        edit.error = Some(overtaken(&recorded, seen));
        edit.asked = Some(recorded);
        true
    }

    fn open(&mut self, path: &str, text: &str, touched: bool) {
        self.now = Some(Edit {
            path: path.to_owned(),
            line: Line::of(text),
            error: None,
            touched,
            offered: false,
            recorded: None,
            asked: None,
            was_sent: false,
        });
    }

    /// Takes a key; says whether it was one for a line of text.
    pub(crate) fn key(&mut self, key: Key) -> bool {
        self.change(|line| line.key(key))
    }

    /// Whether a key is one for the line of text being typed.
    pub(crate) fn takes(&self, key: Key) -> bool {
        let line = self.now.as_ref().map(|edit| edit.line.clone());
        line.is_some_and(|mut line| line.key(key))
    }

    /// Takes pasted text; says whether an entry was open for it.
    pub(crate) fn paste(&mut self, text: &str) -> bool {
        self.change(|line| {
            line.paste(text);
            true
        })
    }

    /// Puts a text in the place of what is typed.
    pub(crate) fn retype(&mut self, text: &str) -> bool {
        self.change(|line| {
            *line = Line::of(text);
            true
        })
    }

    /// What was refused is another text from now on.
    fn change(&mut self, how: impl FnOnce(&mut Line) -> bool) -> bool {
        let Some(edit) = &mut self.now else {
            return false;
        };
        let is_changed = how(&mut edit.line);
        if is_changed {
            edit.error = None;
            edit.touched = true;
            edit.offered = false;
        }
        is_changed
    }

    /// Keeps what is typed where a crash cannot take it.
    pub(crate) fn draft(&self, number: &str) -> Option<Effect> {
        let edit = self.now.as_ref()?;
        Some(Effect::SaveDraft {
            number: number.to_owned(),
            field: edit.path.clone(),
            text: edit.line.text().to_owned(),
            by: None,
        })
    }

    /// Drops what is typed, and its draft.
    pub(crate) fn drop(&mut self, number: &str) -> Option<Effect> {
        Some(clear_draft(number, self.now.take()?))
    }

    /// Closes an entry that has no draft; says whether one was open.
    pub(crate) fn close(&mut self) -> bool {
        self.now.take().is_some()
    }

    /// Says beside what is typed why it cannot be kept.
    pub(crate) fn refuse(&mut self, why: impl Into<String>) {
        if let Some(edit) = &mut self.now {
            edit.error = Some(why.into());
        }
    }

    /// Closes the entry while it is recorded; it comes back by [`give_back`](Self::give_back).
    pub(crate) fn send(&mut self) {
        if let Some(edit) = self.now.take() {
            self.sent = Some(edit);
        }
    }

    /// What was sent is recorded.
    pub(crate) fn recorded(&mut self) {
        self.sent = None;
    }

    /// What was sent is recorded already, word for word: only its draft is done with.
    pub(crate) fn same(&mut self, number: &str) -> Option<Effect> {
        Some(clear_draft(number, self.sent.take()?))
    }

    /// Opens what was sent again, because it was not recorded; returns its path.
    pub(crate) fn give_back(&mut self) -> Option<&str> {
        let mut edit = self.sent.take()?;
        edit.was_sent = true;
        self.now = Some(edit);
        self.now.as_ref().map(|edit| edit.path.as_str())
    }
}

/// What the open job has recorded for the field of an entry, as it is shown.
fn recorded(edit: Option<&Edit>, seen: Seen<'_>) -> Option<String> {
    let field = find(&edit?.path)?;
    Some(show(&seen.job?.open.job, field))
}

fn overtaken(recorded: &str, seen: Seen<'_>) -> String {
    let what = match recorded {
        "" => "somebody else has taken the value out".to_owned(),
        value => format!("somebody else has kept {value}"),
    };
    let keys = seen
        .keys
        .sentence("{commit} keeps yours, {restore} drops it");
    format!("{what} since this was begun: {keys}")
}

/// Says that an entry was typed earlier.
pub(crate) fn typed_earlier(by: Option<&str>, seen: Seen<'_>) -> String {
    let by = by.map_or_else(String::new, |name| format!(" by {name}"));
    let keys = seen.keys.kept_or_dropped();
    format!("This was typed earlier{by} and not kept yet: {keys}.")
}

fn clear_draft(number: &str, edit: Edit) -> Effect {
    Effect::ClearDraft {
        number: number.to_owned(),
        field: edit.path,
        by: None,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]

    use super::*;

    #[test]
    fn what_was_not_recorded_is_typed_on() {
        let mut editor = Editor::default();
        editor.begin("fitting.right.vertex_mm");
        assert!(editor.key(Key::parse("1").unwrap()));
        assert!(editor.key(Key::parse("2").unwrap()));
        editor.send();
        assert!(!editor.is_open());
        assert_eq!(editor.give_back(), Some("fitting.right.vertex_mm"));
        assert_eq!(editor.edit().unwrap().line.text(), "12");
        assert!(editor.sent().is_none());
    }

    #[test]
    fn another_text_is_not_refused_yet() {
        let mut editor = Editor::default();
        editor.begin_with("order.due_on", "never");
        editor.refuse("write a day");
        assert!(editor.edit().unwrap().error.is_some());
        assert!(editor.retype("+14"));
        assert!(editor.edit().unwrap().error.is_none());
        assert!(editor.edit().unwrap().touched);
    }

    #[test]
    fn keys_that_are_none_of_a_line_change_nothing() {
        let mut editor = Editor::default();
        assert!(!editor.key(Key::parse("a").unwrap()), "nothing is open");
        editor.begin("wearer.name");
        assert!(editor.takes(Key::parse("a").unwrap()));
        assert!(!editor.takes(Key::parse("f1").unwrap()));
        assert_eq!(editor.edit().unwrap().line.text(), "");
    }
}
