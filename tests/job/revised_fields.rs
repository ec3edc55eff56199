//! Entries of the revised job file: what can be typed, what is refused, and old words read as new ones.

use chrono::NaiveDate;
use rimbook::testing::job::fields::{all_fields, change, find, parse, show, show_value};
use rimbook::testing::job::{Design, Job, Section, read_jobs};
use rimbook::testing::trade::eye::Eye;
use serde_json::{Value, json};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 26).unwrap()
}

fn typed(path: &str, text: &str) -> Result<Value, String> {
    parse(find(path).unwrap(), text, today()).map_err(|e| e.to_string())
}

/// The job after an entry.
fn with(path: &str, text: &str) -> Job {
    let field = find(path).unwrap();
    let mut job = Job::default();
    job.wearer.name = Some("Ida Example".into());
    let value = parse(field, text, today()).unwrap();
    job.record(field.section, &change(field, value)).unwrap();
    job
}

fn file(lenses: &Value, previous: &str) -> String {
    json!({
        "format": "rimbook-job", "version": 1, "wearer": {"name": "Ida Example"},
        "prescription": {"previous": {"design": previous}}, "lenses": lenses,
    })
    .to_string()
}

#[test]
fn words_of_earlier_versions_are_read_and_the_present_ones_written() {
    let old = json!({"design": "occupational", "segment": {"shape": "executive"}});
    let job = read_jobs(&file(&old, "Occupational ")).unwrap().remove(0);
    assert_eq!(job.lenses.design, Some(Design::Office));
    let written = job.to_file().unwrap();
    assert_eq!(
        written["lenses"],
        json!({"design": "office", "segment": {"shape": "full-width"}})
    );
    let previous = job.prescription.previous.unwrap();
    assert_eq!(previous.design.as_deref(), Some("Occupational "));
    assert_eq!(previous.design_word(), "office");
    // The same of a change, and of what is typed.
    let mut job = Job::default();
    job.record(Section::Lenses, &old).unwrap();
    assert_eq!(job.section(Section::Lenses).unwrap(), written["lenses"]);
    assert_eq!(typed("lenses.design", "Occupational"), Ok(json!("office")));
    assert_eq!(
        typed("lenses.segment.shape", "executive"),
        Ok(json!("full-width"))
    );
}

#[test]
fn a_wrong_word_is_refused_with_the_present_words_alone() {
    let wrong = json!({"design": "varifocal"});
    let refused = read_jobs(&file(&wrong, "")).unwrap_err();
    assert_eq!(refused.place, "lenses.design");
    assert!(refused.problem.contains("office"), "{refused}");
    assert!(!refused.problem.contains("occupational"), "{refused}");
    let refused = typed("lenses.design", "varifocal").unwrap_err();
    assert!(!refused.contains("occupational"), "{refused}");
}

#[test]
fn tasks_are_typed_with_their_distances() {
    let path = "wearer.tasks";
    assert_eq!(
        typed(path, "reading 400, screen 65 cm, music, 250 mm"),
        Ok(json!([
            {"what": "reading", "distance_mm": 400},
            {"what": "screen", "distance_mm": 650},
            {"what": "music"},
            {"distance_mm": 250},
        ]))
    );
    assert_eq!(typed(path, "none"), Ok(json!([])));
    assert_eq!(typed(path, " "), Ok(Value::Null));
    for (text, wanted) in [("reading 99", false), ("reading 100", true)] {
        assert_eq!(typed(path, text).is_ok(), wanted, "{text}");
    }
    for (text, wanted) in [("far 6000", true), ("far 6001", false)] {
        assert_eq!(typed(path, text).is_ok(), wanted, "{text}");
    }
    let refused = typed(path, "reading 40").unwrap_err();
    assert!(refused.contains("100 to 6000"), "{refused}");
    let job = with(path, "screen 65 cm, music");
    let field = find(path).unwrap();
    assert_eq!(show(&job, field), "screen 650 mm, music");
    let value = typed(path, "screen 65 cm, music").unwrap();
    assert_eq!(show_value(field, Some(&value)), "screen 650 mm, music");
    let tasks = with(path, "reading 400, screen 650").wearer.tasks.unwrap();
    assert_eq!(tasks.shortest_mm(0.0), Some(400.0));
    assert_eq!(tasks.shortest_mm(500.0), Some(650.0));
    assert_eq!(tasks.shortest_mm(700.0), None);
}

