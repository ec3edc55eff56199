//! Where a power that changes with a measurement first breaks a limit.
//!
//! The errors need not grow steadily: an axis that turns past 45 degrees pairs the meridians the
//! other way round, and a break may be a narrow band with good values on both sides. So the search
//! does not sample. It works out how fast the power can change from the current value (its first two
//! derivatives, taken from three neighbouring values) and steps only so far that no line can have
//! passed its limit on the way; the steps shrink towards a break and are long elsewhere.
//!
//! A principal power changes by no more than the mean and the half cylinder (as a vector) do
//! together, the cylinder by no more than twice the latter. While the half cylinder, seen along the
//! ordered one, is away from zero by more than it changes, the pairing stays; or else both pairings
//! must hold.
//!
//! Steps are never shorter than [`SHORTEST`]. What can be missed is a break narrower than that: with
//! errors that grow by 0.1 D a unit, which only the strongest lenses reach, a limit passed by less
//! than 0.0001 D and not passed any more a thousandth of a unit further.

use crate::trade::optics::power::{PowerMatrix, Rx, normal_axis};
use crate::trade::tolerance::compare::PowerRules;
use crate::trade::tolerance::lines::{Quantity, ToleranceLine};

use super::allowance::Side;

/// The shortest step, in the measurement's unit.
const SHORTEST: f64 = 1e-3;
/// Distance of the values from which the derivatives are taken, in the measurement's unit.
const APART: f64 = 0.02;
/// Accuracy of the break that is found, in the measurement's unit.
const CLOSELY: f64 = 1e-10;

/// How the second derivative may grow within a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bend {
    /// F' = F/(1 + dF): the second derivative is 2F'^3. In a step of a tenth of the focal length
    /// it grows at most by 1/0.9^3, under one and a half times.
    OfVertex,
    /// With i the incidence, the power goes with k/cos^2 i at most; in five degrees, up to the sixty
    /// that the model allows, its second derivative does not double. Where it happens to pass
    /// zero, a share of the power is used in its place.
    OfTilt,
}

impl Bend {
    fn longest(self, power_d: f64) -> f64 {
        match self {
            Self::OfVertex => 100.0 / power_d.max(1e-3),
            Self::OfTilt => 5.0,
        }
    }

    /// Dioptres per unit squared, for a power of this size.
    fn least(self, power_d: f64) -> f64 {
        match self {
            Self::OfVertex => 0.0,
            Self::OfTilt => 2e-4 * power_d,
        }
    }
}

/// Returns how far the measurement may move before a line of `rules` is past its printed limit;
/// `None` when none is before `farthest` or where the model has no answer any more: nobody can be
/// that wrong.
///
/// `met` is the power found when the measurement is moved by so much.
pub(super) fn first_break(
    rules: &PowerRules,
    farthest: f64,
    bend: Bend,
    met: impl Fn(f64) -> Option<PowerMatrix>,
) -> Option<Side> {
    let mut at = 0.0;
    let mut power = met(at)?;
    while at < farthest {
        let mut step = Motion::at(at, power, bend, &met).map_or(SHORTEST, |m| m.safe_step(rules));
        loop {
            step = step.clamp(SHORTEST, farthest - at + SHORTEST);
            let next = f64::min(at + step, farthest);
            match met(next) {
                Some(there) if worst(rules, there).0 >= 0.0 => {
                    (at, power) = (next, there);
                    break;
                }
                Some(_) if step <= SHORTEST => return Some(narrowed(rules, at, next, &met)),
                None if step <= SHORTEST => return None,
                _ => step /= 4.0,
            }
        }
    }
    None
}

fn margin(line: &ToleranceLine) -> f64 {
    line.limit - line.error
}

/// Returns the smallest margin of any line (limit less error, negative past the limit), and its line.
fn worst(rules: &PowerRules, power: PowerMatrix) -> (f64, Option<ToleranceLine>) {
    rules
        .lines(power.rx())
        .map(|l| (margin(&l), Some(l)))
        .fold((f64::INFINITY, None), |a, b| if b.0 < a.0 { b } else { a })
}

