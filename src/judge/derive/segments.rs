//! The vertical prism that a pair gives at the reading point, its segments and its prism control
//! counted in.

use crate::job::{Design, Job, SegmentShape};
use crate::judge::derive::places::reading_drop_mm;
use crate::judge::derive::powers::{addition_and_prism, ordered_or_prescribed};
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::Rx;
use crate::trade::optics::near_prism::{Segment, reading_prism, segmented_reading_prism};
use crate::trade::units::{Dioptre, Millimetre, PrismDioptre};

/// Differences of segments smaller than this count as none, mm or dioptres.
const ALIKE: f64 = 1e-9;

/// The segments of a pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Segments {
    /// None, or two alike, whose own prism cancels.
    Cancel,
    /// Two that differ in addition, size or place.
    Differ(PerEye<Segment>),
    /// Two that differ, of which a size or a place is not recorded.
    Unknown,
}

/// Prism control as it is ordered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Control {
    /// The lens that has it.
    pub eye: Eye,
    /// How much, base up, prism dioptres.
    pub amount_delta: f64,
}

/// Returns the prism control that is ordered, when lens and amount are recorded and there is any.
pub(crate) fn prism_control(job: &Job) -> Option<Control> {
    let control = job.lenses.prism_control.as_ref()?;
    let amount_delta = control.amount_delta.map(PrismDioptre::get)?;
    (amount_delta > 0.0).then_some(Control {
        eye: control.eye?,
        amount_delta,
    })
}

/// Returns the segments of the pair with these additions, dioptres.
fn segments(job: &Job, additions: PerEye<Option<f64>>) -> Segments {
    if !job.lenses.design.is_some_and(Design::has_segment) {
        return Segments::Cancel;
    }
    let tops = PerEye::from_fn(|eye| top_drop_mm(job, eye));
    let sizes = PerEye::from_fn(|eye| top_to_centre_mm(job, eye));
    let has_own_width = own_left_width_mm(job).is_some();
    let placed = PerEye::from_fn(|eye| {
        Some(Segment {
            addition_d: (*additions.get(eye))?,
            oc_drop_mm: (*tops.get(eye))? + (*sizes.get(eye))?,
            oc_inset_mm: 0.0,
        })
    });
    let alike = |one: f64, other: f64| (one - other).abs() < ALIKE;
    let additions_alike = match additions.both() {
        Some((right, left)) => alike(*right, *left),
        None => additions.right.is_none() && additions.left.is_none(),
    };
    match placed.both() {
        Some((right, left)) if additions_alike && alike(right.oc_drop_mm, left.oc_drop_mm) => {
            Segments::Cancel
        }
        Some((right, left)) => Segments::Differ(PerEye {
            right: *right,
            left: *left,
        }),
        // Whatever its size, a segment of the same addition at the same place cancels the other.
        None => match tops.both() {
            Some((right, left)) if additions_alike && !has_own_width && alike(*right, *left) => {
                Segments::Cancel
            }
            _ => Segments::Unknown,
        },
    }
}

/// The vertical prism of a pair at the reading point, right base up less left base up, without
/// prescribed prism.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct AtReading {
    /// How far below the distance centres the point lies, mm.
    pub drop_mm: f64,
    /// The difference before prism control, prism dioptres.
    pub difference_delta: f64,
    /// The segments that are counted in.
    pub segments: Segments,
    /// The prism control that is ordered.
    pub control: Option<Control>,
}

impl AtReading {
    /// Returns the lens that needs prism control, base up.
    pub(crate) fn needs_control(&self) -> Eye {
        if self.difference_delta > 0.0 {
            Eye::Left
        } else {
            Eye::Right
        }
    }

    /// Returns the prism control that is ordered on the lens that does not need it.
    pub(crate) fn control_on_the_wrong_lens(&self) -> Option<Control> {
        self.control.filter(|c| c.eye != self.needs_control())
    }

