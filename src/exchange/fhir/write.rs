//! Jobs as a FHIR R4 Bundle of the type `collection`: for each job its `VisionPrescription`, the
//! `Patient` and `Practitioner` it names, and an `Observation` for each fitting measurement.

use std::collections::HashSet;

use chrono::NaiveDate;
use sha2::{Digest, Sha256};

use super::codes;
use super::json::Json;
use crate::job::{EyePrescription, Job, Stage};
use crate::trade::eye::Eye;
use crate::trade::units::{Degree, Millimetre};

/// Why a job cannot be written as FHIR.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CannotSay {
    /// Neither eye has a sphere.
    #[error("the job has no prescription: a VisionPrescription has at least one lens")]
    NoPrescription,
    /// An axis between whole degrees.
    #[error(
        "the {eye} axis of {axis} degrees cannot be said: FHIR takes whole degrees from 1 to 180"
    )]
    Axis {
        /// Which eye.
        eye: &'static str,
        /// The axis as it is kept.
        axis: String,
    },
    /// An eye with values but no sphere.
    #[error("the {0} eye has values but no sphere: it would be left out unseen")]
    NoSphere(&'static str),
    /// A cylinder without an axis.
    #[error("the {0} cylinder has no axis: it would be read as a power that was never prescribed")]
    NoAxis(&'static str),
}

/// A bundle that is written job by job. It remembers only hashes of the people already in it.
#[derive(Debug)]
pub struct Bundle {
    today: NaiveDate,
    written: HashSet<[u8; 16]>,
    any: bool,
}

impl Bundle {
    /// Begins a bundle made today.
    pub fn new(today: NaiveDate) -> Self {
        Self {
            today,
            written: HashSet::new(),
            any: false,
        }
    }

    /// Returns the text before the first entry.
    pub fn head() -> &'static str {
        "{\n  \"resourceType\": \"Bundle\",\n  \"type\": \"collection\""
    }

    /// Returns the text after the last entry.
    pub fn foot(&self) -> &'static str {
        // FHIR knows no empty list: without entries the key is left out.
        if self.any { "\n  ]\n}\n" } else { "\n}\n" }
    }

    /// Returns the entries of one job, with what separates them from those before.
    ///
    /// # Errors
    /// [`CannotSay`]; the bundle is then as it was.
    pub fn job(&mut self, number: &str, job: &Job) -> Result<String, CannotSay> {
        // Two wearers of one name are one person only where the day of birth says so.
        let patient = match job.wearer.born {
            Some(_) => uuid(&["patient", name(job), &born(job)]),
            None => uuid(&["patient of job", number]),
        };
        let prescriber = job.prescription.prescriber.as_deref().map(|p| {
            let registration = job.prescription.prescriber_registration.as_deref();
            (
                uuid(&["practitioner", p, registration.unwrap_or_default()]),
                p,
                registration,
            )
        });
        let prescription = vision_prescription(
            job,
            number,
            &patient,
            prescriber.as_ref().map(|p| &p.0),
            self.today,
        )?;
        let mut entries = Vec::new();
        if self.written.insert(patient) {
            entries.push((patient, patient_of(job)));
        }
        if let Some((id, name, registration)) = prescriber
            && self.written.insert(id)
        {
            entries.push((id, practitioner(name, registration)));
        }
        entries.push((uuid(&["prescription", number]), prescription));
        entries.extend(observations(job, number, &patient));
        let mut out = String::new();
        for (id, resource) in entries {
            out.push_str(if self.any {
                ",\n    "
            } else {
                ",\n  \"entry\": [\n    "
            });
            self.any = true;
            let entry = Json::Object(vec![
                ("fullUrl", Json::text(urn(&id))),
                ("resource", resource),
            ]);
            let entry = format!("{entry:2}");
            out.push_str(&entry);
        }
        Ok(out)
    }
}

/// An id that is the same for the same thing: the first half of a SHA-256, marked as a UUID of the
/// custom version 8 (RFC 9562).
fn uuid(parts: &[&str]) -> [u8; 16] {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part.as_bytes());
    }
    let digest = hash.finalize();
    let mut id = [0; 16];
    for (to, from) in id.iter_mut().zip(digest.iter()) {
        *to = *from;
    }
    id[6] = (id[6] & 0x0f) | 0x80;
    id[8] = (id[8] & 0x3f) | 0x80;
    id
}

fn urn(id: &[u8; 16]) -> String {
    let hex = format!("{:032x}", u128::from_be_bytes(*id));
    let part = |from: usize, to: usize| hex.get(from..to).unwrap_or_default();
    format!(
        "urn:uuid:{}-{}-{}-{}-{}",
        part(0, 8),
        part(8, 12),
        part(12, 16),
        part(16, 20),
        part(20, 32)
    )
}

fn name(job: &Job) -> &str {
    job.wearer.name.as_deref().unwrap_or_default()
}

fn born(job: &Job) -> String {
    job.wearer.born.map(|d| d.to_string()).unwrap_or_default()
}

fn reference(id: &[u8; 16]) -> Json {
    Json::Object(vec![("reference", Json::text(urn(id)))])
}

