//! Every check, made to hold by one change to a pair that has nothing against it.
//!
//! The pair is scenario S01 of `tests/data/scenarios.json`; each row changes one thing. A check
//! without a row fails the test, so no check can stand in the catalogue that cannot hold.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::missing_assert_message,
    missing_docs,
    reason = "tests"
)]

use std::collections::BTreeSet;
use std::sync::LazyLock;

use chrono::NaiveDate;
use rimbook::gate::catalogue::{CHECKS, by_id};
use rimbook::gate::{
    About, Acceptance, Context, Finding, Found, Passed, Practice, Refusal, Severity, Surroundings,
    findings,
};
use rimbook::job::{Gate, Job, Section, StaffRoll, Stage, read_jobs};
use serde_json::{Value, json};

static SCENARIO: LazyLock<Value> = LazyLock::new(|| {
    let all: Value = serde_json::from_str(include_str!("data/scenarios.json")).unwrap();
    all["scenarios"][0].clone()
});

fn scenario() -> &'static Value {
    &SCENARIO
}

fn staff() -> StaffRoll {
    StaffRoll(serde_json::from_value(scenario()["staff"].clone()).unwrap())
}

fn today() -> NaiveDate {
    scenario()["today"].as_str().unwrap().parse().unwrap()
}

/// The pair with its readings and handover, nothing against it at any gate.
fn sound_job() -> Job {
    let s = scenario();
    let mut job = read_jobs(&s["job"].to_string()).unwrap().remove(0);
    for step in s["steps"].as_array().unwrap() {
        if step["do"] == "record" {
            let section = Section::from_word(step["section"].as_str().unwrap()).unwrap();
            job.record(section, &step["value"]).unwrap();
        }
    }
    job
}

fn found_with(
    job: &Job,
    gate: Gate,
    others: &[Job],
    acceptances: &[Acceptance],
    passed: &[Passed],
) -> Vec<Finding> {
    let (staff, practice) = (staff(), Practice::default());
    let around = Surroundings {
        today: today(),
        staff: &staff,
        practice: &practice,
        others,
    };
    findings(gate, job, around, acceptances, passed)
}

fn found(job: &Job, gate: Gate) -> Vec<Finding> {
    found_with(job, gate, &[], &[], &[])
}

fn changed(changes: &[(&str, Value)]) -> Job {
    let mut job = sound_job();
    for (section, change) in changes {
        job.record(Section::from_word(section).unwrap(), change)
            .expect(section);
    }
    job
}

type Row = (&'static str, Gate, Vec<(&'static str, Value)>);

fn strong() -> Vec<(&'static str, Value)> {
    let eyes = json!({"right": {"sphere_d": -8.0}, "left": {"sphere_d": -8.0, "cylinder_d": null, "axis_deg": null}, "previous": null});
    vec![
        ("prescription", eyes.clone()),
        (
            "lenses",
            json!({"powers": {"right": eyes["right"], "left": eyes["left"]}}),
        ),
    ]
}

