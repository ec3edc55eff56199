//! Everything that reads bytes, given what nobody meant: an answer or a sentence, never a panic,
//! and what was read is read again from what is written.
//!
//! Long: a plain run tries fewer cases (`tests/support/long.rs`). Data: `tests/data/SOURCES.md` and the `SOURCES` beside them.

use crate::common;
use crate::long::cases;

use std::sync::OnceLock;

use proptest::prelude::*;
use proptest::sample::{Index, select};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Gate, Job, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{Surroundings, findings};
use rimbook::testing::practice::Practice;
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::tui::action::ACTIONS;
use rimbook::testing::tui::keymap::Keymap;
use rimbook::testing::views::card;
use rimbook::testing::views::{self, pictures};
use serde_json::{Map, Value, json};

use crate::driver::{clock, optician, today};

/// Values on which readers trip.
fn odd_value() -> impl Strategy<Value = Value> {
    let text = prop_oneof![
        any::<String>(),
        select(vec![
            "",
            " ",
            "\u{0}",
            "\u{1b}[31m",
            "\u{202e}",
            "NaN",
            "-0",
            "1e999",
            "2026-02-30",
            "0000-00-00",
            "9999-12-31",
            "single vision",
            "in",
            "180",
            "𝟗𝟗",
        ])
        .prop_map(str::to_owned),
    ];
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        select(vec![
            0.0, -0.0, 1e308, -1e308, 5e-324, 0.005, 180.0, 1e-9, 12.125
        ])
        .prop_map(Value::from),
        text.prop_map(Value::from),
    ];
    leaf.prop_recursive(4, 24, 4, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(Value::Array),
            prop::collection::vec((any::<String>(), inner), 0..4)
                .prop_map(|pairs| Value::Object(pairs.into_iter().collect::<Map<_, _>>())),
        ]
    })
}

/// What is done to a valid text or value.
#[derive(Debug, Clone)]
enum Harm {
    /// A value somewhere is another one.
    Value(Index, Value),
    /// A key or entry is missing.
    Gone(Index),
    /// A number is so many times as large.
    Times(Index, f64),
    /// A key is another one.
    Key(Index, String),
}

fn harm() -> impl Strategy<Value = Harm> {
    prop_oneof![
        3 => (any::<Index>(), odd_value()).prop_map(|(i, v)| Harm::Value(i, v)),
        2 => any::<Index>().prop_map(Harm::Gone),
        4 => (any::<Index>(), select(vec![-1.0, 0.0, 0.1, 0.99, 2.0, 10.0, 1e6, -1e300, 1e-300]))
            .prop_map(|(i, f)| Harm::Times(i, f)),
        1 => (any::<Index>(), any::<String>()).prop_map(|(i, k)| Harm::Key(i, k)),
    ]
}

/// The places of all values under a value.
fn places(value: &Value, at: &str, all: &mut Vec<String>) {
    let below: Vec<(String, &Value)> = match value {
        Value::Object(map) => map
            .iter()
            .map(|(k, v)| (k.replace('~', "~0").replace('/', "~1"), v))
            .collect(),
        Value::Array(list) => list
            .iter()
            .enumerate()
            .map(|(i, v)| (i.to_string(), v))
            .collect(),
        _ => Vec::new(),
    };
    for (key, v) in below {
        let place = format!("{at}/{key}");
        places(v, &place, all);
        all.push(place);
    }
}

fn harmed(mut value: Value, harms: &[Harm]) -> Value {
    for harm in harms {
        let mut all = Vec::new();
        places(&value, "", &mut all);
        if all.is_empty() {
            return value;
        }
        let (Harm::Value(i, _) | Harm::Gone(i) | Harm::Times(i, _) | Harm::Key(i, _)) = harm;
        let place = i.get(&all);
        match harm {
            Harm::Value(_, v) => *value.pointer_mut(place).unwrap() = v.clone(),
            Harm::Times(_, factor) => {
                let number = value.pointer_mut(place).unwrap();
                if let Some(n) = number.as_f64() {
                    *number = json!(n * factor);
                }
            }
            Harm::Gone(_) | Harm::Key(..) => {
                let (parent, key) = place.rsplit_once('/').unwrap();
                let key = key.replace("~1", "/").replace("~0", "~");
                match (value.pointer_mut(parent).unwrap(), harm) {
                    (Value::Object(map), Harm::Key(_, other)) => {
                        let moved = map.remove(&key).unwrap();
                        map.insert(other.clone(), moved);
                    }
                    (Value::Object(map), _) => drop(map.remove(&key)),
                    (Value::Array(list), _) => drop(list.remove(key.parse().unwrap())),
                    _ => {}
                }
            }
        }
    }
    value
}

