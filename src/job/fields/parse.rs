//! Reading what was typed into a field.

use chrono::NaiveDate;
use serde_json::Value;

use super::choose::{NotPicked, by_beginning, material, offered};
use super::clean::{clean, clean_lines};
use super::day;
use super::field::Field;
use super::kind::{FieldKind, PrismAxis};
use super::limits;
use super::number::{NotANumber, Typed, signed, typed};
use super::tasks::task;
use crate::job::current_word;
use crate::trade::optics::materials::MATERIALS;
use crate::trade::units::{Degree, Dioptre, Index, Millimetre, Percent, PrismDioptre};

/// What was typed cannot be kept; one sentence that says what to type.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct EntryError(pub String);

/// Reads what was typed into a field as the JSON value of its place; an empty entry is `Null`.
///
/// `today` is the day from which `today` and `+7` are counted.
///
/// # Errors
/// [`EntryError`] with one sentence that says what to type.
pub fn parse(field: &Field, text: &str, today: NaiveDate) -> Result<Value, EntryError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return if field.full_path() == "wearer.name" {
            refuse("a job belongs to a named wearer: type the name")
        } else {
            Ok(Value::Null)
        };
    }
    match field.kind {
        FieldKind::Text | FieldKind::Staff => Ok(words_or_null(&clean(trimmed))),
        FieldKind::Notes => Ok(words_or_null(&clean_lines(trimmed))),
        FieldKind::Date => day::day(trimmed, today)
            .map(|d| Value::from(d.to_string()))
            .ok_or_else(|| {
                entry("this is no day: type it as 2026-12-03, 3/12/2026, 3 dec 2026, today or +7")
            }),
        FieldKind::Moment => day::moment(trimmed, today)
            .map(|m| Value::from(m.to_string()))
            .ok_or_else(|| {
                entry("this is no day and time: type it as 2026-12-03 15:30 or +7 9:30")
            }),
        FieldKind::Power | FieldKind::Reading => power(field, trimmed),
        FieldKind::Addition => addition(field, trimmed),
        FieldKind::Prism(axis) => prism(axis, trimmed),
        FieldKind::Axis => axis(field, trimmed),
        FieldKind::Curve => quantity(trimmed, &["d"], "dioptres, as 6 or 4.25")
            .and_then(|t| possible(field, t))
            .and_then(|t| kept(Dioptre::new(number(t.thousandths)))),
        FieldKind::PrismSize => quantity(
            trimmed,
            &["δ", "∆", "△", "^"],
            "prism dioptres without a base, as 2",
        )
        .and_then(|t| possible(field, t))
        .and_then(|t| kept(PrismDioptre::new(number(t.thousandths)))),
        FieldKind::Length => quantity(trimmed, &["mm"], "millimetres, as 31.5")
            .and_then(|t| possible(field, t))
            .and_then(|t| kept(Millimetre::new(number(t.thousandths)))),
        FieldKind::Angle => quantity(trimmed, &["degrees", "deg", "°"], "degrees, as 8")
            .and_then(|t| possible(field, t))
            .and_then(|t| kept(Degree::new(number(t.thousandths)))),
        FieldKind::Index => quantity(trimmed, &[], "a refractive index, as 1.6")
            .and_then(|t| kept(Index::new(number(t.thousandths)))),
        FieldKind::Percent => quantity(trimmed, &["%"], "percent, as 85")
            .and_then(|t| kept(Percent::new(number(t.thousandths)))),
        FieldKind::Category => match trimmed {
            "0" | "1" | "2" | "3" | "4" => {
                Ok(trimmed.parse::<u8>().map_or(Value::Null, Value::from))
            }
            _ => refuse("filter categories run from 0 to 4: type one of these digits"),
        },
        FieldKind::Flag => match trimmed.to_lowercase().as_str() {
            "y" | "yes" => Ok(Value::Bool(true)),
            "n" | "no" => Ok(Value::Bool(false)),
            _ => refuse("type yes or no, or y or n"),
        },
        FieldKind::Choice(words) => {
            let typed = trimmed.to_lowercase();
            picked(
                by_beginning(current_word(&typed), words.iter().copied()),
                words,
            )
        }
        FieldKind::Material => {
            let keys: Vec<&'static str> = MATERIALS.iter().map(|m| m.key).collect();
            picked(material(trimmed, keys.iter().copied()), &keys)
        }
        FieldKind::Tasks => list(trimmed)
            .map(|text| task(field, &clean(text)).map_err(EntryError))
            .collect::<Result<Vec<_>, _>>()
            .map(Value::from),
        FieldKind::Words => Ok(list(trimmed)
            .map(|w| Value::from(clean(w).trim()))
            .collect()),
        FieldKind::Advice(words) => list(trimmed)
            .map(|w| picked(by_beginning(w, words.iter().copied()), words))
            .collect::<Result<Vec<_>, _>>()
            .map(Value::from),
    }
}

