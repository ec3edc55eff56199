//! The thinnest and the thickest place of a lens's edge.
//!
//! The thickness and its slope along the edge are sampled where the shape can bend. An extreme lies
//! between two samples whose slopes differ in sign, and is found as the zero of the slope: that takes
//! a few steps, while minimising a flat curve takes dozens.

use super::OpticsError;
use super::outline::{EdgePlace, Outline};

/// Samples in each half of a quadrant: from the middle of a side to the corner, and on to the next side.
const HALF: usize = 4;
/// Samples in a quadrant; the last is the first of the next quadrant.
const QUARTER: usize = 2 * HALF;
/// Samples along the whole edge.
const ROUND: usize = 4 * QUARTER;

/// How accurately the thickness at an extreme is found, mm.
const NEAR_MM: f64 = 1e-13;

/// A value at a point of the edge, and its derivatives by x and by y.
pub(super) type Slope = (f64, [f64; 2]);

/// The points at which the edge of a shape is sampled; the same for every lens of that shape.
pub(super) struct Edge<'a> {
    outline: &'a Outline,
    /// One quadrant, from the middle of a side over the corner to the middle of the next; the others
    /// are its mirror images, so that their powers need not be taken again.
    quarter: [EdgePlace; QUARTER + 1],
}

/// A sample: a value at a point of the edge, and its derivative by the angle (radians).
#[derive(Clone, Copy)]
struct Look {
    angle: f64,
    value: f64,
    rate: f64,
}

/// The samples of one lens, in order of the angle.
pub(super) struct Looks([Look; ROUND]);

/// The thinnest or the thickest place of an edge.
#[derive(Debug, Clone, Copy)]
pub(super) struct Extreme {
    /// The value there.
    pub value: f64,
    /// The angle from the boxed centre, radians.
    pub angle: f64,
}

#[allow(clippy::cast_precision_loss, reason = "there are few looks")]
fn share(i: usize) -> f64 {
    i as f64 / HALF as f64
}

impl<'a> Edge<'a> {
    /// Returns the edge of a shape, ready to be looked at.
    pub(crate) fn of(outline: &'a Outline) -> Self {
        let (corner, end) = (outline.corner_rad(), std::f64::consts::FRAC_PI_2);
        // The corner itself is one of the looks: of a squarish shape it is where the thickness turns.
        let quarter = std::array::from_fn(|i| {
            outline.place(if i <= HALF {
                corner * share(i)
            } else {
                corner + (end - corner) * share(i - HALF)
            })
        });
        Self { outline, quarter }
    }

    /// The i-th look all round.
    fn place(&self, i: usize) -> EdgePlace {
        let step = i % QUARTER;
        match i / QUARTER {
            0 => self.quarter[step],
            1 => self.quarter[QUARTER - step].mirrored(-1.0, 1.0),
            2 => self.quarter[step].mirrored(-1.0, -1.0),
            _ => self.quarter[QUARTER - step].mirrored(1.0, -1.0),
        }
    }

    /// Looks all round at a value given with its slopes by x and y, from the boxed centre.
    pub(crate) fn look(
        &self,
        at: impl Fn(f64, f64) -> Result<Slope, OpticsError>,
    ) -> Result<Looks, OpticsError> {
        let nothing = Look {
            angle: 0.0,
            value: 0.0,
            rate: 0.0,
        };
        let mut looks = [nothing; ROUND];
        for (i, look) in looks.iter_mut().enumerate() {
            *look = Look::at(self.place(i), &at)?;
        }
        Ok(Looks(looks))
    }

    /// The least value of the edge, from the looks at it.
    pub(crate) fn least(
        &self,
        looks: &Looks,
        at: impl Fn(f64, f64) -> Result<Slope, OpticsError>,
    ) -> Result<Extreme, OpticsError> {
        let found = self.greatest(&looks.negated(), |x, y| {
            at(x, y).map(|(value, [by_x, by_y])| (-value, [-by_x, -by_y]))
        })?;
        Ok(Extreme {
            value: -found.value,
            ..found
        })
    }

    /// The greatest value of the edge, from the looks at it.
    pub(crate) fn greatest(
        &self,
        looks: &Looks,
        at: impl Fn(f64, f64) -> Result<Slope, OpticsError>,
    ) -> Result<Extreme, OpticsError> {
        let Looks(looks) = looks;
        let mut start = 0;
        for (i, look) in looks.iter().enumerate() {
            if look.value > looks[start].value {
                start = i;
            }
        }
        let mut best = Extreme {
            value: looks[start].value,
            angle: looks[start].angle,
        };
        // Next to the best sample first: its extreme rules out most of the others.
        for i in 0..ROUND {
            let from = looks[(start + ROUND - 1 + i) % ROUND];
            let mut to = looks[(start + i) % ROUND];
            if from.rate <= 0.0 || to.rate >= 0.0 {
                continue;
            }
            if to.angle < from.angle {
                to.angle += std::f64::consts::TAU;
            }
            // A rise that slackens on its way to the turn cannot climb higher than this.
            let width = to.angle - from.angle;
            let most = f64::max(from.value + from.rate * width, to.value - to.rate * width);
            if most > best.value + NEAR_MM {
                let turn = self.turn(from, to, &at)?;
                if turn.value > best.value {
                    best = turn;
                }
            }
        }
        Ok(best)
    }

    /// The top between a rise and a fall: where the rate is zero, by the secant with a halved weight
    /// for an end that stays (the Illinois rule), every fourth time by halves.
    fn turn(
        &self,
        mut from: Look,
        mut to: Look,
        at: &impl Fn(f64, f64) -> Result<Slope, OpticsError>,
    ) -> Result<Extreme, OpticsError> {
        let higher = |a: Extreme, b: Look| {
            if b.value > a.value { b.extreme() } else { a }
        };
        let mut best = higher(from.extreme(), to);
        let (mut up, mut down) = (from.rate, to.rate);
        for round in 1..=60 {
            let width = to.angle - from.angle;
            let part = if round % 4 == 0 {
                0.5
            } else {
                up / (up - down)
            };
            let middle = Look::at(self.outline.place(from.angle + width * part), at)?;
            best = higher(best, middle);
            // The gain still possible is less than the rate times the remaining interval.
            if middle.rate.abs() * width < NEAR_MM {
                break;
            }
            if middle.rate > 0.0 {
                (from, up, down) = (middle, middle.rate, down / 2.0);
            } else {
                (to, down, up) = (middle, middle.rate, up / 2.0);
            }
        }
        Ok(best)
    }
}

impl Look {
    fn at(
        p: EdgePlace,
        at: impl Fn(f64, f64) -> Result<Slope, OpticsError>,
    ) -> Result<Self, OpticsError> {
        let (value, [by_x, by_y]) = at(p.x, p.y)?;
        Ok(Self {
            angle: p.angle,
            value,
            rate: by_x * p.x_rate + by_y * p.y_rate,
        })
    }

    fn extreme(self) -> Extreme {
        Extreme {
            value: self.value,
            angle: self.angle,
        }
    }
}

impl Looks {
    fn negated(&self) -> Self {
        Self(self.0.map(|l| Look {
            value: -l.value,
            rate: -l.rate,
            ..l
        }))
    }
}
