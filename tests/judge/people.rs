//! Who may measure and hand over for whom, and what a wearer must be asked.

use crate::sound_pair::{
    ASSISTANT, Change, OPTICIAN, OPTOMETRIST, TRAINEE, practice_with, said, said_in, severities,
};
use rimbook::testing::job::Gate::{self, Collected, Ordered};
use rimbook::testing::job::Section;
use rimbook::testing::judge::gate::{About, Severity};
use rimbook::testing::trade::eye::Eye;
use serde_json::{Value, json};

/// The check of the measuring of a wearer.
const MEASURED: [(&str, &str, &str); 2] = [
    ("restricted-under-16", "born", "2016-01-01"),
    ("restricted-sight-impaired", "sight_impaired", "severe"),
];

fn wearer(key: &str, value: &Value) -> Change {
    (Section::Wearer, json!({ key: value }))
}

fn measured(by: &Value, supervisor: &Value) -> Change {
    let people = json!({"taken_by": by, "supervised_by": supervisor});
    (Section::Fitting, people)
}

fn given(by: &Value, supervisor: &Value) -> Change {
    let people = json!({"given_by": by, "supervised_by": supervisor});
    (Section::Handover, people)
}

/// Who did it, who supervised, and whether both may serve a restricted wearer together.
fn pairs_of_people() -> Vec<(Value, Value, bool)> {
    let no = Value::Null;
    let name = |n: &str| json!(n);
    vec![
        (name(OPTICIAN), no.clone(), true),
        (name(OPTOMETRIST), no.clone(), true),
        // A trainee's own supervisor counts without being named.
        (name(TRAINEE), no.clone(), true),
        (name(TRAINEE), name(OPTOMETRIST), true),
        (name(ASSISTANT), name(OPTICIAN), true),
        (name(ASSISTANT), name(OPTOMETRIST), true),
        (name(ASSISTANT), no.clone(), false),
        (name(ASSISTANT), name(ASSISTANT), false),
        (name(ASSISTANT), name(TRAINEE), false),
        (name(ASSISTANT), name("Somebody Else"), false),
        (name("Somebody Else"), no.clone(), false),
        (no.clone(), no, false),
    ]
}

#[test]
fn a_restricted_wearer_is_measured_by_or_under_somebody_registered() {
    for (id, key, value) in MEASURED {
        for (by, supervisor, may) in pairs_of_people() {
            let changes = [wearer(key, &json!(value)), measured(&by, &supervisor)];
            let expected = if may { vec![] } else { vec![Severity::Stop] };
            assert_eq!(
                severities(id, Ordered, &changes),
                expected,
                "{id}: {by} under {supervisor}"
            );
        }
        let unrestricted = [measured(&json!(ASSISTANT), &Value::Null)];
        assert!(said(id, Ordered, &unrestricted).is_empty(), "{id}");
        let off = practice_with("restricted-groups", "off");
        let changes = [
            wearer(key, &json!(value)),
            measured(&json!(ASSISTANT), &Value::Null),
        ];
        assert!(said_in(&off, id, Ordered, &changes).is_empty(), "{id}");
    }
}

#[test]
fn the_finding_names_who_measured_and_who_was_named_as_supervisor() {
    let of = |supervisor: &Value| {
        let changes = [
            wearer("born", &json!("2016-01-01")),
            measured(&json!(ASSISTANT), supervisor),
        ];
        said("restricted-under-16", Ordered, &changes).remove(0)
    };
    let finding = of(&Value::Null);
    assert!(finding.message.contains(ASSISTANT), "{}", finding.message);
    assert!(!finding.values.contains_key("supervised_by"));
    let finding = of(&json!(TRAINEE));
    assert!(finding.message.contains(TRAINEE), "{}", finding.message);
    assert_eq!(finding.values["supervised_by"], json!(TRAINEE));
}

#[test]
fn a_pair_is_given_to_a_restricted_wearer_by_or_under_somebody_registered() {
    for (key, value) in [
        ("born", json!("2010-10-13")),
        ("sight_impaired", json!("partial")),
        // Nobody asked.
        ("sight_impaired", Value::Null),
    ] {
        for (by, supervisor, may) in pairs_of_people() {
            let changes = [wearer(key, &value), given(&by, &supervisor)];
            let expected = if may { vec![] } else { vec![Severity::Stop] };
            assert_eq!(
                severities("restricted-handover", Collected, &changes),
                expected,
                "{key} {value}: {by} under {supervisor}"
            );
        }
        let off = practice_with("restricted-groups", "off");
        let changes = [wearer(key, &value), given(&json!(ASSISTANT), &Value::Null)];
        assert!(said_in(&off, "restricted-handover", Collected, &changes).is_empty());
    }
    // Sixteen on the day of the handover, and asked.
    let changes = [
        wearer("born", &json!("2010-10-12")),
        given(&json!(ASSISTANT), &Value::Null),
    ];
    assert!(said("restricted-handover", Collected, &changes).is_empty());
}

