//! Holds a finished pair against its order, line by line.
//!
//! The ordered values choose every row of the tables; the readings never move a row. Powers are
//! compared in minus-cylinder form, meridian with the meridian that lies nearest to it.

use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::power::{PowerMatrix, Rx};

use super::lens_kind::LensKind;
use super::limit::{DUST, Limit};
use super::lines::{LineEye, Missing, Quantity, Report, ToleranceLine};
use super::prism::{self, EyePrism};
use super::standard::{Options, Standard};
use super::values::{EyeValues, PairValues, ValueError};

/// Why a pair cannot be compared with its order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ToleranceError {
    /// No eye has both an order and a reading.
    #[error("no eye has both an ordered and a measured lens: read the lens that was ordered")]
    NothingToCompare,
    /// An ordered lens cannot be compared.
    #[error("{eye} lens as ordered: {why}")]
    Ordered {
        /// The eye.
        eye: Eye,
        /// What is wrong.
        why: ValueError,
    },
    /// A measured lens cannot be compared.
    #[error("{eye} lens as measured: {why}")]
    Measured {
        /// The eye.
        eye: Eye,
        /// What is wrong.
        why: ValueError,
    },
}

/// One eye's order and readings, with the values derived from both.
struct Lens<'a> {
    eye: Eye,
    ordered: &'a EyeValues,
    measured: &'a EyeValues,
    ordered_power: Rx,
    measured_power: Rx,
}

/// Compares a finished pair with its order.
///
/// When the laboratory states what a focimeter should read (lenses compensated for how they are
/// worn), `ordered` is what it states. An eye that only one side gives is not compared; with one
/// eye alone there are no lines of the pair.
///
/// # Errors
/// [`ToleranceError`] when no eye can be compared or a lens has no meaning.
pub fn compare(
    standard: Standard,
    kind: LensKind,
    ordered: &PairValues,
    measured: &PairValues,
    options: Options,
) -> Result<Report, ToleranceError> {
    let lenses = PerEye {
        right: lens(Eye::Right, ordered, measured)?,
        left: lens(Eye::Left, ordered, measured)?,
    };
    if lenses.right.is_none() && lenses.left.is_none() {
        return Err(ToleranceError::NothingToCompare);
    }
    let mut book = Lines {
        standard,
        kind,
        done: Vec::with_capacity(17),
        missing: Vec::new(),
    };
    for lens in lenses.iter().filter_map(|(_, l)| l.as_ref()) {
        book.power(lens);
        book.axis(lens);
        book.addition(lens);
    }
    if let Some((right, left)) = lenses.both() {
        book.pair_prism(right, left, options);
    }
    let along_d = horizontal_power(&lenses, options);
    for lens in lenses.iter().filter_map(|(_, l)| l.as_ref()) {
        book.places(lens, along_d);
    }
    if let Some((right, left)) = lenses.both() {
        book.height_difference(right, left);
    }
    Ok(Report {
        pass: book.done.iter().all(|l| l.pass),
        lines: book.done,
        missing: book.missing,
    })
}

fn lens<'a>(
    eye: Eye,
    ordered: &'a PairValues,
    measured: &'a PairValues,
) -> Result<Option<Lens<'a>>, ToleranceError> {
    let (Some(ordered), Some(measured)) = (ordered.get(eye), measured.get(eye)) else {
        return Ok(None);
    };
    Ok(Some(Lens {
        eye,
        ordered,
        measured,
        ordered_power: ordered
            .minus_form()
            .map_err(|why| ToleranceError::Ordered { eye, why })?,
        measured_power: measured
            .minus_form()
            .map_err(|why| ToleranceError::Measured { eye, why })?,
    }))
}

/// Returns the power along the horizontal by which the pair's limit is chosen, dioptres; of a single
/// lens, its own.
fn horizontal_power(lenses: &PerEye<Option<Lens<'_>>>, options: Options) -> f64 {
    let along = |l: &Lens<'_>| l.ordered_power.matrix().xx;
    match (&lenses.right, &lenses.left) {
        (Some(r), Some(l)) => prism::deciding_power(options.prism_power, along(r), along(l)),
        (Some(one), None) | (None, Some(one)) => along(one).abs(),
        (None, None) => 0.0,
    }
}

/// Returns the smaller angle between two axes, degrees, 0 to 90.
fn between_axes(a: f64, b: f64) -> f64 {
    let d = (a - b).rem_euclid(180.0);
    d.min(180.0 - d)
}

fn has_cylinder(power: Rx) -> bool {
    power.cylinder_d.abs() > DUST
}

/// The measured powers (along, across) of the meridians nearest to the ordered ones.
///
/// Paired by direction and not by size: with a small cylinder the stronger meridian of the order
/// and of the reading need not be the same one.
fn paired(ordered: Rx, measured: Rx) -> (f64, f64) {
    let (along, across) = measured.principal_powers();
    let crossed =
        has_cylinder(ordered) && between_axes(ordered.axis_deg, measured.axis_deg) > 45.0 + DUST;
    if crossed {
        (across, along)
    } else {
        (along, across)
    }
}

