//! The newest entry of history, as it is named beside copies.

use rusqlite::Connection;
use serde::{Deserialize, Serialize};

use super::book_id::hex;
use super::chain;
use super::error::StoreError;

/// The newest entry of history: its id, and its link in hexadecimal digits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    /// Id; 0 before the first.
    pub id: i64,
    /// Link.
    pub link: String,
}

impl Head {
    pub(super) fn of(c: &Connection) -> Result<Self, StoreError> {
        let (id, link) = chain::head(c)?;
        Ok(Self {
            id,
            link: hex(&link),
        })
    }
}
