//! Checks of allergies against what touches the skin.

use super::{nothing_yet, values};
use crate::job::fields::at;
use crate::job::{Frame, FrameMaterial, Gate, Job, NickelRelease, PadMaterial};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};

const NICKEL_SOURCE: &str = "EN 1811 and EN 16128 nickel release of frames; common practice";

pub(crate) static ALLERGY_UNASKED: Check = Check {
    id: CheckId::AllergyUnasked,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "nobody recorded whether there are allergies (none known is an empty list)",
    ways_out: &["ask, and record none if there are none"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.wearer.allergies.is_none() {
            found.add(
                About::Job,
                at!(wearer.allergies),
                "allergies have not been asked for: ask, and record none if there are none",
                values! {"allergies" => c.job.wearer.allergies},
                None,
            );
        }
    },
};

/// Why a frame is no frame for somebody allergic to nickel.
fn nickel_in(frame: &Frame) -> Option<&'static str> {
    let materials = [frame.front_material, frame.side_material];
    if frame.contains_nickel == Some(true) {
        Some("the frame contains nickel")
    } else if materials.contains(&Some(FrameMaterial::NickelAlloy)) {
        Some("the frame is of a nickel alloy")
    } else if frame.contains_nickel.is_none() && materials.iter().flatten().any(|m| m.is_metal()) {
        Some("the frame is of metal and its nickel content is not known")
    } else {
        None
    }
}

pub(crate) static ALLERGY_NICKEL: Check = Check {
    id: CheckId::AllergyNickel,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "nickel allergy, and the frame contains nickel or is of metal of unknown content",
    ways_out: &["find out the content", "another frame"],
    source: NICKEL_SOURCE,
    run: |c, found| {
        if !c.job.wearer.is_allergic_to("nickel") {
            return;
        }
        let f = &c.job.frame;
        if let Some(why) = nickel_in(f) {
            found.add(
                About::Job,
                at!(frame.contains_nickel),
                format!("the wearer is allergic to nickel and {why}"),
                values! {
                    "allergies" => c.job.wearer.allergies, "contains_nickel" => f.contains_nickel,
                    "front_material" => f.front_material, "side_material" => f.side_material,
                },
                None,
            );
        }
    },
};

pub(crate) static ALLERGY_PAD: Check = Check {
    id: CheckId::AllergyPad,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "silicone allergy and silicone pads",
    ways_out: &["hard plastic or titanium pads"],
    source: PRACTICE,
    run: |c, found| {
        let pads = c.job.frame.pads.as_ref().and_then(|p| p.material);
        if c.job.wearer.is_allergic_to("silicone") && pads == Some(PadMaterial::Silicone) {
            found.add(
                About::Job,
                at!(frame.pads.material),
                "the wearer is allergic to silicone and the pads are of silicone",
                values! {"allergies" => c.job.wearer.allergies, "pads" => pads},
                None,
            );
        }
    },
};

/// Whether an allergy names a material: in full, by a word of it (titanium of beta titanium), or as
/// metal of any kind.
fn names(job: &Job, material: FrameMaterial) -> bool {
    let any_metal = material.is_metal() && job.wearer.is_allergic_to("metal");
    let by_a_word = job.wearer.allergies.iter().flatten().any(|a| {
        let allergy = a.trim().to_lowercase();
        material.word().split(' ').any(|word| word == allergy)
    });
    any_metal || by_a_word || job.wearer.is_allergic_to(material.word())
}

pub(crate) static ALLERGY_PLASTIC: Check = Check {
    id: CheckId::AllergyPlastic,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "an allergy names the material of the front or the sides",
    ways_out: &["another material"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.frame;
        for (field, part, material) in [
            (at!(frame.front_material), "front", f.front_material),
            (at!(frame.side_material), "side", f.side_material),
        ] {
            // Nickel has a check of its own, which nobody may accept.
            let Some(material) = material
                .filter(|m| !matches!(m, FrameMaterial::NickelAlloy | FrameMaterial::Other))
            else {
                continue;
            };
            if names(c.job, material) {
                found.add(
                    About::Job,
                    field,
                    format!("the wearer is allergic to {material} and the {part} is of it"),
                    values! {"allergies" => c.job.wearer.allergies, "part" => part, "material" => material},
                    None,
                );
            }
        }
    },
};

pub(crate) static NICKEL_WORN: Check = Check {
    id: CheckId::NickelWorn,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "metal sides are worn through (green deposit) and no nickel allergy is recorded",
    ways_out: &["clean and cover the sides", "replace them"],
    source: NICKEL_SOURCE,
    run: |c, found| {
        let f = &c.job.frame;
        let metal = f.side_material.is_some_and(FrameMaterial::is_metal);
        let worn = f.nickel_release == Some(NickelRelease::WornThrough);
        if metal && worn && !c.job.wearer.is_allergic_to("nickel") {
            found.add(
                About::Job,
                at!(frame.nickel_release),
                "the metal sides are worn through to the skin: clean, cover or replace them",
                values! {"side_material" => f.side_material, "nickel_release" => f.nickel_release},
                None,
            );
        }
    },
};

pub(crate) static ALLERGY_UNKNOWN: Check = Check {
    id: CheckId::AllergyUnknown,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "an allergy is recorded that the program does not know",
    ways_out: &["correct the word", "say what it forbids"],
    source: PRACTICE,
    run: nothing_yet,
};
