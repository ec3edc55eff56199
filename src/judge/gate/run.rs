//! Running the checks of a gate over a job.

use crate::job::{Gate, Job};
use crate::judge::gate::acceptance::Acceptance;
use crate::judge::gate::catalogue::CHECKS;
use crate::judge::gate::check::Found;
use crate::judge::gate::context::{Compared, Context, Surroundings};
use crate::judge::gate::finding::Finding;

/// A gate that a job has passed, and the job as it was then.
#[derive(Debug, Clone, PartialEq)]
pub struct Passed {
    /// The gate.
    pub gate: Gate,
    /// The job when it passed.
    pub job: Job,
}

/// Returns everything the checks of one gate say, acceptances not yet looked at.
fn findings_at(
    gate: Gate,
    job: &Job,
    around: Surroundings<'_>,
    acceptances: &[Acceptance],
) -> Vec<Finding> {
    let context = Context {
        job,
        around,
        acceptances,
        compared: &Compared::default(),
    };
    let mut list = Vec::new();
    for check in CHECKS.iter().filter(|c| c.runs_at(gate)) {
        let thresholds = &around.practice.thresholds;
        (check.run)(&context, &mut Found::at(gate, check, thresholds, &mut list));
    }
    list
}

/// Returns the findings that a job meets at a gate, worst first.
///
/// The checks of the gate itself run on the job in its current state. Those of earlier gates run too, but
/// only what is new since the job passed them is said: what the job as it was then would get today
/// as well was settled when it passed.
pub fn findings(
    gate: Gate,
    job: &Job,
    around: Surroundings<'_>,
    acceptances: &[Acceptance],
    passed: &[Passed],
) -> Vec<Finding> {
    let mut list = findings_at(gate, job, around, acceptances);
    for earlier in gate.earlier() {
        let now = findings_at(*earlier, job, around, acceptances);
        // Where nothing is said now, nothing can be new.
        if now.is_empty() {
            continue;
        }
        let before = passed
            .iter()
            .rev()
            .find(|p| p.gate == *earlier)
            .map(|then| findings_at(*earlier, &then.job, around, acceptances))
            .unwrap_or_default();
        for finding in now {
            let known = |f: &Finding| f.is_same_as(&finding);
            if !before.iter().any(known) && !list.iter().any(known) {
                list.push(finding);
            }
        }
    }
    for finding in &mut list {
        finding.settled = acceptances
            .iter()
            .rev()
            .find(|a| a.settles(finding))
            .cloned();
    }
    list.sort_by_key(|f| (!f.is_open(), std::cmp::Reverse(f.severity)));
    list
}

/// Whether nothing in the list holds the job.
pub fn lets_through(findings: &[Finding]) -> bool {
    !findings.iter().any(Finding::is_open)
}
