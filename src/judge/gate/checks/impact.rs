//! Checks of what a pair withstands.

use super::restricted::is_restricted_child;
use super::values;
use crate::job::fields::at;
use crate::job::{Gate, Purpose};
use crate::judge::derive::lens::material;
use crate::judge::derive::marks::recorded;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, Found, PRACTICE, Severity};
use crate::trade::eye::Eye;

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
    holds_when: "the wearer sees with one eye, or has a balance lens and is not said to see with both, and the material is not impact resistant",
    ways_out: &["another material"],
    source: "Drack et al. 1993, protecting the only seeing eye",
    run: |c, found| {
        let Some(key) = breaks(c) else { return };
        let one_eyed = c.job.wearer.one_eyed;
        let balance = || {
            let has = |eye: &Eye| c.job.prescription.eye(*eye).is_balance();
            Eye::BOTH.into_iter().find(has)
        };
        let (says, values) = match (one_eyed, balance()) {
            (Some(true), _) => (
                "sees with one eye".to_owned(),
                values! {"one_eyed" => true, "material" => key},
            ),
            (None, Some(eye)) => (
                format!("has a balance lens on the {eye} eye"),
                values! {"one_eyed" => one_eyed, "balance" => eye.word(), "material" => key},
            ),
            _ => return,
        };
        found.add(
            About::Job,
            at!(lenses.material),
            format!("the wearer {says} and {key} is not impact resistant"),
            values,
            None,
        );
    },
};

pub(crate) static IMPACT_WORK: Check = Check {
    id: CheckId::ImpactWork,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a safety pair whose frame or lenses have no impact mark or one that spectacles cannot carry, or the weaker of the two marks is below what the workplace asks (weakest first: S, F or C, D, E)",
    ways_out: &["a certified frame and lens together"],
    source: "EN 166 / ISO 16321 as quoted in Optician CPD 6189; marks from memory",
    run: |c, found| {
        let (frame, lenses) = (&c.job.frame, &c.job.lenses);
        if lenses.purpose != Some(Purpose::Safety) {
            return;
        }
        let asked = recorded(lenses.impact_asked.as_ref());
        let parts = [
            (
                "the frame has",
                recorded(frame.impact_mark.as_ref()),
                at!(frame.impact_mark).full(),
            ),
            (
                "the lenses have",
                recorded(lenses.impact_mark.as_ref()),
                at!(lenses.impact_mark).full(),
            ),
        ];
        let mut why = Vec::new();
        for (has, mark, field) in &parts {
            let Some((written, mark)) = mark else {
                why.push((*field, format!("{has} no impact mark")));
                continue;
            };
            if let Some(fault) = mark.fault() {
                why.push((*field, format!("{has} the mark {written}, which {fault}")));
            } else if let Some((wanted, asked)) = asked
                && mark.is_weaker_than(asked)
            {
                why.push((
                    *field,
                    format!(
                        "{has} the mark {written}, weaker than the {wanted} that the workplace asks"
                    ),
                ));
            }
        }
        if let Some((written, mark)) = asked
            && let Some(fault) = mark.fault()
        {
            why.push((
                at!(lenses.impact_asked).full(),
                format!("the workplace asks the mark {written}, which {fault}"),
            ));
        }
        let Some((field, _)) = why.first() else {
            return;
        };
        let says: Vec<&str> = why.iter().map(|(_, says)| says.as_str()).collect();
        found.add(
            About::Job,
            *field,
            format!("a safety pair, and {}", says.join("; ")),
            values! {
                "frame_mark" => frame.impact_mark, "lens_mark" => lenses.impact_mark,
                "asked_mark" => lenses.impact_asked,
            },
            asked.map(|(written, _)| format!("mark {written} or stronger")),
        );
    },
};

/// Adds that the impact mark of a safety pair's lenses has not been read, or is not as ordered: part
/// of `unconfirmed`.
pub(super) fn add_mark_not_as_ordered(c: &Context<'_>, found: &mut Found<'_>) {
    let (lenses, read) = (&c.job.lenses, &c.job.readings.impact_mark);
    if lenses.purpose != Some(Purpose::Safety) {
        return;
    }
    let ordered = recorded(lenses.impact_mark.as_ref());
    let says = match recorded(read.as_ref()) {
        None => "the impact mark of the lenses has not been read".to_owned(),
        Some((written, mark)) => match (mark.fault(), ordered) {
            (Some(fault), _) => format!("the lenses have the mark {written}, which {fault}"),
            (None, Some((wanted, ordered))) if mark.is_weaker_than(ordered) => {
                format!("the lenses have the mark {written}, weaker than the {wanted} ordered")
            }
            _ => return,
        },
    };
    found.add(
        About::Job,
        at!(readings.impact_mark),
        says,
        values! {"what" => "impact mark", "read" => read, "ordered" => lenses.impact_mark},
        ordered.map(|(written, _)| format!("mark {written} or stronger")),
    );
}
