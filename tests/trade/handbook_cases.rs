//! Worked examples and examination questions with printed answers, topic by topic.
//!
//! Those that are requests of the headless interface are asked in `calc_vectors.rs`; the others are
//! checked here by calling the formulas, or listed with the reason why they are not. Sources stand
//! beside each case in `tests/data/checks/handbook_cases.json`.

use crate::common;

use std::collections::BTreeSet;

use rimbook::testing::trade::eye::{Eye, PerEye};
use rimbook::testing::trade::optics::back_vertex::thick_powers;
use rimbook::testing::trade::optics::base_curve::vogel_base_d;
use rimbook::testing::trade::optics::blank::minimum_blank_mm;
use rimbook::testing::trade::optics::centration::{decentration, frame_centre_distance_mm};
use rimbook::testing::trade::optics::combine::{combine, difference};
use rimbook::testing::trade::optics::curves::{
    curve_variation_factor, radius_mm, sag_mm, true_power_d,
};
use rimbook::testing::trade::optics::meridian::meridian_power_d;
use rimbook::testing::trade::optics::near_prism::reading_prism;
use rimbook::testing::trade::optics::prism::{
    CompoundPrism, LensPoint, Prism, compound, decentre_for, prism_at, resolve,
};
use rimbook::testing::trade::optics::vertex::vertex_power_d;
use rimbook::testing::trade::optics::{PowerMatrix, Rx};
use serde_json::Value;

/// Cases that no formula of the program answers, or whose printed answer is wrong.
const NOT_CHECKED: [(&str, &str); 10] = [
    (
        "HC076",
        "the source has lost a sign: the power is -4.75, printed +4.75",
    ),
    (
        "HC091",
        "the source leaves the cylinder out; the vertical power is +2.00, so 0.8 is right and 1.2 is not",
    ),
    (
        "HC155",
        "sharing a prism between the eyes is the prescriber's choice, not a formula here",
    ),
    ("HC210", "an axis limit: checked with the tolerance tables"),
    ("HC211", "an axis limit: checked with the tolerance tables"),
    ("HC212", "an axis limit: checked with the tolerance tables"),
    (
        "HC215",
        "the pair rule for prism: checked with the tolerance tables",
    ),
    (
        "HC217",
        "the pair rule for prism: checked with the tolerance tables",
    ),
    ("HC221", "a prism limit: checked with the tolerance tables"),
    (
        "HC222",
        "a rule of thumb, three quarters of a millimetre for each dioptre; here Ellerbrock's formula is used",
    ),
];

/// One case, with its numbers at hand.
struct Case<'a> {
    id: &'a str,
    inputs: &'a Value,
    expected: &'a Value,
    tolerance: f64,
}

impl Case<'_> {
    fn n(&self, key: &str) -> f64 {
        self.maybe(key)
            .unwrap_or_else(|| panic!("{}: no {key}", self.id))
    }

    fn maybe(&self, key: &str) -> Option<f64> {
        self.inputs[key].as_f64()
    }

    fn text(&self, key: &str) -> &str {
        self.inputs[key].as_str().unwrap_or("")
    }

    fn wants(&self, key: &str) -> f64 {
        self.expected[key]
            .as_f64()
            .unwrap_or_else(|| panic!("{}: expects no {key}", self.id))
    }

    fn wants_text(&self, key: &str) -> &str {
        self.expected[key].as_str().unwrap()
    }

    fn rx(&self) -> Rx {
        Rx::new(
            self.n("sphere_d"),
            self.maybe("cyl_d")
                .or(self.maybe("reading_cyl_d"))
                .unwrap_or(0.0),
            self.maybe("axis_deg").unwrap_or(180.0),
        )
    }

    fn close(&self, found: f64, key: &str) {
        let wanted = self.wants(key);
        assert!(
            (found - wanted).abs() <= self.tolerance + 1e-9,
            "{} {key}: {found}, not {wanted}",
            self.id
        );
    }

    fn close_rx(&self, found: Rx) {
        let wanted = Rx::new(
            self.wants("sphere_d"),
            self.wants("cyl_d"),
            self.expected["axis_deg"].as_f64().unwrap_or(180.0),
        );
        let away = (found.matrix() - wanted.matrix()).largest_d();
        assert!(away <= self.tolerance + 1e-9, "{}: {found:?}", self.id);
    }
}

