//! The files of the demo book: people, jobs with dates relative to a day, and the steps of each job.

use chrono::{Days, NaiveDate, NaiveTime};
use serde::Deserialize;
use serde_json::Value;

use crate::job::{Gate, Moment, QuestionTo, Repair, Section, StaffMember};

/// A job file embedded in the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DemoFile {
    /// Name inside `demo-db/jobs/`.
    pub name: &'static str,
    /// Content as written: JSON with dates relative to the day.
    pub text: &'static str,
}

macro_rules! file {
    ($name:literal) => {
        DemoFile {
            name: $name,
            text: include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/demo-db/jobs/", $name)),
        }
    };
}

const STAFF: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/demo-db/staff.json"));

// In the order in which the book numbers them.
const FILES: &[DemoFile] = &[
    file!("01-low-power-single-vision.json"),
    file!("02-high-minus-vertex.json"),
    file!("03-child-nickel-allergy.json"),
    file!("04-progressive-heights.json"),
    file!("05-late-at-laboratory.json"),
    file!("06-axis-out.json"),
    file!("07-sent-back-once.json"),
    file!("08-collection-morning.json"),
    file!("09-collection-afternoon.json"),
    file!("10-accepted-asymmetry.json"),
    file!("11-prism-split.json"),
    file!("12-wrap-as-worn.json"),
    file!("13-sign-in-doubt.json"),
    file!("14-past-callander.json"),
    file!("15-past-callander-peter.json"),
    file!("16-past-brookfield.json"),
    file!("17-past-fennimore.json"),
    file!("18-past-ostermark.json"),
    file!("19-past-fennimore-lina.json"),
    file!("20-past-hakonvik.json"),
    file!("21-past-tolgate.json"),
    file!("22-past-harrowick.json"),
    file!("23-past-mossband.json"),
    file!("24-past-lindqvale.json"),
    file!("25-past-ravensby.json"),
    file!("26-second-pair.json"),
    file!("27-reglaze.json"),
    file!("28-repaired.json"),
    file!("29-cannot-get-on.json"),
    file!("30-parcel-reads-well.json"),
    file!("31-parcel-doubtful.json"),
    file!("32-parcel-wrong-axis.json"),
    file!("33-not-collected.json"),
];

/// Why a demo file cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DemoError {
    /// The file is not JSON, or has keys that no demo file has.
    #[error("this is no demo file: {0}")]
    Form(String),
    /// A text begins like a relative date but is not one.
    #[error("{0:?} is no relative date: write today, today-12, today+3 or today+0T15:30")]
    Date(String),
}

/// A step of a demo job after its import, as its file writes it.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum DemoStep {
    /// Moves the job through a gate.
    Advance(AdvanceStep),
    /// Accepts a warning.
    Accept(AcceptStep),
    /// Merges values into a section.
    Record(RecordStep),
    /// Sends the delivered pair back.
    SendBack(SendBackStep),
    /// Puts a question to the prescriber or the laboratory.
    Ask(AskStep),
    /// Keeps a repair of the collected pair.
    Repair(RepairStep),
    /// Looks at the collected pair again.
    Recheck(RecheckStep),
}

/// A move, written `{"advance": "ordered", "as": "NAME"}`.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AdvanceStep {
    /// The gate to pass.
    pub advance: Gate,
    /// Who asks for the move.
    #[serde(rename = "as")]
    pub by: String,
}

/// An acceptance, written `{"accept": "CHECK", "eye": null, "as": "NAME", "reason": "TEXT"}`.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AcceptStep {
    /// Id of the check.
    pub accept: String,
    /// "right", "left" or "pair"; `None` for every open finding of the check.
    pub eye: Option<String>,
    /// Who accepts.
    #[serde(rename = "as")]
    pub by: String,
    /// Why.
    pub reason: String,
}

/// A change of one section, written `{"record": "readings", "value": {…}, "as": "NAME"}`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordStep {
    /// The section.
    pub record: Section,
    /// The keys and values that are merged into it.
    pub value: Value,
    /// Who recorded it.
    #[serde(rename = "as")]
    pub by: String,
}

