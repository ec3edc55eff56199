//! The order sheet: everything a laboratory needs for these lenses, and no name of a wearer.

use super::content::{Block, Fact, MISSING, Subject};
use super::drawing::Drawing;
use super::front::{Seen, front};
use super::ordered_facts::{frame_source, made_to, named_lenses, placed};
use super::value_text::{
    IN_LENS_FACTS, above_datum, at, day, eyes_table, fact, frame_name, known, length, lens_facts,
    listed_without, mm, only_known, powers_table, prescription_table, signed_mm, wide,
};
use crate::job::fields::{FieldRef, at};
use crate::job::{Design, EyePower, Job, PowersAs, Section, Stage};
use crate::judge::derive::compensates::in_words;
use crate::judge::derive::places::{
    CdSource, is_centred_near, lowered_mm, ordered_cd, ordered_height_mm, working_mm,
};
use crate::judge::derive::sight::sight_shift;
use crate::judge::derive::verification::{awaits_statement, target};
use crate::trade::eye::Eye;
use crate::trade::optics::centration::frame_centre_distance_mm;
use crate::trade::units::Millimetre;

pub(super) fn blocks(of: Subject<'_>) -> Vec<Block> {
    let job = of.job;
    let mut blocks = vec![Block::Facts {
        title: "Order".to_owned(),
        facts: about(job, of.number),
    }];
    blocks.extend(powers(job));
    blocks.push(places(job));
    blocks.push(Block::Facts {
        title: "Lenses".to_owned(),
        facts: [
            named_lenses(job),
            lens_facts(job),
            made_to(job),
            special_facts(job),
        ]
        .concat(),
    });
    blocks.push(Block::Facts {
        title: "Frame, boxed".to_owned(),
        facts: frame(job),
    });
    blocks.push(as_worn(job));
    match front(of, Seen::Front, false) {
        Ok(drawing) => blocks.push(fitting(of, drawing)),
        Err(why) => blocks.push(Block::Lines {
            title: "Drawing".to_owned(),
            lines: vec![why],
            boxes: false,
        }),
    }
    let notes: Vec<_> = [
        ("order", at!(order.notes)),
        ("prescription", at!(prescription.notes)),
    ]
    .into_iter()
    .filter_map(|(label, path)| Some(wide(label, known(job, path)?)))
    .collect();
    if !notes.is_empty() {
        blocks.push(Block::Facts {
            title: "Notes".to_owned(),
            facts: notes,
        });
    }
    blocks
}

/// Listed fields that [`special_facts`] shows.
const IN_SPECIAL_FACTS: [FieldRef; 5] = [
    at!(lenses.prism_control.eye),
    at!(lenses.prism_control.amount_delta),
    at!(lenses.prism_control.line_height_mm),
    at!(lenses.impact_mark),
    at!(lenses.impact_asked),
];

/// Prism control and impact marks, which are read in the parcel without looking at the order.
fn special_facts(job: &Job) -> Vec<Fact> {
    let control = job.lenses.prism_control.as_ref().map(|control| {
        let amount = known(job, at!(lenses.prism_control.amount_delta));
        let eye = control.eye.map(|eye| format!("base up in the {eye} lens"));
        let line = known(job, at!(lenses.prism_control.line_height_mm))
            .map(|mm| format!("line {mm} above the lowest tangent"));
        let parts: Vec<String> = [amount, eye, line].into_iter().flatten().collect();
        parts.join(", ")
    });
    let marks: Vec<String> = [
        known(job, at!(lenses.impact_mark)),
        known(job, at!(lenses.impact_asked)).map(|mark| format!("the workplace asks {mark}")),
    ]
    .into_iter()
    .flatten()
    .collect();
    let facts = [
        ("prism control", control.unwrap_or_default()),
        ("impact mark of the lenses", marks.join(", ")),
    ];
    let known = facts.into_iter().filter(|(_, value)| !value.is_empty());
    known.map(|(label, value)| fact(label, value)).collect()
}

