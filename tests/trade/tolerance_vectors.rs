//! Worked cases for the tolerances: the independent vectors and the published answers
//! (`tests/data/tolerance_SOURCES.md`).

use rimbook::testing::exchange::calc::answer;
use serde_json::Value;

fn cases(text: &str) -> Vec<Value> {
    serde_json::from_str(text).unwrap()
}

fn answered(case: &Value) -> Value {
    let line: Value = serde_json::from_str(&answer(&case["request"].to_string())).unwrap();
    assert_eq!(line["ok"], true, "{line}");
    line["result"].clone()
}

fn assert_line(found: &Value, wanted: &Value, within: f64, case: &Value) {
    for key in ["what", "eye", "pass"] {
        if let Some(wanted) = wanted.get(key) {
            assert_eq!(&found[key], wanted, "{key} of {found} in {case}");
        }
    }
    for key in ["error", "limit", "ordered", "measured", "used_percent"] {
        if let Some(wanted) = wanted.get(key).and_then(Value::as_f64) {
            let off = (found[key].as_f64().unwrap() - wanted).abs();
            assert!(off <= within, "{key} off by {off} in {found} of {case}");
        }
    }
}

#[test]
fn every_vector_gives_the_same_lines_in_the_same_order() {
    let all = cases(include_str!("../data/tolerance_vectors.json"));
    assert_eq!(all.len(), 80);
    for case in &all {
        let found = answered(case);
        let lines = found["lines"].as_array().unwrap();
        let wanted = case["result"]["lines"].as_array().unwrap();
        let names = |ls: &[Value]| -> Vec<String> {
            ls.iter()
                .map(|l| format!("{} {}", l["what"], l["eye"]))
                .collect()
        };
        assert_eq!(names(lines), names(wanted), "{case}");
        for (line, wanted) in lines.iter().zip(wanted) {
            assert_line(line, wanted, case["tolerance"].as_f64().unwrap(), case);
        }
        assert_eq!(found["pass"], case["result"]["pass"], "{case}");
    }
}

#[test]
fn published_axis_limits_are_found() {
    let all = cases(include_str!("../data/tolerance_handbooks.json"));
    assert_eq!(all.len(), 5);
    for case in &all {
        let found = answered(case);
        for wanted in case["result"]["lines"].as_array().unwrap() {
            let line = found["lines"]
                .as_array()
                .unwrap()
                .iter()
                .find(|l| l["what"] == wanted["what"] && l["eye"] == wanted["eye"])
                .unwrap();
            assert_line(line, wanted, case["tolerance"].as_f64().unwrap(), case);
        }
    }
}
