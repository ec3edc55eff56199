//! Checks of the fitting heights.

use super::values;
use super::vertex::difference_mm;
use crate::job::fields::at;
use crate::job::{Design, Gate, Job};
use crate::judge::derive::places::design_height;
use crate::judge::derive::powers::powered_eyes;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::tolerance::DUST;

fn height_field(job: &Job, eye: Eye) -> String {
    let name = if job.lenses.design.is_some_and(Design::has_segment) {
        "segment_height_mm"
    } else {
        "height_mm"
    };
    format!("fitting.{eye}.{name}")
}

pub(crate) static HEIGHT_MISSING: Check = Check {
    id: CheckId::HeightMissing,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a multifocal or office design has no height (segment height for segments) for an eye",
    ways_out: &["measure it with the frame adjusted"],
    source: PRACTICE,
    run: |c, found| {
        let Some(design) = c.job.lenses.design.filter(|d| d.needs_addition()) else {
            return;
        };
        for eye in Eye::BOTH {
            let height = design_height(c.job, c.job.fitting.eye(eye));
            if height.is_none() {
                let which = if design.has_segment() {
                    "segment height"
                } else {
                    "height"
                };
                found.add(
                    eye,
                    height_field(c.job, eye),
                    format!("{design} lenses need a {which} and the {eye} eye has none"),
                    values! {"design" => design, "height_mm" => height},
                    None,
                );
            }
        }
    },
};

/// Whether a second reading of an eye's height agrees with the first.
fn is_read_twice_alike(c: &Context<'_>, eye: Eye) -> bool {
    let f = &c.job.fitting;
    let first = design_height(c.job, f.eye(eye));
    let second = f.second(eye).and_then(|s| design_height(c.job, s));
    let agree = c.threshold(Threshold::HeightAgree);
    matches!((first, second), (Some(a), Some(b)) if difference_mm(a, b) <= agree + DUST)
}

pub(crate) static HEIGHT_ASYMMETRY: Check = Check {
    id: CheckId::HeightAsymmetry,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the heights of the eyes differ by more than {height-asymmetry:1} mm; silent where second readings agree within {height-agree:1} mm in both eyes",
    ways_out: &["level the frame and repeat"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.fitting;
        let limit = c.threshold(Threshold::HeightAsymmetry);
        let is_confirmed = Eye::BOTH.into_iter().all(|eye| is_read_twice_alike(c, eye));
        if let (Some(r), Some(l)) = (
            design_height(c.job, &f.right),
            design_height(c.job, &f.left),
        ) && difference_mm(r, l) > limit + DUST
            && !is_confirmed
        {
            found.add(
                About::Pair,
                height_field(c.job, Eye::Right),
                format!(
                    "heights right {r}, left {l} mm: {:.1} mm apart",
                    difference_mm(r, l)
                ),
                values! {"right_mm" => r, "left_mm" => l},
                Some(format!("{limit:.1} mm")),
            );
        }
    },
};

pub(crate) static HEIGHT_REPEAT: Check = Check {
    id: CheckId::HeightRepeat,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a second height differs by more than {height-repeat:1} mm",
    ways_out: &["take a third reading and record the median"],
    source: PRACTICE,
    run: |c, found| {
        let limit = c.threshold(Threshold::HeightRepeat);
        for eye in Eye::BOTH {
            let one = c.job.fitting.eye(eye);
            let Some(second) = c.job.fitting.second(eye) else {
                continue;
            };
            for (name, first, again) in [
                ("height", one.height_mm, second.height_mm),
                (
                    "segment height",
                    one.segment_height_mm,
                    second.segment_height_mm,
                ),
            ] {
                if let (Some(first), Some(again)) = (first, again)
                    && difference_mm(first, again) > limit + DUST
                {
                    found.add(
                        eye,
                        height_field(c.job, eye),
                        format!("{eye} {name} {first} mm, second reading {again} mm"),
                        values! {"what" => name, "first_mm" => first, "second_mm" => again},
                        Some(format!("{limit:.1} mm")),
                    );
                }
            }
        }
    },
};

