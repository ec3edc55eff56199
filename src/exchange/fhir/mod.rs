//! The prescription in HL7 FHIR: `VisionPrescription`, with resources for the wearer, the prescriber and
//! the fitting measurements.
//!
//! Written as R4 (4.0.1). Read as R4, R4B and R5, whose elements for this resource are the same
//! (HL7 FHIR, `structuredefinition-VisionPrescription`, CC0). Powers carry no unit there: the
//! definition fixes dioptres and prism dioptres.

pub(crate) mod codes;
pub(crate) mod json;
pub mod read;
pub(crate) mod write;

pub(crate) use read::wearer_missing;
pub use read::{FhirJob, read};
pub use write::{Bundle, CannotSay};
