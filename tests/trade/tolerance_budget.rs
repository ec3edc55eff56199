//! The accuracy budget: a step inside it passes, a step outside breaks the printed limit.

use approx::assert_abs_diff_eq;
use proptest::prelude::*;
use rimbook::testing::trade::eye::{Eye, PerEye};
use rimbook::testing::trade::optics::power::{PowerMatrix, Rx};
use rimbook::testing::trade::tolerance::budget::{
    Allowance, Basis, LensModel, ThinLens, Worn, budget, places,
};
use rimbook::testing::trade::tolerance::{
    EyeValues, LensKind, Options, PairValues, Quantity, Standard, ToleranceLine, compare,
};

fn pair(right: Rx, left: Rx) -> Basis {
    Basis {
        ordered: PairValues {
            right: Some(EyeValues::of(right)),
            left: Some(EyeValues::of(left)),
        },
        ..Basis::default()
    }
}

fn smallest(allowance: Option<Allowance>) -> f64 {
    allowance.unwrap().smallest().unwrap()
}

#[test]
fn halving_a_weak_power_doubles_the_budget_and_a_strong_one_keeps_two_millimetres() {
    // ISO Table 5: 0.67 up to 3.25 D, then 0.20 F horizontally and 0.10 F above 5 D vertically.
    let cd = |d: f64| {
        smallest(
            places(&pair(Rx::sphere(d), Rx::sphere(d)))
                .unwrap()
                .cd_mm
                .right,
        )
    };
    assert_abs_diff_eq!(cd(-1.0), 6.7, epsilon = 1e-9);
    assert_abs_diff_eq!(cd(-0.5), 13.4, epsilon = 1e-9);
    assert_abs_diff_eq!(cd(3.0), 0.67 / 0.3, epsilon = 1e-9);
    assert_abs_diff_eq!(cd(-10.0), 2.0, epsilon = 1e-9);
    let height = |d: f64| {
        smallest(
            places(&pair(Rx::sphere(d), Rx::sphere(d)))
                .unwrap()
                .height_mm
                .left,
        )
    };
    assert_abs_diff_eq!(height(-1.0), 5.0, epsilon = 1e-9);
    assert_abs_diff_eq!(height(-10.0), 1.0, epsilon = 1e-9);
}

#[test]
fn the_millimetre_rule_decides_where_it_is_smaller() {
    let mut basis = pair(Rx::sphere(-1.0), Rx::sphere(-1.0));
    basis.kind = LensKind::PowerVariation;
    let found = places(&basis).unwrap();
    for (allowance, rules) in [
        (
            found.cd_mm.right.unwrap(),
            [Quantity::Centration, Quantity::Centration],
        ),
        (
            found.height_mm.left.unwrap(),
            [Quantity::Height, Quantity::HeightDifference],
        ),
    ] {
        for side in [allowance.minus.unwrap(), allowance.plus.unwrap()] {
            assert_abs_diff_eq!(side.by, 1.0, epsilon = 1e-9);
            assert!(rules.contains(&side.rule), "{side:?}");
        }
    }
    // The weaker lens gives the limit, the stronger one uses it up.
    basis.ordered.right = Some(EyeValues::of(Rx::sphere(-8.0)));
    let height = places(&basis).unwrap().height_mm.right.unwrap();
    assert_abs_diff_eq!(height.smallest().unwrap(), 0.5 / 0.8, epsilon = 1e-9);
    assert_eq!(height.plus.unwrap().rule, Quantity::PrismVertical);
}

#[test]
fn an_oblique_cylinder_makes_a_horizontal_error_break_the_vertical_limit() {
    let found = places(&pair(Rx::new(2.0, -4.0, 45.0), Rx::new(2.0, -4.0, 135.0))).unwrap();
    let side = found.cd_mm.right.unwrap().plus.unwrap();
    assert_eq!(side.rule, Quantity::PrismVertical);
    assert_abs_diff_eq!(side.by, 0.5 / 0.2, epsilon = 1e-9);
}

