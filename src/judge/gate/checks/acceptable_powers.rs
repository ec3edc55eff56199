//! Checks of the ordered powers: what they are said to be, and by whom.

use super::{power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Compensator, Gate, PowersAs};
use crate::judge::derive::compensates::{contained, who_compensates};
use crate::judge::derive::compensation::{expected, left_out};
use crate::judge::derive::powers::{
    distance, is_intermediate, ordered, powered_eyes, prescribed_prism,
};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, Found, PRACTICE, Severity};
use crate::practice::{Threshold, Way};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::tolerance::DUST;
use crate::trade::units::{Dioptre, PrismDioptre};

/// Two exactly kept powers that differ by less are the same power in two forms.
const SAME_POWER_D: f64 = 1e-6;

pub(crate) static POWERS_NEED_REGISTRANT: Check = Check {
    id: CheckId::PowersNeedRegistrant,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the powers are not the prescription and whoever worked them out is no dispensing optician or optometrist; or they are adapted to a task and the practice does not adapt",
    ways_out: &[
        "order the prescription as written",
        "refer to the prescriber or a registered person",
    ],
    source: "professional guidance: altering a prescription is for registered persons (UK)",
    run: |c, found| {
        let Some(powers) = &c.job.lenses.powers else {
            return;
        };
        let Some(kind) = powers.kind.filter(|k| !k.is_as_written()) else {
            return;
        };
        if kind == PowersAs::AdaptedToTheTask && !c.around.practice.allows(Way::Adapted) {
            found.add(
                About::Job,
                at!(lenses.powers.as),
                "the powers are adapted to a task, and this practice orders none: order them as prescribed, or ask the prescriber",
                values! {"as" => kind, "adapted" => false},
                None,
            );
            return;
        }
        let by = powers.by.as_deref().unwrap_or("").trim();
        if c.around.is_registrant(by) {
            return;
        }
        let who = if by.is_empty() {
            "nobody named".to_owned()
        } else {
            format!("{by}, who is not registered")
        };
        found.add(
            About::Job,
            at!(lenses.powers.by),
            format!("the powers are {kind} by {who}: refer to the prescriber, a dispensing optician or an optometrist"),
            values! {"as" => kind, "by" => powers.by},
            Some("dispensing optician or optometrist".to_owned()),
        );
    },
};

fn written(rx: Rx) -> Rx {
    let snap = |d: f64| Dioptre::nearest(d).written().get();
    Rx::new(snap(rx.sphere_d), snap(rx.cylinder_d), rx.axis_deg)
}

/// Whether a difference is nothing but part of the addition in an intermediate pair of which the
/// prescription writes no intermediate addition.
fn is_part_of_addition(c: &Context<'_>, eye: Eye, from: Rx, to: Rx) -> bool {
    let difference = to.matrix() - from.matrix();
    let mean = f64::midpoint(difference.xx, difference.yy);
    let written = c.job.prescription.eye(eye);
    let addition = written.addition_d.map_or(0.0, Dioptre::get);
    is_intermediate(c.job)
        && written.intermediate_addition_d.is_none()
        && difference.cylinder_size_d() < SAME_POWER_D
        && (-SAME_POWER_D..=addition + SAME_POWER_D).contains(&mean)
}

fn power_differs(c: &Context<'_>, eye: Eye, kind: PowersAs, found: &mut Found<'_>) {
    if kind == PowersAs::AdaptedToTheTask {
        adapted_differs(c, eye, found);
        return;
    }
    let (Some(order), Some(wanted)) = (ordered(c.job, eye), expected(c.job, eye, kind)) else {
        return;
    };
    let as_written = kind.is_as_written();
    let (order, limit) = if as_written {
        (written(order), SAME_POWER_D)
    } else {
        (order, c.threshold(Threshold::PowerAgreement) + DUST)
    };
    let apart = (order.matrix() - wanted.matrix()).largest_d();
    if apart <= limit || is_part_of_addition(c, eye, wanted, order) {
        return;
    }
    found.add(
        eye,
        at!(lenses.powers[eye].sphere_d),
        format!(
            "{eye} eye: ordered {}, but {} is {}: {apart:.2} D apart{}",
            crate::judge::derive::powers::written(order),
            if as_written {
                "the prescription"
            } else {
                "its compensation for the present distances"
            },
            crate::judge::derive::powers::written(wanted),
            left_out(c.job, eye, contained(kind)),
        ),
        values! {
            "ordered" => power_value(order), "expected" => power_value(wanted),
            "as" => kind, "apart_d" => to_thousandth(apart),
        },
        Some(if as_written {
            "the same power".to_owned()
        } else {
            format!(
                "{:.2} D in every principal power",
                c.threshold(Threshold::PowerAgreement)
            )
        }),
    );
}

