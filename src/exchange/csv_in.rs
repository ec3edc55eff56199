//! Past jobs from CSV, by a mapping: every row is read, every refusal named by line and column.

use std::collections::BTreeMap;

use chrono::{Datelike as _, NaiveDate};
use serde_json::{Value, json};

use super::ExchangeError;
use super::csv_out::{RX_TEXT, fused, is_number};
use super::mapping::Mapping;
use crate::job::fields::{self, Field, FieldKind, at};
use crate::job::{Job, Section, Stage};
use crate::trade::eye::Eye;
use crate::trade::notation::{self, Reading, WrittenRx};

/// The first and last year that is accepted in a date.
const FIRST_YEAR: i32 = 1800;
const LAST_YEAR: i32 = 2999;

/// The jobs read from a file, and the rows that were refused.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Rows {
    /// The jobs, in the order of the file.
    pub jobs: Vec<Job>,
    /// Every row that could not be taken, with line and column.
    pub refused: Vec<ExchangeError>,
}

/// Returns the delimiter of the header line: whichever of comma, semicolon and tab it has most of.
/// It is not guessed again for any other line.
pub fn delimiter(text: &str) -> u8 {
    let header = text
        .lines()
        .find(|line| !line.trim().is_empty())
        .unwrap_or_default();
    let count = |c: char| header.matches(c).count();
    let (commas, semicolons, tabs) = (count(','), count(';'), count('\t'));
    if tabs > commas && tabs > semicolons {
        b'\t'
    } else if semicolons > commas {
        b';'
    } else {
        b','
    }
}

/// Reads a file. Dates that count from today are counted from `today`.
///
/// # Errors
/// [`ExchangeError`] when the header does not have a column that the mapping names; what is wrong
/// with rows is in [`Rows::refused`].
pub fn read(text: &str, mapping: &Mapping, today: NaiveDate) -> Result<Rows, ExchangeError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let delimiter = delimiter(text);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .flexible(true)
        .from_reader(text.as_bytes());
    let header = reader
        .headers()
        .map_err(|e| ExchangeError::at("line 1", format!("is no header line ({})", kind_of(&e))))?
        .clone();
    let mut columns: Vec<(&str, &str, usize)> = Vec::new();
    for (place, name) in &mapping.columns {
        let mut found = header.iter().enumerate().filter(|(_, h)| h.trim() == name);
        match (found.next(), found.next()) {
            (Some((at, _)), None) => columns.push((place, name, at)),
            (Some(_), Some(_)) => {
                return Err(ExchangeError::at(
                    "line 1",
                    format!("has the column {name:?} twice"),
                ));
            }
            (None, _) => {
                return Err(ExchangeError::at(
                    "line 1",
                    format!("has no column {name:?}, which the mapping names for {place}"),
                ));
            }
        }
    }
    let how = How { mapping, today };
    let mut rows = Rows::default();
    let mut lines = Lines::of(text);
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(e) => {
                let line = lines.at(e.position());
                rows.refused
                    .push(ExchangeError::at(format!("line {line}"), kind_of(&e)));
                continue;
            }
        };
        let line = lines.at(record.position());
        if record.len() != header.len() {
            rows.refused.push(ExchangeError::at(
                format!("line {line}"),
                format!("has {} fields, the header {}", record.len(), header.len()),
            ));
            continue;
        }
        match job(&record, &columns, &how) {
            Ok(job) => rows.jobs.push(job),
            Err((column, problem)) => rows.refused.push(ExchangeError::at(
                format!("line {line}, column {column:?}"),
                problem,
            )),
        }
    }
    Ok(rows)
}

/// Counts lines as a person does: the reader counts a CRLF only once it has passed it.
struct Lines<'a> {
    text: &'a [u8],
    counted: usize,
    line: usize,
}

impl<'a> Lines<'a> {
    fn of(text: &'a str) -> Self {
        Self {
            text: text.as_bytes(),
            counted: 0,
            line: 1,
        }
    }

    /// The line in which a record begins; records come in the order of the file.
    fn at(&mut self, position: Option<&csv::Position>) -> usize {
        let mut byte = position
            .and_then(|p| usize::try_from(p.byte()).ok())
            .unwrap_or(self.counted);
        while self
            .text
            .get(byte)
            .is_some_and(|b| matches!(b, b'\r' | b'\n'))
        {
            byte += 1;
        }
        let passed = self.text.get(self.counted..byte).unwrap_or_default();
        self.line += passed.split(|b| *b == b'\n').count().saturating_sub(1);
        self.counted = self.counted.max(byte);
        self.line
    }
}

/// Returns why the CSV reader refused a record, without repeating its content.
fn kind_of(e: &csv::Error) -> String {
    match e.kind() {
        csv::ErrorKind::Utf8 { .. } => "is not UTF-8".to_owned(),
        csv::ErrorKind::UnequalLengths { .. } => "has another number of fields".to_owned(),
        _ => "is no CSV by RFC 4180".to_owned(),
    }
}

struct How<'a> {
    mapping: &'a Mapping,
    today: NaiveDate,
}

