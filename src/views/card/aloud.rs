//! A job read out on the telephone or by a screen reader: one line an item, right
//! before left, digits and signs in words, so that nobody hears fifteen for fifty or loses a minus.

use chrono::{Datelike, NaiveDate};

use super::card_data::{CardData, Written};
use super::changed_by_repairs::Changed;
use super::lines::{day, flags};
use super::value_text::known;
use crate::job::Job;
use crate::job::fields::{self, FieldRef, at, clean, sibling, unit_aloud};
use crate::trade::eye::Eye;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Returns the word of a character that would be heard wrong or not at all.
const fn word(c: char) -> Option<&'static str> {
    Some(match c {
        '0' => "zero",
        '1' => "one",
        '2' => "two",
        '3' => "three",
        '4' => "four",
        '5' => "five",
        '6' => "six",
        '7' => "seven",
        '8' => "eight",
        '9' => "nine",
        '+' | '\u{ff0b}' => "plus",
        '-' | '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{ff0d}' | '\u{fe63}' => "hyphen",
        '/' | '\u{2044}' | '\u{2215}' => "slash",
        '°' => "degrees",
        '±' => "plus or minus",
        '%' => "percent",
        '→' => "then",
        '·' | '…' => ",",
        'Δ' | '∆' => "prism dioptres",
        '=' => "equals",
        _ => return None,
    })
}

/// Returns a text with its digits and signs in words.
fn spelt(text: &str, dash: &str, point: &str) -> String {
    let text = clean(text);
    let mut out = String::new();
    let mut after_digit = false;
    for (place, c) in text.char_indices() {
        let next_is_digit = text
            .get(place + c.len_utf8()..)
            .and_then(|rest| rest.chars().next())
            .is_some_and(|n| n.is_ascii_digit());
        let said = match (c, word(c)) {
            ('.' | ',', _) if after_digit && next_is_digit => Some(point),
            (_, Some("hyphen")) => Some(dash),
            // Digits of other scripts and raised ones are digits too.
            (_, None) if c.is_numeric() => c
                .to_digit(10)
                .and_then(|d| char::from_digit(d, 10))
                .and_then(word)
                .or(Some("number sign")),
            (_, word) => word,
        };
        match said {
            Some(",") => {
                while out.ends_with(' ') {
                    out.pop();
                }
                out.push_str(", ");
            }
            Some(word) => {
                if !out.is_empty() && !out.ends_with(' ') {
                    out.push(' ');
                }
                out.push_str(word);
                out.push(' ');
            }
            None if c == ' ' && out.ends_with(' ') => {}
            None => {
                if out.ends_with(' ') && matches!(c, '.' | ',' | ':' | ';' | ')') {
                    out.pop();
                }
                out.push(c);
            }
        }
        after_digit = c.is_ascii_digit();
    }
    out.trim().to_owned()
}

/// Returns words that somebody wrote, such as a name.
fn written(text: &str) -> String {
    spelt(text, "hyphen", "point")
}

/// Returns a number: a dash before it is a minus.
fn number(text: &str) -> String {
    spelt(text, "minus", "point")
}

fn date(day: NaiveDate) -> String {
    let month = usize::try_from(day.month0())
        .ok()
        .and_then(|m| MONTHS.get(m))
        .copied()
        .unwrap_or_default();
    number(&format!("{} {month} {}", day.day(), day.year()))
}

const NOT_RECORDED: &str = "not recorded";

/// Returns a value with its unit in words.
fn value(job: &Job, field: FieldRef) -> Option<String> {
    let text = fields::known(job, field)?;
    Some(format!("{}{}", number(&text), unit_aloud(field.unit)))
}

