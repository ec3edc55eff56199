//! Hashed secrets of the staff, and settings of the book.

use rusqlite::{Connection, OptionalExtension, params};
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::book::{Store, Write};
use super::error::StoreError;
use super::settings;

/// A person's hashed secret and failed attempts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Credential {
    /// The hash.
    pub secret: String,
    /// Wrong attempts since the last right one.
    pub attempts: Attempts,
}

/// Wrong attempts at a secret. Times are seconds since 1970 in UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Attempts {
    /// How many since the last right one.
    pub count: u32,
    /// When the first of them was.
    pub since_s: Option<i64>,
    /// No attempt is taken before this time.
    pub waits_until_s: Option<i64>,
    /// The day of the latest, in days since 1970.
    pub day: i64,
    /// How many on that day.
    pub on_day: u32,
}

fn find(c: &Connection, name: &str) -> Result<Option<Credential>, StoreError> {
    c.prepare_cached(
        "SELECT secret, failures, failed_since_s, waits_until_s, failed_day, failed_on_day
         FROM credential WHERE name = ?1",
    )?
    .query_row([name], |r| {
        Ok(Credential {
            secret: r.get(0)?,
            attempts: Attempts {
                count: r.get(1)?,
                since_s: r.get(2)?,
                waits_until_s: r.get(3)?,
                day: r.get(4)?,
                on_day: r.get(5)?,
            },
        })
    })
    .optional()
    .map_err(StoreError::from)
}

/// Removes every secret.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn remove_all(c: &Connection) -> Result<(), StoreError> {
    c.execute("DELETE FROM credential", [])?;
    Ok(())
}

/// The columns of a secret with its attempts.
const COLUMNS: &str =
    "name, secret, failures, failed_since_s, waits_until_s, failed_day, failed_on_day";

/// Puts the secrets of one book into another, for those who are on its staff list.
///
/// # Errors
/// [`StoreError`] of either file; of a book older than this program, too.
pub(super) fn carry_over(from: &Connection, to: &Connection) -> Result<(), StoreError> {
    let mut statement = from.prepare(&format!("SELECT {COLUMNS} FROM credential"))?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let mut values = Vec::with_capacity(7);
        for column in 0..7 {
            values.push(row.get::<_, rusqlite::types::Value>(column)?);
        }
        to.execute(
            &format!(
                "INSERT OR REPLACE INTO credential ({COLUMNS})
                 SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7 WHERE EXISTS (SELECT 1 FROM staff WHERE name = ?1)"
            ),
            rusqlite::params_from_iter(values),
        )?;
    }
    Ok(())
}

impl Store {
    /// Returns the names of those who have a secret.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn with_secret(&self) -> Result<Vec<String>, StoreError> {
        let mut statement = self
            .connection
            .prepare_cached("SELECT name FROM credential ORDER BY name")?;
        let names = statement.query_map([], |r| r.get(0))?;
        Ok(names.collect::<Result<_, _>>()?)
    }

    /// Returns a setting; `None` where it was never set.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn setting<T: DeserializeOwned>(&self, name: &str) -> Result<Option<T>, StoreError> {
        settings::setting(&self.connection, name)
    }
}

impl Write<'_> {
    /// Whether anybody has a secret.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn has_secrets(&self) -> Result<bool, StoreError> {
        Ok(self
            .transaction
            .prepare_cached("SELECT 1 FROM credential")?
            .exists([])?)
    }

    /// Returns a person's secret.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn credential(&self, name: &str) -> Result<Option<Credential>, StoreError> {
        find(&self.transaction, name)
    }

    /// Stores a person's hashed secret, `None` removes it; the count of attempts is reset.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn set_secret(&self, name: &str, secret: Option<&str>) -> Result<(), StoreError> {
        self.changes_practice()?;
        match secret {
            Some(secret) => self.transaction.execute(
                "INSERT INTO credential (name, secret) VALUES (?1, ?2)
                 ON CONFLICT (name) DO UPDATE SET secret = excluded.secret, failures = 0,
                     failed_since_s = NULL, waits_until_s = NULL, failed_day = 0, failed_on_day = 0",
                params![name, secret],
            )?,
            None => self
                .transaction
                .execute("DELETE FROM credential WHERE name = ?1", [name])?,
        };
        Ok(())
    }

    /// Stores the wrong attempts at a person's secret.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn note_attempts(&self, name: &str, attempts: Attempts) -> Result<(), StoreError> {
        self.transaction.execute(
            "UPDATE credential SET failures = ?2, failed_since_s = ?3, waits_until_s = ?4,
                 failed_day = ?5, failed_on_day = ?6 WHERE name = ?1",
            params![
                name,
                attempts.count,
                attempts.since_s,
                attempts.waits_until_s,
                attempts.day,
                attempts.on_day
            ],
        )?;
        Ok(())
    }

    /// Returns a setting inside this write; `None` where it was never set.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn setting<T: DeserializeOwned>(&self, name: &str) -> Result<Option<T>, StoreError> {
        settings::setting(&self.transaction, name)
    }

    /// Keeps a setting.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn set_setting(&self, name: &str, value: &impl Serialize) -> Result<(), StoreError> {
        if !settings::UNBOUND.contains(&name) {
            self.changes_practice()?;
        }
        let content = serde_json::to_string(value).map_err(|_| StoreError::Content("a setting"))?;
        self.transaction.execute(
            "INSERT INTO setting (name, content) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET content = excluded.content",
            params![name, content],
        )?;
        Ok(())
    }
}
