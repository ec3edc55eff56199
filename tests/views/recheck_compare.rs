//! A pair that comes back, lined up: limits on, within and beyond, and laws of the comparison.
//!
//! Power vectors by hand after Thibos, Wheeler and Horner 1997: `M = S + C/2`,
//! `J0 = -(C/2) cos 2a`, `J45 = -(C/2) sin 2a`.
#![allow(clippy::needless_pass_by_value, reason = "tests")]

use crate::recheck_pair::{
    R, against, beyond, changed, first, job, lined_up, measured, recheck_of,
};
use rimbook::testing::job::Job;
use rimbook::testing::practice::Practice;
use rimbook::testing::practice::suspects::Suspects;
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::trade::optics::Rx;
use rimbook::testing::views::recheck::{
    Parameter as P, Source, axis_limit, centration_limit_mm, compare, vertex_limit_mm,
};
use serde_json::{Value, json};

#[test]
fn a_pair_compared_with_itself_has_no_difference() {
    let first = changed(
        first(),
        "readings",
        json!({"right": {"sphere_d": -2, "cylinder_d": -1, "axis_deg": 180, "cd_mm": 32, "height_mm": 20},
            "left": {"sphere_d": -2, "cylinder_d": -1, "axis_deg": 180, "cd_mm": 31, "height_mm": 20}}),
    );
    let mut now = recheck_of(&first);
    now.readings = first.readings.clone();
    now.fitting.taken_on = Some("2026-11-02".parse().unwrap());
    let c = lined_up(&now, &first);
    assert_eq!(c.beyond(), 0);
    let compared: Vec<_> = c.rows.iter().flat_map(|r| &r.differences).collect();
    assert!(compared.len() > 30, "{}", compared.len());
    assert!(
        compared
            .iter()
            .all(|d| d.size.is_none_or(|s| s.abs() < 1e-9)),
        "{compared:?}"
    );
}

#[test]
fn powers_are_suspected_from_their_limit_on() {
    let sphere = |s: f64| against(json!({"right": {"sphere_d": s}}), P::Sphere, R);
    assert!(!sphere(-2.375), "within");
    assert!(sphere(-2.5) && sphere(-1.5), "on, either way");
    assert!(sphere(-2.625), "beyond");
    let cylinder = |c: f64| against(json!({"right": {"cylinder_d": c}}), P::Cylinder, R);
    assert!(!cylinder(-1.375) && cylinder(-1.5) && cylinder(-1.75));
    let axis = |a: f64| against(json!({"right": {"axis_deg": a}}), P::Axis, R);
    assert!(!axis(9.0) && axis(10.0) && axis(170.0) && !axis(171.0));
    let balance = |s: f64| against(json!({"right": {"sphere_d": s}}), P::Balance, None);
    assert!(!balance(-2.375) && balance(-2.5));
}

#[test]
fn plus_added_for_a_presbyope_is_suspected_sooner_than_minus() {
    let presbyope = |old: f64| {
        let first = changed(
            first(),
            "prescription",
            json!({"right": {"addition_d": 2}, "left": {"addition_d": 2}, "previous": {"right": {"sphere_d": old}}}),
        );
        beyond(&lined_up(&recheck_of(&first), &first), P::Sphere, R)
    };
    // From -2.25 to -2.00 is a quarter of plus; from -1.75 it is a quarter of minus.
    assert!(presbyope(-2.25) && !presbyope(-2.125) && !presbyope(-1.75) && presbyope(-1.5));
}

