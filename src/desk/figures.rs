//! Figures of the practice's work, read from one moment of the book.

use serde_json::Value;

use super::{Desk, DeskError};
use crate::figures::Figures;
use crate::figures::measurements::Repeatability;
use crate::figures::page::Report;
use crate::figures::period::Period;
use crate::figures::record::{Accepted, AsOrdered, Event, Record, What};
use crate::gate::{Practice, Threshold};
use crate::job::{Gate, Job};
use crate::store::{Counted, CountedRow};
use crate::worked::powers::strength_d;

/// Less than any step a power is written in.
const DUST: f64 = 1e-6;

impl Desk {
    /// Returns the figures of a period beside those of the one before.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn figures(&self, period: Period) -> Result<Report, DeskError> {
        let practice = self.practice()?;
        let limits = Repeatability {
            pd_mm: practice.thresholds.get(Threshold::PdRepeat),
            height_mm: practice.thresholds.get(Threshold::HeightRepeat),
            tilt_deg: practice.thresholds.get(Threshold::TiltRepeat),
        };
        let mut figures = Figures::new(period, self.today(), limits);
        let from = figures.before().from;
        self.store.each_counted((from, period.to), |counted| {
            match counted {
                Counted::Job(row) => figures.add(&record(&row, &practice)),
                Counted::Out(laboratory, due_on) => {
                    figures.add_out(laboratory.as_deref(), due_on);
                }
            }
            Ok::<(), DeskError>(())
        })?;
        Ok(figures.report())
    }
}

/// Takes out of a job what is counted: neither name nor number, nothing written in words.
fn record(row: &CountedRow, practice: &Practice) -> Record {
    let job = &row.job;
    let strong = practice.thresholds.get(Threshold::Strong);
    Record {
        past: job.is_past(),
        reason: job.reason,
        laboratory: job.order.laboratory.clone(),
        ordered: row.ordered.as_ref().map(|o| as_ordered(o, strong)),
        read_on: row.read_on,
        is_of_past: row.follows_past,
        cause: job.visit.cause,
        outcome: job.visit.outcome,
        at_cost_of: job.visit.at_cost_of,
        events: row
            .events
            .iter()
            .map(|(at, what, detail)| Event {
                on: at.date(),
                what: happened(what, detail),
            })
            .collect(),
    }
}

fn as_ordered(job: &Job, strong: f64) -> AsOrdered {
    AsOrdered {
        due_on: job.order.due_on,
        fitting: job.fitting.clone(),
        is_strong: strength_d(job) + DUST >= strong,
        has_tested_vertex: job.prescription.tested_vertex_mm.is_some(),
    }
}

fn happened(what: &str, detail: &Value) -> What {
    let text = |v: &Value, key: &str| v[key].as_str().unwrap_or_default().to_owned();
    let list = |key: &str| detail[key].as_array().cloned().unwrap_or_default();
    match what {
        "moved" => match detail["to"].as_str().and_then(Gate::from_word) {
            Some(gate) => What::Moved {
                gate,
                with_accepted: !list("settled").is_empty(),
            },
            None => What::Other,
        },
        "sent back" => What::SentBack {
            checks: list("findings").iter().map(|f| text(f, "check")).collect(),
            read_on: detail["readings"]["taken_on"]
                .as_str()
                .and_then(|d| d.parse().ok()),
        },
        "accepted" => What::Accepted(
            list("accepted")
                .iter()
                .map(|a| Accepted {
                    check: text(a, "check"),
                    role: text(a, "role"),
                    by: text(a, "by"),
                })
                .collect(),
        ),
        "recheck begun" => What::RecheckBegun,
        _ => What::Other,
    }
}
