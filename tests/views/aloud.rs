//! A job as it is read out: right before left, digits and signs in words.

use crate::driver::{Driver, scenario};
use proptest::prelude::*;
use rimbook::testing::job::Job;
use rimbook::testing::tui::effect::Effect;
use rimbook::testing::tui::key::Key;
use rimbook::testing::tui::seen::Clipboard;
use rimbook::testing::tui::update::{self, Input};
use rimbook::testing::views::card::read_aloud;
use serde_json::json;

fn job() -> Job {
    serde_json::from_value(json!({
        "stage": "collected", "past": true,
        "wearer": {"name": "Ida Example-Thorn", "born": "1961-04-23", "allergies": ["nickel"]},
        "prescription": {"tested_on": "2026-11-02", "tested_vertex_mm": 12,
            "right": {"sphere_d": -9.5, "cylinder_d": -0.75, "axis_deg": 15, "addition_d": 2, "base_up_delta": 1.5},
            "left": {"sphere_d": 0, "cylinder_d": 0.5, "axis_deg": 180, "base_in_delta": -1, "base_up_delta": -0.5}},
        "fitting": {"taken_on": "2026-11-03",
            "right": {"cd_mm": 31.5, "near_cd_mm": 29.5, "height_mm": 22, "vertex_mm": 13, "length_to_bend_mm": 95},
            "left": {"cd_mm": 32, "height_mm": 21.5, "vertex_mm": 13.5, "length_to_bend_mm": 97},
            "pantoscopic_deg": -2, "head_width_mm": 142},
        "frame": {"name": "Panto 7", "colour": "brown", "a_mm": 52, "b_mm": 38, "dbl_mm": 18, "side_mm": 140},
        "lenses": {"design": "progressive", "material": "resin 1.60", "coatings": ["hard"]},
        "order": {"laboratory": "North Lab", "ordered_on": "2026-11-04"}
    }))
    .unwrap()
}

fn today() -> chrono::NaiveDate {
    "2026-11-25".parse().unwrap()
}

