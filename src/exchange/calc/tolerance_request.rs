//! The `tolerance` request of the line-by-line calculation interface: strict in, plain out.

use serde_json::{Map, Value, json};

use crate::trade::eye::Eye;

use super::error::{CalcError, RefusalKind};
use super::keys::{self, NumberKey};
use super::request::Fields;
use crate::trade::tolerance::{
    EyeValues, LensKind, Options, PairValues, Standard, ToleranceError, ToleranceLine, compare,
};

const TOP_KEYS: [&str; 6] = ["id", "calc", "standard", "lens_kind", "ordered", "measured"];

/// The keys of an eye.
const EYE_KEYS: [NumberKey; 8] = [
    keys::SPHERE_D,
    keys::CYLINDER_D,
    keys::AXIS_DEG,
    keys::ADDITION_D,
    keys::BASE_IN_DELTA,
    keys::BASE_UP_DELTA,
    keys::CD_MM,
    keys::HEIGHT_MM,
];

/// Answers a `tolerance` request: the verdict and each line.
pub(super) fn answer(fields: &Fields<'_, '_>) -> Result<Value, CalcError> {
    answer_map(&fields.to_map())
}

/// Answers one request: the verdict and each line.
///
/// `standard`, `lens_kind`, `ordered` and `measured` are required; `id` and `calc` are the
/// interface's own and are not looked at.
///
/// # Errors
/// A [`CalcError`] that names the key with its path and, for a number, the range that is read.
fn answer_map(request: &Map<String, Value>) -> Result<Value, CalcError> {
    refuse_unknown(request, "", &TOP_KEYS)?;
    let standard = one_of(request, "standard", &Standard::ALL, Standard::name)?;
    let kind = one_of(request, "lens_kind", &LensKind::ALL, LensKind::name)?;
    let ordered = pair(request, "ordered")?;
    let measured = pair(request, "measured")?;
    for eye in Eye::BOTH {
        match (ordered.get(eye), measured.get(eye)) {
            (Some(_), None) => return Err(missing(&format!("measured.{eye}"))),
            (None, Some(_)) => return Err(missing(&format!("ordered.{eye}"))),
            _ => {}
        }
    }
    let report =
        compare(standard, kind, &ordered, &measured, Options::default()).map_err(refusal_of)?;
    Ok(json!({
        "pass": report.pass,
        "lines": report.lines.iter().map(line).collect::<Vec<_>>(),
    }))
}

fn line(line: &ToleranceLine) -> Value {
    json!({
        "what": line.what.key(),
        "eye": line.eye.word(),
        "ordered": line.ordered,
        "measured": line.measured,
        "error": line.error,
        "limit": line.limit,
        "used_percent": line.used_percent,
        "pass": line.pass,
    })
}

fn refusal_of(error: ToleranceError) -> CalcError {
    let kind = match error {
        ToleranceError::NothingToCompare => RefusalKind::MissingKey,
        ToleranceError::Ordered { .. } | ToleranceError::Measured { .. } => RefusalKind::OutOfRange,
    };
    CalcError::new(kind, error.to_string())
}

fn missing(path: &str) -> CalcError {
    CalcError::new(
        RefusalKind::MissingKey,
        format!("{path} is missing: give it"),
    )
}

fn refuse_unknown(
    object: &Map<String, Value>,
    path: &str,
    known: &[&str],
) -> Result<(), CalcError> {
    match object.keys().find(|k| !known.contains(&k.as_str())) {
        None => Ok(()),
        Some(key) => Err(CalcError::new(
            RefusalKind::UnknownKey,
            format!(
                "{path}{key} is not a key here; known are {}",
                known.join(", ")
            ),
        )),
    }
}

/// Reads one of a few names.
fn one_of<T: Copy>(
    object: &Map<String, Value>,
    key: &str,
    all: &[T],
    name: fn(T) -> &'static str,
) -> Result<T, CalcError> {
    let value = object.get(key).ok_or_else(|| missing(key))?;
    let text = value
        .as_str()
        .ok_or_else(|| wrong_type(key, "a text", value))?;
    all.iter()
        .copied()
        .find(|t| name(*t) == text)
        .ok_or_else(|| {
            let names: Vec<_> = all.iter().map(|t| format!("\"{}\"", name(*t))).collect();
            CalcError::new(
                RefusalKind::OutOfRange,
                format!("{key} is none of {}", names.join(", ")),
            )
        })
}

fn wrong_type(path: &str, wanted: &str, found: &Value) -> CalcError {
    let found = match found {
        Value::Null => "null",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "a number",
        Value::String(_) => "a text",
        Value::Array(_) => "an array",
        Value::Object(_) => "an object",
    };
    CalcError::new(
        RefusalKind::WrongType,
        format!("{path} must be {wanted}, not {found}"),
    )
}

fn object<'a>(value: &'a Value, path: &str) -> Result<&'a Map<String, Value>, CalcError> {
    value
        .as_object()
        .ok_or_else(|| wrong_type(path, "an object", value))
}

