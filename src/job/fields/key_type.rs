//! What a key of the job file can hold, and the value read from it.

use std::collections::BTreeMap;

use chrono::{NaiveDate, NaiveDateTime};
use serde_json::Value;

use crate::trade::eye::Eye;
use crate::trade::units::{Degree, Dioptre, Index, Millimetre, Percent, PrismDioptre};

/// What a key of the job file can hold; the schema and the page on the job file are written from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A text.
    Text,
    /// A list of texts.
    Texts,
    /// True or false.
    Flag,
    /// A day.
    Date,
    /// A day and a time.
    Moment,
    /// Dioptres.
    Power,
    /// Millimetres.
    Length,
    /// Degrees.
    Angle,
    /// Prism dioptres.
    Prism,
    /// A refractive index.
    Index,
    /// Percent.
    Percent,
    /// A whole number, 0 to 4.
    Category,
    /// One of a list of words.
    Word(&'static [&'static str]),
    /// Several of a list of words.
    Words(&'static [&'static str]),
    /// An object of this name.
    Part(&'static str),
    /// A list of objects of this name.
    Parts(&'static str),
    /// Objects of this name by the path of a value.
    ByPath(&'static str),
}

/// One task of a pair, as read from a job.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TaskRead<'a> {
    /// What is done.
    pub what: Option<&'a str>,
    /// Its distance, mm.
    pub distance_mm: Option<f64>,
}

impl TaskRead<'_> {
    fn to_json(self) -> Value {
        let what = self.what.map(|what| ("what".to_owned(), what.into()));
        let distance = self.distance_mm.map(number_to_json);
        let distance = distance.map(|mm| ("distance_mm".to_owned(), mm));
        Value::Object(what.into_iter().chain(distance).collect())
    }
}

/// A value read from a job.
#[derive(Debug, Clone, PartialEq)]
pub enum FieldValue<'a> {
    /// A number in the unit of its key.
    Number(f64),
    /// A whole number.
    Whole(u8),
    /// A text.
    Text(&'a str),
    /// A list of texts or words.
    Texts(Vec<&'a str>),
    /// What a pair is for.
    Tasks(Vec<TaskRead<'a>>),
    /// Yes or no.
    Flag(bool),
    /// A day.
    Date(NaiveDate),
    /// A day and a time.
    Moment(NaiveDateTime),
}

impl FieldValue<'_> {
    /// Returns a number in the unit of its key; `None` for words, days and answers.
    pub fn as_number(&self) -> Option<f64> {
        match self {
            Self::Number(number) => Some(*number),
            Self::Whole(number) => Some(f64::from(*number)),
            _ => None,
        }
    }

    /// Returns the value as the job file writes it.
    pub fn to_json(&self) -> Value {
        match self {
            Self::Number(number) => number_to_json(*number),
            Self::Whole(number) => Value::from(*number),
            Self::Text(text) => Value::from(*text),
            Self::Texts(texts) => Value::from(texts.clone()),
            Self::Tasks(tasks) => tasks.iter().map(|task| task.to_json()).collect(),
            Self::Flag(flag) => Value::from(*flag),
            Self::Date(day) => Value::from(day.to_string()),
            Self::Moment(time) => Value::from(time.format("%Y-%m-%dT%H:%M").to_string()),
        }
    }
}

/// Quantities are whole thousandths; a whole number is written without a point.
#[allow(
    clippy::cast_possible_truncation,
    reason = "quantities of a job are within two thousand of their unit"
)]
fn number_to_json(number: f64) -> Value {
    let thousandths = (number * 1000.0).round() as i64;
    if thousandths % 1000 == 0 {
        Value::from(thousandths / 1000)
    } else {
        Value::from(number)
    }
}

/// What a key of the job file may be declared as.
pub(crate) trait KeyType {
    /// What the key can hold.
    const SHAPE: Shape;

    /// Returns the value; `None` where there is none, and for an object, which is no value.
    fn value(&self) -> Option<FieldValue<'_>>;
}

impl<T: KeyType> KeyType for Option<T> {
    const SHAPE: Shape = T::SHAPE;

    fn value(&self) -> Option<FieldValue<'_>> {
        self.as_ref()?.value()
    }
}

impl<T: KeyType> KeyType for Vec<T> {
    const SHAPE: Shape = match T::SHAPE {
        Shape::Word(words) => Shape::Words(words),
        Shape::Part(name) => Shape::Parts(name),
        _ => Shape::Texts,
    };

    fn value(&self) -> Option<FieldValue<'_>> {
        if matches!(T::SHAPE, Shape::Part(_)) {
            return None;
        }
        let texts = self.iter().filter_map(|item| match item.value()? {
            FieldValue::Text(text) => Some(text),
            _ => None,
        });
        Some(FieldValue::Texts(texts.collect()))
    }
}

impl<T: KeyType> KeyType for BTreeMap<String, T> {
    const SHAPE: Shape = match T::SHAPE {
        Shape::Part(name) => Shape::ByPath(name),
        other => other,
    };

    fn value(&self) -> Option<FieldValue<'_>> {
        None
    }
}

impl KeyType for String {
    const SHAPE: Shape = Shape::Text;

    fn value(&self) -> Option<FieldValue<'_>> {
        Some(FieldValue::Text(self))
    }
}

impl KeyType for bool {
    const SHAPE: Shape = Shape::Flag;

    fn value(&self) -> Option<FieldValue<'_>> {
        Some(FieldValue::Flag(*self))
    }
}

impl KeyType for u8 {
    const SHAPE: Shape = Shape::Category;

    fn value(&self) -> Option<FieldValue<'_>> {
        Some(FieldValue::Whole(*self))
    }
}

impl KeyType for NaiveDate {
    const SHAPE: Shape = Shape::Date;

    fn value(&self) -> Option<FieldValue<'_>> {
        Some(FieldValue::Date(*self))
    }
}

impl KeyType for Eye {
    const SHAPE: Shape = Shape::Word(&[Self::Right.word(), Self::Left.word()]);

    fn value(&self) -> Option<FieldValue<'_>> {
        Some(FieldValue::Text(self.word()))
    }
}

macro_rules! quantities {
    ($($name:ident)+) => {$(
        impl KeyType for $name {
            const SHAPE: Shape = quantities!(@ $name);

            fn value(&self) -> Option<FieldValue<'_>> {
                Some(FieldValue::Number(self.get()))
            }
        }
    )+};
    (@ Dioptre) => { Shape::Power };
    (@ Millimetre) => { Shape::Length };
    (@ Degree) => { Shape::Angle };
    (@ PrismDioptre) => { Shape::Prism };
    (@ Index) => { Shape::Index };
    (@ Percent) => { Shape::Percent };
}
quantities!(Dioptre Millimetre Degree PrismDioptre Index Percent);
