//! Checks of what the wearer must be asked: birth, sight registration, driving.

use super::nothing_yet;
use super::restricted::LAW;
use crate::job::Gate;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{Acceptable, Check, PRACTICE, Severity};

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
    run: nothing_yet,
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
    run: nothing_yet,
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
    run: nothing_yet,
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
    run: nothing_yet,
};
