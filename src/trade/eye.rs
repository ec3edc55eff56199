//! Right and left: which eye a value belongs to, and pairs of one value for each.

use std::fmt;

use serde::{Deserialize, Serialize};

/// One eye of the wearer, named from the wearer's own side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Eye {
    /// The wearer's right eye.
    Right,
    /// The wearer's left eye.
    Left,
}

impl Eye {
    /// Both eyes in the order in which they are always written: right, then left.
    pub const BOTH: [Self; 2] = [Self::Right, Self::Left];

    /// Returns the other eye.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Right => Self::Left,
            Self::Left => Self::Right,
        }
    }

    /// Returns +1 for the right eye and -1 for the left: the sign that turns "towards the nose"
    /// into "x to the observer's right" for somebody who faces the wearer.
    pub fn nasal_sign(self) -> f64 {
        match self {
            Self::Right => 1.0,
            Self::Left => -1.0,
        }
    }

    /// The word used in files, findings and on screens.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Left => "left",
        }
    }
}

impl fmt::Display for Eye {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// A value for each eye.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct PerEye<T> {
    /// The right eye's.
    pub right: T,
    /// The left eye's.
    pub left: T,
}

impl<T> PerEye<T> {
    /// Makes a pair by asking for each eye, right first.
    pub fn from_fn(mut f: impl FnMut(Eye) -> T) -> Self {
        Self {
            right: f(Eye::Right),
            left: f(Eye::Left),
        }
    }

    /// Returns the value of one eye.
    pub fn get(&self, eye: Eye) -> &T {
        match eye {
            Eye::Right => &self.right,
            Eye::Left => &self.left,
        }
    }

    /// Returns the value of one eye, to change.
    pub fn get_mut(&mut self, eye: Eye) -> &mut T {
        match eye {
            Eye::Right => &mut self.right,
            Eye::Left => &mut self.left,
        }
    }

    /// Returns each eye with its value, right first.
    pub fn iter(&self) -> impl Iterator<Item = (Eye, &T)> {
        [(Eye::Right, &self.right), (Eye::Left, &self.left)].into_iter()
    }

    /// Returns what `f` makes of each eye's value.
    pub fn map<U>(&self, mut f: impl FnMut(Eye, &T) -> U) -> PerEye<U> {
        PerEye {
            right: f(Eye::Right, &self.right),
            left: f(Eye::Left, &self.left),
        }
    }
}

impl<T> PerEye<Option<T>> {
    /// Returns both values when both eyes have one.
    pub fn both(&self) -> Option<(&T, &T)> {
        self.right.as_ref().zip(self.left.as_ref())
    }
}
