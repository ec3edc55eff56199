//! What an examination of the book says.

use serde::Serialize;

pub(super) const REPAIR: &str = "rimbook doctor --repair";

/// How bad a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// All is well.
    Ok,
    /// It needs attention soon.
    Warning,
    /// Something is broken or about to be.
    Fault,
}

impl Level {
    /// The word of the level.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Ok => "ok",
            Self::Warning => "warning",
            Self::Fault => "fault",
        }
    }
}

/// The result of examining one part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DoctorFinding {
    /// Id of the part examined.
    pub id: &'static str,
    /// How serious it is.
    pub level: Level,
    /// One sentence: what is wrong.
    pub message: String,
    /// What to do; `None` when all is well.
    pub todo: Option<String>,
}

impl DoctorFinding {
    pub(super) fn ok(id: &'static str, message: impl Into<String>) -> Self {
        Self {
            id,
            level: Level::Ok,
            message: message.into(),
            todo: None,
        }
    }

    pub(super) fn bad(
        id: &'static str,
        level: Level,
        message: impl Into<String>,
        todo: impl Into<String>,
    ) -> Self {
        Self {
            id,
            level,
            message: message.into(),
            todo: Some(todo.into()),
        }
    }
}
