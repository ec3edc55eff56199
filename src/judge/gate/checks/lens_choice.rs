//! Checks of the lenses chosen: complete.

use super::values;
use crate::job::fields::at;
use crate::job::{Design, Gate, PowersAs};
use crate::judge::derive::compensates::who_compensates;
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
    holds_when: "no purpose, design, material or powers; or the powers are laboratory compensated and nothing is left to the laboratory",
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
        let Some(first) = missing.first() else {
            let is_left = who_compensates(c.job).has_laboratory();
            if l.powers_as() == Some(PowersAs::LaboratoryCompensated) && !is_left {
                found.add(
                    About::Job,
                    at!(lenses.compensates.tilt),
                    "the powers are laboratory compensated, and for neither vertex distance nor tilt nor face form does the laboratory compensate: say which",
                    values! {"as" => l.powers_as()},
                    None,
                );
            }
            return;
        };
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
    run: |c, found| {
        let l = &c.job.lenses;
        let is_named =
            |text: &Option<String>| text.as_deref().is_some_and(|t| !t.trim().is_empty());
        let is_office = l.design == Some(Design::Office);
        let missing: Vec<(&str, &str)> = [
            (at!(lenses.maker).full(), "maker", is_named(&l.maker)),
            (at!(lenses.product).full(), "product", is_named(&l.product)),
            (
                at!(lenses.power_drop_d).full(),
                "power drop or furthest distance",
                !is_office || l.power_drop_d.is_some() || l.far_mm.is_some(),
            ),
        ]
        .into_iter()
        .filter(|(_, _, there)| !there)
        .map(|(field, name, _)| (field, name))
        .collect();
        if let Some(&(field, _)) = missing.first() {
            let names: Vec<&str> = missing.iter().map(|(_, name)| *name).collect();
            found.add(
                About::Job,
                field,
                format!("not recorded of the lenses: {}; the pair cannot be made again from the record", names.join(", ")),
                values! {"maker" => l.maker, "product" => l.product, "power_drop_d" => l.power_drop_d, "far_mm" => l.far_mm},
                None,
            );
        }
    },
};
