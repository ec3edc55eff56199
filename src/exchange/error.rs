//! Why a file of another program was refused: the place and the reason.

/// A refusal with its place. It never repeats a value that could be personal.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {problem}")]
pub struct ExchangeError {
    /// Line, column or path of keys.
    pub place: String,
    /// The reason, and what would be accepted.
    pub problem: String,
}

impl ExchangeError {
    /// Returns a refusal at a place, with what would be accepted there.
    pub fn at(place: impl Into<String>, problem: impl Into<String>) -> Self {
        Self {
            place: place.into(),
            problem: problem.into(),
        }
    }
}