#[test]
fn a_restricted_wearers_pair_is_never_posted_and_an_adults_is_a_question_of_the_fitting() {
    let child = wearer("born", &json!("2016-01-01"));
    let impaired = wearer("sight_impaired", &json!("severe"));
    let unasked = wearer("sight_impaired", &Value::Null);
    for (method, away) in [
        ("in person", false),
        ("posted", true),
        ("taken by another", true),
    ] {
        let how = (Section::Handover, json!({ "method": method }));
        let of =
            |id: &str, wearer: &Change| severities(id, Collected, &[wearer.clone(), how.clone()]);
        let stop = if away { vec![Severity::Stop] } else { vec![] };
        let warning = if away {
            vec![Severity::Warning]
        } else {
            vec![]
        };
        assert_eq!(of("restricted-handover", &child), stop, "{method}");
        assert_eq!(of("restricted-handover", &impaired), stop, "{method}");
        assert_eq!(of("restricted-handover", &unasked), [], "{method}");
        assert_eq!(of("not-fitted", &child), [], "{method}");
        assert_eq!(of("not-fitted", &impaired), warning, "{method}");
        assert_eq!(of("not-fitted", &unasked), warning, "{method}");
    }
    let posted = (Section::Handover, json!({"method": "posted"}));
    let never = practice_with("posted", "off");
    let list = said_in(
        &never,
        "not-fitted",
        Collected,
        std::slice::from_ref(&posted),
    );
    assert_eq!(
        list.iter().map(|f| f.severity).collect::<Vec<_>>(),
        [Severity::Stop]
    );
    // Where no group is restricted, a child's posted pair is not passed over in silence.
    let off = practice_with("restricted-groups", "off");
    assert_eq!(
        said_in(&off, "not-fitted", Collected, &[child, posted]).len(),
        1
    );
}

#[test]
fn the_date_of_birth_is_asked_for_and_questioned_from_111_years_on() {
    let of = |id: &str, born: Value| severities(id, Ordered, &[wearer("born", &born)]);
    assert_eq!(of("birth-unasked", Value::Null), [Severity::Stop]);
    assert_eq!(of("birth-unasked", json!("1994-05-17")), []);
    assert_eq!(of("birth-unlikely", Value::Null), []);
    // 110 until the day before the birthday, on 2026-10-12.
    assert_eq!(of("birth-unlikely", json!("1915-10-13")), []);
    assert_eq!(
        of("birth-unlikely", json!("1915-10-12")),
        [Severity::Warning]
    );
}

#[test]
fn whether_a_wearer_is_sight_impaired_is_asked_unless_somebody_registered_measured() {
    let of = |sight: Value, by: Value| {
        let changes = [
            wearer("sight_impaired", &sight),
            measured(&by, &Value::Null),
        ];
        severities("sight-unasked", Ordered, &changes)
    };
    assert_eq!(of(Value::Null, json!(ASSISTANT)), [Severity::Stop]);
    assert_eq!(of(Value::Null, json!(TRAINEE)), [Severity::Stop]);
    assert_eq!(of(Value::Null, json!("Somebody Else")), [Severity::Stop]);
    assert_eq!(of(Value::Null, Value::Null), [Severity::Stop]);
    assert_eq!(of(Value::Null, json!(OPTICIAN)), []);
    assert_eq!(of(json!("no"), json!(ASSISTANT)), []);
    let off = practice_with("restricted-groups", "off");
    let changes = [
        wearer("sight_impaired", &Value::Null),
        measured(&json!(ASSISTANT), &Value::Null),
    ];
    assert!(said_in(&off, "sight-unasked", Ordered, &changes).is_empty());
}

#[test]
fn whether_a_wearer_drives_is_asked_for_tinted_photochromic_and_office_pairs_from_sixteen_on() {
    let tint = |tint: Value| (Section::Lenses, json!({ "tint": tint }));
    let office = (Section::Lenses, json!({"design": "office"}));
    let of = |drives: Value, born: &str, pair: &Change| {
        let changes = [
            (Section::Wearer, json!({"drives": drives, "born": born})),
            pair.clone(),
        ];
        severities("driving-unasked", Ordered, &changes)
    };
    let (grown, sixteen, fifteen) = ("1984-01-01", "2010-10-12", "2010-10-13");
    for (pair, asks) in [
        (tint(json!({"sun": true})), true),
        (tint(json!({"colour": "brown"})), true),
        (tint(json!({"category": 1})), true),
        (tint(json!({"transmittance_percent": 80})), true),
        (tint(json!({"photochromic": true})), true),
        (office, true),
        (tint(json!({"transmittance_percent": 81})), false),
        (tint(json!({"category": 0})), false),
        (tint(json!({"sun": false})), false),
        (tint(Value::Null), false),
    ] {
        let stop = if asks { vec![Severity::Stop] } else { vec![] };
        assert_eq!(of(Value::Null, grown, &pair), stop, "{pair:?}");
        assert_eq!(of(Value::Null, sixteen, &pair), stop, "{pair:?}");
        assert_eq!(of(Value::Null, fifteen, &pair), [], "{pair:?}");
        assert_eq!(of(json!(true), grown, &pair), [], "{pair:?}");
        assert_eq!(of(json!(false), grown, &pair), [], "{pair:?}");
    }
    let later = practice_with("driving-age", "17");
    let changes = [
        (Section::Wearer, json!({"drives": null, "born": sixteen})),
        tint(json!({"sun": true})),
    ];
    assert!(said_in(&later, "driving-unasked", Ordered, &changes).is_empty());
}

