//! `export`: jobs as a job file, CSV or FHIR, and the schema of the job file.

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use serde_json::json;

use super::book_place::BookPlace;
use super::job_report::whole_job;
use super::new_file::{new_file, not_written};
use super::output::{Outcome, Output, fail};
use crate::book::desk::{Desk, DeskError, ErrorKind};
use crate::exchange::{csv_out, fhir, schema};
use crate::text::json_safe;

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Json,
    Csv,
    Fhir,
}

#[derive(Debug, Args)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is an option of the command line"
)]
pub(crate) struct Export {
    #[arg(
        required_unless_present_any = ["all", "schema"],
        conflicts_with = "all",
        value_name = "NUMBER"
    )]
    pub(crate) numbers: Vec<String>,
    /// Every job of the book
    #[arg(long)]
    pub(crate) all: bool,
    /// The format
    #[arg(long = "as", value_enum, default_value_t = Format::Json, value_name = "FORMAT")]
    pub(crate) format: Format,
    /// Begin CSV with the byte-order mark that some spreadsheets need for UTF-8
    #[arg(long)]
    pub(crate) bom: bool,
    /// Write the JSON Schema of the job file instead
    #[arg(long, exclusive = true)]
    pub(crate) schema: bool,
    /// Who exports, where people sign in
    #[arg(long, value_name = "STAFF")]
    pub(crate) by: Option<String>,
    /// Leave out jobs that cannot be read, and say which; the exit status is then 1
    #[arg(long, requires = "all")]
    pub(crate) skip_unreadable: bool,
    /// A file that does not exist yet [default: standard output]
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

/// Writes jobs as a job file.
pub(crate) fn export(
    place: &BookPlace,
    out: &mut Output,
    what: &Export,
) -> Result<Outcome, DeskError> {
    if what.schema {
        return write_schema(out);
    }
    let numbers: Vec<&str> = what.numbers.iter().map(String::as_str).collect();
    let desk = place.open_to_read(what.by.as_deref(), "exported", &numbers)?;
    // Escapes belong to JSON; CSV holds texts unescaped.
    let is_json = what.format != Format::Csv;
    let write_jobs = match what.format {
        Format::Json => write_job_file,
        Format::Csv | Format::Fhir => write_records,
    };
    let Some(path) = &what.out else {
        return write_jobs(&desk, what, &mut |text| {
            if is_json {
                out.safe(text);
            } else {
                out.csv(&text);
            }
            Ok(())
        })
        .map(|written| written.outcome());
    };
    let mut file = std::io::BufWriter::new(new_file(path).map_err(|e| not_written(path, &e))?);
    let written = write_jobs(&desk, what, &mut |text| {
        let text = if is_json { json_safe(text) } else { text };
        file.write_all(text.as_bytes())
            .map_err(|e| not_written(path, &e))
    });
    let done = match written.and_then(|done| {
        file.flush()
            .and_then(|()| file.get_ref().sync_all())
            .map_err(|e| not_written(path, &e))
            .map(|()| done)
    }) {
        Ok(done) => done,
        Err(error) => {
            drop(file);
            // Half a job file would be taken for a complete one; the failure is reported.
            std::fs::remove_file(path).unwrap_or_default();
            return Err(error);
        }
    };
    if out.json {
        out.value(&json!({
            "ok": done.left_out.is_empty(),
            "jobs": done.count,
            "left_out": done.left_out,
            "file": path.display().to_string(),
        }));
    } else {
        out.line(&format!("{} written to {}", done.count, path.display()));
    }
    Ok(done.outcome())
}

/// What was written.
#[derive(Debug, Default)]
struct Written {
    /// Number of jobs.
    count: usize,
    /// Numbers of the jobs that could not be read.
    left_out: Vec<String>,
}

impl Written {
    fn outcome(&self) -> Outcome {
        if self.left_out.is_empty() {
            Outcome::Done
        } else {
            Outcome::Faulty
        }
    }

    /// What was read of a job; with `skips`, nothing of one that cannot be read, which is named.
    fn read<T>(
        &mut self,
        number: &str,
        skips: bool,
        read: Result<T, DeskError>,
    ) -> Result<Option<T>, DeskError> {
        match read {
            Err(e) if skips && e.kind == ErrorKind::File => {
                Output::aside(&format!("{number} is left out: {e}"));
                self.left_out.push(number.to_owned());
                Ok(None)
            }
            read => read.map(Some),
        }
    }
}

