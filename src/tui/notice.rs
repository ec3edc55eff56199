//! The sentence above the line of hints.

/// A sentence that stays above the line of hints until the next key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// The sentence.
    pub text: String,
    /// Whether something was refused or went wrong.
    pub bad: bool,
}

impl Notice {
    /// A notice of something that went well.
    pub(crate) fn good(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            bad: false,
        }
    }

    /// A notice of something that was refused or went wrong.
    pub(crate) fn bad(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            bad: true,
        }
    }
}
