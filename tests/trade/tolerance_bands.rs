//! The edges of every band, on both sides, table by table.

use rimbook::testing::trade::tolerance::{Confidence, LensKind, Limit, Standard};

const ISO: Standard = Standard::Iso21987_2017;
const ANSI: Standard = Standard::AnsiZ80_1_2015;
const SV: LensKind = LensKind::SingleVision;
const MF: LensKind = LensKind::Multifocal;
const PV: LensKind = LensKind::PowerVariation;

#[track_caller]
fn is(limit: Limit, value: f64, clause: &str) {
    assert!(
        (limit.value - value).abs() < 1e-12,
        "{} is not {value}",
        limit.value
    );
    assert!(limit.cite.clause.contains(clause), "{}", limit.cite.clause);
}

#[test]
fn iso_table_1_powers_of_single_vision_and_multifocal() {
    let rows: [(f64, f64, [f64; 4]); 6] = [
        (3.0, 0.12, [0.09, 0.12, 0.18, 0.25]),
        (6.0, 0.12, [0.12, 0.12, 0.18, 0.25]),
        (9.0, 0.12, [0.12, 0.18, 0.18, 0.25]),
        (12.0, 0.18, [0.12, 0.18, 0.25, 0.25]),
        (20.0, 0.25, [0.18, 0.25, 0.25, 0.25]),
        (60.0, 0.37, [0.25, 0.25, 0.37, 0.37]),
    ];
    check_iso_powers(&[SV, MF], &rows, "Table 1");
}

#[test]
fn iso_table_2_powers_of_power_variation() {
    let rows: [(f64, f64, [f64; 4]); 5] = [
        (6.0, 0.12, [0.12, 0.18, 0.18, 0.25]),
        (9.0, 0.18, [0.18, 0.18, 0.18, 0.25]),
        (12.0, 0.18, [0.18, 0.18, 0.25, 0.25]),
        (20.0, 0.25, [0.18, 0.25, 0.25, 0.25]),
        (60.0, 0.37, [0.25, 0.25, 0.37, 0.37]),
    ];
    check_iso_powers(&[PV], &rows, "Table 2");
}

fn check_iso_powers(kinds: &[LensKind], rows: &[(f64, f64, [f64; 4])], clause: &str) {
    let mut lower = 0.0;
    for (upper, meridian, cylinder) in rows {
        for kind in kinds {
            for power in [lower + 0.001, *upper, -lower - 0.001, -upper] {
                is(ISO.power_limit(*kind, power), *meridian, clause);
                for (size, column) in [
                    (0.0, 0),
                    (0.75, 0),
                    (0.751, 1),
                    (4.0, 1),
                    (4.001, 2),
                    (6.0, 2),
                    (6.001, 3),
                ] {
                    is(
                        ISO.cylinder_limit(*kind, power, -size),
                        cylinder[column],
                        clause,
                    );
                }
            }
        }
        lower = *upper;
    }
}

#[test]
fn iso_table_3_axis_of_mounted_lenses() {
    assert!(ISO.axis_limit(0.0).is_none() && ISO.axis_limit(-0.119).is_none());
    for (cylinder, degrees) in [
        (0.12, 16.0),
        (0.125, 16.0),
        (0.25, 16.0),
        (0.26, 9.0),
        (0.5, 9.0),
        (0.51, 6.0),
        (0.75, 6.0),
        (0.76, 4.0),
        (1.5, 4.0),
        (1.51, 3.0),
        (2.5, 3.0),
        (2.51, 2.0),
        (9.0, 2.0),
    ] {
        is(ISO.axis_limit(-cylinder).unwrap(), degrees, "Table 3");
        assert_eq!(
            ISO.axis_limit(cylinder).unwrap().cite.confidence,
            Confidence::Seen
        );
    }
}

#[test]
fn iso_table_4_and_ansi_item_4_addition() {
    for (addition, limit) in [(0.5, 0.12), (4.0, 0.12), (4.01, 0.18), (-4.01, 0.18)] {
        is(ISO.addition_limit(addition), limit, "Table 4");
        is(ANSI.addition_limit(addition), limit, "item 4");
    }
}

#[test]
fn iso_table_5_prism_of_the_pair_with_its_printed_step() {
    // prescribed, F, horizontal
    for (prescribed, f, limit) in [
        (0.0, 0.0, 0.67),
        (2.0, 3.25, 0.67),
        (2.0, 3.26, 0.652),
        (2.01, 3.25, 1.0),
        (10.0, 10.0, 2.33),
        (10.01, 3.25, 1.25),
        (10.01, 4.0, 1.38),
        // The check value printed in a note of GB 13511.1.
        (3.0, 4.0, 1.13),
    ] {
        is(
            ISO.horizontal_prism_limit(SV, prescribed, f).unwrap(),
            limit,
            "Table 5",
        );
    }
    for (prescribed, f, limit) in [
        (0.0, 5.0, 0.5),
        (2.0, 5.01, 0.501),
        (2.01, 5.0, 0.75),
        (10.0, 6.0, 0.85),
        (10.01, 5.0, 1.0),
        (10.01, 8.0, 1.3),
    ] {
        is(ISO.vertical_prism_limit(prescribed, f), limit, "Table 5");
        assert_eq!(
            ISO.vertical_prism_limit(prescribed, f).cite.confidence,
            Confidence::FromMemory
        );
    }
}