#[test]
fn a_plano_pair_has_no_end_and_says_so() {
    let mut basis = pair(Rx::sphere(0.0), Rx::sphere(0.0));
    (basis.index, basis.pantoscopic_deg, basis.face_form_deg) = (Some(1.5), Some(8.0), Some(5.0));
    let found = budget(&basis, &ThinLens).unwrap();
    let none = Allowance::default();
    let endless = Some(none);
    assert_eq!(
        found.places.cd_mm,
        PerEye {
            right: endless,
            left: endless
        }
    );
    assert_eq!(
        found.places.height_mm,
        PerEye {
            right: endless,
            left: endless
        }
    );
    assert_eq!(
        found.vertex_mm,
        PerEye {
            right: endless,
            left: endless
        }
    );
    assert_eq!(
        (found.pantoscopic_deg, found.face_form_deg),
        (endless, endless)
    );
    assert_eq!(none.smallest(), None);
}

#[test]
fn what_cannot_be_said_is_not_said() {
    let mut basis = pair(Rx::sphere(-6.0), Rx::sphere(-6.0));
    let found = budget(&basis, &ThinLens).unwrap();
    assert_eq!((found.pantoscopic_deg, found.face_form_deg), (None, None));
    basis.ordered.left = None;
    let alone = budget(&basis, &ThinLens).unwrap();
    // The only rule for single vision is about the pair.
    assert_eq!(
        (alone.places.cd_mm.right, alone.places.cd_mm.left),
        (None, None)
    );
    assert!(alone.vertex_mm.right.is_some() && alone.vertex_mm.left.is_none());
    basis.ordered.right = None;
    assert!(
        budget(&basis, &ThinLens)
            .is_ok_and(|b| b == rimbook::testing::trade::tolerance::budget::Budget::default())
    );
}

#[test]
fn the_vertex_budget_is_the_closed_form_and_shrinks_as_the_square() {
    // F' - F = -dF²/(1 + dF) = limit gives d = limit / (F² -+ limit F).
    for (d, limit) in [(-8.0_f64, 0.12), (8.0, 0.12), (-15.0, 0.25), (4.0, 0.12)] {
        let allowance = budget(&pair(Rx::sphere(d), Rx::sphere(d)), &ThinLens)
            .unwrap()
            .vertex_mm
            .right
            .unwrap();
        let away = 1000.0 * limit / (d * d - limit * d);
        let nearer = 1000.0 * limit / (d * d + limit * d);
        assert_abs_diff_eq!(allowance.plus.unwrap().by, away, epsilon = 1e-6);
        assert_abs_diff_eq!(allowance.minus.unwrap().by, nearer, epsilon = 1e-6);
    }
}

#[test]
fn a_lens_cannot_be_nearer_than_touching() {
    let mut basis = pair(Rx::sphere(-3.0), Rx::sphere(-3.0));
    basis.fitted_vertex_mm = PerEye {
        right: Some(12.0),
        left: None,
    };
    let found = budget(&basis, &ThinLens).unwrap();
    assert_eq!(found.vertex_mm.right.unwrap().minus, None);
    assert!(found.vertex_mm.left.unwrap().minus.is_some());
}

fn order() -> impl Strategy<Value = EyeValues> {
    (
        -160..160_i32,
        // Weak cylinders are the hard ones: their axis turns far before anything breaks.
        prop_oneof![-32..=0_i32, -4..=0_i32],
        1..=180_i32,
        -24..24_i32,
        -24..24_i32,
    )
        .prop_map(|(s, c, a, i, u)| EyeValues {
            sphere_d: f64::from(s) / 8.0,
            cylinder_d: f64::from(c) / 8.0,
            axis_deg: Some(f64::from(a)),
            base_in_delta: Some(f64::from(i) / 8.0),
            base_up_delta: Some(f64::from(u) / 8.0),
            ..EyeValues::default()
        })
}

