//! Checks of the ordered powers: what they are said to be, and by whom.

use super::{nothing_yet, power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Gate, PowersAs};
use crate::judge::derive::compensation::{expected, left_out, worn};
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::powers::{is_intermediate, ordered};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, Found, PRACTICE, Severity};
use crate::practice::Threshold;
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
    holds_when: "the powers are not the prescription and whoever worked them out is no dispensing optician or optometrist",
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
        let by = powers.by.as_deref().unwrap_or("").trim();
        if c.around.staff.is_registrant(by) {
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

/// Whether a difference is nothing but part of the addition in an intermediate pair.
fn is_part_of_addition(c: &Context<'_>, eye: Eye, from: Rx, to: Rx) -> bool {
    let difference = to.matrix() - from.matrix();
    let mean = f64::midpoint(difference.xx, difference.yy);
    let addition = c
        .job
        .prescription
        .eye(eye)
        .addition_d
        .map_or(0.0, Dioptre::get);
    is_intermediate(c.job)
        && difference.cylinder_size_d() < SAME_POWER_D
        && (-SAME_POWER_D..=addition + SAME_POWER_D).contains(&mean)
}

fn power_differs(c: &Context<'_>, eye: Eye, kind: PowersAs, found: &mut Found<'_>) {
    let (Some(order), Some(wanted)) = (ordered(c.job, eye), expected(c.job, eye, kind)) else {
        return;
    };
    let (order, limit) = if kind.is_as_written() {
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
            match kind {
                kind if kind.is_as_written() => "the prescription",
                _ => "its compensation for the present distances",
            },
            crate::judge::derive::powers::written(wanted),
            left_out(c.job, eye, kind),
        ),
        values! {
            "ordered" => power_value(order), "expected" => power_value(wanted),
            "as" => kind, "apart_d" => to_thousandth(apart),
        },
        Some(match kind {
            kind if kind.is_as_written() => "the same power".to_owned(),
            _ => {
                format!(
                    "{:.2} D in every principal power",
                    c.threshold(Threshold::PowerAgreement)
                )
            }
        }),
    );
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
    let needs = c
        .job
        .lenses
        .design
        .is_some_and(crate::job::Design::needs_addition);
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
    let (o, p) = (powers.eye(eye), c.job.prescription.eye(eye));
    let or_none = |d: Option<PrismDioptre>| d.unwrap_or_default();
    let ordered = (or_none(o.base_in_delta), or_none(o.base_up_delta));
    let prescribed = (or_none(p.base_in_delta), or_none(p.base_up_delta));
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
    holds_when: "the powers are not what they are said to be: the prescription in either form (near pairs with the addition in), or its compensation within {power-agreement:2} D; or prism or addition differ",
    ways_out: &["work the powers out again from the prescription"],
    source: PRACTICE,
    run: |c, found| {
        let Some(kind) = c.job.lenses.powers_as() else {
            return;
        };
        for eye in powered_eyes(c.job) {
            power_differs(c, eye, kind, found);
            if ordered(c.job, eye).is_some() {
                addition_differs(c, eye, found);
                prism_differs(c, eye, found);
            }
        }
    },
};

pub(crate) static AS_WORN_ERROR: Check = Check {
    id: CheckId::AsWornError,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "powers not as-worn compensated, and tilt and face form change a principal power by more than {as-worn-error:2} D or add more than {as-worn-error:2} D of cylinder",
    ways_out: &["adjust the tilt", "an as-worn compensated design"],
    source: "Coddington; Blendowske 2002 for toric lenses; limit of ISO 21987:2017, from memory",
    run: |c, found| {
        if c.job.lenses.powers_as() == Some(PowersAs::AsWornCompensated) {
            return;
        }
        let limit = c.threshold(Threshold::AsWornError);
        for eye in powered_eyes(c.job) {
            let Some(rx) = crate::judge::derive::powers::ordered_or_prescribed(c.job, eye) else {
                continue;
            };
            let Some(worn) = worn(c.job, eye, rx) else {
                continue;
            };
            let change = worn.rx.matrix() - rx.matrix();
            let (power, cylinder) = (change.largest_d(), change.cylinder_size_d());
            if power > limit + DUST || cylinder > limit + DUST {
                let model = worn.model.words();
                let f = &c.job.fitting;
                found.add(
                    eye,
                    at!(fitting.pantoscopic_deg),
                    format!(
                        "{eye} eye: {} is worn as {}: {power:.2} D of change, {cylinder:.2} D of it cylinder ({model})",
                        crate::judge::derive::powers::written(rx), crate::judge::derive::powers::written(worn.rx)
                    ),
                    values! {
                        "rx" => power_value(rx), "worn" => power_value(worn.rx),
                        "pantoscopic_deg" => f.pantoscopic_deg, "face_form_deg" => f.face_form_deg,
                    },
                    Some(format!("{limit:.2} D")),
                );
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
    run: nothing_yet,
};

pub(crate) static COMPENSATED_TWICE: Check = Check {
    id: CheckId::CompensatedTwice,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the practice has compensated the powers for what the laboratory is to compensate too",
    ways_out: &["say who does it"],
    source: PRACTICE,
    run: nothing_yet,
};

pub(crate) static COMPENSATION_UNMEASURED: Check = Check {
    id: CheckId::CompensationUnmeasured,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the laboratory is to compensate for vertex distance, pantoscopic angle or face form, and that is not measured (vertex distance: of each eye)",
    ways_out: &["measure it"],
    source: PRACTICE,
    run: nothing_yet,
};