fn entry(sentence: impl Into<String>) -> EntryError {
    EntryError(sentence.into())
}

fn refuse<T>(sentence: impl Into<String>) -> Result<T, EntryError> {
    Err(entry(sentence))
}

/// Characters that were all dropped leave nothing to keep.
fn words_or_null(text: &str) -> Value {
    if text.trim().is_empty() {
        Value::Null
    } else {
        text.trim().into()
    }
}

/// The items of a comma separated list; "none" and "none known" stand for an empty one.
fn list(text: &str) -> impl Iterator<Item = &str> {
    let none = matches!(text.to_lowercase().as_str(), "none" | "none known");
    text.split(',')
        .map(str::trim)
        .filter(move |w| !none && !clean(w).trim().is_empty())
}

fn picked(
    found: Result<&'static str, NotPicked>,
    words: &[&'static str],
) -> Result<Value, EntryError> {
    match found {
        Ok(word) => Ok(word.into()),
        Err(NotPicked::Several(several)) => refuse(format!(
            "this could be {}: type more of it",
            offered(&several)
        )),
        Err(NotPicked::Unknown) => {
            refuse(format!("type {}, or the beginning of it", offered(words)))
        }
    }
}

/// Refuses a length or an angle that no wearer, frame or lens has.
fn possible(field: &Field, t: Typed) -> Result<Typed, EntryError> {
    match limits::beyond(field, number(t.thousandths)) {
        Some(sentence) => refuse(sentence),
        None => Ok(t),
    }
}

fn number(thousandths: i32) -> f64 {
    f64::from(thousandths) / 1000.0
}

fn kept<T: serde::Serialize>(
    quantity: Result<T, crate::trade::units::OutOfRange>,
) -> Result<Value, EntryError> {
    let quantity = quantity.map_err(|e| entry(format!("{e}; type a number within it")))?;
    serde_json::to_value(quantity).map_err(|e| entry(e.to_string()))
}

/// Takes one of the units off the end of what was typed.
fn without_unit<'a>(text: &'a str, units: &[&str]) -> &'a str {
    let found = units.iter().find_map(|u| {
        let start = text.len().checked_sub(u.len())?;
        let (head, tail) = text.split_at_checked(start)?;
        tail.eq_ignore_ascii_case(u).then_some(head)
    });
    found.unwrap_or(text).trim_end()
}

/// Takes a word, with or without a colon, off the beginning of what was typed.
fn without_word_before<'a>(text: &'a str, word: &str) -> &'a str {
    match text.split_at_checked(word.len()) {
        Some((head, tail)) if head.eq_ignore_ascii_case(word) => {
            tail.trim_start_matches([':', ' '])
        }
        _ => text,
    }
}

fn quantity(text: &str, units: &[&str], what: &str) -> Result<Typed, EntryError> {
    typed(without_unit(text, units)).map_err(|why| match why {
        NotANumber::Form => entry(format!("this is no number: type {what}")),
        NotANumber::TooLong => entry(format!("no more than three decimals are kept: type {what}")),
    })
}

fn power(field: &Field, text: &str) -> Result<Value, EntryError> {
    let cylinder = field.path.ends_with("cylinder_d");
    if !cylinder && matches!(text.to_lowercase().as_str(), "plano" | "pl" | "∞") {
        return kept(Dioptre::new(0.0));
    }
    let example = if cylinder {
        "a cylinder with its sign, as -0.75"
    } else {
        "a power with its sign, as -2.25, or plano"
    };
    let name = if cylinder { "cyl" } else { "sph" };
    let text = without_word_before(text, name);
    let t = quantity(text, &["ds", "dc", "sph", "cyl", "d"], example)?;
    needs_point(t)?;
    on_eighth(field, t)?;
    if !t.signed && t.thousandths != 0 {
        let value = signed(t.thousandths);
        return refuse(format!(
            "a power needs its sign: type {value} or -{}",
            value.trim_start_matches('+')
        ));
    }
    within(field, t, "powers")?;
    kept(
        Dioptre::new(number(t.thousandths))
            .map(|d| if field.is_written() { d.written() } else { d }),
    )
}

