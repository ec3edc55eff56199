//! A job and its row: what is stored, and what is drawn out of it for lists and searches.

use chrono::NaiveDate;
use rusqlite::{OptionalExtension, Row, Transaction, params};
use serde_json::Value;

use super::error::StoreError;
use crate::gate::{Acceptance, Passed};
use crate::job::{Gate, Job, Moment, Stage};

/// A job as its row holds it.
#[derive(Debug, Clone, PartialEq)]
pub struct JobRow {
    /// Row id.
    pub id: i64,
    /// Number.
    pub number: String,
    /// Revision.
    pub revision: i64,
    /// The job.
    pub job: Job,
    /// An unanswered question to the prescriber, as JSON.
    pub question: Option<Value>,
}

/// One line of a list, as the row holds it.
#[derive(Debug, Clone, PartialEq)]
pub struct LineRow {
    /// Number.
    pub number: String,
    /// Stage.
    pub stage: Stage,
    /// From before the book.
    pub past: bool,
    /// Name.
    pub wearer: String,
    /// Born.
    pub born: Option<NaiveDate>,
    /// Due.
    pub due_on: Option<NaiveDate>,
    /// Promised.
    pub promised_on: Option<NaiveDate>,
    /// Collection.
    pub collection_at: Option<Moment>,
    /// Ids of the checks that hold it.
    pub held: Vec<String>,
    /// The day for which `held` was worked out.
    pub held_on: Option<NaiveDate>,
}

/// The columns of a [`LineRow`].
pub const LINE: &str =
    "number, stage, past, wearer, born, due_on, promised_on, collection_at, held, held_on";

fn day(text: Option<String>) -> Option<NaiveDate> {
    text.and_then(|t| t.parse().ok())
}

/// Reads a [`LineRow`].
pub fn line(row: &Row<'_>) -> rusqlite::Result<LineRow> {
    let stage: String = row.get(1)?;
    let held: String = row.get(8)?;
    Ok(LineRow {
        number: row.get(0)?,
        stage: Stage::from_word(&stage).unwrap_or(Stage::Measured),
        past: row.get(2)?,
        wearer: row.get(3)?,
        born: day(row.get(4)?),
        due_on: day(row.get(5)?),
        promised_on: day(row.get(6)?),
        collection_at: row
            .get::<_, Option<String>>(7)?
            .and_then(|t| Moment::parse(&t)),
        held: serde_json::from_str(&held).unwrap_or_default(),
        held_on: day(row.get(9)?),
    })
}

/// Returns a job from its stored content.
pub fn job_from(content: &str) -> Result<Job, StoreError> {
    serde_json::from_str(content).map_err(|_| StoreError::Content("a job"))
}

/// Returns the content under which a job is stored.
pub fn content_of(job: &Job) -> String {
    let value = serde_json::to_value(job).unwrap_or(Value::Null);
    crate::job::without_nulls(value).to_string()
}

/// Reads a job by its number.
pub fn find(c: &rusqlite::Connection, number: &str) -> Result<JobRow, StoreError> {
    let row = c
        .prepare_cached(
            "SELECT id, number, revision, content, question FROM job WHERE number = ?1",
        )?
        .query_row([number], |r| {
            Ok((
                r.get(0)?,
                r.get(1)?,
                r.get(2)?,
                r.get::<_, String>(3)?,
                r.get::<_, Option<String>>(4)?,
            ))
        })
        .optional()?;
    let Some((id, number, revision, content, question)) = row else {
        return Err(StoreError::NoJob(number.to_owned()));
    };
    Ok(JobRow {
        id,
        number,
        revision,
        job: job_from(&content)?,
        question: question.and_then(|q| serde_json::from_str(&q).ok()),
    })
}

/// Returns every acceptance of a job, oldest first.
pub fn acceptances(c: &rusqlite::Connection, id: i64) -> Result<Vec<Acceptance>, StoreError> {
    let mut statement =
        c.prepare_cached("SELECT content FROM acceptance WHERE job_id = ?1 ORDER BY id")?;
    let texts = statement.query_map([id], |r| r.get::<_, String>(0))?;
    texts
        .map(|t| serde_json::from_str(&t?).map_err(|_| StoreError::Content("an acceptance")))
        .collect()
}

/// Returns the gates a job has passed in this round, oldest first.
pub fn passed(c: &rusqlite::Connection, id: i64) -> Result<Vec<Passed>, StoreError> {
    let mut statement = c.prepare_cached(
        "SELECT gate, content FROM passed WHERE job_id = ?1 AND stands = 1 ORDER BY id",
    )?;
    let rows = statement.query_map([id], |r| {
        Ok((r.get::<_, String>(0)?, r.get::<_, String>(1)?))
    })?;
    rows.map(|row| {
        let (gate, content) = row?;
        let gate = Gate::from_word(&gate).ok_or(StoreError::Content("a gate"))?;
        Ok(Passed {
            gate,
            job: job_from(&content)?,
        })
    })
    .collect()
}

