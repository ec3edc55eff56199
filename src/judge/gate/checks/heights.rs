//! Checks of the fitting heights.

use super::vertex::difference_mm;
use super::{nothing_yet, values};
use crate::job::{Design, Gate, Job};
use crate::judge::derive::places::design_height;
use crate::judge::derive::powers::powered_eyes;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
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

pub(crate) static HEIGHT_ASYMMETRY: Check = Check {
    id: CheckId::HeightAsymmetry,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the heights of the eyes differ by more than {height-asymmetry:1} mm",
    ways_out: &["level the frame and repeat"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.fitting;
        let limit = c.threshold(Threshold::HeightAsymmetry);
        if let (Some(r), Some(l)) = (
            design_height(c.job, &f.right),
            design_height(c.job, &f.left),
        ) && difference_mm(r, l) > limit + DUST
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
    run: nothing_yet,
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
    run: nothing_yet,
};
