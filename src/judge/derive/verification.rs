//! What the finished pair is compared with, and the comparison itself.

use crate::job::{Design, EyePower, EyeReading, Job};
use crate::practice::Practice;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::tolerance::{
    EyeValues, LensKind, PairValues, Quantity, Report, ToleranceError, compare, complete,
};
use crate::trade::units::{Degree, Dioptre, Millimetre, PrismDioptre};

use crate::judge::derive::compensates::laboratory_states;
use crate::judge::derive::places::{ordered_cd_mm, ordered_height_mm};
use crate::judge::derive::readings;

/// Returns the kind of lens under which the standard lists the pair.
pub(crate) fn lens_kind(job: &Job) -> LensKind {
    job.lenses
        .design
        .map_or(LensKind::SingleVision, Design::lens_kind)
}

/// Returns what a focimeter should read of an eye: what the laboratory states, else the order. An
/// office lens is read at its near reference point, where it has the distance power with the
/// addition and shows no addition.
pub(crate) fn target(job: &Job, eye: Eye) -> Option<EyePower> {
    let ordered = job.lenses.powers.as_ref()?.eye(eye);
    let mut target = ordered.clone();
    if let Some(stated) = job.lenses.laboratory_powers.as_ref().map(|l| l.eye(eye))
        && stated.sphere_d.is_some()
    {
        target.sphere_d = stated.sphere_d;
        target.cylinder_d = stated.cylinder_d;
        target.axis_deg = stated.axis_deg;
        target.addition_d = stated.addition_d.or(ordered.addition_d);
        target.base_in_delta = stated.base_in_delta.or(ordered.base_in_delta);
        target.base_up_delta = stated.base_up_delta.or(ordered.base_up_delta);
    }
    if job.lenses.design == Some(Design::Office) {
        if !is_stated(job, eye) {
            let addition = target.addition_d.unwrap_or_default();
            target.sphere_d = (target.sphere_d).map(|sphere| {
                Dioptre::from_thousandths(sphere.thousandths() + addition.thousandths())
            });
        }
        target.addition_d = None;
    }
    target.sphere_d.is_some().then_some(target)
}

/// Whether the laboratory has stated what a focimeter should read of an eye.
pub(crate) fn is_stated(job: &Job, eye: Eye) -> bool {
    let stated = job.lenses.laboratory_powers.as_ref();
    stated.is_some_and(|l| l.eye(eye).sphere_d.is_some())
}

/// Whether a lens waits for what the laboratory states: until then no reading of its power says anything
/// about it, since the order is not what a focimeter should read.
pub(crate) fn awaits_statement(job: &Job, eye: Eye) -> bool {
    laboratory_states(job) && !is_stated(job, eye)
}

/// Which height the comparison uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Height {
    Centre,
    Segment,
}

fn ordered_values(job: &Job, height: Height) -> PairValues {
    PerEye::from_fn(|eye| {
        let t = target(job, eye)?;
        Some(EyeValues {
            sphere_d: t.sphere_d?.get(),
            cylinder_d: t.cylinder_d.map_or(0.0, Dioptre::get),
            axis_deg: t.axis_deg.map(Degree::get),
            // A single-vision lens has no addition to read, whatever the prescription repeats.
            addition_d: t
                .addition_d
                .filter(|_| lens_kind(job) != LensKind::SingleVision)
                .map(Dioptre::get),
            base_in_delta: t.base_in_delta.map(PrismDioptre::get),
            base_up_delta: t.base_up_delta.map(PrismDioptre::get),
            cd_mm: ordered_cd_mm(job, eye),
            height_mm: ordered_height(job, eye, height),
        })
    })
}

/// Returns the height that an eye's lens is ordered to, mm.
fn ordered_height(job: &Job, eye: Eye, height: Height) -> Option<f64> {
    match height {
        Height::Centre => ordered_height_mm(job, eye),
        Height::Segment => job.fitting.eye(eye).segment_height_mm.map(Millimetre::get),
    }
}

