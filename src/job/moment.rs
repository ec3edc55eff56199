//! A day and a time of day, as an appointment is written.

use std::fmt;

use chrono::NaiveDateTime;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::job::fields::{FieldValue, KeyType, Shape};

/// A local day and time, to the minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(pub NaiveDateTime);

impl Moment {
    /// Reads `2026-12-03T15:30`, with a blank in place of the T or with seconds if need be.
    pub fn parse(text: &str) -> Option<Self> {
        ["%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M:%S"]
            .iter()
            .find_map(|f| NaiveDateTime::parse_from_str(text.trim(), f).ok())
            .map(Self)
    }
}

impl KeyType for Moment {
    const SHAPE: Shape = Shape::Moment;

    fn value(&self) -> Option<FieldValue<'_>> {
        Some(FieldValue::Moment(self.0))
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0.format("%Y-%m-%dT%H:%M").to_string())
    }
}

impl Serialize for Moment {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Moment {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let text = String::deserialize(d)?;
        Self::parse(&text).ok_or_else(|| {
            // Never the text itself: it may be a person's.
            serde::de::Error::custom("is no day and time: write it as 2026-12-03T15:30")
        })
    }
}