fn with(
    mut base: Vec<(&'static str, Value)>,
    section: &'static str,
    change: Value,
) -> Vec<(&'static str, Value)> {
    base.push((section, change));
    base
}

#[allow(clippy::too_many_lines, reason = "one row for each check")]
fn rows() -> Vec<Row> {
    use Gate::{Collected, Ordered, Verified};
    let one = |section, change| vec![(section, change)];
    let progressive = || {
        vec![
            (
                "prescription",
                json!({"right": {"addition_d": 2.0}, "left": {"addition_d": 2.0}}),
            ),
            (
                "lenses",
                json!({"design": "progressive", "powers": {"right": {"addition_d": 2.0}, "left": {"addition_d": 2.0}}}),
            ),
        ]
    };
    let read_progressive = || {
        with(
            progressive(),
            "readings",
            json!({"markings": "correct",
                "right": {"addition_d": 2.0, "cd_mm": 31.5, "height_mm": 19},
                "left": {"addition_d": 2.0, "cd_mm": 31, "height_mm": 19}}),
        )
    };
    let as_worn = || {
        one(
            "lenses",
            json!({"powers": {"as": "as worn compensated", "by": "Ines Calloway"}}),
        )
    };
    vec![
        (
            "rx-missing",
            Ordered,
            one("prescription", json!({"prescriber": null})),
        ),
        (
            "rx-form",
            Ordered,
            one("prescription", json!({"right": {"sphere_d": -0.6}})),
        ),
        (
            "rx-expired",
            Ordered,
            one("prescription", json!({"tested_on": "2024-10-11"})),
        ),
        (
            "rx-expired",
            Collected,
            one("prescription", json!({"expires_on": "2026-10-11"})),
        ),
        (
            "rx-change",
            Ordered,
            one(
                "prescription",
                json!({"previous": {"right": {"sphere_d": 0.5}}}),
            ),
        ),
        (
            "rx-sign-suspect",
            Ordered,
            one(
                "prescription",
                json!({"right": {"sphere_d": 0.75}, "previous": {"right": {"sphere_d": -0.75}}}),
            ),
        ),
        (
            "eyes-exchanged-suspect",
            Ordered,
            one(
                "prescription",
                json!({"right": {"sphere_d": -0.5}, "left": {"sphere_d": -3.0}, "previous": {"right": {"sphere_d": -3.0}, "left": {"sphere_d": -0.5}}}),
            ),
        ),
        (
            "addition-missing",
            Ordered,
            one("lenses", json!({"design": "bifocal"})),
        ),
        (
            "addition-unequal",
            Ordered,
            one(
                "prescription",
                json!({"right": {"addition_d": 2.0}, "left": {"addition_d": 2.25}}),
            ),
        ),
        (
            "bvd-missing",
            Ordered,
            with(strong(), "prescription", json!({"tested_vertex_mm": null})),
        ),
        (
            "bvd-unmeasured",
            Ordered,
            with(strong(), "fitting", json!({"right": {"vertex_mm": null}})),
        ),
        (
            "bvd-mismatch",
            Ordered,
            with(
                strong(),
                "fitting",
                json!({"right": {"vertex_mm": 14}, "left": {"vertex_mm": 14}}),
            ),
        ),
        (
            "bvd-unequal",
            Ordered,
            one("fitting", json!({"right": {"vertex_mm": 13.5}})),
        ),
        (
            "powers-need-registrant",
            Ordered,
            one(
                "lenses",
                json!({"powers": {"as": "vertex compensated", "by": "Nadia Brookwell"}}),
            ),
        ),
        (
            "powers-differ",
            Ordered,
            one("lenses", json!({"powers": {"left": {"axis_deg": 91}}})),
        ),
        (
            "centration-missing",
            Ordered,
            one("fitting", json!({"left": {"cd_mm": null}})),
        ),
        (
            "centration-method",
            Ordered,
            with(
                strong(),
                "fitting",
                json!({"centration": "without spectacles"}),
            ),
        ),
        (
            "pd-range",
            Ordered,
            one("fitting", json!({"right": {"cd_mm": 40.5}})),
        ),
        (
            "pd-sum",
            Ordered,
            one("fitting", json!({"binocular_pd_mm": 64})),
        ),
        (
            "pd-asymmetry",
            Ordered,
            one("fitting", json!({"right": {"cd_mm": 35.5}})),
        ),
        (
            "pd-repeat",
            Ordered,
            one(
                "fitting",
                json!({"second_reading": {"right": {"cd_mm": 33}}}),
            ),
        ),
        (
            "pd-near",
            Ordered,
            one("fitting", json!({"right": {"near_cd_mm": 31.5}})),
        ),
        (
            "pd-with-deviation",
            Ordered,
            one(
                "fitting",
                json!({"cover_test": "movement without spectacles"}),
            ),
        ),
        (
            "measure-twice",
            Ordered,
            vec![
                (
                    "prescription",
                    json!({"right": {"sphere_d": -9.0}, "left": {"sphere_d": -12.0}}),
                ),
                (
                    "lenses",
                    json!({"powers": {"right": {"sphere_d": -9.0}, "left": {"sphere_d": -12.0}}}),
                ),
            ],
        ),
        (
            "height-missing",
            Ordered,
            with(
                progressive(),
                "fitting",
                json!({"left": {"height_mm": null}}),
            ),
        ),
        (
            "height-asymmetry",
            Ordered,
            one("fitting", json!({"left": {"height_mm": 21.5}})),
        ),
        (
            "height-repeat",
            Ordered,
            one(
                "fitting",
                json!({"second_reading": {"right": {"height_mm": 20.5}}}),
            ),
        ),
        (
            "height-minimum",
            Ordered,
            one("lenses", json!({"minimum_height_mm": 19.5})),
        ),
        (
            "height-above",
            Ordered,
            with(
                progressive(),
                "fitting",
                json!({"right": {"height_mm": 28.5}}),
            ),
        ),
        (
            "tilt-range",
            Ordered,
            with(progressive(), "fitting", json!({"pantoscopic_deg": 3})),
        ),
        (
            "tilt-repeat",
            Ordered,
            one(
                "fitting",
                json!({"second_reading": {"pantoscopic_deg": 12}}),
            ),
        ),
        (
            "face-form-range",
            Ordered,
            one("fitting", json!({"face_form_deg": 11})),
        ),
        (
            "as-worn-error",
            Ordered,
            with(strong(), "fitting", json!({"pantoscopic_deg": 15})),
        ),
        (
            "frame-missing",
            Ordered,
            one("frame", json!({"dbl_mm": null})),
        ),
        ("frame-boxed", Ordered, one("frame", json!({"ed_mm": 49}))),
        (
            "frame-narrow",
            Ordered,
            one("fitting", json!({"head_width_mm": 145})),
        ),
        (
            "frame-wide",
            Ordered,
            one("fitting", json!({"head_width_mm": 135})),
        ),
        ("side-short", Ordered, one("frame", json!({"side_mm": 115}))),
        (
            "bend-asymmetry",
            Ordered,
            one("fitting", json!({"left": {"length_to_bend_mm": 101}})),
        ),
        (
            "allergy-unasked",
            Ordered,
            one("wearer", json!({"allergies": null})),
        ),
        (
            "allergy-nickel",
            Ordered,
            vec![
                ("wearer", json!({"allergies": ["nickel"]})),
                (
                    "frame",
                    json!({"side_material": "titanium", "contains_nickel": null}),
                ),
            ],
        ),
        (
            "allergy-pad",
            Ordered,
            vec![
                ("wearer", json!({"allergies": ["silicone"]})),
                ("frame", json!({"pads": {"material": "silicone"}})),
            ],
        ),
        (
            "allergy-plastic",
            Ordered,
            one("wearer", json!({"allergies": ["acetate"]})),
        ),
        (
            "nickel-worn",
            Ordered,
            one(
                "frame",
                json!({"side_material": "nickel alloy", "nickel_release": "worn through"}),
            ),
        ),
        (
            "frame-condition",
            Ordered,
            one(
                "frame",
                json!({"owned_by_wearer": true, "condition": "worn"}),
            ),
        ),
        (
            "restricted-under-16",
            Ordered,
            vec![
                ("wearer", json!({"born": "2010-10-13"})),
                ("fitting", json!({"taken_by": "Nadia Brookwell"})),
            ],
        ),
        (
            "restricted-sight-impaired",
            Ordered,
            vec![
                ("wearer", json!({"sight_impaired": "partial"})),
                ("fitting", json!({"taken_by": "Nadia Brookwell"})),
            ],
        ),
        (
            "impact-child",
            Ordered,
            one("wearer", json!({"born": "2010-10-13"})),
        ),
        (
            "impact-one-eye",
            Ordered,
            one("wearer", json!({"one_eyed": true})),
        ),
        (
            "impact-work",
            Ordered,
            one(
                "lenses",
                json!({"purpose": "safety", "material": "polycarbonate 1.59"}),
            ),
        ),
        (
            "lenses-missing",
            Ordered,
            one("lenses", json!({"purpose": null})),
        ),
        (
            "aniso-near",
            Ordered,
            with(
                progressive(),
                "lenses",
                json!({"powers": {"right": {"sphere_d": 2.0}}}),
            ),
        ),
        (
            "aniseikonia",
            Ordered,
            one("lenses", json!({"powers": {"right": {"sphere_d": 5.0}}})),
        ),
        (
            "prism-unsplit",
            Ordered,
            one("prescription", json!({"right": {"base_in_delta": -3.0}})),
        ),
        (
            "prism-opposed",
            Ordered,
            one(
                "prescription",
                json!({"right": {"base_up_delta": 1.0}, "left": {"base_up_delta": 1.0}}),
            ),
        ),
        (
            "blank-small",
            Ordered,
            one("lenses", json!({"blank_mm": 55})),
        ),
        (
            "decentration-large",
            Ordered,
            with(strong(), "fitting", json!({"right": {"cd_mm": 28.5}})),
        ),
        (
            "edge-thick",
            Ordered,
            with(strong(), "lenses", json!({"base_d": 2.0})),
        ),
        (
            "material-rim",
            Ordered,
            one("frame", json!({"rim": "rimless"})),
        ),
        (
            "tint-driving",
            Ordered,
            one("lenses", json!({"tint": {"transmittance_percent": 74}})),
        ),
        (
            "measured-by",
            Ordered,
            one("fitting", json!({"taken_by": "Somebody Else"})),
        ),
        (
            "order-incomplete",
            Ordered,
            one("order", json!({"due_on": null})),
        ),
        (
            "readings-missing",
            Verified,
            one("readings", json!({"right": {"sphere_d": null}})),
        ),
        ("laboratory-powers-missing", Verified, as_worn()),
        (
            "laboratory-powers-doubtful",
            Verified,
            with(
                as_worn(),
                "lenses",
                json!({"laboratory_powers": {"right": {"sphere_d": -0.9}}}),
            ),
        ),
        (
            "lens-power",
            Verified,
            one("readings", json!({"right": {"sphere_d": -0.63}})),
        ),
        (
            "lens-cylinder",
            Verified,
            one("readings", json!({"left": {"cylinder_d": -0.35}})),
        ),
        (
            "lens-axis",
            Verified,
            one("readings", json!({"left": {"axis_deg": 107}})),
        ),
        (
            "lens-addition",
            Verified,
            with(
                read_progressive(),
                "readings",
                json!({"right": {"addition_d": 2.13}}),
            ),
        ),
        (
            "pair-prism-horizontal",
            Verified,
            one("readings", json!({"right": {"base_in_delta": 0.68}})),
        ),
        (
            "pair-prism-vertical",
            Verified,
            one("readings", json!({"right": {"base_up_delta": 0.51}})),
        ),
        (
            "prism-reversed",
            Verified,
            vec![
                (
                    "lenses",
                    json!({"powers": {"right": {"base_up_delta": 0.5}}}),
                ),
                ("readings", json!({"right": {"base_up_delta": -0.5}})),
            ],
        ),
        (
            "centration-made",
            Verified,
            with(
                read_progressive(),
                "readings",
                json!({"right": {"cd_mm": 32.6}}),
            ),
        ),
        (
            "height-made",
            Verified,
            with(
                read_progressive(),
                "readings",
                json!({"right": {"height_mm": 20.1}}),
            ),
        ),
        (
            "height-difference",
            Verified,
            with(
                read_progressive(),
                "readings",
                json!({"right": {"height_mm": 20}, "left": {"height_mm": 18.5}}),
            ),
        ),
        (
            "segment-tilt",
            Verified,
            one("readings", json!({"segment_tilt_deg": 2.5})),
        ),
        (
            "eyes-exchanged",
            Verified,
            one(
                "readings",
                json!({"right": {"sphere_d": -0.75, "cylinder_d": -0.25, "axis_deg": 90}, "left": {"sphere_d": -0.5, "cylinder_d": null, "axis_deg": null}}),
            ),
        ),
        (
            "centre-thickness",
            Verified,
            one("readings", json!({"right": {"centre_mm": 2.6}})),
        ),
        (
            "base-curve",
            Verified,
            one("readings", json!({"right": {"base_d": 4.8}})),
        ),
        (
            "surface-marked",
            Verified,
            one("readings", json!({"surface": "marked"})),
        ),
        (
            "markings-wrong",
            Verified,
            one("readings", json!({"markings": "wrong"})),
        ),
        (
            "unconfirmed",
            Verified,
            one("readings", json!({"coatings_confirmed": false})),
        ),
        (
            "frame-untrued",
            Verified,
            one("readings", json!({"frame_trued": false})),
        ),
        (
            "identity-unchecked",
            Collected,
            one("handover", json!({"identity_checked": null})),
        ),
        (
            "handover-by",
            Collected,
            one("handover", json!({"given_by": null})),
        ),
        (
            "restricted-handover",
            Collected,
            vec![
                ("wearer", json!({"sight_impaired": "severe"})),
                ("handover", json!({"given_by": "Nadia Brookwell"})),
            ],
        ),
        (
            "fit-unrecorded",
            Collected,
            one("handover", json!({"left": {"length_to_bend_mm": null}})),
        ),
        (
            "fit-vertex",
            Collected,
            with(strong(), "handover", json!({"right": {"vertex_mm": 14}})),
        ),
        (
            "fit-height",
            Collected,
            one("handover", json!({"right": {"height_mm": 20.5}})),
        ),
        (
            "fit-tilt",
            Collected,
            one("handover", json!({"pantoscopic_deg": 13})),
        ),
        (
            "fit-bearing",
            Collected,
            one("handover", json!({"pads_level": false})),
        ),
        (
            "acuity-missing",
            Collected,
            with(strong(), "handover", json!({"distance_acuity": null})),
        ),
        (
            "not-comfortable",
            Collected,
            one("handover", json!({"comfortable": false})),
        ),
        (
            "advice-missing",
            Collected,
            one("handover", json!({"advice": ["care"]})),
        ),
    ]
}

/// Checks that need more than one change to one job; each has a test of its own below.
const ELSEWHERE: [&str; 2] = ["order-duplicate", "near-limit"];

#[test]
fn a_sound_pair_has_nothing_against_it_at_any_gate() {
    for gate in Gate::ALL {
        let list = found(&sound_job(), *gate);
        assert!(list.iter().all(|f| !f.is_open()), "{gate}: {list:?}");
    }
}

#[test]
fn every_check_can_hold() {
    for (id, gate, changes) in rows() {
        let list = found(&changed(&changes), gate);
        let ids: Vec<_> = list
            .iter()
            .filter(|f| f.is_open())
            .map(|f| f.check)
            .collect();
        assert!(ids.contains(&id), "{id} does not hold; open are {ids:?}");
    }
    let tried: BTreeSet<&str> = rows().iter().map(|r| r.0).chain(ELSEWHERE).collect();
    let known: BTreeSet<&str> = CHECKS.iter().map(|c| c.id).collect();
    assert_eq!(tried, known, "every check has a row, and every row a check");
}

#[test]
fn every_finding_says_numbers_names_a_field_and_offers_a_way_out() {
    for (id, gate, changes) in rows() {
        for f in found(&changed(&changes), gate) {
            assert!(!f.message.is_empty() && !f.ways_out.is_empty(), "{id}");
            let (section, path) = f.field.split_once('.').expect(f.check);
            assert!(
                Section::from_word(section).is_some() && !path.is_empty(),
                "{id}: {}",
                f.field
            );
            assert_eq!(
                f.severity != Severity::Warning,
                f.accept.word() == "nobody",
                "{}",
                f.check
            );
        }
    }
}

#[test]
fn the_same_order_twice_within_a_fortnight_is_questioned() {
    let job = sound_job();
    let mut other = job.clone();
    other.stage = Some(Stage::Ordered);
    other.number = Some("7".to_owned());
    let list = found_with(&job, Gate::Ordered, &[other.clone()], &[], &[]);
    assert!(list.iter().any(|f| f.check == "order-duplicate"));
    other.order.ordered_on = today().checked_sub_days(chrono::Days::new(15));
    let list = found_with(&job, Gate::Ordered, &[other], &[], &[]);
    assert!(list.iter().all(|f| f.check != "order-duplicate"));
}

#[test]
fn a_value_at_four_fifths_of_its_limit_is_noted_and_holds_nothing() {
    let job = changed(&[("readings", json!({"right": {"sphere_d": -0.6}}))]);
    let list = found(&job, Gate::Verified);
    assert!(
        list.iter().any(|f| f.check == "near-limit" && !f.is_open()),
        "{list:?}"
    );
}

#[test]
fn an_acceptance_lasts_exactly_as_long_as_the_values_it_was_given_for() {
    let job = changed(&with(
        strong(),
        "fitting",
        json!({"right": {"vertex_mm": 14}, "left": {"vertex_mm": 12}}),
    ));
    let open = |job: &Job, acceptances: &[Acceptance]| {
        found_with(job, Gate::Ordered, &[], acceptances, &[])
            .into_iter()
            .find(|f| f.check == "bvd-mismatch" && f.is_open())
    };
    let finding = open(&job, &[]).unwrap();
    assert_eq!(finding.eye, About::Right);
    let roll = staff();
    let registrant = roll.find("Ines Calloway").unwrap();
    let given = Acceptance::of(&finding, registrant, "as worn until now", today()).unwrap();
    let kept: Acceptance = serde_json::from_str(&serde_json::to_string(&given).unwrap()).unwrap();
    assert!(
        open(&job, std::slice::from_ref(&kept)).is_none(),
        "settled, also after storage"
    );
    let mut moved = job.clone();
    moved
        .record(Section::Fitting, &json!({"right": {"vertex_mm": 14.5}}))
        .unwrap();
    assert!(
        open(&moved, std::slice::from_ref(&kept)).is_some(),
        "another distance opens it again"
    );
    moved
        .record(Section::Fitting, &json!({"right": {"vertex_mm": 14}}))
        .unwrap();
    assert!(
        open(&moved, &[kept]).is_none(),
        "the same distance is settled again"
    );
}

#[test]
fn an_acceptance_of_a_warning_never_settles_the_stop_it_later_becomes() {
    let mut job = changed(&[("handover", json!({"right": {"height_mm": 20.5}}))]);
    let roll = staff();
    let finding = found(&job, Gate::Collected)
        .into_iter()
        .find(|f| f.check == "fit-height")
        .unwrap();
    let given = Acceptance::of(
        &finding,
        roll.find("Ines Calloway").unwrap(),
        "single vision",
        today(),
    )
    .unwrap();
    job.record(Section::Lenses, &json!({"design": "progressive"}))
        .unwrap();
    let later = found_with(&job, Gate::Collected, &[], &[given], &[]);
    assert!(
        later
            .iter()
            .any(|f| f.check == "fit-height" && f.severity == Severity::Stop && f.is_open())
    );
}

#[test]
fn too_low_a_role_and_an_empty_reason_are_refused() {
    let job = changed(&[("frame", json!({"ed_mm": 49}))]);
    let finding = found(&job, Gate::Ordered)
        .into_iter()
        .find(|f| f.check == "frame-boxed")
        .unwrap();
    let roll = staff();
    let by = |name: &str, reason: &str| {
        Acceptance::of(&finding, roll.find(name).unwrap(), reason, today())
    };
    assert!(matches!(
        by("Nadia Brookwell", "fine"),
        Err(Refusal::Role { .. })
    ));
    assert!(matches!(
        by("Teo Marchbank", "fine"),
        Err(Refusal::Role { .. })
    ));
    assert_eq!(by("Ines Calloway", "  ").unwrap_err(), Refusal::NoReason);
    assert!(by("Hugo Penrith", "measured again, it is so").is_ok());
}

#[test]
fn what_was_settled_at_an_earlier_gate_is_not_asked_again_but_what_changed_is() {
    let passed_with = changed(&[("frame", json!({"ed_mm": 49}))]);
    let passed = [Passed {
        gate: Gate::Ordered,
        job: passed_with.clone(),
    }];
    let later = found_with(&passed_with, Gate::Verified, &[], &[], &passed);
    assert!(later.iter().all(|f| f.check != "frame-boxed"));
    let mut altered = passed_with;
    altered
        .record(Section::Frame, &json!({"ed_mm": 48}))
        .unwrap();
    let later = found_with(&altered, Gate::Verified, &[], &[], &passed);
    assert!(
        later
            .iter()
            .any(|f| f.check == "frame-boxed" && f.is_open())
    );
}

#[test]
fn the_page_of_checks_is_what_the_program_prints() {
    let page = include_str!("../docs/checks.md");
    assert!(
        page == rimbook::gate::catalogue::markdown(),
        "write it again: rimbook checks --markdown > docs/checks.md"
    );
}

/// Runs one check alone: thousands of whole gates would make a slow test.
fn is_asked(id: &str, job: &Job) -> bool {
    let (staff, practice) = (staff(), Practice::default());
    let context = Context {
        job,
        around: Surroundings {
            today: today(),
            staff: &staff,
            practice: &practice,
            others: &[],
        },
        acceptances: &[],
    };
    let check = by_id(id).unwrap();
    let mut list = Vec::new();
    (check.run)(&context, &mut Found::of(check, &mut list));
    list.iter().any(Finding::is_open)
}

#[test]
fn few_adults_of_the_open_survey_are_questioned_by_their_pupil_distance() {
    // ANSUR II (2012), public domain: 6 068 adults; see tests/data/open.
    let (mut all, mut questioned) = (0_u32, 0_u32);
    let mut job = sound_job();
    for line in include_str!("data/open/ansur2_head.csv").lines().skip(1) {
        let pd: f64 = line.split(',').nth(2).unwrap().parse().unwrap();
        job.record(
            Section::Fitting,
            &json!({"right": {"cd_mm": pd / 2.0}, "left": {"cd_mm": pd / 2.0}}),
        )
        .unwrap();
        all += 1;
        questioned += u32::from(is_asked("pd-range", &job));
    }
    assert_eq!(all, 6068);
    let share = f64::from(questioned) / f64::from(all);
    assert!(share < 0.03 && questioned > 0, "{questioned} of {all}");
}