/// The limits on the powers of one ordered lens, looked up once and compared with any reading.
#[derive(Debug, Clone, Copy)]
pub(super) struct PowerRules {
    eye: LineEye,
    ordered: Rx,
    along: Option<Limit>,
    across: Option<Limit>,
    cylinder: Limit,
}

impl PowerRules {
    /// Returns the limits for a lens ordered with this power, in minus-cylinder form.
    pub(super) fn of(standard: Standard, kind: LensKind, eye: Eye, ordered: Rx) -> Self {
        let (along, across) = ordered.principal_powers();
        let across_is_stronger = across.abs() > along.abs() + DUST;
        let strongest_d = if across_is_stronger { across } else { along };
        let limit = standard.power_limit(kind, strongest_d);
        let both = standard.tests_both_meridians();
        Self {
            eye: eye.into(),
            ordered,
            along: (both || !across_is_stronger).then_some(limit),
            across: (both || across_is_stronger).then_some(limit),
            cylinder: standard.cylinder_limit(kind, strongest_d, ordered.cylinder_d),
        }
    }

    /// Returns the lines of a reading in minus-cylinder form.
    pub(super) fn lines(&self, measured: Rx) -> impl Iterator<Item = ToleranceLine> {
        let (along, across) = self.ordered.principal_powers();
        let (found_along, found_across) = paired(self.ordered, measured);
        let line = |what, ordered: f64, found: f64, limit| {
            ToleranceLine::new(
                what,
                self.eye,
                (ordered, found),
                (found - ordered).abs(),
                limit,
            )
        };
        let cylinders = (self.ordered.cylinder_d, measured.cylinder_d);
        let cylinder = ToleranceLine::new(
            Quantity::Cylinder,
            self.eye,
            cylinders,
            (cylinders.1.abs() - cylinders.0.abs()).abs(),
            self.cylinder,
        );
        [
            self.along
                .map(|l| line(Quantity::PowerAlongAxis, along, found_along, l)),
            self.across
                .map(|l| line(Quantity::PowerAcrossAxis, across, found_across, l)),
            Some(cylinder),
        ]
        .into_iter()
        .flatten()
    }

    /// Whose lens it is.
    pub(super) fn eye(&self) -> LineEye {
        self.eye
    }

    /// The power as ordered.
    pub(super) fn ordered(&self) -> Rx {
        self.ordered
    }

    /// Whether the meridians are paired by the direction of the axis, so that a reading may be
    /// paired either way.
    pub(super) fn pairs_by_direction(&self) -> bool {
        has_cylinder(self.ordered)
    }
}

/// The lines as they are gathered.
struct Lines {
    standard: Standard,
    kind: LensKind,
    done: Vec<ToleranceLine>,
    missing: Vec<Missing>,
}

impl Lines {
    fn power(&mut self, lens: &Lens<'_>) {
        let rules = PowerRules::of(self.standard, self.kind, lens.eye, lens.ordered_power);
        self.done.extend(rules.lines(lens.measured_power));
    }

    /// A rotated lens fails here and not on its powers, which are compared along its own meridians.
    fn axis(&mut self, lens: &Lens<'_>) {
        if !has_cylinder(lens.ordered_power) || !has_cylinder(lens.measured_power) {
            return;
        }
        let Some(limit) = self.standard.axis_limit(lens.ordered_power.cylinder_d) else {
            return;
        };
        let values = (lens.ordered_power.axis_deg, lens.measured_power.axis_deg);
        self.done.push(ToleranceLine::new(
            Quantity::Axis,
            lens.eye.into(),
            values,
            between_axes(values.0, values.1),
            limit,
        ));
    }

    fn addition(&mut self, lens: &Lens<'_>) {
        let Some(ordered) = lens.ordered.addition_d else {
            return;
        };
        let limit = self.standard.addition_limit(ordered);
        self.plain(
            Quantity::Addition,
            lens.eye.into(),
            ordered,
            lens.measured.addition_d,
            limit,
        );
    }

    /// A line whose error is the plain difference, or the note that its reading is missing.
    fn plain(
        &mut self,
        what: Quantity,
        eye: LineEye,
        ordered: f64,
        measured: Option<f64>,
        limit: Limit,
    ) {
        match measured {
            Some(measured) => self.done.push(ToleranceLine::new(
                what,
                eye,
                (ordered, measured),
                (measured - ordered).abs(),
                limit,
            )),
            None => self.missing.push(Missing { what, eye }),
        }
    }

