//! What must hold for any pair, whatever its powers.
#![allow(clippy::float_cmp, reason = "tests")]

use proptest::prelude::*;
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::trade::optics::power::Rx;
use rimbook::testing::trade::tolerance::{
    EyeValues, LensKind, LineEye, Options, PairValues, PrismPower, Quantity, Report, Standard,
    compare,
};

fn eighths(low: i32, high: i32) -> impl Strategy<Value = f64> {
    (low..=high).prop_map(|n| f64::from(n) / 8.0)
}

fn tenths(low: i32, high: i32) -> impl Strategy<Value = f64> {
    (low..=high).prop_map(|n| f64::from(n) / 10.0)
}

prop_compose! {
    fn eye_values()(
        sphere_d in eighths(-160, 160), cylinder_d in eighths(-48, 48), axis in 1..=180_i32,
        addition_d in eighths(4, 36), base_in in eighths(-96, 96), base_up in eighths(-96, 96),
        cd in tenths(250, 400), height in tenths(120, 300),
    ) -> EyeValues {
        EyeValues {
            sphere_d, cylinder_d, axis_deg: Some(f64::from(axis)), addition_d: Some(addition_d),
            base_in_delta: Some(base_in), base_up_delta: Some(base_up), cd_mm: Some(cd), height_mm: Some(height),
        }
    }
}

prop_compose! {
    fn pair()(right in eye_values(), left in eye_values()) -> PairValues {
        PairValues { right: Some(right), left: Some(left) }
    }
}

/// How far a reading is off its order, and whether prism was read at all.
#[derive(Debug, Clone, Copy)]
struct Off {
    by: EyeValues,
    prism_read: bool,
}

impl Off {
    fn on(&self, o: EyeValues) -> EyeValues {
        let add = |a: Option<f64>, b: Option<f64>| Some(a? + b?);
        let by = self.by;
        EyeValues {
            sphere_d: o.sphere_d + by.sphere_d,
            cylinder_d: o.cylinder_d + by.cylinder_d,
            axis_deg: add(o.axis_deg, by.axis_deg),
            addition_d: add(o.addition_d, by.addition_d),
            base_in_delta: add(o.base_in_delta, by.base_in_delta).filter(|_| self.prism_read),
            base_up_delta: add(o.base_up_delta, by.base_up_delta).filter(|_| self.prism_read),
            cd_mm: add(o.cd_mm, by.cd_mm),
            height_mm: add(o.height_mm, by.height_mm),
        }
    }
}

fn hundredths(most: i32) -> impl Strategy<Value = f64> {
    (-most..=most).prop_map(|n| f64::from(n) / 100.0)
}

prop_compose! {
    /// A reading near an order: a little off in everything.
    fn reading()(
        sphere_d in hundredths(30), cylinder_d in hundredths(30), axis in -20..=20_i32, addition in hundredths(20),
        base_in in hundredths(99), base_up in hundredths(99), cd in tenths(-20, 20), height in tenths(-20, 20),
        prism_read in any::<bool>(),
    ) -> Off {
        let by = EyeValues {
            sphere_d, cylinder_d, axis_deg: Some(f64::from(axis) / 2.0), addition_d: Some(addition),
            base_in_delta: Some(base_in), base_up_delta: Some(base_up), cd_mm: Some(cd), height_mm: Some(height),
        };
        Off { by, prism_read }
    }
}

fn standard() -> impl Strategy<Value = Standard> {
    prop::sample::select(Standard::ALL.to_vec())
}

fn kind() -> impl Strategy<Value = LensKind> {
    prop::sample::select(LensKind::ALL.to_vec())
}

fn each(pair: &PairValues, f: impl Fn(EyeValues) -> EyeValues) -> PairValues {
    pair.map(|_, v| v.map(&f))
}

/// The same lens written in the other cylinder form.
fn transposed(v: EyeValues) -> EyeValues {
    let axis = v.axis_deg.unwrap();
    EyeValues {
        sphere_d: v.sphere_d + v.cylinder_d,
        cylinder_d: -v.cylinder_d,
        axis_deg: Some(if axis > 90.0 {
            axis - 90.0
        } else {
            axis + 90.0
        }),
        ..v
    }
}

/// The lens of the other eye's mirror image.
fn mirrored(v: EyeValues) -> EyeValues {
    EyeValues {
        axis_deg: v.axis_deg.map(|a| 180.0 - a),
        ..v
    }
}