#[test]
fn a_task_of_a_file_is_an_object_in_a_list() {
    let mut job = Job::default();
    for wrong in [
        json!(["reading"]),
        json!([["reading", 400]]),
        json!({"what": "reading"}),
    ] {
        let change = json!({"tasks": wrong, "name": "Ida Example"});
        assert!(job.record(Section::Wearer, &change).is_err(), "{wrong}");
    }
}

#[test]
fn a_side_of_nought_is_a_frame_without_sides() {
    let path = "frame.side_mm";
    for (text, wanted) in [("0", true), ("69", false), ("70", true), ("221", false)] {
        assert_eq!(typed(path, text).is_ok(), wanted, "{text}");
    }
}

#[test]
fn sizes_without_a_base_have_no_sign() {
    for (path, most) in [
        ("lenses.prism_control.amount_delta", "15"),
        ("readings.prism_control_delta.right", "15"),
        ("lenses.power_drop_d", "5"),
        ("lenses.lowered_mm", "15"),
    ] {
        assert!(typed(path, most).is_ok(), "{path}");
        assert!(typed(path, &format!("{most}.5")).is_err(), "{path}");
        assert!(typed(path, "-1").is_err(), "{path}");
    }
    let job = with("readings.prism_control_delta.left", "2");
    let read = job.readings.prism_control_delta.unwrap();
    assert!(read.right.is_none() && read.left.is_some());
}

#[test]
fn both_eyes_of_a_value_lie_in_one_row_and_a_value_of_one_eye_alone_in_its_own() {
    let eye = |path: &str| find(path).unwrap().eye.map(Eye::word);
    assert_eq!(eye("readings.prism_control_delta.right"), Some("right"));
    assert_eq!(eye("prescription.previous.left_height_mm"), Some("left"));
    // There is no other width by that name: it is the left lens's where it differs.
    assert_eq!(eye("lenses.segment.left_width_mm"), None);
}

#[test]
fn questions_of_a_file_are_passed_over() {
    let mut with_questions: Value = serde_json::from_str(&file(&json!({}), "")).unwrap();
    with_questions["questions"] = json!([{"of": "prescriber", "text": "Is the addition meant?", "by": "A", "on": "2026-10-01"}]);
    let job = read_jobs(&with_questions.to_string()).unwrap().remove(0);
    assert!(!job.to_file().unwrap().contains_key("questions"));
}

#[test]
fn marks_are_kept_as_they_are_written() {
    // Any mark is read: whether spectacles can carry it is for the gate to say.
    for path in [
        "frame.impact_mark",
        "lenses.impact_mark",
        "lenses.impact_asked",
    ] {
        assert_eq!(typed(path, " b "), Ok(json!("b")), "{path}");
    }
}

#[test]
fn the_form_keeps_what_is_always_measured_before_what_is_rarely_written() {
    let at = |path: &str| all_fields().iter().position(|f| f.full() == path).unwrap();
    for (first, second) in [
        (
            "prescription.left.acuity",
            "prescription.right.near_base_in_delta",
        ),
        ("prescription.notes", "prescription.kind"),
        ("fitting.head_width_mm", "fitting.prism_in_place"),
        (
            "fitting.prism_in_place",
            "fitting.second_reading.binocular_pd_mm",
        ),
        ("frame.base_d", "frame.supplier"),
        ("lenses.base_d", "lenses.compensates.vertex"),
        ("lenses.powers.as", "lenses.compensates.face_form"),
    ] {
        assert!(at(first) < at(second), "{first} before {second}");
    }
}
