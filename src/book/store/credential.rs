//! Hashed secrets of the staff, and settings of the book.

use chrono::NaiveDateTime;
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
    pub failures: u32,
    /// No attempt is taken before this time.
    pub not_before: Option<NaiveDateTime>,
}

fn find(c: &Connection, name: &str) -> Result<Option<Credential>, StoreError> {
    c.prepare_cached("SELECT secret, failures, not_before FROM credential WHERE name = ?1")?
        .query_row([name], |r| {
            Ok(Credential {
                secret: r.get(0)?,
                failures: r.get(1)?,
                not_before: r.get::<_, Option<String>>(2)?.and_then(|t| t.parse().ok()),
            })
        })
        .optional()
        .map_err(StoreError::from)
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
                 ON CONFLICT (name) DO UPDATE SET secret = excluded.secret, failures = 0, not_before = NULL",
                params![name, secret],
            )?,
            None => self
                .transaction
                .execute("DELETE FROM credential WHERE name = ?1", [name])?,
        };
        Ok(())
    }

    /// Stores the number of failed attempts and the time until which no attempt is accepted.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn note_attempts(
        &self,
        name: &str,
        failures: u32,
        not_before: Option<NaiveDateTime>,
    ) -> Result<(), StoreError> {
        self.transaction.execute(
            "UPDATE credential SET failures = ?2, not_before = ?3 WHERE name = ?1",
            params![
                name,
                failures,
                not_before.map(|t| t.format("%Y-%m-%dT%H:%M:%S").to_string())
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