fn same_verdicts(a: &Report, b: &Report) {
    let short =
        |r: &Report| -> Vec<_> { r.lines.iter().map(|l| (l.what, l.eye, l.pass)).collect() };
    assert_eq!(short(a), short(b));
    for (x, y) in a.lines.iter().zip(&b.lines) {
        assert!(
            (x.error - y.error).abs() < 1e-9 && (x.limit - y.limit).abs() < 1e-9,
            "{x:?} {y:?}"
        );
    }
}

proptest! {
    #[test]
    fn plus_and_minus_form_give_the_same_verdict(
        order in pair(), read in reading(), standard in standard(), kind in kind(),
        swap_order in any::<bool>(),
    ) {
        let found = each(&order, |v| read.on(v));
        let plain = compare(standard, kind, &order, &found, Options::default()).unwrap();
        let swapped = if swap_order {
            compare(standard, kind, &each(&order, transposed), &found, Options::default())
        } else {
            compare(standard, kind, &order, &each(&found, transposed), Options::default())
        };
        same_verdicts(&plain, &swapped.unwrap());
    }

    #[test]
    fn an_exact_copy_passes_without_using_anything(order in pair(), standard in standard(), kind in kind()) {
        let report = compare(standard, kind, &order, &order, Options::default()).unwrap();
        prop_assert!(report.pass && report.missing.is_empty());
        for line in &report.lines {
            prop_assert!(line.error < 1e-9 && line.used_percent < 1e-6, "{line:?}");
        }
    }

    #[test]
    fn a_verdict_is_all_lines_together_and_shares_follow_errors(
        order in pair(), read in reading(), standard in standard(), kind in kind(),
    ) {
        let report = compare(standard, kind, &order, &each(&order, |v| read.on(v)), Options::default()).unwrap();
        prop_assert_eq!(report.pass, report.lines.iter().all(|l| l.pass));
        for l in &report.lines {
            prop_assert!((l.used_percent / 100.0 * l.limit - l.error).abs() < 1e-9);
            prop_assert!(l.error >= 0.0 && l.limit > 0.0);
        }
    }

    #[test]
    fn exchanging_the_eyes_in_a_mirror_changes_only_whose_line_it_is(
        order in pair(), read in reading(), standard in standard(), kind in kind(),
    ) {
        let found = each(&order, |v| read.on(v));
        let mirror = |p: &PairValues| {
            let m = each(p, mirrored);
            PairValues { right: m.left, left: m.right }
        };
        let plain = compare(standard, kind, &order, &found, Options::default()).unwrap();
        let turned = compare(standard, kind, &mirror(&order), &mirror(&found), Options::default()).unwrap();
        prop_assert_eq!(plain.pass, turned.pass);
        prop_assert_eq!(plain.lines.len(), turned.lines.len());
        for line in &plain.lines {
            let eye = match line.eye {
                LineEye::Right => LineEye::Left,
                LineEye::Left => LineEye::Right,
                LineEye::Pair => LineEye::Pair,
            };
            let other = turned.line(line.what, eye).unwrap();
            prop_assert!((line.error - other.error).abs() < 1e-9, "{line:?} {other:?}");
            prop_assert!((line.limit - other.limit).abs() < 1e-9, "{line:?} {other:?}");
        }
    }

    #[test]
    fn equal_thinning_prism_cancels(order in pair(), thinning in eighths(-32, 32), standard in standard(), kind in kind()) {
        let found = each(&order, |v| EyeValues { base_up_delta: v.base_up_delta.map(|b| b + thinning), ..v });
        let report = compare(standard, kind, &order, &found, Options::default()).unwrap();
        prop_assert!(report.line(Quantity::PrismVertical, LineEye::Pair).unwrap().error < 1e-9);
        prop_assert!(report.pass);
    }

    #[test]
    fn an_error_of_the_limit_passes_and_six_thousandths_more_fails(
        order in pair(), standard in standard(), kind in kind(), sign in prop::sample::select(vec![-1.0, 1.0]),
    ) {
        let exact = compare(standard, kind, &order, &order, Options::default()).unwrap();
        for line in &exact.lines {
            let moved = |by: f64| {
                let mut found = order;
                let eye = line.eye.eye().unwrap_or(Eye::Right);
                let v = found.get_mut(eye).as_mut().unwrap();
                *v = minus_form(*v);
                let by = by * sign;
                match line.what {
                    Quantity::PowerAlongAxis | Quantity::PowerAcrossAxis => v.sphere_d += by,
                    Quantity::Addition => v.addition_d = v.addition_d.map(|a| a + by),
                    Quantity::PrismHorizontal => v.base_in_delta = v.base_in_delta.map(|a| a + by),
                    Quantity::PrismVertical => v.base_up_delta = v.base_up_delta.map(|a| a + by),
                    Quantity::Centration => v.cd_mm = v.cd_mm.map(|a| a + by),
                    Quantity::Height | Quantity::HeightDifference => v.height_mm = v.height_mm.map(|a| a + by),
                    Quantity::Axis => v.axis_deg = v.axis_deg.map(|a| a + by),
                    // More cylinder, never less: less could cross nought.
                    Quantity::Cylinder => v.cylinder_d -= by.abs(),
                }
                *compare(standard, kind, &order, &found, Options::default()).unwrap()
                    .line(line.what, line.eye).unwrap()
            };
            let at = moved(line.limit);
            prop_assert!(at.pass, "{at:?}");
            prop_assert!((at.used_percent - 100.0).abs() < 1e-6);
            let over = moved(line.limit + 0.006);
            prop_assert!(!over.pass, "{over:?}");
            if line.slack == 0.0 {
                prop_assert!(!moved(line.limit + 0.001).pass);
            } else {
                prop_assert!(moved(line.limit + 0.005).pass);
            }
        }
    }

    #[test]
    fn powers_limits_do_not_shrink_as_powers_grow(a in 0.0..30.0_f64, b in 0.0..30.0_f64, kind in kind(), standard in standard()) {
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        prop_assert!(standard.power_limit(kind, low).value <= standard.power_limit(kind, high).value);
        prop_assert!(standard.addition_limit(low).value <= standard.addition_limit(high).value);
        prop_assert!(standard.vertical_prism_limit(0.0, low).value <= standard.vertical_prism_limit(0.0, high).value);
        if let (Some(l), Some(h)) = (standard.axis_limit(low), standard.axis_limit(high)) {
            prop_assert!(l.value >= h.value);
        }
        prop_assert!(
            Standard::Iso21987_2017.cylinder_limit(kind, low, 1.0).value
                <= Standard::Iso21987_2017.cylinder_limit(kind, high, 1.0).value
        );
        // More prescribed prism never makes the limit smaller.
        prop_assert!(
            Standard::Iso21987_2017.horizontal_prism_limit(kind, low, 4.0).unwrap().value
                <= Standard::Iso21987_2017.horizontal_prism_limit(kind, high, 4.0).unwrap().value
        );
    }

    #[test]
    fn the_stronger_lens_never_gives_a_smaller_vertical_limit(order in pair(), read in reading(), standard in standard(), kind in kind()) {
        let found = each(&order, |v| read.on(v));
        let with = |prism_power| compare(standard, kind, &order, &found, Options { prism_power }).unwrap();
        let (weaker, stronger) = (with(PrismPower::Weaker), with(PrismPower::Stronger));
        let limit = |r: &Report| r.line(Quantity::PrismVertical, LineEye::Pair).map(|l| l.limit);
        prop_assert!(limit(&weaker).unwrap() <= limit(&stronger).unwrap() + 1e-9);
    }

    #[test]
    fn prism_read_at_the_ordered_point_and_the_place_that_gives_it_agree(
        right in eye_values(), left in eye_values(), cd in -20..=20_i32, up in -20..=20_i32,
    ) {
        let order = PairValues { right: Some(right), left: Some(left) }.map(|_, v| {
            v.map(|v| EyeValues { base_in_delta: None, base_up_delta: None, ..v })
        });
        let (cd, up) = (f64::from(cd) / 10.0, f64::from(up) / 10.0);
        let by_place = each(&order, |v| EyeValues { cd_mm: v.cd_mm.map(|c| c + cd), height_mm: v.height_mm.map(|h| h - up), ..v });
        let by_prism = order.map(|eye, v| v.map(|v| {
            let m = Rx::new(v.sphere_d, v.cylinder_d, v.axis_deg.unwrap()).matrix();
            let x = cd * eye.nasal_sign();
            EyeValues {
                base_in_delta: Some(-(m.xx * x + m.xy * up) / 10.0 * eye.nasal_sign()),
                base_up_delta: Some(-(m.xy * x + m.yy * up) / 10.0),
                ..v
            }
        }));
        let run = |found| compare(Standard::Iso21987_2017, LensKind::SingleVision, &order, found, Options::default()).unwrap();
        let (place, prism) = (run(&by_place), run(&by_prism));
        for what in [Quantity::PrismHorizontal, Quantity::PrismVertical] {
            let (a, b) = (place.line(what, LineEye::Pair).unwrap(), prism.line(what, LineEye::Pair).unwrap());
            prop_assert!((a.error - b.error).abs() < 1e-9);
            prop_assert!(a.worked_out && !b.worked_out);
        }
    }
}

