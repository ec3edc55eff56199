//! A job and its row: the stored content and the columns for lists and searches.

use chrono::NaiveDate;
use rusqlite::{OptionalExtension, Row, Transaction, params};

use super::error::StoreError;
use super::holding_checks::Held;
use super::made;
use serde::Deserialize;

use crate::job::{Gate, Job, Moment, Outcome, Stage};
use crate::judge::gate::{Acceptance, Passed, Question};

/// The row of a job.
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
    /// The questions that are not answered yet, the earliest first.
    pub questions: Vec<Question>,
}

/// The columns of a row that a list shows.
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
    pub held: Held,
    /// The day for which `held` was judged.
    pub held_on: Option<NaiveDate>,
    /// What came of a visit.
    pub outcome: Option<Outcome>,
    /// When the wearer of a visit comes back.
    pub review_on: Option<NaiveDate>,
}

/// The columns of a [`LineRow`]. Only a visit that waits or is over has an outcome to show, so that
/// the content of no other job is read for a list.
pub(crate) const LINE: &str =
    "number, stage, past, wearer, born, due_on, promised_on, collection_at, held, held_on,
     CASE WHEN stage IN ('measured', 'cancelled') THEN content ->> '$.visit.outcome' END,
     CASE WHEN stage = 'measured' THEN content ->> '$.visit.review_on' END";

/// Number of columns of [`LINE`]; further columns of a query follow them.
pub(crate) const LINE_COLUMNS: usize = 12;

/// A job by its number.
pub(crate) const BY_NUMBER: &str =
    "SELECT id, number, revision, content, question FROM job WHERE number = ?1";
/// The id of a job by its number.
pub(crate) const ID_OF: &str = "SELECT id FROM job WHERE number = ?1";
/// The acceptances of a job.
pub(crate) const ACCEPTANCES: &str = "SELECT content FROM acceptance WHERE job_id = ?1 ORDER BY id";
/// The gates that a job has passed in this round.
pub(crate) const PASSED: &str =
    "SELECT gate, content FROM passed WHERE job_id = ?1 AND stands = 1 ORDER BY id";
/// Marks what holds the other open jobs of a job's wearer as out of date.
pub(crate) const FORGET_HELD_OF_WEARER: &str = "UPDATE job SET held_on = '0001-01-01'
     WHERE wearer_key = (SELECT wearer_key FROM job WHERE id = ?1)
     AND born IS (SELECT born FROM job WHERE id = ?1)
     AND id <> ?1 AND past = 0 AND stage IN ('measured', 'ordered', 'verified')";

/// Digits as a number, as the program writes days; anything else is read by the general reader.
fn digits_of(text: &str, from: usize, count: usize) -> Option<u32> {
    text.as_bytes()
        .get(from..from + count)?
        .iter()
        .try_fold(0, |n, d| {
            d.is_ascii_digit().then(|| n * 10 + u32::from(d - b'0'))
        })
}

/// A day as it is written here. A worklist has thousands of them, and the general reader is most of
/// reading a line.
fn day_of(text: &str) -> Option<NaiveDate> {
    let bytes = text.as_bytes();
    if bytes.get(4) != Some(&b'-') || bytes.get(7) != Some(&b'-') {
        return None;
    }
    NaiveDate::from_ymd_opt(
        i32::try_from(digits_of(text, 0, 4)?).ok()?,
        digits_of(text, 5, 2)?,
        digits_of(text, 8, 2)?,
    )
}

fn day(text: &str) -> Option<NaiveDate> {
    if text.len() == 10
        && let Some(day) = day_of(text)
    {
        return Some(day);
    }
    text.parse().ok()
}

fn moment(text: &str) -> Option<Moment> {
    if text.len() == 16
        && text.as_bytes().get(10) == Some(&b'T')
        && text.as_bytes().get(13) == Some(&b':')
        && let (Some(day), Some(hour), Some(minute)) =
            (day_of(text), digits_of(text, 11, 2), digits_of(text, 14, 2))
        && let Some(at) = day.and_hms_opt(hour, minute, 0)
    {
        return Some(Moment(at));
    }
    Moment::parse(text)
}