#[test]
fn vectors_follow_the_formulas_worked_by_hand() {
    // -2.00/-1.00x180: M -2.5, J0 0.5, J45 0. Rows: previous power, difference, length.
    for (s, c, a, m, j0, j45) in [
        // +1.00/-2.00x90: M 0, J0 -1, J45 0.
        (1.0, -2.0, 90.0, -2.5, 1.5, 0.0),
        // -2.00/-1.00x45: M -2.5, J0 0, J45 0.5.
        (-2.0, -1.0, 45.0, 0.0, 0.5, -0.5),
        // -1.00 sphere: M -1.
        (-1.0, 0.0, 180.0, -1.5, 0.5, 0.0),
        // -3.00/+1.00x90 is -2.00/-1.00x180 in its other form: nothing changed.
        (-3.0, 1.0, 90.0, 0.0, 0.0, 0.0),
    ] {
        let first = changed(
            first(),
            "prescription",
            json!({"previous": {"right": {"sphere_d": s, "cylinder_d": c, "axis_deg": a}}}),
        );
        let lined = lined_up(&recheck_of(&first), &first);
        let v = lined.vectors.right.unwrap().difference;
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        assert!(
            near(v.m_d, m) && near(v.j0_d, j0) && near(v.j45_d, j45),
            "{v:?}"
        );
        let length = (m * m + j0 * j0 + j45 * j45).sqrt();
        let row = lined.row(P::Power, R).unwrap();
        assert!(near(row.differences[0].size.unwrap(), length), "{row:?}");
        assert_eq!(row.is_beyond(), length >= 0.5 - 1e-9);
    }
}

#[test]
fn an_axis_is_judged_by_its_cylinder() {
    let rx = |c: f64, a: f64| Rx::new(0.0, c, a);
    let limit = |c: f64, a: f64| axis_limit(&Suspects::default(), rx(c, a), rx(c, a));
    assert_eq!(limit(-0.5, 180.0), None);
    assert_eq!(limit(-0.75, 180.0), Some(10.0));
    assert_eq!(limit(-1.875, 90.0), Some(10.0));
    assert_eq!(limit(-2.0, 90.0), Some(5.0));
    assert_eq!(limit(-1.0, 30.0), Some(5.0), "oblique");
    assert_eq!(limit(-1.0, 29.0), Some(10.0));
    assert_eq!(limit(-1.0, 150.0), Some(5.0), "oblique on the other side");
}

#[test]
fn places_are_suspected_from_their_limit_on() {
    let cd = |mm: f64| measured(json!({"right": {"cd_mm": mm}}), P::Centration, R);
    assert!(!cd(33.0) && cd(33.5) && cd(34.0) && cd(30.5));
    let inset = |near: f64| {
        let first = changed(first(), "fitting", json!({"right": {"near_cd_mm": 30}}));
        let now = changed(
            recheck_of(&first),
            "fitting",
            json!({"right": {"near_cd_mm": near}}),
        );
        beyond(&lined_up(&now, &first), P::NearInset, R)
    };
    assert!(!inset(29.5) && inset(29.0) && inset(31.0));
    let vertex = |mm: f64| measured(json!({"right": {"vertex_mm": mm}}), P::Vertex, R);
    assert!(!vertex(16.5) && vertex(17.0), "a weak pair");
    let tilt = |deg: f64| measured(json!({"pantoscopic_deg": deg}), P::Tilt, None);
    assert!(!tilt(12.0) && tilt(13.0) && tilt(3.0));
    let form = |deg: f64| measured(json!({"face_form_deg": deg}), P::FaceForm, None);
    assert!(!form(8.0) && form(9.0));
    let bend = |mm: f64| {
        measured(
            json!({"right": {"length_to_bend_mm": mm}}),
            P::LengthToBend,
            R,
        )
    };
    assert!(!bend(98.0) && bend(99.0));
    let head = |mm: f64| measured(json!({"head_width_mm": mm}), P::HeadWidth, None);
    assert!(!head(143.0) && head(144.0));
}

#[test]
fn limits_that_follow_the_power_follow_it() {
    assert!((vertex_limit_mm(&Suspects::default(), Some(Rx::sphere(-4.875))) - 5.0).abs() < 1e-9);
    assert!(
        (vertex_limit_mm(&Suspects::default(), Some(Rx::new(-3.0, -2.0, 90.0))) - 2.0).abs() < 1e-9
    );
    assert!((vertex_limit_mm(&Suspects::default(), Some(Rx::sphere(8.0))) - 1.0).abs() < 1e-9);
    // Prentice: 5 D makes half a prism dioptre of 1 mm, 2 D of 2.5 mm, where 1.5 mm comes first.
    for eye in Eye::BOTH {
        assert!(
            (centration_limit_mm(&Suspects::default(), eye, Some(Rx::sphere(5.0))) - 1.0).abs()
                < 1e-9
        );
        assert!(
            (centration_limit_mm(&Suspects::default(), eye, Some(Rx::sphere(2.0))) - 1.5).abs()
                < 1e-9
        );
        assert!((centration_limit_mm(&Suspects::default(), eye, None) - 1.5).abs() < 1e-9);
    }
}

