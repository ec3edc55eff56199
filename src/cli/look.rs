//! Commands that look and change nothing: list, find, show, check, checks, export.

use std::io::Write;
use std::path::Path;

use serde_json::{Map, Value, json};

use super::Place;
use super::args::{Export, Format, List};
use super::exchange;
use super::output::{Outcome, Output, Series, fail};
use crate::card::{CardData, arranged, read_aloud, second_card};
use crate::desk::{Desk, DeskError, ErrorKind, JobLine, ListFilter, OpenJob};
use crate::gate::Finding;
use crate::gate::catalogue;
use crate::job::Gate;
use crate::text::json_safe;

/// A job of a list as one line of text.
fn job_line(job: &JobLine) -> String {
    let mut parts = vec![format!(
        "{}  {}  {}",
        job.number,
        job.stands_at(),
        job.wearer
    )];
    parts.extend(job.born.map(|day| format!("born {day}")));
    parts.extend(job.past.then(|| "from before the book".to_owned()));
    parts.extend(job.collection_at.map(|at| format!("collection {at}")));
    parts.extend(job.due_on.map(|day| format!("due {day}")));
    parts.extend(job.late.then(|| "late".to_owned()));
    if !job.held.is_empty() {
        let ids: Vec<&str> = job.held.iter().collect();
        parts.push(format!("held by {}", ids.join(" ")));
    }
    parts.join(", ")
}

fn say_jobs(out: &mut Output, jobs: &[JobLine]) {
    if out.json {
        out.value(&jobs);
    } else if jobs.is_empty() {
        Output::aside("no job");
    } else {
        out.lines(jobs.iter().map(job_line));
    }
}

/// Lists jobs, some at a time: the list may be the whole book.
pub(crate) fn list(place: &Place, out: &mut Output, what: &List) -> Result<Outcome, DeskError> {
    if what.uncollected {
        return super::contact::uncollected(place, out);
    }
    let filter = ListFilter {
        stage: what.stage,
        held: what.held,
        late: what.late,
        on: what.on,
    };
    let mut series = Series::default();
    let mut any = false;
    place.open()?.each_line(&filter, |jobs| {
        any |= !jobs.is_empty();
        if out.json {
            for job in &jobs {
                series.add(out, job);
            }
        } else {
            out.lines(jobs.iter().map(job_line));
        }
        Ok(())
    })?;
    if out.json {
        series.end(out);
    } else if !any {
        Output::aside("no job");
    }
    Ok(Outcome::Done)
}

/// Finds jobs by what somebody remembers of them.
pub(crate) fn find(
    place: &Place,
    out: &mut Output,
    text: &str,
    limit: usize,
) -> Result<Outcome, DeskError> {
    let jobs = place.open()?.find(text, limit)?;
    say_jobs(out, &jobs);
    Ok(Outcome::Done)
}

/// Says each finding on lines of its own, in the order given.
pub(crate) fn say_findings(out: &mut Output, findings: &[Finding]) {
    for finding in findings {
        let about = finding
            .eye
            .word()
            .map(|w| format!(" ({w})"))
            .unwrap_or_default();
        let settled = match &finding.settled {
            Some(by) => format!(", accepted by {}: {}", by.by, by.reason),
            None => String::new(),
        };
        out.line(&format!(
            "{} {}{about}: {}{settled}",
            finding.severity.word(),
            finding.check,
            finding.message
        ));
        if finding.is_open() {
            if let Some(limit) = &finding.limit {
                out.line(&format!("  limit {limit}; {}", finding.source));
            }
            if !finding.ways_out.is_empty() {
                out.line(&format!("  ways out: {}", finding.ways_out.join("; ")));
            }
            out.line(&format!("  accepted by: {}", finding.accept.word()));
        }
    }
}

/// Returns the whole job as a file, with where it stands and what it went through.
pub(super) fn whole(desk: &Desk, open: &OpenJob) -> Result<Map<String, Value>, DeskError> {
    let mut file = open.job.to_file()?;
    file.insert("number".to_owned(), json!(open.number));
    file.insert("stage".to_owned(), json!(open.job.stage()));
    file.insert("accepted".to_owned(), json!(open.acceptances));
    file.insert("history".to_owned(), json!(desk.history(&open.number)?));
    Ok(file)
}

