//! Who compensates the powers for what: nobody, the practice or the laboratory.

use crate::job::{Compensator, Job, PowersAs};

/// Who compensates for vertex distance, tilt and face form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct WhoCompensates {
    /// For the vertex distance.
    pub vertex: Compensator,
    /// For the pantoscopic angle.
    pub tilt: Compensator,
    /// For the face-form angle.
    pub face_form: Compensator,
}

impl WhoCompensates {
    /// The three with the words for them.
    pub(crate) const fn each(self) -> [(&'static str, Compensator); 3] {
        [
            ("vertex distance", self.vertex),
            ("tilt", self.tilt),
            ("face form", self.face_form),
        ]
    }

    /// Whether the laboratory compensates for anything.
    pub(crate) fn has_laboratory(self) -> bool {
        self.each()
            .into_iter()
            .any(|(_, by)| by == Compensator::Laboratory)
    }

    /// What somebody compensates for.
    pub(crate) fn done(self) -> Compensated {
        let is_done = |by: Compensator| by != Compensator::Nobody;
        Compensated {
            vertex: is_done(self.vertex),
            tilt: is_done(self.tilt),
            face_form: is_done(self.face_form),
        }
    }
}

/// What a power is compensated for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(clippy::struct_excessive_bools, reason = "each is compensated or not")]
pub(crate) struct Compensated {
    /// The vertex distance.
    pub vertex: bool,
    /// The pantoscopic angle.
    pub tilt: bool,
    /// The face-form angle.
    pub face_form: bool,
}

/// Returns what powers of a kind contain of the practice's own compensation.
pub(crate) const fn contained(kind: PowersAs) -> Compensated {
    let (vertex, angles) = match kind {
        PowersAs::AsWornCompensated => (true, true),
        PowersAs::VertexCompensated => (true, false),
        PowersAs::Prescribed | PowersAs::LaboratoryCompensated | PowersAs::AdaptedToTheTask => {
            (false, false)
        }
    };
    Compensated {
        vertex,
        tilt: angles,
        face_form: angles,
    }
}

/// Returns who compensates the powers of a job for vertex distance, tilt and face form. Where nothing
/// is recorded, it is the practice if the powers are said to contain the compensation, else nobody.
pub(crate) fn who_compensates(job: &Job) -> WhoCompensates {
    let contained = contained(job.lenses.powers_as().unwrap_or(PowersAs::Prescribed));
    let said = job.lenses.compensates.clone().unwrap_or_default();
    let by = |said: Option<Compensator>, is_contained: bool| {
        said.unwrap_or(if is_contained {
            Compensator::Practice
        } else {
            Compensator::Nobody
        })
    };
    WhoCompensates {
        vertex: by(said.vertex, contained.vertex),
        tilt: by(said.tilt, contained.tilt),
        face_form: by(said.face_form, contained.face_form),
    }
}

/// Returns what the ordered powers are: `prescribed` powers of which the laboratory compensates
/// something are read as `laboratory compensated`.
pub(crate) fn ordered_as(job: &Job) -> Option<PowersAs> {
    let kind = job.lenses.powers_as()?;
    if kind == PowersAs::Prescribed && who_compensates(job).has_laboratory() {
        return Some(PowersAs::LaboratoryCompensated);
    }
    Some(kind)
}

/// Whether the laboratory is to state what a focimeter should read.
pub(crate) fn laboratory_states(job: &Job) -> bool {
    who_compensates(job).has_laboratory()
        || ordered_as(job) == Some(PowersAs::LaboratoryCompensated)
}

/// Returns who compensates for what in words, as an order says it.
pub(crate) fn in_words(job: &Job) -> String {
    let who = who_compensates(job);
    let of = |by: Compensator| {
        let list = who.each().into_iter().filter(|(_, b)| *b == by);
        let list: Vec<&str> = list.map(|(what, _)| what).collect();
        (!list.is_empty()).then(|| list.join(", "))
    };
    let parts = [
        of(Compensator::Practice).map(|list| {
            format!("the practice has compensated for {list}: do not compensate for that again")
        }),
        of(Compensator::Laboratory).map(|list| {
            format!("the laboratory compensates for {list} and states what a focimeter should read")
        }),
        of(Compensator::Nobody).map(|list| format!("nobody compensates for {list}")),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    parts.join("; ")
}