#[test]
fn heights_are_suspected_by_design_and_power() {
    let height = |design: &str, sphere: f64, mm: f64| {
        let eye = json!({"sphere_d": sphere});
        let first = changed(
            first(),
            "lenses",
            json!({"design": design, "powers": {"right": eye, "left": eye}}),
        );
        let now = changed(
            recheck_of(&first),
            "fitting",
            json!({"taken_on": "2026-11-02", "right": {"height_mm": mm}}),
        );
        let c = lined_up(&now, &first);
        (
            beyond(&c, P::Height, R),
            beyond(&c, P::HeightDifference, None),
        )
    };
    assert_eq!(height("progressive", -2.0, 20.5), (false, false));
    assert_eq!(height("progressive", -2.0, 21.0), (true, true));
    assert_eq!(
        height("single vision", -1.0, 25.0),
        (false, false),
        "no power"
    );
    assert_eq!(height("single vision", -2.0, 22.5), (false, false));
    assert_eq!(height("single vision", -2.0, 23.0), (true, false));
}

/// A limit that the practice has set equal to another does not decide which design a pair has.
#[test]
fn heights_of_the_eyes_are_compared_by_design_whatever_limits_the_practice_sets() {
    let suspected = |design: &str| {
        let eye = json!({"sphere_d": -6});
        let powers = json!({"right": eye, "left": eye});
        let first = changed(
            first(),
            "lenses",
            json!({"design": design, "powers": powers}),
        );
        let now = changed(
            recheck_of(&first),
            "fitting",
            json!({"taken_on": "2026-11-02", "right": {"height_mm": 24}}),
        );
        let mut practice = Practice::default();
        practice.set("recheck-height", "3").unwrap();
        practice.set("recheck-centre-height", "3").unwrap();
        let c = compare(&now, Some(&first), &practice);
        (
            beyond(&c, P::Height, R),
            beyond(&c, P::HeightDifference, None),
        )
    };
    assert_eq!(suspected("single vision"), (true, false));
    assert_eq!(suspected("progressive"), (true, true));
}

#[test]
fn prism_of_the_pair_is_net_and_what_is_not_written_is_not_known() {
    let first = |previous: Value| {
        changed(
            changed(
                first(),
                "lenses",
                json!({"powers": {"right": {"base_in_delta": -1, "base_up_delta": 0.25}, "left": {"base_in_delta": -1, "base_up_delta": -0.25}}}),
            ),
            "prescription",
            json!({"previous": previous}),
        )
    };
    let none = first(json!({}));
    let c = lined_up(&recheck_of(&none), &none);
    let row = c.row(P::PrismHorizontal, None).unwrap();
    assert_eq!(row.shown(Source::Previous), None);
    assert_eq!(row.shown(Source::Ordered).unwrap(), "-2.00");
    assert!(!row.is_compared(), "nothing to compare is not equal");
    for (out, up, is_h, is_v) in [
        (-1.125, 0.5, false, false),
        (-1.0, 0.5, true, false),
        (-2.0, 0.0, false, true),
    ] {
        let old = first(json!({"right": {"base_in_delta": out, "base_up_delta": up}}));
        let c = lined_up(&recheck_of(&old), &old);
        assert_eq!(beyond(&c, P::PrismHorizontal, None), is_h, "{out}");
        assert_eq!(beyond(&c, P::PrismVertical, None), is_v, "{up}");
    }
}

