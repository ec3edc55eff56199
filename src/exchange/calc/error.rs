//! Why a request has no result.

use crate::trade::optics::OpticsError;

/// The kinds of refusal; each has its word in `error.kind` of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum RefusalKind {
    /// The line is not JSON, or not text at all.
    BadJson,
    /// No calculation has that name.
    UnknownCalc,
    /// A key that the calculation does not know.
    UnknownKey,
    /// A key that the calculation needs.
    MissingKey,
    /// A value of the wrong type: text for a number, null for anything.
    WrongType,
    /// A value outside its range; the message gives the range.
    OutOfRange,
    /// Each value may be right but no lens can be like that.
    Impossible,
}

impl RefusalKind {
    /// Returns the word of `error.kind`.
    #[must_use]
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::BadJson => "bad_json",
            Self::UnknownCalc => "unknown_calc",
            Self::UnknownKey => "unknown_key",
            Self::MissingKey => "missing_key",
            Self::WrongType => "wrong_type",
            Self::OutOfRange => "out_of_range",
            Self::Impossible => "impossible",
        }
    }
}

/// A refusal: its kind and a sentence that says what is wrong and what is accepted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub(crate) struct CalcError {
    /// The kind, for programs.
    pub kind: RefusalKind,
    /// The sentence, for people.
    pub message: String,
}

impl CalcError {
    /// Returns a refusal of that kind.
    pub(crate) fn new(kind: RefusalKind, message: impl Into<String>) -> Self {
        Self {
            kind,
            message: message.into(),
        }
    }
}

impl From<OpticsError> for CalcError {
    fn from(e: OpticsError) -> Self {
        let kind = match e {
            OpticsError::Impossible { .. } => RefusalKind::Impossible,
            OpticsError::OutOfRange(_) => RefusalKind::OutOfRange,
        };
        Self::new(kind, e.to_string())
    }
}