/// A text with some of its bytes changed, cut or doubled, made valid UTF-8 again.
fn bytes_changed() -> impl Strategy<Value = Vec<(Index, u8, u8)>> {
    prop::collection::vec((any::<Index>(), any::<u8>(), 0_u8..4), 1..6)
}

fn changed(text: &str, changes: &[(Index, u8, u8)]) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for (at, byte, how) in changes {
        if bytes.is_empty() {
            break;
        }
        let i = at.index(bytes.len());
        match how {
            0 => bytes[i] = *byte,
            1 => bytes.truncate(i),
            2 => bytes.insert(i, *byte),
            _ => drop(bytes.remove(i)),
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// The jobs of the scenarios.
fn jobs() -> &'static [Value] {
    static JOBS: OnceLock<Vec<Value>> = OnceLock::new();
    JOBS.get_or_init(|| {
        let all = common::json("scenarios.json");
        let all = all["scenarios"].as_array().unwrap();
        all.iter().map(|s| s["job"].clone()).collect()
    })
}

/// The requests of the vectors.
fn requests() -> &'static [Value] {
    static REQUESTS: OnceLock<Vec<Value>> = OnceLock::new();
    REQUESTS.get_or_init(|| {
        ["checks/calc_vectors.json", "tolerance_vectors.json"]
            .iter()
            .flat_map(|name| common::json(name).as_array().unwrap().clone())
            .map(|case| case["request"].clone())
            .collect()
    })
}

/// The written prescriptions of the corpus.
fn written() -> &'static [String] {
    static WRITTEN: OnceLock<Vec<String>> = OnceLock::new();
    WRITTEN.get_or_init(|| {
        let all = common::json("rx_notation.json");
        let all = all.as_array().unwrap();
        all.iter()
            .map(|c| c["input"].as_str().unwrap().to_owned())
            .collect()
    })
}

/// Looks at a job in every way the program has.
fn look(job: &Job) {
    let (practice, staff) = (Practice::default(), StaffRoll(vec![optician()]));
    let around = Surroundings {
        sign_in: false,
        today: today(),
        staff: &staff,
        practice: &practice,
        others: std::slice::from_ref(job),
        questions: &[],
    };
    for gate in [Gate::Ordered, Gate::Verified, Gate::Collected] {
        for finding in findings(gate, job, around, &[], &[]) {
            assert!(!finding.message.is_empty());
            assert!(
                !finding.message.contains("NaN") && !finding.message.contains("inf "),
                "{}",
                finding.message
            );
        }
    }
    views::lines(job, &practice, today());
    for kind in pictures::PictureKind::ALL {
        for eye in Eye::BOTH {
            pictures::picture(kind, job, &practice, eye);
        }
    }
    drop(views::choices::table(job));
}

/// What was read is read again from what is written; what was not is refused with a sentence.
fn read(text: &str) -> Result<(), TestCaseError> {
    match read_jobs(text) {
        Ok(jobs) => {
            for job in jobs {
                look(&job);
                let file = Value::Object(job.to_file().unwrap()).to_string();
                let again = read_jobs(&file);
                // Compared as written: a part that is there and holds nothing is not written.
                let again = again
                    .ok()
                    .map(|j| Value::Object(j[0].to_file().unwrap()).to_string());
                prop_assert_eq!(again, Some(file));
            }
        }
        Err(e) => {
            let said = e.to_string();
            prop_assert!(!said.trim().is_empty());
        }
    }
    Ok(())
}

