//! Checks of the lenses chosen: complete.

use super::{nothing_yet, values};
use crate::job::Gate;
use crate::job::fields::at;
use crate::judge::derive::lens::material;
use crate::judge::derive::powers::{ordered, powered_eyes};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};

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

pub(crate) static LENS_UNNAMED: Check = Check {
    id: CheckId::LensUnnamed,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Note,
    accept: Acceptable::Nobody,
    holds_when: "maker or product of the lens is not recorded, or of an office lens neither drop nor furthest distance: the pair cannot be made again from the record",
    ways_out: &["name it"],
    source: "records rule of the practice",
    run: nothing_yet,
};