fn job(
    record: &csv::StringRecord,
    columns: &[(&str, &str, usize)],
    how: &How<'_>,
) -> Result<Job, (String, String)> {
    let mut job = Job {
        past: Some(true),
        stage: Some(how.mapping.stage.unwrap_or(Stage::Collected)),
        ..Job::default()
    };
    let constants = how
        .mapping
        .constants
        .iter()
        .map(|(place, text)| (place.as_str(), place.as_str(), text.as_str()));
    let cells = columns
        .iter()
        .map(|(place, name, at)| (*place, *name, record.get(*at).unwrap_or_default()));
    let mut changes: BTreeMap<&'static str, (Section, Value)> = BTreeMap::new();
    for (place, name, text) in constants.chain(cells) {
        let text = fused(text.trim()).trim();
        if text.is_empty() {
            continue;
        }
        put(&mut job, &mut changes, place, text, how).map_err(|e| (name.to_owned(), e))?;
    }
    // The wearer first: a job without a name accepts no other section.
    let order = |s: &Section| usize::from(*s != Section::Wearer);
    let mut changes: Vec<(Section, Value)> = changes.into_values().collect();
    changes.sort_by_key(|(s, _)| order(s));
    for (section, change) in changes {
        job.record(section, &change)
            .map_err(|e| (section.word().to_owned(), e.to_string()))?;
    }
    if job.wearer.name.is_none() {
        return Err((
            at!(wearer.name).full_path(),
            "is empty: a job belongs to a named wearer".to_owned(),
        ));
    }
    Ok(job)
}

fn put(
    job: &mut Job,
    changes: &mut BTreeMap<&'static str, (Section, Value)>,
    place: &str,
    text: &str,
    how: &How<'_>,
) -> Result<(), String> {
    match place {
        "number" => {
            job.number = Some(text.to_owned());
            return Ok(());
        }
        "stage" => {
            job.stage = Some(Stage::from_word(text).ok_or("is no stage of a job")?);
            return Ok(());
        }
        _ => {}
    }
    if let Some((_, eye)) = RX_TEXT.iter().find(|(p, _)| *p == place) {
        let rx = whole(text, *eye)?;
        let sphere = at!(prescription[eye].sphere_d);
        let change = fields::fill_written(sphere, &rx, *eye).taken_whole()?;
        // Both eyes are tested at one distance: a second one that differs is not put over the first.
        let vertex = at!(prescription.tested_vertex_mm);
        let known = changes
            .get(Section::Prescription.word())
            .and_then(|(_, before)| before.get(vertex.path));
        if let (Some(known), Some(now)) = (known, change.get(vertex.path))
            && known != now
        {
            return Err("gives another vertex distance than the other eye or column".to_owned());
        }
        merge(changes, Section::Prescription, &change);
        return Ok(());
    }
    let field = fields::find(place).ok_or("is no place of a job")?;
    let value = value(field, text, how)?;
    merge(changes, field.section, &fields::change(field, value));
    Ok(())
}

fn merge(changes: &mut BTreeMap<&'static str, (Section, Value)>, section: Section, change: &Value) {
    let entry = changes
        .entry(section.word())
        .or_insert_with(|| (section, json!({})));
    json_patch::merge(&mut entry.1, change);
}

fn value(field: &Field, text: &str, how: &How<'_>) -> Result<Value, String> {
    let mut text = text.to_owned();
    if is_number(field.kind) {
        let signed = text.starts_with(['+', '-']);
        let is_power = matches!(field.kind, FieldKind::Power | FieldKind::Reading);
        if is_power && !signed && how.mapping.unsigned_powers_are_plus {
            text.insert(0, '+');
        }
    }
    if field.kind == FieldKind::Date
        && let Some(format) = &how.mapping.date_format
    {
        let day = NaiveDate::parse_from_str(&text, format)
            .map_err(|_| format!("is no day written as {format}"))?;
        // `%Y` takes 26 for the year 26 after Christ.
        return if (FIRST_YEAR..=LAST_YEAR).contains(&day.year()) {
            Ok(json!(day))
        } else {
            Err("has a year without its century: %Y has four digits, %y two".to_owned())
        };
    }
    // Days counted from today are for the keyboard: in a file they would mean another day each time.
    if matches!(field.kind, FieldKind::Date | FieldKind::Moment)
        && !text.starts_with(|c: char| c.is_ascii_digit())
    {
        return Err("is no written day, such as 2026-12-03".to_owned());
    }
    // Prism is exported as a signed number; base in and up are positive.
    if let FieldKind::Prism(_) = field.kind
        && text
            .bytes()
            .all(|b| b.is_ascii_digit() || b"+-.".contains(&b))
        && let Ok(number) = text.parse::<f64>()
    {
        return Ok(json!(number));
    }
    fields::parse(field, &text, how.today).map_err(|e| e.to_string())
}

fn whole(text: &str, eye: Eye) -> Result<WrittenRx, String> {
    match notation::read(text) {
        Ok(Reading::One { eye: said, rx }) if said.is_none_or(|e| e == eye) => Ok(rx),
        Ok(Reading::One { .. }) => Err("is labelled as the other eye's".to_owned()),
        Ok(Reading::Two { .. }) => Err("holds the powers of two eyes".to_owned()),
        // The reader's own message repeats what it stumbled over, which may be a name.
        Err(e) => Err(e.kind.sentence().replace("{}", "a part of it")),
    }
}