/// Narrows the interval between a value within the limits and one outside, by the secant with a halved
/// weight for an end that did not move (the Illinois rule), every fourth time by bisection.
fn narrowed(
    rules: &PowerRules,
    mut inside: f64,
    mut outside: f64,
    met: impl Fn(f64) -> Option<PowerMatrix>,
) -> Side {
    let look = |by: f64| met(by).map_or((f64::INFINITY, None), |power| worst(rules, power));
    let (mut under, (mut over, mut broken)) = (look(inside).0, look(outside));
    for round in 1..=60 {
        let width = outside - inside;
        if width <= CLOSELY {
            break;
        }
        let share = if round % 4 == 0 {
            0.5
        } else {
            under / (under - over)
        };
        // Not nearer to an end than the accuracy, or the other end would never move.
        let nearest = f64::min(CLOSELY / 4.0, width / 4.0);
        let middle = inside + (width * share).clamp(nearest, width - nearest);
        let (margin, line) = look(middle);
        if margin >= 0.0 {
            (inside, under, over) = (middle, margin, over / 2.0);
        } else {
            (outside, over, broken, under) = (middle, margin, line, under / 2.0);
        }
    }
    let (rule, eye) = broken.map_or((Quantity::Cylinder, rules.eye()), |l| (l.what, l.eye));
    Side {
        by: inside,
        rule,
        eye,
    }
}

/// Mean power and half cylinder as a vector (Thibos' M, J0 and J45 but for signs), dioptres.
#[derive(Clone, Copy)]
struct Parts {
    mean: f64,
    half: (f64, f64),
}

impl Parts {
    fn of(f: PowerMatrix) -> Self {
        Self {
            mean: f64::midpoint(f.xx, f.yy),
            half: ((f.xx - f.yy) / 2.0, f.xy),
        }
    }

    fn size(self) -> Size {
        Size {
            mean: self.mean.abs(),
            half: self.half.0.hypot(self.half.1),
        }
    }
}

/// The sizes of the two parts of a change of power, dioptres.
#[derive(Clone, Copy)]
struct Size {
    mean: f64,
    half: f64,
}

impl Size {
    /// The most by which the error of a line changes.
    fn of_line(self, what: Quantity) -> f64 {
        if what == Quantity::Cylinder {
            2.0 * self.half
        } else {
            self.mean + self.half
        }
    }
}

/// The power at a value of the measurement, with bounds of its derivatives.
struct Motion {
    power: PowerMatrix,
    rate: Size,
    bend: Size,
    longest: f64,
}

impl Motion {
    /// `None` where the model has no answer close by.
    fn at(
        at: f64,
        power: PowerMatrix,
        bend: Bend,
        met: impl Fn(f64) -> Option<PowerMatrix>,
    ) -> Option<Self> {
        let (before, after) = (met(at - APART)?, met(at + APART)?);
        let per = |d: PowerMatrix, by: f64| Parts::of(d.scaled(1.0 / by)).size();
        let size_d = power.largest_d();
        let least = bend.least(size_d);
        let second = per(after - power.scaled(2.0) + before, APART * APART);
        Some(Self {
            power,
            rate: per(after - before, 2.0 * APART),
            bend: Size {
                mean: 2.0 * second.mean + least,
                half: 2.0 * second.half + least,
            },
            longest: bend.longest(size_d),
        })
    }

    /// Returns how far every line surely stays within its limit.
    fn safe_step(&self, rules: &PowerRules) -> f64 {
        let found = self.power.rx();
        let lines_hold = |found: Rx| {
            rules
                .lines(found)
                .map(|l| {
                    reach(
                        margin(&l),
                        self.rate.of_line(l.what),
                        self.bend.of_line(l.what),
                    )
                })
                .fold(f64::INFINITY, f64::min)
        };
        let as_paired = lines_hold(found);
        if !rules.pairs_by_direction() || as_paired >= f64::INFINITY {
            return as_paired.min(self.longest);
        }
        let ordered = Parts::of(rules.ordered().matrix()).half;
        let half = Parts::of(self.power).half;
        let along = (ordered.0 * half.0 + ordered.1 * half.1) / ordered.0.hypot(ordered.1);
        let pairing_stays = reach(along.abs(), self.rate.half, self.bend.half);
        let step = if pairing_stays >= as_paired {
            as_paired
        } else {
            // The same principal powers with the axis across are paired the other way round.
            let crossed = Rx {
                axis_deg: normal_axis(found.axis_deg + 90.0),
                ..found
            };
            pairing_stays.max(as_paired.min(lines_hold(crossed)))
        };
        step.min(self.longest)
    }
}

/// Returns how far one can go before `rate` and half of `bend` times the distance use up `room`.
fn reach(room: f64, rate: f64, bend: f64) -> f64 {
    if room <= 0.0 {
        return 0.0;
    }
    2.0 * room / (rate + (rate * rate + 2.0 * bend * room).sqrt())
}
