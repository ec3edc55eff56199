//! What is said of a pair once both lenses are read.

use crate::job::Job;
use crate::job::fields::at;
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::verification::{Reading, awaits_statement, report};
use crate::judge::gate::{CheckId, Finding, Seen, Work};
use crate::practice::Practice;
use crate::trade::eye::Eye;
use crate::trade::tolerance::Report;

use super::steps;

/// What becomes of the pair.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// Nothing could be compared; why.
    None(String),
    /// It fails; by how many values.
    Fails(usize),
    /// Its values are within their limits, something else holds it; how much.
    Held(usize),
    /// Something is still to be confirmed against the order.
    Confirm(String),
    /// It can be passed.
    Passes,
}

/// Whether a yes or no to what the verdict asks settles it: material, coatings, tint. An impact mark is
/// read and not confirmed.
fn is_confirmed_here(finding: &Finding) -> bool {
    finding.check == CheckId::Unconfirmed && finding.field != at!(readings.impact_mark).full()
}

/// The findings that the table of values does not show.
pub(crate) fn others<'a>(findings: &'a [Finding], report: Option<&Report>) -> Vec<&'a Finding> {
    let in_table = |f: &Finding| report.is_some() && f.work == Work::Laboratory(Seen::InTable);
    findings
        .iter()
        .filter(|f| f.is_open() && !in_table(f) && !is_confirmed_here(f))
        .collect()
}

/// Judges the pair, whose readings are in.
pub(crate) fn judge(
    job: &Job,
    findings: &[Finding],
    practice: &Practice,
) -> (Verdict, Option<Report>) {
    let report = match report(job, practice, Reading::AsRead) {
        Ok(report) => report,
        Err(why) => return (Verdict::None(why.to_string()), None),
    };
    let awaits: Vec<&str> = powered_eyes(job)
        .filter(|eye| awaits_statement(job, *eye))
        .map(Eye::word)
        .collect();
    if !awaits.is_empty() {
        let why = format!(
            "the laboratory has not stated what a focimeter should read of {}",
            awaits.join(" and ")
        );
        return (Verdict::None(why), None);
    }
    let failed = report.lines.iter().filter(|l| !l.pass).count();
    let held = others(findings, Some(&report)).len() + report.missing.len();
    let verdict = if failed > 0 {
        Verdict::Fails(failed)
    } else if held > 0 {
        Verdict::Held(held)
    } else if let Some(confirm) = steps::to_confirm(job) {
        Verdict::Confirm(confirm.ordered)
    } else if findings.iter().any(Finding::is_open) {
        Verdict::Held(findings.iter().filter(|f| f.is_open()).count())
    } else {
        Verdict::Passes
    };
    (verdict, Some(report))
}

/// How many rows the table of a pair has.
pub(super) fn rows(job: &Job, practice: &Practice) -> usize {
    report(job, practice, Reading::AsRead).map_or(0, |r| r.lines.len() + r.missing.len())
}
