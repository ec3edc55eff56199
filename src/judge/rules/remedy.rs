//! What to do about a pair that sits at another vertex distance than its powers are right for.
//!
//! Setting the frame comes first: it costs the wearer nothing and leaves the prescription as the
//! prescriber wrote it. Ordering other powers comes after it, and is for a registered person.

use crate::job::{Job, PowersAs};
use crate::judge::derive::powers::{fitted_vertex_mm, prescribed};
use crate::practice::Thresholds;
use crate::trade::eye::Eye;
use crate::trade::optics::vertex::{round_to_step, vertex, vertex_power_d};
use crate::trade::optics::{OpticsError, Rx};
use crate::trade::tolerance::DUST;

/// How near to a distance pads can be set and measured again, mm.
pub(crate) const SETTING_MM: f64 = 1.0;
/// The step in which powers are usually ordered, dioptres.
pub(crate) const QUARTER_D: f64 = 0.25;
/// The finest step in which powers are ordered, dioptres.
pub(crate) const EIGHTH_D: f64 = 0.125;

/// What one millimetre of vertex distance is worth to a principal power.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PerMm {
    /// The principal power, dioptres.
    pub power_d: f64,
    /// The slope, `F^2 / 1000`, dioptres.
    pub slope_d: f64,
    /// By how much the power needed changes one millimetre farther from the eye, with its sign.
    pub farther_d: f64,
    /// The same one millimetre closer.
    pub closer_d: f64,
}

/// One thing that can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RemedyKind {
    /// The frame is set to the very distance.
    SetExactly,
    /// The frame is set to within [`SETTING_MM`] of it.
    SetNearly,
    /// Compensated powers are ordered in quarters.
    OrderQuarters,
    /// Compensated powers are ordered in eighths.
    OrderEighths,
    /// Compensated powers are ordered to the hundredth.
    OrderExact,
    /// Nothing is done.
    Leave,
}

/// What comes of one of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RemedyWay {
    /// Which.
    pub kind: RemedyKind,
    /// The power then worn.
    pub rx: Rx,
    /// The error left at its worst: the largest principal power by which what is worn differs from
    /// what is needed where it is worn, dioptres, not below zero.
    pub remaining_d: f64,
}

/// What can be done for an eye.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// Whose.
    pub eye: Eye,
    /// Where the power is right, mm.
    pub correct_at_mm: f64,
    /// Where the lens sits, mm.
    pub sits_mm: f64,
    /// Where compensated powers would be right, mm: the mean of the eyes, as they are ordered.
    pub ordered_for_mm: f64,
    /// One millimetre for each principal power, the strongest first; one only for a sphere.
    pub per_mm: Vec<PerMm>,
    /// Every way, in the order in which they are to be tried.
    pub ways: Vec<RemedyWay>,
}

/// Returns which way a frame goes from one vertex distance to another, mm: closer to the eye or
/// farther from it.
pub(crate) fn way_to(from_mm: f64, to_mm: f64) -> &'static str {
    if to_mm < from_mm { "closer" } else { "farther" }
}

impl Remedy {
    /// Returns how far the frame has to go, mm: away from the eye above zero, closer below.
    pub fn move_mm(&self) -> f64 {
        self.correct_at_mm - self.sits_mm
    }

    /// Returns which way the frame has to go.
    pub fn direction(&self) -> &'static str {
        way_to(self.sits_mm, self.correct_at_mm)
    }

    /// Returns what comes of one way.
    pub fn way(&self, kind: RemedyKind) -> Option<&RemedyWay> {
        self.ways.iter().find(|w| w.kind == kind)
    }
}

/// Returns by how much a lens of power `given` at `at_mm` differs from what is needed there, when
/// `rx` is right at `correct_at_mm`.
fn remaining_d(given: Rx, rx: Rx, correct_at_mm: f64, at_mm: f64) -> Result<f64, OpticsError> {
    let needed = vertex(rx, correct_at_mm, at_mm)?;
    Ok((given.matrix() - needed.matrix()).largest_d())
}

fn per_mm(power_d: f64, at_mm: f64) -> Result<PerMm, OpticsError> {
    Ok(PerMm {
        power_d,
        slope_d: power_d * power_d / 1000.0,
        farther_d: vertex_power_d(power_d, at_mm, at_mm + 1.0)? - power_d,
        closer_d: vertex_power_d(power_d, at_mm, at_mm - 1.0)? - power_d,
    })
}