/// Writes a job file with one job in memory at a time; returns the number of jobs.
fn write_job_file(
    desk: &Desk,
    what: &Export,
    write: &mut dyn FnMut(String) -> Result<(), DeskError>,
) -> Result<Written, DeskError> {
    let text = |number: &str| -> Result<String, DeskError> {
        serde_json::to_string_pretty(&whole_job(desk, &desk.load(number)?)?).map_err(|e| {
            fail(
                ErrorKind::File,
                format!("{number} could not be written: {e}"),
                &[],
            )
        })
    };
    if let ([number], false) = (what.numbers.as_slice(), what.all) {
        write(text(number)? + "\n")?;
        return Ok(Written {
            count: 1,
            ..Written::default()
        });
    }
    let mut done = Written::default();
    let mut one = |number: &str| {
        let Some(text) = done.read(number, what.skip_unreadable, text(number))? else {
            return Ok(());
        };
        let before = if done.count == 0 { "[\n  " } else { ",\n  " };
        done.count += 1;
        // A line break inside a text is written as an escape: these are the layout's own.
        write(before.to_owned() + &text.replace('\n', "\n  "))
    };
    if what.all {
        desk.each_number(&mut one)?;
    } else {
        // All or nothing: an unknown number is reported before anything is written.
        for number in &what.numbers {
            desk.load(number)?;
        }
        for number in &what.numbers {
            one(number)?;
        }
    }
    write(if done.count == 0 { "[]\n" } else { "\n]\n" }.to_owned())?;
    Ok(done)
}

/// Writes the schema of the job file.
fn write_schema(out: &mut Output) -> Result<Outcome, DeskError> {
    let text = serde_json::to_string_pretty(&schema::schema())
        .map_err(|e| fail(ErrorKind::File, format!("the schema: {e}"), &[]))?;
    out.page(&(text + "\n"));
    Ok(Outcome::Done)
}

/// Writes jobs as CSV or FHIR with one job in memory at a time; returns the number of jobs.
fn write_records(
    desk: &Desk,
    what: &Export,
    write: &mut dyn FnMut(String) -> Result<(), DeskError>,
) -> Result<Written, DeskError> {
    if what.all {
        let mut writer = RecordWriter::begin(what, desk, write)?;
        desk.each_number(&mut |number: &str| writer.one(number, true))?;
        writer.end()
    } else {
        // All or nothing: an unknown number is reported before anything is written.
        for number in &what.numbers {
            desk.load(number)?;
        }
        let mut writer = RecordWriter::begin(what, desk, write)?;
        for number in &what.numbers {
            writer.one(number, false)?;
        }
        writer.end()
    }
}

/// Writes a FHIR bundle where one is given, CSV otherwise.
struct RecordWriter<'a> {
    desk: &'a Desk,
    write: &'a mut dyn FnMut(String) -> Result<(), DeskError>,
    bundle: Option<fhir::Bundle>,
    skips: bool,
    done: Written,
}

impl<'a> RecordWriter<'a> {
    fn begin(
        what: &Export,
        desk: &'a Desk,
        write: &'a mut dyn FnMut(String) -> Result<(), DeskError>,
    ) -> Result<Self, DeskError> {
        let bundle = (what.format == Format::Fhir).then(|| fhir::Bundle::new(desk.today()));
        if bundle.is_some() {
            write(fhir::Bundle::head().to_owned())?;
        } else {
            let mark = if what.bom { "\u{feff}" } else { "" };
            write(mark.to_owned() + &line(&csv_out::header())?)?;
        }
        Ok(Self {
            desk,
            write,
            bundle,
            skips: what.skip_unreadable,
            done: Written::default(),
        })
    }

    /// Writes one job; with `others`, one that cannot be written is skipped and named.
    fn one(&mut self, number: &str, others: bool) -> Result<(), DeskError> {
        let read = self.desk.load(number);
        let Some(open) = self.done.read(number, self.skips, read)? else {
            return Ok(());
        };
        let text = match &mut self.bundle {
            None => line(&csv_out::row(number, &open.job))?,
            Some(bundle) => match bundle.job(number, &open.job) {
                Ok(text) => text,
                Err(why) if others => {
                    Output::aside(&format!("{number} is left out: {why}"));
                    return Ok(());
                }
                Err(why) => {
                    return Err(fail(ErrorKind::Refused, format!("{number}: {why}"), &[]));
                }
            },
        };
        self.done.count += 1;
        (self.write)(text)
    }

    fn end(self) -> Result<Written, DeskError> {
        if let Some(bundle) = &self.bundle {
            (self.write)(bundle.foot().to_owned())?;
        }
        Ok(self.done)
    }
}

fn line(record: &[String]) -> Result<String, DeskError> {
    csv_out::line(record).map_err(|e| fail(ErrorKind::File, format!("a row of CSV: {e}"), &[]))
}