/// The most that powers adapted to a task may have more than the power for distance, dioptres, and
/// what that rests on.
fn most_adapted(c: &Context<'_>, eye: Eye) -> (f64, String) {
    let over = c.threshold(Threshold::AdaptedOver);
    let addition = c.job.prescription.eye(eye).addition_d;
    let by_addition = addition.map_or(0.0, Dioptre::get) + over;
    let task = c.job.lenses.powers.as_ref().and_then(|p| p.distance_mm);
    let by_task = task.map(|mm| 1000.0 / mm.get() + over);
    match (by_task, task) {
        (Some(most), Some(mm)) if most < by_addition => {
            (most, format!("{over:.2} D more than {mm} mm needs"))
        }
        _ => (by_addition, format!("{over:.2} D more than the addition")),
    }
}

/// What an eye has for the task beside its power for distance, dioptres: the sphere in a single vision
/// lens, the addition in another. `None` without ordered powers, or where the rest is not the power
/// for distance.
fn adapted_by(c: &Context<'_>, eye: Eye) -> Option<f64> {
    let (order, distance) = (written(ordered(c.job, eye)?), distance(c.job, eye)?);
    let difference = order.matrix() - distance.matrix();
    if difference.cylinder_size_d() > SAME_POWER_D {
        return None;
    }
    let sphere = f64::midpoint(difference.xx, difference.yy);
    if !needs_addition(c) {
        return Some(sphere);
    }
    let addition = c.job.lenses.powers.as_ref()?.eye(eye).addition_d;
    let addition = addition.map_or(0.0, |a| a.written().get());
    (sphere.abs() <= SAME_POWER_D).then_some(addition)
}

fn needs_addition(c: &Context<'_>) -> bool {
    let design = c.job.lenses.design;
    design.is_some_and(crate::job::Design::needs_addition)
}

fn adapted_differs(c: &Context<'_>, eye: Eye, found: &mut Found<'_>) {
    let (Some(order), Some(from)) = (ordered(c.job, eye), distance(c.job, eye)) else {
        return;
    };
    let (most, because) = most_adapted(c, eye);
    let by = adapted_by(c, eye);
    if by.is_some_and(|by| by > SAME_POWER_D && by <= most + SAME_POWER_D) {
        return;
    }
    let more = match by {
        Some(by) => format!("{by:+.2} D for the task"),
        None => "not that power and a sphere".to_owned(),
    };
    found.add(
        eye,
        at!(lenses.powers[eye].sphere_d),
        format!(
            "{eye} eye: ordered {}, the power for distance is {}: {more}",
            crate::judge::derive::powers::written(order),
            crate::judge::derive::powers::written(from),
        ),
        values! {
            "ordered" => power_value(order), "expected" => power_value(from),
            "as" => PowersAs::AdaptedToTheTask, "more_d" => by.map(to_thousandth),
            "most_d" => to_thousandth(most),
        },
        Some(format!("above 0 and at most {most:+.2} D ({because})")),
    );
}

/// Where the additions are the same, a task needs the same of both eyes.
fn adapted_unequal(c: &Context<'_>, found: &mut Found<'_>) {
    let p = &c.job.prescription;
    let additions = [p.right.addition_d, p.left.addition_d].map(Option::unwrap_or_default);
    if additions[0] != additions[1] || powered_eyes(c.job).count() < 2 {
        return;
    }
    if let (Some(right), Some(left)) = (adapted_by(c, Eye::Right), adapted_by(c, Eye::Left))
        && (right - left).abs() > SAME_POWER_D
    {
        found.add(
            About::Pair,
            at!(lenses.powers.right.sphere_d),
            format!("for the task the right eye has {right:+.2} D, the left {left:+.2} D, and the additions are the same"),
            values! {"right_more_d" => to_thousandth(right), "left_more_d" => to_thousandth(left)},
            Some("the same of both eyes".to_owned()),
        );
    }
}

/// Powers are said to be compensated by the practice for what they do not contain, or by nobody for
/// what they do.
fn compensator_differs(c: &Context<'_>, kind: PowersAs, found: &mut Found<'_>) {
    let contained = contained(kind);
    let who = who_compensates(c.job);
    for ((what, by), is_contained) in
        who.each()
            .into_iter()
            .zip([contained.vertex, contained.tilt, contained.face_form])
    {
        let says = match (by, is_contained) {
            (Compensator::Practice, false) => {
                format!("the practice is said to compensate for {what}, and the powers are {kind}")
            }
            (Compensator::Nobody, true) => {
                format!("nobody is said to compensate for {what}, and the powers are {kind}")
            }
            _ => continue,
        };
        found.add(
            About::Job,
            at!(lenses.powers.as),
            format!("{says}: say which"),
            values! {"what" => what, "by" => by, "as" => kind},
            None,
        );
    }
}

