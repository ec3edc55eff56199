//! The kinds of lens that the standards tell apart.

use serde::{Deserialize, Serialize};

/// What kind of lens the tables tell apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum LensKind {
    /// One power all over.
    #[default]
    #[serde(rename = "single vision")]
    SingleVision,
    /// Bifocal and trifocal: powers in segments with an edge.
    #[serde(rename = "multifocal")]
    Multifocal,
    /// Progressive and degressive: power that changes smoothly.
    #[serde(rename = "power variation")]
    PowerVariation,
}

impl LensKind {
    /// Every kind.
    pub const ALL: [Self; 3] = [Self::SingleVision, Self::Multifocal, Self::PowerVariation];

    /// The name written in files and on screens.
    pub const fn name(self) -> &'static str {
        match self {
            Self::SingleVision => "single vision",
            Self::Multifocal => "multifocal",
            Self::PowerVariation => "power variation",
        }
    }
}
