//! What an acceptance settles: the values it was given for, by somebody who may, and no more.

use crate::gate_rows::{strong, with};
use crate::sound_pair::{changed, found, found_with, staff, today};
use rimbook::testing::job::{Gate, Job, NumberRule, Section};
use rimbook::testing::judge::gate::{About, Acceptance, Passed, Refusal, Severity};
use serde_json::json;

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
    let given = Acceptance::of(
        &finding,
        registrant,
        NumberRule::Required,
        "as worn until now",
        today(),
    )
    .unwrap();
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
        NumberRule::Required,
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
        Acceptance::of(
            &finding,
            roll.find(name).unwrap(),
            NumberRule::Required,
            reason,
            today(),
        )
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