#[test]
fn ansi_items_1_and_2_powers_and_cylinders() {
    for kind in [SV, MF] {
        for (power, limit) in [(6.5, 0.13), (-6.5, 0.13), (6.51, 0.1302), (-20.0, 0.4)] {
            is(ANSI.power_limit(kind, power), limit, "item 1");
        }
        for (cylinder, limit) in [
            (0.0, 0.13),
            (2.0, 0.13),
            (2.01, 0.15),
            (4.5, 0.15),
            (4.51, 0.1804),
        ] {
            is(ANSI.cylinder_limit(kind, 1.0, -cylinder), limit, "item 1");
        }
    }
    for (power, limit) in [(8.0, 0.16), (8.01, 0.1602), (-16.0, 0.32)] {
        is(ANSI.power_limit(PV, power), limit, "item 2");
    }
    for (cylinder, limit) in [(2.0, 0.16), (2.01, 0.18), (3.5, 0.18), (3.51, 0.1755)] {
        is(ANSI.cylinder_limit(PV, 1.0, -cylinder), limit, "item 2");
    }
}

#[test]
fn ansi_item_3_axis() {
    assert!(ANSI.axis_limit(0.11).is_none());
    for (cylinder, degrees) in [
        (0.12, 14.0),
        (0.25, 14.0),
        (0.26, 7.0),
        (0.5, 7.0),
        (0.51, 5.0),
        (0.75, 5.0),
        (0.76, 3.0),
        (1.5, 3.0),
        (1.51, 2.0),
    ] {
        is(ANSI.axis_limit(cylinder).unwrap(), degrees, "item 3");
    }
}

#[test]
fn ansi_item_6_prism_and_centration() {
    for (f, limit) in [(3.375, 0.33), (3.38, 0.338), (10.0, 1.0)] {
        is(ANSI.vertical_prism_limit(0.0, f), limit, "item 6");
    }
    for (f, limit) in [(2.75, 0.67), (2.76, 0.69), (8.0, 2.0)] {
        is(
            ANSI.horizontal_prism_limit(MF, 0.0, f).unwrap(),
            limit,
            "item 6",
        );
    }
    is(
        ANSI.horizontal_prism_limit(PV, 0.0, 3.375).unwrap(),
        0.67,
        "item 6",
    );
    assert!(ANSI.centration_limit(PV, 3.375).is_none());
    assert!(ANSI.horizontal_prism_limit(PV, 0.0, 3.38).is_none());
    is(ANSI.centration_limit(PV, 3.38).unwrap(), 1.0, "item 6");
    assert!(ANSI.centration_limit(MF, 9.0).is_none());
}

#[test]
fn places_and_other_measures_of_both() {
    for standard in Standard::ALL {
        for kind in [MF, PV] {
            is(standard.height_limit(kind).unwrap(), 1.0, standard.name());
            is(
                standard.height_difference_limit(kind).unwrap(),
                1.0,
                standard.name(),
            );
        }
        assert!(
            standard.height_limit(SV).is_none() && standard.centration_limit(SV, 9.0).is_none()
        );
        is(standard.segment_tilt_limit(), 2.0, standard.name());
        is(standard.centre_thickness_limit(), 0.3, standard.name());
        is(standard.base_curve_limit(), 0.75, standard.name());
    }
    is(ISO.centration_limit(MF, 0.0).unwrap(), 1.0, "ISO");
    assert!(ISO.base_curve_limit().cite.clause.contains("no limit"));
}

#[test]
fn a_sum_that_lands_on_an_edge_with_float_dust_stays_in_its_band() {
    // 0.1 + 0.2 is 0.30000000000000004: ten of them and a quarter is over 3.25 by dust alone.
    let dusty = (0.1 + 0.2) * 10.0 + 0.25;
    assert!(dusty > 3.25);
    is(
        ISO.horizontal_prism_limit(SV, 0.0, dusty).unwrap(),
        0.67,
        "Table 5",
    );
    // ANSI cylinder 4 % of 4.50 would be 0.18.
    is(
        ANSI.cylinder_limit(SV, 0.0, 4.500_000_000_000_001),
        0.15,
        "item 1",
    );
}
