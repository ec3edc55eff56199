//! Why a foreign file was not taken: where, and what is wrong there.

/// One reason. Values that could be personal are never repeated in it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {problem}")]
pub struct ExchangeError {
    /// Line, column or path of keys.
    pub place: String,
    /// What is wrong there and what would be right.
    pub problem: String,
}

impl ExchangeError {
    /// Names a place and what is wrong with it.
    pub fn at(place: impl Into<String>, problem: impl Into<String>) -> Self {
        Self {
            place: place.into(),
            problem: problem.into(),
        }
    }
}