fn addition_differs(c: &Context<'_>, eye: Eye, found: &mut Found<'_>) {
    let Some(powers) = &c.job.lenses.powers else {
        return;
    };
    let ordered = powers
        .eye(eye)
        .addition_d
        .map(Dioptre::written)
        .unwrap_or_default();
    let prescribed = c.job.prescription.eye(eye).addition_d.unwrap_or_default();
    let near = c.job.lenses.is_near_single_vision();
    let needs = needs_addition(c);
    if needs && powers.kind == Some(PowersAs::AdaptedToTheTask) {
        // Adapted with the power.
        return;
    }
    // A single-vision lens has no addition: repeating the prescription's beside a distance pair
    // orders nothing, beside a near pair it would be ordered twice.
    let differs = if needs {
        ordered != prescribed
    } else {
        ordered != Dioptre::ZERO && (near || ordered != prescribed)
    };
    if differs {
        found.add(
            eye,
            at!(lenses.powers[eye].addition_d),
            format!("{eye} eye: addition ordered {ordered:+}, prescribed {prescribed:+} D"),
            values! {"ordered_addition_d" => ordered, "prescribed_addition_d" => prescribed},
            Some("the same addition".to_owned()),
        );
    }
}

fn prism_differs(c: &Context<'_>, eye: Eye, found: &mut Found<'_>) {
    let Some(powers) = &c.job.lenses.powers else {
        return;
    };
    let o = powers.eye(eye);
    let or_none = |d: Option<PrismDioptre>| d.unwrap_or_default();
    let ordered = (or_none(o.base_in_delta), or_none(o.base_up_delta));
    let [base_in, base_up] = prescribed_prism(c.job, eye);
    let prescribed = (or_none(base_in), or_none(base_up));
    if ordered != prescribed {
        found.add(
            eye,
            at!(lenses.powers[eye].base_in_delta),
            format!(
                "{eye} eye: prism ordered {:+} in {:+} up, prescribed {:+} in {:+} up",
                ordered.0, ordered.1, prescribed.0, prescribed.1
            ),
            values! {
                "ordered_in_delta" => ordered.0, "ordered_up_delta" => ordered.1,
                "prescribed_in_delta" => prescribed.0, "prescribed_up_delta" => prescribed.1,
            },
            Some("the same prism".to_owned()),
        );
    }
}

pub(crate) static POWERS_DIFFER: Check = Check {
    id: CheckId::PowersDiffer,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the powers are not what they are said to be: the prescription in either form (near pairs with the addition in), or its compensation within {power-agreement:2} D, or for a task the power for distance and a sphere of at most {adapted-over:2} D more than addition and distance need, the same in both eyes; or prism or addition differ; or somebody is said to compensate for what they do not contain",
    ways_out: &["work the powers out again from the prescription"],
    source: PRACTICE,
    run: |c, found| {
        let Some(kind) = c.job.lenses.powers_as() else {
            return;
        };
        compensator_differs(c, kind, found);
        if kind == PowersAs::AdaptedToTheTask {
            adapted_unequal(c, found);
        }
        for eye in powered_eyes(c.job) {
            power_differs(c, eye, kind, found);
            if ordered(c.job, eye).is_some() {
                addition_differs(c, eye, found);
                prism_differs(c, eye, found);
            }
        }
    },
};

pub(crate) static ADAPTED_UNREASONED: Check = Check {
    id: CheckId::AdaptedUnreasoned,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "powers adapted to the task, without the distance of the task or the reason",
    ways_out: &["write both with the powers"],
    source: "professional guidance: altering a prescription is for registered persons (UK)",
    run: |c, found| {
        let Some(powers) = &c.job.lenses.powers else {
            return;
        };
        if powers.kind != Some(PowersAs::AdaptedToTheTask) {
            return;
        }
        if powers.distance_mm.is_none() {
            found.add(
                About::Job,
                at!(lenses.powers.distance_mm),
                "the powers are adapted to a task, and its distance is not written",
                values! {"distance_mm" => powers.distance_mm},
                None,
            );
        }
        if powers
            .because
            .as_deref()
            .is_none_or(|b| b.trim().is_empty())
        {
            found.add(
                About::Job,
                at!(lenses.powers.because),
                "the powers are adapted to a task, and the reason is not written",
                values! {"because" => powers.because},
                None,
            );
        }
    },
};
