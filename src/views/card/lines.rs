//! The lines of the card, in the order in which a practice reads them.

use crate::job::fields::{FieldRef, at};
use crate::judge::derive::tint::category_in_words;
use chrono::NaiveDate;

use super::budgets::{BudgetLine, Budgets, Wording, longest_that_fits};
use super::card_data::{CardData, Written};
use super::card_line::{CardLine, Emphasis, LABEL_WIDTH, MISSING, WIDE_FROM, fit};
use super::changed_by_repairs::Changed;
use super::value_text::{angle, at, both, joined, known, prescription, short_both};
use crate::job::Job;
use crate::judge::derive::places::{CdSource, ordered_cd};
use crate::practice::Practice;
use crate::trade::eye::Eye;
use unicode_width::UnicodeWidthStr;

/// The measurements of the line of angles.
const ANGLES: [&str; 2] = ["tilt", "face form"];

/// Below this age supply is restricted.
const ADULT_YEARS: i32 = 16;

/// Returns the card of a job for a width in columns: wide from [`WIDE_FROM`] on, else narrow.
///
/// `number` is the job's number in the book; `practice` has chosen the standard behind the budgets.
pub fn fitting_card(job: &Job, number: &str, practice: &Practice, width: usize) -> Vec<CardLine> {
    arranged(job, number, &CardData::of(job, practice), width)
}

/// As [`fitting_card`], from data already computed for this job.
pub(crate) fn arranged(job: &Job, number: &str, data: &CardData, width: usize) -> Vec<CardLine> {
    let (job, budgets) = (Written::of(job, data), &data.budgets);
    if width >= WIDE_FROM {
        wide(&job, number, budgets, width)
    } else {
        narrow(&job, number, budgets, width)
    }
}

fn narrow(job: &Written<'_>, number: &str, budgets: &Budgets, width: usize) -> Vec<CardLine> {
    let plain = |label, value: &str| CardLine::new(label, value, Emphasis::Plain, width);
    let mut lines = vec![
        CardLine::new("", &person(job), Emphasis::Strong, width),
        plain("", &which(job, number)),
    ];
    let flags = flags(job);
    if !flags.is_empty() {
        lines.push(CardLine::new("", &flags, Emphasis::Alert, width));
    }
    lines.push(plain("Rx", &tested(job)));
    lines.push(plain("R", &prescription(job, Eye::Right)));
    lines.push(plain("L", &prescription(job, Eye::Left)));
    let room = width.saturating_sub(LABEL_WIDTH);
    let marked = |text: &dyn Fn(Wording) -> String| longest_that_fits(room, text);
    let [cd, height, vertex_only, angles] =
        [&["CD"][..], &["height"], &["vertex"], &ANGLES].map(|labels| budgets.on(labels));
    lines.push(plain("PD", &marked(&|m| pd(job, cd, m))));
    lines.push(plain("height", &marked(&|m| heights(job, height, m))));
    lines.push(plain("vertex", &marked(&|m| vertex(job, vertex_only, m))));
    lines.push(plain("bend", &bend(job)));
    lines.push(plain("head", &head_and_pads(job)));
    lines.extend(now_line(job, width));
    lines.push(plain("frame", &frame(job, room)));
    lines.push(plain("lenses", &lenses(job)));
    lines.push(plain("tilt", &marked(&|m| tilt(job, angles, m))));
    lines.push(plain("with", &finish(job)));
    lines.push(plain("order", &laboratory(job)));
    lines
}

fn wide(job: &Written<'_>, number: &str, budgets: &Budgets, width: usize) -> Vec<CardLine> {
    let plain = |label, value: &str| CardLine::new(label, value, Emphasis::Plain, width);
    let mut lines = vec![CardLine::new(
        "",
        &two_columns(&person(job), &which(job, number), width),
        Emphasis::Strong,
        width,
    )];
    let flags = flags(job);
    if !flags.is_empty() {
        lines.push(CardLine::new("", &flags, Emphasis::Alert, width));
    }
    let room = width.saturating_sub(LABEL_WIDTH);
    let when =
        known(job, at!(prescription.tested_on)).map_or_else(String::new, |day| format!(" ({day})"));
    let powers = two_columns(
        &format!("R {}", prescription(job, Eye::Right)),
        &format!("L {}{when}", prescription(job, Eye::Left)),
        room,
    );
    lines.push(plain("Rx", &powers));
    let marked = |left: &dyn Fn(Wording) -> String, right: &dyn Fn(Wording) -> String| {
        longest_that_fits(room, &|m| {
            two_columns(
                &left(m),
                &right(m),
                room.max(left(m).width() + 2 + right(m).width()),
            )
        })
    };
    let of_places = budgets.on(&["CD", "height"]);
    let places = marked(&|m| pd(job, of_places, m), &|m| {
        format!("height {}", heights(job, of_places, m))
    });
    lines.push(plain("PD", &places));
    let of_stand = budgets.on(&["vertex", "tilt", "face form"]);
    let stand = marked(&|m| vertex(job, of_stand, m), &|m| {
        format!("tilt {}", tilt(job, of_stand, m))
    });
    lines.push(plain("vertex", &stand));
    lines.push(plain(
        "bend",
        &two_columns(&bend(job), &format!("head {}", head_and_pads(job)), room),
    ));
    let now = now_line(job, width);
    let is_full = now.is_some() && !flags.is_empty();
    lines.extend(now);
    if is_full {
        // The laboratory and the coatings are shown after the card instead.
        let pair = two_columns(&frame(job, room / 2), &lenses(job), room);
        lines.push(plain("frame", &pair));
    } else {
        lines.push(plain(
            "frame",
            &two_columns(&frame(job, room / 2), &laboratory(job), room),
        ));
        lines.push(plain(
            "lenses",
            &format!("{} · {}", lenses(job), finish(job)),
        ));
    }
    lines
}

