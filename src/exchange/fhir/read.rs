//! A FHIR `VisionPrescription`, alone or in a Bundle, as the prescription of a new job.
//!
//! Read as R4, R4B and R5. Whatever could change the meaning and is not understood is refused;
//! validators that look at shapes alone let several of these through.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde_json::Value;

use crate::exchange::ExchangeError;
use crate::job::{EyePrescription, Job};
use crate::trade::eye::Eye;
use crate::trade::units::{Degree, Dioptre, PrismDioptre};

/// A job made of one prescription, and what was not taken over.
#[derive(Debug, Clone, PartialEq)]
pub struct FhirJob {
    /// The job; its wearer has no name where the file names none.
    pub job: Job,
    /// Elements of the file that were not imported, in words.
    pub not_taken: Vec<String>,
}

type Read<T> = Result<T, ExchangeError>;

fn wrong(place: &str, problem: impl Into<String>) -> ExchangeError {
    ExchangeError::at(place, problem)
}

/// The refusal of a prescription that does not name the wearer.
pub fn wearer_missing() -> ExchangeError {
    wrong(
        "patient",
        "the file does not name the wearer: give the name with --wearer",
    )
}

/// Reads every prescription of a file.
///
/// # Errors
/// [`ExchangeError`] with the path of keys. If one prescription is refused, all are.
pub fn read(value: &Value) -> Read<Vec<FhirJob>> {
    match value["resourceType"].as_str() {
        Some("VisionPrescription") => Ok(vec![prescription(value, "VisionPrescription", &[])?]),
        Some("Bundle") => bundle(value),
        Some(_) => Err(wrong(
            "resourceType",
            "is neither VisionPrescription nor Bundle: those two are read",
        )),
        None => Err(wrong(
            "resourceType",
            "is missing: this is no FHIR resource",
        )),
    }
}

fn bundle(value: &Value) -> Read<Vec<FhirJob>> {
    no_modifier(value, "Bundle")?;
    let entries: Vec<&Value> = value["entry"].as_array().into_iter().flatten().collect();
    let mut all = Vec::new();
    let mut others: BTreeMap<&str, usize> = BTreeMap::new();
    for (i, entry) in entries.iter().enumerate() {
        let resource = &entry["resource"];
        let kind = resource["resourceType"].as_str().unwrap_or("unnamed");
        if !["VisionPrescription", "Patient", "Practitioner"].contains(&kind) {
            *others.entry(kind).or_default() += 1;
        }
        if kind == "VisionPrescription" {
            no_modifier(entry, &format!("entry[{i}]"))?;
            all.push(prescription(
                resource,
                &format!("entry[{i}].resource"),
                &entries,
            )?);
        }
    }
    let Some(first) = all.first_mut() else {
        return Err(wrong("entry", "holds no VisionPrescription"));
    };
    for (kind, count) in others {
        first
            .not_taken
            .push(format!("{kind}: {count} of the entries"));
    }
    Ok(all)
}

fn prescription(value: &Value, place: &str, around: &[&Value]) -> Read<FhirJob> {
    let at = |key: &str| format!("{place}.{key}");
    no_modifier(value, place)?;
    status(&value["status"], &at("status"))?;
    let mut job = Job::default();
    let mut not_taken = Vec::new();
    let patient = resolve(&value["patient"], value, around);
    job.wearer.name = patient.as_ref().and_then(|p| human_name(p));
    if let Some(patient) = &patient {
        no_modifier(patient, &at("patient"))?;
        job.wearer.born = day(&patient["birthDate"]);
        if job.wearer.born.is_none() && !patient["birthDate"].is_null() {
            not_taken.push("birthDate: no whole day".to_owned());
        }
        job.wearer.phone = telecom(patient, "phone");
        job.wearer.email = telecom(patient, "email");
    }
    if job.wearer.name.is_none() {
        job.wearer.name = text(&value["patient"]["display"]);
    }
    let prescriber = resolve(&value["prescriber"], value, around);
    job.prescription.prescriber = prescriber
        .as_ref()
        .and_then(|p| human_name(p))
        .or_else(|| text(&value["prescriber"]["display"]));
    job.prescription.prescriber_registration = prescriber
        .as_ref()
        .and_then(|p| text(&p["identifier"][0]["value"]));
    if !value["dateWritten"].is_null() {
        match day(&value["dateWritten"]) {
            Some(day) => job.prescription.tested_on = Some(day),
            None => not_taken.push("dateWritten: no whole day".to_owned()),
        }
    }
    lenses(value, place, &mut job, &mut not_taken)?;
    Ok(FhirJob { job, not_taken })
}

fn no_modifier(value: &Value, place: &str) -> Read<()> {
    for key in ["modifierExtension", "implicitRules"] {
        if !value[key].is_null() {
            return Err(wrong(
                &format!("{place}.{key}"),
                "may change the meaning of everything beside it and is not understood here",
            ));
        }
    }
    Ok(())
}