/// Centration and heights of both eyes.
fn places(job: &Job) -> Block {
    let row = |eye: Eye| {
        let f = job.fitting.eye(eye);
        // The near CD of a near pair is worked out where it was not measured.
        let near = match ordered_cd(job, eye) {
            Some((cd, CdSource::NearPd | CdSource::WorkedOut)) => format!("{}*", length(Some(cd))),
            _ => mm(f.near_cd_mm),
        };
        let height = ordered_height_mm(job, eye).and_then(|mm| Millimetre::new(mm).ok());
        vec![
            mm(f.cd_mm),
            near,
            mm(height),
            signed_mm(above_datum(job, height)),
            mm(f.segment_height_mm),
            signed_mm(above_datum(job, f.segment_height_mm)),
        ]
    };
    let mut note = "CD from the middle of the bridge; heights above the lowest tangent of the lens shape, and from the datum line (+ above)".to_owned();
    if is_centred_near(job) {
        note.push_str("; centre the lenses at the near CD, not at the CD");
        let sources = Eye::BOTH.map(|eye| ordered_cd(job, eye).map(|(_, source)| source));
        if sources.contains(&Some(CdSource::NearPd)) {
            note.push_str(" (* worked out from the near PD, split in the ratio of the CDs)");
        }
        if sources.contains(&Some(CdSource::WorkedOut)) {
            let task = format!(" (* worked out from the CD for {:.0} mm)", working_mm(job));
            note.push_str(&task);
        }
    }
    let lowered = lowered_mm(job);
    if lowered.abs() > 0.0 {
        let below = format!("; heights of the optical centres, {lowered:.1} mm below the pupils");
        note.push_str(&below);
    }
    let moved = Eye::BOTH.map(|eye| (eye, sight_shift(job, eye)));
    if moved.iter().any(|(_, shift)| !shift.is_none()) {
        let each = moved.map(|(eye, shift)| format!("{eye} {}", shift.says()));
        let measured = if job.fitting.prism_in_place == Some(true) {
            "with"
        } else {
            "without"
        };
        let moves = format!(
            "; the prescribed prism moves the lines of sight: {} (measured {measured} the prism in place)",
            each.join(", ")
        );
        note.push_str(&moves);
    }
    let placed = [&IN_LENS_FACTS[..], &IN_SPECIAL_FACTS[..], &placed(job)].concat();
    // What was read, asked or handed over is no matter of the laboratory's.
    let sections = [Section::Fitting, Section::Frame, Section::Lenses];
    let also = listed_without(job, &sections, &placed, "; ");
    if !also.is_empty() {
        note = format!("{note}; {also}");
    }
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
        &note,
    )
}

/// A drawing wider than the paper is not scaled down: it would be taken for 1:1.
pub(super) fn fitting(of: Subject<'_>, drawing: Drawing) -> Block {
    let room = room_mm(of);
    if drawing.width_mm <= room {
        return Block::Drawing(drawing);
    }
    let mut lines = vec![format!(
        "The front is {:.0} mm wide and does not fit the paper at 1:1 ({room:.0} mm): it is given in words.",
        drawing.width_mm
    )];
    lines.extend(drawing.words);
    Block::Lines {
        title: drawing.title,
        lines,
        boxes: false,
    }
}

fn room_mm(of: Subject<'_>) -> f64 {
    of.practice.printing.paper.size_mm().0 - 2.0 * super::MARGIN_MM
}

fn about(job: &Job, number: &str) -> Vec<Fact> {
    let lens = |eye: Eye| {
        let word = if job.prescription.eye(eye).is_balance() {
            "1 balance lens"
        } else if target(job, eye).is_some() {
            "1 lens"
        } else {
            "none ordered"
        };
        format!("{eye} {word}")
    };
    let mut facts = Vec::new();
    // Paper that looks like an order is taken for one.
    match job.stage() {
        Stage::Measured => facts.push(wide(
            "not ordered yet",
            "the order has not passed its checks and may change: do not make these lenses",
        )),
        Stage::Cancelled => facts.push(wide("cancelled", "do not make these lenses")),
        Stage::Ordered | Stage::Verified | Stage::Collected => {}
    }
    facts.extend([
        fact("our reference", number),
        fact("laboratory", at(job, at!(order.laboratory))),
        fact("ordered", day(job.order.ordered_on)),
        fact("due back", day(job.order.due_on)),
        fact(
            "quantity",
            format!("{}, {}", lens(Eye::Right), lens(Eye::Left)),
        ),
    ]);
    facts.extend(only_known(vec![
        fact("your reference", at(job, at!(order.reference))),
        fact("begun as", at(job, at!(job.reason))),
        fact("follows job", at(job, at!(job.linked_to))),
    ]));
    facts
}