#[test]
fn a_small_childs_tilt_and_the_height_of_its_pupils_are_noted() {
    let of = |born: &str, fitting: Value| {
        let list = said(
            "child-fit",
            Ordered,
            &[
                (Section::Wearer, json!({ "born": born })),
                (Section::Frame, json!({"b_mm": 32})),
                (Section::Fitting, fitting),
            ],
        );
        list.into_iter()
            .map(|f| (f.eye, f.severity))
            .collect::<Vec<_>>()
    };
    let fitted = |tilt: f64, right: f64| json!({"pantoscopic_deg": tilt, "right": {"height_mm": right}, "left": {"height_mm": 17}});
    let (eleven, twelve) = ("2014-10-13", "2014-10-12");
    assert_eq!(of(eleven, fitted(8.0, 16.0)), []);
    assert_eq!(
        of(eleven, fitted(8.5, 16.0)),
        [(About::Job, Severity::Note)]
    );
    let right = About::from(Eye::Right);
    assert_eq!(of(eleven, fitted(8.0, 15.5)), [(right, Severity::Note)]);
    assert_eq!(of(twelve, fitted(8.5, 15.5)), []);
    // Nothing measured, nothing said.
    let nothing =
        json!({"pantoscopic_deg": null, "right": {"height_mm": null}, "left": {"height_mm": null}});
    assert_eq!(of(eleven, nothing), []);
}

#[test]
fn whoever_measured_or_handed_over_is_on_the_staff_list() {
    let of = |id: &str, gate: Gate, change: Change| severities(id, gate, &[change]);
    for (by, holds) in [
        (json!(ASSISTANT), false),
        (json!("nadia brookwell "), false),
        (json!("Somebody Else"), true),
        (Value::Null, true),
    ] {
        let stop = if holds { vec![Severity::Stop] } else { vec![] };
        let no = Value::Null;
        assert_eq!(of("measured-by", Ordered, measured(&by, &no)), stop, "{by}");
        assert_eq!(of("handover-by", Collected, given(&by, &no)), stop, "{by}");
    }
}

#[test]
fn a_way_that_a_practice_has_switched_off_is_a_stop_whoever_answers_for_it() {
    let copied = [(
        Section::Prescription,
        json!({"kind": "copied from worn pair", "copied_by": OPTICIAN, "copied_because": "broken abroad"}),
    )];
    let adapted = [(
        Section::Lenses,
        json!({"powers": {"as": "adapted to the task", "by": OPTICIAN, "distance_mm": 650, "because": "screen"}}),
    )];
    for (id, setting, changes) in [
        ("rx-missing", "copies", &copied),
        ("powers-need-registrant", "adapted", &adapted),
    ] {
        let on = said_in(&practice_with(setting, "on"), id, Ordered, changes);
        assert!(on.is_empty(), "{id}: {on:?}");
        let off = said_in(&practice_with(setting, "off"), id, Ordered, changes);
        assert_eq!(off.len(), 1, "{id}: {off:?}");
    }
}

#[test]
fn a_finding_leads_to_the_entry_that_is_still_open() {
    let child = (Section::Wearer, json!({"born": "2016-06-04"}));
    let by = |name: &str| {
        (
            Section::Fitting,
            json!({"taken_by": name, "supervised_by": null}),
        )
    };
    let list = said("restricted-under-16", Ordered, &[child, by(ASSISTANT)]);
    assert_eq!(list[0].field, "fitting.supervised_by");
    let progressive =
        json!({"sphere_d": 1.0, "cylinder_d": null, "axis_deg": null, "addition_d": 2.0});
    let unread = [
        (
            Section::Prescription,
            json!({"right": progressive, "left": progressive}),
        ),
        (
            Section::Lenses,
            json!({"design": "progressive", "powers": {"right": progressive, "left": progressive}}),
        ),
        (
            Section::Readings,
            json!({"right": {"sphere_d": 1.0, "addition_d": 2.0, "cd_mm": null, "base_in_delta": 0, "base_up_delta": 0},
                "left": {"sphere_d": 1.0, "addition_d": 2.0, "base_in_delta": 0, "base_up_delta": 0}}),
        ),
    ];
    let list = said("readings-missing", Gate::Verified, &unread);
    let fields: Vec<&str> = list.iter().map(|f| f.field.as_str()).collect();
    assert!(fields.contains(&"readings.right.cd_mm"), "{fields:?}");
}
