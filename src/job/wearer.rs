//! The wearer: who the pair is for, and what about them changes what may be supplied.

use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};

use super::words::words;

words! {
    /// Registration as sight impaired.
    SightImpaired {
        /// Not registered.
        No = "no",
        /// Registered sight impaired.
        Partial = "partial",
        /// Registered severely sight impaired.
        Severe = "severe",
    }
}

/// The person a pair is made for.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Wearer {
    /// Name as it is written.
    pub name: Option<String>,
    /// Date of birth.
    pub born: Option<NaiveDate>,
    /// Telephone number as it is written.
    pub phone: Option<String>,
    /// Electronic mail address.
    pub email: Option<String>,
    /// Allergies; an empty list means that none is known, absence that nobody asked.
    pub allergies: Option<Vec<String>>,
    /// Whether only one eye sees usefully.
    pub one_eyed: Option<bool>,
    /// Registration as sight impaired.
    pub sight_impaired: Option<SightImpaired>,
    /// What the wearer does.
    pub occupation: Option<String>,
    /// Whether the wearer drives.
    pub drives: Option<bool>,
    /// Anything else.
    pub notes: Option<String>,
}

impl Wearer {
    /// Returns the wearer's age in whole years on a day, when the date of birth is known.
    pub fn age_on(&self, day: NaiveDate) -> Option<i32> {
        self.born.map(|b| whole_years(b, day))
    }

    /// Whether an allergy that contains `word` is recorded.
    pub fn is_allergic_to(&self, word: &str) -> bool {
        self.allergies
            .iter()
            .flatten()
            .any(|a| a.to_lowercase().contains(word))
    }

    /// Whether the wearer is registered sight impaired or severely sight impaired.
    pub fn is_sight_impaired(&self) -> bool {
        matches!(
            self.sight_impaired,
            Some(SightImpaired::Partial | SightImpaired::Severe)
        )
    }
}

/// Returns the whole years between two days (a birthday on 29 February counts from 1 March).
pub fn whole_years(from: NaiveDate, to: NaiveDate) -> i32 {
    let before = (to.month(), to.day()) < (from.month(), from.day());
    to.year() - from.year() - i32::from(before)
}