fn pair(request: &Map<String, Value>, key: &str) -> Result<PairValues, CalcError> {
    let both = object(request.get(key).ok_or_else(|| missing(key))?, key)?;
    refuse_unknown(both, &format!("{key}."), &["right", "left"])?;
    if both.is_empty() {
        return Err(CalcError::new(
            RefusalKind::MissingKey,
            format!("{key} needs right, left or both"),
        ));
    }
    let one = |eye: Eye| {
        both.get(eye.word())
            .map(|v| eye_values(v, &format!("{key}.{eye}")))
            .transpose()
    };
    Ok(PairValues {
        right: one(Eye::Right)?,
        left: one(Eye::Left)?,
    })
}

fn eye_values(value: &Value, path: &str) -> Result<EyeValues, CalcError> {
    let object = object(value, path)?;
    refuse_unknown(object, &format!("{path}."), &EYE_KEYS.map(|key| key.name))?;
    let mut read = [None; EYE_KEYS.len()];
    for (slot, key) in read.iter_mut().zip(EYE_KEYS) {
        if let Some(value) = object.get(key.name) {
            *slot = Some(number(value, &format!("{path}.{}", key.name), &key)?);
        }
    }
    let [
        sphere_d,
        cylinder_d,
        axis_deg,
        addition_d,
        base_in_delta,
        base_up_delta,
        cd_mm,
        height_mm,
    ] = read;
    let values = EyeValues {
        sphere_d: sphere_d.ok_or_else(|| missing(&format!("{path}.sphere_d")))?,
        cylinder_d: cylinder_d.unwrap_or(0.0),
        axis_deg,
        addition_d,
        base_in_delta,
        base_up_delta,
        cd_mm,
        height_mm,
    };
    if values.minus_form().is_err() {
        // Every number is finite by now: a cylinder without its axis is all that is left.
        return Err(missing(&format!("{path}.axis_deg")));
    }
    Ok(values)
}

fn number(value: &Value, path: &str, key: &NumberKey) -> Result<f64, CalcError> {
    let number = value
        .as_f64()
        .ok_or_else(|| wrong_type(path, "a number", value))?;
    if (key.low..=key.high).contains(&number) {
        return Ok(number);
    }
    Err(CalcError::new(
        RefusalKind::OutOfRange,
        format!(
            "{path} is {number}: it is read from {} to {} {}",
            key.low, key.high, key.unit
        ),
    ))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::float_cmp, reason = "tests")]
mod tests {
    use super::*;

    fn request() -> Value {
        json!({
            "id": 1, "calc": "tolerance", "standard": "ISO 21987:2017", "lens_kind": "single vision",
            "ordered": {"right": {"sphere_d": -2.0}}, "measured": {"right": {"sphere_d": -2.12}},
        })
    }

    fn refused(change: impl FnOnce(&mut Value)) -> CalcError {
        let mut request = request();
        change(&mut request);
        answer_map(request.as_object().unwrap()).unwrap_err()
    }

    #[test]
    fn one_eye_alone_is_answered_with_the_keys_in_order() {
        let answer = answer_map(request().as_object().unwrap()).unwrap();
        assert_eq!(answer["pass"], true);
        let keys: Vec<_> = answer["lines"][0].as_object().unwrap().keys().collect();
        assert_eq!(
            keys,
            [
                "what",
                "eye",
                "ordered",
                "measured",
                "error",
                "limit",
                "used_percent",
                "pass"
            ]
        );
    }

    #[test]
    fn refusals_name_the_key_with_its_path() {
        let cases: [(CalcError, &str, &str); 9] = [
            (
                refused(|r| r["ordered"]["right"]["sphere"] = json!(1)),
                "unknown_key",
                "ordered.right.sphere ",
            ),
            (refused(|r| r["kind"] = json!(1)), "unknown_key", "kind "),
            (
                refused(|r| r["ordered"] = json!({"right": {}})),
                "missing_key",
                "ordered.right.sphere_d",
            ),
            (
                refused(|r| r["ordered"]["left"] = json!({"sphere_d": 1})),
                "missing_key",
                "measured.left",
            ),
            (
                refused(|r| r["ordered"]["right"]["cylinder_d"] = json!(-1)),
                "missing_key",
                "ordered.right.axis_deg",
            ),
            (
                refused(|r| r["measured"]["right"] = json!([])),
                "wrong_type",
                "measured.right",
            ),
            (
                refused(|r| r["measured"]["right"]["cd_mm"] = json!("31")),
                "wrong_type",
                "measured.right.cd_mm",
            ),
            (
                refused(|r| r["measured"]["right"]["sphere_d"] = json!(900)),
                "out_of_range",
                "-60 to 60 D",
            ),
            (
                refused(|r| r["standard"] = json!("ISO")),
                "out_of_range",
                "\"ANSI Z80.1-2015\"",
            ),
        ];
        for (refusal, wanted, part) in cases {
            let message = refusal.message;
            assert_eq!(refusal.kind.word(), wanted, "{message}");
            assert!(message.contains(part), "{message}");
        }
    }

    #[test]
    fn a_missing_part_of_the_request_is_named() {
        for key in ["standard", "lens_kind", "ordered", "measured"] {
            let mut request = request();
            request.as_object_mut().unwrap().remove(key);
            let refusal = answer_map(request.as_object().unwrap()).unwrap_err();
            assert_eq!(refusal.kind, RefusalKind::MissingKey);
            assert!(refusal.message.contains(key), "{refusal}");
        }
    }
}
