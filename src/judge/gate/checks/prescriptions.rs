//! Checks of the prescription: complete, well formed, in date, and not suspiciously unlike the last.

use crate::job::fields::at;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::trade::tolerance::DUST;
use chrono::Months;

use super::{power_value, values};
use crate::job::{EyePrescription, Gate};
use crate::judge::derive::changes::{changed_eyes, changed_prism};
use crate::judge::derive::powers::powered_eyes;
use crate::judge::gate::{About, Acceptable, Check, Context, Found, PRACTICE, Severity};
use crate::practice::{Threshold, Way};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::vector::PowerVector;
use crate::trade::units::{Degree, Dioptre};

/// `rx-missing`.
pub(crate) static RX_MISSING: Check = Check {
    id: CheckId::RxMissing,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "an eye has no sphere (balance lens apart); there is no test date or no prescriber; or powers copied from a worn pair have nobody registered who copied them, or no reason",
    ways_out: &[
        "obtain the prescription from the prescriber",
        "of a copy: name the registered person who read the worn pair, and why it is copied",
    ],
    source: PRACTICE,
    run: |c, found| {
        let p = &c.job.prescription;
        for eye in powered_eyes(c.job) {
            if p.eye(eye).sphere_d.is_none() {
                found.add(
                    eye,
                    at!(prescription[eye].sphere_d),
                    format!("the {eye} eye has no sphere: enter it, plano as 0.00"),
                    values! {"sphere_d" => p.eye(eye).sphere_d},
                    None,
                );
            }
        }
        if p.is_copied() {
            if !c.around.practice.allows(Way::Copies) {
                found.add(
                    About::Job,
                    at!(prescription.kind),
                    "the powers are copied from a worn pair, and this practice takes none: obtain a prescription of a sight test",
                    values! {"kind" => p.kind, "copies" => false},
                    None,
                );
                return;
            }
            copy_problems(c, found);
            return;
        }
        if p.tested_on.is_none() {
            found.add(
                About::Job,
                at!(prescription.tested_on),
                "no day of the sight test is recorded: enter the date on the prescription",
                values! {"tested_on" => p.tested_on},
                None,
            );
        }
        if p.prescriber.as_deref().is_none_or(|t| t.trim().is_empty()) {
            found.add(
                About::Job,
                at!(prescription.prescriber),
                "no prescriber is recorded: enter who signed the prescription",
                values! {"prescriber" => p.prescriber},
                None,
            );
        }
    },
};

/// A copy of a worn pair has no test date and no prescriber; somebody registered answers for it.
fn copy_problems(c: &Context<'_>, found: &mut Found<'_>) {
    let p = &c.job.prescription;
    let copied_by = p.copied_by.as_deref().map_or("", str::trim);
    if !c.around.is_registrant(copied_by) {
        let says = if copied_by.is_empty() {
            "the powers are copied from a worn pair and nobody is named who read it: name a registered person of the staff list".to_owned()
        } else {
            format!(
                "the powers are copied from a worn pair by {copied_by}, who is not registered: a registered person of the staff list answers for a copy"
            )
        };
        found.add(
            About::Job,
            at!(prescription.copied_by),
            says,
            values! {"kind" => p.kind, "copied_by" => p.copied_by},
            None,
        );
    }
    if p.copied_because
        .as_deref()
        .is_none_or(|t| t.trim().is_empty())
    {
        found.add(
            About::Job,
            at!(prescription.copied_because),
            "the powers are copied from a worn pair without a reason: write why no sight test is used",
            values! {"kind" => p.kind, "copied_because" => p.copied_because},
            None,
        );
    }
}

pub(crate) static RX_FORM: Check = Check {
    id: CheckId::RxForm,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a cylinder has no axis or the reverse, an axis is outside 1 to 180, a power is off the eighth steps, an addition is not above zero or is above ten dioptres, or the intermediate addition is above the addition",
    ways_out: &["go back to the written prescription"],
    source: "ISO 8429 axis notation; eighth-dioptre steps as common practice",
    run: |c, found| {
        for eye in Eye::BOTH {
            for problem in form_problems(c.job.prescription.eye(eye)) {
                let e = c.job.prescription.eye(eye);
                let mut values = values! {
                    "sphere_d" => e.sphere_d, "cylinder_d" => e.cylinder_d,
                    "axis_deg" => e.axis_deg, "addition_d" => e.addition_d,
                };
                if let Some(intermediate) = e.intermediate_addition_d {
                    values.extend(values! {"intermediate_addition_d" => intermediate});
                }
                found.add(
                    eye,
                    format!("prescription.{eye}.{}", problem.field),
                    format!("{eye} eye: {}", problem.says),
                    values,
                    Some(problem.limit.to_owned()),
                );
            }
        }
    },
};

struct FormProblem {
    field: &'static str,
    says: String,
    limit: &'static str,
}