/// Returns what can be done where `rx` is right at `correct_at_mm` and the lens sits at `sits_mm`.
///
/// `ordered_for_mm` is the distance that compensated powers would be ordered for: the lens's own,
/// or the mean of the two eyes. Distances in millimetres to the back vertex.
///
/// # Errors
/// As [`vertex`], when no lens can do at one of the distances what is needed.
pub(crate) fn remedy(
    eye: Eye,
    rx: Rx,
    correct_at_mm: f64,
    sits_mm: f64,
    ordered_for_mm: f64,
) -> Result<Remedy, OpticsError> {
    let compensated = vertex(rx, correct_at_mm, ordered_for_mm)?;
    let as_set = |at_mm: f64| remaining_d(rx, rx, correct_at_mm, at_mm);
    let as_it_sits = |kind: RemedyKind, given: Rx| {
        remaining_d(given, rx, correct_at_mm, sits_mm).map(|remaining_d| RemedyWay {
            kind,
            rx: given,
            remaining_d,
        })
    };
    let set = |kind: RemedyKind, remaining_d: f64| RemedyWay {
        kind,
        rx,
        remaining_d,
    };
    let (along, across) = rx.principal_powers();
    let mut powers = vec![along];
    if (along - across).abs() > DUST {
        powers.push(across);
        powers.sort_by(|a, b| b.abs().total_cmp(&a.abs()));
    }
    Ok(Remedy {
        eye,
        correct_at_mm,
        sits_mm,
        ordered_for_mm,
        per_mm: powers
            .into_iter()
            .map(|power_d| per_mm(power_d, correct_at_mm))
            .collect::<Result<_, _>>()?,
        ways: vec![
            set(RemedyKind::SetExactly, as_set(correct_at_mm)?),
            set(
                RemedyKind::SetNearly,
                as_set(correct_at_mm - SETTING_MM)?.max(as_set(correct_at_mm + SETTING_MM)?),
            ),
            as_it_sits(
                RemedyKind::OrderQuarters,
                round_to_step(compensated, QUARTER_D),
            )?,
            as_it_sits(
                RemedyKind::OrderEighths,
                round_to_step(compensated, EIGHTH_D),
            )?,
            as_it_sits(RemedyKind::OrderExact, compensated)?,
            as_it_sits(RemedyKind::Leave, rx)?,
        ],
    })
}

/// Whether every vertex distance of a job that is recorded is one that a pair is worn at. For another
/// the way out is to measure again, not to order powers.
pub(crate) fn is_worn_there(job: &Job, thresholds: &Thresholds) -> bool {
    let fitted = Eye::BOTH.map(|eye| job.fitting.eye(eye).vertex_mm);
    fitted
        .into_iter()
        .chain([job.prescription.tested_vertex_mm])
        .flatten()
        .all(|mm| thresholds.is_worn_at(mm))
}

