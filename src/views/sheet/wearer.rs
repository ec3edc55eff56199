//! The wearer's sheet: prescription and fitting values as handed over, the pair, care and cautions.

use super::content::{Block, MISSING, Subject};
use super::ordered_facts::{frame_source, named_lenses, placed};
use super::value_text::{
    IN_LENS_FACTS, at, day, eyes_table, fact, frame_name, lens_facts, listed_without, mm,
    only_known, powers_table, prescription_table, wide,
};
use crate::job::fields::at;
use crate::job::{Design, Job, Purpose, Section};
use crate::judge::derive::office::clear_range_in_words;
use crate::judge::derive::places::{CdSource, is_centred_near, ordered_cd};
use crate::trade::eye::Eye;
use crate::trade::units::{Degree, Millimetre};

/// Below this luminous transmittance a lens is too dark for twilight and night driving, percent
/// (EN ISO 12312-1, 8.5: lenses under 75 %).
const NIGHT_PERCENT: f64 = 75.0;
/// The filter category that is never for driving (the same clause).
const NEVER_DRIVE: u8 = 4;

pub(super) fn blocks(of: Subject<'_>) -> Vec<Block> {
    let job = of.job;
    let mut blocks = vec![
        Block::Facts {
            title: "For".to_owned(),
            facts: about(job, of),
        },
        prescription_table(job, ""),
    ];
    if job.lenses.powers_as().is_some_and(|k| !k.is_as_written()) {
        blocks.extend(powers_table(
            "Powers of the lenses",
            |eye| {
                let power = job.lenses.powers.as_ref()?.eye(eye).clone();
                power.sphere_d.is_some().then_some(power)
            },
            "other than prescribed, because they are adapted to how the frame sits on your face",
        ));
    }
    blocks.push(values(job));
    blocks.push(Block::Facts {
        title: "Your pair".to_owned(),
        facts: pair(job),
    });
    blocks.push(Block::Lines {
        title: "Care".to_owned(),
        lines: [
            "Rinse the lenses with lukewarm water before you wipe them: dust scratches. Use a soft, clean cloth.",
            "Put the pair on and take it off with both hands; keep it in its case and away from heat, as in a parked car.",
            "Come back to have it adjusted when it slips, presses or sits crooked. Do not bend it yourself.",
        ]
        .map(str::to_owned)
        .to_vec(),
        boxes: false,
    });
    blocks.push(Block::Lines {
        title: "Please note".to_owned(),
        lines: cautions(of),
        boxes: false,
    });
    blocks.push(Block::Lines {
        title: "About the prescription".to_owned(),
        lines: vec![
            "The table above repeats what is recorded in our book; the prescription that the prescriber signed is what \
             counts. In the United Kingdom you are entitled to it after a sight test. What applies elsewhere, and for \
             how long it is valid, your prescriber can tell you."
                .to_owned(),
        ],
        boxes: false,
    });
    blocks
}

fn about(job: &Job, of: Subject<'_>) -> Vec<super::Fact> {
    let mut facts = vec![fact("name", at(job, at!(wearer.name)))];
    facts.extend(only_known(vec![
        fact("born", day(job.wearer.born)),
        fact("job", of.number),
        fact("sight test", day(job.prescription.tested_on)),
        fact("next test due", day(job.prescription.expires_on)),
        fact("prescriber", at(job, at!(prescription.prescriber))),
        fact("handed over", day(job.handover.given_on)),
    ]));
    if job.prescription.expires_on.is_none() {
        facts.push(wide(
            "next test due",
            "as your prescriber advised: no day is recorded",
        ));
    }
    if !of.practice.name.is_empty() {
        facts.push(wide("your practice", &*of.practice.name));
    }
    facts
}