#[test]
fn every_line_says_one_thing_in_words() {
    insta::assert_snapshot!(read_aloud(&job(), "1042", today()).join("\n"), @r"
    Job one zero four two, collected.
    Name: Ida Example hyphen Thorn.
    Born two three April one nine six one, age six five.
    Date of the job: four November two zero two six.
    Mind: allergic: nickel, past, unchecked.
    Prescription of two November two zero two six.
    Right eye: sphere minus nine point five zero, cylinder minus zero point seven five, axis one five, addition two point zero zero, prism one point five zero base up.
    Left eye: plano, cylinder plus zero point five zero, axis one eight zero, prism one point zero zero base out, prism zero point five zero base down.
    Pupil distance: right three one point five millimetres, left three two millimetres.
    Near pupil distance: right two nine point five millimetres, left not recorded.
    Height: right two two millimetres, left two one point five millimetres.
    Vertex distance tested: one two millimetres.
    Vertex distance fitted: right one three millimetres, left one three point five millimetres.
    Length to bend: right nine five millimetres, left nine seven millimetres.
    Head width: one four two millimetres.
    Pads: not recorded.
    Frame: Panto seven, brown.
    Lens width: five two millimetres.
    Lens height: three eight millimetres.
    Between lenses: one eight millimetres.
    Side: one four zero millimetres.
    Lenses: progressive, resin one point six zero, hard.
    Pantoscopic angle: minus two degrees.
    Laboratory: North Lab.
    ");
}

#[test]
fn an_empty_job_says_what_is_not_recorded() {
    let lines = read_aloud(&Job::default(), "1", today());
    for needed in [
        "Name: not recorded.",
        "Right eye: not recorded.",
        "Height: not recorded.",
        "Frame: not recorded.",
    ] {
        assert!(lines.iter().any(|l| l == needed), "{needed}: {lines:?}");
    }
}

/// Whether a character could be heard wrong, or not at all.
fn is_ambiguous(c: char) -> bool {
    c.is_numeric()
        || c.is_control()
        || "+-/\\±°%→·=<>*#|~^_".contains(c) && !"\\<>*#|~^_".contains(c)
        || ('\u{2010}'..='\u{2015}').contains(&c)
        || c == '\u{2212}'
}

fn sound(job: &Job, number: &str) -> Result<(), TestCaseError> {
    for line in read_aloud(job, number, today()) {
        let bad = line.chars().find(|c| is_ambiguous(*c));
        prop_assert_eq!(bad, None, "{}", line);
        prop_assert!(!line.contains('\n'));
        // Right before left, wherever both are named.
        if let (Some(r), Some(l)) = (line.find("right "), line.find("left ")) {
            prop_assert!(r < l, "{}", line);
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn no_digit_and_no_sign_is_left_to_be_misheard(
        sphere in -160i32..160, cylinder in -40i32..40, axis in 1i32..=180, prism in -40i32..40,
        cd in 200i32..400, tilt in -30i32..30, number in "[0-9A-Z-]{1,8}",
        name in "\\PC{0,40}|[0-9+−–½²٣－-]{0,20}",
    ) {
        let mut j = job();
        let value = json!({
            "right": {"sphere_d": f64::from(sphere) / 8.0, "cylinder_d": f64::from(cylinder) / 8.0, "axis_deg": axis,
                "base_in_delta": f64::from(prism) / 4.0},
            "left": {"sphere_d": f64::from(-sphere) / 8.0}});
        j.record(rimbook::testing::job::Section::Prescription, &value).unwrap();
        let fitting = json!({"right": {"cd_mm": f64::from(cd) / 10.0}, "pantoscopic_deg": tilt});
        j.record(rimbook::testing::job::Section::Fitting, &fitting).unwrap();
        // Words of left and right are the form's own here, not those of a name.
        j.frame.name = Some(name.replace("left ", "").replace("right ", ""));
        sound(&j, &number)?;
    }

    #[test]
    fn a_sphere_is_heard_back_as_the_number_that_was_written(eighths in -160i32..160) {
        let mut j = job();
        let sphere = f64::from(eighths) / 8.0;
        j.record(rimbook::testing::job::Section::Prescription, &json!({"right": {"sphere_d": sphere, "cylinder_d": null, "axis_deg": null,
            "addition_d": null, "base_up_delta": null}})).unwrap();
        let lines = read_aloud(&j, "1", today());
        let line = lines.iter().find(|l| l.starts_with("Right eye")).unwrap();
        let words = line.trim_start_matches("Right eye: ").trim_start_matches("sphere ").trim_end_matches('.');
        let heard: String = words.split(' ').map(|w| match w {
            "plano" | "zero" => "0", "minus" => "-", "plus" => "+", "point" => ".",
            "one" => "1", "two" => "2", "three" => "3", "four" => "4", "five" => "5",
            "six" => "6", "seven" => "7", "eight" => "8", "nine" => "9", other => panic!("{other}"),
        }).collect();
        let heard: f64 = heard.parse().unwrap();
        prop_assert!((heard - sphere).abs() < 1e-9, "{} for {}", line, sphere);
    }
}

fn reading() -> Driver {
    let mut job = scenario("S01")["job"].clone();
    job["past"] = json!(true);
    job["number"] = json!("1003");
    let mut d = Driver::signed_in(&[job]);
    d.keys(&["/", "1003", "alt-r"]);
    d
}

#[test]
fn by_keys_the_lines_are_read_one_after_the_other_and_left_again() {
    let mut d = reading();
    let seen = d.screen(80, 24);
    assert!(seen.contains("> Job one zero zero three"), "{seen}");
    d.keys(&["down"]);
    assert!(d.screen(80, 24).contains("> Name: Maribel Thorncroft."));
    d.keys(&["end"]);
    assert!(
        d.screen(80, 24).contains("> Laboratory"),
        "{}",
        d.screen(80, 24)
    );
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, rimbook::testing::tui::Screen::Lookup);
}

#[test]
fn only_the_key_copies_and_a_terminal_without_clipboard_is_told_so() {
    let mut d = reading();
    let copy = Input::Key(Key::parse("alt-y").unwrap());
    let effects = update::input(&mut d.app, copy.clone());
    let [Effect::Copy(text)] = effects.as_slice() else {
        panic!("{effects:?}");
    };
    assert!(text.starts_with("Job one zero zero three"));
    assert!(d.said().contains("Copied"), "{}", d.said());
    for key in ["down", "up", "home", "end"] {
        let key = Input::Key(Key::parse(key).unwrap());
        assert!(update::input(&mut d.app, key).is_empty());
    }
    d.app.clipboard = Clipboard::Refused;
    assert!(update::input(&mut d.app, copy).is_empty());
    assert!(
        d.said().contains("takes nothing onto its clipboard"),
        "{}",
        d.said()
    );
}
