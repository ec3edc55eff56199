//! The tray sheet: what the bench needs to make, read and true up a pair.
//!
//! A tray stands about in a practice, where other wearers see it. The sheet therefore names nobody:
//! initials and the job's number are enough to tell two trays apart, and the book has the rest.

use super::words::{
    MISSING, above_datum, at, day, eyes_table, fact, frame_name, initials, known, lens_facts, mm,
    only_known, powers_table, signed_mm, wide,
};
use super::{Block, Subject};
use crate::eye::Eye;
use crate::job::{Job, Stage};
use crate::tray_code;
use crate::worked::verification::target;

pub(super) fn blocks(of: Subject<'_>) -> Vec<Block> {
    let job = of.job;
    let mut blocks = vec![
        Block::Code {
            number: of.number.to_owned(),
            code: tray_code::encode(of.number),
        },
        Block::Facts {
            title: "Job".to_owned(),
            facts: about(job, of),
        },
    ];
    let how = match (
        job.lenses.laboratory_powers.is_some(),
        job.lenses.powers_as(),
    ) {
        (true, _) => "as the laboratory states, else as ordered".to_owned(),
        (false, Some(kind)) => format!("as ordered: {kind}"),
        (false, None) => "as ordered".to_owned(),
    };
    match powers_table("Powers to be read", |eye| target(job, eye), &how) {
        Some(table) => blocks.push(table),
        None => blocks.push(Block::Lines {
            title: "Powers to be read".to_owned(),
            lines: vec!["No powers are ordered yet.".to_owned()],
            boxes: false,
        }),
    }
    blocks.push(places(job));
    let lenses = lens_facts(job);
    if !lenses.is_empty() {
        blocks.push(Block::Facts {
            title: "Lenses".to_owned(),
            facts: lenses,
        });
    }
    let frame = frame_facts(job);
    if !frame.is_empty() {
        blocks.push(Block::Facts {
            title: "Frame".to_owned(),
            facts: frame,
        });
    }
    blocks.push(Block::Lines {
        title: "To true up".to_owned(),
        lines: true_up(job),
        boxes: true,
    });
    if let Some(notes) = known(job, "order.notes") {
        blocks.push(Block::Facts {
            title: "Notes".to_owned(),
            facts: vec![wide("order", notes)],
        });
    }
    blocks
}

fn about(job: &Job, of: Subject<'_>) -> Vec<super::Fact> {
    let stage = if job.is_past() {
        format!("{}, from before the book", job.stage())
    } else if job.stage() == Stage::Measured {
        "measured: nothing is ordered yet, values may change".to_owned()
    } else {
        job.stage().to_string()
    };
    let due = match job.order.due_on {
        Some(due) if job.is_late(of.today) => format!("{} (late)", day(Some(due))),
        due => day(due),
    };
    let wearer = job
        .wearer
        .name
        .as_deref()
        .map_or_else(|| MISSING.to_owned(), initials);
    let mut facts = vec![
        fact("stage", stage),
        fact("due from the laboratory", due),
        fact("promised", day(job.promised_on)),
        fact("wearer", wearer),
        fact("frame", frame_name(job)),
        fact("laboratory", at(job, "order.laboratory")),
    ];
    facts.extend(only_known(vec![
        fact("collection", at(job, "job.collection_at")),
        fact("laboratory's reference", at(job, "order.reference")),
        fact("begun as", at(job, "job.reason")),
        fact("follows job", at(job, "job.linked_to")),
    ]));
    facts
}

/// Centration and heights of both eyes.
pub(super) fn places(job: &Job) -> Block {
    let row = |eye: Eye| {
        let f = job.fitting.eye(eye);
        vec![
            mm(f.cd_mm),
            mm(f.near_cd_mm),
            mm(f.height_mm),
            signed_mm(above_datum(job, f.height_mm)),
            mm(f.segment_height_mm),
            signed_mm(above_datum(job, f.segment_height_mm)),
        ]
    };
    eyes_table(
        "Centration and heights, mm",
        &[
            "CD",
            "near CD",
            "height",
            "from datum",
            "segment top",
            "from datum",
        ],
        row,
        "CD from the middle of the bridge; heights above the lowest tangent of the lens shape, and from the datum line (+ above)",
    )
}

fn frame_facts(job: &Job) -> Vec<super::Fact> {
    let pads: Vec<String> = [
        known(job, "frame.pads.material"),
        known(job, "frame.pads.mount"),
        known(job, "frame.pads.size_mm"),
    ]
    .into_iter()
    .flatten()
    .collect();
    let pads = if pads.is_empty() {
        MISSING.to_owned()
    } else {
        pads.join(", ")
    };
    only_known(vec![
        fact("lens width A", at(job, "frame.a_mm")),
        fact("lens height B", at(job, "frame.b_mm")),
        fact("between lenses", at(job, "frame.dbl_mm")),
        fact("effective diameter", at(job, "frame.ed_mm")),
        fact("side", at(job, "frame.side_mm")),
        fact("rim", at(job, "frame.rim")),
        fact("front", at(job, "frame.front_material")),
        fact("condition", at(job, "frame.condition")),
        fact("pads", pads),
    ])
}

/// What is set and trued before the pair is handed over, each with its number.
fn true_up(job: &Job) -> Vec<String> {
    let mut lines =
        vec!["Front in line, sides open alike and lie level on a flat surface".to_owned()];
    let bend = |eye: Eye| mm(job.fitting.eye(eye).length_to_bend_mm);
    let (right, left) = (bend(Eye::Right), bend(Eye::Left));
    if right != MISSING || left != MISSING {
        lines.push(format!("Length to bend: right {right} mm, left {left} mm"));
    }
    if let Some(tilt) = known(job, "fitting.pantoscopic_deg") {
        lines.push(format!("Pantoscopic angle {tilt}, both sides alike"));
    }
    if let Some(wrap) = known(job, "fitting.face_form_deg") {
        lines.push(format!("Face-form angle {wrap}"));
    }
    if let Some(head) = known(job, "fitting.head_width_mm") {
        lines.push(format!("Width at the ear points {head}"));
    }
    if job.frame.pads.is_some() {
        lines.push("Pads symmetrical and at the same height".to_owned());
    }
    lines.push("Screws tight, lenses firm in the rims, surfaces clean".to_owned());
    lines
}
