//! Measurements of the pairs that were ordered: which were taken twice, and which readings differ by
//! more than two readings of the same do; and strong prescriptions without a tested vertex distance.

use super::line::{Figure, FigureLine};
use super::period::Period;
use super::rate::Rate;
use super::record::CountedJob;
use crate::job::{EyeFitting, Fitting, SecondReading};
use crate::trade::eye::Eye;

/// How much more than the limit counts as more: below what any value is written to.
const DUST: f64 = 1e-6;

/// By how much two readings of the same may differ, as the checks of the practice have it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repeatability {
    /// Of a centration distance, mm.
    pub pd_mm: f64,
    /// Of a height, mm.
    pub height_mm: f64,
    /// Of the tilt, degrees.
    pub tilt_deg: f64,
}

/// What is measured.
const MEASURED: [&str; 8] = [
    "centration",
    "near centration",
    "height",
    "segment height",
    "vertex distance",
    "tilt",
    "face form",
    "head width",
];

/// Readings of one kind: pairs with it, with it twice, and with two that differ too much.
#[derive(Debug, Clone, Copy, Default)]
struct ReadingCount {
    taken: u64,
    twice: u64,
    beyond: u64,
}

/// Measurements of one period.
#[derive(Debug, Clone, Default)]
pub(crate) struct Measurements {
    kinds: [ReadingCount; MEASURED.len()],
    ordered: u64,
    with_second: u64,
    strong: Rate,
}

/// First and second readings of one kind.
type Readings = Vec<(Option<f64>, Option<f64>)>;

fn readings(fitting: &Fitting) -> [Readings; MEASURED.len()] {
    let none = SecondReading::default();
    let second = fitting.second_reading.as_ref().unwrap_or(&none);
    let each = |of: fn(&EyeFitting) -> Option<f64>| -> Readings {
        Eye::BOTH
            .into_iter()
            .map(|eye| (of(fitting.eye(eye)), of(second.eye(eye))))
            .collect()
    };
    [
        each(|e| e.cd_mm.map(crate::trade::units::Millimetre::get)),
        each(|e| e.near_cd_mm.map(crate::trade::units::Millimetre::get)),
        each(|e| e.height_mm.map(crate::trade::units::Millimetre::get)),
        each(|e| {
            e.segment_height_mm
                .map(crate::trade::units::Millimetre::get)
        }),
        each(|e| e.vertex_mm.map(crate::trade::units::Millimetre::get)),
        vec![(
            fitting
                .pantoscopic_deg
                .map(crate::trade::units::Degree::get),
            second.pantoscopic_deg.map(crate::trade::units::Degree::get),
        )],
        vec![(
            fitting.face_form_deg.map(crate::trade::units::Degree::get),
            second.face_form_deg.map(crate::trade::units::Degree::get),
        )],
        vec![(
            fitting
                .head_width_mm
                .map(crate::trade::units::Millimetre::get),
            second
                .head_width_mm
                .map(crate::trade::units::Millimetre::get),
        )],
    ]
}

impl Repeatability {
    /// The limit of each kind; `None` where no repeatability is known.
    const fn limits(self) -> [Option<f64>; MEASURED.len()] {
        [
            Some(self.pd_mm),
            Some(self.pd_mm),
            Some(self.height_mm),
            Some(self.height_mm),
            None,
            Some(self.tilt_deg),
            None,
            None,
        ]
    }
}

impl Measurements {
    /// Counts a job.
    pub(crate) fn add(&mut self, record: &CountedJob, period: &Period, limits: Repeatability) {
        let (Some(on), Some(ordered)) = (record.ordered_on(), &record.ordered) else {
            return;
        };
        if !period.contains(on) {
            return;
        }
        self.ordered += 1;
        if ordered.is_strong {
            self.strong.of += 1;
            self.strong.count += u64::from(!ordered.has_tested_vertex);
        }
        let mut has_second = false;
        let all = readings(&ordered.fitting);
        for ((kind, readings), limit) in self.kinds.iter_mut().zip(all).zip(limits.limits()) {
            let first = readings.iter().any(|(a, _)| a.is_some());
            let mut differences = readings
                .iter()
                .filter_map(|(a, b)| Some((a.as_ref()? - b.as_ref()?).abs()));
            let largest = differences.by_ref().reduce(f64::max);
            kind.taken += u64::from(first);
            if let Some(largest) = largest {
                has_second = true;
                kind.twice += 1;
                kind.beyond += u64::from(limit.is_some_and(|l| largest > l + DUST));
            }
        }
        self.with_second += u64::from(has_second);
    }

    /// Returns the figures of the measurements.
    pub(crate) fn lines(now: &Self, before: &Self, limits: Repeatability) -> Vec<FigureLine> {
        let mut lines = vec![
            FigureLine::new(
                "pairs ordered",
                "something measured twice",
                Figure::rate(now.with_second, now.ordered),
                Figure::rate(before.with_second, before.ordered),
            ),
            FigureLine::new(
                "strong prescriptions ordered",
                "no tested vertex distance",
                Figure::Rate(now.strong),
                Figure::Rate(before.strong),
            ),
        ];
        let both = || now.kinds.iter().zip(&before.kinds).zip(MEASURED);
        for ((n, b), label) in both() {
            lines.push(FigureLine::new(
                "taken twice",
                label,
                Figure::rate(n.twice, n.taken),
                Figure::rate(b.twice, b.taken),
            ));
        }
        for (((n, b), label), limit) in both().zip(limits.limits()) {
            let Some(limit) = limit else { continue };
            let unit = if label == "tilt" { "degrees" } else { "mm" };
            lines.push(FigureLine::new(
                "two readings too far apart",
                format!("{label} > {limit:.1} {unit}"),
                Figure::rate(n.beyond, n.twice),
                Figure::rate(b.beyond, b.twice),
            ));
        }
        lines
    }
}