fn thin(front_d: f64, back_d: f64) -> f64 {
    thick_powers(front_d, back_d, 0.0, 1.5)
        .unwrap()
        .back_vertex_d
}

fn at(in_mm: f64, up_mm: f64) -> LensPoint {
    LensPoint { in_mm, up_mm }
}

/// The word for the larger part of a prism.
fn base(prism: Prism) -> &'static str {
    if prism.base_in_delta.abs() > prism.base_up_delta.abs() {
        if prism.base_in_delta > 0.0 {
            "in"
        } else {
            "out"
        }
    } else if prism.base_up_delta > 0.0 {
        "up"
    } else {
        "down"
    }
}

fn amount(prism: Prism) -> f64 {
    compound(Eye::Right, prism).amount_delta
}

fn prentice(c: &Case<'_>) {
    if let Some(wanted) = c.expected.get("power_in_meridian_d") {
        let p = prism_at(
            Eye::Right,
            Rx::sphere(wanted.as_f64().unwrap()),
            at(0.0, c.n("distance_from_oc_mm")),
        );
        assert!(
            (amount(p) - c.n("prism_d")).abs() <= c.tolerance,
            "{}",
            c.id
        );
        return;
    }
    let rx = c
        .maybe("power_in_meridian_d")
        .map_or_else(|| c.rx(), Rx::sphere);
    let distance = c
        .maybe("distance_from_oc_mm")
        .or(c.maybe("oc_moved_up_mm"))
        .unwrap();
    // The point looked through lies the other way from a centre that was moved.
    let place = match (c.text("gaze"), c.text("oc_moved")) {
        ("below OC", _) => at(0.0, -distance),
        (_, "down") => at(0.0, distance),
        (_, "out") => at(distance, 0.0),
        _ if c.maybe("oc_moved_up_mm").is_some() => at(0.0, -distance),
        _ => at(distance, 0.0),
    };
    let found = prism_at(Eye::Right, rx, place);
    c.close(amount(found), "prism_d");
    let wanted = match c.wants_text("base") {
        "toward OC" => "out",
        word => word,
    };
    assert_eq!(base(found), wanted, "{}", c.id);
}

fn decentration_for_prism(c: &Case<'_>) {
    let d = c.n("prism_d");
    let wanted = match c.text("base") {
        "in" => (d, 0.0),
        "out" => (-d, 0.0),
        "up" => (0.0, d),
        _ => (0.0, -d),
    };
    let prism = Prism {
        base_in_delta: wanted.0,
        base_up_delta: wanted.1,
    };
    let centre = decentre_for(Eye::Right, Rx::sphere(c.n("power_in_meridian_d")), prism).unwrap();
    c.close(centre.in_mm.hypot(centre.up_mm), "decentration_mm");
    let direction = base(Prism {
        base_in_delta: centre.in_mm,
        base_up_delta: centre.up_mm,
    });
    assert_eq!(direction, c.wants_text("direction"), "{}", c.id);
}

/// The prism of a segment at a reading level below the distance centre: (base up, prism dioptres).
fn segment_base_up(c: &Case<'_>, add_d: f64) -> f64 {
    let top_to_centre = if c.text("segment").contains("11 mm below top") {
        11.0
    } else {
        0.0
    };
    let centre_below = c.n("segment_drop_mm") + top_to_centre;
    let up = centre_below - c.n("reading_level_below_oc_mm");
    prism_at(Eye::Right, Rx::sphere(add_d), at(0.0, up)).base_up_delta
}

fn boxed(c: &Case<'_>) -> LensPoint {
    let a = c
        .maybe("a_mm")
        .or(c.maybe("frame_pd_mm"))
        .or(c.maybe("boxed_centre_distance_mm"))
        .unwrap();
    let pd = c
        .maybe("pd_mm")
        .or(c.maybe("centration_distance_mm"))
        .unwrap();
    decentration(a, 40.0, c.maybe("dbl_mm").unwrap_or(0.0), pd / 2.0, None)
}