fn read_values(r: &EyeReading, height: Height) -> Option<EyeValues> {
    Some(EyeValues {
        sphere_d: r.sphere_d?.get(),
        cylinder_d: r.cylinder_d.map_or(0.0, Dioptre::get),
        axis_deg: r.axis_deg.map(Degree::get),
        addition_d: r.addition_d.map(Dioptre::get),
        base_in_delta: r.base_in_delta.map(PrismDioptre::get),
        base_up_delta: r.base_up_delta.map(PrismDioptre::get),
        cd_mm: r.cd_mm.map(Millimetre::get),
        height_mm: match height {
            Height::Centre => r.height_mm,
            Height::Segment => r.segment_height_mm,
        }
        .map(Millimetre::get),
    })
}

/// Whether the readings are taken as they are or with right and left exchanged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// Each lens as the eye it was read for.
    AsRead,
    /// The right lens's reading as the left's and the reverse.
    Exchanged,
}

/// Compares the readings with what was ordered, by the practice's standard.
///
/// A segment lens has two heights: its optical centre's, which decides prism, and its segment
/// top's, which decides the place lines; both are compared. Of a lens that was read again each line
/// is that of the middle reading ([`readings`]).
///
/// # Errors
/// [`ToleranceError`] when a lens has a cylinder without axis, or nothing can be compared.
pub fn report(job: &Job, practice: &Practice, reading: Reading) -> Result<Report, ToleranceError> {
    let counts = PerEye::from_fn(|eye| {
        let from = match reading {
            Reading::AsRead => eye,
            Reading::Exchanged => eye.other(),
        };
        readings::count(job, from).max(1)
    });
    let first = nth_report(job, practice, reading, 0)?;
    let mut further = Vec::new();
    for nth in 1..counts.right.max(counts.left) {
        further.push(nth_report(job, practice, reading, nth)?);
    }
    Ok(readings::middle(first, &further, &counts))
}

/// The comparison of the reading of a place in their order; of a lens that was not read so often,
/// of its first.
pub(crate) fn nth_report(
    job: &Job,
    practice: &Practice,
    reading: Reading,
    nth: usize,
) -> Result<Report, ToleranceError> {
    let kind = lens_kind(job);
    let compare_at = |height| {
        let ordered = ordered_values(job, height);
        let read = PerEye::from_fn(|eye| {
            let from = match reading {
                Reading::AsRead => eye,
                Reading::Exchanged => eye.other(),
            };
            let mut read = read_values(&readings::nth(job, from, nth), height)?;
            // Of a lens with one optical centre its place says what prism lies at the ordered point;
            // a progressive's cross is no such centre.
            if kind == LensKind::SingleVision
                && let Some(ordered) = ordered.get(eye)
            {
                complete(eye, ordered, &mut read);
            }
            Some(read)
        });
        compare(practice.standard, kind, &ordered, &read, practice.options)
    };
    let mut report = compare_at(Height::Centre)?;
    if job.lenses.design.is_some_and(Design::has_segment) {
        let of_height =
            |what: Quantity| matches!(what, Quantity::Height | Quantity::HeightDifference);
        let segments = compare_at(Height::Segment)?;
        report.lines.retain(|l| !of_height(l.what));
        report.missing.retain(|m| !of_height(m.what));
        report
            .lines
            .extend(segments.lines.into_iter().filter(|l| of_height(l.what)));
        report
            .missing
            .extend(segments.missing.into_iter().filter(|m| of_height(m.what)));
        report.pass = report.lines.iter().all(|l| l.pass);
    }
    Ok(report)
}

/// Returns the ordered values with the fitting heights, for the accuracy budget.
pub(crate) fn ordered_pair(job: &Job) -> PairValues {
    let height = if job.lenses.design.is_some_and(Design::has_segment) {
        Height::Segment
    } else {
        Height::Centre
    };
    let mut pair = ordered_values(job, height);
    // While no powers are ordered the prescription takes their place: the budget is wanted
    // before the measurement is taken, not after.
    for eye in Eye::BOTH {
        if pair.get(eye).is_none()
            && let Some(rx) = crate::judge::derive::powers::prescribed(job, eye)
        {
            *pair.get_mut(eye) = Some(EyeValues {
                cd_mm: ordered_cd_mm(job, eye),
                height_mm: ordered_height(job, eye, height),
                ..EyeValues::of(rx)
            });
        }
    }
    pair
}