const AXIS_LIMIT: &str = "axis 1 to 180";
const STEP_LIMIT: &str = "powers in eighths";
const ADDITION_LIMIT: &str = "above 0, up to 10.00 D";
/// Largest addition that is one, dioptres.
const LARGEST_ADDITION: Dioptre = Dioptre::from_thousandths(10_000);

fn form_problems(e: &EyePrescription) -> Vec<FormProblem> {
    let mut out = Vec::new();
    let cylinder = e.cylinder_d.filter(|c| *c != Dioptre::ZERO);
    match (cylinder, e.axis_deg) {
        (Some(cyl), None) => out.push(FormProblem {
            field: "axis_deg",
            says: format!("cylinder {cyl:+} has no axis: read it from the prescription"),
            limit: AXIS_LIMIT,
        }),
        (None, Some(axis)) if e.cylinder_d.is_none() => out.push(FormProblem {
            field: "cylinder_d",
            says: format!("axis {axis} has no cylinder: enter the cylinder or remove the axis"),
            limit: AXIS_LIMIT,
        }),
        _ => {}
    }
    if let Some(axis) = e.axis_deg
        && !(cylinder.is_none() && axis == Degree::default())
        && !(Degree::from_thousandths(1000)..=Degree::from_thousandths(180_000)).contains(&axis)
    {
        out.push(FormProblem {
            field: "axis_deg",
            says: format!("axis {axis} is outside 1 to 180: an axis of 0 is written 180"),
            limit: AXIS_LIMIT,
        });
    }
    for (field, name, power) in [
        ("sphere_d", "sphere", e.sphere_d),
        ("cylinder_d", "cylinder", e.cylinder_d),
        ("addition_d", "addition", e.addition_d),
        (
            "intermediate_addition_d",
            "intermediate addition",
            e.intermediate_addition_d,
        ),
    ] {
        if let Some(power) = power
            && !power.is_on_eighth()
        {
            out.push(FormProblem {
                field,
                says: format!("{name} {power:+.3} is on no eighth of a dioptre: read it again"),
                limit: STEP_LIMIT,
            });
        }
    }
    out.extend(addition_problems(e));
    out
}

fn addition_problems(e: &EyePrescription) -> Vec<FormProblem> {
    let mut out = Vec::new();
    for (field, name, addition) in [
        ("addition_d", "addition", e.addition_d),
        (
            "intermediate_addition_d",
            "intermediate addition",
            e.intermediate_addition_d,
        ),
    ] {
        if let Some(addition) = addition
            && (addition <= Dioptre::ZERO || addition > LARGEST_ADDITION)
        {
            out.push(FormProblem {
                field,
                says: format!("{name} {addition:+} D is none: read it again, or leave it empty where there is none"),
                limit: ADDITION_LIMIT,
            });
        }
    }
    if let (Some(intermediate), Some(near)) = (e.intermediate_addition_d, e.addition_d)
        && intermediate > near
    {
        out.push(FormProblem {
            field: "intermediate_addition_d",
            says: format!("intermediate addition {intermediate:+} D is above the addition {near:+} D: read both again"),
            limit: "not above the addition",
        });
    }
    out
}

fn expired(c: &Context<'_>, found: &mut Found<'_>) {
    let p = &c.job.prescription;
    let today = c.around.today;
    let months = c.threshold(Threshold::RxMonths);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a threshold in whole months, far inside u32"
    )]
    let span = Months::new(months.max(0.0) as u32);
    let over = p
        .tested_on
        .filter(|t| t.checked_add_months(span).is_some_and(|end| end < today));
    let passed = p.expires_on.filter(|e| *e < today);
    if over.is_none() && passed.is_none() {
        return;
    }
    let says = match (over, passed) {
        (_, Some(day)) => format!("the prescription was valid until {day}"),
        (Some(day), None) => format!("tested on {day}, more than {months:.0} months ago"),
        (None, None) => return,
    };
    found.add(
        About::Job,
        at!(prescription.tested_on),
        format!("{says}: advise a new sight test; a registered person may go on with a reason"),
        values! {"tested_on" => p.tested_on, "expires_on" => p.expires_on},
        Some(format!(
            "{months:.0} months, or the prescriber's own last day"
        )),
    );
}

const EXPIRED_SOURCE: &str =
    "Sale of Optical Appliances Order of Council 1984 (UK), as summarised in Optician CPD 6151";

/// `rx-expired`, before the order.
pub(crate) static RX_EXPIRED: Check = Check {
    id: CheckId::RxExpired,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "tested over {rx-months:0} months ago, or its last day has passed",
    ways_out: &["advise a new sight test", "a registered person's reason"],
    source: EXPIRED_SOURCE,
    run: expired,
};

/// `rx-expired`, again at the handover.
pub(crate) static RX_EXPIRED_AT_HANDOVER: Check = Check {
    id: CheckId::RxExpired,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "as before the order, unless settled for these values",
    ways_out: &["advise a new sight test", "a registered person's reason"],
    source: EXPIRED_SOURCE,
    run: expired,
};