/// Asserts what holds of every answer to a line.
fn answered(line: &str) -> Result<(), TestCaseError> {
    let text = rimbook::testing::exchange::calc::answer(line);
    prop_assert!(!text.contains('\n'), "{}", text);
    let value: Value =
        serde_json::from_str(&text).map_err(|e| TestCaseError::fail(format!("{e}: {text}")))?;
    match value["ok"].as_bool() {
        Some(true) => prop_assert!(
            value["result"].is_object() && !text.contains("null,\"sphere_d"),
            "{}",
            text
        ),
        Some(false) => {
            let said = value["error"]["message"].as_str().unwrap_or("");
            prop_assert!(!said.is_empty(), "{}", text);
        }
        None => prop_assert!(false, "{}", text),
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(100, 400), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_written_prescription_is_read_or_refused(
        of in select(written()), changes in bytes_changed(), other in any::<String>(),
    ) {
        for line in [changed(&of, &changes), other.clone(), format!("{of} {other}")] {
            let answer = rimbook::testing::trade::notation::answer(&line);
            match answer["ok"].as_bool() {
                Some(true) => prop_assert!(answer["rx"].is_object(), "{}", answer),
                _ => prop_assert!(answer["error"]["message"].as_str().is_some_and(|m| !m.is_empty()), "{}", answer),
            }
        }
    }

    #[test]
    fn a_calculation_is_answered_on_one_line(
        of in select(requests()), harms in prop::collection::vec(harm(), 1..4),
        changes in bytes_changed(), other in odd_value(),
    ) {
        answered(&harmed(of.clone(), &harms).to_string())?;
        answered(&changed(&of.to_string(), &changes))?;
        answered(&other.to_string())?;
    }

    #[test]
    fn lines_of_any_bytes_are_answered_one_by_one(
        pieces in prop::collection::vec(prop_oneof![
            prop::collection::vec(any::<u8>(), 0..60),
            select(requests()).prop_map(|r| r.to_string().into_bytes()),
        ], 0..8),
    ) {
        let input = pieces.join(&b"\n"[..]);
        let asked = input
            .split(|b| *b == b'\n')
            .filter(|l| !l.iter().all(u8::is_ascii_whitespace))
            .count();
        let mut output = Vec::new();
        rimbook::testing::exchange::calc::run(&input[..], &mut output).unwrap();
        let text = String::from_utf8(output).unwrap();
        // A line of spaces that are not ASCII's may be passed over or answered.
        prop_assert!(text.lines().count() <= asked);
        for line in text.lines() {
            prop_assert!(serde_json::from_str::<Value>(line).is_ok(), "{}", line);
        }
    }

    #[test]
    fn a_key_file_is_taken_or_refused_with_a_sentence(
        ids in prop::collection::vec((any::<Index>(), any::<Index>(), any::<bool>()), 0..4),
        changes in bytes_changed(), other in any::<String>(),
    ) {
        let keys: Vec<&str> = ACTIONS.iter().flat_map(|e| e.keys.iter().copied()).collect();
        let file: String = ids
            .iter()
            .map(|(id, key, many)| {
                let (id, key) = (id.get(ACTIONS).id, key.get(&keys));
                if *many { format!("{id} = [\"f9\", \"{key}\"]\n") } else { format!("{id} = \"{key}\"\n") }
            })
            .collect();
        for text in [file.clone(), changed(&file, &changes), other] {
            match Keymap::with_file(&text) {
                Ok(map) => for e in ACTIONS { map.shown(e.action); },
                Err(e) => prop_assert!(!e.to_string().is_empty()),
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(40, 160), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_job_file_is_read_whole_or_refused(
        of in select(jobs()), harms in prop::collection::vec(harm(), 1..4),
        changes in bytes_changed(), other in odd_value(),
    ) {
        read(&harmed(of.clone(), &harms).to_string())?;
        read(&changed(&of.to_string(), &changes))?;
        read(&other.to_string())?;
        read(&json!([of, harmed(other, &harms)]).to_string())?;
    }
}

/// A book that the cases share.
fn book() -> (tempfile::TempDir, Desk) {
    let dir = tempfile::tempdir().unwrap();
    let mut desk = Desk::create(&dir.path().join("book.db"), clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    for job in &jobs()[..4] {
        desk.import(&job.to_string(), None).unwrap();
    }
    (dir, desk)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_job_file_is_taken_in_whole_or_not_at_all(
        cases in prop::collection::vec((select(jobs()), prop::collection::vec(harm(), 1..3)), 60),
    ) {
        let (_dir, mut desk) = book();
        let mut stood = desk.numbers().unwrap().len();
        for (of, harms) in cases {
            let file = json!([of, harmed(of.clone(), &harms)]);
            match desk.import(&file.to_string(), None) {
                Ok(taken) => {
                    stood += taken.numbers.len();
                    for number in &taken.numbers {
                        card::fitting_card(&desk.load(number).unwrap().job, number, &Practice::default(), 70);
                        desk.history(number).unwrap();
                    }
                }
                Err(e) => prop_assert!(!e.message.is_empty()),
            }
            prop_assert_eq!(desk.numbers().unwrap().len(), stood);
        }
        desk.worklist().unwrap();
    }

    #[test]
    fn any_text_can_be_looked_for(
        texts in prop::collection::vec(prop_oneof![
            any::<String>(),
            "[-\"*^:(){}+ANDORNOT NEAR/0-9a-z' ]{0,40}",
            "[0-9 +()/-]{0,20}",
        ], 600),
    ) {
        let (_dir, desk) = book();
        for text in texts {
            let found = desk.find(&text, 20);
            prop_assert!(found.is_ok(), "{:?}: {:?}", text, found);
        }
        prop_assert!(!desk.find("mari", 20).unwrap().is_empty());
    }
}
