//! Checks of the lenses chosen: complete, strong enough for their wearer, and able to be made.

use super::restricted::is_restricted_child;
use super::{power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Design, Gate, Purpose, Rim};
use crate::judge::derive::lens::{
    edge_is_surely_within, lens_thickness, magnification_percent, material,
};
use crate::judge::derive::places::reading_drop_mm;
use crate::judge::derive::places::{blank_mm, centration_point};
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::powers::{ordered, ordered_or_prescribed};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::near_prism::reading_prism;
use crate::trade::tolerance::DUST;

pub(crate) static LENSES_MISSING: Check = Check {
    id: CheckId::LensesMissing,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "no purpose, design, material or powers",
    ways_out: &["choose them"],
    source: PRACTICE,
    run: |c, found| {
        let l = &c.job.lenses;
        let known = material(c.job).is_some();
        let powers =
            l.powers_as().is_some() && powered_eyes(c.job).all(|eye| ordered(c.job, eye).is_some());
        let missing: Vec<&str> = [
            ("purpose", l.purpose.is_some()),
            ("design", l.design.is_some()),
            ("material", known),
            ("powers", powers),
        ]
        .into_iter()
        .filter(|(_, there)| !there)
        .map(|(name, _)| name)
        .collect();
        let Some(first) = missing.first() else { return };
        let unknown = match &l.material {
            Some(key) if !known => format!(" (\"{key}\" is no material of the table)"),
            _ => String::new(),
        };
        let field = match *first {
            "powers" => at!(lenses.powers.as).full_path(),
            other => format!("lenses.{other}"),
        };
        found.add(
            About::Job,
            field,
            format!("not chosen: {}{unknown}", missing.join(", ")),
            values! {"purpose" => l.purpose, "design" => l.design, "material" => l.material, "powers" => powers},
            None,
        );
    },
};

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
    holds_when: "the wearer sees with one eye and the material is not impact resistant",
    ways_out: &["another material"],
    source: "Drack et al. 1993, protecting the only seeing eye",
    run: |c, found| {
        if let (Some(key), Some(true)) = (breaks(c), c.job.wearer.one_eyed) {
            found.add(
                About::Job,
                at!(lenses.material),
                format!("the wearer sees with one eye and {key} is not impact resistant"),
                values! {"one_eyed" => true, "material" => key},
                None,
            );
        }
    },
};

pub(crate) static IMPACT_WORK: Check = Check {
    id: CheckId::ImpactWork,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a safety pair whose frame is not impact rated or whose material is not impact resistant",
    ways_out: &["a certified frame and lens together"],
    source: "EN 166 / ISO 16321 as quoted in Optician CPD 6189",
    run: |c, found| {
        if c.job.lenses.purpose != Some(Purpose::Safety) {
            return;
        }
        let rated = c.job.frame.impact_rated == Some(true);
        let key = breaks(c);
        if !rated || key.is_some() {
            let mut why = Vec::new();
            if !rated {
                why.push("the frame is not impact rated".to_owned());
            }
            if let Some(key) = key {
                why.push(format!("{key} is not impact resistant"));
            }
            found.add(
                About::Job,
                at!(lenses.material),
                format!("a safety pair, and {}", why.join(" and ")),
                values! {"impact_rated" => c.job.frame.impact_rated, "material" => c.job.lenses.material},
                None,
            );
        }
    },
};

