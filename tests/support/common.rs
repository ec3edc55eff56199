//! What the checks against data files share.
#![allow(dead_code, reason = "each test file uses a part")]

use std::path::PathBuf;

use rimbook::testing::trade::optics::Rx;
use serde_json::Value;

/// The path of a file under `tests/data`.
pub fn data_path(name: &str) -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "tests", "data", name]
        .iter()
        .collect()
}

/// The text of a file under `tests/data`.
pub fn data(name: &str) -> String {
    std::fs::read_to_string(data_path(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// A file under `tests/data` as JSON.
pub fn json(name: &str) -> Value {
    serde_json::from_str(&data(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// The answer to a request.
pub fn ask(request: &Value) -> Value {
    serde_json::from_str(&rimbook::testing::exchange::calc::answer(
        &request.to_string(),
    ))
    .unwrap()
}

/// Whether a value is a power.
fn as_rx(value: &Value) -> Option<Rx> {
    Some(Rx::new(
        value.get("sphere_d")?.as_f64()?,
        value.get("cylinder_d").map_or(Some(0.0), Value::as_f64)?,
        value.get("axis_deg").map_or(Some(180.0), Value::as_f64)?,
    ))
}

/// Says where `found` lacks something of `wanted` or differs by more than `tolerance`.
///
/// Powers are compared as powers (so that an axis without cylinder does not matter, and an axis is
/// worth what the cylinder makes of it), and, where `form` is set, in the very form as well.
pub fn differs(
    found: &Value,
    wanted: &Value,
    tolerance: f64,
    form: bool,
    path: &str,
) -> Option<String> {
    if let (Some(f), Some(w)) = (as_rx(found), as_rx(wanted)) {
        let away = (f.matrix() - w.matrix()).largest_d();
        let other_form = form && (f.sphere_d - w.sphere_d).abs() > tolerance;
        return (away > tolerance || other_form).then(|| format!("{path}: {f:?}, not {w:?}"));
    }
    match (found, wanted) {
        (Value::Object(f), Value::Object(w)) => w.iter().find_map(|(key, w)| {
            let path = format!("{path}.{key}");
            match f.get(key) {
                Some(f) => differs(f, w, tolerance, form, &path),
                None => Some(format!("{path} is not there")),
            }
        }),
        (Value::Array(f), Value::Array(w)) if f.len() == w.len() => f
            .iter()
            .zip(w)
            .enumerate()
            .find_map(|(i, (f, w))| differs(f, w, tolerance, form, &format!("{path}[{i}]"))),
        (Value::Number(f), Value::Number(w)) => {
            let (f, w) = (f.as_f64()?, w.as_f64()?);
            let round = |turn: f64| ((f - w + turn / 2.0).rem_euclid(turn) - turn / 2.0).abs();
            let away = if path.ends_with("base_deg") {
                round(360.0)
            } else if path.ends_with("meridian_deg") {
                round(180.0)
            } else {
                (f - w).abs()
            };
            (away > tolerance).then(|| format!("{path}: {f}, not {w}"))
        }
        (f, w) => (f != w).then(|| format!("{path}: {f}, not {w}")),
    }
}

/// Asks every case and collects those whose answer differs.
pub fn failures(cases: &[Value], form: bool) -> Vec<String> {
    cases
        .iter()
        .filter_map(|case| {
            let answer = ask(&case["request"]);
            let id = case.get("id").unwrap_or(&case["request"]["id"]);
            if answer["ok"] != true {
                return Some(format!("{id}: {}", answer["error"]));
            }
            let tolerance = case["tolerance"].as_f64().unwrap();
            differs(
                &answer["result"],
                &case["result"],
                tolerance,
                form,
                "result",
            )
            .map(|why| format!("{id} {why}"))
        })
        .collect()
}