/// The digits of a text.
pub fn digits(text: &str) -> String {
    text.chars().filter(char::is_ascii_digit).collect()
}

/// The digits of a telephone number from the last to the first: a tail is then a prefix.
pub fn phone_tail(text: &str) -> String {
    digits(text).chars().rev().collect()
}

/// The form of a name under which the same wearer is found again.
pub fn wearer_key(name: &str) -> String {
    name.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

/// What a row holds beside the job itself.
#[derive(Debug, Clone, Copy)]
pub struct Beside<'a> {
    /// Ids of the checks that hold the job.
    pub held: &'a [String],
    /// The day for which they were worked out.
    pub held_on: NaiveDate,
    /// An unanswered question.
    pub question: Option<&'a Value>,
}

/// Marks what holds every open job as out of date.
pub fn forget_held(t: &Transaction<'_>) -> Result<(), StoreError> {
    t.execute(
        "UPDATE job SET held_on = '0001-01-01' WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified')",
        [],
    )?;
    Ok(())
}

/// Marks what holds the other open jobs of a job's wearer as out of date.
pub fn forget_held_of_wearer(t: &Transaction<'_>, id: i64) -> Result<(), StoreError> {
    t.prepare_cached(
        "UPDATE job SET held_on = '0001-01-01'
         WHERE wearer_key = (SELECT wearer_key FROM job WHERE id = ?1)
         AND born IS (SELECT born FROM job WHERE id = ?1)
         AND id <> ?1 AND past = 0 AND stage IN ('measured', 'ordered', 'verified')",
    )?
    .execute([id])?;
    Ok(())
}

/// Writes a job's row as of `revision`, and its search entry.
pub fn write(
    t: &Transaction<'_>,
    id: i64,
    number: &str,
    job: &Job,
    revision: i64,
    beside: Beside<'_>,
) -> Result<(), StoreError> {
    t.prepare_cached("DELETE FROM job_search WHERE rowid = ?1")?
        .execute([id])?;
    insert(t, id, number, job, revision, beside, &content_of(job))
}

/// Writes a job's row from content that is made already, and its search entry where there is none.
pub fn insert(
    t: &Transaction<'_>,
    id: i64,
    number: &str,
    job: &Job,
    revision: i64,
    beside: Beside<'_>,
    content: &str,
) -> Result<(), StoreError> {
    let w = &job.wearer;
    let name = w.name.as_deref().unwrap_or("");
    let phone = w.phone.as_deref().unwrap_or("");
    let text = |d: Option<NaiveDate>| d.map(|d| d.to_string());
    t.prepare_cached(
        "INSERT INTO job (id, number, stage, past, revision, wearer, wearer_key, born, phone_tail, due_on,
                          promised_on, collection_at, held, held_on, question, content)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16)
         ON CONFLICT (id) DO UPDATE SET
             stage = excluded.stage, revision = excluded.revision, wearer = excluded.wearer,
             wearer_key = excluded.wearer_key, born = excluded.born, phone_tail = excluded.phone_tail,
             due_on = excluded.due_on, promised_on = excluded.promised_on,
             collection_at = excluded.collection_at, held = excluded.held, held_on = excluded.held_on,
             question = excluded.question, content = excluded.content",
    )?
    .execute(params![
        id,
        number,
        job.stage().word(),
        job.is_past(),
        revision,
        name,
        wearer_key(name),
        text(w.born),
        phone_tail(phone),
        text(job.order.due_on),
        text(job.promised_on),
        job.collection_at.map(|m| m.to_string()),
        serde_json::to_string(beside.held).unwrap_or_default(),
        beside.held_on.to_string(),
        beside.question.map(Value::to_string),
        content,
    ])?;
    let [number, wearer, born, phone, frame] = search_entry(number, job);
    t.prepare_cached("INSERT INTO job_search (rowid, number, wearer, born, phone, frame) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")?
        .execute(params![id, number, wearer, born, phone, frame])?;
    Ok(())
}

/// What a job is found by: number, wearer, date of birth in several spellings, telephone, frame.
pub fn search_entry(number: &str, job: &Job) -> [String; 5] {
    let w = &job.wearer;
    let born = w.born.map_or_else(String::new, |b| {
        format!("{b} {}", b.format("%d/%m/%Y %-d/%-m/%Y %d %B %Y %b"))
    });
    let text = |t: &Option<String>| t.clone().unwrap_or_default();
    let (wearer, phone) = (text(&w.name), digits(w.phone.as_deref().unwrap_or("")));
    [
        number.to_owned(),
        wearer,
        born,
        phone,
        text(&job.frame.name),
    ]
}