/// Ordered powers with their kind, the verification powers, and the prescription.
fn powers(job: &Job) -> Vec<Block> {
    let kind = job.lenses.powers_as();
    let what = match kind {
        None => "it is not recorded what they are: ask before making them".to_owned(),
        Some(PowersAs::AdaptedToTheTask) => {
            let task = job.lenses.powers.as_ref().and_then(|p| p.distance_mm);
            let task = task.map_or_else(String::new, |mm| format!(" at {mm} mm"));
            format!("adapted to the task{task}; {}", in_words(job))
        }
        Some(kind) if kind.is_as_written() => format!("as prescribed; {}", in_words(job)),
        Some(_) => in_words(job),
    };
    let what = match job.lenses.powers.as_ref().and_then(|p| p.by.as_deref()) {
        Some(by) if kind.is_some_and(|k| !k.is_as_written()) => {
            format!("{what} (worked out by {by})")
        }
        _ => what,
    };
    let ordered = |eye: Eye| -> Option<EyePower> {
        let powers = job.lenses.powers.as_ref()?.eye(eye).clone();
        powers.sphere_d.is_some().then_some(powers)
    };
    let Some(table) = powers_table("Powers ordered", ordered, &what) else {
        return vec![prescription_table(
            job,
            "no powers are ordered yet: this is the prescription only",
        )];
    };
    let mut blocks = vec![table];
    blocks.extend(focimeter(job));
    blocks.push(prescription_table(
        job,
        "for information: the powers to be made are those ordered",
    ));
    blocks
}

/// What a focimeter should read; of a lens that the laboratory compensates, that it is to say so: the
/// powers ordered are not it.
fn focimeter(job: &Job) -> Option<Block> {
    let title = "A focimeter should read";
    let awaits = |eye: &Eye| target(job, *eye).is_some() && awaits_statement(job, *eye);
    let waiting: Vec<&str> = (Eye::BOTH.iter().filter(|eye| awaits(eye)))
        .map(|eye| eye.word())
        .collect();
    let to_state = format!(
        "{}: to be stated by you, who compensate; not the powers ordered",
        waiting.join(" and ")
    );
    let note = if job.lenses.laboratory_powers.is_some() {
        "as the laboratory states; where it states nothing, as ordered"
    } else if job.lenses.design == Some(Design::Office) {
        "at the near reference point: the power ordered with its addition, which does not show as one; state it on the delivery where your lenses read otherwise"
    } else {
        "the powers ordered; state it on the delivery where your lenses read otherwise"
    };
    let note = if waiting.is_empty() {
        note.to_owned()
    } else {
        format!("{note}; {to_state}")
    };
    let known = |eye: Eye| target(job, eye).filter(|_| !awaits(&eye));
    powers_table(title, known, &note).or_else(|| {
        (!waiting.is_empty()).then(|| Block::Lines {
            title: title.to_owned(),
            lines: vec![to_state],
            boxes: false,
        })
    })
}

fn frame(job: &Job) -> Vec<Fact> {
    let centres = match (job.frame.a_mm, job.frame.dbl_mm) {
        (Some(a), Some(dbl)) => {
            format!("{:.1} mm", frame_centre_distance_mm(a.get(), dbl.get()))
        }
        _ => MISSING.to_owned(),
    };
    let mut facts = vec![
        fact("lens width A", at(job, at!(frame.a_mm))),
        fact("lens height B", at(job, at!(frame.b_mm))),
        fact("effective diameter", at(job, at!(frame.ed_mm))),
        fact("between lenses", at(job, at!(frame.dbl_mm))),
        fact("between boxed centres", centres),
    ];
    facts.extend(only_known(vec![fact("frame", frame_name(job))]));
    facts.extend(frame_source(job));
    facts.extend(only_known(vec![
        fact("rim", at(job, at!(frame.rim))),
        fact("front", at(job, at!(frame.front_material))),
        fact("curve of the front", at(job, at!(frame.base_d))),
        fact("condition", at(job, at!(frame.condition))),
        fact("wearer's own", at(job, at!(frame.owned_by_wearer))),
    ]));
    facts
}

/// Position of wear, for a compensation by the laboratory.
fn as_worn(job: &Job) -> Block {
    let beside: Vec<String> = [
        ("pantoscopic angle", at!(fitting.pantoscopic_deg)),
        ("face-form angle", at!(fitting.face_form_deg)),
        (
            "tested at vertex distance",
            at!(prescription.tested_vertex_mm),
        ),
        ("working distance", at!(prescription.working_mm)),
    ]
    .into_iter()
    .map(|(label, path)| (label, at(job, path)))
    .filter(|(_, value)| value != MISSING)
    .map(|(label, value)| format!("{label} {value}"))
    .collect();
    eyes_table(
        "As worn",
        &["vertex distance mm"],
        |eye| vec![mm(job.fitting.eye(eye).vertex_mm)],
        &beside.join("; "),
    )
}