/// Width at which no line of the card is cut: a reader of lines has no edge of a screen.
const UNCUT: usize = 1000;
/// What lies between the two halves of such a line, at the least.
const GAP: &str = "                    ";

/// Shows one job.
pub(crate) fn show(
    place: &Place,
    out: &mut Output,
    number: &str,
    aloud: bool,
) -> Result<Outcome, DeskError> {
    let desk = place.open()?;
    let open = desk.load(number)?;
    if aloud {
        let lines = read_aloud(&open.job, &open.number, desk.today());
        if out.json {
            out.value(&lines);
        } else {
            for line in &lines {
                out.line(line);
            }
        }
        return Ok(Outcome::Done);
    }
    if out.json {
        out.value(&whole(&desk, &open)?);
        return Ok(Outcome::Done);
    }
    let practice = desk.practice()?;
    out.line(&format!("{}: {}", open.number, open.job.stands_at()));
    let facts = CardData::of(&open.job, &practice);
    for line in arranged(&open.job, &open.number, &facts, UNCUT) {
        // The card sets two things side by side; heard one after the other, each is a line.
        let said = format!("{} {}", line.label, line.value);
        let parts = said.split(GAP).map(str::trim);
        for part in parts.filter(|p| !p.is_empty()) {
            out.line(part);
        }
    }
    for line in second_card(&open.job, &open.acceptances, &facts, UNCUT) {
        out.line(&format!("{} {}", line.label, line.value));
    }
    if let Some(question) = &open.question {
        out.line(&format!("question to the prescriber: {}", question.text));
    }
    if let Some(gate) = open.job.stage().next_gate().filter(|_| !open.job.is_past()) {
        let mut findings = desk.findings(&open, gate)?;
        findings.retain(Finding::is_open);
        out.line(&format!("{} to settle before {gate}", findings.len()));
        say_findings(out, &findings);
    }
    Ok(Outcome::Done)
}

/// Says what the gate finds.
pub(crate) fn check(
    place: &Place,
    out: &mut Output,
    number: Option<&str>,
    to: Option<Gate>,
) -> Result<Outcome, DeskError> {
    let desk = place.open()?;
    let Some(number) = number else {
        return check_all(&desk, out);
    };
    let open = desk.load(number)?;
    let Some(gate) = to.or(open.job.stage().next_gate()) else {
        return Err(fail(
            ErrorKind::Refused,
            format!(
                "{number} is {}: no gate lies ahead of it",
                open.job.stands_at()
            ),
            &["name one with --to ordered, verified or collected"],
        ));
    };
    let findings = desk.findings(&open, gate)?;
    if out.json {
        out.value(&json!({"number": open.number, "to": gate, "findings": findings}));
    } else {
        say_check(out, &open.number, gate, &findings);
    }
    Ok(Outcome::Done)
}

fn say_check(out: &mut Output, number: &str, gate: Gate, findings: &[Finding]) {
    let open = findings.iter().filter(|f| f.is_open()).count();
    out.line(&format!("{number}: {open} to settle before {gate}"));
    say_findings(out, findings);
}

fn check_all(desk: &Desk, out: &mut Output) -> Result<Outcome, DeskError> {
    let mut series = Series::default();
    desk.judge_open(|judged| {
        let Some(gate) = judged.gate else {
            return Ok(());
        };
        let (number, findings) = (&judged.open.number, &judged.findings);
        if out.json {
            series.add(
                out,
                &json!({"number": number, "to": gate, "findings": findings}),
            );
        } else {
            say_check(out, number, gate, findings);
        }
        Ok(())
    })?;
    if out.json {
        series.end(out);
    }
    Ok(Outcome::Done)
}

