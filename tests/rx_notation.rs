//! Every line of the table of written prescriptions, and the places where two checks meet.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "tests"
)]

use rimbook::notation::{ErrorKind, answer};
use serde_json::Value;

fn table() -> Vec<Value> {
    serde_json::from_str(include_str!("data/rx_notation.json")).unwrap()
}

fn kind(line: &str) -> String {
    let answer = answer(line);
    answer["error"]["kind"]
        .as_str()
        .unwrap_or("read")
        .to_owned()
}

#[test]
fn every_line_of_the_table_reads_as_it_says() {
    let cases = table();
    assert_eq!(cases.len(), 152);
    let mut wrong = Vec::new();
    for case in &cases {
        let input = case["input"].as_str().unwrap();
        let got = answer(input);
        let right = match case.get("rx") {
            Some(rx) => got["ok"] == true && got["rx"] == *rx,
            None => got["ok"] == false && got["error"]["kind"] == case["error"],
        };
        if !right {
            wrong.push(format!("{input:?} ({}): {got}", case["note"]));
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
fn every_refusal_in_the_table_is_a_known_kind_with_a_sentence() {
    for case in table().iter().filter(|c| c.get("error").is_some()) {
        let code = case["error"].as_str().unwrap();
        assert!(ErrorKind::ALL.iter().any(|k| k.code() == code), "{code}");
        let answer = answer(case["input"].as_str().unwrap());
        let message = answer["error"]["message"].as_str().unwrap();
        assert!(
            message.contains("type ") && !message.contains("{}"),
            "{message}"
        );
    }
}

#[test]
fn the_earliest_step_and_then_the_leftmost_place_is_reported() {
    for (line, code) in [
        ("-2.25 -0,75 x 90 ½", "unsupported_character"),
        ("-2.25 -0,75 R -1.00 R", "mixed_decimal_separators"),
        ("R 2.25 R -2.00", "duplicate_eye"),
        ("R 2.25 L", "sphere_missing"),
        ("2.25 varifocal", "missing_sign"),
        ("-2.2 75 x 90", "power_not_on_step"),
        ("2.30", "power_not_on_step"),
        ("45.00", "missing_sign"),
        ("-45.00 -0.75", "axis_missing"),
        ("-45.00 -0.75 x 190", "axis_out_of_range"),
        ("-45.00 DS ??", "sphere_out_of_range"),
        ("-2.25 -0.75 2Δ", "axis_missing"),
        ("-2.25 DS 45Δ BU 1Δ BD", "prism_out_of_range"),
        ("-2.25 -0.75 x -190", "axis_signed"),
        ("-2.25 DS Add -2.30", "power_not_on_step"),
    ] {
        assert_eq!(kind(line), code, "{line:?}");
    }
}

#[test]
fn neighbours_of_refused_lines_are_refused_for_the_same_reason() {
    for (line, code) in [
        ("N/A", "no_value"),
        ("None", "no_value"),
        ("–", "no_value"),
        ("R nil L -2.00", "no_value"),
        ("R -2.00 L -", "no_value"),
        ("-2¼", "unsupported_character"),
        ("-2.25\u{3000}-0.75 x 90", "unsupported_character"),
        ("— 2.25", "ambiguous_dash"),
        ("R - 2.25", "ambiguous_dash"),
        ("+/-2.25", "ambiguous_sign"),
        ("+-2.25", "double_sign"),
        ("-2, -1, 90", "ambiguous_comma"),
        ("-2.25 DS Add 2,00", "mixed_decimal_separators"),
        ("-2.25 -0.75 x 90 -2.00 -0.50 x 85", "eye_label_missing"),
        ("OU -1.00 L -2.00", "duplicate_eye"),
        ("-2 1/4", "missing_sign"),
        ("-2 6/8", "missing_sign"),
        ("-2.25 -0.75 -0.50 x 90", "too_many_values"),
        ("-2.25 -0.75 90 45", "too_many_values"),
        ("-2.25 -0.75 @ 90", "at_sign_is_meridian_not_axis"),
        ("plano x 90", "axis_without_cylinder"),
        ("-2.25 -0.75 x", "axis_missing"),
        ("-2.25 -0.75 x90.0", "axis_not_integer"),
        ("-2.25 0.00 x 180", "axis_with_zero_cylinder"),
        ("-2.25 -0.75 00", "axis_zero_use_180"),
        ("-5.", "malformed_number"),
        ("-2.120", "power_not_on_step"),
        (
            "R +1.00 DS L +1.25 DS Add 2.00 x",
            "addition_scope_ambiguous",
        ),
        ("R +1.00 DS Add +2.00 OU", "addition_scope_ambiguous"),
        ("-2.25 DS Add +1.00 Add +2.00", "too_many_values"),
        ("-6.50 BVD 4.9", "vertex_out_of_range"),
        ("-6.50 vertex distance", "vertex_missing"),
        ("-2.25 DS 2Δ BU 1Δ @ 37", "prism_bases_conflict"),
        ("-2.25 DS 2Δ up and in", "prism_half_circle_not_supported"),
        ("-2.25 DS 2Δ BU @ 37", "prism_half_circle_not_supported"),
        ("-2.25 DS 2Δ @ 361", "prism_base_angle_out_of_range"),
        ("-2.25 DS 2Δ base u", "prism_base_ambiguous"),
        ("-2.25 DS +2.00 BU", "prism_signed"),
        ("-2.25 IPD 63", "pd_not_part_of_rx_line"),
        ("PD 63 R -2.25 L -2.00", "pd_not_part_of_rx_line"),
        ("NV: R +1.50 L +1.50", "near_rx_not_distance"),
        ("-2.25 DS -2.00", "axis_missing"),
        ("-2.25R", "eye_label_missing"),
        ("R -2.25 DS Add", "addition_missing"),
        ("-2.25 /", "unexpected_text"),
        ("-2.25 // -0.75 x 90", "unexpected_text"),
        ("hello", "unexpected_text"),
    ] {
        assert_eq!(kind(line), code, "{line:?}");
    }
}

#[test]
fn spellings_of_one_prescription_read_alike() {
    for (same, lines) in [
        (
            "-2.25 -0.75 x 90",
            &[
                "-2.25/-0.75/90",
                "-2.25 | -0.75 | 90",
                "-2.25; -0.75; 90",
                "-2.25-0.75AX90",
                "-2.25D.S./-0.75D.C.x90°",
                "-2.25 sph -0.75 cyl axis: 90",
                "-2.25DS-0.75DCX090",
                "-2.25\u{202f}-0.75\u{2009}×\u{a0}90º",
                "-2.25,-0.75,90",
                "‑2.25 ‐0.75 x90 degrees",
            ][..],
        ),
        (
            "-1.00 BVD 12",
            &[
                "-1 vd:12mm",
                "-1.00D B.V.D. 12.0 mm",
                "-1.0 vertex distance 12 mm",
            ],
        ),
        (
            "R +1.00 Add +2.00 L +1.25 Add +2.00",
            &[
                "R +1.00 L +1.25 Add +2.00 OU",
                "L: +1.25; R: +1.00; OU Add: 2",
                "RE +1.00 | LE +1.25 | both add +2.00",
                "right eye +1.00 / left eye +1.25 Add both eyes +2.00",
                "od +1.00 os +1.25 ADD+2.00 O.U.",
            ],
        ),
        (
            "R -1.00 L -1.00",
            &["OU -1.00", "both: -1.00 DS", "R -1.00 & L -1.00"],
        ),
        (
            "R plano L -0.25",
            &[
                "R: plano L: -0.25",
                "L -.25 R ∞",
                "R plano, L -0.25",
                "R 0 L -0.250",
            ],
        ),
        (
            "plano 2Δ BO 1Δ BU Add +1.00 6/7.5",
            &[
                "pl 6/7.5 add 1 2BO&1BU",
                "0 prism 2 out / 1^ up VA: 6/7.5 Add +1.00",
                "PL 2 Δ base out and 1△ base up 6/7.5 Add 1.00 D",
            ],
        ),
        (
            "-1.00 2.5Δ @ 37",
            &[
                "-1.00 2.5 ∆ base @ 037°",
                "-1.00 prism: 2.50 @37 deg",
                "-1.00 2.5Δ base 37",
            ],
        ),
    ] {
        let meant = answer(same);
        assert_eq!(meant["ok"], true, "{same:?}: {meant}");
        for line in lines {
            let got = answer(line);
            assert_eq!(got, meant, "{line:?}");
        }
    }
}

#[test]
fn the_examples_of_the_guide_are_read_or_refused_as_it_says() {
    let guide = include_str!("../docs/notation.md");
    let (read, refused) = guide.split_once("## Lines that are refused").unwrap();
    let rows = |text: &str| -> Vec<(String, String)> {
        let rows = text.lines().filter(|l| l.starts_with("| `"));
        rows.map(|l| {
            let mut spans = l.split('`').skip(1).step_by(2).map(str::to_owned);
            (spans.next().unwrap(), spans.next().unwrap_or_default())
        })
        .collect()
    };
    let (good, bad) = (rows(read), rows(refused));
    assert!(good.len() >= 15 && bad.len() >= 12);
    for (line, _) in good {
        assert_eq!(kind(&line), "read", "{line}");
    }
    for (line, code) in bad {
        assert_eq!(kind(&line), code, "{line}");
    }
    let numbers = read.split_once("## How numbers are written").unwrap().1;
    for line in numbers.split('`').skip(1).step_by(2) {
        assert_eq!(kind(line), "read", "{line}");
    }
}
