//! A share of a number of cases, with the interval within which the true one may lie.
//!
//! The interval is Wilson's score interval (Wilson EB, J Am Stat Assoc 1927;22:209-12), without a
//! correction for continuity. The interval of a difference between two shares is the hybrid of two
//! of them (Newcombe RG, Stat Med 1998;17:873-90, method 10).

use serde::{Serialize, Serializer};

/// The 97.5 % point of the normal distribution: 95 % lie between it and its negative.
const Z: f64 = 1.959_963_984_540_054;

/// Fewest cases for which a share is shown: 0 of 20 may still be 16 in 100.
pub const LEAST: u64 = 20;

/// A count of a number of cases.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Rate {
    /// How many.
    pub count: u64,
    /// Of how many.
    pub of: u64,
}

/// Comparison of a share with the one before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Change {
    /// More: the interval of the difference lies above zero.
    More,
    /// Less: it lies below zero.
    Fewer,
    /// No clear change: it includes zero.
    NotClear,
    /// One of the two has too few cases.
    TooFew,
}

impl Change {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::More => "more than before",
            Self::Fewer => "fewer than before",
            Self::NotClear => "no clear change",
            Self::TooFew => "too few to compare",
        }
    }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "counts of pairs stay far below 2^53"
)]
const fn real(count: u64) -> f64 {
    count as f64
}

impl Rate {
    /// A count of a number of cases.
    pub const fn new(count: u64, of: u64) -> Self {
        Self { count, of }
    }

    /// Whether a share of it is one: not more than there are, and of something.
    pub const fn is_share(self) -> bool {
        self.of > 0 && self.count <= self.of
    }

    /// Whether there are at least [`LEAST`] cases.
    pub const fn is_enough(self) -> bool {
        self.is_share() && self.of >= LEAST
    }

    /// Returns the share, from 0 to 1.
    pub fn share(self) -> Option<f64> {
        self.is_share().then(|| real(self.count) / real(self.of))
    }

    /// Returns the 95 % interval of the share (Wilson's score interval).
    pub fn interval(self) -> Option<(f64, f64)> {
        let p = self.share()?;
        let n = real(self.of);
        let z2 = Z * Z;
        let middle = 2.0f64.mul_add(n * p, z2);
        let reach = Z * (4.0 * n * p).mul_add(1.0 - p, z2).sqrt();
        let whole = 2.0 * (n + z2);
        Some((
            ((middle - reach) / whole).clamp(0.0, p),
            ((middle + reach) / whole).clamp(p, 1.0),
        ))
    }

    /// Returns the 95 % interval of this share less another (Newcombe's method 10).
    pub fn less(self, other: Self) -> Option<(f64, f64)> {
        let (p, q) = (self.share()?, other.share()?);
        let ((pl, pu), (ql, qu)) = (self.interval()?, other.interval()?);
        let difference = p - q;
        Some((
            difference - (p - pl).hypot(qu - q),
            difference + (pu - p).hypot(q - ql),
        ))
    }

    /// Compares it with the one before.
    pub fn against(self, before: Self) -> Change {
        if !self.is_enough() || !before.is_enough() {
            return Change::TooFew;
        }
        match self.less(before) {
            Some((low, _)) if low > 0.0 => Change::More,
            Some((_, high)) if high < 0.0 => Change::Fewer,
            Some(_) => Change::NotClear,
            None => Change::TooFew,
        }
    }

    /// Returns the share with its 95 % interval: "3.5 % (2.0-6.1)".
    pub fn said(self) -> String {
        if self.of == 0 {
            return "none".to_owned();
        }
        match (self.share(), self.interval()) {
            (Some(_), _) if self.of < LEAST => "too few to tell".to_owned(),
            (Some(p), Some((low, high))) => format!(
                "{:.1} % ({:.1}-{:.1})",
                p * 100.0,
                low * 100.0,
                high * 100.0
            ),
            // More than there are to be of: the two are not of the same time.
            _ => "no share".to_owned(),
        }
    }
}

impl Serialize for Rate {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeMap;
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("count", &self.count)?;
        map.serialize_entry("of", &self.of)?;
        if self.is_enough()
            && let (Some(share), Some((low, high))) = (self.share(), self.interval())
        {
            map.serialize_entry("share", &share)?;
            map.serialize_entry("low", &low)?;
            map.serialize_entry("high", &high)?;
        }
        map.serialize_entry("too_few", &(self.of < LEAST))?;
        map.end()
    }
}
