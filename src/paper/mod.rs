//! Sheets on paper: a [`crate::sheet::Sheet`] as a PDF in exact millimetres, or as text.
//!
//! The way of a sheet: [`safe`] makes every text printable and notes what the font lacks, [`layout`]
//! puts it on pages in millimetres, `pdf` writes those pages; `plain` writes the same sheet as
//! lines of text. Nothing here knows of storage, a terminal or the day.

pub mod barcode;
pub mod font;
mod frame;
pub mod layout;
pub mod pdf;
pub mod plain;
pub mod safe;

use crate::sheet::Sheet;

/// Millimetres of a point: 1 inch is 25.4 mm and 72 points. The one scale of every sheet.
pub const MM_PER_PT: f64 = 25.4 / 72.0;

/// Why a sheet was not written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the sheet could not be written as a PDF: {0}")]
pub struct PaperError(pub String);

/// A sheet as it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// The PDF.
    pub bytes: Vec<u8>,
    /// What could not be printed as it is recorded; said on the sheet too.
    pub notes: Vec<String>,
}

/// Writes a sheet as a PDF.
///
/// # Errors
/// [`PaperError`] when the font or the PDF cannot be made.
pub fn pdf(sheet: &Sheet) -> Result<Written, PaperError> {
    let fonts = font::Fonts::embedded()?;
    let (sheet, notes) = safe::safe(sheet, &fonts);
    let pages = layout::pages(&sheet, &notes, &fonts);
    let bytes = pdf::write(&sheet, &pages)?;
    Ok(Written { bytes, notes })
}

/// Writes a sheet as text for a terminal or a screen reader.
pub fn text(sheet: &Sheet) -> String {
    plain::text(sheet)
}
