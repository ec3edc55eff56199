//! Sheets on paper: a [`crate::views::sheet::Sheet`] as a PDF in exact millimetres, or as text.
//!
//! `safe` makes every text printable and notes what the font lacks, `layout`
//! puts it on pages in millimetres, `pdf` writes those pages; `plain` writes the same sheet as
//! lines of text. Nothing here depends on storage, a terminal or a clock.

mod barcode;
mod error;
mod font;
mod head_and_foot;
mod layout;
mod page;
mod pdf;
mod plain_text;
mod printable_text;

pub(crate) use error::PaperError;

use crate::views::sheet::Sheet;

/// A sheet as a PDF.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetPdf {
    /// The PDF file.
    pub bytes: Vec<u8>,
    /// Texts that could not be printed as recorded, a sentence each; the sheet says them too.
    pub notes: Vec<String>,
}

/// Writes a sheet as a PDF.
///
/// # Errors
/// [`PaperError`] when the font or the PDF cannot be made.
pub fn pdf(sheet: &Sheet) -> Result<SheetPdf, PaperError> {
    let fonts = font::Fonts::embedded()?;
    let (sheet, notes) = printable_text::safe(sheet, &fonts);
    let pages = layout::pages(&sheet, &notes, &fonts);
    let bytes = pdf::write(&sheet, &pages)?;
    Ok(SheetPdf { bytes, notes })
}

/// Writes a sheet as text for a terminal or a screen reader.
pub fn text(sheet: &Sheet) -> String {
    plain_text::text(sheet)
}
