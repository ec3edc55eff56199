//! How long a wearer's records are kept before a person looks whether they still have to be.
//!
//! The default, ten years after the wearer was last seen and for children until the 25th birthday
//! where that is later, is what guidance to optical practices in the United Kingdom commonly says.
//! It is written from memory and is to be confirmed against the guidance and the law in force where
//! the practice works. The rule only finds what is due for review: it erases nothing.

use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};

use super::{Job, whole_years};

/// Age in years from which a wearer counts as an adult.
pub(crate) const ADULT_FROM_AGE: i32 = 18;

/// The fewest and the most years a rule may say.
pub(crate) const ADULT_YEARS: std::ops::RangeInclusive<u16> = 1..=100;
/// The lowest and the highest age a rule may say.
pub(crate) const CHILD_UNTIL_AGE: std::ops::RangeInclusive<u16> = 18..=100;

/// How long records are kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Retention {
    /// Years after the wearer was last seen.
    pub adult_years: u16,
    /// For whoever was last seen as a child: at least until this birthday.
    pub child_until_age: u16,
}

impl Default for Retention {
    fn default() -> Self {
        Self {
            adult_years: 10,
            child_until_age: 25,
        }
    }
}

/// Which part of the rule decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Why {
    /// Last seen as an adult.
    Adult,
    /// Last seen as a child; the years after that end later than the birthday.
    ChildYears,
    /// Last seen as a child; the birthday is later than the years after that.
    ChildBirthday,
    /// The date of birth is not known: treated as an adult.
    BirthUnknown,
}

/// When a wearer's records are due for review, and why then.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Due {
    /// The first day on which they are due.
    pub on: NaiveDate,
    /// Why.
    pub why: Why,
}

impl Retention {
    /// Returns when the records of a wearer who was last seen on a day are due for review.
    ///
    /// A wearer is a child who was under [`ADULT_FROM_AGE`] when last seen. A birthday or an
    /// anniversary of 29 February falls on 1 March in other years.
    pub fn due(&self, born: Option<NaiveDate>, last_seen: NaiveDate) -> Due {
        let years = years_after(last_seen, self.adult_years);
        let Some(born) = born else {
            return Due {
                on: years,
                why: Why::BirthUnknown,
            };
        };
        if whole_years(born, last_seen) >= ADULT_FROM_AGE {
            return Due {
                on: years,
                why: Why::Adult,
            };
        }
        let birthday = years_after(born, self.child_until_age);
        if birthday > years {
            Due {
                on: birthday,
                why: Why::ChildBirthday,
            }
        } else {
            Due {
                on: years,
                why: Why::ChildYears,
            }
        }
    }

    /// Returns a reason as a person reads it.
    pub fn said(&self, why: Why) -> String {
        let (years, age) = (self.adult_years, self.child_until_age);
        match why {
            Why::Adult => format!("adult: {years} years after last seen"),
            Why::ChildYears => {
                format!("child when last seen: {years} years after that, later than age {age}")
            }
            Why::ChildBirthday => {
                format!("child when last seen: until age {age}, later than {years} years after")
            }
            Why::BirthUnknown => {
                format!("no date of birth, so treated as an adult: {years} years after last seen")
            }
        }
    }

    /// Whether both numbers lie in what a rule may say.
    pub fn is_sensible(&self) -> bool {
        ADULT_YEARS.contains(&self.adult_years) && CHILD_UNTIL_AGE.contains(&self.child_until_age)
    }
}

/// Returns the same day so many years on, 1 March where that year has no 29 February; the last day
/// of the calendar where it ends before.
fn years_after(day: NaiveDate, years: u16) -> NaiveDate {
    let year = day.year().saturating_add(i32::from(years));
    day.with_year(year)
        .or_else(|| NaiveDate::from_ymd_opt(year, 3, 1))
        .unwrap_or(NaiveDate::MAX)
}

/// Returns the latest day, no later than `today`, on which a job shows its wearer at the practice:
/// the test, the measuring, the handover.
///
/// A day that lies ahead is a slip or an appointment, and nobody was seen on it yet.
pub fn last_seen(job: &Job, today: NaiveDate) -> Option<NaiveDate> {
    [
        job.prescription.tested_on,
        job.fitting.taken_on,
        job.handover.given_on,
    ]
    .into_iter()
    .flatten()
    .filter(|d| *d <= today)
    .max()
}
