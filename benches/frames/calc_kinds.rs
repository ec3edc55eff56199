//! Calculations as JSON Lines, each kind by itself, on one core.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// How long each kind is run.
const LONG_ENOUGH: Duration = Duration::from_millis(400);

/// Prints how many requests a second each kind answers: the requests of the test vectors, one after
/// the other, through the same reader and writer as `rimbook calc`.
pub fn print() {
    let vectors: Vec<Value> =
        serde_json::from_str(include_str!("../../tests/data/checks/calc_vectors.json")).unwrap();
    let mut kinds: BTreeMap<String, Vec<Value>> = BTreeMap::new();
    for vector in vectors {
        let request = vector["request"].clone();
        let kind = request["calc"].as_str().unwrap().to_owned();
        kinds.entry(kind).or_default().push(request);
    }
    let pair = |sphere: f64, cd: f64| json!({"sphere_d": sphere, "cylinder_d": -1.5, "axis_deg": 20, "cd_mm": cd});
    kinds.insert(
        "tolerance".to_owned(),
        vec![json!({"calc": "tolerance", "standard": "iso-21987",
            "ordered": {"right": pair(-4.0, 31.0), "left": pair(-4.5, 31.5)},
            "measured": {"right": pair(-4.06, 31.5), "left": pair(-4.5, 31.0)}})],
    );
    println!("\n| kind | requests a second |\n|---|---|");
    for (kind, requests) in kinds {
        let mut lines = String::new();
        for request in requests.iter().cycle().take(1200) {
            lines.push_str(&request.to_string());
            lines.push('\n');
        }
        let mut answers = Vec::with_capacity(1 << 20);
        let began = Instant::now();
        let mut answered = 0_u32;
        while began.elapsed() < LONG_ENOUGH {
            answers.clear();
            rimbook::calc::run(lines.as_bytes(), &mut answers).unwrap();
            answered += 1200;
        }
        let a_second = f64::from(answered) / began.elapsed().as_secs_f64();
        let refused = answers
            .split(|b| *b == b'\n')
            .filter(|l| l.windows(11).any(|w| w == b"\"ok\":false,"))
            .count();
        let note = if refused > 0 {
            format!(" ({} of 12 refused)", refused / 100)
        } else {
            String::new()
        };
        println!("| `{kind}` | {a_second:.0}{note} |");
    }
}
