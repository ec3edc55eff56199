//! Written prescriptions one by one: the table of cases, and every example of the user's guide.

use rimbook::testing::trade::notation::{ErrorKind, Reading, answer, read, written};
use serde_json::{Value, json};

#[test]
fn every_case_of_the_table_is_read_or_refused_as_it_says() {
    let cases: Vec<Value> = serde_json::from_str(include_str!("../data/rx_notation.json")).unwrap();
    assert!(cases.len() >= 152, "only {} cases", cases.len());
    let mut wrong = Vec::new();
    for case in &cases {
        let input = case["input"].as_str().unwrap();
        let got = answer(input);
        let right = match case.get("rx") {
            Some(rx) => got == json!({"ok": true, "rx": rx}),
            None => got["ok"] == json!(false) && got["error"]["kind"] == case["error"],
        };
        if !right {
            wrong.push(format!(
                "{input:?} ({}) gave {got}, not {}",
                case["note"],
                case.get("rx").unwrap_or(&case["error"])
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

/// The rows of the guide's tables, cell by cell, without the marks of code.
fn guide_rows() -> Vec<Vec<String>> {
    include_str!("../../docs/notation.md")
        .lines()
        .filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |"))
        .filter(|row| row.starts_with('`'))
        .map(|row| {
            let bar = "\u{0}";
            row.replace("\\|", bar)
                .split(" | ")
                .map(|cell| cell.trim_matches('`').replace(bar, "|"))
                .collect()
        })
        .collect()
}

#[test]
fn every_example_of_the_guide_does_what_the_guide_says() {
    let mut ran = [0; 3];
    for row in guide_rows() {
        match row.as_slice() {
            [typed, form] => {
                ran[0] += 1;
                let Ok(Reading::One { rx, .. }) = read(typed) else {
                    panic!("{typed} is not read: {}", answer(typed));
                };
                assert_eq!(written(&rx), *form, "{typed}");
                assert_eq!(
                    answer(form),
                    answer(typed),
                    "the guide's own form of {typed}"
                );
            }
            [typed, kind, _] if ErrorKind::ALL.iter().any(|k| k.code() == kind) => {
                ran[1] += 1;
                assert_eq!(read(typed).unwrap_err().kind.code(), kind, "{typed}");
            }
            [typed, right, left] => {
                ran[2] += 1;
                let Ok(Reading::Two(eyes)) = read(typed) else {
                    panic!("{typed} is not read: {}", answer(typed));
                };
                assert_eq!(
                    (written(&eyes.right), written(&eyes.left)),
                    (right.clone(), left.clone()),
                    "{typed}"
                );
            }
            _ => panic!("a row of the guide has an unknown shape: {row:?}"),
        }
    }
    assert!(
        ran[0] >= 15 && ran[1] >= 15 && ran[2] >= 5,
        "only {ran:?} examples were found"
    );
}

#[test]
fn neighbours_of_the_table_are_refused_by_the_earliest_step_and_then_the_leftmost() {
    for (typed, kind) in [
        ("-2.2½", "unsupported_character"),
        ("2.25 -0,75 x 190", "mixed_decimal_separators"),
        ("R 2.25 R -2.2", "duplicate_eye"),
        ("2.25 DS PD 63", "pd_not_part_of_rx_line"),
        ("2.25 -0.75 DS x 190", "ds_on_cylinder"),
        ("2.25 -075 x 190", "missing_sign"),
        ("-2.25 -0.75 x 190 add 2.30", "power_not_on_step"),
        ("-2.25 -0.75 2Δ U foo", "axis_missing"),
        ("-2.25 2Δ U foo", "prism_base_ambiguous"),
        ("-2.25 foo 2Δ", "prism_base_missing"),
        ("R -2.25 foo L -2.00 bar", "unexpected_text"),
        ("-2.25 -0.75 x 90 -2.00 -0.50 x 85", "eye_label_missing"),
        ("-2.25 -0.75 x 90 +2.00", "too_many_values"),
        ("-2.25 2Δ base left", "prism_base_ambiguous"),
        ("-2.25 2Δ BUO", "prism_half_circle_not_supported"),
        ("-2.25 2Δ BU 1Δ @ 90", "prism_bases_conflict"),
        ("-2.25 2Δ BO + 1Δ BU", "prism_signed"),
        ("6/9-2 -2.25 DS", "sphere_missing"),
        ("BVD 12 plano", "sphere_missing"),
        ("x 90 +1.00", "sphere_missing"),
        ("| R -2.25 L -2.00", "unexpected_text"),
        ("-2.25 1/2Δ BU", "missing_sign"),
        ("-l.25", "unexpected_text"),
        ("R - L -2.00", "no_value"),
        ("Sph -2.25 Cyl -0.75 x 90", "unexpected_text"),
        ("-2.25 VA 0.8", "unexpected_text"),
    ] {
        assert_eq!(answer(typed)["error"]["kind"], json!(kind), "{typed}");
    }
}

#[test]
fn a_message_repeats_no_more_than_the_piece_in_question() {
    let error = read("-2.25 -0.75 x 90 Somebody Quitelonglyknownbyname").unwrap_err();
    assert!(error.message.contains("\"Somebody\""), "{error}");
    assert!(
        !error.message.contains("Quitelongly") && !error.message.contains("-2.25"),
        "{error}"
    );
}