/// Reads a [`LineRow`].
pub(crate) fn line(row: &Row<'_>) -> rusqlite::Result<LineRow> {
    // Borrowed from the row: texts that are only parsed are not copied.
    fn text<'a>(row: &'a Row<'_>, at: usize) -> rusqlite::Result<Option<&'a str>> {
        Ok(row.get_ref(at)?.as_str_or_null()?)
    }
    let day_at = |at| text(row, at).map(|t| t.and_then(day));
    let owned = |at| Ok::<_, rusqlite::Error>(row.get_ref(at)?.as_str()?.to_owned());
    Ok(LineRow {
        number: owned(0)?,
        stage: Stage::from_word(row.get_ref(1)?.as_str()?).unwrap_or(Stage::Measured),
        past: row.get(2)?,
        wearer: owned(3)?,
        born: day_at(4)?,
        due_on: day_at(5)?,
        promised_on: day_at(6)?,
        collection_at: text(row, 7)?.and_then(moment),
        held: Held::kept(row.get_ref(8)?.as_str()?),
        held_on: day_at(9)?,
        outcome: text(row, 10)?.and_then(Outcome::from_word),
        review_on: day_at(11)?,
    })
}

/// Returns a job from its stored content.
pub(crate) fn job_from(content: &str) -> Result<Job, StoreError> {
    serde_json::from_str(content).map_err(|_| StoreError::Content("a job"))
}

/// Returns the content under which a job is stored.
///
/// # Errors
/// [`StoreError::Content`] when the job cannot be written as JSON.
pub(crate) fn content_of(job: &Job) -> Result<String, StoreError> {
    let value = serde_json::to_value(job).map_err(|_| StoreError::Content("a job"))?;
    Ok(crate::job::without_nulls(value).to_string())
}

/// The text that holds the open questions of a job: a list, or the one question that earlier versions
/// kept.
#[derive(Deserialize)]
#[serde(untagged)]
enum StoredQuestions {
    List(Vec<Question>),
    One(Question),
}

/// Returns the open questions from their stored text.
///
/// # Errors
/// [`StoreError::Content`] for a text that holds no questions; a job they hold must not go on without
/// them.
pub(crate) fn questions_from(text: &str) -> Result<Vec<Question>, StoreError> {
    let stored = serde_json::from_str(text).map_err(|_| StoreError::Content("a question"))?;
    Ok(match stored {
        StoredQuestions::List(list) => list,
        StoredQuestions::One(question) => vec![question],
    })
}

fn questions_text(extras: RowExtras<'_>) -> Result<Option<String>, StoreError> {
    if extras.questions.is_empty() {
        return Ok(None);
    }
    serde_json::to_string(extras.questions)
        .map(Some)
        .map_err(|_| StoreError::Content("a question"))
}

/// Returns the id of a job.
///
/// # Errors
/// [`StoreError::NoJob`].
pub(crate) fn id_of(c: &rusqlite::Connection, number: &str) -> Result<i64, StoreError> {
    c.prepare_cached(ID_OF)?
        .query_row([number], |r| r.get(0))
        .optional()?
        .ok_or_else(|| StoreError::NoJob(number.to_owned()))
}

/// Reads a job by its number.
pub(crate) fn find(c: &rusqlite::Connection, number: &str) -> Result<JobRow, StoreError> {
    let row = c
        .prepare_cached(BY_NUMBER)?
        .query_row([number], |r| {
            Ok((
                r.get(0)?,
                r.get::<_, String>(1)?,
                r.get(2)?,
                r.get::<_, String>(3)?,
                r.get::<_, Option<String>>(4)?,
            ))
        })
        .optional()
        .map_err(|e| StoreError::from(e).of_job(number))?;
    let Some((id, number, revision, content, questions)) = row else {
        return Err(StoreError::NoJob(number.to_owned()));
    };
    let job = job_from(&content).map_err(|e| e.of_job(&number))?;
    let questions = questions
        .as_deref()
        .map_or(Ok(Vec::new()), questions_from)
        .map_err(|e| e.of_job(&number))?;
    Ok(JobRow {
        id,
        number,
        revision,
        job,
        questions,
    })
}

/// Names the job of an id in an error about its content.
fn named(c: &rusqlite::Connection, id: i64, e: StoreError) -> StoreError {
    let number: rusqlite::Result<String> =
        c.query_row("SELECT number FROM job WHERE id = ?1", [id], |r| r.get(0));
    e.of_job(&number.unwrap_or_else(|_| format!("of id {id}")))
}

/// Returns every acceptance of a job, oldest first.
pub(crate) fn acceptances(
    c: &rusqlite::Connection,
    id: i64,
) -> Result<Vec<Acceptance>, StoreError> {
    let mut statement = c.prepare_cached(ACCEPTANCES)?;
    let texts = statement.query_map([id], |r| r.get::<_, String>(0))?;
    let read = |t: rusqlite::Result<String>| {
        serde_json::from_str(&t?).map_err(|_| StoreError::Content("an acceptance"))
    };
    texts
        .map(|t| read(t).map_err(|e| named(c, id, e)))
        .collect()
}