/// Checks a case; false where its topic is none of these.
#[allow(clippy::too_many_lines, reason = "one table of topics")]
fn check(topic: &str, c: &Case<'_>) -> bool {
    match topic {
        "transposition" if c.maybe("cyl1_d").is_some() => c.close_rx(combine([
            Rx::new(0.0, c.n("cyl1_d"), c.n("axis1_deg")),
            Rx::new(0.0, c.n("cyl2_d"), c.n("axis2_deg")),
        ])),
        "transposition" => c.close_rx(
            PowerMatrix {
                xx: c.n("first_reading_d"),
                xy: 0.0,
                yy: c.n("second_reading_d"),
            }
            .rx(),
        ),
        "toric_transposition" => {
            let rx = c.rx();
            let front = c.wants("spherical_surface_d");
            // A curve of the back lies along one meridian and gives its power there.
            for (curve, axis) in [
                ("toric_base_d", "toric_base_axis_deg"),
                ("toric_cross_d", "toric_cross_axis_deg"),
            ] {
                let power = meridian_power_d(rx, c.wants(axis) + 90.0);
                assert!(
                    (thin(front, c.wants(curve)) - power).abs() <= c.tolerance,
                    "{}",
                    c.id
                );
            }
        }
        "cosine_square_meridian" => {
            let angles = c.inputs["angle_from_axis_deg"].as_array().unwrap();
            let percents = c.expected["cylinder_percent_in_force"].as_array().unwrap();
            assert_eq!(angles.len(), percents.len());
            for (angle, percent) in angles.iter().zip(percents) {
                let found = 100.0
                    * meridian_power_d(Rx::new(0.0, 1.0, 20.0), 20.0 + angle.as_f64().unwrap());
                assert!(
                    (found - percent.as_f64().unwrap()).abs() <= c.tolerance,
                    "{}: {angle}",
                    c.id
                );
            }
        }
        "prentice" => prentice(c),
        "decentration_for_prism" => decentration_for_prism(c),
        "prism_base_direction" => {
            // The centre moved in: the point looked through lies out from it.
            assert_eq!(
                base(prism_at(Eye::Right, c.rx(), at(-4.0, 0.0))),
                c.wants_text("base")
            );
        }
        "prentice_spherocyl" => {
            // The centre lies x out and y up from the point; binasal axes are standard for a right eye.
            let rx = Rx::new(c.n("sphere_d"), c.n("cyl_d"), c.n("axis_deg_binasal"));
            let found = prism_at(Eye::Right, rx, at(c.n("x_out_mm"), -c.n("y_up_mm")));
            c.close(found.base_up_delta, "prism_vertical_d");
        }
        "crossed_cylinders" => {
            let lens = |key: &str| {
                let l = &c.inputs[key];
                let n = |k: &str| l[k].as_f64().unwrap();
                Rx::new(n("sphere_d"), n("cyl_d"), n("axis_deg"))
            };
            c.close(
                combine([lens("lens1"), lens("lens2")]).mean_d(),
                "spherical_equivalent_d",
            );
        }
        "effective_power" => {
            // The lens as moved, replaced by the one that does the same at the old place.
            let moved = c.n("moved_toward_eye_mm");
            c.close(
                vertex_power_d(c.n("sphere_d"), 12.0, 12.0 + moved).unwrap(),
                "effective_power_d",
            );
        }
        "effectivity" => {
            let arriving =
                vertex_power_d(c.n("lens1_d"), 10.0 * c.n("separation_cm"), 0.0).unwrap();
            c.close(arriving + c.n("lens2_d"), "emergent_vergence_d");
        }
        "sag_thickness" => {
            let radius = radius_mm(c.n("power_d"), c.n("index")).unwrap();
            let sag = sag_mm(1.0 / radius, c.n("diameter_mm") / 2.0).unwrap();
            c.close(radius, "radius_mm");
            c.close(sag, "sag_mm");
            c.close(sag + c.n("edge_thickness_mm"), "centre_thickness_mm");
        }
        "sag" => c.close(
            sag_mm(1.0 / c.n("radius_mm"), c.n("diameter_mm") / 2.0).unwrap(),
            "sag_mm",
        ),
        "lens_measure_index" if c.maybe("reading_d").is_some() => c.close(
            true_power_d(c.n("reading_d"), c.n("calibration_index"), c.n("index")).unwrap(),
            "true_surface_power_d",
        ),
        "lens_measure_index" => {
            let marked = c.n("front_reading_d") + c.n("back_reading_d");
            let power = true_power_d(marked, c.n("calibration_index"), c.wants("index")).unwrap();
            // The tolerance is the index's; a dioptre of curve is worth 1/(n0 - 1) of it.
            assert!(
                (power - c.n("neutralised_power_d")).abs() < 0.005,
                "{}: {power}",
                c.id
            );
        }
        "surface_power" if c.maybe("radius_cm").is_some() => {
            // Curvature is the power at an index of 2.
            let radius = radius_mm(c.wants("curvature_d"), 2.0).unwrap();
            assert!((radius / 10.0 - c.n("radius_cm")).abs() < 1e-9, "{}", c.id);
        }
        "surface_power" => {
            let front = c.n("front_reading_d");
            let (strong, weak) = (
                thin(front, c.n("back_reading_strong_d")),
                thin(front, c.n("back_reading_weak_d")),
            );
            c.close(weak, "sphere_d");
            c.close(strong - weak, "cyl_d");
        }
        "curve_variation_factor" => {
            let factor = curve_variation_factor(c.n("index"), c.n("reference_index")).unwrap();
            assert!(
                (factor - c.wants("cvf")).abs() < 0.005,
                "{}: {factor}",
                c.id
            );
            c.close(100.0 * (1.0 - factor), "thickness_reduction_percent");
        }
        "nominal_back_curve" if c.maybe("back_d").is_some() => {
            c.close(thin(c.n("front_d"), c.n("back_d")), "power_d");
        }
        "nominal_back_curve" => {
            let front = c.n("front_base_curve_d");
            let curves: Vec<(&str, f64)> = if let Some(power) = c.maybe("power_d") {
                vec![("back_curve_d", power)]
            } else {
                let (along, across) = c.rx().principal_powers();
                vec![("back_curve_1_d", along), ("back_curve_2_d", across)]
            };
            for (key, power) in curves {
                let found = thin(front, c.wants(key));
                assert!(
                    (found - power).abs() <= c.tolerance,
                    "{} {key}: {found}",
                    c.id
                );
            }
        }
        "base_curve_vogel" => {
            let flatter = c.maybe("aspheric_adjust_d").unwrap_or(0.0);
            c.close(vogel_base_d(c.rx()) + flatter, "base_curve_d");
        }
        "compound_prism" => {
            let mut sum = Prism::default();
            for part in c.inputs["components"].as_array().unwrap() {
                let p = resolve(
                    Eye::Right,
                    CompoundPrism {
                        amount_delta: part["prism_d"].as_f64().unwrap(),
                        base_deg: part["base_angle_deg"].as_f64().unwrap(),
                    },
                );
                sum.base_in_delta += p.base_in_delta;
                sum.base_up_delta += p.base_up_delta;
            }
            let whole = compound(Eye::Right, sum);
            c.close(whole.amount_delta, "resultant_d");
            c.close(whole.base_deg, "base_angle_deg");
        }
        "slab_off_imbalance" => {
            let right = c
                .maybe("right_vertical_power_d")
                .or(c.maybe("vertical_power_difference_d"))
                .unwrap();
            let left = c.maybe("left_vertical_power_d").unwrap_or(0.0);
            let pair = PerEye {
                right: Rx::sphere(right),
                left: Rx::sphere(left),
            };
            let p = reading_prism(pair, c.n("reading_level_below_oc_mm"), 0.0);
            c.close(p.vertical_difference_delta, "imbalance_d");
            if c.expected.get("more_base_up_eye").is_some() {
                assert_eq!(c.wants_text("more_base_up_eye"), "right");
                assert!(p.vertical_difference_delta > 0.0);
            }
        }
        "segment_prism" if c.maybe("add_d").is_some() => {
            let up = segment_base_up(c, c.n("add_d"));
            c.close(up.abs(), "segment_prism_d");
            assert_eq!(
                if up > 0.0 { "up" } else { "down" },
                c.wants_text("base"),
                "{}",
                c.id
            );
        }
        "segment_prism" => {
            for side in ["right", "left"] {
                let distance = Rx::sphere(c.n(&format!("{side}_distance_vertical_d")));
                let level = at(0.0, -c.n("reading_level_below_oc_mm"));
                let whole = prism_at(Eye::Right, distance, level).base_up_delta
                    + segment_base_up(c, c.n(&format!("{side}_add_d")));
                c.close(whole, &format!("{side}_total_bu_d"));
            }
        }
        "near_rx" if c.maybe("add_d").is_some() => c.close_rx(c.rx().plus_sphere(c.n("add_d"))),
        "near_rx" => {
            let between = difference(
                Rx::sphere(c.n("distance_vertical_target_d")),
                Rx::sphere(c.n("near_vertical_target_d")),
            );
            c.close(between.mean_d(), "add_d");
        }
        "focimeter_zero_error" => {
            let read = Rx::new(
                c.n("reading_sphere_d"),
                c.n("reading_cyl_d"),
                c.n("axis_deg"),
            );
            c.close_rx(difference(Rx::sphere(c.n("zero_reading_d")), read));
        }
        "decentration" => c.close(boxed(c).in_mm, "decentration_per_lens_in_mm"),
        "boxed_system" => {
            let apart = frame_centre_distance_mm(c.n("a_mm"), c.wants("dbl_mm"));
            assert!(
                (apart - c.n("frame_pd_mm")).abs() <= c.tolerance,
                "{}",
                c.id
            );
        }
        "minimum_blank_size" => {
            let shift = c
                .maybe("decentration_per_lens_mm")
                .or(c.maybe("total_decentration_mm").map(|both| both / 2.0))
                .unwrap_or_else(|| boxed(c).in_mm);
            c.close(
                minimum_blank_mm(c.n("ed_mm"), at(shift, 0.0), c.n("allowance_mm")),
                "mbs_mm",
            );
        }
        "segment_height" => {
            let raise = decentration(
                50.0,
                c.n("b_mm"),
                18.0,
                32.0,
                Some(c.n("segment_height_mm")),
            )
            .up_mm;
            c.close(raise, "segment_raise_mm");
        }
        "tolerance_axis_basis" => {
            // The cylinder that a turned axis makes reaches the allowed one at the printed angle.
            let ordered = Rx::new(0.0, c.n("cyl_d"), 180.0);
            let error = |deg: f64| {
                difference(ordered, Rx::new(0.0, c.n("cyl_d"), deg))
                    .cylinder_d
                    .abs()
            };
            let (allowed, angle) = (c.n("allowed_error_cyl_d"), c.wants("axis_tolerance_deg"));
            assert!(error(angle - c.tolerance) < allowed && allowed < error(angle + c.tolerance));
        }
        _ => return false,
    }
    true
}

