//! Measurements of the pairs that were ordered: which were taken twice, and which readings differ by
//! more than two readings of the same do; and strong prescriptions without a tested vertex distance.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::line::{Figure, FigureLine};
use super::period::Period;
use super::rate::Rate;
use super::record::CountedJob;
use crate::job::fields::{Agreement, Field, fields};
use crate::job::{Job, Section};
use crate::trade::tolerance::DUST;

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

impl Repeatability {
    /// Returns the limit; `None` where no repeatability is known.
    const fn limit(self, agreement: Agreement) -> Option<f64> {
        match agreement {
            Agreement::Centration => Some(self.pd_mm),
            Agreement::Height => Some(self.height_mm),
            Agreement::Tilt => Some(self.tilt_deg),
            Agreement::Unknown => None,
        }
    }
}

/// A measurement that may be read twice: its field, or that of each eye, with the second reading's.
struct ReadTwice {
    label: &'static str,
    unit: &'static str,
    agreement: Agreement,
    readings: Vec<(&'static Field, &'static Field)>,
}

/// Every measurement of the fitting that has a second reading, in the order of the table of fields.
static READ_TWICE: LazyLock<Vec<ReadTwice>> = LazyLock::new(|| {
    let mut all: Vec<ReadTwice> = Vec::new();
    for field in fields(Section::Fitting) {
        let (Some(agreement), Some(second)) = (field.agreement(), field.second_reading()) else {
            continue;
        };
        match all.iter_mut().find(|m| m.label == field.label) {
            Some(both_eyes) => both_eyes.readings.push((field, second)),
            None => all.push(ReadTwice {
                label: field.label,
                unit: field.kind.unit(),
                agreement,
                readings: vec![(field, second)],
            }),
        }
    }
    all
});

/// Readings of one measurement: pairs with it, with it twice, and with two that differ too much.
#[derive(Debug, Clone, Copy, Default)]
struct ReadingCount {
    taken: u64,
    twice: u64,
    beyond: u64,
}

/// Measurements of one period.
#[derive(Debug, Clone, Default)]
pub(crate) struct Measurements {
    /// By what is measured.
    counts: BTreeMap<&'static str, ReadingCount>,
    ordered: u64,
    with_second: u64,
    strong: Rate,
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
        let job = Job {
            fitting: ordered.fitting.clone(),
            ..Job::default()
        };
        let number = |field: &Field| field.read(&job)?.as_number();
        for measured in READ_TWICE.iter() {
            let count = self.counts.entry(measured.label).or_default();
            let first = |(field, _): &(&Field, _)| number(field).is_some();
            count.taken += u64::from(measured.readings.iter().any(first));
            let differences = measured
                .readings
                .iter()
                .filter_map(|(first, second)| Some((number(first)? - number(second)?).abs()));
            if let Some(largest) = differences.reduce(f64::max) {
                has_second = true;
                count.twice += 1;
                let limit = limits.limit(measured.agreement);
                count.beyond += u64::from(limit.is_some_and(|l| largest > l + DUST));
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
        let count = |of: &Self, label| of.counts.get(label).copied().unwrap_or_default();
        for ReadTwice { label, .. } in READ_TWICE.iter() {
            let (n, b) = (count(now, label), count(before, label));
            lines.push(FigureLine::new(
                "taken twice",
                *label,
                Figure::rate(n.twice, n.taken),
                Figure::rate(b.twice, b.taken),
            ));
        }
        for ReadTwice {
            label,
            unit,
            agreement,
            ..
        } in READ_TWICE.iter()
        {
            let Some(limit) = limits.limit(*agreement) else {
                continue;
            };
            let (n, b) = (count(now, label), count(before, label));
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
