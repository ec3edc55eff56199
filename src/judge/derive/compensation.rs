//! Powers compensated for where the pair sits: vertex distance first, then tilt and face form.

use crate::job::{Job, PowersAs};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::as_worn::{WornLens, as_worn, as_worn_compensate};
use crate::trade::optics::prism::LensPoint;
use crate::trade::optics::tilt::{Tilt, oblique, oblique_compensate};
use crate::trade::optics::vertex::vertex;
use crate::trade::units::{Degree, Millimetre};

use crate::judge::derive::lens::{front_d, material};
use crate::judge::derive::powers::{fitted_vertex_mm, prescribed};

/// Returns the prescription moved from the tested to the fitted distance (mean of the eyes); as
/// prescribed where a distance is missing.
pub(crate) fn vertex_compensated(job: &Job, eye: Eye) -> Option<Rx> {
    let rx = prescribed(job, eye)?;
    match (
        job.prescription.tested_vertex_mm.map(Millimetre::get),
        fitted_vertex_mm(job),
    ) {
        (Some(from), Some(to)) => vertex(rx, from, to).ok(),
        _ => Some(rx),
    }
}

/// Returns the prescription compensated for vertex distance, tilt and face form.
///
/// By exact ray trace when front curve, thickness and index are recorded, else by the thin lens.
pub(crate) fn as_worn_compensated(job: &Job, eye: Eye) -> Option<Rx> {
    let wanted = vertex_compensated(job, eye)?;
    let Some(made_of) = material(job) else {
        return Some(wanted);
    };
    let tilt = tilt(job);
    match worn_lens(job, eye, tilt) {
        Some(lens) => as_worn_compensate(eye, wanted, lens).ok().map(|c| c.rx),
        None => oblique_compensate(eye, wanted, made_of.n_d, tilt).ok(),
    }
}

/// Returns what the ordered powers should be, by what they are said to be; `None` for powers adapted to
/// a task, which are the prescriber's or the registrant's choice within limits.
pub(crate) fn expected(job: &Job, eye: Eye, kind: PowersAs) -> Option<Rx> {
    match kind {
        PowersAs::Prescribed | PowersAs::LaboratoryCompensated => prescribed(job, eye),
        PowersAs::VertexCompensated => vertex_compensated(job, eye),
        PowersAs::AsWornCompensated => as_worn_compensated(job, eye),
        PowersAs::AdaptedToTheTask => None,
    }
}

/// Says what a compensation of that kind had to leave out or suppose, in brackets; nothing where all
/// was recorded.
pub(crate) fn left_out(job: &Job, eye: Eye, kind: PowersAs) -> String {
    let mut missing = Vec::new();
    let moved = matches!(
        kind,
        PowersAs::VertexCompensated | PowersAs::AsWornCompensated
    );
    if moved && job.prescription.tested_vertex_mm.is_none() {
        missing.push("vertex distance left out: no tested distance");
    } else if moved && fitted_vertex_mm(job).is_none() {
        missing.push("vertex distance left out: none fitted");
    }
    if kind == PowersAs::AsWornCompensated {
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
            Self::Thin | Self::ThinForWantOfALens => "thin lens",
        }
    }
}

/// Returns the power that a lens of power `rx` gives as this job's pair is worn.
pub(crate) fn worn(job: &Job, eye: Eye, rx: Rx) -> Option<Worn> {
    let made_of = material(job)?;
    if job.fitting.pantoscopic_deg.is_none() && job.fitting.face_form_deg.is_none() {
        return None;
    }
    let tilt = tilt(job);
    let lens = worn_lens(job, eye, tilt);
    if let Some(worn) = lens.and_then(|lens| as_worn(eye, rx, lens).ok()) {
        return Some(Worn {
            rx: worn.rx,
            model: Model::Exact,
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

fn tilt(job: &Job) -> Tilt {
    Tilt {
        pantoscopic_deg: job.fitting.pantoscopic_deg.map_or(0.0, Degree::get),
        face_form_deg: job.fitting.face_form_deg.map_or(0.0, Degree::get),
    }
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
