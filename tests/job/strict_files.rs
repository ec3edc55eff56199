//! A slip of the hand in a job file or a change is refused at its place, and nothing vanishes.

use crate::driver::scenario;
use rimbook::testing::job::{Job, Section, read_jobs, read_json};
use serde_json::{Value, json};

/// The invented jobs that the files are made from: every design, prism, a recheck.
fn files() -> Vec<Value> {
    ["S01", "S03", "S07", "S09", "S10", "S12"]
        .iter()
        .map(|id| scenario(id)["job"].clone())
        .collect()
}

/// Every place inside a value: the pointer, and whether an object stands there.
fn places(value: &Value, at: &str, all: &mut Vec<(String, bool)>) {
    match value {
        Value::Object(map) => {
            all.push((at.to_owned(), true));
            for (key, inner) in map {
                places(inner, &format!("{at}/{key}"), all);
            }
        }
        _ => all.push((at.to_owned(), false)),
    }
}

fn all_places(file: &Value) -> Vec<(String, bool)> {
    let mut all = Vec::new();
    places(file, "", &mut all);
    all
}

/// A pointer as an error says it.
fn said_as(pointer: &str) -> String {
    pointer.trim_start_matches('/').replace('/', ".")
}

#[test]
fn an_unknown_key_is_refused_whatever_stands_behind_it() {
    let mut tried = 0;
    for file in files() {
        for (at, is_object) in all_places(&file) {
            if !is_object {
                continue;
            }
            for behind in [json!(null), json!({}), json!(1), json!([])] {
                let mut changed = file.clone();
                changed.pointer_mut(&at).unwrap()["zz_top"] = behind.clone();
                let refused =
                    read_jobs(&changed.to_string()).expect_err(&format!("{at}/zz_top = {behind}"));
                assert!(
                    refused.place.contains("zz_top") || refused.problem.contains("zz_top"),
                    "{refused}"
                );
                tried += 1;
            }
        }
    }
    assert!(tried > 200, "{tried}");
}

#[test]
fn an_empty_object_is_no_value_and_null_is_none() {
    let mut tried = 0;
    for file in files() {
        for (at, is_object) in all_places(&file) {
            let header = ["/format", "/version", "/wearer", "/wearer/name"];
            if is_object || header.contains(&at.as_str()) {
                continue;
            }
            let mut changed = file.clone();
            *changed.pointer_mut(&at).unwrap() = json!({});
            let refused = read_jobs(&changed.to_string()).expect_err(&at);
            assert!(
                refused.to_string().contains(&said_as(&at)),
                "{at}: {refused}"
            );
            assert!(
                !refused.problem.contains("struct") && !refused.problem.contains("f64"),
                "{refused}"
            );
            *changed.pointer_mut(&at).unwrap() = Value::Null;
            assert!(
                read_jobs(&changed.to_string()).is_ok(),
                "{at} = null is absent"
            );
            tried += 1;
        }
    }
    assert!(tried > 200, "{tried}");
}

#[test]
fn an_object_that_holds_nothing_says_nothing() {
    let file = json!({
        "format": "rimbook-job", "version": 1, "wearer": {"name": "Una Merrowby"},
        "frame": {"pads": {}}, "prescription": {"previous": {"right": {}}},
    });
    let job = &read_jobs(&file.to_string()).unwrap()[0];
    assert_eq!(job.frame.pads, None);
    assert_eq!(job.prescription.previous, None);
}

