//! Laws that the formulas must keep for every lens, not only for worked examples.

use proptest::prelude::*;
use rimbook::testing::trade::eye::{Eye, PerEye};
use rimbook::testing::trade::optics::Rx;
use rimbook::testing::trade::optics::as_worn::{WornLens, as_worn, as_worn_compensate};
use rimbook::testing::trade::optics::back_vertex::thick_powers;
use rimbook::testing::trade::optics::base_curve::vogel_base_d;
use rimbook::testing::trade::optics::blank::minimum_blank_mm;
use rimbook::testing::trade::optics::centration::{
    NearTask, decentration, drop_for_tilt_mm, near_inset_mm,
};
use rimbook::testing::trade::optics::combine::{combine, difference};
use rimbook::testing::trade::optics::curves::{sag_mm, true_power_d};
use rimbook::testing::trade::optics::magnification::{WornForm, magnification};
use rimbook::testing::trade::optics::meridian::meridian_power_d;
use rimbook::testing::trade::optics::near_prism::reading_prism;
use rimbook::testing::trade::optics::outline::Outline;
use rimbook::testing::trade::optics::prism::{
    LensPoint, Prism, compound, decentre_for, prism_at, resolve,
};
use rimbook::testing::trade::optics::prism_shift::sight_shift;
use rimbook::testing::trade::optics::thickness::{
    GivenThickness, LensBody, edge_at_most_mm, thickness,
};
use rimbook::testing::trade::optics::tilt::{Tilt, oblique, oblique_compensate};
use rimbook::testing::trade::optics::vector::PowerVector;
use rimbook::testing::trade::optics::vertex::{
    per_mm_d, strongest_change_d, vertex, vertex_power_d,
};

/// How far two powers are apart, dioptres.
fn apart(a: Rx, b: Rx) -> f64 {
    (a.matrix() - b.matrix()).largest_d()
}

fn any_rx() -> impl Strategy<Value = Rx> {
    (-20.0..20.0f64, -6.0..6.0f64, 0.001..180.0f64).prop_map(|(s, c, a)| Rx::new(s, c, a))
}

fn any_eye() -> impl Strategy<Value = Eye> {
    prop_oneof![Just(Eye::Right), Just(Eye::Left)]
}

fn any_tilt() -> impl Strategy<Value = Tilt> {
    (-10.0..25.0f64, -10.0..30.0f64).prop_map(|(pantoscopic_deg, face_form_deg)| Tilt {
        pantoscopic_deg,
        face_form_deg,
    })
}

fn any_place() -> impl Strategy<Value = LensPoint> {
    (-6.0..6.0f64, -6.0..6.0f64).prop_map(|(in_mm, up_mm)| LensPoint { in_mm, up_mm })
}

/// Lenses that can be made: a meniscus of usual form with a centre to suit.
fn any_lens() -> impl Strategy<Value = (Rx, WornLens)> {
    (
        -14.0..8.0f64,
        -5.0..0.0f64,
        0.001..180.0f64,
        1.49..1.9f64,
        0.0..3.0f64,
        any_tilt(),
        any_place(),
    )
        .prop_map(
            |(sphere, cylinder, axis, index, bend, tilt, optical_centre)| {
                let rx = Rx::new(sphere, cylinder, axis);
                let lens = WornLens {
                    index,
                    front_d: (sphere / 2.0 + 5.0 + bend).max(0.5),
                    centre_mm: if sphere > 0.0 {
                        3.0 + sphere / 2.0
                    } else {
                        1.8
                    },
                    tilt,
                    optical_centre,
                };
                (rx, lens)
            },
        )
}

