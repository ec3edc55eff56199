//! Checks of the frame: measured, plausible, wide and long enough, sound.

use super::values;
use super::vertex::difference_mm;
use crate::job::fields::at;
use crate::job::{Condition, Gate, Rim, SideShape};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::tolerance::DUST;

pub(crate) static FRAME_MISSING: Check = Check {
    id: CheckId::FrameMissing,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "boxed width, boxed height or distance between lenses is missing",
    ways_out: &["measure the frame"],
    source: "ISO 8624 boxed system",
    run: |c, found| {
        let f = &c.job.frame;
        let missing: Vec<(&str, &str)> = [
            (at!(frame.a_mm).full(), "boxed width", f.a_mm),
            (at!(frame.b_mm).full(), "boxed height", f.b_mm),
            (
                at!(frame.dbl_mm).full(),
                "distance between lenses",
                f.dbl_mm,
            ),
        ]
        .into_iter()
        .filter(|(_, _, v)| v.is_none())
        .map(|(field, name, _)| (field, name))
        .collect();
        // The entry to go to is the first that is still missing.
        if let Some(&(field, _)) = missing.first() {
            let names: Vec<&str> = missing.iter().map(|(_, name)| *name).collect();
            found.add(
                About::Job,
                field,
                format!("not measured: {}", names.join(", ")),
                values! {"a_mm" => f.a_mm, "b_mm" => f.b_mm, "dbl_mm" => f.dbl_mm},
                None,
            );
        }
    },
};

pub(crate) static FRAME_BOXED: Check = Check {
    id: CheckId::FrameBoxed,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "boxed width outside {box-a-low:0} to {box-a-high:0}, height {box-b-low:0} to {box-b-high:0}, distance between lenses {dbl-low:0} to {dbl-high:0} mm, or an effective diameter that the box cannot have",
    ways_out: &["measure the frame again"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.frame;
        let rows = [
            (
                at!(frame.a_mm),
                "boxed width",
                f.a_mm,
                Threshold::BoxALow,
                Threshold::BoxAHigh,
            ),
            (
                at!(frame.b_mm),
                "boxed height",
                f.b_mm,
                Threshold::BoxBLow,
                Threshold::BoxBHigh,
            ),
            (
                at!(frame.dbl_mm),
                "distance between lenses",
                f.dbl_mm,
                Threshold::DblLow,
                Threshold::DblHigh,
            ),
        ];
        for (field, name, value, low, high) in rows {
            let (low, high) = (c.threshold(low), c.threshold(high));
            if let Some(value) = value
                && (value.get() + DUST < low || value.get() > high + DUST)
            {
                found.add(
                    About::Job,
                    field,
                    format!("{name} {value} mm"),
                    values! {"what" => name, "value_mm" => value},
                    Some(format!("{low:.0} to {high:.0} mm")),
                );
            }
        }
        if let (Some(a), Some(b), Some(ed)) = (f.a_mm, f.b_mm, f.ed_mm) {
            let (low, high) = (a.get().max(b.get()), a.get().hypot(b.get()));
            if ed.get() + DUST < low || ed.get() > high + DUST {
                found.add(
                    About::Job,
                    at!(frame.ed_mm),
                    format!("effective diameter {ed} mm does not go with a box of {a} by {b} mm"),
                    values! {"a_mm" => a, "b_mm" => b, "ed_mm" => ed},
                    Some(format!("{low:.1} to {high:.1} mm")),
                );
            }
        }
    },
};

pub(crate) static FRAME_NARROW: Check = Check {
    id: CheckId::FrameNarrow,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the head is wider than the front by more than {narrow-straight:1} mm with straight sides, {narrow-curved:1} with curved",
    ways_out: &["a wider frame", "curved sides"],
    source: PRACTICE,
    run: |c, found| {
        let (Some(head), Some(front)) = (c.job.fitting.head_width_mm, c.job.frame.front_width_mm)
        else {
            return;
        };
        let limit = c.threshold(if c.job.frame.side_shape == Some(SideShape::Curved) {
            Threshold::NarrowCurved
        } else {
            Threshold::NarrowStraight
        });
        let narrower = head.get() - front.get();
        if narrower > limit + DUST {
            found.add(
                About::Job,
                at!(frame.front_width_mm),
                format!(
                    "head {head} mm, front {front} mm: {narrower:.1} mm too narrow to bear evenly"
                ),
                values! {"head_mm" => head, "front_mm" => front, "sides" => c.job.frame.side_shape},
                Some(format!("{limit:.1} mm")),
            );
        }
    },
};

pub(crate) static FRAME_WIDE: Check = Check {
    id: CheckId::FrameWide,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the front is wider than the head by more than {wide:1} mm",
    ways_out: &["a smaller frame"],
    source: PRACTICE,
    run: |c, found| {
        let (Some(head), Some(front)) = (c.job.fitting.head_width_mm, c.job.frame.front_width_mm)
        else {
            return;
        };
        let limit = c.threshold(Threshold::Wide);
        let wider = front.get() - head.get();
        if wider > limit + DUST {
            found.add(
                About::Job,
                at!(frame.front_width_mm),
                format!("front {front} mm, head {head} mm: {wider:.1} mm too wide"),
                values! {"head_mm" => head, "front_mm" => front},
                Some(format!("{limit:.1} mm")),
            );
        }
    },
};