/// What a listed field is called when it is read aloud: its label with the first letter large.
fn in_full(field: FieldRef) -> String {
    let mut letters = field.label.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

fn or_missing(text: Option<String>) -> String {
    text.unwrap_or_else(|| NOT_RECORDED.to_owned())
}

/// "Pupil distance: right three one point five millimetres, left three two millimetres."
fn both(job: &Written<'_>, name: &str, of: fn(Eye) -> FieldRef) -> Option<String> {
    match (value(job, of(Eye::Right)), value(job, of(Eye::Left))) {
        (None, None) => None,
        (right, left) => Some(format!(
            "{name}: right {}, left {}.",
            or_missing(right),
            or_missing(left)
        )),
    }
}

fn one(job: &Written<'_>, name: &str, field: FieldRef) -> Option<String> {
    Some(format!("{name}: {}.", value(job, field)?))
}

/// One eye's prescription in words.
fn power(job: &Written<'_>, eye: Eye) -> String {
    let key = |k: &str| known(job, sibling(at!(prescription[eye].sphere_d), k)?);
    let mut parts = Vec::new();
    if job.prescription.eye(eye).is_balance() {
        parts.push("balance lens".to_owned());
    }
    match key("sphere_d").as_deref() {
        Some("0.00" | "plano") => parts.push("plano".to_owned()),
        Some(sphere) => parts.push(format!("sphere {}", number(sphere))),
        None if parts.is_empty() => return NOT_RECORDED.to_owned(),
        None => {}
    }
    if let Some(cylinder) = key("cylinder_d").filter(|c| c != "0.00") {
        let axis = or_missing(key("axis_deg").map(|a| number(&a)));
        parts.push(format!("cylinder {}, axis {axis}", number(&cylinder)));
    }
    if let Some(addition) = key("addition_d") {
        parts.push(format!("addition {}", number(&addition)));
    }
    for prism in ["base_in_delta", "base_up_delta"]
        .into_iter()
        .filter_map(key)
    {
        if let Some((size, base)) = prism.split_once(' ') {
            parts.push(format!("prism {} base {base}", number(size)));
        }
    }
    parts.join(", ")
}

/// Returns the text at a path in words.
fn text(job: &Written<'_>, field: FieldRef) -> Option<String> {
    known(job, field).map(|t| written(&t))
}

/// Returns what is known of several things, one after the other.
fn listed(parts: impl IntoIterator<Item = Option<String>>) -> String {
    let known: Vec<String> = parts.into_iter().flatten().collect();
    if known.is_empty() {
        NOT_RECORDED.to_owned()
    } else {
        known.join(", ")
    }
}

/// Returns a line, or one that says that it is not recorded.
fn item(name: &str, line: Option<String>) -> String {
    line.unwrap_or_else(|| format!("{name}: {NOT_RECORDED}."))
}

/// Returns the lines of a job to read out, in the order in which they are usually asked.
///
/// `today` is the day for the wearer's age.
pub fn read_aloud(job: &Job, number_in_book: &str, today: NaiveDate) -> Vec<String> {
    let data = CardData::without_budgets(job);
    let job = &Written::of(job, &data);
    let mut lines = vec![format!(
        "Job {}, {}.",
        written(number_in_book),
        job.stage_words()
    )];
    who(job, today, &mut lines);
    prescription(job, &mut lines);
    fitting(job, &mut lines);
    pair(job, &mut lines);
    lines
}

fn who(job: &Written<'_>, today: NaiveDate, lines: &mut Vec<String>) {
    lines.push(format!("Name: {}.", listed([text(job, at!(wearer.name))])));
    lines.push(match (job.wearer.born, job.wearer.age_on(today)) {
        (Some(born), Some(age)) => {
            format!("Born {}, age {}.", date(born), number(&age.to_string()))
        }
        _ => format!("Date of birth: {NOT_RECORDED}."),
    });
    lines.extend(day(job).map(|d| format!("Date of the job: {}.", date(d))));
    let flags = flags(job);
    if !flags.is_empty() {
        lines.push(format!("Mind: {}.", written(&flags)));
    }
}

fn prescription(job: &Written<'_>, lines: &mut Vec<String>) {
    let tested = job
        .prescription
        .tested_on
        .map_or_else(|| "a day that is not recorded".to_owned(), date);
    lines.push(format!("Prescription of {tested}."));
    lines.push(format!("Right eye: {}.", power(job, Eye::Right)));
    lines.push(format!("Left eye: {}.", power(job, Eye::Left)));
}

fn fitting(job: &Written<'_>, lines: &mut Vec<String>) {
    let eyes = |name, of| both(job, name, of);
    let needed = |name, of| item(name, both(job, name, of));
    let tested = "Vertex distance tested";
    let head = "Head width";
    lines.push(needed("Pupil distance", |eye| at!(fitting[eye].cd_mm)));
    lines.extend(eyes("Near pupil distance", |eye| {
        at!(fitting[eye].near_cd_mm)
    }));
    lines.push(needed("Height", |eye| at!(fitting[eye].height_mm)));
    lines.extend(eyes("Segment height", |eye| {
        at!(fitting[eye].segment_height_mm)
    }));
    lines.push(item(
        tested,
        one(job, tested, at!(prescription.tested_vertex_mm)),
    ));
    lines.push(needed("Vertex distance fitted", |eye| {
        at!(fitting[eye].vertex_mm)
    }));
    lines.extend(eyes("Vertex distance handed over", |eye| {
        at!(handover[eye].vertex_mm)
    }));
    let set = eyes("Length to bend as handed over", |eye| {
        at!(handover[eye].length_to_bend_mm)
    });
    lines.push(
        set.unwrap_or_else(|| needed("Length to bend", |eye| at!(fitting[eye].length_to_bend_mm))),
    );
    lines.push(item(head, one(job, head, at!(fitting.head_width_mm))));
    lines.extend(fields::listed(job).into_iter().filter_map(|(field, _)| {
        let value = value(job, field)?;
        Some(format!("{}: {value}.", in_full(field)))
    }));
    let pads = listed([
        value(job, at!(frame.pads.size_mm)),
        text(job, at!(frame.pads.material)),
        text(job, at!(frame.pads.mount)),
    ]);
    lines.push(format!("Pads: {pads}."));
    lines.extend(job.changed().iter().map(said_now));
}

fn pair(job: &Written<'_>, lines: &mut Vec<String>) {
    let frame = listed([text(job, at!(frame.name)), text(job, at!(frame.colour))]);
    lines.push(format!("Frame: {frame}."));
    for (name, path) in [
        ("Lens width", at!(frame.a_mm)),
        ("Lens height", at!(frame.b_mm)),
        ("Between lenses", at!(frame.dbl_mm)),
        ("Side", at!(frame.side_mm)),
    ] {
        lines.extend(one(job, name, path));
    }
    let lens = listed([
        text(job, at!(lenses.design)),
        text(job, at!(lenses.material)),
        text(job, at!(lenses.coatings)),
    ]);
    lines.push(format!("Lenses: {lens}."));
    lines.extend(one(job, "Pantoscopic angle", at!(fitting.pantoscopic_deg)));
    lines.extend(one(job, "Face form", at!(fitting.face_form_deg)));
    lines.extend(text(job, at!(lenses.tint.colour)).map(|t| format!("Tint: {t}.")));
    lines.extend(text(job, at!(order.laboratory)).map(|l| format!("Laboratory: {l}.")));
}

/// "Length to bend now: right nine five millimetres, left nine two millimetres, since …"
fn said_now(changed: &Changed) -> String {
    let unit = unit_aloud(changed.unit);
    let said = |v: &Option<String>| or_missing(v.as_ref().map(|v| format!("{}{unit}", number(v))));
    let values = match changed.values.as_slice() {
        [right, left] => format!("right {}, left {}", said(right), said(left)),
        other => other.iter().map(said).collect(),
    };
    let since = changed
        .since
        .map_or_else(String::new, |day| format!(", since {}", date(day)));
    format!("{} now: {values}{since}.", changed.in_full)
}
