//! Powers worked out from a job: what was prescribed for this pair, what is ordered, how strong.

use crate::job::{Design, EyePower, Job, Purpose};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::units::{Dioptre, PrismDioptre};

/// Returns the power prescribed for the pair's purpose: the distance power, with the addition in it
/// for a single-vision near pair, and with the intermediate addition for an intermediate one where
/// that is written. `None` without a sphere, or for a balance lens.
pub(crate) fn prescribed(job: &Job, eye: Eye) -> Option<Rx> {
    let written = job.prescription.eye(eye);
    if written.is_balance() {
        return None;
    }
    let rx = written.rx()?;
    let addition = if job.lenses.is_near_single_vision() {
        written.addition_d
    } else if is_intermediate(job) {
        written.intermediate_addition_d
    } else {
        None
    };
    Some(addition.map_or(rx, |addition| rx.plus_sphere(addition.get())))
}

/// Returns the power prescribed for distance; `None` without a sphere, or for a balance lens.
pub(crate) fn distance(job: &Job, eye: Eye) -> Option<Rx> {
    let written = job.prescription.eye(eye);
    written.rx().filter(|_| !written.is_balance())
}

/// Returns the prism prescribed for the pair's purpose, base in and base up: a pair for near has the
/// near prism where one is written.
pub(crate) fn prescribed_prism(job: &Job, eye: Eye) -> [Option<PrismDioptre>; 2] {
    let written = job.prescription.eye(eye);
    let near = [written.near_base_in_delta, written.near_base_up_delta];
    if job.lenses.is_near_single_vision() && near.iter().any(Option::is_some) {
        return near;
    }
    [written.base_in_delta, written.base_up_delta]
}

/// Whether prism is prescribed for the pair's purpose, in either eye.
pub(crate) fn has_prism(job: &Job) -> bool {
    Eye::BOTH.into_iter().any(|eye| {
        let prism = prescribed_prism(job, eye).into_iter().flatten();
        prism.into_iter().any(|d| d.thousandths() != 0)
    })
}

/// Returns the power that is ordered for an eye; `None` for a balance lens, whose power says
/// nothing about the eye.
pub(crate) fn ordered(job: &Job, eye: Eye) -> Option<Rx> {
    if job.prescription.eye(eye).is_balance() {
        return None;
    }
    job.lenses.powers.as_ref()?.eye(eye).rx()
}

/// Returns the ordered power, or the prescribed one while none is ordered.
pub(crate) fn ordered_or_prescribed(job: &Job, eye: Eye) -> Option<Rx> {
    ordered(job, eye).or_else(|| prescribed(job, eye))
}

/// Returns addition and prism (base in, base up) that go with the power of an eye, in whole
/// thousandths of a dioptre or prism dioptre: those ordered, or those prescribed while nothing is
/// ordered of that eye.
///
/// None written is none. An addition that is prescribed and not written beside ordered powers is not
/// ordered: the laboratory makes what the order says.
pub(crate) fn addition_and_prism(job: &Job, eye: Eye) -> [i32; 3] {
    let ordered = job.lenses.powers.as_ref().map(|p| p.eye(eye));
    let written = job.prescription.eye(eye);
    let (addition, base_in, base_up) = match ordered.filter(|o| **o != EyePower::default()) {
        Some(o) => (o.addition_d, o.base_in_delta, o.base_up_delta),
        None => (
            written.addition_d,
            written.base_in_delta,
            written.base_up_delta,
        ),
    };
    [
        addition.map_or(0, Dioptre::thousandths),
        base_in.map_or(0, PrismDioptre::thousandths),
        base_up.map_or(0, PrismDioptre::thousandths),
    ]
}

/// Returns the strength of the pair, dioptres: the largest size of a principal power of either eye.
pub(crate) fn strength_d(job: &Job) -> f64 {
    Eye::BOTH
        .iter()
        .filter_map(|eye| strongest(job, *eye))
        .fold(0.0, f64::max)
}

/// The addition counts for single vision near pairs only.
fn strongest(job: &Job, eye: Eye) -> Option<f64> {
    let rx = if is_intermediate(job) {
        distance(job, eye)
    } else {
        prescribed(job, eye)
    };
    rx.map(|rx| rx.strongest_d().abs())
}

/// Whether a single-vision intermediate pair may carry any part of the addition.
pub(crate) fn is_intermediate(job: &Job) -> bool {
    job.lenses.design == Some(Design::SingleVision)
        && job.lenses.purpose == Some(Purpose::Intermediate)
}

/// Returns the mean fitted vertex distance, mm; the one eye's where only one was measured.
pub(crate) fn fitted_vertex_mm(job: &Job) -> Option<f64> {
    let both = [&job.fitting.right, &job.fitting.left]
        .map(|e| e.vertex_mm.map(crate::trade::units::Millimetre::get));
    match both {
        [Some(r), Some(l)] => Some(f64::midpoint(r, l)),
        [one, other] => one.or(other),
    }
}

/// Returns a power as it is written, to the hundredth.
pub(crate) fn written(rx: Rx) -> String {
    let rx = rx.minus_form();
    let sphere = Dioptre::nearest(rx.sphere_d);
    let cylinder = Dioptre::nearest(rx.cylinder_d);
    if cylinder.thousandths().abs() < 5 {
        format!("{sphere:+}")
    } else {
        format!("{sphere:+} / {cylinder:+} x {:.0}", rx.axis_deg)
    }
}

/// Returns the eyes that carry a lens with a power of its own.
pub(crate) fn powered_eyes(job: &Job) -> impl Iterator<Item = Eye> + '_ {
    Eye::BOTH
        .into_iter()
        .filter(|eye| !job.prescription.eye(*eye).is_balance())
}
