//! Written prescriptions one by one: the table of cases, and every example of the user's guide.

use rimbook::testing::trade::notation::{ErrorKind, Reading, answer, read, written};
use serde_json::{Value, json};

#[test]
fn every_case_of_the_table_is_read_or_refused_as_it_says() {
    let cases: Vec<Value> = serde_json::from_str(include_str!("../data/rx_notation.json")).unwrap();
    assert!(cases.len() >= 155, "only {} cases", cases.len());
    let mut wrong = Vec::new();
    for case in &cases {
        let input = case["input"].as_str().unwrap();
        let got = answer(input);
        let right = match case.get("rx") {
            // What was assumed is beside the values; its cases are below.
            Some(rx) => got["ok"] == json!(true) && got["rx"] == *rx,
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
                let Ok(Reading::Two { eyes, .. }) = read(typed) else {
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
        ("-2.25 VA 0.8", "unexpected_text"),
    ] {
        assert_eq!(answer(typed)["error"]["kind"], json!(kind), "{typed}");
    }
}

/// Where two readings are possible, none is taken.
#[test]
fn lines_with_two_readings_are_refused_by_name() {
    for (typed, kind) in [
        // Names before figures: whose figure, and which eye.
        ("Sph -2.25 Sph -2.00", "eye_label_missing"),
        ("Sph -2.25 Axis 90", "axis_without_cylinder"),
        ("Cyl -0.75 Axis 90", "sphere_missing"),
        ("Sph 2.25 Cyl -0.75 Axis 90", "missing_sign"),
        ("DS -2.25", "unexpected_text"),
        ("SPH CYL AX ADD -2.25 -0.75 90 +2.00", "sphere_missing"),
        // One figure and the word of an addition.
        ("+1.00 add", "sphere_missing"),
        ("2.00 add", "sphere_missing"),
        ("-2.25 add", "addition_missing"),
        ("+1.00 DS add", "addition_missing"),
        ("+1.00 int", "sphere_missing"),
        ("-2.25 int", "intermediate_addition_missing"),
        ("+1.00 -0.50 90 add", "addition_missing"),
        ("+1.00 -0.50 2 add", "axis_missing"),
        ("+1.00 +2.50 add +1.25", "axis_missing"),
        ("+1.00 -0.50 x 2 add", "addition_missing"),
        ("-2.25 DS -2.00 add", "negative_addition"),
        // Eye by eye, and then one more.
        (
            "R +1.00 add 2.00 L +1.25 add 2.00 int 1.00",
            "addition_scope_ambiguous",
        ),
        ("R +1.00 int 1 L +1.25 add 2.00", "addition_scope_ambiguous"),
        ("R +1.00 add +2.00 OU", "addition_scope_ambiguous"),
        // Near prism.
        ("-2.25 near 2 BI add +2.00 1 BU", "near_prism_ambiguous"),
        ("-2.25 near 2 BI 3 BI", "prism_bases_conflict"),
        ("-2.25 near -2 BI", "prism_signed"),
        ("-2.25 2 BI near", "near_rx_not_distance"),
        ("near 2 BI", "sphere_missing"),
        ("-2.25 near +0.25", "near_rx_not_distance"),
        // `pd` without a base is a distance.
        ("-2.25 2pd", "pd_not_part_of_rx_line"),
        ("-2.25 63PD", "pd_not_part_of_rx_line"),
        ("-2.25 PD 2 down", "pd_not_part_of_rx_line"),
        ("-2.25 -2pd down", "prism_signed"),
        ("-2.25 2pd D", "prism_base_ambiguous"),
        // A sign that may be a dash.
        ("-2.00 - 0.75 x 90", "ambiguous_sign"),
        ("-2.00 DS - 0.75 DC x 90", "ambiguous_sign"),
        ("-2.25 sph - 0.75 x 90", "ambiguous_sign"),
        ("+1.00 add - 2.00", "ambiguous_sign"),
        ("-2.25 BVD - 12", "ambiguous_sign"),
        ("+/- 2.25", "ambiguous_sign"),
        ("- - 2.25", "double_sign"),
        ("- 225", "missing_decimal_point"),
    ] {
        assert_eq!(answer(typed)["error"]["kind"], json!(kind), "{typed}");
    }
}

#[test]
fn one_addition_after_two_eyes_is_for_both_and_said() {
    let near = ["addition for both eyes"];
    let two = [
        "addition for both eyes",
        "intermediate addition for both eyes",
    ];
    let none: [&str; 0] = [];
    for (typed, additions, assumed) in [
        ("R +1.00 DS L +1.25 DS Add +2.00", (2.0, None), &near[..]),
        ("L +1.25 R +1.00 2.00 add", (2.0, None), &near),
        ("R +1.00 L +1.25 add +2.00 BVD 12 6/6", (2.0, None), &near),
        (
            "R +1.00 L +1.25 int +1.00 add +2.00",
            (2.0, Some(1.0)),
            &two,
        ),
        ("R +1.00 L +1.25 add +2.00 OU", (2.0, None), &none),
        ("R +1.00 add +2.00 L +1.25 add +2.00", (2.0, None), &none),
        ("OU +1.00 add +2.00", (2.0, None), &none),
    ] {
        let got = answer(typed);
        for eye in ["right", "left"] {
            let eye = &got["rx"][eye];
            assert_eq!(eye["addition_d"], json!(additions.0), "{typed}");
            assert_eq!(
                eye.get("intermediate_addition_d").and_then(Value::as_f64),
                additions.1,
                "{typed}"
            );
        }
        match got.get("assumed") {
            Some(said) => assert_eq!(said, &json!(assumed), "{typed}"),
            None => assert!(assumed.is_empty(), "{typed}"),
        }
    }
    // An addition after the first eye alone is that eye's.
    let got = answer("R +1.00 2.00 add L +1.25");
    assert_eq!(got["rx"]["left"]["addition_d"], json!(null));
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
