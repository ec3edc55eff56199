//! Why a sheet could not be written.

/// The embedded font or the PDF could not be made; the text says which.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the sheet could not be written as a PDF: {0}")]
pub struct PaperError(pub String);
