//! Codes of the GS1 system on frames and lenses: trade item numbers and scanned element strings.
//!
//! Source: GS1 General Specifications: check digits, section 7.9; dates, 7.12; identifiers and their
//! lengths, chapter 3, as published in GS1's own Barcode Syntax Dictionary (Apache 2.0).

mod check_digit;
mod element;
mod error;
mod gtin;
mod identifier;
mod short_date;

pub use element::{Scanned, read};
pub use error::Gs1Error;
pub use gtin::Gtin;
pub use short_date::ShortDate;
