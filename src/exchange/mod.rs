//! Between this book and other systems: the schema of the job file, CSV, and the prescription of
//! HL7 FHIR. Texts in, values out and back; files, storage and clock are left to those who call.

pub(crate) mod calc;
pub(crate) mod calendar;
pub(crate) mod csv_in;
pub(crate) mod csv_out;
pub(crate) mod error;
pub(crate) mod fhir;
pub(crate) mod mapping;
pub(crate) mod paper;
pub(crate) mod schema;
pub(crate) mod schema_page;

pub(crate) use error::ExchangeError;
