//! Refractions as they are spread among people.
//!
//! Quantiles of the right eye, of the cylinder, of the difference between the eyes and shares of
//! the axis by age, read off the 2005-2006 National Health and Nutrition Examination Survey, vision
//! examination (`VIX_D`, NCHS, public domain; `tests/data/open/SOURCES.md`), turned to minus
//! cylinders. The extremes outside 0.5 % and 99.5 % are cut.

use super::random::Throws;

/// One eye's power: sphere and minus cylinder in thousandths of a dioptre, axis in degrees.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Power {
    pub(super) sphere: i32,
    pub(super) cylinder: i32,
    pub(super) axis: i32,
}

/// How powers are distributed in a band of ages.
struct Band {
    /// Last year of age in it.
    to: i32,
    sphere: [(i32, i32); 9],
    cylinder: [(i32, i32); 6],
    /// Of a hundred cylinders: axis near horizontal, near vertical.
    axis: (u64, u64),
}

#[rustfmt::skip]
const BANDS: [Band; 5] = [
    Band { to: 29, axis: (50, 38),
        sphere: [(5, -7500), (50, -4000), (100, -2750), (200, -1500), (400, -250), (600, 0), (900, 750), (980, 2500), (995, 4500)],
        cylinder: [(0, 0), (400, -250), (700, -750), (900, -1250), (980, -3000), (1000, -5000)] },
    Band { to: 49, axis: (36, 48),
        sphere: [(5, -11000), (50, -4750), (100, -3000), (200, -1250), (400, -250), (600, 250), (900, 1000), (980, 2000), (995, 4000)],
        cylinder: [(0, 0), (400, -500), (700, -750), (900, -1500), (980, -3000), (1000, -5000)] },
    Band { to: 59, axis: (26, 58),
        sphere: [(5, -11250), (50, -4500), (100, -3000), (200, -1250), (400, 0), (600, 500), (900, 2000), (980, 4000), (995, 6250)],
        cylinder: [(0, 0), (400, -500), (700, -1000), (900, -1500), (980, -3000), (1000, -4750)] },
    Band { to: 69, axis: (19, 65),
        sphere: [(5, -9250), (50, -2500), (100, -1500), (200, -500), (400, 500), (600, 1500), (900, 3250), (980, 4500), (995, 6250)],
        cylinder: [(0, 0), (400, -750), (700, -1250), (900, -2000), (980, -3000), (1000, -4500)] },
    Band { to: i32::MAX, axis: (12, 70),
        sphere: [(5, -7750), (50, -2000), (100, -1250), (200, -500), (400, 500), (600, 1250), (900, 3500), (980, 5000), (995, 8250)],
        cylinder: [(0, 0), (100, -500), (400, -1000), (700, -1750), (900, -2500), (1000, -4750)] },
];

const BETWEEN_SPHERES: [(i32, i32); 9] = [
    (5, -3250),
    (50, -1000),
    (100, -750),
    (300, -250),
    (500, 0),
    (600, 0),
    (800, 500),
    (950, 1000),
    (995, 3750),
];
const BETWEEN_CYLINDERS: [(i32, i32); 7] = [
    (5, -2250),
    (50, -750),
    (300, -250),
    (500, 0),
    (700, 250),
    (950, 750),
    (995, 2250),
];

/// The nearest quarter dioptre.
const fn quarter(thousandths: i32) -> i32 {
    (thousandths + if thousandths < 0 { -125 } else { 125 }) / 250 * 250
}

/// Returns the powers of a pair of eyes, right and left, of somebody of that age.
pub(super) fn refraction(throws: &mut Throws, age: i32) -> (Power, Power) {
    let [youngest, .., oldest] = &BANDS;
    let band =
        BANDS
            .iter()
            .find(|b| age <= b.to)
            .unwrap_or(if age < 0 { youngest } else { oldest });
    let sphere = quarter(throws.quantile(&band.sphere));
    let cylinder = quarter(throws.quantile(&band.cylinder));
    let axis = match throws.below(100) {
        n if n < band.axis.0 => throws.between(-30, 30),
        n if n < band.axis.0 + band.axis.1 => throws.between(60, 120),
        _ => throws.between(30, 60) + 90 * throws.between(0, 1),
    };
    let right = whole(sphere, cylinder, axis);
    let left = whole(
        sphere + quarter(throws.quantile(&BETWEEN_SPHERES)),
        (cylinder + quarter(throws.quantile(&BETWEEN_CYLINDERS))).min(0),
        // Most eyes mirror each other.
        180 - axis + throws.between(-8, 8),
    );
    (right, left)
}

fn whole(sphere: i32, cylinder: i32, axis: i32) -> Power {
    Power {
        sphere,
        cylinder,
        axis: match axis.rem_euclid(180) {
            0 => 180,
            a => a,
        },
    }
}

/// Returns the addition, thousandths of a dioptre, of somebody of that age; 0 for the young.
pub(super) const fn addition(age: i32) -> i32 {
    match age {
        ..=43 => 0,
        44..=46 => 1000,
        47..=49 => 1500,
        50..=54 => 1750,
        55..=59 => 2000,
        60..=64 => 2250,
        _ => 2500,
    }
}
