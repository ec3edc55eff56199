//! Commands that change the stage of a job: `advance`, `accept`, `send-back`, `recheck`, `cancel`.

use serde_json::json;

use super::book_place::BookPlace;
use super::job_report::{say_findings, say_stage};
use super::output::{Outcome, Output};
use crate::book::desk::DeskError;
use crate::job::Gate;
use clap::Args;

#[derive(Debug, Args)]
pub(crate) struct Accept {
    pub(crate) number: String,
    /// Id of the check
    pub(crate) check: String,
    /// Only the finding about right, left or pair [default: every open one of the check]
    #[arg(long, value_parser = ["right", "left", "pair"])]
    pub(crate) eye: Option<String>,
    /// Who accepts
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: String,
    /// Why
    #[arg(long, value_name = "TEXT")]
    pub(crate) reason: String,
}

/// Moves a job to its next stage, or prints the findings that hold it.
pub(crate) fn advance(
    place: &BookPlace,
    out: &mut Output,
    number: &str,
    to: Gate,
    by: &str,
) -> Result<Outcome, DeskError> {
    let advance = place.open_as(by)?.advance(number, to, by, None)?;
    if out.json {
        out.value(&json!({
            "number": number,
            "moved": advance.moved,
            "stage": advance.stage,
            "findings": advance.findings,
        }));
    } else if advance.moved {
        out.line(&format!("{number}: moved; the job is {}", advance.stage));
    } else {
        let open = advance.findings.iter().filter(|f| f.is_open()).count();
        out.line(&format!(
            "{number}: not moved; the job is {}; {open} to settle before {to}",
            advance.stage
        ));
        say_findings(out, &advance.findings);
    }
    Ok(if advance.moved {
        Outcome::Done
    } else {
        Outcome::Held
    })
}

/// Accepts a warning with a reason, or prints why it cannot be accepted.
pub(crate) fn accept(
    place: &BookPlace,
    out: &mut Output,
    what: &Accept,
) -> Result<Outcome, DeskError> {
    let accepted = place.open_as(&what.by)?.accept(
        &what.number,
        &what.check,
        what.eye.as_deref(),
        &what.by,
        &what.reason,
    )?;
    if out.json {
        out.value(&accepted);
    } else {
        out.line(&accepted.message);
    }
    Ok(if accepted.ok {
        Outcome::Done
    } else {
        Outcome::Held
    })
}

/// Sends a delivered pair back to its laboratory.
pub(crate) fn send_back(
    place: &BookPlace,
    out: &mut Output,
    number: &str,
    by: &str,
    reason: &str,
) -> Result<Outcome, DeskError> {
    let open = place.open_as(by)?.send_back(number, by, reason)?;
    say_stage(out, &open, "sent back");
    Ok(Outcome::Done)
}

/// Begins the recheck of a collected pair.
pub(crate) fn recheck(
    place: &BookPlace,
    out: &mut Output,
    number: &str,
    by: &str,
) -> Result<Outcome, DeskError> {
    let open = place.open_as(by)?.recheck(number, by)?;
    say_stage(out, &open, &format!("begun as the recheck of {number}"));
    Ok(Outcome::Done)
}

/// Cancels an open job.
pub(crate) fn cancel(
    place: &BookPlace,
    out: &mut Output,
    number: &str,
    by: &str,
    reason: &str,
) -> Result<Outcome, DeskError> {
    let open = place.open_as(by)?.cancel(number, by, reason)?;
    say_stage(out, &open, "cancelled");
    Ok(Outcome::Done)
}
