//! Figures of the practice's work, read from one moment of the book.

use serde_json::{Value, json};

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::session::acting;
use crate::book::store::{Counted, CountedRow, NewEvent};
use crate::job::{Gate, Job};
use crate::judge::derive::powers::strength_d;
use crate::practice::{Practice, Threshold};
use crate::views::figures::Figures;
use crate::views::figures::measurements::Repeatability;
use crate::views::figures::page::Report;
use crate::views::figures::period::Period;
use crate::views::figures::record::{self, Accepted, AsOrdered, CountedEvent, CountedJob};

/// Less than any step a power is written in.
const DUST: f64 = 1e-6;

/// Name of the setting in the book.
const REMAKE_PRICE: &str = "remake_price";

/// More than this is a slip of the hand, in any money.
const MOST: u64 = 1_000_000;

impl Desk {
    /// Returns what a remake costs the practice, where it has said so.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn remake_price(&self) -> Result<Option<u64>, DeskError> {
        Ok(self.store.setting(REMAKE_PRICE)?.flatten())
    }

    /// Sets what a remake costs the practice, in whole units of its money; `None` removes it.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] for a price out of all bounds; [`DeskError`] for a person who is not on
    /// the staff list.
    pub fn set_remake_price(&mut self, price: Option<u64>, by: &str) -> Result<(), DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let person = acting(self.session.as_deref(), &write, by)?;
        if price.is_some_and(|p| p == 0 || p > MOST) {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!("a remake costs 1 to {MOST}, in whole units of your money"),
            ));
        }
        let before: Option<u64> = write.setting(REMAKE_PRICE)?.flatten();
        write.set_setting(REMAKE_PRICE, &price)?;
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "remake price set",
            detail: &with_trial_day(clock, json!({"from": before, "to": price})),
        })?;
        Ok(write.commit()?)
    }

    /// Returns the figures of a period and of the period before it.
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
        let mut figures =
            Figures::new(period, self.today(), limits).with_remake_price(self.remake_price()?);
        let from = figures.before().from;
        self.store.each_counted((from, period.to), |found| {
            match found {
                Counted::Job(row) => figures.add(&counted(&row, &practice)),
                Counted::Out(laboratory, due_on) => {
                    figures.add_out(laboratory.as_deref(), due_on);
                }
            }
            Ok::<(), DeskError>(())
        })?;
        Ok(figures.report())
    }
}

/// Extracts the counted values of a job: no name, no number, no free text.
fn counted(row: &CountedRow, practice: &Practice) -> CountedJob {
    let job = &row.job;
    let strong = practice.thresholds.get(Threshold::Strong);
    CountedJob {
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
            .map(|(at, what, detail)| CountedEvent {
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

fn happened(what: &str, detail: &Value) -> record::EventKind {
    let text = |v: &Value, key: &str| v[key].as_str().unwrap_or_default().to_owned();
    let list = |key: &str| detail[key].as_array().cloned().unwrap_or_default();
    match what {
        "moved" => match detail["to"].as_str().and_then(Gate::from_word) {
            Some(gate) => record::EventKind::Moved {
                gate,
                with_accepted: !list("settled").is_empty(),
            },
            None => record::EventKind::Other,
        },
        "sent back" => record::EventKind::SentBack {
            checks: list("findings").iter().map(|f| text(f, "check")).collect(),
            read_on: detail["readings"]["taken_on"]
                .as_str()
                .and_then(|d| d.parse().ok()),
        },
        "accepted" => record::EventKind::Accepted(
            list("accepted")
                .iter()
                .map(|a| Accepted {
                    check: text(a, "check"),
                    role: text(a, "role"),
                    by: text(a, "by"),
                })
                .collect(),
        ),
        "recheck begun" => record::EventKind::RecheckBegun,
        _ => record::EventKind::Other,
    }
}
