//! Lenses that cannot exist, over the whole of what the keys accept: a finite answer or a reason.
//!
//! Long: a plain run tries fewer cases (`tests/support/long.rs`).

use crate::common;

use crate::common::ask;
use crate::long::cases;
use proptest::prelude::*;
use serde_json::{Value, json};

/// Says what is wrong with an answer: no finite result and no refusal that tells what to do.
fn fault(answer: &Value) -> Option<String> {
    fn all_finite(v: &Value) -> bool {
        match v {
            Value::Object(map) => !map.is_empty() && map.values().all(all_finite),
            Value::Number(n) => n.as_f64().is_some_and(f64::is_finite),
            _ => false,
        }
    }
    if answer["ok"] == true {
        return (!all_finite(&answer["result"])).then(|| answer.to_string());
    }
    let kind = answer["error"]["kind"].as_str().unwrap();
    let message = answer["error"]["message"].as_str().unwrap();
    // What to do stands in the imperative, or as the range to keep to.
    let says_what_to_do = [
        "choose",
        "check",
        "make",
        "raise",
        "measure",
        "accepted",
        "between",
        "is outside",
    ]
    .iter()
    .any(|word| message.contains(word));
    let known = kind == "impossible" || kind == "out_of_range";
    (!known || !says_what_to_do || message.contains("NaN") || message.contains("inf"))
        .then(|| answer.to_string())
}

/// Any value of the range, its ends and zero often.
fn wild(low: f64, high: f64) -> impl Strategy<Value = f64> {
    let zero = 0.0_f64.clamp(low, high);
    prop_oneof![
        3 => low..high,
        5 => (low..high).prop_map(move |v| zero + (v - zero) / 8.0),
        1 => Just(low),
        1 => Just(high),
        1 => Just(zero),
    ]
}

fn rx() -> impl Strategy<Value = Value> {
    (wild(-60.0, 60.0), wild(-30.0, 30.0), wild(0.0, 180.0))
        .prop_map(|(s, c, a)| json!({"sphere_d": s, "cylinder_d": c, "axis_deg": a}))
}

fn eye() -> impl Strategy<Value = &'static str> {
    prop_oneof![Just("right"), Just("left")]
}

fn worn() -> impl Strategy<Value = Value> {
    (
        (eye(), rx(), wild(1.3, 2.5), wild(-40.0, 40.0)),
        (wild(0.0, 50.0), wild(-45.0, 45.0), wild(-45.0, 45.0)),
        (wild(-50.0, 50.0), wild(-50.0, 50.0)),
    )
        .prop_map(|((eye, rx, n, front), (t, pantoscopic, form), (x, y))| {
            json!({"calc": "as_worn", "eye": eye, "rx": rx, "index": n, "front_d": front, "centre_mm": t,
                "pantoscopic_deg": pantoscopic, "face_form_deg": form, "oc_in_mm": x, "oc_up_mm": y})
        })
}

fn finished() -> impl Strategy<Value = Value> {
    (
        (eye(), rx(), wild(1.3, 2.5), wild(-30.0, 30.0), wild(1.3, 2.5)),
        (wild(10.0, 100.0), wild(10.0, 100.0), 0.0..1.0_f64),
        (wild(-50.0, 50.0), wild(-50.0, 50.0)),
        (any::<bool>(), wild(0.0, 50.0), wild(0.0, 20.0)),
    )
        .prop_map(
            |((eye, rx, n, base, base_n), (a, b, squarish), (x, y), (by_centre, t, thinnest))| {
                let longest = a.max(b) + squarish * (a.hypot(b) - a.max(b));
                let mut q = json!({"calc": "thickness", "eye": eye, "rx": rx, "index": n, "base_d": base,
                    "base_index": base_n, "frame": {"a_mm": a, "b_mm": b, "ed_mm": longest.min(140.0)},
                    "in_mm": x, "up_mm": y, "density": 1.3});
                let (key, mm) = if by_centre { ("centre_mm", t) } else { ("thinnest_mm", thinnest) };
                q[key] = json!(mm);
                q
            },
        )
}

