//! The checks that rest on a model of the lens: their numbers are the model's, and which model is said.
//!
//! The pair is scenario S01 of `tests/data/scenarios.json`, made strong where a check needs it.

use crate::common;

use chrono::NaiveDate;
use rimbook::testing::job::{Gate, Job, Section, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{Finding, Surroundings, findings};
use rimbook::testing::practice::Practice;
use rimbook::testing::trade::tolerance::Quantity;
use serde_json::{Value, json};

const INDEX: f64 = 1.498;

/// The true power of a front curve marked at 1.530.
fn front_d(marked_d: f64) -> f64 {
    marked_d * (INDEX - 1.0) / 0.53
}

fn pair(changes: &[(&str, Value)]) -> Job {
    let scenario = &common::json("scenarios.json")["scenarios"][0];
    let mut job: Job = read_jobs(&scenario["job"].to_string()).unwrap().remove(0);
    for (section, change) in changes {
        job.record(Section::from_word(section).unwrap(), change)
            .expect(section);
    }
    job
}

fn found(job: &Job, gate: Gate, check: &str) -> Vec<Finding> {
    let scenario = &common::json("scenarios.json")["scenarios"][0];
    let staff = StaffRoll(serde_json::from_value(scenario["staff"].clone()).unwrap());
    let today: NaiveDate = scenario["today"].as_str().unwrap().parse().unwrap();
    let practice = Practice::default();
    let around = Surroundings {
        sign_in: false,
        today,
        staff: &staff,
        practice: &practice,
        others: &[],
        questions: &[],
    };
    let mut list = findings(gate, job, around, &[], &[]);
    list.retain(|f| f.check == check);
    list
}

/// The strong pair, both eyes alike, with the powers said to be `kind`.
fn strong(kind: &str, ordered_d: f64, lenses: Value) -> Job {
    let eye = |d: f64| json!({"sphere_d": d, "cylinder_d": null, "axis_deg": null});
    pair(&[
        (
            "prescription",
            json!({"right": eye(-8.0), "left": eye(-8.0), "previous": null}),
        ),
        (
            "lenses",
            json!({"powers": {"as": kind, "by": "Ines Calloway", "right": eye(ordered_d), "left": eye(ordered_d)}}),
        ),
        (
            "fitting",
            json!({"pantoscopic_deg": 12, "face_form_deg": 9}),
        ),
        // So steep and thick that the thin lens is plainly another.
        ("lenses", json!({"base_d": 9.0, "centre_mm": 8.0})),
        ("lenses", lenses),
    ])
}

fn asked(mut request: Value, calc: &str) -> Value {
    request["calc"] = calc.into();
    let answer = common::ask(&request);
    assert_eq!(answer["ok"], true, "{answer}");
    answer["result"].clone()
}

fn thin(rx: &Value) -> Value {
    json!({"eye": "right", "rx": rx, "index": INDEX, "pantoscopic_deg": 12, "face_form_deg": 9})
}

fn thick(rx: &Value) -> Value {
    let mut request = thin(rx);
    request["front_d"] = front_d(9.0).into();
    request["centre_mm"] = 8.0.into();
    request
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

#[test]
fn the_power_as_worn_is_traced_where_the_lens_is_known_and_else_the_thin_lens_is_said() {
    let rx = json!({"sphere_d": -8.0});
    for (missing, words, model) in [
        (json!({}), "exact ray trace", asked(thick(&rx), "as_worn")),
        (
            json!({"base_d": null}),
            "thin lens: curve or thickness not recorded",
            asked(thin(&rx), "oblique"),
        ),
        (
            json!({"centre_mm": null}),
            "thin lens: curve or thickness not recorded",
            asked(thin(&rx), "oblique"),
        ),
    ] {
        let list = found(
            &strong("prescribed", -8.0, missing),
            Gate::Ordered,
            "as-worn-error",
        );
        assert_eq!(list.len(), 2);
        let right = &list[0];
        assert!(right.message.contains(words), "{}", right.message);
        let shown = serde_json::to_value(&right.values).unwrap();
        for (place, key) in ["sphere_d", "cylinder_d", "axis_deg"].iter().enumerate() {
            let (found, wanted) = (number(&shown["worn"][place]), number(&model["rx"][key]));
            assert!(
                (found - wanted).abs() < 0.0006,
                "{key}: {found}, not {wanted}"
            );
        }
    }
}

#[test]
fn the_two_models_are_far_enough_apart_to_tell_them_from_one_another() {
    let rx = json!({"sphere_d": -8.0});
    let (exact, simple) = (asked(thick(&rx), "as_worn"), asked(thin(&rx), "oblique"));
    let apart = number(&exact["rx"]["cylinder_d"]) - number(&simple["rx"]["cylinder_d"]);
    assert!(apart.abs() > 0.012, "{exact} {simple}");
}

#[test]
fn ordered_powers_may_be_013_d_from_the_traced_compensation_and_no_more() {
    let wanted = asked(thick(&json!({"sphere_d": -8.0})), "as_worn_compensate");
    for (more, holds) in [
        (0.0, false),
        (0.12, false),
        (-0.12, false),
        (0.15, true),
        (-0.15, true),
    ] {
        let hundredth = |d: f64| (d * 100.0).round() / 100.0;
        let mut order = wanted["rx"].clone();
        order["sphere_d"] = hundredth(number(&order["sphere_d"]) + more).into();
        order["cylinder_d"] = hundredth(number(&order["cylinder_d"])).into();
        order["axis_deg"] = number(&order["axis_deg"]).round().into();
        let job = strong(
            "as worn compensated",
            -8.0,
            json!({"powers": {"right": order}}),
        );
        let list = found(&job, Gate::Ordered, "powers-differ");
        let right = list.iter().any(|f| f.message.starts_with("right"));
        assert_eq!(right, holds, "{more}: {list:?}");
    }
}

#[test]
fn what_a_compensation_leaves_out_is_said() {
    let mut job = strong("as worn compensated", -8.0, json!({"centre_mm": null}));
    job.record(
        Section::from_word("prescription").unwrap(),
        &json!({"tested_vertex_mm": null}),
    )
    .unwrap();
    let list = found(&job, Gate::Ordered, "powers-differ");
    assert!(!list.is_empty());
    for f in list {
        assert!(
            f.message
                .contains("thin lens: curve or thickness not recorded")
                && f.message.contains("no tested distance"),
            "{}",
            f.message
        );
    }
}

#[test]
fn stated_powers_are_doubted_beyond_a_quarter_from_our_own() {
    let own = asked(thick(&json!({"sphere_d": -8.0})), "as_worn_compensate")["rx"].clone();
    for (more, holds) in [
        (0.0, false),
        (0.24, false),
        (-0.24, false),
        (0.27, true),
        (-0.27, true),
    ] {
        let mut stated = own.clone();
        stated["sphere_d"] = ((number(&own["sphere_d"]) + more) * 100.0).round().into();
        for key in ["sphere_d", "cylinder_d"] {
            let hundredths = if key == "sphere_d" {
                number(&stated[key])
            } else {
                (number(&own[key]) * 100.0).round()
            };
            stated[key] = (hundredths / 100.0).into();
        }
        stated["axis_deg"] = number(&own["axis_deg"]).round().into();
        let job = strong(
            "as worn compensated",
            -8.0,
            json!({"laboratory_powers": {"right": stated}}),
        );
        let list = found(&job, Gate::Verified, "laboratory-powers-doubtful");
        assert_eq!(!list.is_empty(), holds, "{more}: {list:?}");
    }
}

#[test]
fn the_edge_is_the_finished_lens_s_and_the_open_rim_s_limit_is_lower() {
    let job = strong(
        "prescribed",
        -8.0,
        json!({"base_d": 4.0, "centre_mm": null, "thinnest_mm": 2.0}),
    );
    let request = json!({"eye": "right", "rx": {"sphere_d": -8.0}, "index": INDEX, "base_d": 4.0,
        "frame": {"a_mm": 50, "b_mm": 38, "ed_mm": 53}, "in_mm": 2.5, "up_mm": 0.0, "thinnest_mm": 2.0});
    let wanted = asked(request, "thickness");
    let list = found(&job, Gate::Ordered, "edge-thick");
    assert!(number(&wanted["edge_max_mm"]) > 7.0, "{wanted}");
    let shown = serde_json::to_value(&list[0].values).unwrap();
    assert!((number(&shown["edge_mm"]) - number(&wanted["edge_max_mm"])).abs() < 0.001);
    assert!((number(&shown["centre_mm"]) - 2.0).abs() < 0.001);

    assert!(!list[0].message.contains("not recorded"));
    let unknown = strong(
        "prescribed",
        -8.0,
        json!({"base_d": null, "centre_mm": null}),
    );
    let list = found(&unknown, Gate::Ordered, "edge-thick");
    let words = "(not recorded, taken as usual: front curve, thickness)";
    assert!(list[0].message.ends_with(words), "{}", list[0].message);

    // Between 6 and 7 mm only where the edge lies open.
    let eye = json!({"sphere_d": -4.75, "cylinder_d": null, "axis_deg": null});
    let weaker = |rim: &str| {
        pair(&[
            ("prescription", json!({"right": eye, "left": eye})),
            ("lenses", json!({"powers": {"right": eye, "left": eye}})),
            ("frame", json!({"rim": rim})),
        ])
    };
    assert_eq!(found(&weaker("full"), Gate::Ordered, "edge-thick"), []);
    for rim in ["half", "rimless"] {
        let list = found(&weaker(rim), Gate::Ordered, "edge-thick");
        assert!(!list.is_empty(), "{rim}");
    }
}

#[test]
fn image_sizes_come_from_the_thickness_recorded_or_worked_out() {
    let sizes = |lenses: Value| {
        let eye = |d: f64| json!({"sphere_d": d, "cylinder_d": null, "axis_deg": null});
        let job = pair(&[
            (
                "prescription",
                json!({"right": eye(5.0), "left": eye(-1.0)}),
            ),
            (
                "lenses",
                json!({"powers": {"right": eye(5.0), "left": eye(-1.0)}}),
            ),
            ("lenses", lenses),
        ]);
        let list = found(&job, Gate::Ordered, "aniseikonia");
        let shown = serde_json::to_value(&list[0].values).unwrap();
        (
            number(&shown["right_percent"]),
            number(&shown["left_percent"]),
        )
    };
    let wanted = |d: f64, centre_mm: f64| {
        let request = json!({"rx": {"sphere_d": d}, "index": INDEX, "front_d": front_d(4.0), "centre_mm": centre_mm,
            "vertex_mm": 12});
        number(&asked(request, "magnification")["along_axis"]["percent"])
    };
    let near =
        |found: f64, wanted: f64| assert!((found - wanted).abs() < 0.001, "{found}, not {wanted}");

    let (right, left) = sizes(json!({"centre_mm": 5.5}));
    near(right, wanted(5.0, 5.5));
    near(left, wanted(-1.0, 5.5));

    // Nothing recorded: the plus lens is worked out to an edge of 1 mm, the minus lens is as usual.
    let request = json!({"eye": "right", "rx": {"sphere_d": 5.0}, "index": INDEX, "base_d": 4.0,
        "frame": {"a_mm": 50, "b_mm": 38, "ed_mm": 53}, "in_mm": 2.5, "up_mm": 0.0, "thinnest_mm": 1.0});
    let centre_mm = number(&asked(request, "thickness")["centre_mm"]);
    let (right, left) = sizes(json!({"centre_mm": null}));
    near(right, wanted(5.0, centre_mm));
    near(left, wanted(-1.0, 2.0));

    let (_, left) = sizes(json!({"centre_mm": null, "thinnest_mm": 3.0}));
    near(left, wanted(-1.0, 3.0));
}

#[test]
fn a_slip_in_the_recorded_curve_does_not_silence_what_the_tilt_does() {
    // The front focuses inside so thick a lens: no lens can have both.
    let job = strong(
        "prescribed",
        -8.0,
        json!({"base_d": 20.0, "centre_mm": 90.0}),
    );
    let list = found(&job, Gate::Ordered, "as-worn-error");
    let exact = strong("prescribed", -8.0, json!({}));
    assert!(!found(&exact, Gate::Ordered, "as-worn-error").is_empty());
    assert_eq!(list.len(), 2, "{list:?}");
    assert!(
        list.iter().all(|f| f
            .message
            .contains("no lens can have the recorded curve and thickness")),
        "{list:?}"
    );
}

#[test]
fn a_centre_off_its_place_is_not_overlooked_when_only_the_vertical_prism_was_read() {
    use rimbook::testing::judge::derive::verification::{Reading, report};
    let eye = json!({"sphere_d": -2.25, "cylinder_d": -0.75, "axis_deg": 90});
    let read = |cd: f64| {
        let mut right = eye.clone();
        right["base_up_delta"] = json!(0);
        right["cd_mm"] = json!(cd);
        let mut left = right.clone();
        left["cd_mm"] = json!(31.5);
        let job = pair(&[
            (
                "fitting",
                json!({"right": {"cd_mm": 31.5}, "left": {"cd_mm": 31.5}}),
            ),
            (
                "lenses",
                json!({"design": "single vision", "powers": {"as": "prescribed", "right": eye, "left": eye}}),
            ),
            ("readings", json!({"right": right, "left": left})),
        ]);
        let report = report(&job, &Practice::default(), Reading::AsRead).unwrap();
        let line = report
            .lines
            .iter()
            .find(|l| l.what == Quantity::PrismHorizontal);
        line.map(|l| (l.measured, l.pass))
            .expect("the prism of the pair")
    };
    assert_eq!(read(31.5), (0.0, true));
    // Prentice by hand: 3.00 D across, the eye looks 2 mm and 31.5 mm temporally of the centre or nasally.
    let (measured, pass) = read(33.5);
    assert!((measured.abs() - 0.6).abs() < 1e-9 && pass, "{measured}");
    let (measured, pass) = read(0.0);
    assert!((measured.abs() - 9.45).abs() < 1e-9 && !pass, "{measured}");
}