pub(crate) static ANISO_NEAR: Check = Check {
    id: CheckId::AnisoNear,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the eyes' vertical prism differs by more than {aniso-near:1} at the reading point of a multifocal or general pair",
    ways_out: &[
        "a separate reading pair",
        "prism control in the lower part (slab-off)",
        "unequal segments",
    ],
    source: "McCarthy, anisometropia; common practice",
    run: |c, found| {
        let l = &c.job.lenses;
        if !l.design.is_some_and(Design::needs_addition) && l.purpose != Some(Purpose::General) {
            return;
        }
        let powers = PerEye::from_fn(|eye| ordered_or_prescribed(c.job, eye));
        let Some((right, left)) = powers.both() else {
            return;
        };
        let (right, left) = (*right, *left);
        let drop = reading_drop_mm(c.job);
        let apart = reading_prism(PerEye { right, left }, drop, 0.0)
            .vertical_difference_delta
            .abs();
        let limit = c.threshold(Threshold::AnisoNear);
        if apart > limit + DUST {
            found.add(
                About::Pair,
                at!(lenses.design),
                format!("{drop:.0} mm below the centres the eyes' vertical prism differs by {apart:.2} prism dioptres"),
                values! {"right" => power_value(right), "left" => power_value(left), "drop_mm" => drop},
                Some(format!("{limit:.2} prism dioptres")),
            );
        }
    },
};

pub(crate) static ANISEIKONIA: Check = Check {
    id: CheckId::Aniseikonia,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Optometrist,
    holds_when: "the estimated magnification of the eyes differs by more than {aniseikonia:0} percent points",
    ways_out: &[
        "match curves and thickness",
        "a shorter vertex distance",
        "a contact lens",
    ],
    source: "Duane's, chapter 47: symptoms from 3 to 5 %",
    run: |c, found| {
        let sizes = PerEye::from_fn(|eye| magnification_percent(c.job, eye));
        let Some((right, left)) = sizes.both() else {
            return;
        };
        let limit = c.threshold(Threshold::Aniseikonia);
        let apart = (right - left).abs();
        if apart > limit + DUST {
            let vertex = |eye| c.job.fitting.eye(eye).vertex_mm;
            found.add(
                About::Pair,
                at!(lenses.base_d),
                format!("image size right {right:+.1} %, left {left:+.1} %: {apart:.1} percent points apart"),
                values! {
                    "right_percent" => to_thousandth(*right), "left_percent" => to_thousandth(*left),
                    "right_vertex_mm" => vertex(Eye::Right), "left_vertex_mm" => vertex(Eye::Left),
                },
                Some(format!("{limit:.1} percent points")),
            );
        }
    },
};

pub(crate) static BLANK_SMALL: Check = Check {
    id: CheckId::BlankSmall,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the smallest uncut lens the frame needs is larger than the one given",
    ways_out: &["another blank", "a smaller frame"],
    source: "effective diameter + 2 x decentration + 2 mm (Robinson, Insight)",
    run: |c, found| {
        let Some(blank) = c.job.lenses.blank_mm else {
            return;
        };
        for eye in Eye::BOTH {
            let Some(needed) = blank_mm(c.job, eye) else {
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
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a lens of {decentration-power:0} D or more is decentred by more than {decentration:1} mm",
    ways_out: &["a smaller frame"],
    source: PRACTICE,
    run: |c, found| {
        let limit = c.threshold(Threshold::Decentration);
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
                        "{eye} lens is decentred {:.1} mm, power {:+.2} D",
                        place.in_mm.abs(),
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
    holds_when: "the worked-out edge is thicker than {edge:1} mm ({edge-open:1} in half and rimless frames)",
    ways_out: &["a higher index", "a smaller or rounder shape"],
    source: PRACTICE,
    run: |c, found| {
        let open = matches!(c.job.frame.rim, Some(Rim::Half | Rim::Rimless));
        let limit = c.threshold(if open {
            Threshold::EdgeOpen
        } else {
            Threshold::Edge
        });
        for eye in powered_eyes(c.job) {
            // Most lenses are far from it, and that is soon told.
            if edge_is_surely_within(c.job, eye, limit) {
                continue;
            }
            let Some(body) = lens_thickness(c.job, eye) else {
                continue;
            };
            if body.edge_max_mm > limit + DUST {
                found.add(
                    eye,
                    at!(lenses.material),
                    format!(
                        "{eye} edge {:.1} mm at its thickest, centre {:.1} mm{}",
                        body.edge_max_mm,
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
