//! Real measurements pass through entry and formulas without loss.
//!
//! The data and where they are from: `tests/data/open/SOURCES.md`.

use crate::common;

use std::collections::HashMap;

use rimbook::testing::trade::optics::Rx;
use rimbook::testing::trade::optics::meridian::meridian_power_d;
use rimbook::testing::trade::optics::vector::PowerVector;
use rimbook::testing::trade::optics::vertex::vertex;
use rimbook::testing::trade::units::{Dioptre, Millimetre};

/// The rows of a file, each value under its column's name; values not measured are left out.
fn rows(name: &str) -> Vec<HashMap<String, String>> {
    let text = common::data(name);
    let mut lines = text.lines();
    let columns: Vec<&str> = lines.next().unwrap().split(',').collect();
    lines
        .map(|line| {
            columns
                .iter()
                .zip(line.split(','))
                .filter(|(_, value)| !value.is_empty())
                .map(|(column, value)| ((*column).to_owned(), value.to_owned()))
                .collect()
        })
        .collect()
}

fn number(row: &HashMap<String, String>, column: &str) -> f64 {
    row[column].parse().unwrap()
}

/// How far two powers are apart, dioptres.
fn apart(a: Rx, b: Rx) -> f64 {
    (a.matrix() - b.matrix()).largest_d()
}

#[test]
fn every_real_spectacle_lens_survives_entry_transposition_vectors_and_vertex_distance() {
    let mut lenses = 0;
    for row in rows("open/nhanes_2005_2006_refraction.csv") {
        for eye in ["r", "l"] {
            let column = |part: &str| format!("lens_{eye}_{part}");
            if !row.contains_key(&column("sph")) {
                continue;
            }
            lenses += 1;
            let [sphere, cylinder] = ["sph", "cyl"].map(|part| {
                let written = &row[&column(part)];
                let entered = Dioptre::new(written.parse().unwrap()).unwrap();
                assert_eq!(&format!("{entered:.2}"), written, "as written");
                let kept: Dioptre =
                    serde_json::from_str(&serde_json::to_string(&entered).unwrap()).unwrap();
                assert_eq!(kept, entered, "as kept");
                kept.get()
            });
            let rx = Rx::new(sphere, cylinder, number(&row, &column("axis")));
            assert!(apart(rx.minus_form().plus_form(), rx) < 1e-9, "{rx:?}");
            assert!(apart(rx.minus_form(), rx) < 1e-9 && rx.minus_form().cylinder_d <= 0.0);
            assert!(apart(rx.matrix().rx(), rx) < 1e-9, "{rx:?}");
            assert!(apart(PowerVector::of(rx).rx(), rx) < 1e-9, "{rx:?}");
            let at_cornea = vertex(rx, 14.0, 0.0).unwrap();
            assert!(
                apart(vertex(at_cornea, 0.0, 14.0).unwrap(), rx) < 1e-9,
                "{rx:?}"
            );
        }
    }
    assert_eq!(lenses, 3885);
}

#[test]
fn powers_agree_with_those_computed_apart_from_the_program() {
    let rows = rows("open/rx_vectors.csv");
    assert_eq!(rows.len(), 334);
    for row in rows {
        let n = |column: &str| number(&row, column);
        let close = |found: f64, column: &str| {
            // Printed to four decimals.
            assert!(
                (found - n(column)).abs() < 1e-4,
                "{column}: {found}, not {}",
                n(column)
            );
        };
        let rx = Rx::new(n("plus_sph"), n("plus_cyl"), n("plus_axis"));
        let minus = rx.minus_form();
        close(minus.sphere_d, "minus_sph");
        close(minus.cylinder_d, "minus_cyl");
        if minus.cylinder_d < 0.0 {
            close(minus.axis_deg, "minus_axis");
        }
        let v = PowerVector::of(rx);
        close(v.m_d, "M");
        close(v.j0_d, "J0");
        close(v.j45_d, "J45");
        close(meridian_power_d(rx, 180.0), "power_at_180");
        close(meridian_power_d(rx, 90.0), "power_at_90");
        let cornea = vertex(rx, 12.0, 0.0).unwrap();
        close(cornea.sphere_d, "cornea12_sph");
        close(cornea.cylinder_d, "cornea12_cyl");
        let nearer = vertex(rx, 14.0, 12.0).unwrap();
        close(nearer.sphere_d, "move14to12_sph");
        close(nearer.cylinder_d, "move14to12_cyl");
    }
}

#[test]
fn every_measured_pupil_distance_is_kept_exactly() {
    let rows = rows("open/ansur2_head.csv");
    assert_eq!(rows.len(), 6068);
    for row in rows {
        for column in ["interpupillary_breadth_mm", "head_breadth_mm"] {
            let written = &row[column];
            let entered = Millimetre::new(written.parse().unwrap()).unwrap();
            let decimals = written.split_once('.').map_or(0, |(_, after)| after.len());
            assert_eq!(&format!("{entered:.decimals$}"), written);
        }
    }
}
