//! Between this book and other systems: the schema of the job file, CSV, and the prescription of
//! HL7 FHIR. Texts in, values out and back; files, storage and clock are left to those who call.

pub mod calc;
pub mod calendar;
pub mod csv_in;
pub mod csv_out;
pub mod error;
pub mod fhir;
pub mod mapping;
pub mod paper;
pub mod schema;
pub mod schema_page;

pub use error::ExchangeError;