fn minus_form(v: EyeValues) -> EyeValues {
    let rx = v.minus_form().unwrap();
    EyeValues {
        sphere_d: rx.sphere_d,
        cylinder_d: rx.cylinder_d,
        axis_deg: Some(rx.axis_deg),
        ..v
    }
}

#[test]
fn an_eighth_is_within_clipped_eighths_and_not_within_nine_hundredths() {
    let pair = |v| PairValues {
        right: Some(v),
        left: None,
    };
    let order = pair(EyeValues::of(Rx::new(-2.0, -0.5, 90.0)));
    let found = pair(EyeValues::of(Rx::new(-2.125, -0.375, 90.0)));
    let r = compare(
        Standard::default(),
        LensKind::SingleVision,
        &order,
        &found,
        Options::default(),
    )
    .unwrap();
    assert!(
        r.line(Quantity::PowerAlongAxis, LineEye::Right)
            .unwrap()
            .pass
    );
    assert!(!r.line(Quantity::Cylinder, LineEye::Right).unwrap().pass);
}

fn of(sphere_d: f64) -> EyeValues {
    EyeValues {
        sphere_d,
        ..EyeValues::default()
    }
}

#[test]
fn one_part_of_a_place_is_enough_for_prism_and_the_absent_part_is_none() {
    let order = PairValues {
        right: Some(EyeValues {
            cd_mm: Some(31.0),
            ..of(-5.0)
        }),
        left: Some(EyeValues {
            cd_mm: Some(32.0),
            ..of(-5.0)
        }),
    };
    let found = each(&order, |v| EyeValues {
        cd_mm: v.cd_mm.map(|c| c + 1.0),
        ..v
    });
    let run = |found: &PairValues| {
        compare(
            Standard::default(),
            LensKind::SingleVision,
            &order,
            found,
            Options::default(),
        )
        .unwrap()
    };
    let report = run(&found);
    // Each centre found 1 mm too far out: -5 D looked through 1 mm nasally, 0.5 base in each.
    let horizontal = report
        .line(Quantity::PrismHorizontal, LineEye::Pair)
        .unwrap();
    assert!((horizontal.measured - 1.0).abs() < 1e-9 && horizontal.worked_out);
    assert!(
        report
            .line(Quantity::PrismVertical, LineEye::Pair)
            .unwrap()
            .error
            < 1e-12
    );
    // A place on one side only says nothing: the pair's prism is missing, and said to be.
    let report = run(&each(&order, |v| EyeValues { cd_mm: None, ..v }));
    assert!(
        report
            .line(Quantity::PrismHorizontal, LineEye::Pair)
            .is_none()
    );
    assert!(
        report
            .missing
            .iter()
            .any(|m| m.what == Quantity::PrismHorizontal && m.eye == LineEye::Pair)
    );
}

