//! Measured quantities kept exactly: whole thousandths of their unit, never a raw float.
//!
//! A written power is a whole number of eighths (125 thousandths of a dioptre), a focimeter reading of
//! hundredths, a length of half millimetres: all of them are whole thousandths, so two values are equal
//! exactly when their numbers are. Formulas in [`crate::trade::optics`] work in
//! `f64`: they take [`Dioptre::get`] and return a number that is rounded only when it is stored.
//!
//! This module knows nothing of jobs, storage or screens.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A number that cannot be kept as the quantity it was given for.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{value} is outside {low} to {high} {unit}: {what} are kept within that range")]
pub struct OutOfRange {
    /// What was being read, in the plural ("powers").
    pub what: &'static str,
    /// The number as it was given.
    pub value: f64,
    /// The smallest number kept.
    pub low: f64,
    /// The largest number kept.
    pub high: f64,
    /// The unit of all three.
    pub unit: &'static str,
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $what:literal, $unit:literal, $low:literal..=$high:literal, $decimals:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
        pub struct $name(i32);

        impl $name {
            /// The smallest value kept.
            pub const LOW: f64 = $low as f64;
            /// The largest value kept.
            pub const HIGH: f64 = $high as f64;
            /// The unit as it is written after a number.
            pub const UNIT: &'static str = $unit;

            /// Returns the quantity of so many thousandths of its unit.
            pub const fn from_thousandths(thousandths: i32) -> Self {
                Self(thousandths)
            }

            /// Returns the quantity in whole thousandths of its unit.
            pub const fn thousandths(self) -> i32 {
                self.0
            }

            /// Returns the quantity nearest to `value`, to a thousandth of its unit.
            ///
            /// # Errors
            /// [`OutOfRange`] when the number is not finite or outside the range that is kept.
            pub fn new(value: f64) -> Result<Self, OutOfRange> {
                if value.is_finite() && (Self::LOW..=Self::HIGH).contains(&value) {
                    Ok(Self(thousandths(value)))
                } else {
                    Err(OutOfRange {
                        what: $what,
                        value,
                        low: Self::LOW,
                        high: Self::HIGH,
                        unit: $unit,
                    })
                }
            }

            /// Returns the number in its unit, for a formula.
            pub fn get(self) -> f64 {
                f64::from(self.0) / 1000.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                let decimals = f.precision().unwrap_or($decimals);
                if f.sign_plus() && self.0 != 0 {
                    write!(f, "{:+.*}", decimals, self.get())
                } else {
                    write!(f, "{:.*}", decimals, self.get())
                }
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
                if self.0 % 1000 == 0 {
                    s.serialize_i32(self.0 / 1000)
                } else {
                    s.serialize_f64(self.get())
                }
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
                Self::new(f64::deserialize(d)?).map_err(serde::de::Error::custom)
            }
        }
    };
}

quantity!(
    /// A power in dioptres: sphere, cylinder, addition or curve.
    Dioptre, "powers", "D", -60..=60, 2
);
quantity!(
    /// A length in millimetres.
    Millimetre, "lengths", "mm", 0..=20_000, 1
);
quantity!(
    /// A share in percent.
    Percent, "shares", "%", 0..=100, 0
);
quantity!(
    /// A refractive index.
    Index, "refractive indices", "(no unit)", 1..=3, 3
);
quantity!(
    /// An angle in degrees.
    Degree, "angles", "degrees", -360..=360, 0
);
quantity!(
    /// An amount of prism in prism dioptres.
    PrismDioptre, "prisms", "prism dioptres", -60..=60, 2
);

/// The whole thousandths nearest to a number already known to be within range.
#[allow(
    clippy::cast_possible_truncation,
    reason = "every caller has checked the range; it is far inside i32"
)]
fn thousandths(value: f64) -> i32 {
    (value * 1000.0).round() as i32
}

impl Dioptre {
    /// No power.
    pub const ZERO: Self = Self(0);

    /// Returns a power nearest to a computed number, clamped to what can be kept.
    ///
    /// For results of formulas that are shown or compared, never for entry.
    pub fn nearest(value: f64) -> Self {
        Self(thousandths(value.clamp(Self::LOW, Self::HIGH)))
    }

    /// Whether the power is a whole number of eighths of a dioptre, as lenses are prescribed.
    pub fn is_on_eighth(self) -> bool {
        self.0 % 125 == 0
    }

    /// Returns the eighth that was meant by the usual two-decimal spellings of one.
    ///
    /// A written 0.12 or 0.13 is one eighth, 0.37 or 0.38 three, 0.62 or 0.63 five, 0.87 or 0.88
    /// seven (spelling rule of `docs/formulas.md`). Any other number comes back unchanged.
    #[must_use]
    pub fn written(self) -> Self {
        let size = self.0.abs();
        let rest = size % 1000;
        let meant = match rest {
            120 | 130 => 125,
            370 | 380 => 375,
            620 | 630 => 625,
            870 | 880 => 875,
            other => other,
        };
        Self((size - rest + meant) * self.0.signum())
    }

    /// Returns the size of the power without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

/// Reads a written power: the two-decimal spellings of eighths become the eighths they mean.
///
/// # Errors
/// As [`Dioptre`]'s own reader.
pub(crate) fn written_power<'de, D: Deserializer<'de>>(d: D) -> Result<Option<Dioptre>, D::Error> {
    Ok(Option::<Dioptre>::deserialize(d)?.map(Dioptre::written))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_of_eighths_mean_eighths() {
        for (typed, meant) in [
            (0.12, 125),
            (-1.13, -1125),
            (2.37, 2375),
            (-0.88, -875),
            (0.62, 625),
        ] {
            assert_eq!(Dioptre::new(typed).unwrap().written().thousandths(), meant);
        }
        assert_eq!(Dioptre::new(0.30).unwrap().written().thousandths(), 300);
        assert!(!Dioptre::new(0.30).unwrap().is_on_eighth());
    }

    #[test]
    fn float_dust_is_not_kept() {
        let a = Dioptre::new(0.850_000_000_000_000_1).unwrap();
        assert_eq!(a, Dioptre::new(0.85).unwrap());
        assert_eq!(serde_json::to_string(&a).unwrap(), "0.85");
        assert_eq!(
            serde_json::to_string(&Dioptre::new(-3.0).unwrap()).unwrap(),
            "-3"
        );
    }

    #[test]
    fn refusals_say_the_range() {
        let e = Dioptre::new(f64::NAN).unwrap_err();
        assert!(e.to_string().contains("-60 to 60 D"));
        assert!(Millimetre::new(1e9).is_err());
    }
}
