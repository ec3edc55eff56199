//! What a record lacks for the pair to be made again from it alone.

use crate::job::fields::{FieldRef, at};
use crate::job::{Design, Job, PowersAs, Stage};
use crate::judge::derive::compensates::{ordered_as, who_compensates};
use crate::judge::derive::places::{design_height, is_centred_near, ordered_cd};
use crate::judge::derive::powers::powered_eyes;
use crate::trade::eye::Eye;

/// Returns the fields that are missing for the pair to be made again from the record: what the frame
/// and the lenses are, their powers, where they are centred and, where the powers depend on it, the
/// tilt at which the frame was set. In the order in which an order names them.
pub fn lacks(job: &Job) -> Vec<FieldRef> {
    let mut missing = Vec::new();
    let mut need = |is_recorded: bool, field: FieldRef| {
        if !is_recorded {
            missing.push(field);
        }
    };
    let written = |text: &Option<String>| text.as_ref().is_some_and(|t| !t.trim().is_empty());
    let frame = &job.frame;
    need(written(&frame.maker), at!(frame.maker));
    need(written(&frame.name), at!(frame.name));
    need(written(&frame.colour), at!(frame.colour));
    need(frame.a_mm.is_some(), at!(frame.a_mm));
    need(frame.b_mm.is_some(), at!(frame.b_mm));
    need(frame.dbl_mm.is_some(), at!(frame.dbl_mm));
    need(frame.side_mm.is_some(), at!(frame.side_mm));
    let lenses = &job.lenses;
    need(lenses.design.is_some(), at!(lenses.design));
    need(written(&lenses.maker), at!(lenses.maker));
    need(written(&lenses.product), at!(lenses.product));
    need(written(&lenses.material), at!(lenses.material));
    need(lenses.coatings.is_some(), at!(lenses.coatings));
    need(is_tint_said(job), at!(lenses.tint.colour));
    need(lenses.powers_as().is_some(), at!(lenses.powers.as));
    for eye in powered_eyes(job) {
        let ordered = lenses.powers.as_ref().map(|p| p.eye(eye));
        let sphere = ordered.is_some_and(|o| o.sphere_d.is_some());
        need(sphere, at!(lenses.powers[eye].sphere_d));
        if lenses.design.is_some_and(Design::needs_addition) {
            let addition = ordered.is_some_and(|o| o.addition_d.is_some());
            need(addition, at!(lenses.powers[eye].addition_d));
        }
    }
    for eye in Eye::BOTH {
        let centred = if is_centred_near(job) {
            at!(fitting[eye].near_cd_mm)
        } else {
            at!(fitting[eye].cd_mm)
        };
        need(ordered_cd(job, eye).is_some(), centred);
    }
    if let Some(design) = lenses.design.filter(|d| needs_heights(job, *d)) {
        for eye in Eye::BOTH {
            let height = if design.has_segment() {
                at!(fitting[eye].segment_height_mm)
            } else {
                at!(fitting[eye].height_mm)
            };
            need(design_height(job, job.fitting.eye(eye)).is_some(), height);
        }
    }
    if depends_on_tilt(job) {
        let set = job.handover.pantoscopic_deg.or(job.fitting.pantoscopic_deg);
        let field = if job.stage() == Stage::Collected {
            at!(handover.pantoscopic_deg)
        } else {
            at!(fitting.pantoscopic_deg)
        };
        need(set.is_some(), field);
    }
    missing
}

/// Returns what is missing in words, each thing once; `None` where nothing is.
pub(crate) fn lacks_in_words(job: &Job) -> Option<String> {
    let missing = lacks(job);
    let mut words: Vec<String> = Vec::new();
    for field in &missing {
        let both = missing
            .iter()
            .filter(|other| other.label == field.label && other.eye.is_some())
            .count();
        let word = match field.eye.filter(|_| both < Eye::BOTH.len()) {
            Some(eye) => format!("{eye} {}", field.label),
            None => field.label.to_owned(),
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    (!words.is_empty()).then(|| words.join(", "))
}

/// Whether it is recorded which tint the lenses have. Lenses of which no tint is recorded have none,
/// unless somebody confirmed one.
fn is_tint_said(job: &Job) -> bool {
    match &job.lenses.tint {
        None => job.readings.tint_confirmed != Some(true),
        Some(tint) => {
            tint.category.is_some()
                || tint.transmittance_percent.is_some()
                || tint.colour.as_ref().is_some_and(|c| !c.trim().is_empty())
                || tint.photochromic == Some(true) && tint.dark_category.is_some()
        }
    }
}

/// Whether the lenses are made to a height: multifocals, and single vision lenses whose centres are
/// lowered.
fn needs_heights(job: &Job, design: Design) -> bool {
    design.needs_addition() || job.lenses.lowered_mm.is_some()
}

/// Whether the powers or the design depend on the tilt of the frame.
fn depends_on_tilt(job: &Job) -> bool {
    let is_varied = job.lenses.design.is_some_and(Design::is_power_variation);
    let as_worn = ordered_as(job).is_some_and(|kind| kind != PowersAs::Prescribed);
    is_varied || as_worn && who_compensates(job).done().tilt
}
