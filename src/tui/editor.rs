//! One entry while it is typed: begun, changed by keys, kept as a draft, sent to be recorded, and
//! given back where it was not.

use super::effect::Effect;
use super::key::Key;
use super::line::Line;

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
    }

    fn open(&mut self, path: &str, text: &str, touched: bool) {
        self.now = Some(Edit {
            path: path.to_owned(),
            line: Line::of(text),
            error: None,
            touched,
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
        self.now = Some(self.sent.take()?);
        self.now.as_ref().map(|edit| edit.path.as_str())
    }
}

fn clear_draft(number: &str, edit: Edit) -> Effect {
    Effect::ClearDraft {
        number: number.to_owned(),
        field: edit.path,
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
