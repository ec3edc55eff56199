//! Powers compensated for where the pair sits: vertex distance first, then tilt and face form.

use crate::job::{Design, Job, PowersAs};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::as_worn::{WornLens, as_worn, as_worn_compensate};
use crate::trade::optics::prism::LensPoint;
use crate::trade::optics::tilt::{Tilt, oblique, oblique_compensate};
use crate::trade::optics::vertex::vertex;
use crate::trade::units::{Degree, Millimetre};

use crate::judge::derive::compensates::{Compensated, contained, ordered_as, who_compensates};
use crate::judge::derive::lens::{front_d, material, usual_centre_mm};
use crate::judge::derive::places::lowered_mm;
use crate::judge::derive::powers::{distance, fitted_vertex_mm, ordered, prescribed};

/// Returns the prescription moved from the tested to the fitted distance (mean of the eyes); as
/// prescribed where a distance is missing.
pub(crate) fn vertex_compensated(job: &Job, eye: Eye) -> Option<Rx> {
    moved(job, prescribed(job, eye)?)
}

/// Returns a power moved from the tested to the fitted distance (mean of the eyes); unchanged where a
/// distance is missing.
fn moved(job: &Job, rx: Rx) -> Option<Rx> {
    match (
        job.prescription.tested_vertex_mm.map(Millimetre::get),
        fitted_vertex_mm(job),
    ) {
        (Some(from), Some(to)) => vertex(rx, from, to).ok(),
        _ => Some(rx),
    }
}

/// Returns a power compensated from the tested distance for those of vertex distance, tilt and face
/// form that `of` names, in this order; an angle that it does not name counts 0.
///
/// By exact ray trace when front curve, thickness and index are recorded, else by the thin lens.
fn compensated(job: &Job, eye: Eye, rx: Rx, of: Compensated) -> Option<Rx> {
    let wanted = if of.vertex { moved(job, rx)? } else { rx };
    let tilt = angles(job, of);
    let is_tilted = of.tilt || of.face_form;
    let Some(made_of) = material(job).filter(|_| is_tilted) else {
        return Some(wanted);
    };
    match worn_lens(job, eye, tilt) {
        Some(lens) => as_worn_compensate(eye, wanted, lens).ok().map(|c| c.rx),
        None => oblique_compensate(eye, wanted, made_of.n_d, tilt).ok(),
    }
}

/// Returns the prescription compensated for vertex distance, tilt and face form.
pub(crate) fn as_worn_compensated(job: &Job, eye: Eye) -> Option<Rx> {
    let all = contained(PowersAs::AsWornCompensated);
    compensated(job, eye, prescribed(job, eye)?, all)
}

/// Returns what the ordered powers should be, by what they are said to be; of powers that are adapted
/// to a task the power for distance that they are adapted from.
pub(crate) fn expected(job: &Job, eye: Eye, kind: PowersAs) -> Option<Rx> {
    let rx = if kind == PowersAs::AdaptedToTheTask {
        distance(job, eye)?
    } else {
        prescribed(job, eye)?
    };
    compensated(job, eye, rx, contained(kind))
}

/// Returns what a focimeter should read of an eye by our own working out: of what the powers are said
/// to be and of everything that practice and laboratory compensate. Of an office lens at its near
/// reference point.
pub(crate) fn own_reading(job: &Job, eye: Eye) -> Option<Rx> {
    let kind = ordered_as(job)?;
    let rx = if kind == PowersAs::AdaptedToTheTask {
        ordered(job, eye)?
    } else {
        prescribed(job, eye)?
    };
    let addition = (job.lenses.design == Some(Design::Office))
        .then(|| job.prescription.eye(eye).addition_d)
        .flatten();
    let rx = addition.map_or(rx, |a| rx.plus_sphere(a.get()));
    compensated(job, eye, rx, who_compensates(job).done())
}

/// Says what a compensation for what is named had to leave out or suppose, in brackets; nothing where all
/// was recorded.
pub(crate) fn left_out(job: &Job, eye: Eye, of: Compensated) -> String {
    let mut missing = Vec::new();
    if of.vertex && job.prescription.tested_vertex_mm.is_none() {
        missing.push("vertex distance left out: no tested distance");
    } else if of.vertex && fitted_vertex_mm(job).is_none() {
        missing.push("vertex distance left out: none fitted");
    }
    if of.tilt || of.face_form {
        if material(job).is_none() {
            missing.push("tilt left out: material not known");
        } else if worn_lens(job, eye, tilt(job)).is_none() {
            missing.push("thin lens: curve or thickness not recorded");
        }
    }
    if missing.is_empty() {
        String::new()
    } else {
        format!(" ({})", missing.join("; "))
    }
}

