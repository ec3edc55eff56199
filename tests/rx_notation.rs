//! Written prescriptions: the table of readings and refusals, and laws over arbitrary lines.
//!
//! `tests/data/rx_notation.json`: 152 lines with the reading or the kind of refusal wanted, each
//! with a note that says why (see `tests/data/SOURCES.md`).
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::missing_assert_message,
    missing_docs,
    reason = "tests"
)]

use proptest::prelude::*;
use rimbook::notation::{ErrorKind, Reading, WrittenRx, answer, read};
use serde_json::Value;

fn same(found: &Value, wanted: &Value) -> bool {
    match (found, wanted) {
        (Value::Number(a), Value::Number(b)) => {
            (a.as_f64().unwrap() - b.as_f64().unwrap()).abs() < 1e-9
        }
        (Value::Object(a), Value::Object(b)) => {
            a.len() == b.len() && a.iter().all(|(k, v)| b.get(k).is_some_and(|w| same(v, w)))
        }
        (Value::Array(a), Value::Array(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(v, w)| same(v, w))
        }
        _ => found == wanted,
    }
}

#[test]
fn every_line_of_the_table_is_read_or_refused_as_it_says() {
    let table: Vec<Value> = serde_json::from_str(include_str!("data/rx_notation.json")).unwrap();
    assert_eq!(table.len(), 152);
    let mut wrong = Vec::new();
    for case in &table {
        let found = answer(case["input"].as_str().unwrap());
        let right = match case.get("error") {
            Some(kind) => found["ok"] == false && &found["error"]["kind"] == kind,
            None => found["ok"] == true && same(&found["rx"], &case["rx"]),
        };
        if !right {
            wrong.push(format!(
                "{} [{}]\n   gives {found}\n  wanted {}",
                case["input"],
                case["note"],
                case.get("error").unwrap_or(&case["rx"])
            ));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn neighbours_of_the_table_are_read_the_same_way() {
    // From memory of how prescriptions are written.
    for (line, sphere, cylinder, axis) in [
        ("- 2.25 / - 0.75 x 90", -18, Some(-6), Some(90)),
        ("-2.25 / -0.75 axis 90°", -18, Some(-6), Some(90)),
        ("plano -0.50 ax 5", 0, Some(-4), Some(5)),
        ("+1.0/-0.5x180", 8, Some(-4), Some(180)),
        ("+10.00 DS", 80, None, None),
    ] {
        let Ok(Reading::One { rx, .. }) = read(line) else {
            panic!("{line}: {:?}", read(line))
        };
        assert_eq!(
            (rx.sphere.0, rx.cylinder.map(|c| c.0), rx.axis_deg),
            (sphere, cylinder, axis),
            "{line}"
        );
    }
    for line in [
        "OU -1.00",
        "R -1.00 L -1.00",
        "right eye: -1.00; left eye: -1.00",
    ] {
        assert!(
            matches!(read(line), Ok(Reading::Two(_))),
            "{line}: {:?}",
            read(line)
        );
    }
    for line in [
        "R +1.00 L +1.25 Add +2.00 OU",
        "R +1.00 L +1.25 OU Add +2.00",
        "R +1.00 Add 2.00 L +1.25 Add 2.00",
    ] {
        let Ok(Reading::Two(eyes)) = read(line) else {
            panic!("{line}: {:?}", read(line))
        };
        assert_eq!(
            (eyes.right.addition, eyes.left.addition),
            (eyes.left.addition, eyes.right.addition)
        );
        assert!(eyes.right.addition.is_some(), "{line}");
    }
}

#[test]
fn every_refusal_says_what_to_do() {
    for kind in ErrorKind::ALL {
        let error = rimbook::notation::NotationError::from(*kind);
        assert!(
            error.message.contains(':') || error.message.contains("field"),
            "{}",
            error.message
        );
    }
}

fn within_limits(rx: &WrittenRx) -> bool {
    rx.sphere.0.abs() <= 320
        && rx.cylinder.is_none_or(|c| c.0 != 0 && c.0.abs() <= 160)
        && rx.cylinder.is_some() == rx.axis_deg.is_some()
        && rx.axis_deg.is_none_or(|a| (1..=180).contains(&a))
        && rx.addition.is_none_or(|a| (0..=80).contains(&a.0))
        && rx
            .prism
            .iter()
            .all(|p| (0..=30_000).contains(&p.amount.thousandths()))
}

fn holds_limits(reading: &Reading) -> bool {
    match reading {
        Reading::One { rx, .. } => within_limits(rx),
        Reading::Two(eyes) => within_limits(&eyes.right) && within_limits(&eyes.left),
    }
}

fn soup() -> impl Strategy<Value = String> {
    let pieces = prop::sample::select(vec![
        "-2.25", "+1.00", "0.00", "-0.75", "90", "180", "0", "x", " ", "/", "ax", "DS", "DC", "D",
        "plano", "Add", "+2.00", "2", "Δ", "BU", "in", "base", "@", "37", "&", "R", "L", "OU", ",",
        "1,25", ".", "-", "+", "BVD", "12", "mm", "6/6", "prism", "split", "bal", ":", ";", "|",
        "°", "−", "∞", "(", "9O", "1.5",
    ]);
    prop::collection::vec(pieces, 0..12).prop_map(|v| v.join(""))
}

proptest! {
    #[test]
    fn whatever_is_typed_is_read_within_limits_or_refused(line in any::<String>()) {
        if let Ok(reading) = read(&line) {
            prop_assert!(holds_limits(&reading));
        }
    }

    #[test]
    fn pieces_in_any_order_are_read_within_limits_or_refused(line in soup()) {
        if let Ok(reading) = read(&line) {
            prop_assert!(holds_limits(&reading), "{line}");
        }
    }

    #[test]
    fn outer_blanks_never_matter(line in soup()) {
        prop_assert_eq!(read(&format!("  {line}\t ")), read(&line));
    }

    #[test]
    fn a_canonical_line_gives_back_its_numbers(s in -160i16..=160, c in -40i16..=-1, axis in 1u16..=180) {
        let power = |e: i16| {
            let rest = ["00", "125", "25", "375", "50", "625", "75", "875"][usize::from(e.unsigned_abs() % 8)];
            format!("{}{}.{rest}", if e < 0 { '-' } else { '+' }, e.abs() / 8)
        };
        let line = format!("{}/{}x{axis}", power(s), power(c));
        let Ok(Reading::One { rx, .. }) = read(&line) else {
            return Err(TestCaseError::fail(line));
        };
        prop_assert_eq!((rx.sphere.0, rx.cylinder.map(|c| c.0), rx.axis_deg), (s, Some(c), Some(axis)));
    }
}
