//! Several readings of one lens: how many there are, each in turn, and the middle one.

use crate::job::{EyeReading, Job};
use crate::trade::eye::{Eye, PerEye};
use crate::trade::tolerance::{Quantity, Report, ToleranceLine};

/// Returns how often the lens of an eye was read.
pub(crate) fn count(job: &Job, eye: Eye) -> usize {
    let first = usize::from(job.readings.eye(eye).sphere_d.is_some());
    // Without a first reading the others are further ones of nothing.
    first * (1 + job.readings.repeats.eye(eye).len())
}

/// Returns the reading of a place in their order: the powers of that reading, everything that was
/// not read again as it was read first.
pub(super) fn nth(job: &Job, eye: Eye, nth: usize) -> EyeReading {
    let first = job.readings.eye(eye);
    let again = nth
        .checked_sub(1)
        .and_then(|at| job.readings.repeats.eye(eye).get(at))
        .filter(|r| r.sphere_d.is_some());
    let Some(again) = again else {
        return first.clone();
    };
    EyeReading {
        sphere_d: again.sphere_d,
        cylinder_d: again.cylinder_d,
        axis_deg: again.axis_deg,
        addition_d: again.addition_d.or(first.addition_d),
        base_in_delta: again.base_in_delta.or(first.base_in_delta),
        base_up_delta: again.base_up_delta.or(first.base_up_delta),
        cd_mm: again.cd_mm.or(first.cd_mm),
        height_mm: again.height_mm.or(first.height_mm),
        segment_height_mm: again.segment_height_mm.or(first.segment_height_mm),
        centre_mm: again.centre_mm.or(first.centre_mm),
        base_d: again.base_d.or(first.base_d),
        // What is printed on a lens or its bag does not change from reading to reading.
        engraving: first.engraving.clone(),
        identifier: first.identifier.clone(),
        lot: first.lot.clone(),
    }
}

/// By how much a line lies to which side of what was ordered, in the terms of its error.
fn deviation(line: &ToleranceLine) -> f64 {
    let signed = match line.what {
        Quantity::Cylinder => line.measured.abs() - line.ordered.abs(),
        Quantity::Axis => (line.measured - line.ordered + 90.0).rem_euclid(180.0) - 90.0,
        _ => line.measured - line.ordered,
    };
    line.error.copysign(signed)
}

/// Returns the middle one of the lines of several readings; of an even number, the worse of the two
/// in the middle.
fn middle_line(mut lines: Vec<ToleranceLine>) -> Option<ToleranceLine> {
    lines.sort_by(|a, b| deviation(a).total_cmp(&deviation(b)));
    let half = lines.len() / 2;
    let (upper, lower) = (lines.get(half).copied(), half.checked_sub(1));
    let lower = lower
        .filter(|_| lines.len().is_multiple_of(2))
        .and_then(|at| lines.get(at).copied());
    match (lower, upper) {
        (Some(a), Some(b)) if a.error > b.error => Some(a),
        (_, upper) => upper,
    }
}

/// Returns the comparison in which each line is that of the middle reading. `counts` says how often
/// each lens was read; lines of the pair have as many readings as the lens that was read oftener.
pub(super) fn middle(mut first: Report, further: &[Report], counts: &PerEye<usize>) -> Report {
    if further.is_empty() {
        return first;
    }
    for line in &mut first.lines {
        let readings = line
            .eye
            .eye()
            .map_or(counts.right.max(counts.left), |eye| *counts.get(eye));
        let mut all = vec![*line];
        all.extend(
            further
                .iter()
                .take(readings.saturating_sub(1))
                .filter_map(|r| r.line(line.what, line.eye).copied()),
        );
        if let Some(middle) = middle_line(all) {
            *line = middle;
        }
    }
    first.pass = first.lines.iter().all(|l| l.pass);
    first
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::trade::tolerance::{EyeValues, LensKind, LineEye, Options, Standard, compare};

    fn line(sphere: f64) -> ToleranceLine {
        let eye = |s: f64| PerEye {
            right: Some(EyeValues {
                sphere_d: s,
                ..EyeValues::default()
            }),
            left: None,
        };
        let report = compare(
            Standard::default(),
            LensKind::SingleVision,
            &eye(-2.0),
            &eye(sphere),
            Options::default(),
        )
        .unwrap();
        *report
            .line(Quantity::PowerAlongAxis, LineEye::Right)
            .unwrap()
    }

    #[test]
    fn of_three_the_middle_counts_and_of_two_the_worse() {
        let read = |of: &[f64]| {
            let lines = of.iter().map(|s| line(*s)).collect();
            middle_line(lines).unwrap().measured
        };
        for (of, counts) in [
            (&[-2.13, -2.05, -2.1][..], -2.1),
            (&[-1.8, -2.1, -2.05], -2.05),
            (&[-2.13, -2.05], -2.13),
            (&[-1.9, -2.05], -1.9),
            (&[-2.2], -2.2),
        ] {
            assert!((read(of) - counts).abs() < 1e-9, "{of:?}");
        }
    }
}