prop_compose! {
    fn basis()(
        right in order(), left in order(),
        standard in prop::sample::select(Standard::ALL.to_vec()), kind in prop::sample::select(LensKind::ALL.to_vec()),
        pantoscopic in 0..20_i32, face_form in 0..20_i32, index in 1.45..1.8_f64,
    ) -> Basis {
        Basis {
            standard, kind, options: Options::default(), ordered: PairValues { right: Some(right), left: Some(left) },
            fitted_vertex_mm: PerEye::default(), pantoscopic_deg: Some(f64::from(pantoscopic)),
            face_form_deg: Some(f64::from(face_form)), index: Some(index),
        }
    }
}

/// The place lines of the pair when the right eye's true place is `cd`, `height` off the recorded.
fn place_lines(basis: &Basis, cd: f64, height: f64) -> Vec<ToleranceLine> {
    let at = |cd: f64, height: f64, v: EyeValues| EyeValues {
        cd_mm: Some(30.0 + cd),
        height_mm: Some(20.0 + height),
        ..v
    };
    let v = basis.ordered.right.unwrap();
    let m = v.minus_form().unwrap().matrix();
    // The right eye looks `cd` temporally of the recorded point: x, towards the nose, is -cd.
    let (x, y) = (-cd / 10.0, height / 10.0);
    let met = EyeValues {
        base_in_delta: v.base_in_delta.map(|b| b - (m.xx * x + m.xy * y)),
        base_up_delta: v.base_up_delta.map(|b| b - (m.xy * x + m.yy * y)),
        ..v
    };
    let left = basis.ordered.left.map(|v| at(0.0, 0.0, v));
    let ordered = PairValues {
        right: Some(at(cd, height, v)),
        left,
    };
    let found = PairValues {
        right: Some(at(0.0, 0.0, met)),
        left,
    };
    compare(basis.standard, basis.kind, &ordered, &found, basis.options)
        .unwrap()
        .lines
}

fn power_lines(basis: &Basis, eye: Eye, needed: PowerMatrix) -> Vec<ToleranceLine> {
    let mut ordered = PairValues::default();
    *ordered.get_mut(eye) = *basis.ordered.get(eye);
    let mut found = PairValues::default();
    *found.get_mut(eye) = Some(EyeValues::of(needed.rx()));
    let mut lines = compare(basis.standard, basis.kind, &ordered, &found, basis.options)
        .unwrap()
        .lines;
    lines.retain(|l| l.what.is_power());
    lines
}

/// A small step past an end, in the measurement's unit: a break may be a narrow band.
const STEP: f64 = 1e-6;

/// Places within a budget: by tenths, anywhere, and close to its end.
fn inside(by: f64, at: f64) -> impl Iterator<Item = f64> {
    (1..=19_i32)
        .map(f64::from)
        .map(|n| n / 20.0)
        .chain([at, at * at, 0.99, 0.999])
        .map(move |share| by * share)
        .chain([f64::max(by - STEP, 0.0)])
}

/// Whether every line is within print, give or take the last digits of the arithmetic.
fn holds(lines: &[ToleranceLine]) -> bool {
    lines.iter().all(ToleranceLine::within_print)
}

