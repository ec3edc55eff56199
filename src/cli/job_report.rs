//! The parts of an answer that several commands print: a job's stage, its findings, its whole content.

use serde_json::{Map, Value, json};

use super::output::Output;
use crate::book::desk::{Desk, DeskError, OpenJob};
use crate::judge::gate::Finding;

/// Prints what was done and the stage of the job after it.
pub(super) fn say_stage(out: &mut Output, open: &OpenJob, done: &str) {
    let stage = open.job.stage();
    if out.json {
        out.value(&json!({"ok": true, "number": open.number, "stage": stage}));
    } else {
        let stage = open.job.stage_words();
        out.line(&format!("{}: {done}; the job is {stage}", open.number));
    }
}

/// Writes each finding on separate lines, in the order given.
pub(super) fn say_findings(out: &mut Output, findings: &[Finding]) {
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

/// Returns the job file of a job, with number, stage, acceptances, open questions and history.
pub(super) fn whole_job(desk: &Desk, open: &OpenJob) -> Result<Map<String, Value>, DeskError> {
    let mut file = open.job.to_file()?;
    file.insert("number".to_owned(), json!(open.number));
    file.insert("stage".to_owned(), json!(open.job.stage()));
    file.insert("accepted".to_owned(), json!(open.acceptances));
    file.insert("questions".to_owned(), json!(open.questions));
    file.insert("history".to_owned(), json!(desk.history(&open.number)?));
    Ok(file)
}