fn status(value: &Value, place: &str) -> Read<()> {
    match value.as_str() {
        Some("active") => Ok(()),
        Some("draft") => Err(wrong(
            place,
            "is draft: the prescription is not authorised yet",
        )),
        Some("cancelled") => Err(wrong(place, "is cancelled: the prescription was withdrawn")),
        Some("entered-in-error") => Err(wrong(
            place,
            "is entered-in-error: the prescription must not be used",
        )),
        Some(_) => Err(wrong(
            place,
            "is no status of a VisionPrescription: active, cancelled, draft or entered-in-error",
        )),
        None => Err(wrong(
            place,
            "is missing: only an active prescription is taken",
        )),
    }
}

fn text(value: &Value) -> Option<String> {
    value
        .as_str()
        .map(str::trim)
        .filter(|t| !t.is_empty())
        .map(str::to_owned)
}

/// The day of a `date` or `dateTime`, where it is a whole one.
fn day(value: &Value) -> Option<NaiveDate> {
    let written = value.as_str()?.get(..10)?;
    // The parser itself would take a year of fewer digits.
    NaiveDate::parse_from_str(written, "%Y-%m-%d")
        .ok()
        .filter(|day| day.to_string() == written)
}

fn telecom(person: &Value, system: &str) -> Option<String> {
    person["telecom"]
        .as_array()?
        .iter()
        .find(|t| t["system"] == system)
        .and_then(|t| text(&t["value"]))
}

fn human_name(person: &Value) -> Option<String> {
    let name = person["name"].as_array()?.first()?;
    text(&name["text"]).or_else(|| {
        let mut parts: Vec<&str> = ["prefix", "given"]
            .iter()
            .flat_map(|k| name[*k].as_array().into_iter().flatten())
            .filter_map(Value::as_str)
            .collect();
        parts.extend(name["family"].as_str());
        text(&Value::from(parts.join(" ")))
    })
}

/// Finds the resource of a reference: contained in the resource itself, or another one of the bundle.
fn resolve<'a>(reference: &Value, inside: &'a Value, around: &[&'a Value]) -> Option<&'a Value> {
    let target = reference["reference"].as_str()?;
    if let Some(id) = target.strip_prefix('#') {
        return inside["contained"]
            .as_array()?
            .iter()
            .find(|r| r["id"] == id);
    }
    around
        .iter()
        .find(|entry| {
            let resource = &entry["resource"];
            let own = match (resource["resourceType"].as_str(), resource["id"].as_str()) {
                (Some(kind), Some(id)) => format!("{kind}/{id}"),
                _ => String::new(),
            };
            entry["fullUrl"] == target || own == target
        })
        .map(|entry| &entry["resource"])
}

/// Elements that only a contact lens has.
const CONTACT_ONLY: [&str; 5] = ["power", "backCurve", "diameter", "duration", "color"];

fn lenses(value: &Value, place: &str, job: &mut Job, not_taken: &mut Vec<String>) -> Read<()> {
    let key = format!("{place}.lensSpecification");
    if !value["dispense"].is_null() {
        return Err(wrong(
            &format!("{place}.dispense"),
            "is the form of FHIR STU3: R4, R4B and R5 are read",
        ));
    }
    let list = value["lensSpecification"]
        .as_array()
        .filter(|l| !l.is_empty())
        .ok_or_else(|| wrong(&key, "holds no lens: there is nothing to make"))?;
    let mut seen: Vec<Eye> = Vec::new();
    for (i, lens) in list.iter().enumerate() {
        let place = format!("{key}[{i}]");
        no_modifier(lens, &place)?;
        spectacle_lens(lens, &place)?;
        let eye = match lens["eye"].as_str() {
            Some("right") => Eye::Right,
            Some("left") => Eye::Left,
            _ => return Err(wrong(&format!("{place}.eye"), "is neither right nor left")),
        };
        if seen.contains(&eye) {
            return Err(wrong(
                &format!("{place}.eye"),
                format!(
                    "the {} eye is there twice: distance and near lenses cannot be told apart in this format",
                    codes_word(eye)
                ),
            ));
        }
        seen.push(eye);
        let read = one_eye(lens, &place)?;
        match eye {
            Eye::Right => job.prescription.right = read,
            Eye::Left => job.prescription.left = read,
        }
        for note in lens["note"].as_array().into_iter().flatten() {
            if let Some(note) = text(&note["text"]) {
                let notes = job.prescription.notes.get_or_insert_default();
                if !notes.is_empty() {
                    notes.push_str("; ");
                }
                notes.push_str(codes_word(eye));
                notes.push_str(": ");
                notes.push_str(&note);
            }
        }
        for key in ["brand", "extension"] {
            if !lens[key].is_null() {
                not_taken.push(format!("{place}.{key}"));
            }
        }
    }
    Ok(())
}

const fn codes_word(eye: Eye) -> &'static str {
    super::codes::eye(eye)
}

