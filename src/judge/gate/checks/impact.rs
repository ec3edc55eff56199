//! Checks of what a pair withstands.

use super::restricted::is_restricted_child;
use super::values;
use crate::job::fields::at;
use crate::job::{Gate, Purpose};
use crate::judge::derive::lens::material;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};

fn breaks(c: &Context<'_>) -> Option<&'static str> {
    material(c.job)
        .filter(|m| !m.impact_resistant)
        .map(|m| m.key)
}

pub(crate) static IMPACT_CHILD: Check = Check {
    id: CheckId::ImpactChild,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the wearer is under {restricted-age:0} and the material is not impact resistant",
    ways_out: &["another material"],
    source: PRACTICE,
    run: |c, found| {
        if let Some(key) = breaks(c)
            && is_restricted_child(c, c.around.today)
        {
            found.add(
                About::Job,
                at!(lenses.material),
                format!("the wearer is a child and {key} is not impact resistant"),
                values! {"born" => c.job.wearer.born, "material" => key},
                None,
            );
        }
    },
};

pub(crate) static IMPACT_ONE_EYE: Check = Check {
    id: CheckId::ImpactOneEye,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the wearer sees with one eye and the material is not impact resistant",
    ways_out: &["another material"],
    source: "Drack et al. 1993, protecting the only seeing eye",
    run: |c, found| {
        if let (Some(key), Some(true)) = (breaks(c), c.job.wearer.one_eyed) {
            found.add(
                About::Job,
                at!(lenses.material),
                format!("the wearer sees with one eye and {key} is not impact resistant"),
                values! {"one_eyed" => true, "material" => key},
                None,
            );
        }
    },
};

pub(crate) static IMPACT_WORK: Check = Check {
    id: CheckId::ImpactWork,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a safety pair whose frame is not impact rated or whose material is not impact resistant",
    ways_out: &["a certified frame and lens together"],
    source: "EN 166 / ISO 16321 as quoted in Optician CPD 6189",
    run: |c, found| {
        if c.job.lenses.purpose != Some(Purpose::Safety) {
            return;
        }
        let rated = c.job.frame.impact_rated == Some(true);
        let key = breaks(c);
        if !rated || key.is_some() {
            let mut why = Vec::new();
            if !rated {
                why.push("the frame is not impact rated".to_owned());
            }
            if let Some(key) = key {
                why.push(format!("{key} is not impact resistant"));
            }
            found.add(
                About::Job,
                at!(lenses.material),
                format!("a safety pair, and {}", why.join(" and ")),
                values! {"impact_rated" => c.job.frame.impact_rated, "material" => c.job.lenses.material},
                None,
            );
        }
    },
};
