//! The text of values on paper.

use chrono::NaiveDate;

use super::content::{Block, Fact, MISSING};
use crate::job::fields::{FieldRef, Room, at, in_words, known_with_unit, listed};
use crate::job::{EyePower, EyePrescription, Job, Section};
use crate::judge::derive::tint::category_in_words;
use crate::trade::eye::Eye;
use crate::trade::units::{Degree, Dioptre, Millimetre, PrismDioptre};

/// The name of the prism that thins a pair: it is read with the prescribed one.
pub(super) const THINNING: &str = "thinning prism, both lenses";

/// Returns the value of a field with its unit, when there is one.
pub(super) fn known(job: &Job, field: FieldRef) -> Option<String> {
    known_with_unit(job, field, Room::Enough)
}

/// Returns the value of a field with its unit, or a dash.
pub(super) fn at(job: &Job, field: FieldRef) -> String {
    known(job, field).unwrap_or_else(|| MISSING.to_owned())
}

/// Returns a day with its month as a word, so that no country reads it as another day.
pub(super) fn day(day: Option<NaiveDate>) -> String {
    day.map_or_else(|| MISSING.to_owned(), written_day)
}

/// Returns a day as "3 December 2026".
pub(crate) fn written_day(day: NaiveDate) -> String {
    day.format("%-d %B %Y").to_string()
}

/// A fact.
pub(super) fn fact(label: &str, value: impl Into<String>) -> Fact {
    Fact {
        label: label.to_owned(),
        value: value.into(),
        wide: false,
    }
}

/// A fact on a line of its own.
pub(super) fn wide(label: &str, value: impl Into<String>) -> Fact {
    Fact {
        wide: true,
        ..fact(label, value)
    }
}

/// The facts of a list that have a value.
pub(super) fn only_known(facts: Vec<Fact>) -> Vec<Fact> {
    facts.into_iter().filter(|f| f.value != MISSING).collect()
}

/// A length as recorded, or a dash.
pub(super) fn mm(value: Option<Millimetre>) -> String {
    length(value.map(Millimetre::get))
}

/// A length in tenths (hundredths where recorded so), or a dash.
pub(super) fn length(value: Option<f64>) -> String {
    value.map_or_else(
        || MISSING.to_owned(),
        |v| {
            let tenths = (v * 10.0).round() / 10.0;
            if (tenths - v).abs() < 1e-9 {
                format!("{v:.1}")
            } else {
                format!("{v:.2}")
            }
        },
    )
}

/// A signed length from a line, up positive, or a dash.
pub(super) fn signed_mm(value: Option<f64>) -> String {
    value.map_or_else(
        || MISSING.to_owned(),
        |v| {
            if v.abs() < 0.005 {
                "0.0".to_owned()
            } else {
                format!(
                    "{}{}",
                    if v > 0.0 { "+" } else { "-" },
                    length(Some(v.abs()))
                )
            }
        },
    )
}

fn power(value: Option<Dioptre>) -> String {
    value.map_or_else(
        || MISSING.to_owned(),
        |d| {
            let thousandths = d.thousandths();
            if thousandths == 0 {
                return "0.00".to_owned();
            }
            let (size, sign) = (
                thousandths.unsigned_abs(),
                if thousandths < 0 { '-' } else { '+' },
            );
            if size % 10 == 0 {
                format!("{sign}{}.{:02}", size / 1000, size % 1000 / 10)
            } else {
                format!("{sign}{}.{:03}", size / 1000, size % 1000)
            }
        },
    )
}

fn axis(value: Option<Degree>) -> String {
    value.map_or_else(|| MISSING.to_owned(), |a| format!("{}", a.get()))
}

fn prism(value: Option<PrismDioptre>, plus: &str, minus: &str) -> String {
    match value.map(PrismDioptre::get) {
        None => MISSING.to_owned(),
        Some(p) if p.abs() < 0.0005 => "0.00".to_owned(),
        Some(p) => {
            // An eighth needs its third place: rounded it is another prism.
            let hundredths = (p * 100.0).round() / 100.0;
            let places = if (hundredths - p).abs() < 5e-4 { 2 } else { 3 };
            let way = if p > 0.0 { plus } else { minus };
            format!("{:.places$} {way}", p.abs())
        }
    }
}

