//! Checks of the lenses chosen: complete.

use super::values;
use crate::job::Gate;
use crate::job::fields::at;
use crate::judge::derive::lens::material;
use crate::judge::derive::powers::{ordered, powered_eyes};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};

/// `lenses-missing`.
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
