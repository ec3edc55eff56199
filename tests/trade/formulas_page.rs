//! The worked examples of `docs/formulas.md` and `docs/models.md` are computed again.

use crate::common;

use std::collections::BTreeSet;

use serde_json::Value;

/// The requests and results in the page's blocks, as text: one line each, in pairs.
fn examples(page: &str) -> Vec<(String, String)> {
    let mut pairs = Vec::new();
    for block in page.split("```json\n").skip(1) {
        let block = block.split("```").next().unwrap();
        let lines: Vec<&str> = block.lines().filter(|l| !l.trim().is_empty()).collect();
        assert!(
            lines.len().is_multiple_of(2),
            "a request without a result: {block}"
        );
        pairs.extend(lines.chunks(2).map(|p| (p[0].to_owned(), p[1].to_owned())));
    }
    pairs
}

/// Half a unit of the last decimal that a number is shown with, and a little for binary fractions.
fn shown_to(number: &str) -> f64 {
    let decimals = number.split_once('.').map_or(0, |(_, after)| after.len());
    // A whole number is shown because the result is exactly that.
    let places = if decimals == 0 { 6 } else { decimals };
    0.5 * 10f64.powi(-i32::try_from(places).unwrap()) + 1e-12
}

/// Compares what is shown with what is found; every number to the decimals it is shown with.
fn compare(found: &Value, shown: &Value, text: &str, path: &str) {
    match shown {
        Value::Object(map) => {
            for (key, value) in map {
                let after = text.split_once(&format!("\"{key}\":")).unwrap().1;
                compare(&found[key], value, after, &format!("{path}.{key}"));
            }
        }
        Value::Number(n) => {
            let end = text.find([',', '}']).unwrap();
            let (f, n) = (
                found.as_f64().unwrap_or_else(|| panic!("{path}: {found}")),
                n.as_f64().unwrap(),
            );
            let tolerance = shown_to(text.get(..end).unwrap());
            assert!((f - n).abs() <= tolerance, "{path}: {f}, shown {n}");
        }
        other => assert_eq!(found, other, "{path}"),
    }
}

/// Asks a page's examples again; returns the calculations they are of.
fn asked_again(page: &str) -> BTreeSet<String> {
    let path = format!("{}/docs/{page}", env!("CARGO_MANIFEST_DIR"));
    let mut shown_for = BTreeSet::new();
    for (request, reply) in examples(&std::fs::read_to_string(path).unwrap()) {
        let request: Value = serde_json::from_str(&request).unwrap();
        shown_for.insert(request["calc"].as_str().unwrap().to_owned());
        let shown: Value = serde_json::from_str(&reply).unwrap();
        let found = common::ask(&request);
        assert_eq!(found["ok"], shown["ok"], "{request} -> {found}");
        compare(
            &found["result"],
            &shown["result"],
            reply.split_once("\"result\":").unwrap().1,
            &request.to_string(),
        );
    }
    shown_for
}

#[test]
fn every_worked_example_comes_out_as_shown() {
    let shown_for = asked_again("formulas.md");
    // Every calculation has its example.
    for name in ["checks/calc_vectors.json", "checks/calc_vectors_2.json"] {
        let vectors = common::json(name);
        for case in vectors.as_array().unwrap() {
            let calc = case["request"]["calc"].as_str().unwrap();
            assert!(shown_for.contains(calc), "no example of {calc}");
        }
    }
}

#[test]
fn every_model_has_an_example_that_comes_out_as_shown() {
    let shown_for = asked_again("models.md");
    for calc in [
        "vertex",
        "oblique",
        "as_worn",
        "as_worn_compensate",
        "thickness",
        "magnification",
    ] {
        assert!(shown_for.contains(calc), "no example of {calc}");
    }
}
