//! Checks of allergies against what touches the skin.

use super::values;
use crate::job::fields::at;
use crate::job::{Frame, FrameMaterial, Gate, NickelRelease, PadMaterial, PadMount};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::judge::rules::allergy;
use crate::trade::units::Millimetre;

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

/// Why a frame is none for somebody allergic to nickel, and what to do first.
fn nickel_in(frame: &Frame) -> Option<(&'static str, &'static str)> {
    let without_sides = frame.side_mm == Some(Millimetre::default());
    let front = Some(frame.front_material);
    let parts = [front, (!without_sides).then_some(frame.side_material)];
    let is_of = |material| parts.contains(&Some(Some(material)));
    let find_out = "Find out the content, or choose another frame.";
    if frame.contains_nickel == Some(true) {
        Some(("the frame contains nickel", "Choose another frame."))
    } else if is_of(FrameMaterial::NickelAlloy) {
        Some(("the frame is of a nickel alloy", "Choose another frame."))
    } else if frame.nickel_release == Some(NickelRelease::WornThrough) {
        Some((
            "the frame is worn through to the metal",
            "Replace what is worn, or choose another frame.",
        ))
    } else if frame.contains_nickel.is_some() {
        None
    } else if parts.iter().flatten().flatten().any(|m| m.is_metal()) {
        Some((
            "the frame is of metal and its nickel content is not recorded",
            find_out,
        ))
    } else if is_of(FrameMaterial::Other) {
        Some((
            "neither the frame's material nor its nickel content is known",
            find_out,
        ))
    } else if parts.contains(&Some(None)) {
        Some((
            "the frame's material and its nickel content are not recorded",
            "Record the material or the content.",
        ))
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
    holds_when: "nickel (or metal) allergy, and the frame contains nickel, is worn through, or its content is not recorded and the front or the sides are of metal, of other material or not recorded",
    ways_out: &["find out the content", "another frame"],
    source: NICKEL_SOURCE,
    run: |c, found| {
        if !allergy::to_nickel(&c.job.wearer) {
            return;
        }
        let f = &c.job.frame;
        if let Some((why, first)) = nickel_in(f) {
            let mut values = values! {
                "allergies" => c.job.wearer.allergies, "contains_nickel" => f.contains_nickel,
                "front_material" => f.front_material, "side_material" => f.side_material,
            };
            if f.nickel_release == Some(NickelRelease::WornThrough) {
                values.append(&mut values! {"nickel_release" => f.nickel_release});
            }
            found.add(
                About::Job,
                at!(frame.contains_nickel),
                format!("the wearer is allergic to nickel and {why}. {first}"),
                values,
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
    holds_when: "silicone allergy, and silicone pads, or screwed or pushed pads of unrecorded material",
    ways_out: &["hard plastic or titanium pads"],
    source: PRACTICE,
    run: |c, found| {
        let Some(pads) = &c.job.frame.pads else {
            return;
        };
        if !allergy::to_silicone(&c.job.wearer) {
            return;
        }
        let replaceable = matches!(pads.mount, Some(PadMount::Screw | PadMount::Push));
        let says = match pads.material {
            Some(PadMaterial::Silicone) => {
                "the wearer is allergic to silicone and the pads are of silicone. Take hard plastic or titanium pads."
            }
            None if replaceable => {
                "the wearer is allergic to silicone and the material of the pads is not recorded. Record it, or take hard plastic or titanium pads."
            }
            _ => return,
        };
        found.add(
            About::Job,
            at!(frame.pads.material),
            says,
            values! {"allergies" => c.job.wearer.allergies, "pads" => pads.material},
            None,
        );
    },
};

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
            if allergy::to_material(&c.job.wearer, material) {
                found.add(
                    About::Job,
                    field,
                    format!(
                        "the wearer is allergic to {material} and the {part} is of it. Choose another material."
                    ),
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
    holds_when: "metal sides are worn through (green deposit) and no nickel (or metal) allergy is recorded",
    ways_out: &["clean and cover the sides", "replace them"],
    source: NICKEL_SOURCE,
    run: |c, found| {
        let f = &c.job.frame;
        let metal = f.side_material.is_some_and(FrameMaterial::is_metal);
        let worn = f.nickel_release == Some(NickelRelease::WornThrough);
        if metal && worn && !allergy::to_nickel(&c.job.wearer) {
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
    run: |c, found| {
        let unknown = allergy::unknown(&c.job.wearer);
        if unknown.is_empty() {
            return;
        }
        let asked: Vec<String> = unknown
            .iter()
            .map(|word| match allergy::nearest(word) {
                Some(meant) => format!("\"{word}\" (did you mean {meant}?)"),
                None => format!("\"{word}\""),
            })
            .collect();
        found.add(
            About::Job,
            at!(wearer.allergies),
            format!(
                "allergy not known to the program: {}. Correct the word, or ask what it forbids of the pair.",
                asked.join(", ")
            ),
            values! {"allergies" => c.job.wearer.allergies, "unknown" => unknown},
            None,
        );
    },
};