proptest! {
    #[test]
    fn transposing_twice_changes_nothing(rx in any_rx()) {
        let there = rx.plus_form();
        prop_assert!(there.cylinder_d >= 0.0 && there.axis_deg > 0.0 && there.axis_deg <= 180.0);
        prop_assert!(apart(there, rx) < 1e-12);
        let back = there.minus_form();
        prop_assert!(apart(back, rx) < 1e-12);
        let again = back.plus_form();
        prop_assert!((again.sphere_d - there.sphere_d).abs() < 1e-12 && (again.axis_deg - there.axis_deg).abs() < 1e-9);
    }

    #[test]
    fn matrix_and_vector_hold_the_whole_power(rx in any_rx()) {
        prop_assert!(apart(rx.matrix().rx(), rx) < 1e-11);
        prop_assert!(apart(PowerVector::of(rx).rx(), rx) < 1e-11);
        let f = rx.matrix();
        prop_assert!((meridian_power_d(rx, 180.0) - f.xx).abs() < 1e-11);
        prop_assert!((meridian_power_d(rx, 90.0) - f.yy).abs() < 1e-11);
    }

    #[test]
    fn blur_does_not_depend_on_the_form(rx in any_rx()) {
        let (a, b) = (PowerVector::of(rx.minus_form()), PowerVector::of(rx.plus_form()));
        prop_assert!((a.blur_d() - b.blur_d()).abs() < 1e-11);
    }

    #[test]
    fn the_powers_of_two_perpendicular_meridians_sum_to_twice_the_mean(rx in any_rx(), m in 0.0..180.0f64) {
        let sum = meridian_power_d(rx, m) + meridian_power_d(rx, m + 90.0);
        prop_assert!((sum - 2.0 * rx.mean_d()).abs() < 1e-11);
    }

    #[test]
    fn combining_is_commutative_and_associative(a in any_rx(), b in any_rx(), c in any_rx()) {
        prop_assert!(apart(combine([a, b]), combine([b, a])) < 1e-11);
        prop_assert!(apart(combine([combine([a, b]), c]), combine([a, combine([b, c])])) < 1e-10);
        prop_assert!(apart(combine([a, difference(a, b)]), b) < 1e-10);
    }

    #[test]
    fn a_lens_moved_there_and_back_is_the_same(rx in any_rx(), from in 0.0..20.0f64, to in 0.0..20.0f64) {
        let there = vertex(rx, from, to).unwrap();
        prop_assert!(apart(vertex(there, to, from).unwrap(), rx) < 1e-9);
    }

    #[test]
    fn a_lens_moved_in_two_steps_is_as_moved_in_one(rx in any_rx(), a in 0.0..20.0f64, b in 0.0..20.0f64, c in 0.0..20.0f64) {
        let steps = vertex(vertex(rx, a, b).unwrap(), b, c).unwrap();
        prop_assert!(apart(steps, vertex(rx, a, c).unwrap()) < 1e-9);
    }

    #[test]
    fn the_change_per_millimetre_is_the_slope_of_the_move(rx in any_rx()) {
        let h = 1e-4;
        let change = strongest_change_d(rx, 12.0, 12.0 + h).unwrap();
        prop_assert!((change.abs() / h - per_mm_d(rx)).abs() < 1e-3);
    }

    #[test]
    fn decentring_gives_the_prism_asked_for(eye in any_eye(), rx in any_rx(), i in -5.0..5.0f64, u in -5.0..5.0f64) {
        prop_assume!(rx.sphere_d.abs() > 0.1 && (rx.sphere_d + rx.cylinder_d).abs() > 0.1);
        let wanted = Prism { base_in_delta: i, base_up_delta: u };
        let centre = decentre_for(eye, rx, wanted).unwrap();
        // The point looked through lies the other way from the optical centre.
        let found = prism_at(eye, rx, LensPoint { in_mm: -centre.in_mm, up_mm: -centre.up_mm });
        prop_assert!((found.base_in_delta - i).abs() < 1e-9 && (found.base_up_delta - u).abs() < 1e-9);
    }

    #[test]
    fn resolving_undoes_compounding(eye in any_eye(), i in -20.0..20.0f64, u in -20.0..20.0f64) {
        let whole = compound(eye, Prism { base_in_delta: i, base_up_delta: u });
        prop_assert!(whole.amount_delta >= 0.0 && (0.0..360.0).contains(&whole.base_deg));
        let parts = resolve(eye, whole);
        prop_assert!((parts.base_in_delta - i).abs() < 1e-10 && (parts.base_up_delta - u).abs() < 1e-10);
    }

    #[test]
    fn prism_is_linear_in_place_and_power(eye in any_eye(), a in any_rx(), b in any_rx(), at in any_place()) {
        let (pa, pb, both) = (prism_at(eye, a, at), prism_at(eye, b, at), prism_at(eye, combine([a, b]), at));
        prop_assert!((pa.base_in_delta + pb.base_in_delta - both.base_in_delta).abs() < 1e-10);
        let half = prism_at(eye, a, LensPoint { in_mm: at.in_mm / 2.0, up_mm: at.up_mm / 2.0 });
        prop_assert!((2.0 * half.base_up_delta - pa.base_up_delta).abs() < 1e-10);
    }

    #[test]
    fn mirrored_lenses_have_mirrored_prism(rx in any_rx(), at in any_place()) {
        let mirrored = Rx::new(rx.sphere_d, rx.cylinder_d, 180.0 - rx.axis_deg);
        let (r, l) = (prism_at(Eye::Right, rx, at), prism_at(Eye::Left, mirrored, at));
        prop_assert!((r.base_in_delta - l.base_in_delta).abs() < 1e-11);
        prop_assert!((r.base_up_delta - l.base_up_delta).abs() < 1e-11);
        let pair = reading_prism(PerEye { right: rx, left: mirrored }, 10.0, 2.0);
        prop_assert!(pair.vertical_difference_delta.abs() < 1e-11);
    }

    #[test]
    fn compensating_for_tilt_undoes_it(eye in any_eye(), rx in any_rx(), n in 1.4..1.9f64, tilt in any_tilt()) {
        let order = oblique_compensate(eye, rx, n, tilt).unwrap();
        prop_assert!(apart(oblique(eye, order, n, tilt).unwrap(), rx) < 1e-10);
    }

    #[test]
    fn mirrored_lenses_are_mirrored_as_worn((rx, lens) in any_lens()) {
        let mirrored = Rx::new(rx.sphere_d, rx.cylinder_d, 180.0 - rx.axis_deg);
        let (r, l) = (as_worn(Eye::Right, rx, lens).unwrap(), as_worn(Eye::Left, mirrored, lens).unwrap());
        let back = Rx::new(l.rx.sphere_d, l.rx.cylinder_d, 180.0 - l.rx.axis_deg);
        prop_assert!(apart(r.rx, back) < 1e-9);
        prop_assert!((r.prism.base_in_delta - l.prism.base_in_delta).abs() < 1e-9);
    }

    #[test]
    fn squarely_through_its_centre_a_lens_is_worn_as_ordered(eye in any_eye(), (rx, lens) in any_lens()) {
        let square = WornLens { tilt: Tilt::default(), optical_centre: LensPoint::default(), ..lens };
        let worn = as_worn(eye, rx, square).unwrap();
        prop_assert!(apart(worn.rx, rx) < 1e-10);
        prop_assert!(worn.prism.base_in_delta.abs() < 1e-10 && worn.prism.base_up_delta.abs() < 1e-10);
    }

    #[test]
    fn a_thin_lens_as_worn_comes_near_the_thin_formula(eye in any_eye(), (rx, lens) in any_lens()) {
        // Through the pole of a weak thin lens the ray trace has nothing that the thin formula lacks.
        let rx = Rx::new(rx.sphere_d / 10.0, rx.cylinder_d / 10.0, rx.axis_deg);
        let thin = WornLens { centre_mm: 0.02, front_d: 0.5, optical_centre: LensPoint::default(), ..lens };
        let worn = as_worn(eye, rx, thin).unwrap().rx;
        prop_assert!(apart(worn, oblique(eye, rx, lens.index, lens.tilt).unwrap()) < 2e-3);
    }

    #[test]
    fn compensating_a_real_lens_undoes_what_wearing_does(eye in any_eye(), (rx, lens) in any_lens()) {
        let order = as_worn_compensate(eye, rx, lens).unwrap();
        prop_assert!(apart(as_worn(eye, order.rx, lens).unwrap().rx, rx) < 1e-9);
    }

    #[test]
    fn prism_of_a_real_lens_follows_prentice_nearly(eye in any_eye(), (rx, lens) in any_lens()) {
        let square = WornLens { tilt: Tilt::default(), ..lens };
        let found = as_worn(eye, rx, square).unwrap().prism;
        let from_centre = LensPoint { in_mm: -lens.optical_centre.in_mm, up_mm: -lens.optical_centre.up_mm };
        let rule = prism_at(eye, rx, from_centre);
        let off = (found.base_in_delta - rule.base_in_delta).hypot(found.base_up_delta - rule.base_up_delta);
        prop_assert!(off < 0.02 + 0.05 * compound(eye, rule).amount_delta, "{found:?} {rule:?}");
    }

    #[test]
    fn the_thinnest_point_is_exactly_as_thick_as_asked(
        eye in any_eye(), sphere in -10.0..5.0f64, cylinder in -4.0..4.0f64, axis in 0.001..180.0f64,
        bend in -1.0..1.0f64, centre in any_place(), asked in 0.5..3.0f64, square in 0.0..1.0f64,
    ) {
        let rx = Rx::new(sphere, cylinder, axis);
        let (a, b) = (50.0f64, 38.0f64);
        let outline = Outline::from_box(a, b, a + square * (a.hypot(b) - a)).unwrap();
        let body = LensBody {
            rx, index: 1.6, base_d: vogel_base_d(rx) + bend, base_index: 1.53, centre,
            given: GivenThickness::Thinnest(asked),
        };
        let t = thickness(eye, body, &outline).unwrap();
        prop_assert!((t.edge_min_mm.min(t.centre_mm) - asked).abs() < 1e-9);
        // The same lens asked for by its centre is the same lens.
        let again = thickness(eye, LensBody { given: GivenThickness::Centre(t.centre_mm), ..body }, &outline).unwrap();
        prop_assert!((again.edge_max_mm - t.edge_max_mm).abs() < 1e-9 && (again.volume_mm3() - t.volume_mm3()).abs() < 1e-6);
        for edge in [t.edge_nasal_mm, t.edge_temporal_mm, t.edge_top_mm, t.edge_bottom_mm] {
            prop_assert!(edge >= t.edge_min_mm - 1e-9 && edge <= t.edge_max_mm + 1e-9);
        }
        // The whole lens lies between its thinnest and its thickest point.
        let mean = t.volume_mm3() / area(&outline);
        prop_assert!(mean >= asked - 1e-3 && mean <= t.edge_max_mm.max(t.centre_mm) + 1e-3);
    }

    #[test]
    fn no_place_of_the_edge_passes_its_extremes_nor_the_bound_that_is_soon_had(
        eye in any_eye(), sphere in -12.0..6.0f64, cylinder in -4.0..4.0f64, axis in 0.001..180.0f64,
        bend in -1.5..1.5f64, centre in any_place(), asked in 0.5..6.0f64, by_centre in any::<bool>(),
        a in 36.0..60.0f64, ratio in 0.5..1.0f64, square in 0.0..0.9999f64,
    ) {
        let rx = Rx::new(sphere, cylinder, axis);
        let b = a * ratio;
        // Square shapes are where extremes are narrow: half of the cases lie near the box itself.
        let ed = a + square.sqrt() * (a.hypot(b) - a);
        let outline = Outline::from_box(a, b, ed).unwrap();
        let given = if by_centre { GivenThickness::Centre(asked) } else { GivenThickness::Thinnest(asked) };
        let body = LensBody { rx, index: 1.6, base_d: vogel_base_d(rx) + bend, base_index: 1.53, centre, given };
        let Ok(t) = thickness(eye, body, &outline) else { return Ok(()) };
        // The same lens cut to a tiny round shape has the same surfaces: its edges tell its thickness anywhere.
        let made = LensBody { given: GivenThickness::Centre(t.centre_mm), ..body };
        let side = if eye == Eye::Right { 1.0 } else { -1.0 };
        for i in 0..400 {
            let angle = f64::from(i) / 400.0 * std::f64::consts::TAU;
            let r = outline.radius_mm(angle);
            let (x, y) = (r * angle.cos(), r * angle.sin());
            // A round lens about the optical centre through this place has its nasal edge there once it is turned.
            let (dx, dy) = (x - side * centre.in_mm, y - centre.up_mm);
            let far = dx.hypot(dy);
            if far < 0.6 { continue }
            let turned = Rx::new(rx.sphere_d, rx.cylinder_d, rx.axis_deg - dy.atan2(dx).to_degrees());
            let round = Outline::from_box(2.0 * far, 2.0 * far, 2.0 * far).unwrap();
            let there = LensBody { rx: turned, centre: LensPoint::default(), ..made };
            let Ok(there) = thickness(Eye::Right, there, &round) else { continue };
            let here = there.edge_nasal_mm;
            prop_assert!(here <= t.edge_max_mm + 1e-7 && here >= t.edge_min_mm - 1e-7, "{here} {t:?}");
        }
        if let Some(most) = edge_at_most_mm(&body, (a, b, ed)) {
            prop_assert!(t.edge_max_mm <= most + 1e-9, "{} {most}", t.edge_max_mm);
        }
    }

    #[test]
    fn half_the_density_is_half_the_weight(sphere in -8.0..6.0f64, density in 1.0..4.0f64) {
        let outline = Outline::from_box(50.0, 40.0, 54.0).unwrap();
        let body = LensBody {
            rx: Rx::sphere(sphere), index: 1.5, base_d: 5.0, base_index: 1.53, centre: LensPoint::default(),
            given: GivenThickness::Thinnest(1.5),
        };
        let t = thickness(Eye::Right, body, &outline).unwrap();
        prop_assert!((t.weight_g(density) - 2.0 * t.weight_g(density / 2.0)).abs() < 1e-12);
    }

    #[test]
    fn a_thick_lens_turned_round_exchanges_its_vertex_powers(f1 in -10.0..12.0f64, f2 in -15.0..10.0f64, t in 0.0..10.0f64) {
        let (a, b) = (thick_powers(f1, f2, t, 1.6).unwrap(), thick_powers(f2, f1, t, 1.6).unwrap());
        prop_assert!((a.back_vertex_d - b.front_vertex_d).abs() < 1e-12);
        prop_assert!((a.equivalent_d - b.equivalent_d).abs() < 1e-12);
    }

    #[test]
    fn magnification_is_shape_times_power(rx in any_rx(), front in 0.0..10.0f64, t in 0.5..8.0f64, v in 8.0..18.0f64) {
        let form = WornForm { index: 1.6, front_d: front, centre_mm: t, vertex_mm: v, pupil_mm: 3.0 };
        let m = magnification(rx, form).unwrap();
        for part in [m.along_axis, m.across_axis] {
            prop_assert!((part.total - m.shape * part.power).abs() < 1e-12);
            prop_assert!((part.percent - 100.0 * (part.total - 1.0)).abs() < 1e-12);
        }
        // Light that the lens makes parallel to it at the pupil: the same factor by effectivity.
        let at_pupil = vertex_power_d(rx.sphere_d, v + 3.0, 0.0).unwrap();
        prop_assert!((m.along_axis.power * rx.sphere_d - at_pupil).abs() < 1e-9);
    }

    #[test]
    fn centring_and_blank_follow_the_box(a in 40.0..60.0f64, dbl in 14.0..22.0f64, cd in 26.0..36.0f64, h in 10.0..30.0f64) {
        let at = decentration(a, 36.0, dbl, cd, Some(h));
        prop_assert!((2.0 * (at.in_mm + cd) - a - dbl).abs() < 1e-12);
        prop_assert!((at.up_mm + 18.0 - h).abs() < 1e-12);
        prop_assert!(minimum_blank_mm(a + 3.0, at, 0.0) >= a + 3.0);
    }

    #[test]
    fn plus_lenses_need_more_inset_and_nearer_tasks_too(cd in 26.0..36.0f64, f in -10.0..10.0f64, w in 250.0..600.0f64) {
        let inset = |working_mm: f64, power_d: f64| {
            near_inset_mm(cd, NearTask { working_mm, vertex_mm: 12.0, rotation_mm: 13.5, power_d }).unwrap()
        };
        prop_assert!(inset(w, f + 1.0) > inset(w, f));
        prop_assert!(inset(w, f) > inset(w + 50.0, f));
        prop_assert!(inset(w, f) > 0.0 && inset(w, f) < cd);
    }

    #[test]
    fn prescribed_prism_moves_the_line_of_sight_away_from_its_base(base_in in -10.0..10.0f64, base_up in -10.0..10.0f64, v in 8.0..18.0f64) {
        let prism = Prism { base_in_delta: base_in, base_up_delta: base_up };
        let shift = sight_shift(prism, v, 13.5);
        prop_assert!(shift.in_mm * base_in <= 0.0 && shift.up_mm * base_up <= 0.0);
        // As far as the ray through the centre of rotation leaves the lens plane, small angles.
        let amount = shift.in_mm.hypot(shift.up_mm);
        prop_assert!((amount - (v + 13.5) * base_in.hypot(base_up) / 100.0).abs() < 1e-12);
    }

    #[test]
    fn opposite_tilts_have_opposite_drops(p in 0.0..25.0f64, v in 8.0..18.0f64) {
        let (a, b) = (drop_for_tilt_mm(p, v, 13.5).unwrap(), drop_for_tilt_mm(-p, v, 13.5).unwrap());
        prop_assert!((a + b).abs() < 1e-12 && a >= 0.0);
    }

    #[test]
    fn sag_and_marking_formulas_invert(r in 40.0..500.0f64, y in 0.0..35.0f64, d in -10.0..10.0f64) {
        let z = sag_mm(1.0 / r, y).unwrap();
        // A point of the sphere is its radius away from the centre.
        prop_assert!(((r - z).hypot(y) - r).abs() < 1e-9);
        let marked = true_power_d(d, 1.53, 1.67).unwrap();
        prop_assert!((true_power_d(marked, 1.67, 1.53).unwrap() - d).abs() < 1e-12);
    }
}

/// The area of an outline, by many thin sectors.
fn area(outline: &Outline) -> f64 {
    let steps = 4000;
    let step = std::f64::consts::TAU / f64::from(steps);
    (0..steps)
        .map(|i| outline.radius_mm((f64::from(i) + 0.5) * step).powi(2) * step / 2.0)
        .sum()
}
