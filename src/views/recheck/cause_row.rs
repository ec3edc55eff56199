//! One row of the table of causes: complaints and signs that point to a cause, and what to do.

use super::parameter::Parameter;
use crate::job::{Cause, Complaint};

/// Which way a difference goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// The newer value is larger.
    More,
    /// The newer value is smaller.
    Less,
    /// Either.
    Any,
}

/// Something in the values that points to a cause.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// Suspected against the pair worn before.
    Before(Parameter, Direction),
    /// Suspected against the order or the handover.
    Since(Parameter, Direction),
    /// A reading outside the standard.
    Made(Parameter),
    /// The powers ordered are not those prescribed.
    NotAsPrescribed,
    /// A strong lens of a material that fringes.
    LowAbbe,
    /// No coating against reflections.
    Uncoated,
    /// A tint too dark for driving at dusk.
    DarkTint,
    /// A wrapped front without powers for it.
    Wrapped,
    /// A reading addition in a single distance design, or a screen without a zone for it.
    NoIntermediate,
    /// The first pair of its kind, or not known to be another.
    FirstProgressive,
}

impl Sign {
    /// Whether it is a property that most wearers tolerate: it supports a complaint
    /// and is not listed without one.
    pub(super) const fn is_fact(self) -> bool {
        matches!(
            self,
            Self::LowAbbe | Self::Uncoated | Self::DarkTint | Self::Wrapped | Self::NoIntermediate
        )
    }
}

/// One row of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CauseRow {
    /// Id.
    pub id: &'static str,
    /// The complaints that point to it.
    pub complaints: &'static [Complaint],
    /// Signs in the values that point to it.
    pub signs: &'static [Sign],
    /// The likely cause.
    pub cause: &'static str,
    /// The examination that confirms or excludes it.
    pub check: &'static str,
    /// What to do, cheapest first.
    pub remedy: &'static str,
    /// The cause under which the figures count it.
    pub counts_as: Cause,
    /// Source.
    pub source: &'static str,
}
