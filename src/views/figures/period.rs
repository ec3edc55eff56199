//! The time that figures are about: half-open, from its first day up to the day after its last.

use chrono::{Datelike, Days, Months, NaiveDate};
use serde::Serialize;

use super::sparkline::PARTS;

/// How long a period is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Length {
    /// A calendar month.
    Month,
    /// A calendar quarter.
    Quarter,
    /// A calendar year.
    Year,
    /// A number of days, from one date to another.
    Days,
}

/// A period: `from` belongs to it, `to` does not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Period {
    /// Its first day.
    pub from: NaiveDate,
    /// The day after its last.
    pub to: NaiveDate,
    /// How long it is.
    pub length: Length,
}

impl Period {
    /// Returns the month, quarter or year that a day lies in; for days, that day alone.
    pub fn around(day: NaiveDate, length: Length) -> Self {
        let month = match length {
            Length::Month => day.month(),
            Length::Quarter => (day.month() - 1) / 3 * 3 + 1,
            Length::Year => 1,
            Length::Days => {
                return Self {
                    from: day,
                    to: after(day),
                    length,
                };
            }
        };
        let from = NaiveDate::from_ymd_opt(day.year(), month, 1).unwrap_or(day);
        Self::beginning(from, length)
    }

    fn beginning(from: NaiveDate, length: Length) -> Self {
        let to = from.checked_add_months(months(length)).unwrap_or(from);
        Self { from, to, length }
    }

    /// Returns the period from one day to another, both included; `None` when they are in the wrong
    /// order.
    pub fn days(first: NaiveDate, last: NaiveDate) -> Option<Self> {
        (first <= last).then(|| Self {
            from: first,
            to: after(last),
            length: Length::Days,
        })
    }

    /// Returns how many days it has.
    pub fn count(&self) -> u64 {
        u64::try_from((self.to - self.from).num_days()).unwrap_or(0)
    }

    /// Whether a day belongs to it.
    pub fn contains(&self, day: NaiveDate) -> bool {
        self.from <= day && day < self.to
    }

    /// Returns the last day that belongs to it.
    pub fn last(&self) -> NaiveDate {
        self.to.pred_opt().unwrap_or(self.to)
    }

    /// Returns the period of the same kind that ends where this one begins.
    #[must_use]
    pub fn before(&self) -> Self {
        let from = match self.length {
            Length::Days => self.from.checked_sub_days(Days::new(self.count())),
            length => self.from.checked_sub_months(months(length)),
        };
        Self {
            from: from.unwrap_or(self.from),
            to: self.from,
            length: self.length,
        }
    }

    /// Returns the period of the same kind that begins where this one ends.
    #[must_use]
    pub fn next(&self) -> Self {
        match self.length {
            Length::Days => Self {
                from: self.to,
                to: self
                    .to
                    .checked_add_days(Days::new(self.count()))
                    .unwrap_or(self.to),
                length: self.length,
            },
            length => Self::beginning(self.to, length),
        }
    }

    /// Returns in which of twelve parts a day lies: the months of a year, else equal shares of the
    /// days.
    pub fn part(&self, day: NaiveDate) -> Option<usize> {
        if !self.contains(day) {
            return None;
        }
        if self.length == Length::Year {
            return usize::try_from(day.month0()).ok();
        }
        let since = usize::try_from((day - self.from).num_days()).ok()?;
        let days = usize::try_from(self.count()).ok()?;
        Some((since * PARTS / days.max(1)).min(PARTS - 1))
    }

    /// Returns what a person calls it.
    pub fn title(&self) -> String {
        match self.length {
            Length::Month => self.from.format("%B %Y").to_string(),
            Length::Quarter => format!(
                "quarter {} of {}",
                self.from.month0() / 3 + 1,
                self.from.year()
            ),
            Length::Year => self.from.format("%Y").to_string(),
            Length::Days => format!(
                "{} to {}",
                self.from.format("%-d %b %Y"),
                self.last().format("%-d %b %Y")
            ),
        }
    }
}

fn after(day: NaiveDate) -> NaiveDate {
    day.succ_opt().unwrap_or(day)
}

const fn months(length: Length) -> Months {
    Months::new(match length {
        Length::Quarter => 3,
        Length::Year => 12,
        Length::Month | Length::Days => 1,
    })
}
