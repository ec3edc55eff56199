//! Jobs for other systems and from them: CSV, FHIR, the schema of the job file.

use std::path::Path;

use serde_json::{Value, json};

use super::args::{Export, Format, Import};
use super::output::{Outcome, Output, fail};
use crate::desk::{Desk, DeskError, ErrorKind};
use crate::exchange::{ExchangeError, csv_in, csv_out, fhir, mapping::Mapping, schema};
use crate::job::{Job, read_jobs};

/// Largest file that is read, bytes: everything is held at once so that nothing is half imported.
const MOST_BYTES: u64 = 256 * 1024 * 1024;
/// How many refused rows are said before the rest is only counted.
const MOST_SAID: usize = 200;

/// Refuses a file that is too large to be held.
pub(super) fn within_size(file: &Path) -> Result<(), DeskError> {
    let size = std::fs::metadata(file).map_or(0, |m| m.len());
    if size > MOST_BYTES {
        return Err(fail(
            ErrorKind::Input,
            format!(
                "{}: {} MB is more than the {} MB that are read at once",
                file.display(),
                size / 1_000_000,
                MOST_BYTES / 1_000_000
            ),
            &["split it into several files"],
        ));
    }
    Ok(())
}

/// Writes the schema of the job file.
pub(super) fn write_schema(out: &mut Output) -> Result<Outcome, DeskError> {
    let text = serde_json::to_string_pretty(&schema::schema())
        .map_err(|e| fail(ErrorKind::File, format!("the schema: {e}"), &[]))?;
    out.page(&(text + "\n"));
    Ok(Outcome::Done)
}

/// Writes jobs as CSV or FHIR, one in memory at a time; returns how many.
pub(super) fn write_jobs(
    desk: &Desk,
    what: &Export,
    write: &mut dyn FnMut(String) -> Result<(), DeskError>,
) -> Result<usize, DeskError> {
    if what.all {
        let mut writer = Writer::begin(what, desk, write)?;
        desk.each_number(&mut |number: &str| writer.one(number, true))?;
        writer.end()
    } else {
        // All or nothing: a number that is not there is said before anything is written.
        for number in &what.numbers {
            desk.load(number)?;
        }
        let mut writer = Writer::begin(what, desk, write)?;
        for number in &what.numbers {
            writer.one(number, false)?;
        }
        writer.end()
    }
}

struct Writer<'a> {
    desk: &'a Desk,
    write: &'a mut dyn FnMut(String) -> Result<(), DeskError>,
    bundle: Option<fhir::Bundle>,
    count: usize,
}

impl<'a> Writer<'a> {
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
            count: 0,
        })
    }

    /// Writes one job; with `others`, one that cannot be said is passed over and named.
    fn one(&mut self, number: &str, others: bool) -> Result<(), DeskError> {
        let open = self.desk.load(number)?;
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
        self.count += 1;
        (self.write)(text)
    }

    fn end(self) -> Result<usize, DeskError> {
        if let Some(bundle) = &self.bundle {
            (self.write)(bundle.foot().to_owned())?;
        }
        Ok(self.count)
    }
}

fn line(record: &[String]) -> Result<String, DeskError> {
    csv_out::line(record).map_err(|e| fail(ErrorKind::File, format!("a row of CSV: {e}"), &[]))
}

/// Reads the jobs of one file, whatever of the known kinds it is.
///
/// Returns nothing for a job file, which the desk reads itself.
pub(super) fn foreign(
    desk: &Desk,
    file: &Path,
    text: &str,
    what: &Import,
) -> Result<Option<Vec<Job>>, DeskError> {
    let named = |e: &ExchangeError| format!("{}: {e}", file.display());
    if let Some(mapping) = &what.mapping {
        let mapping = if mapping.as_os_str() == "own" {
            Mapping::own()
        } else {
            let text = std::fs::read_to_string(mapping).map_err(|e| {
                fail(
                    ErrorKind::File,
                    format!("{} could not be read: {e}", mapping.display()),
                    &[],
                )
            })?;
            Mapping::read(&text).map_err(|e| fail(ErrorKind::Input, e.to_string(), &[]))?
        };
        let rows = csv_in::read(text, &mapping, desk.today())
            .map_err(|e| fail(ErrorKind::Input, named(&e), &[]))?;
        if rows.refused.is_empty() {
            return Ok(Some(rows.jobs));
        }
        for refused in rows.refused.iter().take(MOST_SAID) {
            Output::aside(&named(refused));
        }
        let said = rows.refused.len().min(MOST_SAID);
        return Err(fail(
            ErrorKind::Input,
            format!(
                "{}: {} of {} rows are refused{}",
                file.display(),
                rows.refused.len(),
                rows.refused.len() + rows.jobs.len(),
                if said < rows.refused.len() {
                    format!("; the first {said} are named above")
                } else {
                    String::new()
                }
            ),
            &["mend them in the file, or change the mapping"],
        ));
    }
    let value: Option<Value> = serde_json::from_str(text.trim_start_matches('\u{feff}')).ok();
    let Some(value) = value.filter(|v| v.get("resourceType").is_some()) else {
        return match &what.wearer {
            None => Ok(None),
            Some(_) => Err(fail(
                ErrorKind::Input,
                format!("{}: is no FHIR prescription", file.display()),
                &["--wearer names the wearer of a FHIR prescription: leave it out"],
            )),
        };
    };
    let read = fhir::read(&value).map_err(|e| fail(ErrorKind::Input, named(&e), &[]))?;
    if what.wearer.is_some() && read.len() > 1 {
        return Err(fail(
            ErrorKind::Input,
            format!(
                "{}: holds {} prescriptions, and --wearer names one wearer",
                file.display(),
                read.len()
            ),
            &["import each of them from a file of its own"],
        ));
    }
    let mut jobs = Vec::new();
    for mut one in read {
        for left in &one.left {
            Output::aside(&format!("{}: not taken over: {left}", file.display()));
        }
        if let Some(name) = &what.wearer {
            one.job.wearer.name = Some(name.clone());
        }
        if one
            .job
            .wearer
            .name
            .as_deref()
            .is_none_or(|n| n.trim().is_empty())
        {
            return Err(fail(ErrorKind::Input, named(&fhir::wearer_missing()), &[]));
        }
        jobs.push(one.job);
    }
    Ok(Some(jobs))
}

/// Says what a file would bring, and brings nothing.
pub(super) fn dry_run(
    desk: &mut Desk,
    out: &mut Output,
    file: &Path,
    text: &str,
    jobs: Option<Vec<Job>>,
) -> Result<(), DeskError> {
    let jobs = match jobs {
        Some(jobs) => jobs,
        None => read_jobs(text)
            .map_err(|e| fail(ErrorKind::Input, format!("{}: {e}", file.display()), &[]))?,
    };
    let past = jobs.iter().filter(|j| j.is_past()).count();
    let count = jobs.len();
    desk.would_import(jobs).map_err(|mut e| {
        e.message = format!("{}: {}", file.display(), e.message);
        e
    })?;
    if out.json {
        out.value(&json!({"file": file.display().to_string(), "jobs": count, "past": past}));
    } else {
        out.line(&format!(
            "{}: {count} {}, {past} from before the book; nothing was imported",
            file.display(),
            if count == 1 { "job" } else { "jobs" },
        ));
    }
    Ok(())
}