    fn pair_prism(&mut self, right: &Lens<'_>, left: &Lens<'_>, options: Options) {
        let found =
            |l: &Lens<'_>| prism::measured(l.eye, l.ordered, l.measured, l.measured_power.matrix());
        let found = (found(right), found(left));
        let ordered = (
            right.ordered.prism().unwrap_or_default(),
            left.ordered.prism().unwrap_or_default(),
        );
        let powers: (PowerMatrix, PowerMatrix) =
            (right.ordered_power.matrix(), left.ordered_power.matrix());
        let decide = |r, l| prism::deciding_power(options.prism_power, r, l);

        let prescribed = f64::max(ordered.0.0.abs(), ordered.1.0.abs());
        let along_d = decide(powers.0.xx, powers.1.xx);
        let limit = self
            .standard
            .horizontal_prism_limit(self.kind, prescribed, along_d);
        if let Some(limit) = limit {
            let ordered = prism::horizontal(ordered.0, ordered.1);
            self.one_prism(
                Quantity::PrismHorizontal,
                ordered,
                found,
                prism::horizontal,
                limit,
            );
        }
        let prescribed = f64::max(ordered.0.1.abs(), ordered.1.1.abs());
        let along_d = decide(powers.0.yy, powers.1.yy);
        let limit = self.standard.vertical_prism_limit(prescribed, along_d);
        let ordered = prism::vertical(ordered.0, ordered.1);
        self.one_prism(
            Quantity::PrismVertical,
            ordered,
            found,
            prism::vertical,
            limit,
        );
    }

    fn one_prism(
        &mut self,
        what: Quantity,
        ordered: f64,
        found: (Option<EyePrism>, Option<EyePrism>),
        together: fn((f64, f64), (f64, f64)) -> f64,
        limit: Limit,
    ) {
        let before = self.done.len();
        let parts = |p: EyePrism| (p.base_in_delta, p.base_up_delta);
        let measured = found.0.zip(found.1);
        self.plain(
            what,
            LineEye::Pair,
            ordered,
            measured.map(|(r, l)| together(parts(r), parts(l))),
            limit,
        );
        if let Some(line) = self.done.get_mut(before) {
            line.worked_out = measured.is_some_and(|(r, l)| r.worked_out || l.worked_out);
        }
    }

    fn places(&mut self, lens: &Lens<'_>, along_d: f64) {
        let eye = LineEye::from(lens.eye);
        let limit = self.standard.centration_limit(self.kind, along_d);
        if let (Some(limit), Some(ordered)) = (limit, lens.ordered.cd_mm) {
            self.plain(
                Quantity::Centration,
                eye,
                ordered,
                lens.measured.cd_mm,
                limit,
            );
        }
        let limit = self.standard.height_limit(self.kind);
        if let (Some(limit), Some(ordered)) = (limit, lens.ordered.height_mm) {
            self.plain(
                Quantity::Height,
                eye,
                ordered,
                lens.measured.height_mm,
                limit,
            );
        }
    }

    fn height_difference(&mut self, right: &Lens<'_>, left: &Lens<'_>) {
        let limit = self.standard.height_difference_limit(self.kind);
        let ordered = right.ordered.height_mm.zip(left.ordered.height_mm);
        if let (Some(limit), Some(ordered)) = (limit, ordered) {
            let measured = right.measured.height_mm.zip(left.measured.height_mm);
            self.plain(
                Quantity::HeightDifference,
                LineEye::Pair,
                ordered.0 - ordered.1,
                measured.map(|(r, l)| r - l),
                limit,
            );
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::float_cmp, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn axes_wrap_at_half_a_turn() {
        for (a, b, between) in [
            (178.0, 2.0, 4.0),
            (180.0, 0.0, 0.0),
            (90.0, 180.0, 90.0),
            (10.0, 7.0, 3.0),
        ] {
            assert!((between_axes(a, b) - between).abs() < 1e-12, "{a} {b}");
            assert!((between_axes(b, a) - between).abs() < 1e-12, "{a} {b}");
        }
    }

    #[test]
    fn crossed_axes_pair_the_meridians_that_lie_together() {
        let ordered = Rx::new(-1.0, -0.25, 180.0);
        let measured = Rx::new(-1.12, -0.13, 90.0);
        assert_eq!(paired(ordered, measured), (-1.25, -1.12));
        assert_eq!(paired(Rx::sphere(-1.0), measured), (-1.12, -1.25));
    }

    #[test]
    fn forty_five_degrees_is_still_within_and_one_more_is_crossed() {
        let ordered = Rx::new(-1.0, -2.0, 20.0);
        for (axis, crossed) in [
            (65.0, false),
            (155.0, false),
            (66.0, true),
            (154.0, true),
            (110.0, true),
        ] {
            let (along, across) = paired(ordered, Rx::new(-1.0, -2.0, axis));
            assert_eq!((along, across) == (-3.0, -1.0), crossed, "{axis}");
        }
    }
}
