//! Whether the columns that lists show and search by are what the jobs hold.

use rusqlite::{Connection, Row, params};

use super::error::StoreError;
use super::row::{self, Shown, job_from, wearer_key};

/// A job whose row shows something that the job does not hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShownWrongly {
    /// Number of the job.
    pub number: String,
    /// Names of the columns.
    pub columns: Vec<&'static str>,
}

const COLUMNS: &str =
    "SELECT id, number, content, stage, past, wearer, wearer_key, born, phone_tail,
     due_on, promised_on, collection_at FROM job ORDER BY id";

/// Returns the jobs whose rows do not show what the jobs hold; a job that cannot be read is another
/// matter.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn shown_wrongly(c: &Connection) -> Result<Vec<ShownWrongly>, StoreError> {
    let mut statement = c.prepare(COLUMNS)?;
    let mut rows = statement.query([])?;
    let mut all = Vec::new();
    while let Some(row) = rows.next()? {
        if let Some(columns) = wrong_columns(row).filter(|c| !c.is_empty()) {
            let id: i64 = row.get(0)?;
            let number = row.get(1).unwrap_or_else(|_| format!("of id {id}"));
            all.push(ShownWrongly { number, columns });
        }
    }
    Ok(all)
}

/// `None` where the job cannot be read.
fn wrong_columns(row: &Row<'_>) -> Option<Vec<&'static str>> {
    let job = job_from(&row.get::<_, String>(2).ok()?).ok()?;
    let wanted = Shown::of(&job);
    let text = |at| row.get::<_, Option<String>>(at).ok();
    let is = |at, wanted: Option<&str>| text(at).is_some_and(|found| found.as_deref() == wanted);
    let all = [
        // A job of the first version of the book does not repeat its number.
        (
            "number",
            job.number.is_none() || is(1, job.number.as_deref()),
        ),
        ("stage", is(3, Some(wanted.stage))),
        (
            "past",
            row.get::<_, bool>(4).is_ok_and(|p| p == wanted.past),
        ),
        (
            "wearer",
            is(5, Some(&wanted.wearer)) && is(6, Some(&wearer_key(&wanted.wearer))),
        ),
        ("born", is(7, wanted.born.as_deref())),
        ("telephone", is(8, Some(&wanted.phone_tail))),
        ("due", is(9, wanted.due_on.as_deref())),
        ("promised", is(10, wanted.promised_on.as_deref())),
        ("collection", is(11, wanted.collection_at.as_deref())),
    ];
    Some(
        all.into_iter()
            .filter(|(_, is)| !is)
            .map(|(name, _)| name)
            .collect(),
    )
}

/// Writes the columns of the jobs again that do not show what the jobs hold; the number is left as it
/// is: a tray may carry it. Returns the numbers of the jobs.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn show_rightly(c: &Connection) -> Result<Vec<String>, StoreError> {
    let mut mended = Vec::new();
    for wrong in shown_wrongly(c)? {
        if wrong.columns.contains(&"number") {
            continue;
        }
        let job = row::find(c, &wrong.number)?.job;
        let shown = Shown::of(&job);
        c.execute(
            "UPDATE job SET stage = ?2, past = ?3, wearer = ?4, wearer_key = ?5, born = ?6, phone_tail = ?7,
                 due_on = ?8, promised_on = ?9, collection_at = ?10, held_on = '0001-01-01' WHERE number = ?1",
            params![
                wrong.number,
                shown.stage,
                shown.past,
                shown.wearer,
                wearer_key(&shown.wearer),
                shown.born,
                shown.phone_tail,
                shown.due_on,
                shown.promised_on,
                shown.collection_at,
            ],
        )?;
        mended.push(wrong.number);
    }
    Ok(mended)
}

/// The jobs with no gate ahead whose rows name checks that hold them: none does.
const HELD_WITHOUT_A_GATE: &str =
    "held <> '[]' AND NOT (past = 0 AND stage IN ('measured', 'ordered', 'verified'))";

/// Returns the numbers of jobs that are said to be held although no gate lies ahead of them.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn held_without_a_gate(c: &Connection) -> Result<Vec<String>, StoreError> {
    let mut statement = c.prepare(&format!(
        "SELECT number FROM job WHERE {HELD_WITHOUT_A_GATE} ORDER BY id"
    ))?;
    let rows = statement.query_map([], |r| r.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Has what holds each job judged again when it is next listed.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn judge_again(c: &Connection) -> Result<(), StoreError> {
    c.execute(
        &format!("UPDATE job SET held = '[]' WHERE {HELD_WITHOUT_A_GATE}"),
        [],
    )?;
    c.execute("UPDATE job SET held_on = '0001-01-01'", [])?;
    Ok(())
}
