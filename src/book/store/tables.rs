//! Whether the tables, indices and triggers are those that the migrations make.

use std::collections::BTreeMap;

use rusqlite::Connection;

use super::error::StoreError;
use super::migrations::{in_memory, newest_version};

/// What is not as the migrations make it. Names of tables, indices and triggers; never their text.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Tables {
    /// Not there.
    pub missing: Vec<String>,
    /// There, and made otherwise.
    pub changed: Vec<String>,
    /// Of somebody else.
    pub foreign: Vec<String>,
}

impl Tables {
    /// Whether everything is as the migrations make it.
    pub fn is_right(&self) -> bool {
        *self == Self::default()
    }
}

/// Kind, name and text of everything in a schema.
type Schema = BTreeMap<(String, String), Option<String>>;

fn schema(c: &Connection) -> Result<Schema, StoreError> {
    let mut statement = c.prepare("SELECT type, name, sql FROM sqlite_schema")?;
    let rows = statement.query_map([], |r| {
        Ok(((r.get::<_, String>(0)?, r.get::<_, String>(1)?), r.get(2)?))
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Compares the schema of a book with that of a new one.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn compare(c: &Connection) -> Result<Tables, StoreError> {
    let (wanted, found) = (schema(&in_memory(newest_version())?)?, schema(c)?);
    let mut said = Tables::default();
    for ((kind, name), sql) in &wanted {
        match found.get(&(kind.clone(), name.clone())) {
            None => said.missing.push(format!("{kind} {name}")),
            Some(there) if there != sql => said.changed.push(format!("{kind} {name}")),
            Some(_) => {}
        }
    }
    for (kind, name) in found.keys() {
        if !wanted.contains_key(&(kind.clone(), name.clone())) {
            said.foreign.push(format!("{kind} {name}"));
        }
    }
    Ok(said)
}

/// Makes the indices and triggers again that are missing; returns which.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn make_missing(c: &Connection) -> Result<Vec<String>, StoreError> {
    let (wanted, found) = (schema(&in_memory(newest_version())?)?, schema(c)?);
    let mut made = Vec::new();
    for (key @ (kind, name), sql) in &wanted {
        if let Some(sql) = sql
            && matches!(kind.as_str(), "index" | "trigger")
            && !found.contains_key(key)
        {
            c.execute_batch(sql)?;
            made.push(format!("{kind} {name}"));
        }
    }
    Ok(made)
}

/// Whether the tables of a book are those of a version; its indices and triggers are not looked at.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn are_of(c: &Connection, version: i64) -> Result<bool, StoreError> {
    let tables = |c: &Connection| -> Result<Vec<String>, StoreError> {
        let all = schema(c)?.into_keys();
        Ok(all
            .filter(|(kind, _)| kind == "table")
            .map(|(_, name)| name)
            .collect())
    };
    Ok(tables(c)? == tables(&in_memory(version)?)?)
}