fn addition(field: &Field, text: &str) -> Result<Value, EntryError> {
    let body = without_word_before(text, "add");
    let body = without_unit(body, &["add"]);
    let t = quantity(body, &["d"], "an addition, as 2.00")?;
    needs_point(t)?;
    on_eighth(field, t)?;
    if t.thousandths < 0 {
        return refuse("an addition is never minus: type it as 2.00");
    }
    within(field, t, "additions")?;
    kept(
        Dioptre::new(number(t.thousandths))
            .map(|d| if field.is_written() { d.written() } else { d }),
    )
}

/// Two digits without a point (`-25`) may mean -0.25, -2.50 or -25.00: nobody can tell.
fn needs_point(t: Typed) -> Result<(), EntryError> {
    if t.pointed || t.whole_digits < 2 {
        return Ok(());
    }
    let sign = if t.thousandths < 0 { "-" } else { "+" };
    let whole = t.thousandths.abs() / 1000;
    refuse(format!(
        "the decimal point is missing: type {sign}{whole}.00 if whole dioptres are meant"
    ))
}

fn on_eighth(field: &Field, t: Typed) -> Result<(), EntryError> {
    let written = Dioptre::from_thousandths(t.thousandths).written();
    if !field.is_written() || written.is_on_eighth() {
        return Ok(());
    }
    let below = t.thousandths.div_euclid(125) * 125;
    refuse(format!(
        "a prescribed power stands on an eighth of a dioptre: type {} or {}",
        signed(below),
        signed(below + 125)
    ))
}

fn within(field: &Field, t: Typed, what: &str) -> Result<(), EntryError> {
    match limits(field) {
        Some((least, most)) if !(least..=most).contains(&number(t.thousandths)) => refuse(format!(
            "{what} are taken up to {most} D: type the value again with its decimal point"
        )),
        _ => Ok(()),
    }
}

fn prism(axis: PrismAxis, text: &str) -> Result<Value, EntryError> {
    let (plus, minus) = axis.words();
    let lower = text.to_lowercase();
    let lower = lower.replace("base", " ");
    let (body, direction) = match (
        lower.trim_end().strip_suffix(plus),
        lower.trim_end().strip_suffix(minus),
    ) {
        (Some(body), _) => (body, 1),
        (_, Some(body)) => (body, -1),
        _ => (lower.as_str(), 0),
    };
    let example = format!("the prism with its base, as 2 {plus} or 2 {minus}");
    let t = quantity(body.trim(), &["δ", "∆", "△", "^", "pd"], &example)?;
    if number(t.thousandths.abs()) > limits::PRISM_MOST_DELTA {
        return refuse(format!(
            "prism is taken up to {} prism dioptres: type {example}",
            limits::PRISM_MOST_DELTA
        ));
    }
    let value = match direction {
        0 if t.signed || t.thousandths == 0 => t.thousandths,
        0 => {
            return refuse(format!(
                "the base is missing: type {text} {plus} or {text} {minus}"
            ));
        }
        _ if t.signed => return refuse(format!("a sign and a base say it twice: type {example}")),
        way => t.thousandths * way,
    };
    kept(PrismDioptre::new(number(value)))
}

fn axis(field: &Field, text: &str) -> Result<Value, EntryError> {
    let body = text.trim_start_matches(['x', 'X', '×']).trim_start();
    let t = quantity(
        body,
        &["degrees", "deg", "°"],
        "the axis in degrees, 1 to 180",
    )?;
    if t.thousandths == 0 {
        return refuse("an axis runs from 1 to 180 degrees: for the horizontal type 180");
    }
    if !(1..=180_000).contains(&t.thousandths) {
        return refuse("an axis runs from 1 to 180 degrees: type it within that range");
    }
    if field.is_written() && t.thousandths % 1000 != 0 {
        return refuse(
            "a prescribed axis is a whole number of degrees: type it without decimals, 1 to 180",
        );
    }
    kept(Degree::new(number(t.thousandths)))
}
