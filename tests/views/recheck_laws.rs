//! Laws of the comparison of a pair that came back, over random pairs.
#![allow(clippy::needless_pass_by_value, reason = "tests")]

use crate::recheck_pair::{changed, job, lined_up, recheck_of};
use proptest::prelude::*;
use rimbook::testing::job::{Job, read_jobs};
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::views::recheck::ComparedValue;
use serde_json::{Value, json};

fn swap(v: &mut Value) {
    if let Value::Object(map) = v {
        for (r, l) in [("right", "left"), ("right_cd_mm", "left_cd_mm")] {
            let (a, b) = (map.remove(r), map.remove(l));
            if let Some(a) = a {
                map.insert(l.to_owned(), a);
            }
            if let Some(b) = b {
                map.insert(r.to_owned(), b);
            }
        }
        map.values_mut().for_each(swap);
    }
}

fn swapped(job: &Job) -> Job {
    let mut file = Value::Object(job.to_file().unwrap());
    swap(&mut file);
    read_jobs(&file.to_string()).unwrap().remove(0)
}

fn eye_values() -> impl Strategy<Value = Value> {
    (-120..120_i32, -48..=48_i32, 1..=180_i32, -40..40_i32).prop_map(|(s, c, a, p)| {
        json!({"sphere_d": f64::from(s) / 8.0, "cylinder_d": f64::from(c) / 8.0, "axis_deg": a,
            "addition_d": f64::from(s.abs() % 24) / 8.0, "base_in_delta": f64::from(p) / 4.0, "base_up_delta": f64::from(-p) / 8.0})
    })
}

fn fits() -> impl Strategy<Value = Value> {
    (200..400_i32, 100..300_i32, 50..250_i32).prop_map(|(cd, h, v)| {
        let of = |n: i32| f64::from(n) / 10.0;
        json!({"cd_mm": of(cd), "height_mm": of(h), "vertex_mm": of(v), "near_cd_mm": of(cd - 20), "length_to_bend_mm": of(h + 800)})
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn any_pair_compared_with_itself_has_no_difference(
        powers in (eye_values(), eye_values()),
        fit in (fits(), fits()),
    ) {
        let first = job(json!({
            "number": "26-0001",
            "prescription": {"right": powers.0, "left": powers.1, "previous": {"right": powers.0, "left": powers.1}},
            "fitting": {"taken_on": "2026-10-02", "right": fit.0, "left": fit.1},
            "lenses": {"design": "progressive", "powers": {"as": "prescribed", "right": powers.0, "left": powers.1}},
        }));
        let mut now = recheck_of(&first);
        now.fitting.taken_on = Some("2026-11-02".parse().unwrap());
        now.readings = changed(Job::default(), "readings", json!({"right": powers.0, "left": powers.1})).readings;
        let c = lined_up(&now, &first);
        for row in &c.rows {
            for d in &row.differences {
                prop_assert!(!d.beyond && d.size.is_none_or(|s| s.abs() < 1e-9), "{:?}", row);
            }
        }
        prop_assert!(c.rows.iter().any(|r| r.parameter.is_made()), "the readings were compared");
    }

    #[test]
    fn whatever_is_recorded_numbers_are_finite_and_the_order_of_eyes_does_not_matter(
        old in (eye_values(), eye_values()),
        new in (eye_values(), eye_values()),
        fit in (fits(), fits()),
        now in (fits(), fits()),
    ) {
        let mut previous = json!({"right": old.0, "left": old.1});
        previous["vertex_mm"] = json!(12);
        let first = job(json!({
            "number": "26-0001",
            "prescription": {"right": new.0, "left": new.1, "previous": previous},
            "fitting": {"right": fit.0, "left": fit.1},
            "lenses": {"design": "progressive", "material": "resin 1.60", "powers": {"as": "prescribed", "right": new.0, "left": new.1}},
            "readings": {"right": old.0, "left": old.1},
        }));
        let recheck = changed(recheck_of(&first), "fitting", json!({"right": now.0, "left": now.1}));
        let c = lined_up(&recheck, &first);
        let mirrored = lined_up(&swapped(&recheck), &swapped(&first));
        prop_assert_eq!(c.rows.len(), mirrored.rows.len());
        for row in &c.rows {
            for v in row.values.iter().flatten() {
                if let ComparedValue::Number(n) = v {
                    prop_assert!(n.is_finite());
                }
            }
            for d in &row.differences {
                prop_assert!(d.size.is_none_or(f64::is_finite) && d.limit.is_none_or(f64::is_finite));
            }
            let other = mirrored.row(row.parameter, row.eye.map(Eye::other)).unwrap();
            prop_assert_eq!(row.is_beyond(), other.is_beyond(), "{:?} {:?}", row, other);
            for (a, b) in row.differences.iter().zip(&other.differences) {
                let (a, b) = (a.size.unwrap_or(0.0).abs(), b.size.unwrap_or(0.0).abs());
                prop_assert!((a - b).abs() < 1e-9, "{:?} {:?}", row, other);
            }
        }
    }
}
