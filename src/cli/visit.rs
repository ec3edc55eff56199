//! `visit` and `remake`: the comparison of a pair that came back, and the remake that may follow.

use serde_json::json;

use super::book_place::BookPlace;
use super::output::{Outcome, Output};
use crate::book::desk::DeskError;
use crate::job::{Job, Reason};
use crate::trade::eye::Eye;
use crate::views::recheck::{Comparison, Likely, NOT_RECORDED, STEPS, Source, compare, likely};

/// Shows the comparison, the causes and the steps of a recheck.
pub(crate) fn show(
    place: &BookPlace,
    out: &mut Output,
    number: &str,
) -> Result<Outcome, DeskError> {
    let desk = place.open()?;
    let job = desk.load(number)?.job;
    if job.reason != Some(Reason::Recheck) {
        return Err(super::output::fail(
            crate::book::desk::ErrorKind::Refused,
            format!("job {number} is no recheck: there is nothing to line up"),
            &["begin one with rimbook recheck NUMBER --as NAME"],
        ));
    }
    let links = desk.visit_links(number)?;
    let comparison = compare(&job, links.first.as_ref(), &desk.practice()?);
    let causes = likely(&job, links.first.as_ref(), &comparison);
    if out.json {
        out.value(&json!({
            "number": number,
            "linked_to": job.linked_to,
            "remake": links.remake,
            "visit": job.visit,
            "comparison": comparison.rows.iter().map(crate::views::recheck::ComparedRow::to_json).collect::<Vec<_>>(),
            "vectors": vectors(&comparison),
            "causes": causes.iter().map(Likely::to_json).collect::<Vec<_>>(),
            "steps": STEPS.iter().map(|s| json!({
                "id": s.id, "title": s.title, "how": s.how, "tells": s.tells, "done": is_done(&job, s.id),
            })).collect::<Vec<_>>(),
        }));
        return Ok(Outcome::Done);
    }
    say(out, number, &job, &comparison, &causes);
    if let Some(remake) = links.remake {
        out.line(&format!("made again as: {remake}"));
    }
    Ok(Outcome::Done)
}

fn is_done(job: &Job, id: &str) -> bool {
    job.visit.tried.iter().flatten().any(|t| t == id)
}

fn vectors(comparison: &Comparison) -> serde_json::Value {
    let rounded = |n: f64| (n * 1000.0).round() / 1000.0 + 0.0;
    let of = |eye: Eye| {
        comparison.vectors.get(eye).map(|v| {
            json!({"m_d": rounded(v.difference.m_d), "j0_d": rounded(v.difference.j0_d),
                "j45_d": rounded(v.difference.j45_d), "blur_d": rounded(v.difference.blur_d())})
        })
    };
    json!({"right": of(Eye::Right), "left": of(Eye::Left)})
}

fn say(out: &mut Output, number: &str, job: &Job, comparison: &Comparison, causes: &[Likely]) {
    let linked = job.linked_to.as_deref().unwrap_or(NOT_RECORDED);
    out.line(&format!("{number}: recheck of {linked}"));
    if !comparison.has_first {
        out.line(
            "that job is not in the book: what the recheck carries of it stands for the order",
        );
    }
    let v = &job.visit;
    let words: Vec<&str> = v.complaints.iter().flatten().map(|c| c.word()).collect();
    for (name, text) in [
        ("complaint", v.complaint.clone()),
        ("in short", (!words.is_empty()).then(|| words.join(", "))),
        ("found", v.found.clone()),
        ("cause", v.cause.map(|c| c.word().to_owned())),
        ("outcome", v.outcome.map(|o| o.word().to_owned())),
        ("of warning signs told", v.warning_told.clone()),
        ("at the cost of", v.at_cost_of.map(|c| c.word().to_owned())),
        ("comes back on", v.review_on.map(|d| d.to_string())),
        ("the same because", v.same_because.clone()),
        ("decided by", v.decided_by.clone()),
    ] {
        out.line(&format!(
            "{name}: {}",
            text.unwrap_or_else(|| NOT_RECORDED.to_owned())
        ));
    }
    out.line(&format!("differences: {} suspected", comparison.beyond()));
    for row in &comparison.rows {
        let mark = if row.is_beyond() { "! " } else { "  " };
        if row.is_compared() {
            for d in &row.differences {
                let mark = if d.beyond { "! " } else { "  " };
                out.line(&format!("{mark}{}", row.says(d)));
            }
        } else {
            let values: Vec<String> = Source::ALL
                .iter()
                .filter_map(|s| row.shown(*s).map(|v| format!("{} {v}", s.word())))
                .collect();
            let said = if values.is_empty() {
                NOT_RECORDED.to_owned()
            } else {
                format!("{}; else {NOT_RECORDED}", values.join(", "))
            };
            out.line(&format!("{mark}{}: {said}", row.name()));
        }
    }
    out.line(&format!("likely causes: {}", causes.len()));
    for cause in causes {
        out.line(&format!("{}: {}", cause.row.id, cause.row.cause));
        out.line(&format!("  because {}", cause.because.join("; ")));
        out.line(&format!(
            "  look: {}; do: {} ({})",
            cause.row.check, cause.row.remedy, cause.row.source
        ));
    }
    out.line("steps:");
    for step in STEPS {
        let done = if is_done(job, step.id) {
            "done"
        } else {
            "open"
        };
        out.line(&format!("  {} {}: {}", done, step.id, step.title));
    }
}

/// Begins the remake that a recheck decided on.
pub(crate) fn remake(
    place: &BookPlace,
    out: &mut Output,
    number: &str,
    by: &str,
) -> Result<Outcome, DeskError> {
    let open = place.open_as(by)?.begin_remake(number, by)?;
    super::job_report::say_stage(out, &open, &format!("begun as the remake after {number}"));
    Ok(Outcome::Done)
}
