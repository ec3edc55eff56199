//! Checks of additions: there, the same for both eyes, plausible for age and task.

use super::{to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Design, Gate, Job, PowersAs, Purpose, whole_years};
use crate::judge::derive::one_eye::has_one_useful_eye;
use crate::judge::derive::places::prescribed_working_mm;
use crate::judge::derive::powers::{is_intermediate, ordered, powered_eyes};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::notation::best_log_mar;
use crate::trade::tolerance::DUST;
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
    holds_when: "the additions of the eyes differ; silent where one eye is useful",
    ways_out: &["go back to the written prescription"],
    source: PRACTICE,
    run: |c, found| {
        let p = &c.job.prescription;
        if let (Some(r), Some(l)) = (p.right.addition_d, p.left.addition_d)
            && r != l
            && !has_one_useful_eye(c.job)
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

/// Whether the addition of a pair is for near: multifocals apart from office lenses, and single
/// vision near pairs; none of them for intermediate.
fn needs_near_addition(job: &Job) -> bool {
    let design = job.lenses.design;
    let is_multifocal = design.is_some_and(|d| d.needs_addition() && d != Design::Office);
    let is_for_near = job.lenses.purpose != Some(Purpose::Intermediate);
    is_multifocal && is_for_near || job.lenses.is_near_single_vision()
}

/// Returns the mean amplitude of accommodation at an age in whole years, dioptres: Hofstetter (from
/// memory), not below 0.5.
fn amplitude_d(age: i32) -> f64 {
    (18.5 - 0.3 * f64::from(age)).max(0.5)
}

/// Returns the better distance acuity recorded with the prescription, as a decimal (6/18 is 0.33).
fn better_acuity(job: &Job) -> Option<f64> {
    Eye::BOTH
        .iter()
        .filter_map(|eye| best_log_mar(job.prescription.eye(*eye).acuity.as_deref()?))
        .min_by(f64::total_cmp)
        .map(|log_mar| 10.0_f64.powf(-log_mar))
}

/// Returns what the ordered power of an eye has more than its distance power, mean sphere, dioptres.
fn added_d(job: &Job, eye: Eye) -> Option<f64> {
    let distance = job.prescription.eye(eye).rx()?;
    Some(ordered(job, eye)?.mean_d() - distance.mean_d())
}

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
    run: |c, found| {
        let Some(born) = c.job.wearer.born.filter(|_| needs_near_addition(c.job)) else {
            return;
        };
        let least_acuity = c.threshold(Threshold::AdditionAcuity);
        if better_acuity(c.job).is_some_and(|decimal| decimal + DUST < least_acuity) {
            return;
        }
        let age = whole_years(born, c.around.today);
        let working_mm = prescribed_working_mm(c.job);
        let needed_d = 1000.0 / working_mm;
        let least_d = (needed_d - amplitude_d(age) - c.threshold(Threshold::AdditionBelow))
            .max(c.threshold(Threshold::AdditionLeast));
        let most_d = needed_d + c.threshold(Threshold::AdditionAbove);
        for eye in powered_eyes(c.job) {
            // An addition that is none is another check's.
            let addition = c.job.prescription.eye(eye).addition_d;
            let Some(addition) = addition.filter(|d| *d > Dioptre::ZERO) else {
                continue;
            };
            let is_likely = (least_d - DUST..=most_d + DUST).contains(&addition.get());
            if !is_likely {
                found.add(
                    eye,
                    at!(prescription[eye].addition_d),
                    format!(
                        "{eye} addition is {addition:+} D: at {working_mm:.0} mm and {age} years {least_d:.2} to {most_d:.2} D is usual; read the prescription again, or record the distance of the task"
                    ),
                    values! {"addition_d" => addition, "born" => born, "working_mm" => to_thousandth(working_mm)},
                    Some(format!("{least_d:.2} to {most_d:.2} D")),
                );
            }
        }
    },
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
    run: |c, found| {
        if !is_intermediate(c.job) || has_one_useful_eye(c.job) {
            return;
        }
        let p = &c.job.prescription;
        // What powers compensated for their position have in them is no addition.
        let is_as_written = (c.job.lenses.powers.as_ref())
            .and_then(|powers| powers.kind)
            .is_none_or(|kind| kind.is_as_written() || kind == PowersAs::AdaptedToTheTask);
        if p.right.addition_d != p.left.addition_d || !is_as_written {
            return;
        }
        let added = PerEye::from_fn(|eye| added_d(c.job, eye));
        let Some((right, left)) = added.both() else {
            return;
        };
        let limit = c.threshold(Threshold::IntermediateUnequal);
        let apart = (right - left).abs();
        if apart + DUST >= limit {
            found.add(
                About::Pair,
                at!(lenses.powers.right.sphere_d),
                format!(
                    "to the distance powers {right:+.2} D is added in the right lens, {left:+.2} D in the left, and the additions are equal: read the powers again"
                ),
                values! {
                    "right_d" => to_thousandth(*right), "left_d" => to_thousandth(*left),
                    "addition_d" => p.right.addition_d,
                },
                Some(format!("less than {limit:.2} D apart")),
            );
        }
    },
};