fn with(mut request: Value, changes: &[(&str, Value)]) -> Value {
    for (key, value) in changes {
        request[*key] = value.clone();
    }
    request
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(500, 3000), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_worn_lens_has_finite_powers_or_a_reason(request in worn()) {
        for calc in ["as_worn", "as_worn_compensate"] {
            let answer = ask(&with(request.clone(), &[("calc", json!(calc))]));
            prop_assert_eq!(fault(&answer), None);
        }
    }

    #[test]
    fn a_finished_lens_has_finite_thicknesses_or_a_reason(request in finished()) {
        let answer = ask(&request);
        prop_assert_eq!(fault(&answer), None);
        if answer["ok"] == true {
            for (place, mm) in answer["result"].as_object().unwrap() {
                prop_assert!(mm.as_f64().unwrap() >= -1e-9, "{} in {}", place, answer);
            }
        }
    }

    #[test]
    fn thin_lenses_and_thick_powers_are_finite_or_have_a_reason(
        worn in worn(), back in wild(-60.0, 60.0), vertex in wild(0.0, 50.0), pupil in wild(0.0, 10.0),
    ) {
        let part = |calc: &str, keys: &[&str]| {
            let mut q = json!({"calc": calc});
            for key in keys {
                q[*key] = worn[*key].clone();
            }
            q
        };
        let thin = ["eye", "rx", "index", "pantoscopic_deg", "face_form_deg"];
        let magnified = part("magnification", &["rx", "index", "front_d", "centre_mm"]);
        for request in [
            part("oblique", &thin),
            part("oblique_compensate", &thin),
            with(part("back_vertex", &["index", "front_d", "centre_mm"]), &[("back_d", json!(back))]),
            with(magnified, &[("vertex_mm", json!(vertex)), ("pupil_mm", json!(pupil))]),
        ] {
            prop_assert_eq!(fault(&ask(&request)), None);
        }
    }

    #[test]
    fn what_is_ordered_for_a_power_as_worn_gives_that_power(request in worn()) {
        let order = ask(&with(request.clone(), &[("calc", json!("as_worn_compensate"))]));
        if order["ok"] == true && within_keys(&order["result"]["rx"]) {
            let again = ask(&with(request.clone(), &[("rx", order["result"]["rx"].clone())]));
            prop_assert_eq!(&again["ok"], true, "{}", again);
            let away = common::differs(&again["result"]["rx"], &request["rx"], 1e-6, false, "rx");
            prop_assert_eq!(away, None);
        }
    }

    #[test]
    fn the_centre_found_for_a_thinnest_point_gives_the_same_lens(request in finished()) {
        let found = ask(&request);
        if found["ok"] == true {
            let centre = found["result"]["centre_mm"].clone();
            prop_assume!(centre.as_f64().unwrap() <= 50.0);
            let mut again = with(request, &[("centre_mm", centre)]);
            again.as_object_mut().unwrap().remove("thinnest_mm");
            let again = ask(&again);
            let away = common::differs(&again["result"], &found["result"], 1e-9, false, "result");
            // A centre below what the key for it accepts cannot be asked for again.
            if again["error"]["kind"] != "out_of_range" {
                prop_assert_eq!(away, None, "{} {}", again, found);
            }
        }
    }
}

fn within_keys(rx: &Value) -> bool {
    rx["sphere_d"].as_f64().unwrap().abs() <= 60.0
        && rx["cylinder_d"].as_f64().unwrap().abs() <= 30.0
}

/// A request refused as impossible, with these words in the reason.
fn refused(request: &Value, words: &[&str]) {
    let answer = ask(request);
    assert_eq!(fault(&answer), None);
    assert_eq!(answer["error"]["kind"], "impossible", "{answer}");
    let message = answer["error"]["message"].as_str().unwrap();
    assert!(words.iter().all(|w| message.contains(w)), "{message}");
}

