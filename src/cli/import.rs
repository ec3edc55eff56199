//! `import`: job files, FHIR prescriptions and past jobs from CSV.

use std::path::{Path, PathBuf};

use clap::Args;
use serde_json::{Value, json};

use super::book_place::BookPlace;
use super::input_file::read_text;
use super::output::{Outcome, Output, fail};
use crate::book::desk::{Desk, DeskError, ErrorKind};
use crate::exchange::{
    ExchangeError, csv_in, fhir,
    mapping::{Mapping, TEMPLATE},
};
use crate::job::{Job, read_jobs};

/// Largest file that is read, bytes. A file is read whole, because it is imported whole or not at all.
const MOST_BYTES: u64 = 256 * 1024 * 1024;
/// Most refused rows that are printed; the others are only counted.
const MOST_SAID: usize = 200;

#[derive(Debug, Args)]
pub(crate) struct Import {
    /// Files; - reads standard input
    #[arg(required_unless_present = "mapping_template", value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Who imports
    #[arg(long = "as", value_name = "STAFF")]
    by: Option<String>,
    /// The files are CSV, and this one says which column holds what; own for what export writes
    #[arg(long, value_name = "FILE")]
    mapping: Option<PathBuf>,
    /// Print a mapping to fill in
    #[arg(long, exclusive = true)]
    mapping_template: bool,
    /// Read and name what would be refused; import nothing
    #[arg(long)]
    dry_run: bool,
    /// The wearer of a FHIR prescription, in place of the name in the file
    #[arg(long, value_name = "NAME", conflicts_with = "mapping")]
    wearer: Option<String>,
}

/// Imports files in the order given; each is imported whole or not at all.
pub(crate) fn import(
    place: &BookPlace,
    out: &mut Output,
    what: &Import,
) -> Result<Outcome, DeskError> {
    if what.mapping_template {
        out.page(TEMPLATE);
        return Ok(Outcome::Done);
    }
    let by = what.by.as_deref();
    // To try a file begins no book.
    let mut desk = if what.dry_run {
        place.open()?
    } else {
        place.open_or_create()?
    };
    if let Some(by) = by {
        place.sign_in(&mut desk, by)?;
    }
    let mut numbers: Vec<String> = Vec::new();
    for file in &what.files {
        let imported = within_size(file)
            .and_then(|()| read_text(file))
            .and_then(|text| {
                let foreign = foreign(&desk, file, &text, what)?;
                if what.dry_run {
                    dry_run(&mut desk, out, file, &text, foreign)?;
                    return Ok(None);
                }
                match foreign {
                    Some(jobs) => desk.import_jobs(jobs, by),
                    None => desk.import(&text, by),
                }
                .map(Some)
                .map_err(|mut e| {
                    e.message = format!("{}: {}", file.display(), e.message);
                    e
                })
            });
        match imported {
            Ok(None) => {}
            Ok(Some(imported)) => {
                for what in &imported.ignored {
                    Output::aside(&format!("{}: {what}", file.display()));
                }
                numbers.extend(imported.numbers);
            }
            Err(mut error) => {
                // What went in before is in the book; whoever tries again must know it.
                error.hints.push(if numbers.is_empty() {
                    "nothing was imported".to_owned()
                } else {
                    format!(
                        "already imported from the files before it: {}",
                        numbers.join(", ")
                    )
                });
                return Err(error);
            }
        }
    }
    if what.dry_run {
        return Ok(Outcome::Done);
    }
    if out.json {
        out.value(&json!({ "numbers": numbers }));
    } else {
        for number in &numbers {
            out.line(number);
        }
    }
    Ok(Outcome::Done)
}

/// Refuses a file that is larger than the limit.
fn within_size(file: &Path) -> Result<(), DeskError> {
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

/// Reads the jobs of a CSV file or a FHIR prescription.
///
/// Returns `None` for a job file, which the desk reads itself.
fn foreign(
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
        for not_taken in &one.not_taken {
            Output::aside(&format!("{}: not taken over: {not_taken}", file.display()));
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

/// Prints the result that an import of a file would have, without importing it.
fn dry_run(
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
