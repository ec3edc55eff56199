//! The output of the commands: JSON or lines of text on standard output, messages on standard error.

use std::borrow::Cow;
use std::io::{self, Write};
use std::process::ExitCode;

use serde::Serialize;
use serde_json::json;

use crate::book::desk::{DeskError, ErrorKind};
use crate::text::{ascii, is_ascii_terminal, json_safe, printable};

/// Bytes of a list that are collected before they are written.
const PIECE: usize = 1 << 14;

/// A JSON list that is written item by item, on one line, with the same bytes as the whole list.
#[derive(Debug, Default)]
pub(crate) struct Series {
    text: String,
    begun: bool,
}

impl Series {
    /// Adds a value.
    pub(crate) fn add(&mut self, out: &mut Output, value: &impl Serialize) {
        self.text.push(if self.begun { ',' } else { '[' });
        self.begun = true;
        match serde_json::to_string(value) {
            Ok(text) => self.text.push_str(&text),
            Err(_) => out.failed = Some(io::ErrorKind::InvalidData),
        }
        if self.text.len() >= PIECE {
            out.safe(std::mem::take(&mut self.text));
        }
    }

    /// Ends the list.
    pub(crate) fn end(mut self, out: &mut Output) {
        self.text.push_str(if self.begun { "]\n" } else { "[]\n" });
        out.safe(self.text);
    }
}

/// How a command ended that did not fail; it decides the exit status.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// It did what was asked.
    Done,
    /// The gate holds the job; nothing changed.
    Held,
    /// What was examined is not as it should be.
    Faulty,
}

/// Writes answers. All texts from data pass through here on their way to the terminal and are made printable.
#[derive(Debug)]
pub(crate) struct Output {
    /// Whether answers are JSON.
    pub(crate) json: bool,
    failed: Option<io::ErrorKind>,
}

impl Output {
    pub(crate) const fn new(json: bool) -> Self {
        Self { json, failed: None }
    }

    /// Writes text; on a terminal that shows nothing else, in ASCII.
    fn write(&mut self, text: &str) {
        let text = &shown_on(&io::stdout(), text);
        if self.failed.is_none() {
            let mut out = io::stdout().lock();
            if let Err(e) = out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
                self.failed = Some(e.kind());
            }
        }
    }

    /// Answers with one JSON value on one line.
    pub(crate) fn value(&mut self, value: &impl Serialize) {
        self.text_of(serde_json::to_string(value));
    }

    /// Writes a piece of JSON text that is laid out already.
    pub(crate) fn safe(&mut self, text: String) {
        self.write(&json_safe(text));
    }

    fn text_of(&mut self, text: serde_json::Result<String>) {
        match text {
            Ok(text) => self.write(&(json_safe(text) + "\n")),
            Err(_) => self.failed = Some(io::ErrorKind::InvalidData),
        }
    }

    /// Writes one line to standard output.
    pub(crate) fn line(&mut self, text: &str) {
        self.write(&format!("{}\n", printable(text)));
    }

    /// Writes several lines to standard output at once.
    pub(crate) fn lines(&mut self, lines: impl Iterator<Item = String>) {
        let mut text = String::new();
        for line in lines {
            text.push_str(&printable(&line));
            text.push('\n');
        }
        if !text.is_empty() {
            self.write(&text);
        }
    }

    /// Writes a page of the program's own text, which holds no data, unchanged.
    pub(crate) fn page(&mut self, text: &str) {
        self.write(text);
    }

    /// Writes a piece of CSV: unchanged into a file or a pipe; on a terminal with control characters
    /// made harmless.
    pub(crate) fn csv(&mut self, text: &str) {
        use std::io::IsTerminal as _;
        if io::stdout().is_terminal() {
            for line in text.lines() {
                self.line(line);
            }
        } else {
            self.write(text);
        }
    }

    /// Writes one line to standard error.
    pub(crate) fn aside(text: &str) {
        // A failure to write to standard error cannot be reported.
        let text = printable(text);
        let text = shown_on(&io::stderr(), &text);
        writeln!(io::stderr().lock(), "{text}").unwrap_or_default();
    }

    /// Reports an error, as JSON or as lines.
    fn failure(&mut self, error: &DeskError) {
        if self.json {
            self.value(&json!({"error": {
                "kind": error.kind.word(),
                "message": error.message,
                "hints": error.hints,
            }}));
        } else {
            Self::aside(&format!("rimbook: {}", error.message));
            for hint in &error.hints {
                Self::aside(&format!("  {hint}"));
            }
        }
    }

    /// Ends the program: says what failed and returns the exit status.
    pub(crate) fn finish(mut self, result: &Result<Outcome, DeskError>) -> ExitCode {
        let status = match result {
            Ok(Outcome::Done) => 0,
            Ok(Outcome::Held) => 3,
            Ok(Outcome::Faulty) => 1,
            Err(error) => {
                self.failure(error);
                status_of(error.kind)
            }
        };
        match self.failed {
            // A reader that has seen enough, such as `head`, is no failure.
            None | Some(io::ErrorKind::BrokenPipe) => ExitCode::from(status),
            Some(kind) => {
                Self::aside(&format!(
                    "rimbook: standard output could not be written: {kind}"
                ));
                ExitCode::from(status.max(1))
            }
        }
    }
}

/// Returns text as a stream takes it: a terminal that shows nothing but ASCII gets that.
fn shown_on<'a>(stream: &impl io::IsTerminal, text: &'a str) -> Cow<'a, str> {
    if stream.is_terminal() && is_ascii_terminal(&|name| std::env::var(name).ok()) {
        return ascii(text);
    }
    Cow::Borrowed(text)
}

const fn status_of(kind: ErrorKind) -> u8 {
    match kind {
        ErrorKind::Usage => 2,
        _ => 1,
    }
}

/// Returns an error with its kind, its sentence and its hints.
pub(crate) fn fail(kind: ErrorKind, message: impl Into<String>, hints: &[&str]) -> DeskError {
    DeskError {
        kind,
        message: message.into(),
        hints: hints.iter().map(|&h| h.to_owned()).collect(),
    }
}