/// Lists the checks, from the code.
pub(crate) fn checks(out: &mut Output, markdown: bool) {
    if markdown {
        out.page(&catalogue::markdown());
    } else if out.json {
        let list: Vec<Value> = catalogue::CHECKS
            .iter()
            .map(|c| {
                json!({
                    "id": c.id,
                    "gate": c.gate,
                    "severity": c.severity,
                    "accept": c.accept,
                    "holds_when": c.holds_when,
                    "ways_out": c.ways_out,
                    "source": c.source,
                })
            })
            .collect();
        out.value(&list);
    } else {
        for c in catalogue::CHECKS {
            out.line(&format!(
                "{}, to {}, {}: {}",
                c.id,
                c.gate,
                c.severity.word(),
                c.holds_when
            ));
        }
    }
}

/// Writes jobs as a job file.
pub(crate) fn export(place: &Place, out: &mut Output, what: &Export) -> Result<Outcome, DeskError> {
    if what.schema {
        return exchange::write_schema(out);
    }
    let desk = place.open()?;
    // Escapes belong to JSON; a CSV file holds its texts as they are.
    let is_json = what.format != Format::Csv;
    let write_jobs = match what.format {
        Format::Json => write_jobs,
        Format::Csv | Format::Fhir => exchange::write_jobs,
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
        .map(|_| Outcome::Done);
    };
    let mut file = std::io::BufWriter::new(new_file(path).map_err(|e| not_written(path, &e))?);
    let written = write_jobs(&desk, what, &mut |text| {
        let text = if is_json { json_safe(text) } else { text };
        file.write_all(text.as_bytes())
            .map_err(|e| not_written(path, &e))
    });
    let count = match written.and_then(|count| {
        file.flush()
            .and_then(|()| file.get_ref().sync_all())
            .map_err(|e| not_written(path, &e))
            .map(|()| count)
    }) {
        Ok(count) => count,
        Err(error) => {
            drop(file);
            // Half a job file would be taken for a whole one; the failure is what is told.
            std::fs::remove_file(path).unwrap_or_default();
            return Err(error);
        }
    };
    if out.json {
        out.value(&json!({"ok": true, "jobs": count, "file": path.display().to_string()}));
    } else {
        out.line(&format!("{count} written to {}", path.display()));
    }
    Ok(Outcome::Done)
}

/// Writes a job file piece by piece, one job in memory at a time; returns how many there were.
fn write_jobs(
    desk: &Desk,
    what: &Export,
    write: &mut dyn FnMut(String) -> Result<(), DeskError>,
) -> Result<usize, DeskError> {
    let text = |number: &str| -> Result<String, DeskError> {
        serde_json::to_string_pretty(&whole(desk, &desk.load(number)?)?).map_err(|e| {
            fail(
                ErrorKind::File,
                format!("{number} could not be written: {e}"),
                &[],
            )
        })
    };
    if let ([number], false) = (what.numbers.as_slice(), what.all) {
        write(text(number)? + "\n")?;
        return Ok(1);
    }
    let mut count = 0;
    let mut one = |number: &str| {
        let before = if count == 0 { "[\n  " } else { ",\n  " };
        count += 1;
        // A line break inside a text is written as an escape: these are the layout's own.
        write(before.to_owned() + &text(number)?.replace('\n', "\n  "))
    };
    if what.all {
        desk.each_number(&mut one)?;
    } else {
        // All or nothing: a number that is not there is said before anything is written.
        for number in &what.numbers {
            desk.load(number)?;
        }
        for number in &what.numbers {
            one(number)?;
        }
    }
    write(if count == 0 { "[]\n" } else { "\n]\n" }.to_owned())?;
    Ok(count)
}

/// Makes a file that does not exist yet, readable by its owner only.
pub(super) fn new_file(path: &Path) -> std::io::Result<std::fs::File> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path)
}

pub(super) fn not_written(path: &Path, e: &std::io::Error) -> DeskError {
    match e.kind() {
        std::io::ErrorKind::AlreadyExists => fail(
            ErrorKind::File,
            format!("{} exists already and is not replaced", path.display()),
            &["name a file that does not exist yet"],
        ),
        _ => fail(
            ErrorKind::File,
            format!("{} could not be written: {e}", path.display()),
            &[],
        ),
    }
}