/// The names of the columns of a table of powers.
pub(super) fn power_head() -> Vec<String> {
    [
        "",
        "sphere D",
        "cylinder D",
        "axis °",
        "addition D",
        "prism Δ in/out",
        "prism Δ up/down",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// "Right" or "Left", the first cell of a row.
pub(super) const fn eye_word(eye: Eye) -> &'static str {
    match eye {
        Eye::Right => "Right",
        Eye::Left => "Left",
    }
}

/// A row of a table of powers.
pub(super) fn power_row(eye: Eye, p: &EyePower) -> Vec<String> {
    vec![
        eye_word(eye).to_owned(),
        power(p.sphere_d),
        power(p.cylinder_d),
        axis(p.axis_deg),
        power(p.addition_d),
        prism(p.base_in_delta, "in", "out"),
        prism(p.base_up_delta, "up", "down"),
    ]
}

/// A prescription as a row; a balance lens is named in place of its sphere.
pub(super) fn prescription_row(eye: Eye, p: &EyePrescription) -> Vec<String> {
    let mut row = power_row(
        eye,
        &EyePower {
            sphere_d: p.sphere_d,
            cylinder_d: p.cylinder_d,
            axis_deg: p.axis_deg,
            addition_d: p.addition_d,
            base_in_delta: p.base_in_delta,
            base_up_delta: p.base_up_delta,
        },
    );
    if p.is_balance()
        && let Some(cell) = row.get_mut(1)
    {
        *cell = if p.sphere_d.is_some() {
            format!("{cell} balance")
        } else {
            "balance".to_owned()
        };
    }
    row
}

/// A table of both eyes, right first; columns in which neither eye has a value are omitted.
pub(super) fn eyes_table(
    title: &str,
    head: &[&str],
    row: impl Fn(Eye) -> Vec<String>,
    note: &str,
) -> Block {
    let rows: Vec<Vec<String>> = Eye::BOTH
        .into_iter()
        .map(|eye| {
            let mut cells = vec![eye_word(eye).to_owned()];
            cells.extend(row(eye));
            cells
        })
        .collect();
    let mut all = vec![String::new()];
    all.extend(head.iter().map(|&h| h.to_owned()));
    without_empty_columns(title, all, rows, note)
}

/// A table without the columns in which no row has a value.
pub(super) fn without_empty_columns(
    title: &str,
    head: Vec<String>,
    rows: Vec<Vec<String>>,
    note: &str,
) -> Block {
    let used: Vec<bool> = (0..head.len())
        .map(|i| i == 0 || rows.iter().any(|r| r.get(i).is_some_and(|c| c != MISSING)))
        .collect();
    let keep = |cells: Vec<String>| -> Vec<String> {
        cells
            .into_iter()
            .zip(&used)
            .filter_map(|(cell, used)| used.then_some(cell))
            .collect()
    };
    Block::Table {
        title: title.to_owned(),
        head: keep(head),
        rows: rows.into_iter().map(keep).collect(),
        note: note.to_owned(),
    }
}

/// A table of powers of both eyes.
pub(super) fn powers_table(
    title: &str,
    of: impl Fn(Eye) -> Option<EyePower>,
    note: &str,
) -> Option<Block> {
    let rows: Vec<Vec<String>> = Eye::BOTH
        .into_iter()
        .filter_map(|eye| Some(power_row(eye, &of(eye)?)))
        .collect();
    (!rows.is_empty()).then(|| without_empty_columns(title, power_head(), rows, note))
}

/// The prescription of both eyes.
pub(super) fn prescription_table(job: &Job, note: &str) -> Block {
    let rows = Eye::BOTH
        .into_iter()
        .map(|eye| prescription_row(eye, job.prescription.eye(eye)))
        .collect();
    without_empty_columns("Prescription", power_head(), rows, note)
}

/// Height of a point above the datum line, mm: that line halves the box.
pub(super) fn above_datum(job: &Job, height: Option<Millimetre>) -> Option<f64> {
    Some(height?.get() - job.frame.b_mm?.get() / 2.0)
}

/// Name and colour of the frame.
pub(super) fn frame_name(job: &Job) -> String {
    let parts: Vec<String> = [at!(frame.name), at!(frame.colour)]
        .iter()
        .filter_map(|p| known(job, p))
        .collect();
    if parts.is_empty() {
        MISSING.to_owned()
    } else {
        parts.join(", ")
    }
}

/// Listed fields that the facts of the lenses show at their place.
pub(super) const IN_LENS_FACTS: [FieldRef; 4] = [
    at!(lenses.segment.left_width_mm),
    at!(lenses.tint.sun),
    at!(lenses.tint.photochromic),
    at!(lenses.tint.dark_category),
];

/// Returns the listed values of some sections on one line, without those that a sheet shows at their
/// place or does not say.
pub(super) fn listed_without(
    job: &Job,
    sections: &[Section],
    placed: &[FieldRef],
    between: &str,
) -> String {
    let mut values = listed(job);
    values.retain(|(field, _)| {
        sections.contains(&field.section) && !placed.iter().any(|of| of.full() == field.full())
    });
    in_words(&values).join(between)
}

/// What the lenses are made as, in facts.
pub(super) fn lens_facts(job: &Job) -> Vec<Fact> {
    let index = crate::judge::derive::lens::material(job)
        .map_or_else(|| MISSING.to_owned(), |m| format!("{:.3}", m.n_d));
    let segment: Vec<String> = [
        known(job, at!(lenses.segment.shape)),
        known(job, at!(lenses.segment.width_mm)).map(|w| format!("{w} wide")),
        known(job, at!(lenses.segment.left_width_mm)).map(|w| format!("left {w} wide")),
        known(job, at!(lenses.segment.top_to_centre_mm))
            .map(|t| format!("centre {t} below its top")),
    ]
    .into_iter()
    .flatten()
    .collect();
    let states = job.lenses.tint.as_ref().map(|tint| {
        let darkens = tint.photochromic == Some(true);
        let sun = tint.sun == Some(true);
        (
            darkens.then_some("photochromic: light state"),
            sun.then_some("for the sun"),
        )
    });
    let (light, sun) = states.unwrap_or_default();
    let tint: Vec<String> = [
        known(job, at!(lenses.tint.colour)),
        light.map(str::to_owned),
        known(job, at!(lenses.tint.transmittance_percent)).map(|t| format!("transmits {t}")),
        category_in_words(job).map(|c| format!("filter {c}")),
        known(job, at!(lenses.tint.dark_category)).map(|c| format!("darkest category {c}")),
        sun.map(str::to_owned),
    ]
    .into_iter()
    .flatten()
    .collect();
    let or_dash = |parts: Vec<String>| {
        if parts.is_empty() {
            MISSING.to_owned()
        } else {
            parts.join(", ")
        }
    };
    only_known(vec![
        fact("design", at(job, at!(lenses.design))),
        fact("purpose", at(job, at!(lenses.purpose))),
        fact("material", at(job, at!(lenses.material))),
        fact("refractive index", index),
        fact("segment", or_dash(segment)),
        fact("corridor", at(job, at!(lenses.corridor_mm))),
        fact(
            "least fitting height",
            at(job, at!(lenses.minimum_height_mm)),
        ),
        fact("coatings", at(job, at!(lenses.coatings))),
        fact("tint", or_dash(tint)),
        fact("front curve at 1.530", at(job, at!(lenses.base_d))),
        fact("centre thickness", at(job, at!(lenses.centre_mm))),
        fact("least thickness", at(job, at!(lenses.thinnest_mm))),
        fact("uncut diameter", at(job, at!(lenses.blank_mm))),
        fact(THINNING, at(job, at!(lenses.thinning_prism_up_delta))),
    ])
}

/// A name's initials: "A. B.".
pub(super) fn initials(name: &str) -> String {
    let letters: Vec<String> = name
        .split(|c: char| c.is_whitespace() || c == '-')
        .filter_map(|word| word.chars().find(|c| c.is_alphanumeric()))
        .map(|c| format!("{}.", c.to_uppercase()))
        .collect();
    if letters.is_empty() {
        MISSING.to_owned()
    } else {
        letters.join(" ")
    }
}

#[cfg(test)]
mod tests {
    use super::{initials, length, prism, signed_mm};
    use crate::trade::units::PrismDioptre;

    #[test]
    fn a_prism_is_written_as_it_is_recorded() {
        let said = |d: f64| prism(PrismDioptre::new(d).ok(), "in", "out");
        assert_eq!(said(1.5), "1.50 in");
        assert_eq!(said(-0.125), "0.125 out");
        assert_eq!(said(0.375), "0.375 in");
        assert_eq!(said(0.0), "0.00");
        assert_eq!(prism(None, "in", "out"), "-");
    }

    #[test]
    fn initials_stand_for_a_name() {
        assert_eq!(initials("Åsa van der Berg-Lund"), "Å. V. D. B. L.");
        assert_eq!(initials(" \u{202e}(x) 3 "), "X. 3.");
        assert_eq!(initials("--"), "-");
    }

    #[test]
    fn lengths_have_tenths_and_say_their_way() {
        assert_eq!(length(Some(31.5)), "31.5");
        assert_eq!(length(Some(31.25)), "31.25");
        assert_eq!(signed_mm(Some(-2.0)), "-2.0");
        assert_eq!(signed_mm(Some(0.0)), "0.0");
        assert_eq!(signed_mm(None), "-");
    }
}