fn absent() -> Json {
    let extension = Json::Object(vec![
        ("url", Json::text(codes::ABSENT)),
        ("valueCode", Json::text("unknown")),
    ]);
    Json::Object(vec![("extension", Json::List(vec![extension]))])
}

/// A name as it is written: which part of it is the family's is not known here and not guessed.
fn names(text: &str) -> Json {
    Json::List(vec![Json::Object(vec![("text", Json::text(text))])])
}

fn patient_of(job: &Job) -> Json {
    let mut keys = vec![
        ("resourceType", Json::text("Patient")),
        ("name", names(name(job))),
    ];
    let mut telecom = Vec::new();
    for (system, value) in [("phone", &job.wearer.phone), ("email", &job.wearer.email)] {
        if let Some(value) = value {
            telecom.push(Json::Object(vec![
                ("system", Json::text(system)),
                ("value", Json::text(value)),
            ]));
        }
    }
    if !telecom.is_empty() {
        keys.push(("telecom", Json::List(telecom)));
    }
    if job.wearer.born.is_some() {
        keys.push(("birthDate", Json::text(born(job))));
    }
    Json::Object(keys)
}

fn practitioner(name: &str, registration: Option<&str>) -> Json {
    let mut keys = vec![("resourceType", Json::text("Practitioner"))];
    if let Some(registration) = registration {
        let identifier = Json::Object(vec![("value", Json::text(registration))]);
        keys.push(("identifier", Json::List(vec![identifier])));
    }
    keys.push(("name", names(name)));
    Json::Object(keys)
}

fn vision_prescription(
    job: &Job,
    number: &str,
    patient: &[u8; 16],
    prescriber: Option<&[u8; 16]>,
    today: NaiveDate,
) -> Result<Json, CannotSay> {
    let mut lenses = Vec::new();
    for eye in Eye::BOTH {
        let prescribed = job.prescription.eye(eye);
        if prescribed.sphere_d.is_some() {
            lenses.push(lens(job, eye, prescribed)?);
        } else if prescribed.cylinder_d.is_some()
            || prescribed.addition_d.is_some()
            || prescribed.base_in_delta.is_some()
            || prescribed.base_up_delta.is_some()
        {
            return Err(CannotSay::NoSphere(codes::eye(eye)));
        }
    }
    if lenses.is_empty() {
        return Err(CannotSay::NoPrescription);
    }
    // A prescription is active whether or not a pair was made to it; that of a cancelled job must not
    // be read as a request to make one.
    let status = if job.stage() == Stage::Cancelled {
        "cancelled"
    } else {
        "active"
    };
    let identifier = Json::Object(vec![("value", Json::text(number))]);
    let mut keys = vec![
        ("resourceType", Json::text("VisionPrescription")),
        ("identifier", Json::List(vec![identifier])),
        ("status", Json::text(status)),
        ("created", Json::text(today.to_string())),
        ("patient", reference(patient)),
    ];
    match job.prescription.tested_on {
        Some(day) => keys.push(("dateWritten", Json::text(day.to_string()))),
        None => keys.push(("_dateWritten", absent())),
    }
    keys.push(("prescriber", prescriber.map_or_else(absent, reference)));
    keys.push(("lensSpecification", Json::List(lenses)));
    Ok(Json::Object(keys))
}

fn lens(job: &Job, eye: Eye, p: &EyePrescription) -> Result<Json, CannotSay> {
    let product = Json::Object(vec![
        ("system", Json::text(codes::PRODUCT)),
        ("code", Json::text("lens")),
    ]);
    let mut keys = vec![
        (
            "product",
            Json::Object(vec![("coding", Json::List(vec![product]))]),
        ),
        ("eye", Json::text(codes::eye(eye))),
    ];
    let places = |thousandths: i32| if thousandths % 10 == 0 { 2 } else { 3 };
    let decimal = |v: crate::trade::units::Dioptre| {
        Json::Number(format!("{:.*}", places(v.thousandths()), v.get()))
    };
    if let Some(sphere) = p.sphere_d {
        keys.push(("sphere", decimal(sphere)));
    }
    if let Some(cylinder) = p.cylinder_d.filter(|c| c.thousandths() != 0) {
        let axis = p.axis_deg.ok_or(CannotSay::NoAxis(codes::eye(eye)))?;
        keys.push(("cylinder", decimal(cylinder)));
        keys.push(("axis", Json::Number(whole_axis(axis, eye)?)));
    }
    let mut prisms = Vec::new();
    for (amount, positive, negative) in [
        (p.base_in_delta, "in", "out"),
        (p.base_up_delta, "up", "down"),
    ] {
        if let Some(amount) = amount.filter(|a| a.thousandths() != 0) {
            let size = amount.thousandths().abs();
            let base = if amount.thousandths() > 0 {
                positive
            } else {
                negative
            };
            prisms.push(Json::Object(vec![
                (
                    "amount",
                    Json::Number(format!("{:.*}", places(size), amount.get().abs())),
                ),
                ("base", Json::text(base)),
            ]));
        }
    }
    if !prisms.is_empty() {
        keys.push(("prism", Json::List(prisms)));
    }
    if let Some(addition) = p.addition_d.filter(|a| a.thousandths() != 0) {
        keys.push(("add", decimal(addition)));
    }
    let notes: Vec<Json> = notes(job, eye, p)
        .into_iter()
        .map(|n| Json::Object(vec![("text", Json::text(n))]))
        .collect();
    if !notes.is_empty() {
        keys.push(("note", Json::List(notes)));
    }
    Ok(Json::Object(keys))
}

