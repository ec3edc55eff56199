//! Jobs as CSV by RFC 4180: one row a job, a column for every value of the forms, both eyes.
//!
//! Spreadsheets take a text that begins with `=`, `+`, `-` or `@` for a formula (CWE-1236). Numbers
//! are written from checked values and keep their sign; every other column gets an apostrophe
//! before such a beginning, which the reader of this program takes off again.

use crate::job::fields::{self, Field, FieldKind, FieldValue};
use crate::job::{Job, Moment, Section};
use crate::trade::eye::Eye;

/// The sections in the order of the columns.
const SECTIONS: [Section; 9] = [
    Section::Job,
    Section::Wearer,
    Section::Prescription,
    Section::Fitting,
    Section::Frame,
    Section::Lenses,
    Section::Order,
    Section::Readings,
    Section::Handover,
];

/// Columns that hold a whole written power, for people; the columns of its numbers are for programs.
pub(crate) const RX_TEXT: [(&str, Eye); 2] = [
    ("prescription.right.rx_text", Eye::Right),
    ("prescription.left.rx_text", Eye::Left),
];

fn fields() -> impl Iterator<Item = &'static Field> {
    SECTIONS.into_iter().flat_map(fields::fields)
}

/// Returns the names of the columns: number, stage, past, the written powers, then the path of each field.
pub fn header() -> Vec<String> {
    let mut all = vec!["number".to_owned(), "stage".to_owned(), "past".to_owned()];
    all.extend(RX_TEXT.iter().map(|(name, _)| (*name).to_owned()));
    all.extend(fields().map(Field::full_path));
    all
}

/// Returns the cells of a job in the order of [`header`]; a value that was not recorded is empty.
pub fn row(number: &str, job: &Job) -> Vec<String> {
    let mut all = vec![
        defused(number),
        job.stage().word().to_owned(),
        yes_or_no(job.is_past()).to_owned(),
    ];
    all.extend(RX_TEXT.iter().map(|(_, eye)| rx_text(job, *eye)));
    all.extend(fields().map(|field| cell(field, job)));
    all
}

/// Whether a column holds only numbers written by this program, which need no [`defused`].
pub(super) const fn is_number(kind: FieldKind) -> bool {
    matches!(
        kind,
        FieldKind::Power
            | FieldKind::Reading
            | FieldKind::Axis
            | FieldKind::Addition
            | FieldKind::Prism(_)
            | FieldKind::PrismSize
            | FieldKind::Curve
            | FieldKind::Length
            | FieldKind::Angle
            | FieldKind::Index
            | FieldKind::Percent
            | FieldKind::Category
    )
}

const fn yes_or_no(value: bool) -> &'static str {
    if value { "yes" } else { "no" }
}

fn cell(field: &Field, job: &Job) -> String {
    match field.read(job) {
        None => String::new(),
        Some(FieldValue::Number(n)) => number(field.kind, n),
        Some(FieldValue::Whole(n)) => n.to_string(),
        Some(FieldValue::Flag(flag)) => yes_or_no(flag).to_owned(),
        // Asked and none is known is another answer than nobody asked.
        Some(FieldValue::Texts(list)) if list.is_empty() => fields::show(job, field),
        Some(FieldValue::Texts(list)) => defused(&list.join(", ")),
        Some(FieldValue::Tasks(_)) => defused(&fields::show(job, field)),
        Some(FieldValue::Text(text)) => defused(text),
        Some(FieldValue::Date(day)) => day.to_string(),
        Some(FieldValue::Moment(time)) => Moment(time).to_string(),
    }
}

fn number(kind: FieldKind, v: f64) -> String {
    // Two places of a power, three where an eighth needs them.
    let places = if ((v * 100.0).round() / 100.0 - v).abs() < 5e-4 {
        2
    } else {
        3
    };
    match kind {
        FieldKind::Power | FieldKind::Reading | FieldKind::Addition | FieldKind::Prism(_)
            if v.abs() > 5e-4 =>
        {
            format!("{v:+.places$}")
        }
        FieldKind::Power | FieldKind::Reading | FieldKind::Addition | FieldKind::Prism(_) => {
            "0.00".to_owned()
        }
        _ => v.to_string(),
    }
}

fn rx_text(job: &Job, eye: Eye) -> String {
    let p = job.prescription.eye(eye);
    let Some(sphere) = p.sphere_d else {
        return String::new();
    };
    // A label before the sign: no spreadsheet takes it for a formula.
    let label = if eye == Eye::Right { "R" } else { "L" };
    let cylinder = match (p.cylinder_d, p.axis_deg) {
        (Some(cylinder), Some(axis)) => format!("/{cylinder:+}x{axis}"),
        _ => String::new(),
    };
    let addition = p
        .addition_d
        .map_or_else(String::new, |a| format!(" add {a:+}"));
    format!("{label} {sphere:+}{cylinder}{addition}")
}

/// Whether a spreadsheet may take a text for a formula, or for a text with its first character gone.
///
/// Blanks and controls before the sign do not keep it from being one, nor does a sign of full width.
fn may_be_formula(text: &str) -> bool {
    let begins = text.trim_start_matches(|c: char| {
        c.is_whitespace() || c.is_control() || matches!(c, '\u{200b}'..='\u{200f}' | '\u{feff}')
    });
    text.starts_with(['\t', '\r', '\n'])
        || begins.starts_with(['=', '+', '-', '@', '\'', '＝', '＋', '－', '＠'])
}

/// Returns a text no spreadsheet takes for a formula.
pub fn defused(text: &str) -> String {
    if may_be_formula(text) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// Takes the apostrophe of [`defused`] off again.
pub fn fused(text: &str) -> &str {
    text.strip_prefix('\'')
        .filter(|t| may_be_formula(t))
        .unwrap_or(text)
}

/// Writes one record, with CRLF and quotes where they are needed.
///
/// # Errors
/// As the `csv` crate: not for records in memory.
pub fn line(record: &[String]) -> Result<String, csv::Error> {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(record)?;
    let bytes = writer
        .into_inner()
        .map_err(|e| std::io::Error::new(e.error().kind(), e.error().to_string()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}