#[test]
fn every_worked_example_is_checked_or_listed_with_a_reason() {
    let requests = common::json("checks/handbook_requests.json");
    // One case may be several requests: HC038.0, HC038.1, ...
    let asked: BTreeSet<String> = requests
        .as_array()
        .unwrap()
        .iter()
        .map(|r| {
            r["id"]
                .as_str()
                .unwrap()
                .split('.')
                .next()
                .unwrap()
                .to_owned()
        })
        .collect();
    let cases = common::json("checks/handbook_cases.json");
    let listed: BTreeSet<&str> = NOT_CHECKED.iter().map(|(id, _)| *id).collect();
    let (mut checked, mut seen) = (0, BTreeSet::new());
    for case in cases.as_array().unwrap() {
        let id = case["id"].as_str().unwrap();
        seen.insert(id);
        let case_here = Case {
            id,
            inputs: &case["inputs"],
            expected: &case["expected"],
            tolerance: case["tolerance"].as_f64().unwrap(),
        };
        if asked.contains(id) {
            assert!(!listed.contains(id), "{id} is asked and listed");
        } else if listed.contains(id) {
            // Said not to be checked.
        } else {
            assert!(
                check(case["topic"].as_str().unwrap(), &case_here),
                "{id} is neither asked, checked nor listed: {}",
                case["topic"]
            );
            checked += 1;
        }
    }
    assert!(checked >= 50, "{checked}");
    for id in listed
        .iter()
        .copied()
        .chain(asked.iter().map(String::as_str))
    {
        assert!(seen.contains(id), "{id} is no case");
    }
}

#[test]
fn the_examples_that_are_printed_wrong_come_out_right_here() {
    let p = prism_at(Eye::Right, Rx::new(3.0, -1.0, 180.0), at(0.0, -4.0));
    assert!((p.base_up_delta - 0.8).abs() < 1e-12);
    assert!((meridian_power_d(Rx::new(-4.0, -1.5, 45.0), 90.0) + 4.75).abs() < 1e-12);
}
