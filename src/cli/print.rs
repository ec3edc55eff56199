//! `print`: a sheet of a job as a PDF or as text.

use std::io::Write as _;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use serde_json::json;

use super::book_place::BookPlace;
use super::output::{Outcome, Output, fail};
use crate::book::desk::{DeskError, ErrorKind, HandOver};
use crate::exchange::paper;
use crate::views::sheet::SheetKind;

#[derive(Debug, Args)]
pub(crate) struct Print {
    pub(crate) number: String,
    /// The sheet: tray, order, chart or wearer
    #[arg(long, value_parser = what, value_name = "SHEET")]
    pub(crate) what: SheetKind,
    /// A file that does not exist yet; the sheet is written there and not printed
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// pdf, or text for a terminal or a screen reader
    #[arg(long = "as", value_enum, default_value_t = Form::Pdf, value_name = "FORM")]
    pub(crate) form: Form,
    /// Who prints, where people sign in
    #[arg(long, value_name = "STAFF")]
    pub(crate) by: Option<String>,
    /// Show it in the practice's viewer instead of printing it
    #[arg(long)]
    pub(crate) open: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Form {
    Pdf,
    Text,
}

fn what(word: &str) -> Result<SheetKind, String> {
    SheetKind::from_word(word).ok_or_else(|| {
        let words: Vec<_> = SheetKind::ALL.iter().map(|w| w.word()).collect();
        format!("one of: {}", words.join(", "))
    })
}

/// Writes a sheet to a file, and passes it to the practice's print program where one is set.
pub(crate) fn print(place: &BookPlace, out: &mut Output, p: &Print) -> Result<Outcome, DeskError> {
    let desk = place.open_to_read(p.by.as_deref(), "printed", &[&p.number])?;
    if p.form == Form::Text {
        if p.open {
            return Err(fail(
                ErrorKind::Usage,
                "--open shows a PDF: a sheet as text is written to standard output",
                &["leave --open out, or --as text"],
            ));
        }
        let text = paper::text(&desk.sheet(&p.number, p.what)?);
        return say_text(out, p, &text);
    }
    let hand_over = match (&p.out, p.open) {
        (_, true) => HandOver::Show,
        (Some(_), false) => HandOver::Keep,
        (None, false) => HandOver::Print,
    };
    let printed = desk.print(&p.number, p.what, p.out.as_deref(), hand_over)?;
    for note in &printed.notes {
        Output::aside(note);
    }
    if out.json {
        out.value(&json!({
            "number": p.number,
            "what": p.what.word(),
            "file": printed.file.display().to_string(),
            "handed": printed.handed,
            "notes": printed.notes,
        }));
        return Ok(Outcome::Done);
    }
    out.line(&printed.file.display().to_string());
    if let Some(handed) = printed.handed {
        Output::aside(handed);
    }
    Ok(Outcome::Done)
}

fn say_text(out: &mut Output, p: &Print, text: &str) -> Result<Outcome, DeskError> {
    if let Some(file) = &p.out {
        let mut options = std::fs::OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        options
            .open(file)
            .and_then(|mut f| f.write_all(text.as_bytes()))
            .map_err(|e| {
                fail(
                    ErrorKind::File,
                    format!("{} could not be written: {e}", file.display()),
                    &["--out FILE names a file that does not exist yet"],
                )
            })?;
    }
    if out.json {
        out.value(&json!({
            "number": p.number,
            "what": p.what.word(),
            "file": p.out.as_ref().map(|f| f.display().to_string()),
            "text": p.out.is_none().then_some(text),
            "notes": [],
        }));
    } else if let Some(file) = &p.out {
        out.line(&file.display().to_string());
    } else {
        for line in text.lines() {
            out.line(line);
        }
    }
    Ok(Outcome::Done)
}
