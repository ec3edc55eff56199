//! Checks of what the wearer must be asked: birth, sight registration, driving.

use super::restricted::{LAW, restricts};
use super::values;
use crate::job::fields::at;
use crate::job::{Design, Gate};
use crate::judge::derive::tint::{is_photochromic, is_tinted};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::tolerance::DUST;

pub(crate) static BIRTH_UNASKED: Check = Check {
    id: CheckId::BirthUnasked,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "no date of birth is recorded",
    ways_out: &["ask the wearer: every rule for children rests on it"],
    source: LAW,
    run: |c, found| {
        if c.job.wearer.born.is_none() {
            found.add(
                About::Job,
                at!(wearer.born),
                "the date of birth is not recorded. Ask the wearer: every rule for children rests on it.",
                values! {"born" => c.job.wearer.born},
                None,
            );
        }
    },
};

pub(crate) static BIRTH_UNLIKELY: Check = Check {
    id: CheckId::BirthUnlikely,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the wearer would be older than {birth-most:0}",
    ways_out: &["ask again"],
    source: PRACTICE,
    run: |c, found| {
        let most = c.threshold(Threshold::BirthMost);
        let Some(age) = c.job.wearer.age_on(c.around.today) else {
            return;
        };
        if f64::from(age) > most + DUST {
            found.add(
                About::Job,
                at!(wearer.born),
                format!("by the date of birth the wearer is {age} years old. Ask again."),
                values! {"born" => c.job.wearer.born},
                Some(format!("{most:.0} years")),
            );
        }
    },
};

pub(crate) static SIGHT_UNASKED: Check = Check {
    id: CheckId::SightUnasked,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "whether the wearer is registered sight impaired is not recorded, and whoever measured is not registered",
    ways_out: &["ask the wearer"],
    source: LAW,
    run: |c, found| {
        let by = c.job.fitting.taken_by.as_ref();
        let registered = by.is_some_and(|name| c.around.is_registrant(name));
        if !restricts(c) || c.job.wearer.sight_impaired.is_some() || registered {
            return;
        }
        let who = by.map_or_else(
            || "nobody is named who measured".to_owned(),
            |name| format!("{name}, who measured, is not registered"),
        );
        found.add(
            About::Job,
            at!(wearer.sight_impaired),
            format!(
                "it is not recorded whether the wearer is registered sight impaired, and {who}. Ask the wearer."
            ),
            values! {"sight_impaired" => c.job.wearer.sight_impaired, "taken_by" => by},
            None,
        );
    },
};

pub(crate) static DRIVING_UNASKED: Check = Check {
    id: CheckId::DrivingUnasked,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "from age {driving-age:0}: whether the wearer drives is not recorded, and the pair is tinted, photochromic or an office pair",
    ways_out: &["ask the wearer"],
    source: "College of Optometrists guidance on tints and driving",
    run: |c, found| {
        let from = c.threshold(Threshold::DrivingAge);
        let age = c.job.wearer.age_on(c.around.today);
        let may_drive = age.is_some_and(|age| f64::from(age) + DUST >= from);
        if !may_drive || c.job.wearer.drives.is_some() {
            return;
        }
        let design = c.job.lenses.design;
        let pair = if is_tinted(c.job) {
            "tinted"
        } else if is_photochromic(c.job) {
            "photochromic"
        } else if design == Some(Design::Office) {
            "an office pair"
        } else {
            return;
        };
        found.add(
            About::Job,
            at!(wearer.drives),
            format!("it is not recorded whether the wearer drives, and the pair is {pair}. Ask the wearer."),
            values! {"drives" => c.job.wearer.drives, "pair" => pair},
            Some(format!("{from:.0} years")),
        );
    },
};