#[test]
fn lens_and_frame_are_suspected_from_their_limit_on() {
    let curve = |d: f64| against(json!({"base_d": d}), P::FrontCurve, R);
    assert!(!curve(4.875) && curve(5.0) && curve(3.0));
    let index = |n: f64| against(json!({"index": n}), P::Index, None);
    assert!(!index(1.590) && index(1.600));
    let design = |d: &str| against(json!({"design": d}), P::Design, None);
    assert!(!design("Single Vision ") && design("bifocal"));
    let first = first();
    let with = |section: &str, change: Value, p: P| {
        let now = changed(recheck_of(&first), section, change);
        beyond(&lined_up(&now, &first), p, None)
    };
    assert!(with("lenses", json!({"material": "resin 1.60"}), P::Abbe));
    assert!(!with("frame", json!({"a_mm": 50}), P::BoxedWidth));
    let pads = |m: &str| json!({"pads": {"material": m}});
    assert!(
        !with("frame", pads("silicone"), P::Pads),
        "pads that were not known before are no change"
    );
    let padded = changed(first.clone(), "frame", pads("titanium"));
    let now = changed(recheck_of(&padded), "frame", pads("silicone"));
    assert!(beyond(&lined_up(&now, &padded), P::Pads, None));
}

#[test]
fn the_latest_repair_counts_however_late_an_earlier_one_was_written_down() {
    let first = changed(
        first(),
        "aftercare",
        json!({"repairs": [
            {"on": "2026-12-01", "right": {"vertex_mm": 14}},
            {"on": "2026-11-01", "right": {"vertex_mm": 10}},
        ]}),
    );
    let c = lined_up(&recheck_of(&first), &first);
    let vertex = c.row(P::Vertex, Some(Eye::Right)).unwrap();
    assert_eq!(vertex.shown(Source::Repaired).unwrap(), "14.0");
}

#[test]
fn a_repair_stands_beside_the_handover_and_not_in_its_place() {
    let mut first = first();
    let handed = first
        .handover
        .right
        .vertex_mm
        .map(rimbook::testing::trade::units::Millimetre::get);
    first.frame.pads = serde_json::from_value(json!({"mount": "screw", "size_mm": 13})).unwrap();
    first.aftercare.repairs = serde_json::from_value(json!([
        {"pantoscopic_deg": 10, "right": {"vertex_mm": 13}},
        {"right": {"vertex_mm": 14}, "pads": {"size_mm": 15}}
    ]))
    .unwrap();
    let c = lined_up(&recheck_of(&first), &first);
    let vertex = c.row(P::Vertex, R).unwrap();
    assert_eq!(
        vertex.shown(Source::HandedOver),
        handed.map(|v| format!("{v:.1}"))
    );
    assert_eq!(vertex.shown(Source::Repaired).unwrap(), "14.0");
    assert_eq!(vertex.shown(Source::Now), None, "nothing was measured now");
    let tilt = c.row(P::Tilt, None).unwrap();
    assert_eq!(tilt.shown(Source::Repaired).unwrap(), "10");
    let pads = c.row(P::Pads, None).unwrap();
    assert_eq!(pads.shown(Source::HandedOver), None);
    assert_eq!(
        pads.shown(Source::Repaired).unwrap(),
        "screw 15 mm",
        "the mount, of which the repair says nothing, stayed"
    );
    assert!(pads.is_beyond());
}

#[test]
fn what_was_only_carried_over_is_not_measured_now() {
    let first = first();
    let now = recheck_of(&first);
    let shown = |now: &Job| {
        lined_up(now, &first)
            .row(P::Height, R)
            .unwrap()
            .shown(Source::Now)
    };
    assert_eq!(shown(&now), None);
    let mut taken = now.clone();
    taken.fitting.taken_on = Some("2026-11-20".parse().unwrap());
    assert_eq!(shown(&taken).as_deref(), Some("20.0"));
    taken.origins = serde_json::from_value(
        json!({"fitting.right.height_mm": {"job": "26-0001", "as": "measured"}}),
    )
    .unwrap();
    assert_eq!(shown(&taken), None, "its origin says so");
    taken.fitting.right.height_mm =
        Some(rimbook::testing::trade::units::Millimetre::new(19.0).unwrap());
    assert_eq!(shown(&taken).as_deref(), Some("19.0"), "it is another");
}

