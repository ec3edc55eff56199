//! The order of work when a pair comes back: free and reversible steps come first.
//!
//! Health before spectacles; the pair on the face before it is touched; moving it by hand before
//! anything is made again. Order after common practice; the share of each cause, refraction first,
//! after Freeman and Evans 2010 and Bist et al. 2021.

use crate::judge::rules::free_moves::FREE_MOVES;

/// One step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct RecheckStep {
    /// Id, as recorded in the job file.
    pub id: &'static str,
    /// Name.
    pub title: &'static str,
    /// What to do.
    pub how: &'static str,
    /// How to read its outcome.
    pub tells: &'static str,
}

/// Every step, in order.
pub(crate) const STEPS: &[RecheckStep] = &[
    RecheckStep {
        id: "listen",
        title: "Listen, and write the words down",
        how: "A quiet seat. What, where, since when, how many hours a day; what is better with the old pair?",
        tells: "the complaint in the wearer's words, which the causes are looked up by",
    },
    RecheckStep {
        id: "danger",
        title: "Ask for danger words",
        how: "Sudden loss, a curtain, flashes, new floaters, new double vision, pain, a tender temple over 50?",
        tells: "any yes: the optometrist today, before anything is measured",
    },
    RecheckStep {
        id: "which-pair",
        title: "Which pair, for which task",
        how: "See the pair that is complained of, and have the task named with its distance. Which eye, how long?",
        tells: "a pair worn for what it is not made for is explained, or a pair is added",
    },
    RecheckStep {
        id: "on-the-face",
        title: "Look at it on the face before touching it",
        how: "Level, slip, tilt, vertex distance of each eye, cross or segment against the pupil, pads, marks.",
        tells: "what differs from the handover: bent, slipped, pinched",
    },
    RecheckStep {
        id: "each-eye",
        title: "One eye at a time, then both",
        how: "The wearer covers each eye in turn and says what changes.",
        tells: "one eye alone: power, axis, place of that lens, or the eye; only both: prism, image size, heights",
    },
    RecheckStep {
        id: "move-height",
        title: "Lift it and lower it by 2 to 3 mm",
        how: "By hand, the wearer looking at what is complained of.",
        tells: "clears: the height; adjust pads and sides",
    },
    RecheckStep {
        id: "move-distance",
        title: "Press it closer and pull it away",
        how: "A few millimetres either way, both sides alike.",
        tells: "clears: the vertex distance, or too little or too much power",
    },
    RecheckStep {
        id: "move-tilt",
        title: "Tilt the front",
        how: "The lower rims towards the cheeks and away.",
        tells: "clears: the tilt, or a cylinder that is not corrected",
    },
    RecheckStep {
        id: "move-turn",
        title: "Turn it and shift it sideways",
        how: "A few degrees, and a few millimetres to either side.",
        tells: "clears: the axis, or the centration",
    },
    RecheckStep {
        id: "read-new",
        title: "Read the pair blind",
        how: "Mark it and read it without the order in sight; enter it under verification.",
        tells: "another than ordered: back to the laboratory; another than prescribed: our order",
    },
    RecheckStep {
        id: "read-old",
        title: "Read the old pair and line both up",
        how: "Powers, centres, front curve, design, how it sits; enter it as the previous pair.",
        tells: "what changed for the wearer, and whether by enough to be felt",
    },
    RecheckStep {
        id: "acuity",
        title: "Acuity: each eye, both, near; old and new",
        how: "Then hold +0.25 and -0.25 over the new pair, each eye and both.",
        tells: "worse than the prescriber wrote, or better with either: ask for a re-test",
    },
    RecheckStep {
        id: "decide",
        title: "Decide, and record why",
        how: "Adjust today; wait to a named day where nothing is wrong and the change is large; make again; re-test; take back.",
        tells: "the cause from the short list, so that the practice can count",
    },
];

/// Whether the step only moves the pair on the face, to try before a remake.
pub(crate) fn is_free_move(id: &str) -> bool {
    FREE_MOVES.iter().any(|(free, _)| *free == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_free_move_is_a_step_before_the_readings() {
        let place = |id: &str| STEPS.iter().position(|s| s.id == id);
        for (id, _) in FREE_MOVES {
            assert!(place(id).is_some() && place(id) < place("read-new"), "{id}");
        }
        assert_eq!(STEPS.iter().filter(|s| is_free_move(s.id)).count(), 4);
    }
}