/// The fitting values as handed over, each as measured where the handover recorded none.
fn values(job: &Job) -> Block {
    let mut measured = false;
    let mut one = |set: Option<Millimetre>, fitted: Option<Millimetre>| {
        if set.is_none() && fitted.is_some() {
            measured = true;
            format!("{}*", mm(fitted))
        } else {
            mm(set)
        }
    };
    let rows = Eye::BOTH.map(|eye| {
        let (f, h) = (job.fitting.eye(eye), job.handover.eye(eye));
        vec![
            one(None, f.cd_mm),
            match ordered_cd(job, eye) {
                Some((cd, CdSource::NearPd | CdSource::WorkedOut)) => format!("{cd:.1} worked out"),
                _ => one(None, f.near_cd_mm),
            },
            one(h.height_mm, f.height_mm),
            one(h.segment_height_mm, f.segment_height_mm),
            one(h.vertex_mm, f.vertex_mm),
            one(h.length_to_bend_mm, f.length_to_bend_mm),
        ]
    });
    let angle = |set: Option<Degree>, fitted: Option<Degree>| match (set, fitted) {
        (Some(a), _) => Some(format!("{}°", a.get())),
        (None, Some(a)) => Some(format!("{}°*", a.get())),
        (None, None) => None,
    };
    let mut notes = Vec::new();
    if is_centred_near(job) {
        notes.push("the lenses are centred at the near CD, not at the CD".to_owned());
    }
    if let Some(a) = angle(job.handover.pantoscopic_deg, job.fitting.pantoscopic_deg) {
        notes.push(format!("pantoscopic angle {a}"));
    }
    if let Some(a) = angle(job.handover.face_form_deg, job.fitting.face_form_deg) {
        notes.push(format!("face-form angle {a}"));
    }
    let sections = [
        Section::Wearer,
        Section::Prescription,
        Section::Fitting,
        Section::Frame,
        Section::Lenses,
    ];
    // What the pair is stands with it; who compensated what is no matter of the wearer's.
    let marks = [at!(lenses.impact_mark), at!(lenses.impact_asked)];
    let elsewhere = [&IN_LENS_FACTS[..], &placed(job), &marks].concat();
    let also = listed_without(job, &sections, &elsewhere, "; ");
    if !also.is_empty() {
        notes.push(also);
    }
    if measured || notes.iter().any(|n| n.ends_with('*')) {
        notes.push("* as measured and ordered; the others as handed over".to_owned());
    }
    let [right, left] = rows;
    eyes_table(
        "Fitting values, mm",
        &[
            "CD",
            "near CD",
            "height",
            "segment top",
            "vertex distance",
            "length to bend",
        ],
        |eye| match eye {
            Eye::Right => right.clone(),
            Eye::Left => left.clone(),
        },
        &notes.join("; "),
    )
}

fn pair(job: &Job) -> Vec<super::Fact> {
    let size = match (job.frame.a_mm, job.frame.dbl_mm) {
        (Some(_), Some(_)) => format!(
            "{} - {}, height {}",
            mm(job.frame.a_mm),
            mm(job.frame.dbl_mm),
            mm(job.frame.b_mm)
        ),
        _ => MISSING.to_owned(),
    };
    let mut facts = vec![fact("frame", frame_name(job))];
    facts.extend(only_known(vec![
        fact("size", size),
        fact("side", at(job, at!(frame.side_mm))),
    ]));
    facts.extend(frame_source(job));
    facts.extend(
        (named_lenses(job).into_iter()).map(|f| fact(&format!("lens {}", f.label), f.value)),
    );
    let mark = fact(
        "impact mark of the lenses",
        at(job, at!(lenses.impact_mark)),
    );
    facts.extend(only_known(vec![mark]));
    facts.extend(lens_facts(job).into_iter().filter(|f| {
        matches!(
            f.label.as_str(),
            "design"
                | "purpose"
                | "material"
                | "refractive index"
                | "coatings"
                | "tint"
                | "segment"
        )
    }));
    facts
}

fn cautions(of: Subject<'_>) -> Vec<String> {
    let job = of.job;
    let mut lines = vec![
        "See us or your prescriber soon when you see double, get headaches or cannot get used to the pair within two \
         weeks; at once when your sight changes suddenly, with or without the pair."
            .to_owned(),
    ];
    if job.lenses.design.is_some_and(Design::needs_addition) {
        lines.push(
            "The lower part of the lenses is for near: take care on stairs and kerbs until you are used to it."
                .to_owned(),
        );
    }
    if matches!(
        job.lenses.purpose,
        Some(Purpose::Near | Purpose::Intermediate)
    ) || job.lenses.design == Some(Design::Office)
    {
        lines.push("This pair is not for driving: it does not make the distance clear.".to_owned());
    }
    if let Some(range) = clear_range_in_words(job, of.today) {
        lines.push(format!(
            "The lenses are clear {range} from your eyes; what is further away is not clear."
        ));
    }
    if let Some(tint) = &job.lenses.tint {
        if tint.category == Some(NEVER_DRIVE) {
            lines.push("The tint is too dark for driving at any time.".to_owned());
        } else if tint
            .transmittance_percent
            .is_some_and(|t| t.get() < NIGHT_PERCENT)
            || tint.category.is_some_and(|c| c >= 1)
        {
            lines.push("The tint is too dark for driving in twilight or at night.".to_owned());
        }
    }
    if !matches!(job.lenses.purpose, Some(Purpose::Safety | Purpose::Sport)) {
        lines.push(
            "These are no safety spectacles: they do not protect at work or in sport.".to_owned(),
        );
    }
    lines
}