/// Returns the gates a job has passed in this round, oldest first.
pub(crate) fn passed(c: &rusqlite::Connection, id: i64) -> Result<Vec<Passed>, StoreError> {
    let mut statement = c.prepare_cached(PASSED)?;
    let rows = statement.query_map([id], |r| {
        Ok((r.get::<_, String>(0)?, r.get::<_, String>(1)?))
    })?;
    let read = |row: rusqlite::Result<(String, String)>| {
        let (gate, content) = row?;
        let gate = Gate::from_word(&gate).ok_or(StoreError::Content("a gate"))?;
        let job =
            job_from(&content).map_err(|_| StoreError::Content("the pair as it passed a gate"))?;
        Ok(Passed { gate, job })
    };
    rows.map(|row| read(row).map_err(|e| named(c, id, e)))
        .collect()
}

/// The digits of a text.
pub(crate) fn digits(text: &str) -> String {
    text.chars().filter(char::is_ascii_digit).collect()
}

/// The digits of a telephone number from the last to the first: a tail is then a prefix.
pub(crate) fn phone_tail(text: &str) -> String {
    digits(text).chars().rev().collect()
}

/// The form of a name under which the same wearer is found again.
pub(crate) fn wearer_key(name: &str) -> String {
    name.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

/// Columns of a row besides the job itself.
#[derive(Debug, Clone, Copy)]
pub struct RowExtras<'a> {
    /// Ids of the checks that hold the job.
    pub held: &'a Held,
    /// The day for which they were judged.
    pub held_on: NaiveDate,
    /// The unanswered questions.
    pub questions: &'a [Question],
}

/// Marks what holds every open job as out of date.
pub(crate) fn forget_held(t: &Transaction<'_>) -> Result<(), StoreError> {
    t.execute(
        "UPDATE job SET held_on = '0001-01-01' WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified')",
        [],
    )?;
    Ok(())
}

/// Marks what holds the other open jobs of a job's wearer as out of date.
pub(crate) fn forget_held_of_wearer(t: &Transaction<'_>, id: i64) -> Result<(), StoreError> {
    t.prepare_cached(FORGET_HELD_OF_WEARER)?.execute([id])?;
    Ok(())
}

/// What the lists of jobs show and are ordered and searched by.
#[derive(PartialEq)]
pub(super) struct Shown {
    pub(super) stage: &'static str,
    pub(super) past: bool,
    pub(super) wearer: String,
    pub(super) born: Option<String>,
    pub(super) phone_tail: String,
    pub(super) due_on: Option<String>,
    pub(super) promised_on: Option<String>,
    pub(super) collection_at: Option<String>,
}

impl Shown {
    pub(super) fn of(job: &Job) -> Self {
        let w = &job.wearer;
        let text = |d: Option<NaiveDate>| d.map(|d| d.to_string());
        Self {
            stage: job.stage().word(),
            past: job.is_past(),
            wearer: w.name.clone().unwrap_or_default(),
            born: text(w.born),
            phone_tail: phone_tail(w.phone.as_deref().unwrap_or("")),
            due_on: text(job.order.due_on),
            promised_on: text(job.promised_on),
            collection_at: job.collection_at.map(|m| m.to_string()),
        }
    }

    /// Whether the row shows the same already.
    fn is_shown(&self, t: &Transaction<'_>, id: i64, number: &str) -> rusqlite::Result<bool> {
        let stood = t
            .prepare_cached(
                "SELECT stage, past, wearer, born, phone_tail, due_on, promised_on, collection_at, number
                 FROM job WHERE id = ?1",
            )?
            .query_row([id], |r| {
                let text = |at| Ok::<_, rusqlite::Error>(r.get_ref(at)?.as_str_or_null()?);
                Ok(text(0)? == Some(self.stage)
                    && r.get::<_, bool>(1)? == self.past
                    && text(2)? == Some(&self.wearer)
                    && text(3)? == self.born.as_deref()
                    && text(4)? == Some(&self.phone_tail)
                    && text(5)? == self.due_on.as_deref()
                    && text(6)? == self.promised_on.as_deref()
                    && text(7)? == self.collection_at.as_deref()
                    && text(8)? == Some(number))
            })
            .optional()?;
        Ok(stood == Some(true))
    }
}

