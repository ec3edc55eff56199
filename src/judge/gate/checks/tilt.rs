//! Checks of pantoscopic and face-form angle.

use super::values;
use crate::job::fields::at;
use crate::job::{Design, Gate, PowersAs};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
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
    holds_when: "face form below 0 or above {face-form-high:0} degrees and powers not as-worn compensated",
    ways_out: &["straighten the front", "an as-worn compensated design"],
    source: PRACTICE,
    run: |c, found| {
        let Some(form) = c.job.fitting.face_form_deg else {
            return;
        };
        let high = c.threshold(Threshold::FaceFormHigh);
        let compensated = c.job.lenses.powers_as() == Some(PowersAs::AsWornCompensated);
        if !compensated && (form.get() < -DUST || form.get() > high + DUST) {
            found.add(
                About::Job,
                at!(fitting.face_form_deg),
                format!("face form {form:.1} degrees and powers not compensated as worn"),
                values! {"face_form_deg" => form, "as" => c.job.lenses.powers_as()},
                Some(format!("0 to {high:.0} degrees")),
            );
        }
    },
};