/// Returns what can be done for an eye of a job whose powers are the prescription; `None` where the
/// powers are compensated already, a distance or power is missing, the distances are the same, or one
/// of them is none that a pair is worn at by the practice's range.
pub fn of_job(job: &Job, eye: Eye, thresholds: &Thresholds) -> Option<Remedy> {
    if job
        .lenses
        .powers_as()
        .is_some_and(|p| p != PowersAs::Prescribed)
    {
        return None;
    }
    let rx = prescribed(job, eye)?;
    let tested = job.prescription.tested_vertex_mm?;
    let sits = job.fitting.eye(eye).vertex_mm?;
    if tested == sits || !is_worn_there(job, thresholds) {
        return None;
    }
    remedy(eye, rx, tested.get(), sits.get(), fitted_vertex_mm(job)?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn left(r: &Remedy, kind: RemedyKind) -> f64 {
        r.way(kind).unwrap().remaining_d
    }

    /// -10.00 D tested at 12 mm and fitted at 15 mm, by hand in fractions: the far point lies
    /// 100 mm before the lens, 112 mm before the cornea, so that 97 mm are left of it at 15 mm.
    #[test]
    fn minus_ten_tested_at_twelve_fitted_at_fifteen_is_as_worked_by_far_points() {
        let r = remedy(Eye::Right, Rx::sphere(-10.0), 12.0, 15.0, 15.0).unwrap();
        assert!((r.move_mm() + 3.0).abs() < 1e-12);
        assert_eq!(r.direction(), "closer");
        let needed = -1000.0 / 97.0;
        assert!((r.way(RemedyKind::OrderExact).unwrap().rx.sphere_d - needed).abs() < 1e-9);
        assert!((left(&r, RemedyKind::Leave) - 30.0 / 97.0).abs() < 1e-9);
        assert!(left(&r, RemedyKind::SetExactly) < 1e-12);
        // One millimetre closer is the worse: 1000/101 there, 1000/99 farther.
        assert!((left(&r, RemedyKind::SetNearly) - (1000.0 / 99.0 - 10.0)).abs() < 1e-9);
        assert!((r.way(RemedyKind::OrderQuarters).unwrap().rx.sphere_d + 10.25).abs() < 1e-12);
        assert!((left(&r, RemedyKind::OrderQuarters) - (1000.0 / 97.0 - 10.25)).abs() < 1e-9);
        assert!((r.way(RemedyKind::OrderEighths).unwrap().rx.sphere_d + 10.25).abs() < 1e-12);
        assert!(left(&r, RemedyKind::OrderExact) < 1e-9);
        let one = r.per_mm[0];
        assert!((one.slope_d - 0.1).abs() < 1e-12);
        assert!((one.farther_d + 10.0 / 99.0).abs() < 1e-9);
        assert!((one.closer_d - 10.0 / 101.0).abs() < 1e-9);
        assert_eq!(r.per_mm.len(), 1);
    }

    /// +12.00 / -4.00 from 14 mm to 10 mm: the focal lengths, 250/3 and 125 mm, shorten by 4 mm.
    #[test]
    fn a_plus_cylinder_moved_nearer_has_focal_lengths_shorter_by_the_move() {
        let r = remedy(Eye::Left, Rx::new(12.0, -4.0, 90.0), 14.0, 10.0, 10.0).unwrap();
        let (strong, weak) = (1000.0 / (1000.0 / 12.0 - 4.0), 1000.0 / (125.0 - 4.0));
        let exact = r.way(RemedyKind::OrderExact).unwrap().rx;
        assert!((exact.sphere_d - strong).abs() < 1e-9);
        assert!((exact.cylinder_d - (weak - strong)).abs() < 1e-9);
        assert!((left(&r, RemedyKind::Leave) - (strong - 12.0)).abs() < 1e-9);
        assert_eq!(r.direction(), "farther");
        assert!((r.per_mm[0].power_d - 12.0).abs() < 1e-12);
        assert!((r.per_mm[1].power_d - 8.0).abs() < 1e-12);
    }

    #[test]
    fn setting_the_frame_is_offered_before_ordering_other_powers_and_leaving_it_last() {
        let r = remedy(Eye::Right, Rx::sphere(-8.0), 12.0, 14.0, 14.0).unwrap();
        let kinds: Vec<RemedyKind> = r.ways.iter().map(|w| w.kind).collect();
        assert_eq!(kinds.first(), Some(&RemedyKind::SetExactly));
        assert_eq!(kinds.get(1), Some(&RemedyKind::SetNearly));
        assert_eq!(kinds.last(), Some(&RemedyKind::Leave));
    }

    #[test]
    fn powers_for_the_mean_of_unequal_distances_do_not_leave_nothing() {
        let r = remedy(Eye::Right, Rx::sphere(-10.0), 12.0, 16.0, 15.0).unwrap();
        // 97 mm to the far point ordered for, 96 mm where the lens sits.
        let expected = 1000.0 / 96.0 - 1000.0 / 97.0;
        assert!((left(&r, RemedyKind::OrderExact) - expected).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn rounding_leaves_no_more_than_half_a_step_of_sphere_and_of_cylinder(
            sphere in -20.0..15.0f64, cylinder in -6.0..0.0f64, axis in 1.0..180.0f64,
            tested in 8.0..18.0f64, sits in 8.0..18.0f64,
        ) {
            let r = remedy(Eye::Right, Rx::new(sphere, cylinder, axis), tested, sits, sits).unwrap();
            prop_assert!(left(&r, RemedyKind::SetExactly) < 1e-9);
            prop_assert!(left(&r, RemedyKind::OrderExact) < 1e-9);
            prop_assert!(left(&r, RemedyKind::OrderQuarters) <= QUARTER_D + 1e-9);
            prop_assert!(left(&r, RemedyKind::OrderEighths) <= EIGHTH_D + 1e-9);
            // The same by focal lengths, which a move changes by just itself.
            let worst = [sphere, sphere + cylinder].into_iter()
                .filter(|f| f.abs() > 1e-6)
                .map(|f| (1000.0 / (1000.0 / f + sits - tested) - f).abs())
                .fold(0.0, f64::max);
            prop_assert!((left(&r, RemedyKind::Leave) - worst).abs() < 1e-6);
            // The slope and the exact change of one millimetre agree to the next term of the series.
            for one in &r.per_mm {
                let next = one.power_d.abs().powi(3) / 1e6;
                prop_assert!((one.farther_d.abs() - one.slope_d).abs() <= next * 1.05 + 1e-9);
                prop_assert!((one.closer_d.abs() - one.slope_d).abs() <= next * 1.05 + 1e-9);
            }
        }
    }
}