#[test]
fn a_key_written_twice_is_refused() {
    for text in [
        r#"{"format":"rimbook-job","version":1,"wearer":{"name":"A"},"wearer":{"name":"B"}}"#,
        r#"{"format":"rimbook-job","version":1,"wearer":{"name":"A","name":"B"}}"#,
    ] {
        let refused = read_jobs(text).unwrap_err();
        assert!(refused.problem.contains("written twice"), "{refused}");
    }
    assert!(read_json(r#"{"cd_mm": 31, "cd_mm": 32}"#).is_err());
    // Names of two objects are two names.
    assert!(read_json(r#"{"right": {"cd_mm": 31}, "left": {"cd_mm": 31}}"#).is_ok());
}

#[test]
fn a_change_takes_away_what_it_names_and_nothing_else() {
    let read = |file: &Value| -> Job { read_jobs(&file.to_string()).unwrap().remove(0) };
    let mut job = read(&scenario("S01")["job"]);
    let before = job.clone();
    for (section, change, place) in [
        (
            Section::Fitting,
            json!({"right": {"vertex_mm": {}}}),
            "fitting.right.vertex_mm",
        ),
        (
            Section::Fitting,
            json!({"pantoscopic_deg": {}}),
            "fitting.pantoscopic_deg",
        ),
        (
            Section::Fitting,
            json!({"right": {"vertex": null}}),
            "fitting.right.vertex",
        ),
        (Section::Wearer, json!({"allergy": null}), "wearer.allergy"),
        (
            Section::Wearer,
            json!({"allergies": {}}),
            "wearer.allergies",
        ),
        (
            Section::Lenses,
            json!({"powers": {"rite": null}}),
            "lenses.powers.rite",
        ),
    ] {
        let refused = job.record(section, &change).unwrap_err().to_string();
        assert!(refused.starts_with(place), "{change}: {refused}");
        assert_eq!(job, before, "{change}");
    }
    job.record(Section::Fitting, &json!({"right": {"vertex_mm": null}}))
        .unwrap();
    assert_eq!(job.fitting.right.vertex_mm, None);
}

#[test]
fn a_refusal_does_not_repeat_what_may_be_a_name() {
    let file = json!({
        "format": "rimbook-job", "version": 1, "wearer": {"name": "Una Merrowby"},
        "fitting": {"head_width_mm": "Una Merrowby"},
    });
    let refused = read_jobs(&file.to_string()).unwrap_err().to_string();
    assert!(
        refused.starts_with("fitting.head_width_mm: is a text;"),
        "{refused}"
    );
    let file = json!({
        "format": "rimbook-job", "version": 1, "wearer": {"name": "Una Merrowby"},
        "reason": "Una Merrowby",
    });
    let refused = read_jobs(&file.to_string()).unwrap_err().to_string();
    assert!(
        !refused.contains("Una") && refused.contains("remake"),
        "{refused}"
    );
}

/// A text that looks like the end of the reader's own words is still the file's.
#[test]
fn no_place_of_a_job_file_repeats_the_text_that_does_not_belong_there() {
    let mut tried = 0;
    for text in [
        "Alma Dunwood",
        "Alma Dunwood, expected x",
        "Alma Dunwood`, expected `x`",
        "3 Alma Dunwood",
        "2026-12-03 Alma Dunwood",
    ] {
        for mut file in files() {
            file["collection_at"] = json!("2026-10-12T15:30");
            for (at, is_object) in all_places(&file) {
                if at.starts_with("/format") || at.starts_with("/version") {
                    continue;
                }
                let mut changed = file.clone();
                *changed.pointer_mut(&at).unwrap() = json!(text);
                let Err(refused) = read_jobs(&changed.to_string()) else {
                    assert!(!is_object, "{at}");
                    continue;
                };
                let said = refused.to_string();
                assert!(
                    !said.contains("Alma") && !said.contains("Dunwood"),
                    "{said}"
                );
                tried += 1;
            }
        }
    }
    assert!(tried > 500, "{tried}");
}

#[test]
fn what_is_no_day_is_told_how_to_write_one() {
    for born in [
        json!("3 December 1968"),
        json!("1968"),
        json!("1968-02-30"),
        json!("1968-02-03T10:00"),
        json!(""),
    ] {
        let file = json!({"format": "rimbook-job", "version": 1,
            "wearer": {"name": "Una Merrowby", "born": born}});
        assert_eq!(
            read_jobs(&file.to_string()).unwrap_err().to_string(),
            "wearer.born: is no day: write it as 2026-12-03",
            "{born}"
        );
    }
    let file = json!({"format": "rimbook-job", "version": 1,
        "wearer": {"name": "Una Merrowby", "born": 1968}});
    assert_eq!(
        read_jobs(&file.to_string()).unwrap_err().to_string(),
        "wearer.born: is a number; a day as 2026-12-03 belongs there"
    );
    let file = json!({"format": "rimbook-job", "version": 1,
        "wearer": {"name": "Una Merrowby"}, "collection_at": "Thursday"});
    assert_eq!(
        read_jobs(&file.to_string()).unwrap_err().to_string(),
        "collection_at: is no day and time: write it as 2026-12-03T15:30"
    );
}