#[test]
fn a_strong_progressive_alone_is_tested_by_its_centration_under_ansi() {
    let lines = |d: f64| {
        let pair = PairValues {
            right: Some(EyeValues {
                cd_mm: Some(31.0),
                ..of(d)
            }),
            left: None,
        };
        compare(
            Standard::AnsiZ80_1_2015,
            LensKind::PowerVariation,
            &pair,
            &pair,
            Options::default(),
        )
        .unwrap()
        .lines
    };
    assert!(!lines(-3.375).iter().any(|l| l.what == Quantity::Centration));
    assert!(lines(-3.5).iter().any(|l| l.what == Quantity::Centration));
}

#[test]
fn equally_strong_meridians_are_tested_along_the_axis_under_ansi() {
    let pair = PairValues {
        right: Some(EyeValues::of(Rx::new(1.1, -2.2, 40.0))),
        left: None,
    };
    let report = compare(
        Standard::AnsiZ80_1_2015,
        LensKind::SingleVision,
        &pair,
        &pair,
        Options::default(),
    )
    .unwrap();
    let powers: Vec<_> = report
        .lines
        .iter()
        .map(|l| l.what)
        .filter(|w| w.is_power())
        .collect();
    assert_eq!(powers, [Quantity::PowerAlongAxis, Quantity::Cylinder]);
}
