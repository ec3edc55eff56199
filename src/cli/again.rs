//! Commands that begin a job from an earlier one, and that keep what was done to a collected pair.

use clap::Args;
use serde_json::json;

use super::Place;
use super::output::{Outcome, Output, fail};
use crate::desk::{DeskError, ErrorKind};
use crate::form;
use crate::job::{Reason, Repair, RepairKind, Section};

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

#[derive(Debug, Args)]
pub(crate) struct MendPair {
    pub(super) number: String,
    /// pads changed, sides set, front set, screw, lens loose, part replaced, checked or other
    #[arg(long, value_parser = kind, value_name = "KIND")]
    kind: RepairKind,
    /// In words
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    // Written out, because help shows the marks that documentation puts around names.
    #[arg(
        long,
        value_name = "PATH=VALUE",
        help = "A value as it stands now, such as right.length_to_bend_mm=95; once for each value"
    )]
    set: Vec<String>,
    /// Who did it
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

fn kind(word: &str) -> Result<RepairKind, String> {
    let words: Vec<_> = RepairKind::ALL.iter().map(|k| k.word()).collect();
    RepairKind::from_word(word).ok_or_else(|| format!("one of: {}", words.join(", ")))
}

/// Begins a job from an earlier one; says what was not carried and why.
pub(crate) fn begin(place: &Place, out: &mut Output, what: &Begin) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as(&what.by)?;
    let open = desk.begin_from(&what.number, what.reason, &what.by)?;
    let mut left = desk.left_behind(&open)?;
    // In the order of the form, so that right stands before left.
    let order: Vec<String> = Section::ALL
        .iter()
        .flat_map(|s| form::fields(*s))
        .map(form::Field::full_path)
        .collect();
    left.sort_by_key(|l| order.iter().position(|p| *p == l.path));
    if out.json {
        let left: Vec<_> = left
            .iter()
            .map(|l| json!({"path": l.path, "value": l.value, "why": l.why}))
            .collect();
        out.value(&json!({
            "ok": true, "number": open.number, "stage": open.job.stage(),
            "carried": open.job.origins.len(), "left": left,
        }));
        return Ok(Outcome::Done);
    }
    let done = format!("begun from {}, {}", what.number, what.reason);
    super::moves::stands(out, &open, &done);
    // What has one reason is one line: a list of thirty would be read by nobody.
    let mut said: Vec<(String, Vec<String>)> = Vec::new();
    for l in left {
        let shown = form::find(&l.path).map_or_else(
            || l.value.to_string(),
            |f| {
                let value = form::show_value(f, Some(&l.value));
                format!("{} {value}", form::repair_label(f))
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

/// Keeps a repair or adjustment of a collected pair.
pub(crate) fn repair(
    place: &Place,
    out: &mut Output,
    what: &MendPair,
) -> Result<Outcome, DeskError> {
    let mut repair = Repair {
        kind: Some(what.kind),
        note: what.note.clone(),
        ..Repair::default()
    };
    let today = place.clock.today();
    for set in &what.set {
        let Some((path, value)) = set.split_once('=') else {
            return Err(fail(
                ErrorKind::Usage,
                format!("{set:?} says no value: write it as right.length_to_bend_mm=95"),
                &[],
            ));
        };
        repair = form::set_repair_value(&repair, path.trim(), value, today)
            .map_err(|e| fail(ErrorKind::Input, format!("{set}: {e}"), &[]))?;
    }
    let open = place
        .open_as(&what.by)?
        .add_repair(&what.number, &what.by, repair)?;
    super::moves::stands(out, &open, &format!("{} kept", what.kind));
    Ok(Outcome::Done)
}
