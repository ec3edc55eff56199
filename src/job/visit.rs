//! What came of a pair that was looked at again.

use crate::job::fields::record;
use chrono::NaiveDate;

use super::words::words;

words! {
    /// What a wearer complains of; a short list, so that a cause can be looked for.
    Complaint {
        /// Distance is not clear.
        DistanceBlurred = "distance blurred",
        /// Near is not clear.
        NearBlurred = "near blurred",
        /// The screen or desk is not clear.
        ScreenBlurred = "screen blurred",
        /// Clear only with the chin up or down.
        ChinUpOrDown = "clear with chin moved",
        /// Clear only in a slot, with the head turned.
        NarrowZone = "clear in narrow zone",
        /// Clear when the pair is pressed closer, pulled away, lifted or tilted.
        BetterMoved = "clear when moved",
        /// Worse towards one side.
        OneSide = "worse to one side",
        /// Everything moves when the head turns.
        Swim = "swims on turning",
        /// Floors and walls are not level.
        Slope = "things lean or slope",
        /// Sizes, heights or distances look wrong.
        Size = "sizes look wrong",
        /// Two pictures, or a pull.
        Double = "double or pulling",
        /// Eyes that tire, ache or a headache.
        Ache = "tiring or headache",
        /// The edge of a segment or of a reading area is in the way.
        LineInTheWay = "line in the way",
        /// Reflections, rings, a second picture.
        Reflections = "reflections or ghosts",
        /// Coloured edges.
        Fringes = "colour fringes",
        /// Glare, or too little light.
        Light = "glare or too dark",
        /// The frame does not stay.
        Slips = "slips down",
        /// The frame hurts.
        Presses = "presses or hurts",
        /// Skin that is marked, red or itches.
        Skin = "marks or rash",
        /// Lashes or cheeks touch.
        Touches = "lashes, cheeks touch",
        /// One side higher.
        Askew = "sits askew",
        /// A lens moves in the rim.
        LensLoose = "lens loose",
        /// A fall, a stumble, a missed step.
        Fell = "fell or stumbled",
        /// It was good and is not any more.
        Changed = "good, then not",
        /// Something else was expected.
        Expected = "expected otherwise",
        /// Words that may mean a disease.
        Warning = "health warning words",
    }
}

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

record! {
    /// A visit about a collected pair: what was said, tried, found and decided.
    pub struct Visit {
        /// The wearer's own words.
        complaint: Option<String>,
        /// The same in words of the short list.
        complaints: Option<Vec<Complaint>>,
        /// Steps of the order of work that were done, by their ids.
        tried: Option<Vec<String>>,
        /// Who was told that the wearer's words may mean a disease, where they may.
        warning_told: Option<String>,
        /// What was found, in words.
        found: Option<String>,
        /// Why, as far as it is known.
        cause: Option<Cause>,
        /// What was decided.
        outcome: Option<Outcome>,
        /// Who bears the cost.
        at_cost_of: Option<CostBearer>,
        /// When the wearer is to come back.
        review_on: Option<NaiveDate>,
        /// Why a remake is ordered just as before, where it is.
        same_because: Option<String>,
        /// Who decided (a name of the staff list).
        decided_by: Option<String> = staff,
        /// When.
        decided_on: Option<NaiveDate>,
    }
}
