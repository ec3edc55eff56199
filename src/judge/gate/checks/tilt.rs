//! Checks of pantoscopic and face-form angle.

use super::values;
use crate::job::fields::at;
use crate::job::{Compensator, Design, Gate};
use crate::judge::derive::compensates::who_compensates;
use crate::judge::derive::powers::{ordered_or_prescribed, powered_eyes};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, Found, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::tolerance::DUST;

pub(crate) static TILT_RANGE: Check = Check {
    id: CheckId::TiltRange,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "pantoscopic angle outside {tilt-low:0} to {tilt-high:0} degrees, or of a progressive pair outside {progressive-tilt-low:0} to {progressive-tilt-high:0}",
    ways_out: &["set the sides and measure again"],
    source: PRACTICE,
    run: |c, found| {
        let Some(tilt) = c.job.fitting.pantoscopic_deg else {
            return;
        };
        let progressive = c.job.lenses.design == Some(Design::Progressive);
        let (low, high) = if progressive {
            (
                Threshold::ProgressiveTiltLow,
                Threshold::ProgressiveTiltHigh,
            )
        } else {
            (Threshold::TiltLow, Threshold::TiltHigh)
        };
        let (low, high) = (c.threshold(low), c.threshold(high));
        if tilt.get() + DUST < low || tilt.get() > high + DUST {
            found.add(
                About::Job,
                at!(fitting.pantoscopic_deg),
                format!("pantoscopic angle {tilt:.1} degrees"),
                values! {"pantoscopic_deg" => tilt, "progressive" => progressive},
                Some(format!("{low:.0} to {high:.0} degrees")),
            );
        }
    },
};

pub(crate) static TILT_REPEAT: Check = Check {
    id: CheckId::TiltRepeat,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a second reading of the tilt differs by more than {tilt-repeat:0} degrees",
    ways_out: &["take a third reading and record the median"],
    source: "Garcia-Espinilla et al. 2022, repeatability of fitting measurements",
    run: |c, found| {
        let first = c.job.fitting.pantoscopic_deg;
        let second = c
            .job
            .fitting
            .second_reading
            .as_ref()
            .and_then(|s| s.pantoscopic_deg);
        let limit = c.threshold(Threshold::TiltRepeat);
        if let (Some(first), Some(second)) = (first, second)
            && (first.get() - second.get()).abs() > limit + DUST
        {
            found.add(
                About::Job,
                at!(fitting.pantoscopic_deg),
                format!("pantoscopic angle {first:.1} degrees, second reading {second:.1}"),
                values! {"first_deg" => first, "second_deg" => second},
                Some(format!("{limit:.0} degrees")),
            );
        }
    },
};

pub(crate) static FACE_FORM_RANGE: Check = Check {
    id: CheckId::FaceFormRange,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "nobody compensates for face form and it is below 0 or above {face-form-high:0} degrees, or was not measured in a frame of curve {wrap-curve:2} or more (where no frame curve is recorded, a minus lens of that curve)",
    ways_out: &[
        "measure it",
        "straighten the front",
        "a design made for its position",
        "let the laboratory compensate",
    ],
    source: PRACTICE,
    run: |c, found| {
        if who_compensates(c.job).face_form != Compensator::Nobody {
            return;
        }
        let high = c.threshold(Threshold::FaceFormHigh);
        let Some(form) = c.job.fitting.face_form_deg else {
            unmeasured(c, found);
            return;
        };
        if form.get() < -DUST || form.get() > high + DUST {
            found.add(
                About::Job,
                at!(fitting.face_form_deg),
                format!("face form {form:.1} degrees, and nobody compensates for it"),
                values! {"face_form_deg" => form, "as" => c.job.lenses.powers_as()},
                Some(format!("0 to {high:.0} degrees")),
            );
        }
    },
};

/// A curved front cannot be worn without an angle: there it has to be measured.
fn unmeasured(c: &Context<'_>, found: &mut Found<'_>) {
    let curved = c.threshold(Threshold::WrapCurve);
    let is_minus = powered_eyes(c.job)
        .filter_map(|eye| ordered_or_prescribed(c.job, eye))
        .any(|rx| rx.mean_d() < 0.0);
    let (what, curve) = match (c.job.frame.base_d, c.job.lenses.base_d) {
        (Some(frame), _) => ("frame", frame),
        (None, Some(lens)) if is_minus => ("minus lens", lens),
        _ => return,
    };
    if curve.get() + DUST < curved {
        return;
    }
    found.add(
        About::Job,
        at!(fitting.face_form_deg),
        format!(
            "face form not measured, and the {what} has a curve of {:.2} D: measure it",
            curve.get()
        ),
        values! {"face_form_deg" => serde_json::Value::Null, "curve_d" => curve},
        Some(format!("needed from {curved:.2} D")),
    );
}