pub(crate) static HEIGHT_MINIMUM: Check = Check {
    id: CheckId::HeightMinimum,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a height is below the least the design allows",
    ways_out: &["a shorter corridor", "a deeper frame"],
    source: "the lens maker's least fitting height, as recorded with the lenses",
    run: |c, found| {
        let Some(least) = c.job.lenses.minimum_height_mm else {
            return;
        };
        for eye in powered_eyes(c.job) {
            if let Some(height) = design_height(c.job, c.job.fitting.eye(eye))
                && height < least
            {
                found.add(
                    eye,
                    height_field(c.job, eye),
                    format!("{eye} height {height} mm, the design needs {least} mm"),
                    values! {"height_mm" => height, "least_mm" => least},
                    Some(format!("{least} mm")),
                );
            }
        }
    },
};

pub(crate) static HEIGHT_ABOVE: Check = Check {
    id: CheckId::HeightAbove,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a progressive lens has less than {height-above:1} mm above the fitting cross",
    ways_out: &["a deeper frame"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.lenses.design != Some(Design::Progressive) {
            return;
        }
        let limit = c.threshold(Threshold::HeightAbove);
        let Some(b) = c.job.frame.b_mm else { return };
        for eye in powered_eyes(c.job) {
            if let Some(height) = c.job.fitting.eye(eye).height_mm
                && b.get() - height.get() + DUST < limit
            {
                found.add(
                    eye,
                    height_field(c.job, eye),
                    format!("{eye} eye: {:.1} mm above the fitting cross (boxed height {b}, height {height})", b.get() - height.get()),
                    values! {"b_mm" => b, "height_mm" => height},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};

pub(crate) static HEIGHT_IMPOSSIBLE: Check = Check {
    id: CheckId::HeightImpossible,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a height is not below the boxed height, or a segment top is above the pupil's recorded height",
    ways_out: &["read it again"],
    source: "ISO 8624 boxed system",
    run: |c, found| {
        let boxed = c.job.frame.b_mm;
        for eye in Eye::BOTH {
            let one = c.job.fitting.eye(eye);
            let (pupil, segment) = (one.height_mm, one.segment_height_mm);
            for (field, name, height) in [
                (at!(fitting[eye].height_mm), "height", pupil),
                (
                    at!(fitting[eye].segment_height_mm),
                    "segment height",
                    segment,
                ),
            ] {
                if let (Some(height), Some(b)) = (height, boxed)
                    && height >= b
                {
                    found.add(
                        eye,
                        field,
                        format!("{eye} {name} is {height} mm in a lens of {b} mm boxed height: read it again"),
                        values! {"what" => name, "height_mm" => height, "b_mm" => b},
                        Some(format!("below {b} mm")),
                    );
                }
            }
            if let (Some(top), Some(pupil)) = (segment, pupil)
                && top > pupil
                && boxed.is_none_or(|b| top < b)
            {
                found.add(
                    eye,
                    at!(fitting[eye].segment_height_mm),
                    format!("{eye} segment top is at {top} mm, above the pupil at {pupil} mm: read both again"),
                    values! {"segment_height_mm" => top, "height_mm" => pupil},
                    Some(format!("not above {pupil} mm")),
                );
            }
        }
    },
};

pub(crate) static HEIGHT_LOW: Check = Check {
    id: CheckId::HeightLow,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a progressive lens is to be fitted lower than {height-low:1} mm and no least height of its design is recorded",
    ways_out: &["record the design's least height", "a deeper frame"],
    source: PRACTICE,
    run: |c, found| {
        let l = &c.job.lenses;
        if l.design != Some(Design::Progressive) || l.minimum_height_mm.is_some() {
            return;
        }
        let limit = c.threshold(Threshold::HeightLow);
        for eye in powered_eyes(c.job) {
            if let Some(height) = c.job.fitting.eye(eye).height_mm
                && height.get() + DUST < limit
            {
                found.add(
                    eye,
                    height_field(c.job, eye),
                    format!("{eye} height is {height} mm and the least height of the design is not recorded: record it, or choose a deeper frame"),
                    values! {"height_mm" => height},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};
