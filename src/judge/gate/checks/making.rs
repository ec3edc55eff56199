//! Checks of whether the lenses can be made for the frame: blank, decentration, edge.

use super::{power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Gate, Rim};
use crate::judge::derive::lens::{
    edge_is_surely_within, least_blank_mm, lens_thickness, material, prism,
};
use crate::judge::derive::places::centration_point;
use crate::judge::derive::powers::{ordered_or_prescribed, powered_eyes};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{Acceptable, Check, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::optics::prism::Prism;
use crate::trade::tolerance::DUST;

pub(crate) static BLANK_SMALL: Check = Check {
    id: CheckId::BlankSmall,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the smallest circle about the optical centre that holds the shape with its allowance is larger than the uncut lens given",
    ways_out: &["a smaller frame", "another blank"],
    source: "geometry of the lens shape; allowance of 2 mm (Robinson, Insight)",
    run: |c, found| {
        let Some(blank) = c.job.lenses.blank_mm else {
            return;
        };
        for eye in Eye::BOTH {
            let Some(needed) = least_blank_mm(c.job, eye) else {
                continue;
            };
            if needed > blank.get() + DUST {
                found.add(
                    eye,
                    at!(lenses.blank_mm),
                    format!("{eye} lens needs an uncut of {needed:.1} mm, the blank is {blank} mm"),
                    values! {"needed_mm" => to_thousandth(needed), "blank_mm" => blank},
                    Some(format!("{blank} mm")),
                );
            }
        }
    },
};

pub(crate) static DECENTRATION_LARGE: Check = Check {
    id: CheckId::DecentrationLarge,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Note,
    accept: Acceptable::Nobody,
    holds_when: "a lens of {decentration-power:0} D or more is decentred, in or out, by more than {decentration:1} mm (near pairs: {decentration-near:1} mm); blank and edge decide",
    ways_out: &["a smaller frame"],
    source: PRACTICE,
    run: |c, found| {
        let limit = c.threshold(if c.job.lenses.is_near_single_vision() {
            Threshold::DecentrationNear
        } else {
            Threshold::Decentration
        });
        for eye in powered_eyes(c.job) {
            let (Some(place), Some(rx)) = (
                centration_point(c.job, eye),
                ordered_or_prescribed(c.job, eye),
            ) else {
                continue;
            };
            let strong = rx.strongest_d().abs() + DUST >= c.threshold(Threshold::DecentrationPower);
            if strong && place.in_mm.abs() > limit + DUST {
                found.add(
                    eye,
                    at!(fitting[eye].cd_mm),
                    format!(
                        "{eye} lens is decentred {:.1} mm {}, power {:+.2} D",
                        place.in_mm.abs(),
                        if place.in_mm < 0.0 { "out" } else { "in" },
                        rx.strongest_d()
                    ),
                    values! {"in_mm" => to_thousandth(place.in_mm), "rx" => power_value(rx)},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};

/// Says what the thickness of a lens had to suppose, in brackets; nothing where all was recorded.
fn supposed(job: &crate::job::Job) -> String {
    let (l, f) = (&job.lenses, &job.frame);
    let missing: Vec<_> = [
        (l.base_d.is_none(), "front curve"),
        (
            l.centre_mm.is_none() && l.thinnest_mm.is_none(),
            "thickness",
        ),
        (f.ed_mm.is_none(), "longest diameter"),
    ]
    .into_iter()
    .filter_map(|(missing, what)| missing.then_some(what))
    .collect();
    if missing.is_empty() {
        String::new()
    } else {
        format!(" (not recorded, taken as usual: {})", missing.join(", "))
    }
}

pub(crate) static EDGE_THICK: Check = Check {
    id: CheckId::EdgeThick,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the worked-out edge, prescribed prism included, is thicker than {edge:1} mm ({edge-open:1} in half and rimless frames); a note from index {edge-note-index:2}, where no thinner material exists",
    ways_out: &["a higher index", "a smaller or rounder shape"],
    source: PRACTICE,
    run: |c, found| {
        let open = matches!(c.job.frame.rim, Some(Rim::Half | Rim::Rimless));
        let limit = c.threshold(if open {
            Threshold::EdgeOpen
        } else {
            Threshold::Edge
        });
        let note_from = c.threshold(Threshold::EdgeNoteIndex);
        let is_thinnest = material(c.job).is_some_and(|m| m.n_d + DUST >= note_from);
        let severity = if is_thinnest {
            Severity::Note
        } else {
            Severity::Warning
        };
        for eye in powered_eyes(c.job) {
            // Most lenses are far from it, and that is soon told.
            if edge_is_surely_within(c.job, eye, limit) {
                continue;
            }
            let Some(body) = lens_thickness(c.job, eye) else {
                continue;
            };
            if body.edge_max_mm > limit + DUST {
                found.add_as(
                    severity,
                    eye,
                    at!(lenses.material),
                    format!(
                        "{eye} edge {:.1} mm at its thickest{}, centre {:.1} mm{}",
                        body.edge_max_mm,
                        if prism(c.job, eye) == Prism::default() {
                            ""
                        } else {
                            " with its prism"
                        },
                        body.centre_mm,
                        supposed(c.job)
                    ),
                    values! {"edge_mm" => to_thousandth(body.edge_max_mm), "centre_mm" => to_thousandth(body.centre_mm)},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};
