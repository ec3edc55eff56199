//! Who has a frame or lens of a maker, a product or a lot.

use rusqlite::Connection;

use super::error::StoreError;
use super::made::{self, key};
use super::row::{LINE, LineRow, job_from, line};

/// What is looked for in a recall; what is `None` may be anything.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Made {
    /// The maker of the frame or lens, or the first words of its name.
    pub maker: Option<String>,
    /// The product, or the first words of its name; of a frame its model.
    pub product: Option<String>,
    /// The lot, whole.
    pub lot: Option<String>,
}

impl Made {
    /// Whether nothing is looked for.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// Returns the jobs, whatever became of them, whose frame or one of whose lenses is what is looked
/// for, newest first; none where nothing is looked for.
pub(super) fn find(c: &Connection, made: &Made) -> Result<Vec<LineRow>, StoreError> {
    let keys = [&made.maker, &made.product, &made.lot].map(|text| key(&[text]));
    let asked: Vec<(Asked, &str)> = [Asked::Maker, Asked::Product, Asked::Lot]
        .into_iter()
        .zip(keys.iter().map(String::as_str))
        .filter(|(_, key)| !key.is_empty())
        .collect();
    if asked.is_empty() {
        return Ok(Vec::new());
    }
    let columns: Vec<Asked> = asked.iter().map(|(column, _)| *column).collect();
    let mut statement = c.prepare_cached(&having(&columns))?;
    let keys = rusqlite::params_from_iter(asked.iter().map(|(_, key)| *key));
    let rows = statement.query_map(keys, line)?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// What a frame or lens is looked for by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Asked {
    /// Its maker.
    Maker,
    /// Its product.
    Product,
    /// Its lot.
    Lot,
}

/// The query of the jobs by what is asked for, one parameter each. A name that goes on after what is
/// asked for has a space there, the one letter before an exclamation mark.
pub(super) fn having(asked: &[Asked]) -> String {
    let condition = |(at, column): (usize, &Asked)| {
        let n = at + 1;
        match column {
            Asked::Maker => format!("maker <> '' AND maker >= ?{n} AND maker < ?{n} || '!'"),
            Asked::Product => {
                format!("product <> '' AND product >= ?{n} AND product < ?{n} || '!'")
            }
            Asked::Lot => format!("lot <> '' AND lot = ?{n}"),
        }
    };
    let conditions: Vec<String> = asked.iter().enumerate().map(condition).collect();
    format!(
        "SELECT {LINE} FROM job WHERE id IN (SELECT job_id FROM made WHERE {}) ORDER BY id DESC",
        conditions.join(" AND ")
    )
}

/// Fills the table from the jobs; one that cannot be read is left out, as from the search index.
pub(super) fn fill(c: &Connection) -> Result<(), StoreError> {
    c.execute("DELETE FROM made", [])?;
    let mut statement = c.prepare("SELECT id, content FROM job")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        if let Ok(job) = job_from(&row.get::<_, String>(1)?) {
            made::add(c, row.get(0)?, &job)?;
        }
    }
    Ok(())
}
