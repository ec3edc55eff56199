//! Checks of how a frame sits on a child.

use super::{to_thousandth, values};
use crate::job::Gate;
use crate::job::fields::at;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::tolerance::DUST;

pub(crate) static CHILD_FIT: Check = Check {
    id: CheckId::ChildFit,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Note,
    accept: Acceptable::Nobody,
    holds_when: "under {child-fit-age:0}: pantoscopic angle over {child-fit-tilt:0} degrees, or the pupil below the middle of the lens",
    ways_out: &["raise the front", "less tilt"],
    source: PRACTICE,
    run: |c, found| {
        let before = c.threshold(Threshold::ChildFitAge);
        let age = c.job.wearer.age_on(c.around.today);
        if !age.is_some_and(|age| f64::from(age) + DUST < before) {
            return;
        }
        let most = c.threshold(Threshold::ChildFitTilt);
        let tilt = c.job.fitting.pantoscopic_deg;
        if let Some(tilt) = tilt.filter(|tilt| tilt.get() > most + DUST) {
            found.add(
                About::Job,
                at!(fitting.pantoscopic_deg),
                format!("pantoscopic angle {tilt} degrees on a child. Set less tilt."),
                values! {"pantoscopic_deg" => tilt},
                Some(format!("{most:.0} degrees")),
            );
        }
        let Some(b) = c.job.frame.b_mm else {
            return;
        };
        let middle = b.get() / 2.0;
        for eye in Eye::BOTH {
            let height = c.job.fitting.eye(eye).height_mm;
            if let Some(height) = height.filter(|height| height.get() + DUST < middle) {
                found.add(
                    eye,
                    at!(fitting[eye].height_mm),
                    format!(
                        "{eye} pupil {:.1} mm below the middle of the lens ({height} mm, middle at {middle:.1} mm). Raise the front.",
                        middle - height.get()
                    ),
                    values! {"height_mm" => height, "middle_mm" => to_thousandth(middle)},
                    Some(format!("{middle:.1} mm")),
                );
            }
        }
    },
};
