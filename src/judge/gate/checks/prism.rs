//! Checks of prescribed prism.

use super::{nothing_yet, values};
use crate::job::Gate;
use crate::job::fields::at;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::tolerance::DUST;
use crate::trade::units::PrismDioptre;

/// The prescribed components of both eyes in one direction; absent is none.
fn components(c: &Context<'_>, direction: Direction) -> (PrismDioptre, PrismDioptre) {
    let of = |e: &crate::job::EyePrescription| {
        match direction {
            Direction::Horizontal => e.base_in_delta,
            Direction::Vertical => e.base_up_delta,
        }
        .unwrap_or_default()
    };
    let p = &c.job.prescription;
    (of(&p.right), of(&p.left))
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Direction {
    Horizontal,
    Vertical,
}

impl Direction {
    const BOTH: [Self; 2] = [Self::Horizontal, Self::Vertical];

    const fn word(self) -> &'static str {
        match self {
            Self::Horizontal => "horizontal",
            Self::Vertical => "vertical",
        }
    }

    const fn field(self) -> &'static str {
        match self {
            Self::Horizontal => at!(prescription.right.base_in_delta).full(),
            Self::Vertical => at!(prescription.right.base_up_delta).full(),
        }
    }
}

pub(crate) static PRISM_UNSPLIT: Check = Check {
    id: CheckId::PrismUnsplit,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "{prism-split:1} or more on one lens and none on the other in that direction",
    ways_out: &["split it between the lenses after asking the prescriber"],
    source: PRACTICE,
    run: |c, found| {
        let limit = c.threshold(Threshold::PrismSplit);
        let none = PrismDioptre::default();
        for direction in Direction::BOTH {
            let (right, left) = components(c, direction);
            let one = if left == none { right } else { left };
            if (right == none) != (left == none) && one.get().abs() + DUST >= limit {
                found.add(
                    About::Pair,
                    direction.field(),
                    format!("{} prism right {right:+}, left {left:+}: all on one lens", direction.word()),
                    values! {"direction" => direction.word(), "right_delta" => right, "left_delta" => left},
                    Some(format!("{limit:.2} prism dioptres on one lens")),
                );
            }
        }
    },
};

pub(crate) static PRISM_OPPOSED: Check = Check {
    id: CheckId::PrismOpposed,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "prescribed horizontal bases are opposed, or both vertical bases are the same way: the prisms cancel",
    ways_out: &["ask the prescriber"],
    source: "ISO 4007:2018, 3.7.18 note 2: how prisms of a pair add",
    run: |c, found| {
        let none = PrismDioptre::default();
        for direction in Direction::BOTH {
            let (right, left) = components(c, direction);
            if right == none || left == none {
                continue;
            }
            let same_sign = (right > none) == (left > none);
            let cancels = match direction {
                Direction::Horizontal => !same_sign,
                Direction::Vertical => same_sign,
            };
            if cancels {
                found.add(
                    About::Pair,
                    direction.field(),
                    format!("{} prism right {right:+}, left {left:+} cancels in the pair", direction.word()),
                    values! {"direction" => direction.word(), "right_delta" => right, "left_delta" => left},
                    None,
                );
            }
        }
    },
};

pub(crate) static PRISM_MOVES_SIGHT: Check = Check {
    id: CheckId::PrismMovesSight,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "measured without the prism in place, the prescribed prisms part the lines of sight by more than {sight-shift:1} mm vertically, or move the centration distance of an eye by more than that; multifocal, office, aspheric and position-specific lenses",
    ways_out: &[
        "measure with the prism in place",
        "move height and centration distance by the shift shown",
    ],
    source: "shift at the lens: its distance from the centre of rotation times the prism; limit common practice",
    run: nothing_yet,
};