/// The power a wearer gets behind a tilted lens, and by which model it was worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Worn {
    /// The power as worn.
    pub rx: Rx,
    /// The model.
    pub model: Model,
}

/// How a power as worn was worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Model {
    /// By exact ray trace: front curve, thickness and index are recorded.
    Exact,
    /// By exact ray trace of the usual curve and thickness: one of them is not recorded.
    Usual,
    /// As a thin lens: curve or thickness is not recorded.
    Thin,
    /// As a thin lens: no lens can have the recorded curve and thickness, or light does not pass it.
    ThinForWantOfALens,
}

impl Model {
    /// Returns what a finding says of it.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Exact => "exact ray trace",
            Self::Usual => "ray trace of the usual curve and thickness; none recorded",
            Self::Thin => "thin lens: curve or thickness not recorded",
            Self::ThinForWantOfALens => {
                "thin lens: no lens can have the recorded curve and thickness; check them"
            }
        }
    }

    /// Returns what a narrow column says of it.
    pub(crate) const fn short(self) -> &'static str {
        match self {
            Self::Exact => "ray trace",
            Self::Usual => "usual form",
            Self::Thin | Self::ThinForWantOfALens => "thin lens",
        }
    }
}

/// Returns the power that a lens of power `rx` gives as this job's pair is worn, with the optical
/// centres where they are ordered. An angle that somebody compensates for counts 0: its effect is
/// wanted. `None` where none that nobody compensates for is recorded.
pub(crate) fn worn(job: &Job, eye: Eye, rx: Rx) -> Option<Worn> {
    worn_at(job, eye, rx, lowered_mm(job))
}

/// The same with the optical centres so far below the pupils, mm.
pub(crate) fn worn_at(job: &Job, eye: Eye, rx: Rx, lowered_mm: f64) -> Option<Worn> {
    let made_of = material(job)?;
    let done = who_compensates(job).done();
    let open = Compensated {
        tilt: !done.tilt && job.fitting.pantoscopic_deg.is_some(),
        face_form: !done.face_form && job.fitting.face_form_deg.is_some(),
        ..done
    };
    if !open.tilt && !open.face_form {
        return None;
    }
    let tilt = angles(job, open);
    let recorded = worn_lens(job, eye, tilt);
    // A thin lens is the same wherever it is looked through: where its centre lies only counts in a
    // lens that has a form.
    let is_supposed = recorded.is_none() && lowered_mm.abs() > 0.0;
    let lens = recorded
        .or_else(|| usual_lens(job, eye, rx, tilt).filter(|_| is_supposed))
        .map(|lens| WornLens {
            optical_centre: LensPoint {
                in_mm: 0.0,
                up_mm: -lowered_mm,
            },
            ..lens
        });
    if let Some(worn) = lens.and_then(|lens| as_worn(eye, rx, lens).ok()) {
        return Some(Worn {
            rx: worn.rx,
            model: if is_supposed {
                Model::Usual
            } else {
                Model::Exact
            },
        });
    }
    // A slip in the recorded curve must not silence what the tilt does to the power.
    let model = match lens {
        Some(_) => Model::ThinForWantOfALens,
        None => Model::Thin,
    };
    let rx = oblique(eye, rx, made_of.n_d, tilt).ok()?;
    Some(Worn { rx, model })
}

/// The recorded angles of those that are named; another counts 0.
fn angles(job: &Job, of: Compensated) -> Tilt {
    let angle = |is: bool, of: Option<Degree>| of.filter(|_| is).map_or(0.0, Degree::get);
    Tilt {
        pantoscopic_deg: angle(of.tilt, job.fitting.pantoscopic_deg),
        face_form_deg: angle(of.face_form, job.fitting.face_form_deg),
    }
}

fn tilt(job: &Job) -> Tilt {
    angles(job, contained(PowersAs::AsWornCompensated))
}

/// A lens of the usual curve and thickness, where the recorded ones do not say.
fn usual_lens(job: &Job, eye: Eye, rx: Rx, tilt: Tilt) -> Option<WornLens> {
    Some(WornLens {
        index: material(job)?.n_d,
        front_d: front_d(job, eye)?,
        centre_mm: usual_centre_mm(job, eye, rx)?,
        tilt,
        optical_centre: LensPoint {
            in_mm: 0.0,
            up_mm: 0.0,
        },
    })
}

/// The exact model's lens, when what it needs is recorded and not merely supposed.
fn worn_lens(job: &Job, eye: Eye, tilt: Tilt) -> Option<WornLens> {
    job.lenses.base_d?;
    Some(WornLens {
        index: material(job)?.n_d,
        front_d: front_d(job, eye)?,
        centre_mm: job.lenses.centre_mm?.get(),
        tilt,
        optical_centre: LensPoint {
            in_mm: 0.0,
            up_mm: 0.0,
        },
    })
}
