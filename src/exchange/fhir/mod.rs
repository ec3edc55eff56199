//! The prescription as HL7 FHIR says it: `VisionPrescription` with the wearer, the prescriber and
//! the fitting measurements beside it.
//!
//! Written as R4 (4.0.1). Read as R4, R4B and R5, whose elements for this resource are the same
//! (HL7 FHIR, `structuredefinition-VisionPrescription`, CC0). Powers carry no unit there: the
//! definition fixes dioptres and prism dioptres.

pub mod codes;
pub mod json;
pub mod read;
pub mod write;

pub use read::{FhirJob, read, wearer_missing};
pub use write::{Bundle, CannotSay};