/// `rx-change`.
pub(crate) static RX_CHANGE: Check = Check {
    id: CheckId::RxChange,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "against the previous pair: mean sphere by {rx-change-sphere:2} or more ({rx-change-sphere-older:2} from age {older-age:0}), cylinder by {rx-change-cylinder:2} or more, addition by {rx-change-addition:2} or more, prism of the pair by {rx-change-prism-vertical:2} or more vertically or {rx-change-prism-horizontal:2} or more horizontally",
    ways_out: &["ask the prescriber", "warn the wearer and record it"],
    source: PRACTICE,
    run: |c, found| {
        let thresholds = &c.around.practice.thresholds;
        for (eye, change) in changed_eyes(c.job, thresholds, c.around.today) {
            let p = &c.job.prescription;
            found.add(
                eye,
                at!(prescription[eye].sphere_d),
                format!(
                    "{eye} eye against the previous pair: mean sphere {:+.2} D, cylinder {:.2} D, addition {:+.2} D",
                    change.mean_d, change.cylinder_d, change.addition_d
                ),
                values! {
                    "now" => p.eye(eye),
                    "previous" => p.previous.as_ref().map(|b| b.eye(eye).clone()),
                },
                Some(format!(
                    "{:.2} D mean sphere, {:.2} D cylinder, {:.2} D addition",
                    change.mean_limit_d,
                    c.threshold(Threshold::RxChangeCylinder),
                    c.threshold(Threshold::RxChangeAddition)
                )),
            );
        }
        if let Some(change) = changed_prism(c.job, thresholds) {
            found.add(
                About::Pair,
                at!(prescription.right.base_in_delta),
                format!(
                    "prism of the pair is {}, of the previous pair {}: ask the prescriber, warn the wearer",
                    change.now.says(),
                    if change.is_recorded_before { change.before.says() } else { "none recorded".to_owned() }
                ),
                values! {"now" => change.now, "previous" => change.before},
                Some(format!(
                    "{:.2} prism dioptres vertically, {:.2} horizontally",
                    c.threshold(Threshold::RxChangePrismVertical),
                    c.threshold(Threshold::RxChangePrismHorizontal)
                )),
            );
        }
    },
};

/// `rx-sign-suspect`.
pub(crate) static RX_SIGN_SUSPECT: Check = Check {
    id: CheckId::RxSignSuspect,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "an eye's mean sphere has the other sign than in the previous pair, both {sign-size:2} or more in size",
    ways_out: &["read the written prescription again"],
    source: PRACTICE,
    run: |c, found| {
        let p = &c.job.prescription;
        let Some(previous) = &p.previous else { return };
        let size = c.threshold(Threshold::SignSize);
        for eye in powered_eyes(c.job) {
            let (Some(now), Some(before)) = (p.eye(eye).rx(), previous.eye(eye).rx()) else {
                continue;
            };
            let (n, b) = (now.mean_d(), before.mean_d());
            if n * b < 0.0 && n.abs() + DUST >= size && b.abs() + DUST >= size {
                found.add(
                    eye,
                    at!(prescription[eye].sphere_d),
                    format!("{eye} eye: mean sphere {n:+.2} D, in the previous pair {b:+.2} D: is the sign right?"),
                    values! {"now" => power_value(now), "previous" => power_value(before)},
                    Some(format!("{size:.2} D in size")),
                );
            }
        }
    },
};

fn distance_d(a: Rx, b: Rx) -> f64 {
    PowerVector::of((a.matrix() - b.matrix()).rx()).blur_d()
}

/// `eyes-exchanged-suspect`.
pub(crate) static EYES_EXCHANGED_SUSPECT: Check = Check {
    id: CheckId::EyesExchangedSuspect,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "right and left exchanged fit the previous pair better by {exchange-gain:2} D or more in sum",
    ways_out: &["read the prescription back, right eye first"],
    source: PRACTICE,
    run: |c, found| {
        let p = &c.job.prescription;
        let Some(previous) = &p.previous else { return };
        if Eye::BOTH.iter().any(|eye| p.eye(*eye).is_balance()) {
            return;
        }
        let (Some(r), Some(l), Some(pr), Some(pl)) = (
            p.right.rx(),
            p.left.rx(),
            previous.right.rx(),
            previous.left.rx(),
        ) else {
            return;
        };
        let as_written = distance_d(r, pr) + distance_d(l, pl);
        let exchanged = distance_d(r, pl) + distance_d(l, pr);
        let gain = c.threshold(Threshold::ExchangeGain);
        if as_written - exchanged + DUST >= gain {
            found.add(
                About::Pair,
                at!(prescription.right.sphere_d),
                format!("as written the eyes differ from the previous pair by {as_written:.2} D in sum, exchanged by {exchanged:.2} D"),
                values! {
                    "right" => power_value(r), "left" => power_value(l),
                    "previous_right" => power_value(pr), "previous_left" => power_value(pl),
                },
                Some(format!("{gain:.2} D better exchanged")),
            );
        }
    },
};