fn whole_axis(axis: Degree, eye: Eye) -> Result<String, CannotSay> {
    let thousandths = axis.thousandths();
    let degrees = match thousandths / 1000 {
        0 => 180,
        other => other,
    };
    if thousandths % 1000 != 0 || !(1..=180).contains(&degrees) {
        return Err(CannotSay::Axis {
            eye: codes::eye(eye),
            axis: format!("{axis:.1}"),
        });
    }
    Ok(degrees.to_string())
}

/// What no element takes, in words.
fn notes(job: &Job, eye: Eye, p: &EyePrescription) -> Vec<String> {
    let mut notes = Vec::new();
    if p.is_balance() {
        notes.push("balance lens".to_owned());
    }
    if let Some(vertex) = job.prescription.tested_vertex_mm {
        notes.push(format!("tested at a vertex distance of {vertex} mm"));
    }
    let compensated = job
        .lenses
        .powers
        .as_ref()
        .filter(|p| p.kind.is_some_and(|kind| !kind.is_as_written()));
    if let Some(powers) = compensated {
        let ordered = powers.eye(eye);
        if let (Some(kind), Some(sphere)) = (powers.kind, ordered.sphere_d) {
            let cylinder = match (ordered.cylinder_d, ordered.axis_deg) {
                (Some(c), Some(a)) => format!("/{c:+}x{a}"),
                _ => String::new(),
            };
            notes.push(format!(
                "ordered {} from this prescription: {sphere:+}{cylinder}",
                kind.word()
            ));
        }
    }
    notes
}

/// One measurement: what it is, its LOINC code where there is one, value and unit.
struct Measure {
    what: String,
    loinc: Option<&'static str>,
    value: String,
    unit: &'static str,
}

fn measures(job: &Job) -> Vec<Measure> {
    let mut all = Vec::new();
    let mut push = |what: String, loinc, value: Option<String>, unit| {
        if let Some(value) = value {
            all.push(Measure {
                what,
                loinc,
                value,
                unit,
            });
        }
    };
    let mm = |v: Option<Millimetre>| v.map(|v| v.to_string());
    let deg = |v: Option<Degree>| v.map(|v| format!("{v:.1}"));
    let f = &job.fitting;
    push(
        "binocular pupil distance".to_owned(),
        None,
        mm(f.binocular_pd_mm),
        "mm",
    );
    for eye in Eye::BOTH {
        let (of, e) = (f.eye(eye), codes::eye(eye));
        push(
            format!("monocular centration distance, {e}"),
            Some(codes::centration(eye)),
            mm(of.cd_mm),
            "mm",
        );
        push(
            format!("monocular centration distance near, {e}"),
            Some(codes::near_centration(eye)),
            mm(of.near_cd_mm),
            "mm",
        );
        push(
            format!("fitting height above the lowest tangent, {e}"),
            None,
            mm(of.height_mm),
            "mm",
        );
        push(
            format!("segment height above the lowest tangent, {e}"),
            None,
            mm(of.segment_height_mm),
            "mm",
        );
        push(
            format!("back vertex distance as fitted, {e}"),
            None,
            mm(of.vertex_mm),
            "mm",
        );
    }
    push(
        "pantoscopic angle as worn".to_owned(),
        None,
        deg(f.pantoscopic_deg),
        "deg",
    );
    push(
        "face-form angle as worn".to_owned(),
        None,
        deg(f.face_form_deg),
        "deg",
    );
    all
}

fn observations(job: &Job, number: &str, patient: &[u8; 16]) -> Vec<([u8; 16], Json)> {
    measures(job)
        .into_iter()
        .map(|m| {
            let mut code = Vec::new();
            if let Some(loinc) = m.loinc {
                code.push((
                    "coding",
                    Json::List(vec![Json::Object(vec![
                        ("system", Json::text(codes::LOINC)),
                        ("code", Json::text(loinc)),
                    ])]),
                ));
            }
            let id = uuid(&["observation", number, &m.what]);
            code.push(("text", Json::text(m.what)));
            let mut keys = vec![
                ("resourceType", Json::text("Observation")),
                ("status", Json::text("final")),
                ("code", Json::Object(code)),
                ("subject", reference(patient)),
            ];
            if let Some(day) = job.fitting.taken_on {
                keys.push(("effectiveDateTime", Json::text(day.to_string())));
            }
            keys.push((
                "valueQuantity",
                Json::Object(vec![
                    ("value", Json::Number(m.value)),
                    ("unit", Json::text(m.unit)),
                    ("system", Json::text(codes::UCUM)),
                    ("code", Json::text(m.unit)),
                ]),
            ));
            (id, Json::Object(keys))
        })
        .collect()
}
