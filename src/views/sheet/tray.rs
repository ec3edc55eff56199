//! The tray sheet: what the bench needs to find, true up and read a pair.
//!
//! It lies next to the focimeter. Seeing the ordered power biases the reading, so the values
//! that are read are not on it: powers, prism, centres, heights. The order sheet has them.
//!
//! Other wearers may see a tray. The sheet therefore names nobody:
//! initials and the job's number are enough to tell two trays apart, and the book has the rest.

use super::content::{Block, MISSING, Subject};
use super::value_text::{
    THINNING, at, day, fact, frame_name, initials, known, lens_facts, mm, only_known, wide,
};
use crate::job::fields::at;
use crate::job::tray_code;
use crate::job::{Job, Stage};
use crate::trade::eye::Eye;

/// Explains that the values to read are on the order sheet.
const READING: [&str; 2] = [
    "Powers, prism, centres and heights are not on this sheet: read both lenses first, then compare.",
    "They are on the order sheet, for whoever makes or marks up the lenses.",
];

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
    blocks.push(Block::Lines {
        title: "Reading the pair".to_owned(),
        lines: READING.map(str::to_owned).to_vec(),
        boxes: false,
    });
    let lenses: Vec<_> = lens_facts(job)
        .into_iter()
        .filter(|f| f.label != THINNING)
        .collect();
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
    if let Some(notes) = known(job, at!(order.notes)) {
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
        fact("laboratory", at(job, at!(order.laboratory))),
    ];
    facts.extend(only_known(vec![
        fact("collection", at(job, at!(job.collection_at))),
        fact("laboratory's reference", at(job, at!(order.reference))),
        fact("begun as", at(job, at!(job.reason))),
        fact("follows job", at(job, at!(job.linked_to))),
    ]));
    facts
}

fn frame_facts(job: &Job) -> Vec<super::Fact> {
    let pads: Vec<String> = [
        known(job, at!(frame.pads.material)),
        known(job, at!(frame.pads.mount)),
        known(job, at!(frame.pads.size_mm)),
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
        fact("lens width A", at(job, at!(frame.a_mm))),
        fact("lens height B", at(job, at!(frame.b_mm))),
        fact("between lenses", at(job, at!(frame.dbl_mm))),
        fact("effective diameter", at(job, at!(frame.ed_mm))),
        fact("side", at(job, at!(frame.side_mm))),
        fact("rim", at(job, at!(frame.rim))),
        fact("front", at(job, at!(frame.front_material))),
        fact("condition", at(job, at!(frame.condition))),
        fact("pads", pads),
    ])
}

/// What is set and trued before the pair is handed over, each with its number.
fn true_up(job: &Job) -> Vec<String> {
    let mut lines =
        vec!["Front in line, sides open alike and lie level on a flat surface".to_owned()];
    let bend = |eye: Eye| Some(mm(Some(job.fitting.eye(eye).length_to_bend_mm?)));
    let bends: Vec<String> = Eye::BOTH
        .into_iter()
        .filter_map(|eye| Some(format!("{eye} {} mm", bend(eye)?)))
        .collect();
    if !bends.is_empty() {
        lines.push(format!("Length to bend: {}", bends.join(", ")));
    }
    if let Some(tilt) = known(job, at!(fitting.pantoscopic_deg)) {
        lines.push(format!("Pantoscopic angle {tilt}, both sides alike"));
    }
    if let Some(wrap) = known(job, at!(fitting.face_form_deg)) {
        lines.push(format!("Face-form angle {wrap}"));
    }
    if let Some(head) = known(job, at!(fitting.head_width_mm)) {
        lines.push(format!("Width at the ear points {head}"));
    }
    if job.frame.pads.is_some() {
        lines.push("Pads symmetrical and at the same height".to_owned());
    }
    lines.push("Screws tight, lenses firm in the rims, surfaces clean".to_owned());
    lines
}
