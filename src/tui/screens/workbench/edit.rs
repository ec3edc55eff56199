//! Typing into a field of the workbench: the result follows every key.

use super::calculation::{Input, InputKind};
use super::request::{InputValue, figure, power_text, short};
use super::sheet::{set, text_of, unreadable};
use super::state::State;
use super::table::all;
use crate::exchange::calc::NumberKey;
use crate::tui::key::Key;
use crate::tui::list::moved;
use crate::tui::seen::Seen;

// Each that may refuse says why, for a person.
impl State {
    fn input(&self) -> Option<&'static Input> {
        self.calculation()?.inputs.get(self.place()?)
    }

    fn text(&self) -> String {
        let (Some(calc), Some(place)) = (self.calculation(), self.place()) else {
            return String::new();
        };
        text_of(calc, self.entries(), place)
    }

    /// Takes a key while a value is being typed; says whether it was one for it.
    pub(super) fn typed(&mut self, key: Key) -> bool {
        let is_taken = self.editor.key(key);
        if is_taken {
            self.work();
        }
        is_taken
    }

    /// How far it is to the next calculation whose title begins with a character.
    pub(super) fn calculation_beginning(&self, c: char) -> Option<isize> {
        let titles: Vec<&str> = all().iter().map(|calc| calc.title).collect();
        let to = beginning(&titles, self.calc, c)?;
        Some(to.cast_signed() - self.calc.cast_signed())
    }

    /// Begins a value with its first character, or goes to the word that begins with it.
    pub(super) fn begin(&mut self, key: Key, c: char, seen: Seen<'_>) -> Result<(), String> {
        match self.input().map(|i| i.kind) {
            Some(InputKind::Choice(words)) => {
                let now = self.text();
                let at = words.iter().position(|w| *w == now).unwrap_or(0);
                if let Some(word) = beginning(words, at, c).and_then(|i| words.get(i)) {
                    return self.store(word, seen);
                }
                if c.is_ascii_digit() || matches!(c, '+' | '-' | '.') {
                    self.number_below(key);
                }
            }
            Some(_) => self.begin_with(key),
            None => {}
        }
        Ok(())
    }

    fn begin_with(&mut self, key: Key) {
        self.open_editor();
        self.typed(key);
    }

    fn open_editor(&mut self) {
        if let Some(input) = self.input() {
            self.editor.begin(&input.key);
        }
    }

    /// A number begun on a list of words is meant for the next field that takes one: what comes after
    /// its sign must not be taken for keys.
    fn number_below(&mut self, key: Key) {
        let visible = self.visible();
        let is_typed = |place: &usize| {
            let input = self.calculation().and_then(|c| c.inputs.get(*place));
            input.is_some_and(|i| !matches!(i.kind, InputKind::Choice(_)))
        };
        let from = self.row + 1;
        if let Some(row) = (from..visible.len()).find(|r| visible.get(*r).is_some_and(is_typed)) {
            self.row = row;
            self.begin_with(key);
        }
    }

    /// Takes pasted text into the field under the cursor.
    pub(super) fn pasted(&mut self, text: &str) {
        let is_typed = self
            .input()
            .is_some_and(|i| !matches!(i.kind, InputKind::Choice(_)));
        if self.in_fields && is_typed {
            if !self.editor.is_open() {
                self.open_editor();
            }
            self.editor.paste(text);
            self.work();
        }
    }

    /// Keeps what was typed, so that the cursor may go on.
    pub(super) fn keep(&mut self, seen: Seen<'_>) -> Result<(), String> {
        let Some(edit) = self.editor.edit() else {
            return Ok(());
        };
        let text = edit.line.text().trim();
        if let Some(why) = self.input().and_then(|i| unreadable(i, text)) {
            return Err(why);
        }
        let entries = self.with_edit()?;
        self.editor.close();
        self.replace(entries, seen);
        Ok(())
    }

    /// Puts a text beside the input under the cursor.
    fn store(&mut self, text: &str, seen: Seen<'_>) -> Result<(), String> {
        let (Some(calc), Some(place)) = (self.calculation(), self.place()) else {
            return Ok(());
        };
        let mut entries = self.entries().to_vec();
        set(calc, &mut entries, place, text)?;
        self.replace(entries, seen);
        Ok(())
    }

    fn replace(&mut self, entries: Vec<InputValue>, seen: Seen<'_>) {
        let eye = self.eye();
        if let Some(sheet) = self.sheets.get_mut(self.calc) {
            *sheet = entries;
        }
        // Another eye is another lens: its values take the place of the first one's.
        if self.eye() != eye {
            self.refill(seen);
        }
        self.work();
    }

    /// Keeps what was typed and goes on by so many fields.
    pub(super) fn next(&mut self, by: isize, seen: Seen<'_>) -> Result<(), String> {
        if self.in_fields {
            self.keep(seen)?;
            self.row = moved(self.row, by, self.visible().len());
        }
        Ok(())
    }

    /// Goes to the next or the former word of a choice.
    pub(super) fn turn(&mut self, on: bool, seen: Seen<'_>) -> Result<(), String> {
        self.keep(seen)?;
        if let Some(InputKind::Choice(words)) = self.input().map(|i| i.kind)
            && !words.is_empty()
        {
            let now = self.text();
            let at = words.iter().position(|w| *w == now).unwrap_or(0);
            let to = (at + if on { 1 } else { words.len() - 1 }) % words.len();
            if let Some(word) = words.get(to) {
                return self.store(word, seen);
            }
        } else if !on {
            self.in_fields = false;
        }
        Ok(())
    }

    /// Raises or lowers the value by one step.
    pub(super) fn step(&mut self, up: bool, seen: Seen<'_>) -> Result<(), String> {
        if !self.in_fields {
            return Ok(());
        }
        self.keep(seen)?;
        let Some(input) = self.input() else {
            return Ok(());
        };
        let step = match input.kind {
            InputKind::Choice(_) => return self.turn(up, seen),
            InputKind::Number(step) => step,
            InputKind::Power => {
                let why = "A whole power has no steps: step its sphere, cylinder or axis.";
                return Err(why.to_owned());
            }
        };
        let now = figure(&self.text()).unwrap_or(0.0);
        let count = if up {
            (now / step + 1e-6).floor() + 1.0
        } else {
            (now / step - 1e-6).ceil() - 1.0
        };
        let value = match NumberKey::of_path(&input.key) {
            // Beyond what is accepted there is nothing to step to.
            Some(key) => (count * step).clamp(key.low, key.high),
            None => count * step,
        };
        let text = if input.unit == "D" {
            power_text(value)
        } else {
            short(value)
        };
        self.store(&text, seen)
    }

    /// Removes the value.
    pub(super) fn clear(&mut self, seen: Seen<'_>) -> Result<(), String> {
        let is_choice = self
            .input()
            .is_some_and(|i| matches!(i.kind, InputKind::Choice(_)));
        if !self.in_fields || is_choice {
            return Ok(());
        }
        self.editor.close();
        self.store("", seen)
    }
}

/// The next place after `from`, all round, whose text begins with a character.
fn beginning(texts: &[&str], from: usize, c: char) -> Option<usize> {
    let wanted = c.to_lowercase().next();
    let begins = |i: &usize| {
        let first = texts.get(*i).and_then(|t| t.chars().next());
        first.and_then(|f| f.to_lowercase().next()) == wanted
    };
    (from + 1..texts.len()).chain(0..=from).find(begins)
}