/// Whether a job is found by these words already.
fn is_found_by(t: &Transaction<'_>, id: i64, entry: &[String; 5]) -> rusqlite::Result<bool> {
    let stood = t
        .prepare_cached(
            "SELECT number, wearer, born, phone, frame FROM job_search WHERE rowid = ?1",
        )?
        .query_row([id], |r| {
            for (at, text) in entry.iter().enumerate() {
                if r.get_ref(at)?.as_str_or_null()? != Some(text) {
                    return Ok(false);
                }
            }
            Ok(true)
        })
        .optional()?;
    Ok(stood == Some(true))
}

/// Whether a job's wearer is the one that its row names.
pub(crate) fn is_same_wearer(t: &Transaction<'_>, id: i64, job: &Job) -> Result<bool, StoreError> {
    let key = wearer_key(job.wearer.name.as_deref().unwrap_or(""));
    let born = job.wearer.born.map(|b| b.to_string());
    Ok(
        t.prepare_cached("SELECT 1 FROM job WHERE id = ?1 AND wearer_key = ?2 AND born IS ?3")?
            .exists(params![id, key, born])?,
    )
}

/// Writes a job's row as of `revision`, its search entry and who has what. What these hold is
/// only written where it changes: most entries change neither, and writing through to the disk is
/// most of keeping one.
pub(crate) fn write(
    t: &Transaction<'_>,
    id: i64,
    number: &str,
    job: &Job,
    revision: i64,
    extras: RowExtras<'_>,
) -> Result<(), StoreError> {
    let content = content_of(job)?;
    if Shown::of(job).is_shown(t, id, number)? {
        t.prepare_cached(
            "UPDATE job SET revision = ?2, held = ?3, held_on = ?4, question = ?5, content = ?6 WHERE id = ?1",
        )?
        .execute(params![
            id,
            revision,
            extras.held.as_kept(),
            extras.held_on.to_string(),
            questions_text(extras)?,
            content,
        ])?;
    } else {
        write_row(t, id, number, job, revision, extras, &content)?;
    }
    let entry = search_entry(number, job);
    if !is_found_by(t, id, &entry)? {
        t.prepare_cached("DELETE FROM job_search WHERE rowid = ?1")?
            .execute([id])?;
        write_search(t, id, entry)?;
    }
    made::write(t, id, job)
}

/// Writes a job's row from serialised content and adds a search entry; for a job without one.
pub(crate) fn insert(
    t: &Transaction<'_>,
    id: i64,
    number: &str,
    job: &Job,
    revision: i64,
    extras: RowExtras<'_>,
    content: &str,
) -> Result<(), StoreError> {
    write_row(t, id, number, job, revision, extras, content)?;
    write_search(t, id, search_entry(number, job))?;
    made::add(t, id, job)
}

fn write_search(t: &Transaction<'_>, id: i64, entry: [String; 5]) -> Result<(), StoreError> {
    let [number, wearer, born, phone, frame] = entry;
    t.prepare_cached("INSERT INTO job_search (rowid, number, wearer, born, phone, frame) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")?
        .execute(params![id, number, wearer, born, phone, frame])?;
    Ok(())
}

fn write_row(
    t: &Transaction<'_>,
    id: i64,
    number: &str,
    job: &Job,
    revision: i64,
    extras: RowExtras<'_>,
    content: &str,
) -> Result<(), StoreError> {
    let shown = Shown::of(job);
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
        shown.stage,
        shown.past,
        revision,
        shown.wearer,
        wearer_key(&shown.wearer),
        shown.born,
        shown.phone_tail,
        shown.due_on,
        shown.promised_on,
        shown.collection_at,
        extras.held.as_kept(),
        extras.held_on.to_string(),
        questions_text(extras)?,
        content,
    ])?;
    Ok(())
}

/// What a job is found by: number, wearer, date of birth in several spellings, telephone, frame.
pub(crate) fn search_entry(number: &str, job: &Job) -> [String; 5] {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_moments_are_read_as_the_general_reader_reads_them() {
        for text in [
            "2026-11-25",
            "2024-02-29",
            "2025-02-29",
            "2026-13-01",
            "0001-01-01",
            "26-11-25",
            "",
            "2026/11/25",
            "2026-1-5",
            "+999-01-01",
            "2026-11-2é",
        ] {
            assert_eq!(day(text), text.parse().ok(), "{text:?}");
        }
        for text in [
            "2026-11-25T15:30",
            "2026-11-25 15:30",
            "2026-11-25T24:00",
            "2026-11-25T15:3é",
            "x",
            "2026-02-30T10:00",
            "2026-11-25T15:30:10",
        ] {
            assert_eq!(moment(text), Moment::parse(text), "{text:?}");
        }
    }
}
