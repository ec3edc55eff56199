//! Reading a lens again: when one reading cannot decide, and which of several counts.
//!
//! A reading nearer to a limit than the focimeter itself may be out by is a throw of a coin,
//! whatever its digits say. Such a lens is read three times and the middle reading counts.

use crate::job::Job;
use crate::judge::derive::readings::count;
use crate::judge::derive::verification::{Reading, awaits_statement, nth_report, target};
use crate::practice::{Practice, Threshold};
use crate::trade::eye::Eye;
use crate::trade::tolerance::DUST;
use crate::trade::tolerance::{Quantity, ToleranceLine};

/// How many readings decide what one cannot.
pub(crate) const ENOUGH: usize = 3;

/// Returns what a focimeter may be out by on a lens of this strength, dioptres.
pub(crate) fn uncertainty_d(practice: &Practice, strength_d: f64) -> f64 {
    practice.thresholds.get(match strength_d.abs() {
        s if s <= 5.0 => Threshold::Focimeter5,
        s if s <= 10.0 => Threshold::Focimeter10,
        _ => Threshold::Focimeter15,
    })
}

/// What the focimeter may be out by on the lens of an eye, dioptres.
fn uncertainty_of(job: &Job, practice: &Practice, eye: Eye) -> f64 {
    let strength = target(job, eye).and_then(|t| t.rx()).map_or(0.0, |rx| {
        let (along, across) = rx.principal_powers();
        along.abs().max(across.abs())
    });
    uncertainty_d(practice, strength)
}

/// Returns the lines of an eye that lie nearer to their limit than the focimeter may be out by, on
/// any of the lens's readings.
pub(crate) fn doubtful(job: &Job, practice: &Practice, eye: Eye) -> Vec<ToleranceLine> {
    let band = uncertainty_of(job, practice, eye);
    (0..count(job, eye))
        .filter_map(|at| nth_report(job, practice, Reading::AsRead, at).ok())
        .flat_map(|report| report.lines)
        .filter(|l| l.eye.eye() == Some(eye) && (l.what.is_power() || l.what == Quantity::Addition))
        // Where the band is as wide as the limit, what reads exactly as ordered is still no doubt.
        .filter(|l| l.error > DUST && (l.error - l.limit).abs() <= band + DUST)
        .collect()
}

/// Returns how many more readings of the lens of an eye are asked for.
pub fn wanted(job: &Job, practice: &Practice, eye: Eye) -> usize {
    let have = count(job, eye);
    if have == 0
        || have >= ENOUGH
        || awaits_statement(job, eye)
        || doubtful(job, practice, eye).is_empty()
    {
        return 0;
    }
    ENOUGH - have
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn the_band_follows_the_strength() {
        let practice = Practice::default();
        for (strength, band) in [
            (0.0, 0.06),
            (-5.0, 0.06),
            (5.01, 0.09),
            (-10.0, 0.09),
            (10.12, 0.12),
            (-18.0, 0.12),
        ] {
            assert!((uncertainty_d(&practice, strength) - band).abs() < 1e-12);
        }
    }
}
