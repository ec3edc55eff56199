//! Checks of additions: there, the same for both eyes, plausible for age and task.

use super::{nothing_yet, to_thousandth, values};
use crate::job::Gate;
use crate::job::fields::at;
use crate::judge::derive::powers::powered_eyes;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::trade::units::Dioptre;

pub(crate) static ADDITION_MISSING: Check = Check {
    id: CheckId::AdditionMissing,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a bifocal, trifocal, progressive or office pair has no addition",
    ways_out: &["go back to the written prescription"],
    source: PRACTICE,
    run: |c, found| {
        let Some(design) = c.job.lenses.design.filter(|d| d.needs_addition()) else {
            return;
        };
        for eye in powered_eyes(c.job) {
            let addition = c.job.prescription.eye(eye).addition_d;
            if addition.is_none_or(|a| a == Dioptre::ZERO) {
                found.add(
                    eye,
                    at!(prescription[eye].addition_d),
                    format!("{design} lenses need an addition and the {eye} eye has none"),
                    values! {"design" => design, "addition_d" => addition},
                    None,
                );
            }
        }
    },
};

pub(crate) static ADDITION_UNEQUAL: Check = Check {
    id: CheckId::AdditionUnequal,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the additions of the eyes differ",
    ways_out: &["go back to the written prescription"],
    source: PRACTICE,
    run: |c, found| {
        let p = &c.job.prescription;
        if let (Some(r), Some(l)) = (p.right.addition_d, p.left.addition_d)
            && r != l
        {
            found.add(
                About::Pair,
                at!(prescription.right.addition_d),
                format!("the additions differ: right {r:+}, left {l:+} D"),
                values! {"right_d" => r, "left_d" => l, "difference_d" => to_thousandth(r.get() - l.get())},
                Some("equal".to_owned()),
            );
        }
    },
};

pub(crate) static ADDITION_UNLIKELY: Check = Check {
    id: CheckId::AdditionUnlikely,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the addition of a bifocal, trifocal, progressive or near pair is more than {addition-below:2} D below what the working distance asks of the wearer at that age (or under {addition-least:2} D), or more than {addition-above:2} D above what the distance itself needs; silent where the better eye reads less than {addition-acuity:2}",
    ways_out: &[
        "read the written prescription again",
        "ask the prescriber",
        "record the distance of the task",
    ],
    source: "amplitude of accommodation: Hofstetter, from memory; margins common practice",
    run: nothing_yet,
};

pub(crate) static INTERMEDIATE_UNEQUAL: Check = Check {
    id: CheckId::IntermediateUnequal,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "an intermediate pair adds to the distance powers of the eyes by amounts that differ by {intermediate-unequal:2} D or more, while their additions are equal",
    ways_out: &["read the powers again"],
    source: PRACTICE,
    run: nothing_yet,
};
