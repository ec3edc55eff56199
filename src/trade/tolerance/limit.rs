//! What a table of tolerances is made of: bands, amounts, and where each row comes from.

/// How sure we are that a row says what the standard says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Confidence {
    /// Read in the public source that the citation names.
    Seen,
    /// Remembered from the standard, its text not at hand: confirm before relying on it.
    FromMemory,
}

impl Confidence {
    /// The words printed in the row of a table.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::FromMemory => "from memory",
        }
    }
}

/// The clause that a limit comes from, and how the limit was checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cite {
    /// The standard and the table or clause in it.
    pub clause: &'static str,
    /// How sure we are of the number.
    pub confidence: Confidence,
    /// The public source it was read in or checked against.
    pub source: &'static str,
}

/// A limit found for one comparison.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// The largest error allowed, in the unit of the comparison.
    pub value: f64,
    /// The clause it comes from.
    pub cite: &'static Cite,
}

/// Sums and products of hundredths come out a few parts in 10^16 off: two numbers closer than this
/// are equal wherever a value is compared with a band edge or a limit.
///
/// It is a million times finer than any instrument reads, so it never changes a verdict by itself.
pub(crate) const DUST: f64 = 1e-9;

/// A limit as it is printed: a fixed part and a share of a power.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Amount {
    /// The part that does not depend on the power.
    pub(crate) fixed: f64,
    /// The part added for each dioptre of power.
    pub(crate) per_d: f64,
}

impl Amount {
    pub(crate) const fn fixed(fixed: f64) -> Self {
        Self { fixed, per_d: 0.0 }
    }

    pub(crate) const fn per_d(per_d: f64) -> Self {
        Self { fixed: 0.0, per_d }
    }

    pub(crate) const fn fixed_and_per_d(fixed: f64, per_d: f64) -> Self {
        Self { fixed, per_d }
    }

    /// Returns the limit for a power of this size, dioptres.
    pub(crate) fn at(self, power_d: f64) -> f64 {
        self.fixed + self.per_d * power_d.abs()
    }
}

/// Rows chosen by size: "up to and including" each edge, and one row above the last.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bands<R: 'static> {
    /// Each edge with the row for sizes up to it (and above the edge before).
    pub(crate) up_to: &'static [(f64, R)],
    /// The row above the last edge.
    pub(crate) above: R,
}

impl<R> Bands<R> {
    /// Returns the row for a value, by its size.
    pub(crate) fn row(&self, value: f64) -> &R {
        self.up_to
            .iter()
            .find(|(edge, _)| value.abs() <= edge + DUST)
            .map_or(&self.above, |(_, row)| row)
    }

    /// Returns each row with the words for its band, in order.
    pub(crate) fn described(&self) -> Vec<(String, &R)> {
        let mut lower: Option<f64> = None;
        let mut all = Vec::new();
        for (edge, row) in self.up_to {
            all.push((band_words(lower, Some(*edge)), row));
            lower = Some(*edge);
        }
        all.push((band_words(lower, None), &self.above));
        all
    }
}

fn band_words(lower: Option<f64>, upper: Option<f64>) -> String {
    match (lower, upper) {
        (None, Some(u)) => format!("up to {u}"),
        (Some(l), Some(u)) => format!("over {l}, up to {u}"),
        (Some(l), None) => format!("over {l}"),
        (None, None) => "any".to_owned(),
    }
}
