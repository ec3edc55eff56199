//! Checks of tints: driving.

use super::{nothing_yet, values};
use crate::job::Gate;
use crate::job::fields::at;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Severity};
use crate::practice::Threshold;
use crate::trade::tolerance::DUST;

pub(crate) static TINT_DRIVING: Check = Check {
    id: CheckId::TintDriving,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the wearer drives: category 4 stops, transmittance below {driving-transmittance:0} % warns",
    ways_out: &["another tint", "label the pair and advise"],
    source: "ISO 12312-1 filter categories; College of Optometrists guidance on tints and driving",
    run: |c, found| {
        let Some(tint) = &c.job.lenses.tint else {
            return;
        };
        if c.job.wearer.drives != Some(true) {
            return;
        }
        let values = values! {"category" => tint.category, "transmittance_percent" => tint.transmittance_percent, "drives" => true};
        if tint.category == Some(4) {
            found.add_as(
                Severity::Stop,
                About::Job,
                at!(lenses.tint.category),
                "the wearer drives, and a filter of category 4 must not be worn at the wheel",
                values,
                Some("category 3".to_owned()),
            );
            return;
        }
        let limit = c.threshold(Threshold::DrivingTransmittance);
        if let Some(t) = tint.transmittance_percent
            && t.get() + DUST < limit
        {
            found.add(
                About::Job,
                at!(lenses.tint.transmittance_percent),
                format!("the wearer drives and the tint lets {t} % through: not for dusk or night"),
                values,
                Some(format!("{limit:.0} %")),
            );
        }
    },
};

pub(crate) static TINT_CONTRADICTS: Check = Check {
    id: CheckId::TintContradicts,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "category and transmittance of the tint disagree; silent at {tint-dark:0} % and less",
    ways_out: &["read it again"],
    source: "ISO 12312-1 filter categories, from memory",
    run: nothing_yet,
};

pub(crate) static TINT_DARK: Check = Check {
    id: CheckId::TintDark,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the tint lets {tint-dark:0} % or less through",
    ways_out: &["another tint: this one is not for general use"],
    source: "ISO 12312-1 filter categories, from memory",
    run: nothing_yet,
};
