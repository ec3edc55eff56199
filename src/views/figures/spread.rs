//! How days are spread: counts of each whole number of days, so that a million cost no more room
//! than the longest wait.

use std::collections::BTreeMap;

use serde::{Serialize, Serializer};

/// Lengths of time in whole calendar days.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Spread(BTreeMap<u64, u64>);

impl Spread {
    /// Adds one.
    pub fn add(&mut self, days: u64) {
        *self.0.entry(days).or_default() += 1;
    }

    /// Adds all of another.
    pub fn join(&mut self, other: &Self) {
        for (days, count) in &other.0 {
            *self.0.entry(*days).or_default() += count;
        }
    }

    /// Returns how many there are.
    pub fn number(&self) -> u64 {
        self.0.values().sum()
    }

    /// Returns the least number of days within which at least so many thousandths of
    /// them were done (Hyndman and Fan, Am Stat 1996;50:361-5, definition 1): always one that was
    /// seen, never one between two.
    pub fn quantile(&self, thousandths: u64) -> Option<u64> {
        let number = self.number();
        let wanted = number.checked_mul(thousandths)?.div_ceil(1000).max(1);
        let mut seen = 0;
        self.0.iter().find_map(|(days, count)| {
            seen += count;
            (seen >= wanted).then_some(*days)
        })
    }

    /// Returns the median.
    pub fn median(&self) -> Option<u64> {
        self.quantile(500)
    }
}

impl Serialize for Spread {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeMap;
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("number", &self.number())?;
        for (name, thousandths) in [
            ("quartile_1", 250),
            ("median", 500),
            ("quartile_3", 750),
            ("percentile_90", 900),
        ] {
            map.serialize_entry(name, &self.quantile(thousandths))?;
        }
        map.end()
    }
}