pub(crate) static SIDE_SHORT: Check = Check {
    id: CheckId::SideShort,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a length to bend leaves less than {behind-bend:0} mm of side behind the ear",
    ways_out: &["a longer side"],
    source: PRACTICE,
    run: |c, found| {
        let Some(side) = c.job.frame.side_mm else {
            return;
        };
        let behind = c.threshold(Threshold::BehindBend);
        for eye in Eye::BOTH {
            if let Some(bend) = c.job.fitting.eye(eye).length_to_bend_mm
                && bend.get() > side.get() - behind + DUST
            {
                found.add(
                    eye,
                    at!(fitting[eye].length_to_bend_mm),
                    format!("{eye} length to bend {bend} mm of a {side} mm side leaves {:.0} mm behind the ear", side.get() - bend.get()),
                    values! {"length_to_bend_mm" => bend, "side_mm" => side},
                    Some(format!("{behind:.0} mm behind the bend")),
                );
            }
        }
    },
};

pub(crate) static BEND_ASYMMETRY: Check = Check {
    id: CheckId::BendAsymmetry,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the lengths to bend differ by {bend-asymmetry:0} mm or more (a note from {bend-asymmetry-note:0})",
    ways_out: &["order and set each side"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.fitting;
        let (Some(r), Some(l)) = (f.right.length_to_bend_mm, f.left.length_to_bend_mm) else {
            return;
        };
        let apart = difference_mm(r, l);
        let (warn, note) = (
            c.threshold(Threshold::BendAsymmetry),
            c.threshold(Threshold::BendAsymmetryNote),
        );
        let severity = if apart + DUST >= warn {
            Severity::Warning
        } else if apart + DUST >= note {
            Severity::Note
        } else {
            return;
        };
        found.add_as(
            severity,
            About::Pair,
            at!(fitting.right.length_to_bend_mm),
            format!("lengths to bend right {r}, left {l} mm: {apart:.1} mm apart"),
            values! {"right_mm" => r, "left_mm" => l},
            Some(format!("{warn:.0} mm")),
        );
    },
};

pub(crate) static FRAME_CONDITION: Check = Check {
    id: CheckId::FrameCondition,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the wearer's own frame is worn or cracked",
    ways_out: &["a written warning that it may break", "another frame"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.frame;
        let poor = f
            .condition
            .filter(|s| matches!(s, Condition::Worn | Condition::Cracked));
        if let (Some(true), Some(state)) = (f.owned_by_wearer, poor) {
            found.add(
                About::Job,
                at!(frame.condition),
                format!("the wearer's own frame is {state}: it may break when it is glazed"),
                values! {"condition" => state, "owned_by_wearer" => true},
                None,
            );
        }
    },
};

pub(crate) static MATERIAL_RIM: Check = Check {
    id: CheckId::MaterialRim,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "resin 1.50 or glass in a rimless frame",
    ways_out: &["another material", "another frame"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.frame.rim != Some(Rim::Rimless) {
            return;
        }
        let Some(material) = crate::judge::derive::lens::material(c.job) else {
            return;
        };
        if material.key == "resin 1.50" || material.is_glass() {
            found.add(
                About::Job,
                at!(lenses.material),
                format!("{} breaks at the holes of a rimless frame", material.key),
                values! {"material" => material.key, "rim" => c.job.frame.rim},
                None,
            );
        }
    },
};

pub(crate) static FRAME_UNNAMED: Check = Check {
    id: CheckId::FrameUnnamed,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a frame that is not the wearer's own has no name or no rim",
    ways_out: &["name it"],
    source: "records rule of the practice",
    run: |c, found| {
        let f = &c.job.frame;
        if f.owned_by_wearer == Some(true) {
            return;
        }
        let is_named = f.name.as_deref().is_some_and(|n| !n.trim().is_empty());
        let missing: Vec<(&str, &str)> = [
            (at!(frame.name).full(), "name", is_named),
            (at!(frame.rim).full(), "rim", f.rim.is_some()),
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
                format!("the frame has no {}: enter what is to be ordered, or that it is the wearer's own", names.join(" and no ")),
                values! {"name" => f.name, "rim" => f.rim, "owned_by_wearer" => f.owned_by_wearer},
                None,
            );
        }
    },
};

pub(crate) static FRAME_UNSEEN: Check = Check {
    id: CheckId::FrameUnseen,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the wearer's own frame is used and its condition is not recorded",
    ways_out: &["look at it: worn and cracked frames break when they are heated"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.frame;
        if f.owned_by_wearer == Some(true) && f.condition.is_none() {
            found.add(
                About::Job,
                at!(frame.condition),
                "the condition of the wearer's own frame is not recorded: look for cracks and worn places, they break when it is heated",
                values! {"owned_by_wearer" => f.owned_by_wearer, "condition" => f.condition},
                None,
            );
        }
    },
};

pub(crate) static CURVE_MISMATCH: Check = Check {
    id: CheckId::CurveMismatch,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "in a frame of curve {curve-from:2} or more the lens is flatter by more than {curve-flatter:2} D or steeper by more than {curve-steeper:2} D",
    ways_out: &["another front curve"],
    source: PRACTICE,
    run: |c, found| {
        let (Some(frame), Some(lens)) = (c.job.frame.base_d, c.job.lenses.base_d) else {
            return;
        };
        let (flatter, steeper) = (
            c.threshold(Threshold::CurveFlatter),
            c.threshold(Threshold::CurveSteeper),
        );
        let by = lens.get() - frame.get();
        let fits = (-flatter - DUST..=steeper + DUST).contains(&by);
        if frame.get() + DUST < c.threshold(Threshold::CurveFrom) || fits {
            return;
        }
        found.add(
            About::Job,
            at!(lenses.base_d),
            format!(
                "the lens has a front curve of {lens} D, the frame of {frame} D: {:.2} D {}; choose another front curve",
                by.abs(),
                if by < 0.0 { "flatter" } else { "steeper" }
            ),
            values! {"frame_d" => frame, "lens_d" => lens},
            Some(format!("{flatter:.2} D flatter, {steeper:.2} D steeper")),
        );
    },
};
