//! A scanner types like a person, only faster: a tray's code that comes in one burst is a scan.
//!
//! Keys are held back only while they could be the beginning of a code and come too fast for a person;
//! keys that are no code are passed on unchanged and in order. The time is given with
//! each key, so that a test needs no clock.

use std::time::Duration;

use crate::job::tray_code;
use crate::tui::key::{Code, Key};
use crate::tui::shell::update::Input;

/// The longest wait between two keys of a scanner: they keep below 30 ms, and a line over ssh may
/// add some. A person takes 100 ms and more.
pub const GAP: Duration = Duration::from_millis(40);

/// The input before the current key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Before {
    /// No key that a burst could continue.
    #[default]
    Nothing,
    /// A character that is no part of a code, with its time.
    Typed(Duration),
    /// The end of a scan, with its time: some scanners send two characters for one line end.
    Scanned(Duration),
}

/// The keys that may be a scan.
#[derive(Debug, Default)]
pub struct Burst {
    held: Vec<Key>,
    text: String,
    last: Duration,
    before: Before,
    /// How many of the held keys are not to be passed on.
    spoiled: usize,
}

impl Burst {
    /// Takes an input with its time; returns the inputs to act on, in order.
    ///
    /// `waiting` is true when the input had already arrived when the program looked for one: it then
    /// belongs to the burst of the input before, however late the program looks.
    pub fn take(&mut self, input: Input, at: Duration, waiting: bool) -> Vec<Input> {
        let mut out = if waiting { Vec::new() } else { self.pass(at) };
        let Input::Key(key) = input else {
            self.release(&mut out);
            self.before = Before::Nothing;
            out.push(input);
            return out;
        };
        let soon = |when: Duration| waiting || at.saturating_sub(when) < GAP;
        if ends(key) {
            if self.held.is_empty() {
                match self.before {
                    // The second half of a line end.
                    Before::Scanned(when) if is_line_feed(key) && soon(when) => {}
                    _ => out.push(input),
                }
                self.before = Before::Nothing;
            } else if let Some(number) = tray_code::decode(&self.text) {
                self.forget();
                self.before = Before::Scanned(at);
                out.push(Input::Scanned(number));
            } else {
                self.release(&mut out);
                self.before = Before::Nothing;
                out.push(input);
            }
            return out;
        }
        let Some(c) = plain(key) else {
            self.release(&mut out);
            self.before = Before::Nothing;
            out.push(input);
            return out;
        };
        // A code in the middle of a burst is a part of some text.
        let goes_on = matches!(self.before, Before::Typed(when) if soon(when));
        self.text.push(c);
        if !goes_on && may_begin_a_code(&self.text) {
            self.held.push(key);
            self.last = at;
        } else {
            self.text.pop();
            self.release(&mut out);
            self.before = Before::Typed(at);
            out.push(input);
        }
        out
    }

    /// Notes the time while no input is waiting, because a burst may be over; returns the inputs to act on.
    pub fn pass(&mut self, at: Duration) -> Vec<Input> {
        let mut out = Vec::new();
        if self.until().is_some_and(|until| at >= until) {
            // Some scanners are set to send no key after the code.
            if let Some(number) = tray_code::decode(&self.text) {
                self.forget();
                self.before = Before::Scanned(at);
                out.push(Input::Scanned(number));
            } else {
                self.release(&mut out);
                self.before = Before::Nothing;
            }
        }
        out
    }

    /// Returns the time at which the held keys are no scan; `None` while none is held.
    pub fn until(&self) -> Option<Duration> {
        (!self.held.is_empty()).then(|| self.last + GAP)
    }

    /// Discards the held keys unless they become a scan: they only woke a screen that is locked now.
    pub fn spoil(&mut self) {
        self.spoiled = self.held.len();
    }

    /// Returns the held keys when no more input will come.
    pub fn finish(&mut self) -> Vec<Input> {
        let mut out = Vec::new();
        self.release(&mut out);
        out
    }

    fn release(&mut self, out: &mut Vec<Input>) {
        out.extend(self.held.drain(..).skip(self.spoiled).map(Input::Key));
        self.forget();
    }

    fn forget(&mut self) {
        self.held.clear();
        self.text.clear();
        self.spoiled = 0;
    }
}

/// Whether a scanner may send the key after a code. A line feed arrives as ctrl-j.
fn ends(key: Key) -> bool {
    key.is("enter") || key.is("tab") || is_line_feed(key)
}

fn is_line_feed(key: Key) -> bool {
    key.code == Code::Char('j') && key.ctrl && !key.alt
}

/// The character of a key pressed without ctrl or alt.
const fn plain(key: Key) -> Option<char> {
    match key.code {
        Code::Char(c) if !key.ctrl && !key.alt => Some(c),
        _ => None,
    }
}

/// Length of the longest code with the prefix of a scanner, characters.
const LONGEST: usize = 3 + 22;

/// Whether a text is the beginning of some code, with or without the mark of its symbology.
fn may_begin_a_code(text: &str) -> bool {
    if text.len() > LONGEST {
        return false;
    }
    let mut rest = text.chars();
    if text.starts_with(']') {
        rest.next();
        let kind = rest.next().is_none_or(|c| c.is_ascii_alphabetic());
        let modifier = rest.next().is_none_or(|c| c.is_ascii_alphanumeric());
        if !kind || !modifier {
            return false;
        }
    }
    rest.next().is_none_or(|c| matches!(c, 'R' | 'r')) && rest.all(|c| c.is_ascii_alphanumeric())
}
