//! The codes that FHIR fixes for a spectacle prescription, and the few LOINC has for fitting.

use crate::trade::eye::Eye;

/// Products of a lens specification: `lens` and `contact` (HL7 example code system).
pub(crate) const PRODUCT: &str =
    "http://terminology.hl7.org/CodeSystem/ex-visionprescriptionproduct";
/// Why a required element has no value (HL7 FHIR, data-absent-reason).
pub(crate) const ABSENT: &str = "http://hl7.org/fhir/StructureDefinition/data-absent-reason";
/// The code system of the measurements (LOINC).
pub(crate) const LOINC: &str = "http://loinc.org";
/// The code system of the units (UCUM).
pub(crate) const UCUM: &str = "http://unitsofmeasure.org";

/// The word of an eye (HL7 `vision-eye-codes`).
pub(crate) const fn eye(eye: Eye) -> &'static str {
    match eye {
        Eye::Right => "right",
        Eye::Left => "left",
    }
}

/// LOINC for "Glasses Rx: monocular PD", distance.
pub(crate) const fn centration(eye: Eye) -> &'static str {
    match eye {
        Eye::Right => "28840-7",
        Eye::Left => "28857-1",
    }
}

/// LOINC for "Glasses Rx: monocular PD near".
pub(crate) const fn near_centration(eye: Eye) -> &'static str {
    match eye {
        Eye::Right => "28841-5",
        Eye::Left => "55985-6",
    }
}