fn spectacle_lens(lens: &Value, place: &str) -> Read<()> {
    let codes: Vec<&str> = lens["product"]["coding"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|c| c["code"].as_str())
        .collect();
    if codes.contains(&"contact") {
        return Err(wrong(
            &format!("{place}.product"),
            "is a contact lens: this book holds spectacles",
        ));
    }
    if let Some(key) = CONTACT_ONLY.iter().find(|k| !lens[**k].is_null()) {
        return Err(wrong(
            &format!("{place}.{key}"),
            "belongs to a contact lens: this book holds spectacles",
        ));
    }
    if !codes.contains(&"lens") {
        return Err(wrong(
            &format!("{place}.product"),
            "is not coded as lens: what kind of lens it is must be said",
        ));
    }
    Ok(())
}

fn number(value: &Value, place: &str) -> Read<Option<f64>> {
    if value.is_null() {
        return Ok(None);
    }
    value
        .as_f64()
        .map(Some)
        .ok_or_else(|| wrong(place, "is no number"))
}

fn power(lens: &Value, key: &str, place: &str) -> Read<Option<Dioptre>> {
    let place = format!("{place}.{key}");
    number(&lens[key], &place)?
        .map(|v| {
            Dioptre::new(v)
                .map(Dioptre::written)
                .map_err(|e| wrong(&place, e.to_string()))
        })
        .transpose()
}

fn one_eye(lens: &Value, place: &str) -> Read<EyePrescription> {
    let mut eye = EyePrescription {
        sphere_d: power(lens, "sphere", place)?,
        cylinder_d: power(lens, "cylinder", place)?.filter(|c| c.thousandths() != 0),
        addition_d: power(lens, "add", place)?,
        ..EyePrescription::default()
    };
    let at = |key: &str| format!("{place}.{key}");
    if eye.sphere_d.is_none() {
        return Err(wrong(
            &at("sphere"),
            "is missing: no sphere is not the same as a sphere of 0.00",
        ));
    }
    if eye.addition_d.is_some_and(|a| a.thousandths() < 0) {
        return Err(wrong(&at("add"), "is negative: an addition is not"));
    }
    match (eye.cylinder_d, &lens["axis"]) {
        (Some(_), Value::Null) => {
            return Err(wrong(&at("axis"), "is missing beside a cylinder"));
        }
        (Some(_), axis) => {
            let degrees = axis
                .as_f64()
                .filter(|a| (1.0..=180.0).contains(a) && a.fract().abs() < f64::EPSILON)
                .ok_or_else(|| {
                    wrong(
                        &at("axis"),
                        "must be a whole number of degrees from 1 to 180",
                    )
                })?;
            eye.axis_deg =
                Some(Degree::new(degrees).map_err(|e| wrong(&at("axis"), e.to_string()))?);
        }
        (None, Value::Null) => {}
        (None, _) if lens["cylinder"].is_null() => {
            return Err(wrong(&at("cylinder"), "is missing beside an axis"));
        }
        (None, _) => {}
    }
    prisms(lens, place, &mut eye)?;
    Ok(eye)
}

fn prisms(lens: &Value, place: &str, eye: &mut EyePrescription) -> Read<()> {
    let prism = &lens["prism"];
    if prism.is_number() || !lens["base"].is_null() {
        return Err(wrong(
            &format!("{place}.prism"),
            "is one number with its base beside it, the form of FHIR STU3: R4, R4B and R5 are read",
        ));
    }
    if !prism.is_null() && !prism.is_array() {
        return Err(wrong(
            &format!("{place}.prism"),
            "is no list of amounts and bases",
        ));
    }
    let (mut inward, mut upward) = (0.0, 0.0);
    for (i, part) in prism.as_array().into_iter().flatten().enumerate() {
        let at = |key: &str| format!("{place}.prism[{i}].{key}");
        no_modifier(part, &format!("{place}.prism[{i}]"))?;
        let amount = number(&part["amount"], &at("amount"))?
            .ok_or_else(|| wrong(&at("amount"), "is missing"))?;
        if amount < 0.0 {
            return Err(wrong(
                &at("amount"),
                "is negative: the base says the direction",
            ));
        }
        match part["base"].as_str() {
            Some("in") => inward += amount,
            Some("out") => inward -= amount,
            Some("up") => upward += amount,
            Some("down") => upward -= amount,
            _ => {
                return Err(wrong(
                    &at("base"),
                    "is none of in, out, up and down: a prism without its direction is not taken",
                ));
            }
        }
    }
    let kept = |v: f64, key: &str| {
        if v.abs() < 1e-9 {
            return Ok(None);
        }
        PrismDioptre::new(v)
            .map(Some)
            .map_err(|e| wrong(&format!("{place}.{key}"), e.to_string()))
    };
    eye.base_in_delta = kept(inward, "prism")?;
    eye.base_up_delta = kept(upward, "prism")?;
    Ok(())
}