/// The line of values changed since the handover, if there are any.
fn now_line(job: &Written<'_>, width: usize) -> Option<CardLine> {
    let text: Vec<String> = job.changed().iter().map(Changed::text).collect();
    (!text.is_empty()).then(|| CardLine::new("now", &text.join(" · "), Emphasis::Strong, width))
}

/// The day of the sight test.
fn tested(job: &Written<'_>) -> String {
    known(job, at!(prescription.tested_on)).map_or_else(
        || "no day of test".to_owned(),
        |day| format!("tested {day}"),
    )
}

/// Two values on one line, the second from the middle on where the first leaves room; where both
/// do not fit, the first gives way so that neither disappears.
fn two_columns(left: &str, right: &str, room: usize) -> String {
    let half = room / 2;
    let left = fit(left, half.max(room.saturating_sub(right.width() + 2)));
    let gap = half.saturating_sub(left.width()).max(2);
    let gap = if left.width() + gap + right.width() > room {
        2
    } else {
        gap
    };
    format!("{left}{:gap$}{right}", "")
}

fn person(job: &Written<'_>) -> String {
    let born = known(job, at!(wearer.born))
        .map_or_else(|| "birth date -".to_owned(), |b| format!("born {b}"));
    format!("{} · {born}", at(job, at!(wearer.name)))
}

/// The age on the job's own day: the card knows no other.
fn age(job: &Written<'_>) -> Option<i32> {
    job.wearer.age_on(day(job)?)
}

/// The day by which the pair is known: the latest thing that was done with it.
pub(super) fn day(job: &Written<'_>) -> Option<NaiveDate> {
    job.handover
        .given_on
        .or(job.order.ordered_on)
        .or(job.fitting.taken_on)
        .or(job.prescription.tested_on)
}

fn which(job: &Written<'_>, number: &str) -> String {
    let day = day(job).map_or_else(|| MISSING.to_owned(), |d| d.to_string());
    let age = age(job).map_or_else(String::new, |age| format!(" · age {age}"));
    format!("{day} · {number} · {}{age}", job.stage_words())
}

pub(super) fn flags(job: &Written<'_>) -> String {
    let mut flags = Vec::new();
    if age(job).is_some_and(|age| age < ADULT_YEARS) {
        flags.push(format!("under {ADULT_YEARS}"));
    }
    if job.wearer.is_sight_impaired() {
        flags.push("sight impaired".to_owned());
    }
    if job.wearer.one_eyed == Some(true) {
        flags.push("one useful eye".to_owned());
    }
    if job.wearer.named_allergies().next().is_some() {
        flags.push(format!("allergic: {}", at(job, at!(wearer.allergies))));
    }
    if job.is_past() {
        flags.push("past, unchecked".to_owned());
    }
    flags.join(" · ")
}

fn pd(job: &Written<'_>, budgets: BudgetLine<'_>, wording: Wording) -> String {
    let near = near(job);
    let budget = budgets.after("CD", wording);
    if wording.is_tight() {
        let fitted = short_both(job, |eye| at!(fitting[eye].cd_mm));
        return format!("{fitted}{budget} near {near}");
    }
    let fitted = both(job, |eye| at!(fitting[eye].cd_mm));
    format!("{fitted} mm{budget} near {near}")
}

/// The near centration distances as recorded; of a near pair without them, those that it is ordered
/// to.
fn near(job: &Written<'_>) -> String {
    let ordered = Eye::BOTH.map(|eye| ordered_cd(job, eye));
    let is_worked_out =
        |source: &CdSource| matches!(source, CdSource::NearPd | CdSource::WorkedOut);
    if !(ordered.iter().flatten()).any(|(_, source)| is_worked_out(source)) {
        return short_both(job, |eye| at!(fitting[eye].near_cd_mm));
    }
    let places = ordered.map(|o| o.map_or_else(|| MISSING.to_owned(), |(mm, _)| tenths(mm)));
    format!("{} worked out", places.join("/"))
}