#[test]
fn readings_taken_now_are_judged_by_the_standard() {
    let first = first();
    let read = |sphere: f64| {
        let eye = |s: f64| json!({"sphere_d": s, "cylinder_d": -1, "axis_deg": 180});
        let now = changed(
            recheck_of(&first),
            "readings",
            json!({"right": eye(sphere), "left": eye(-2.0)}),
        );
        beyond(&lined_up(&now, &first), P::MadeAlong, R)
    };
    // ISO 21987: 0.12 D up to 6 D.
    assert!(!read(-2.12) && read(-2.14));
}

#[test]
fn without_the_first_job_nothing_was_measured_now() {
    let c = compare(&recheck_of(&first()), None, &Practice::default());
    assert!(!c.has_first);
    assert_eq!(c.row(P::Height, R).unwrap().shown(Source::Now), None);
    assert_eq!(
        c.row(P::Height, R).unwrap().shown(Source::Ordered).unwrap(),
        "20.0"
    );
}

#[test]
fn the_suspected_come_first_and_an_empty_job_says_nothing() {
    let first = changed(first(), "prescription", json!({"previous": {"base_d": 8}}));
    let c = lined_up(&recheck_of(&first), &first);
    let flags: Vec<bool> = c
        .rows
        .iter()
        .map(rimbook::testing::views::recheck::ComparedRow::is_beyond)
        .collect();
    assert!(flags[0] && flags.is_sorted_by(|a, b| a >= b));
    let none = job(json!({}));
    let c = lined_up(&none, &none);
    assert!(c.rows.iter().all(|r| !r.is_compared()), "{:?}", c.rows);
}

#[test]
fn the_page_prints_every_limit_by_its_setting_with_its_source() {
    let page = include_str!("../../docs/recheck.md");
    let mut practice = Practice::default();
    for s in rimbook::testing::views::recheck::Suspect::ALL {
        let unit = match s.unit() {
            "(no unit)" => String::new(),
            unit => format!(" {unit}"),
        };
        let meaning = s.meaning().trim();
        let row = format!(
            "| `{}` | {}{unit} | {meaning} | {} |",
            s.setting(),
            s.default_value(),
            s.source()
        );
        assert!(page.contains(&row), "{row}");
        // Under that name it is set.
        let other = (s.default_value() + 1.0).to_string();
        practice.set(s.setting(), &other).unwrap();
    }
    // What it says how to set one is a setting, and no row is left that is none.
    let named = page.split('`').filter(|w| w.starts_with("recheck-"));
    for word in named {
        assert!(
            rimbook::testing::views::recheck::Suspect::ALL
                .iter()
                .any(|s| s.setting() == word),
            "{word}"
        );
    }
    let how = "`rimbook practice set recheck-height 1.5 --as NAME`";
    assert!(page.contains(how), "{how}");
    practice.set("recheck-height", "1.5").unwrap();
}

#[test]
fn the_practice_may_suspect_sooner_or_later_than_the_table() {
    let first = first();
    let now = changed(
        recheck_of(&first),
        "fitting",
        json!({"right": {"length_to_bend_mm": 100}}),
    );
    let first = changed(
        first,
        "fitting",
        json!({"right": {"length_to_bend_mm": 98}}),
    );
    let suspected =
        |practice: &Practice| beyond(&compare(&now, Some(&first), practice), P::LengthToBend, R);
    let mut practice = Practice::default();
    assert!(!suspected(&practice), "the table says 3 mm");
    practice.set("recheck-length-to-bend", "2").unwrap();
    assert!(suspected(&practice));
    for refused in ["0", "-1", "NaN", "two", ""] {
        assert!(
            practice.set("recheck-length-to-bend", refused).is_err(),
            "{refused:?}"
        );
    }
    assert!(practice.set("recheck-nothing", "2").is_err());
    assert!(suspected(&practice), "what was refused changed nothing");
    practice.set("recheck-length-to-bend", "default").unwrap();
    assert_eq!(practice, Practice::default());
}
