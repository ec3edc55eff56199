//! Who compensates the powers for what, and what follows from it at the gates.
//!
//! Near centres by similar triangles (Ellerbrock 1948); the figures of the cases are worked by hand
//! beside them.

use crate::sound_pair::{changed, found};
use rimbook::testing::job::{Gate, Job, Section};
use rimbook::testing::judge::derive::places::{CdSource, ordered_cd};
use rimbook::testing::judge::gate::Finding;
use rimbook::testing::trade::eye::Eye;
use serde_json::{Value, json};

fn holds(job: &Job, gate: Gate, id: &str) -> bool {
    found(job, gate)
        .iter()
        .any(|f| f.is_open() && f.check == id)
}

fn strong(compensates: &Value, kind: &str) -> Job {
    let eyes = json!({"sphere_d": -8.0, "cylinder_d": null, "axis_deg": null, "base_in_delta": null, "base_up_delta": null});
    changed(&[
        (
            "prescription",
            json!({"tested_vertex_mm": 12, "right": eyes, "left": eyes, "previous": null}),
        ),
        (
            "fitting",
            json!({"right": {"vertex_mm": 14}, "left": {"vertex_mm": 14}, "pantoscopic_deg": 8, "face_form_deg": 4}),
        ),
        (
            "lenses",
            json!({"compensates": compensates, "powers": {"as": kind, "right": eyes, "left": eyes}}),
        ),
    ])
}

#[test]
fn a_distance_that_the_laboratory_compensates_for_is_no_mismatch() {
    let nobody = strong(&Value::Null, "prescribed");
    assert!(holds(&nobody, Gate::Ordered, "bvd-mismatch"));
    let all = json!({"vertex": "laboratory", "tilt": "laboratory", "face_form": "laboratory"});
    for kind in ["prescribed", "laboratory compensated"] {
        let job = strong(&all, kind);
        for id in [
            "bvd-mismatch",
            "as-worn-error",
            "powers-differ",
            "powers-need-registrant",
        ] {
            assert!(!holds(&job, Gate::Ordered, id), "{kind}: {id}");
        }
        assert!(
            holds(&job, Gate::Verified, "laboratory-powers-missing"),
            "{kind}"
        );
    }
}

#[test]
fn what_nobody_does_or_two_do_is_said() {
    let none = json!({"vertex": "nobody", "tilt": "nobody", "face_form": "nobody"});
    let job = strong(&none, "laboratory compensated");
    assert!(holds(&job, Gate::Ordered, "lenses-missing"));
    let job = strong(&json!({"vertex": "laboratory"}), "vertex compensated");
    assert!(holds(&job, Gate::Ordered, "compensated-twice"));
    // The practice cannot have compensated powers that are said to be the prescription.
    let job = strong(&json!({"tilt": "practice"}), "prescribed");
    assert!(holds(&job, Gate::Ordered, "powers-differ"));
    let job = strong(&json!({"vertex": "nobody"}), "vertex compensated");
    assert!(holds(&job, Gate::Ordered, "powers-differ"));
}

#[test]
fn what_the_laboratory_compensates_for_has_to_be_measured() {
    let lab = json!({"vertex": "laboratory", "tilt": "laboratory", "face_form": "laboratory"});
    let unmeasured =
        json!({"right": {"vertex_mm": null}, "pantoscopic_deg": null, "face_form_deg": null});
    let job = changed(&[
        ("lenses", json!({ "compensates": lab })),
        ("fitting", unmeasured),
    ]);
    let list = found(&job, Gate::Ordered);
    let of = |f: &&Finding| f.check == "compensation-unmeasured";
    assert_eq!(list.iter().filter(of).count(), 3, "{list:#?}");
}