/// A pair sent back, written `{"send_back": "REASON", "as": "NAME"}`.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SendBackStep {
    /// Why.
    pub send_back: String,
    /// Who sends it back.
    #[serde(rename = "as")]
    pub by: String,
}

/// A question, written `{"ask": "TEXT", "as": "NAME"}` to the prescriber, with `"of": "laboratory"` to
/// the laboratory.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AskStep {
    /// The question.
    pub ask: String,
    /// Whom it is put to.
    #[serde(default)]
    pub of: QuestionTo,
    /// Who asks.
    #[serde(rename = "as")]
    pub by: String,
}

/// A repair, written `{"repair": {…}, "as": "NAME"}`.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RepairStep {
    /// What was done.
    pub repair: Repair,
    /// Who did it.
    #[serde(rename = "as")]
    pub by: String,
}

/// A recheck with the steps of the new job, written `{"recheck": [STEP, …], "as": "NAME"}`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecheckStep {
    /// The steps of the recheck, in order.
    pub recheck: Vec<DemoStep>,
    /// Who begins it.
    #[serde(rename = "as")]
    pub by: String,
}

/// One job of the demo book, its dates resolved.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DemoJob {
    /// What the job demonstrates, for readers of the file.
    pub about: String,
    /// The steps after its import, in order.
    pub steps: Vec<DemoStep>,
    /// The job file.
    pub job: Value,
}

/// The embedded job files, in the order in which the book numbers them.
pub const fn files() -> &'static [DemoFile] {
    FILES
}

/// Returns the people of the invented practice.
///
/// # Errors
/// [`DemoError::Form`] when the embedded list cannot be read.
pub fn staff() -> Result<Vec<StaffMember>, DemoError> {
    serde_json::from_str(STAFF).map_err(|e| DemoError::Form(e.to_string()))
}

/// Reads a demo file, counting its dates from `today`.
///
/// # Errors
/// [`DemoError`] when the file is not of the form of a demo file or a date in it is none.
pub fn resolve(text: &str, today: NaiveDate) -> Result<DemoJob, DemoError> {
    let mut value: Value =
        serde_json::from_str(text).map_err(|e| DemoError::Form(e.to_string()))?;
    resolve_dates(&mut value, today)?;
    serde_json::from_value(value).map_err(|e| DemoError::Form(e.to_string()))
}

fn resolve_dates(value: &mut Value, today: NaiveDate) -> Result<(), DemoError> {
    match value {
        Value::String(text) => {
            if let Some(date) = resolve_date(text, today)? {
                *text = date;
            }
        }
        Value::Array(list) => {
            for item in list {
                resolve_dates(item, today)?;
            }
        }
        Value::Object(map) => {
            for (_, item) in map.iter_mut() {
                resolve_dates(item, today)?;
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
    Ok(())
}

/// Resolves one text; `None` when it is an ordinary text.
fn resolve_date(text: &str, today: NaiveDate) -> Result<Option<String>, DemoError> {
    let Some(rest) = text.strip_prefix("today") else {
        return Ok(None);
    };
    // A note may begin with the word; only a sign or a time makes a date of it.
    if !(rest.is_empty() || rest.starts_with(['+', '-', 'T'])) {
        return Ok(None);
    }
    let wrong = || DemoError::Date(text.to_owned());
    let (count, time) = rest
        .split_once('T')
        .map_or((rest, None), |(count, time)| (count, Some(time)));
    let days: i64 = if count.is_empty() {
        0
    } else {
        count.parse().map_err(|_| wrong())?
    };
    let distance = Days::new(days.unsigned_abs());
    let day = if days < 0 {
        today.checked_sub_days(distance)
    } else {
        today.checked_add_days(distance)
    }
    .ok_or_else(wrong)?;
    Ok(Some(match time {
        None => day.to_string(),
        Some(time) => {
            let time = NaiveTime::parse_from_str(time, "%H:%M").map_err(|_| wrong())?;
            Moment(day.and_time(time)).to_string()
        }
    }))
}