fn a_lens() -> Value {
    json!({"calc": "as_worn", "eye": "right", "rx": {"sphere_d": -4.0}, "index": 1.6, "front_d": 4.0, "centre_mm": 2.0,
        "pantoscopic_deg": 8.0, "face_form_deg": 5.0, "oc_in_mm": 0.0, "oc_up_mm": 0.0})
}

fn a_finished_lens() -> Value {
    json!({"calc": "thickness", "eye": "left", "rx": {"sphere_d": 6.0}, "index": 1.5, "base_d": 8.0,
        "frame": {"a_mm": 50, "b_mm": 40, "ed_mm": 54}, "in_mm": 2.0, "up_mm": 1.0, "centre_mm": 8.0})
}

#[test]
fn a_plus_lens_too_thin_for_its_shape_says_how_thick_it_must_be() {
    refused(
        &with(a_finished_lens(), &[("centre_mm", json!(2.0))]),
        &["cross before the edge", "make the centre thicker than"],
    );
}

#[test]
fn a_front_steeper_than_a_hemisphere_at_the_edge_is_refused() {
    refused(
        &with(a_finished_lens(), &[("base_d", json!(28.0))]),
        &["too steep to reach", "flatter"],
    );
    refused(
        &with(
            a_lens(),
            &[
                ("front_d", json!(38.0)),
                ("rx", json!({"sphere_d": 36.0})),
                ("oc_in_mm", json!(30.0)),
            ],
        ),
        &["too steep", "choose"],
    );
}

#[test]
fn a_back_that_does_not_reach_the_edge_is_refused() {
    refused(
        &with(
            a_finished_lens(),
            &[
                ("rx", json!({"sphere_d": -24.0})),
                ("base_d", json!(4.0)),
                ("in_mm", json!(10.0)),
            ],
        ),
        &["too steep to reach", "smaller shape"],
    );
}

#[test]
fn light_focused_inside_the_lens_is_refused() {
    let thick = [
        ("front_d", json!(40.0)),
        ("centre_mm", json!(50.0)),
        ("index", json!(1.5)),
    ];
    refused(&with(a_lens(), &thick), &["focus inside", "check"]);
    refused(
        &json!({"calc": "back_vertex", "front_d": 40, "back_d": -5, "centre_mm": 50, "index": 1.5}),
        &["focus inside", "check"],
    );
    refused(
        &json!({"calc": "magnification", "rx": {"sphere_d": 60}, "index": 1.5, "front_d": 10, "centre_mm": 4,
            "vertex_mm": 18, "pupil_mm": 3}),
        &["focus", "check"],
    );
}

#[test]
fn a_ray_that_is_totally_reflected_is_refused() {
    // Through the rim of a steep front the ray inside meets it beyond the critical angle.
    let steep = [
        ("rx", json!({"sphere_d": 20.0})),
        ("front_d", json!(20.0)),
        ("index", json!(1.5)),
        ("centre_mm", json!(20.0)),
        ("oc_in_mm", json!(22.0)),
        ("pantoscopic_deg", json!(0.0)),
        ("face_form_deg", json!(0.0)),
    ];
    refused(&with(a_lens(), &steep), &["totally reflected", "choose"]);
}

#[test]
fn surfaces_that_cross_before_the_line_of_sight_are_refused() {
    refused(
        &with(
            a_lens(),
            &[
                ("rx", json!({"sphere_d": 9.0})),
                ("centre_mm", json!(0.5)),
                ("oc_in_mm", json!(25.0)),
            ],
        ),
        &["cross", "raise the centre thickness"],
    );
}

#[test]
fn a_shape_longer_than_its_box_or_shorter_is_refused() {
    for ed in [49.0, 70.0] {
        let frame = json!({"a_mm": 50, "b_mm": 40, "ed_mm": ed});
        refused(
            &with(a_finished_lens(), &[("frame", frame)]),
            &["between 50.0 and 64.0"],
        );
    }
}
