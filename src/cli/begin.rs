//! `begin`: a job from an earlier one of the same wearer.

use clap::Args;
use serde_json::json;

use super::book_place::BookPlace;
use super::job_report::say_stage;
use super::output::{Outcome, Output};
use crate::book::desk::DeskError;
use crate::job::fields;
use crate::job::{Reason, Section};

#[derive(Debug, Args)]
pub(crate) struct Begin {
    /// The earlier job
    pub(super) number: String,
    /// second pair, reglaze, replacement, remake or recheck
    #[arg(long = "for", value_parser = reason, value_name = "REASON")]
    reason: Reason,
    /// Who begins it
    #[arg(long = "as", value_name = "STAFF")]
    by: String,
}

fn reason(word: &str) -> Result<Reason, String> {
    let words: Vec<_> = Reason::ALL
        .iter()
        .filter(|r| **r != Reason::New)
        .map(|r| r.word())
        .collect();
    Reason::from_word(word)
        .filter(|r| *r != Reason::New)
        .ok_or_else(|| format!("one of: {}", words.join(", ")))
}

/// Begins a job from an earlier one; prints the values that were not carried, with the reasons.
pub(crate) fn begin(
    place: &BookPlace,
    out: &mut Output,
    what: &Begin,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as(&what.by)?;
    let open = desk.begin_from(&what.number, what.reason, &what.by)?;
    let mut not_carried = desk.not_carried(&open)?;
    // In the order of the form, so that right comes before left.
    let order: Vec<String> = Section::ALL
        .iter()
        .flat_map(|s| fields::fields(*s))
        .map(fields::Field::full_path)
        .collect();
    not_carried.sort_by_key(|l| order.iter().position(|p| *p == l.path));
    if out.json {
        let listed: Vec<_> = not_carried
            .iter()
            .map(|l| json!({"path": l.path, "value": l.value, "why": l.why}))
            .collect();
        out.value(&json!({
            "ok": true, "number": open.number, "stage": open.job.stage(),
            "carried": open.job.origins.len(), "left": listed,
        }));
        return Ok(Outcome::Done);
    }
    let done = format!("begun from {}, {}", what.number, what.reason);
    say_stage(out, &open, &done);
    // What has one reason is one line: a list of thirty would be read by nobody.
    let mut said: Vec<(String, Vec<String>)> = Vec::new();
    for l in not_carried {
        let shown = fields::find(&l.path).map_or_else(
            || l.value.to_string(),
            |f| {
                let value = fields::show_value(f, Some(&l.value));
                format!("{} {value}", fields::repair_label(f))
            },
        );
        match said.iter_mut().find(|(why, _)| *why == l.why) {
            Some((_, values)) => values.push(shown),
            None => said.push((l.why, vec![shown])),
        }
    }
    for (why, values) in said {
        out.line(&format!("not carried: {}: {why}", values.join(", ")));
    }
    Ok(Outcome::Done)
}