/// A lens for near at 400 mm, vertex 12, rotation 13.5: 32 / (1 + 25.5 / 400) = 30.08 mm whatever its
/// power; with 65 in all, 30.1 to a tenth.
#[test]
fn a_reading_pair_is_centred_near_and_never_at_the_distance() {
    let near = json!({"design": "single vision", "purpose": "near"});
    let cds = json!({"right": {"cd_mm": 32, "near_cd_mm": null, "vertex_mm": 12}, "left": {"cd_mm": 33, "near_cd_mm": null, "vertex_mm": 12}, "near_pd_mm": null});
    let rx = json!({"working_mm": 400, "tested_vertex_mm": 12});
    let job = changed(&[
        ("lenses", near.clone()),
        ("fitting", cds),
        ("prescription", rx),
    ]);
    let (mm, source) = ordered_cd(&job, Eye::Right).unwrap();
    assert_eq!(source, CdSource::WorkedOut);
    assert!((mm - 30.1).abs() < 1e-9, "{mm}");
    let mut job = job;
    job.record(Section::Fitting, &json!({"near_pd_mm": 61}))
        .unwrap();
    let (mm, source) = ordered_cd(&job, Eye::Right).unwrap();
    assert_eq!(source, CdSource::NearPd);
    assert!((mm - 30.0).abs() < 1e-9, "61 x 32 / 65 = 30.03: {mm}");
    job.record(Section::Fitting, &json!({"right": {"near_cd_mm": 30.5}}))
        .unwrap();
    assert_eq!(ordered_cd(&job, Eye::Right), Some((30.5, CdSource::Near)));
    let gone = json!({"right": {"cd_mm": null, "near_cd_mm": null}, "near_pd_mm": null});
    job.record(Section::Fitting, &gone).unwrap();
    assert_eq!(ordered_cd(&job, Eye::Right), None, "nothing is guessed");
}

#[test]
fn an_office_lens_is_read_near_and_without_an_addition() {
    let office = json!({"design": "office", "purpose": "general", "power_drop_d": 1.0,
        "powers": {"as": "prescribed", "right": {"sphere_d": 1.0, "cylinder_d": null, "axis_deg": null, "addition_d": 2.0},
                   "left": {"sphere_d": 1.0, "cylinder_d": null, "axis_deg": null, "addition_d": 2.0}}});
    let rx = json!({"right": {"sphere_d": 1.0, "cylinder_d": null, "axis_deg": null, "addition_d": 2.0},
        "left": {"sphere_d": 1.0, "cylinder_d": null, "axis_deg": null, "addition_d": 2.0}});
    let read = |sphere: f64| {
        json!({"right": {"sphere_d": sphere, "cylinder_d": null, "axis_deg": null, "addition_d": null},
            "left": {"sphere_d": sphere, "cylinder_d": null, "axis_deg": null, "addition_d": null}})
    };
    for (sphere, fails) in [(3.0, false), (1.0, true)] {
        let job = changed(&[
            ("prescription", rx.clone()),
            ("lenses", office.clone()),
            ("readings", read(sphere)),
        ]);
        assert_eq!(holds(&job, Gate::Verified, "lens-power"), fails, "{sphere}");
        assert!(!holds(&job, Gate::Verified, "lens-addition"));
    }
}

/// A lens made for -8.20 because it sits closer or tilted is no mistake of the laboratory: what a focimeter
/// should read is what the laboratory states, not what was ordered.
#[test]
fn a_power_that_waits_for_what_the_laboratory_states_is_neither_wrong_nor_right() {
    let lens = json!({"sphere_d": -8.25, "cylinder_d": null, "axis_deg": null});
    let read = json!({"right": lens, "left": lens});
    let by_laboratory = json!({"vertex": "laboratory"});
    let mut job = strong(&by_laboratory, "laboratory compensated");
    job.record(Section::Readings, &read).unwrap();
    assert!(holds(&job, Gate::Verified, "laboratory-powers-missing"));
    assert!(!holds(&job, Gate::Verified, "lens-power"));
    let stated = |sphere: f64| json!({"laboratory_powers": {"right": {"sphere_d": sphere}, "left": {"sphere_d": sphere}}});
    job.record(Section::Lenses, &stated(-8.25)).unwrap();
    assert!(!holds(&job, Gate::Verified, "laboratory-powers-missing"));
    assert!(!holds(&job, Gate::Verified, "lens-power"));
    job.record(Section::Lenses, &stated(-8.75)).unwrap();
    assert!(holds(&job, Gate::Verified, "lens-power"));
    // Where nobody compensates, the same reading is out.
    let mut ordered = strong(&Value::Null, "prescribed");
    ordered.record(Section::Readings, &read).unwrap();
    assert!(holds(&ordered, Gate::Verified, "lens-power"));
}
