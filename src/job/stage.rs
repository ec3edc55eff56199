//! The stages of a job, and which ways lead on and back.

use super::words::words;

words! {
    /// The stage of a job.
    Stage {
        /// Measurements are being taken; nothing is ordered.
        Measured = "measured",
        /// With the laboratory.
        Ordered = "ordered",
        /// Came back and passed its verification.
        Verified = "verified",
        /// Handed over to the wearer.
        Collected = "collected",
        /// Given up, with a reason.
        Cancelled = "cancelled",
    }
}

words! {
    /// A move of a job, named by the stage it leads to.
    Gate {
        /// From measured to ordered.
        Ordered = "ordered",
        /// From ordered to verified.
        Verified = "verified",
        /// From verified to collected.
        Collected = "collected",
    }
}

words! {
    /// Why a job was begun.
    Reason {
        /// A first pair.
        New = "new",
        /// A further pair to the same prescription.
        SecondPair = "second pair",
        /// New lenses in the wearer's own frame.
        Reglaze = "reglaze",
        /// The same pair once more, for one that was lost or broken.
        Replacement = "replacement",
        /// Made again.
        Remake = "remake",
        /// A collected pair that is being looked at again.
        Recheck = "recheck",
    }
}

impl Stage {
    /// The gate before the next stage, if the job can still move on.
    pub const fn next_gate(self) -> Option<Gate> {
        match self {
            Self::Measured => Some(Gate::Ordered),
            Self::Ordered => Some(Gate::Verified),
            Self::Verified => Some(Gate::Collected),
            Self::Collected | Self::Cancelled => None,
        }
    }

    /// Whether the job still needs somebody.
    pub const fn is_open(self) -> bool {
        matches!(self, Self::Measured | Self::Ordered | Self::Verified)
    }

    /// Whether a delivered pair can be sent back from here.
    pub const fn can_send_back(self) -> bool {
        matches!(self, Self::Ordered | Self::Verified)
    }
}

impl Gate {
    /// The stage of a job before this gate.
    pub const fn from_stage(self) -> Stage {
        match self {
            Self::Ordered => Stage::Measured,
            Self::Verified => Stage::Ordered,
            Self::Collected => Stage::Verified,
        }
    }

    /// The stage of a job after it.
    pub const fn to_stage(self) -> Stage {
        match self {
            Self::Ordered => Stage::Ordered,
            Self::Verified => Stage::Verified,
            Self::Collected => Stage::Collected,
        }
    }

    /// The gates that come before this one, first one first.
    pub const fn earlier(self) -> &'static [Self] {
        match self {
            Self::Ordered => &[],
            Self::Verified => &[Self::Ordered],
            Self::Collected => &[Self::Ordered, Self::Verified],
        }
    }
}
