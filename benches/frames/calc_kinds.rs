//! Calculations as JSON Lines, each kind by itself, on one core.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use serde_json::Value;

/// How long each kind is run.
const LONG_ENOUGH: Duration = Duration::from_millis(400);

/// How long this thread has had a processor, where the system says so: what else runs beside does
/// not count.
fn processor() -> Option<Duration> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    text.split_whitespace()
        .next()?
        .parse()
        .ok()
        .map(Duration::from_nanos)
}

/// Prints how many requests a second each kind answers: the requests of the test vectors, one after
/// the other, through the same reader and writer as `rimbook calc`.
pub fn print() {
    let mut kinds: BTreeMap<String, Vec<Value>> = BTreeMap::new();
    for text in [
        include_str!("../../tests/data/checks/calc_vectors.json"),
        include_str!("../../tests/data/tolerance_vectors.json"),
    ] {
        let vectors: Vec<Value> = serde_json::from_str(text).unwrap();
        for vector in vectors {
            let request = vector["request"].clone();
            let kind = request["calc"].as_str().unwrap().to_owned();
            kinds.entry(kind).or_default().push(request);
        }
    }
    println!("\n| kind | requests a second of one core |\n|---|---|");
    for (kind, requests) in kinds {
        let mut lines = String::new();
        for request in requests.iter().cycle().take(1200) {
            lines.push_str(&request.to_string());
            lines.push('\n');
        }
        let mut answers = Vec::with_capacity(1 << 20);
        let (began, busy) = (Instant::now(), processor());
        let mut answered = 0_u32;
        while began.elapsed() < LONG_ENOUGH {
            answers.clear();
            rimbook::testing::exchange::calc::run(lines.as_bytes(), &mut answers).unwrap();
            answered += 1200;
        }
        let took = match (busy, processor()) {
            (Some(before), Some(now)) => now.saturating_sub(before),
            _ => began.elapsed(),
        };
        let a_second = f64::from(answered) / took.as_secs_f64();
        let refused = answers
            .split(|b| *b == b'\n')
            .filter(|l| l.windows(11).any(|w| w == b"\"ok\":false,"))
            .count();
        let note = if refused > 0 {
            format!(" ({refused} of 1200 refused)")
        } else {
            String::new()
        };
        println!("| `{kind}` | {a_second:.0}{note} |");
    }
}