proptest! {
    #[test]
    fn halving_the_power_doubles_the_budget_of_the_distance_up_to_three_and_a_quarter_dioptres(
        eighths in 2..=26_i32, is_plus: bool, cylinder in -8..=0_i32,
    ) {
        // ISO Table 5: up to 3.25 D along the horizontal the limit does not depend on the power; with
        // the axis horizontal the vertical power has no part in it.
        let sphere = f64::from(eighths) / if is_plus { 8.0 } else { -8.0 };
        let cylinder = f64::from(cylinder) / 8.0;
        let cd = |share: f64| {
            let rx = Rx::new(sphere * share, cylinder * share, 180.0);
            smallest(places(&pair(rx, rx)).unwrap().cd_mm.right)
        };
        prop_assert!((cd(0.5) / cd(1.0) - 2.0).abs() < 1e-9);
    }

    #[test]
    fn a_step_inside_a_place_budget_passes_and_a_step_outside_breaks_its_rule(basis in basis()) {
        let found = places(&basis).unwrap();
        for (allowance, up) in [(found.cd_mm.right.unwrap(), false), (found.height_mm.right.unwrap(), true)] {
            for (side, sign) in [(allowance.minus, -1.0), (allowance.plus, 1.0)] {
                let Some(side) = side else { continue };
                let lines = |by: f64| if up { place_lines(&basis, 0.0, sign * by) } else { place_lines(&basis, sign * by, 0.0) };
                prop_assert!(holds(&lines(side.by * 0.999)), "{side:?}");
                let outside = lines(side.by * 1.001);
                prop_assert!(!holds(&outside), "{side:?}");
                prop_assert!(outside.iter().any(|l| l.what == side.rule && l.eye == side.eye && !l.within_print()));
            }
        }
    }

    #[test]
    fn a_step_inside_a_vertex_budget_passes_and_a_step_outside_breaks_its_rule(basis in basis(), at in 0.0..1.0_f64) {
        let found = budget(&basis, &ThinLens).unwrap();
        for (eye, allowance) in found.vertex_mm.iter() {
            let allowance = allowance.unwrap();
            let power = basis.ordered.get(eye).unwrap().minus_form().unwrap().matrix();
            for (side, sign) in [(allowance.minus, -1.0), (allowance.plus, 1.0)] {
                let Some(side) = side else { continue };
                let lines = |by: f64| power_lines(&basis, eye, ThinLens.moved(power, sign * by).unwrap());
                for inside in inside(side.by, at) {
                    prop_assert!(holds(&lines(inside)), "{side:?} {inside}");
                }
                let outside = lines(side.by + STEP);
                prop_assert!(!holds(&outside), "{side:?}");
                prop_assert!(outside.iter().any(|l| l.what == side.rule && l.eye == side.eye && !l.within_print()), "{side:?}");
            }
        }
    }

    #[test]
    fn a_step_inside_a_tilt_budget_passes_for_both_eyes_and_a_step_outside_breaks_one(basis in basis(), at in 0.0..1.0_f64) {
        let found = budget(&basis, &ThinLens).unwrap();
        let worn = Worn {
            index: basis.index.unwrap(), pantoscopic_deg: basis.pantoscopic_deg.unwrap(),
            face_form_deg: basis.face_form_deg.unwrap(),
        };
        for (allowance, tilt) in [(found.pantoscopic_deg.unwrap(), true), (found.face_form_deg.unwrap(), false)] {
            for (side, sign) in [(allowance.minus, -1.0), (allowance.plus, 1.0)] {
                let lines = |by: f64| -> Vec<ToleranceLine> {
                    let true_one = if tilt {
                        Worn { pantoscopic_deg: worn.pantoscopic_deg + sign * by, ..worn }
                    } else {
                        Worn { face_form_deg: worn.face_form_deg + sign * by, ..worn }
                    };
                    Eye::BOTH.into_iter().flat_map(|eye| {
                        let f = basis.ordered.get(eye).unwrap().minus_form().unwrap().matrix();
                        let recorded = ThinLens.as_worn(eye, f, worn).unwrap();
                        // Beyond what the model answers nobody is wrong.
                        let change = ThinLens.as_worn(eye, f, true_one).map_or_else(PowerMatrix::default, |w| w - recorded);
                        power_lines(&basis, eye, f + change)
                    }).collect()
                };
                let Some(side) = side else {
                    for by in inside(45.0, at) {
                        prop_assert!(holds(&lines(by)), "no end, but broken at {by}");
                    }
                    continue;
                };
                for inside in inside(side.by, at) {
                    prop_assert!(holds(&lines(inside)), "{side:?} {inside}");
                }
                let outside = lines(side.by + STEP);
                prop_assert!(!holds(&outside), "{side:?}");
                prop_assert!(outside.iter().any(|l| l.what == side.rule && l.eye == side.eye && !l.within_print()), "{side:?}");
            }
        }
    }
}