    /// Returns the size of the difference that is left, prism dioptres: prism control is taken off
    /// where it is on the lens that needs it.
    pub(crate) fn left_delta(&self) -> f64 {
        let off = self.control.filter(|c| c.eye == self.needs_control());
        (self.difference_delta.abs() - off.map_or(0.0, |c| c.amount_delta)).abs()
    }
}

/// Returns the vertical prism of the pair at the reading point; `None` without the powers of both
/// eyes.
pub(crate) fn at_reading(job: &Job) -> Option<AtReading> {
    let powers = PerEye::from_fn(|eye| ordered_or_prescribed(job, eye));
    let additions = PerEye::from_fn(|eye| {
        let [addition, ..] = addition_and_prism(job, eye);
        (addition != 0).then(|| f64::from(addition) / 1000.0)
    });
    let segments = segments(job, additions);
    Some(AtReading {
        drop_mm: reading_drop_mm(job),
        difference_delta: difference_delta(job, powers, segments)?,
        segments,
        control: prism_control(job),
    })
}

/// Returns the same difference of the previous pair, prism dioptres, as it would be at this pair's
/// reading point and, where it had segments, with segments of this pair's size and place.
pub(crate) fn previous_difference_delta(job: &Job) -> Option<f64> {
    let previous = job.prescription.previous.as_ref()?;
    let powers = PerEye::from_fn(|eye| previous.eye(eye).rx());
    let design = Design::from_word(&previous.design_word());
    let segments = if design.is_some_and(Design::has_segment) {
        let addition = |eye: Eye| previous.eye(eye).addition_d.map(Dioptre::get);
        segments(job, PerEye::from_fn(addition))
    } else {
        Segments::Cancel
    };
    difference_delta(job, powers, segments)
}

fn difference_delta(job: &Job, powers: PerEye<Option<Rx>>, segments: Segments) -> Option<f64> {
    let (right, left) = powers.both()?;
    let powers = PerEye {
        right: *right,
        left: *left,
    };
    let drop_mm = reading_drop_mm(job);
    let prism = match segments {
        Segments::Differ(segments) => segmented_reading_prism(powers, segments, drop_mm, 0.0),
        Segments::Cancel | Segments::Unknown => reading_prism(powers, drop_mm, 0.0),
    };
    Some(prism.vertical_difference_delta)
}

/// From the distance centre down to the top of an eye's segment, mm; the distance centre lies where
/// its height is recorded, else level with the boxed centre.
fn top_drop_mm(job: &Job, eye: Eye) -> Option<f64> {
    let of = job.fitting.eye(eye);
    let centre_mm = match of.height_mm {
        Some(height) => height.get(),
        None => job.frame.b_mm?.get() / 2.0,
    };
    Some(centre_mm - of.segment_height_mm?.get())
}

/// The width of the left segment, mm, where it is another than the right one's.
fn own_left_width_mm(job: &Job) -> Option<f64> {
    let segment = job.lenses.segment.as_ref()?;
    let left = segment.left_width_mm?;
    (segment.width_mm != Some(left)).then_some(left.get())
}

/// From the top of an eye's segment down to its optical centre, mm: as recorded; else of a round one
/// half its own width, of a full-width one none, for its centre lies on its line.
fn top_to_centre_mm(job: &Job, eye: Eye) -> Option<f64> {
    let segment = job.lenses.segment.as_ref()?;
    let recorded = segment.top_to_centre_mm.map(Millimetre::get);
    match segment.shape {
        Some(SegmentShape::Round) => match own_left_width_mm(job).filter(|_| eye == Eye::Left) {
            Some(width_mm) => Some(width_mm / 2.0),
            None => recorded.or_else(|| Some(segment.width_mm?.get() / 2.0)),
        },
        Some(SegmentShape::FullWidth) => Some(recorded.unwrap_or(0.0)),
        _ => recorded,
    }
}
