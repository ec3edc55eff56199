//! Where a value that was not taken for this job comes from.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::Frame;
use super::words::words;
use crate::job::fields::record;
use crate::trade::units::Millimetre;

words! {
    /// What a value was when it was taken over.
    TakenAs {
        /// Measured on the wearer.
        Measured = "measured",
        /// As it was ordered.
        Ordered = "ordered",
        /// As the finished pair was handed over.
        HandedOver = "handed over",
        /// As it stood after a repair or an adjustment.
        Adjusted = "adjusted",
        /// As the wearer answered.
        Asked = "asked",
    }
}

words! {
    /// What a measurement was taken with.
    TakenWith {
        /// A millimetre ruler.
        Ruler = "ruler",
        /// A corneal reflection pupil gauge.
        PupilGauge = "pupil gauge",
        /// A photograph or a camera device.
        Camera = "camera",
        /// A distance gauge or calliper.
        Calliper = "calliper",
        /// Anything else.
        Other = "other",
    }
}

record! {
    /// Where one value comes from.
    pub struct Origin {
        /// Number of the job it was taken for.
        job: Option<String>,
        /// When it was taken.
        on: Option<NaiveDate>,
        /// Who took it.
        by: Option<String>,
        /// What it was taken with.
        with: Option<TakenWith>,
        /// Name of the frame it was taken in.
        frame: Option<String>,
        /// Boxed width of that frame, mm.
        frame_a_mm: Option<Millimetre>,
        /// Boxed height of that frame, mm.
        frame_b_mm: Option<Millimetre>,
        /// Distance between lenses of that frame, mm.
        frame_dbl_mm: Option<Millimetre>,
        /// What it was then; `asked`: as the wearer answered.
        taken_as as "as": Option<TakenAs>,
    }
}

impl Origin {
    /// The same, with the frame that it was taken in: its name and boxed sizes.
    #[must_use]
    pub fn in_frame(self, frame: &Frame) -> Self {
        Self {
            frame: frame.name.clone(),
            frame_a_mm: frame.a_mm,
            frame_b_mm: frame.b_mm,
            frame_dbl_mm: frame.dbl_mm,
            ..self
        }
    }

    /// Whether the frame that it was taken in goes by another name than this one, whatever the case
    /// of the letters.
    pub fn is_of_another_name(&self, frame: &Frame) -> bool {
        let plain = |name: &Option<String>| name.as_ref().map(|n| n.trim().to_lowercase());
        plain(&self.frame) != plain(&frame.name)
    }

    /// Whether a boxed size of the frame that it was taken in is another than this one's, by so many
    /// millimetres or more. A size that is not known on both sides says nothing.
    pub fn is_of_another_size(&self, frame: &Frame, by_mm: f64) -> bool {
        // Sizes are written in hundredths; the sum of two binary fractions is not.
        const DUST_MM: f64 = 1e-6;
        [
            (self.frame_a_mm, frame.a_mm),
            (self.frame_b_mm, frame.b_mm),
            (self.frame_dbl_mm, frame.dbl_mm),
        ]
        .into_iter()
        .filter_map(|(then, now)| then.zip(now))
        .any(|(then, now)| (then.get() - now.get()).abs() + DUST_MM >= by_mm)
    }
}

/// Origins by the path of the value (`fitting.right.cd_mm`). A value without one was taken for
/// this job, by `fitting.taken_by` on `fitting.taken_on`.
pub type Origins = BTreeMap<String, Origin>;

/// Returns the origins that there were and are no longer.
pub(crate) fn ended(before: &Origins, now: &Origins) -> Origins {
    before
        .iter()
        .filter(|(path, _)| !now.contains_key(*path))
        .map(|(path, origin)| (path.clone(), origin.clone()))
        .collect()
}
