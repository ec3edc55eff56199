//! What came of a pair that was looked at again.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::words::words;

words! {
    /// Why the wearer could not get on with the pair; one word each, so that they can be counted.
    Cause {
        /// The prescribed powers.
        Prescription = "prescription",
        /// The pupil or centration distance.
        Centration = "centration",
        /// A fitting or segment height.
        Height = "height",
        /// The distance, tilt or face form in which it sits.
        Position = "position",
        /// Something was written down or ordered wrong.
        OrderEntry = "order entry",
        /// The laboratory made it wrong.
        Laboratory = "laboratory",
        /// The kind of lens, its material or curve.
        LensChoice = "lens choice",
        /// The frame presses, slips or is out of true.
        FrameFit = "frame fit",
        /// The wearer is still getting used to it.
        Adaptation = "adaptation",
        /// Another idea of what it would be.
        Expectation = "expectation",
        /// The eyes or the wearer's health.
        EyeHealth = "eye health",
        /// Nothing was found.
        NothingFound = "nothing found",
    }
}

words! {
    /// What was done about it.
    Outcome {
        /// The frame was adjusted.
        Adjusted = "adjusted",
        /// The wearer waits, with a day to come back.
        Waiting = "waiting",
        /// It is made again.
        Remade = "remade",
        /// The prescriber is asked to test again.
        RetestAsked = "re-test asked",
        /// The pair was taken back.
        Returned = "returned",
    }
}

words! {
    /// Who bears the cost.
    CostBearer {
        /// The practice.
        Practice = "practice",
        /// The laboratory.
        Laboratory = "laboratory",
        /// The prescriber.
        Prescriber = "prescriber",
        /// The wearer.
        Wearer = "wearer",
        /// A warranty.
        Warranty = "warranty",
    }
}

/// A visit about a collected pair: what was said, tried, found and decided.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Visit {
    /// The wearer's own words.
    pub complaint: Option<String>,
    /// Steps of the order of work that were done, by their ids.
    pub tried: Option<Vec<String>>,
    /// What was found, in words.
    pub found: Option<String>,
    /// Why, as far as it is known.
    pub cause: Option<Cause>,
    /// What was decided.
    pub outcome: Option<Outcome>,
    /// Who bears the cost.
    pub at_cost_of: Option<CostBearer>,
    /// When the wearer is to come back.
    pub review_on: Option<NaiveDate>,
    /// Why a remake is ordered just as before, where it is.
    pub same_because: Option<String>,
    /// Who decided (a name of the staff list).
    pub decided_by: Option<String>,
    /// When.
    pub decided_on: Option<NaiveDate>,
}