/// A length in tenths, hundredths where a half needs them.
fn tenths(mm: f64) -> String {
    let text = format!("{mm:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    text.to_owned()
}

fn heights(job: &Written<'_>, budgets: BudgetLine<'_>, wording: Wording) -> String {
    let fitted = both(job, |eye| at!(fitting[eye].height_mm));
    let budget = budgets.after("height", wording);
    let segment = [Eye::Right, Eye::Left]
        .iter()
        .any(|e| job.fitting.eye(*e).segment_height_mm.is_some());
    if segment {
        format!(
            "{fitted} mm (segment {}){budget}",
            short_both(job, |eye| at!(fitting[eye].segment_height_mm))
        )
    } else {
        format!("{fitted} mm{budget}")
    }
}

/// Tested, fitted and handed over, so that a change of the distance is seen at once.
fn vertex(job: &Written<'_>, budgets: BudgetLine<'_>, wording: Wording) -> String {
    format!(
        "{} → {} → {} mm{}",
        at(job, at!(prescription.tested_vertex_mm)),
        short_both(job, |eye| at!(fitting[eye].vertex_mm)),
        short_both(job, |eye| at!(handover[eye].vertex_mm)),
        budgets.after("vertex", wording)
    )
}

fn tilt(job: &Written<'_>, budgets: BudgetLine<'_>, wording: Wording) -> String {
    format!(
        "{}{} · face form {}{}",
        angle(job, at!(fitting.pantoscopic_deg)),
        budgets.after("tilt", wording),
        angle(job, at!(fitting.face_form_deg)),
        budgets.after("face form", wording)
    )
}

/// The length as set at the handover where there is one, else as measured.
fn bend(job: &Written<'_>) -> String {
    let set = [Eye::Right, Eye::Left]
        .iter()
        .any(|e| job.handover.eye(*e).length_to_bend_mm.is_some());
    if set {
        let bend = both(job, |eye| at!(handover[eye].length_to_bend_mm));
        format!("{bend} mm as set")
    } else {
        let bend = both(job, |eye| at!(fitting[eye].length_to_bend_mm));
        format!("{bend} mm")
    }
}

fn head_and_pads(job: &Written<'_>) -> String {
    let size = known(job, at!(frame.pads.size_mm)).map(|s| format!("{s} mm"));
    let pads = joined(
        [
            size,
            known(job, at!(frame.pads.material)),
            known(job, at!(frame.pads.mount)),
        ],
        " ",
    );
    format!("{} mm · pads {pads}", at(job, at!(fitting.head_width_mm)))
}

/// Name, colour and size; a long name gives way to the size.
fn frame(job: &Written<'_>, room: usize) -> String {
    let box_known = job.frame.a_mm.is_some() || job.frame.dbl_mm.is_some();
    let size = format!(
        "{}b {} side {}",
        if box_known {
            format!(
                "{}-{} ",
                at(job, at!(frame.a_mm)),
                at(job, at!(frame.dbl_mm))
            )
        } else {
            String::new()
        },
        at(job, at!(frame.b_mm)),
        at(job, at!(frame.side_mm))
    );
    let name = joined(
        [known(job, at!(frame.name)), known(job, at!(frame.colour))],
        " ",
    );
    format!(
        "{} {size}",
        fit(&name, room.saturating_sub(size.width() + 1))
    )
}

/// What the lenses are.
fn lenses(job: &Written<'_>) -> String {
    joined(
        [
            known(job, at!(lenses.design)),
            known(job, at!(lenses.material)),
            known(job, at!(lenses.powers.as)).filter(|p| p != "prescribed"),
        ],
        " · ",
    )
}

/// What is on them.
pub(super) fn finish(job: &Written<'_>) -> String {
    let with = |field: FieldRef, before: &str, after: &str| {
        known(job, field).map(|v| format!("{before}{v}{after}"))
    };
    let tint = joined(
        [
            with(at!(lenses.tint.colour), "", ""),
            with(at!(lenses.tint.transmittance_percent), "", " %"),
            category_in_words(job.job()),
        ],
        " ",
    );
    joined(
        [
            with(at!(lenses.base_d), "base ", " D"),
            known(job, at!(lenses.coatings)).filter(|c| c != "none"),
            (tint != MISSING).then(|| format!("tint {tint}")),
        ],
        " · ",
    )
}

pub(super) fn laboratory(job: &Written<'_>) -> String {
    format!(
        "{} · due {}",
        at(job, at!(order.laboratory)),
        at(job, at!(order.due_on))
    )
}
