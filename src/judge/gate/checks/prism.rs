//! Checks of prescribed prism.

use super::{to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Design, Gate, Job, LensForm};
use crate::judge::derive::one_eye::has_one_useful_eye;
use crate::judge::derive::powers::{powered_eyes, prescribed_prism};
use crate::judge::derive::sight::{SightShift, sight_shift};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::tolerance::DUST;
use crate::trade::units::PrismDioptre;

/// The prescribed components of both eyes in one direction; absent is none.
fn components(c: &Context<'_>, direction: Direction) -> (PrismDioptre, PrismDioptre) {
    let of = |eye| {
        let [base_in, base_up] = prescribed_prism(c.job, eye);
        match direction {
            Direction::Horizontal => base_in,
            Direction::Vertical => base_up,
        }
        .unwrap_or_default()
    };
    (of(Eye::Right), of(Eye::Left))
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
        if has_one_useful_eye(c.job) {
            return;
        }
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
        if has_one_useful_eye(c.job) {
            return;
        }
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

/// Whether the wearer looks through a certain place of the lens: multifocals, and lenses that are
/// aspheric or made for their position.
fn needs_the_line_of_sight(job: &Job) -> bool {
    job.lenses.design.is_some_and(Design::needs_addition)
        || matches!(
            job.lenses.form,
            Some(LensForm::Aspheric | LensForm::MadeForItsPosition)
        )
}

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
    run: |c, found| {
        if c.job.fitting.prism_in_place == Some(true) || !needs_the_line_of_sight(c.job) {
            return;
        }
        let mut shifts = PerEye {
            right: SightShift::NONE,
            left: SightShift::NONE,
        };
        for eye in powered_eyes(c.job) {
            *shifts.get_mut(eye) = sight_shift(c.job, eye);
        }
        let limit = c.threshold(Threshold::SightShift);
        let parted_mm = (shifts.right.up_mm - shifts.left.up_mm).abs();
        let moved_mm = shifts.right.out_mm.abs().max(shifts.left.out_mm.abs());
        if parted_mm.max(moved_mm) <= limit + DUST {
            return;
        }
        found.add(
            About::Pair,
            at!(fitting.prism_in_place),
            format!(
                "prescribed prism moves the lines of sight: right {}, left {}; measure with the prism in place, or move height and centration distance by that",
                shifts.right.says(),
                shifts.left.says()
            ),
            values! {
                "right_out_mm" => to_thousandth(shifts.right.out_mm), "right_up_mm" => to_thousandth(shifts.right.up_mm),
                "left_out_mm" => to_thousandth(shifts.left.out_mm), "left_up_mm" => to_thousandth(shifts.left.up_mm),
            },
            Some(format!("{limit:.1} mm between the heights, {limit:.1} mm of a centration distance")),
        );
    },
};
