//! The values of a job that figures count: no name, no number, no free text.

use chrono::NaiveDate;

use crate::job::{Cause, CostBearer, Fitting, Gate, Outcome, Reason};

/// An acceptance that was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Accepted {
    /// Id of the check.
    pub check: String,
    /// Role of who gave it, at that time.
    pub role: String,
    /// Who gave it.
    pub by: String,
}

/// Something that happened to a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EventKind {
    /// It was begun as a recheck of another; only ever the first of its events.
    RecheckBegun,
    /// It moved through a gate.
    Moved {
        /// Which.
        gate: Gate,
        /// Whether an accepted finding let it through.
        with_accepted: bool,
    },
    /// The delivered pair was sent back.
    SentBack {
        /// Ids of the checks that held it, as often as they did.
        checks: Vec<String>,
        /// The day on which the pair that was sent back had been read.
        read_on: Option<NaiveDate>,
    },
    /// Findings were accepted.
    Accepted(Vec<Accepted>),
    /// Anything else.
    Other,
}

/// An event of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountedEvent {
    /// On which day.
    pub on: NaiveDate,
    /// What.
    pub what: EventKind,
}

/// A job at the time of its order.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct AsOrdered {
    /// The day on which the pair was due.
    pub due_on: Option<NaiveDate>,
    /// The measurements.
    pub fitting: Fitting,
    /// Whether the prescription counts as strong.
    pub is_strong: bool,
    /// Whether its tested vertex distance was known.
    pub has_tested_vertex: bool,
}

/// One job.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CountedJob {
    /// Whether it is imported history, whose events are not counted.
    pub past: bool,
    /// Why it was begun.
    pub reason: Option<Reason>,
    /// Its laboratory.
    pub laboratory: Option<String>,
    /// As it was ordered.
    pub ordered: Option<AsOrdered>,
    /// The day of the readings with which it was first verified.
    pub read_on: Option<NaiveDate>,
    /// Of a recheck: whether the pair itself is from before the book.
    pub is_of_past: bool,
    /// Why the wearer could not get on with it.
    pub cause: Option<Cause>,
    /// What was decided.
    pub outcome: Option<Outcome>,
    /// Who bears the cost.
    pub at_cost_of: Option<CostBearer>,
    /// What happened, in its order.
    pub events: Vec<CountedEvent>,
}

/// Label of a laboratory without a name.
pub(crate) const NO_LABORATORY: &str = "no laboratory recorded";

impl CountedJob {
    /// The laboratory's name.
    pub fn laboratory(&self) -> &str {
        match self.laboratory.as_deref().map(str::trim) {
            Some(name) if !name.is_empty() => name,
            _ => NO_LABORATORY,
        }
    }

    /// The day on which the book first heard of it.
    pub fn begun(&self) -> Option<NaiveDate> {
        self.events.first().map(|e| e.on)
    }

    /// The day on which it was ordered. No way back leads before it.
    pub fn ordered_on(&self) -> Option<NaiveDate> {
        self.moves(Gate::Ordered).next().map(|(_, on)| on)
    }

    /// The valid verification: the last one, unless the pair went back after it.
    pub fn verified(&self) -> Option<(usize, NaiveDate)> {
        let last = self.moves(Gate::Verified).last()?;
        self.sent_back().all(|(at, _)| at < last.0).then_some(last)
    }

    /// Whether the valid verification was of the first pair delivered.
    pub fn is_first_time(&self) -> bool {
        self.sent_back().next().is_none()
    }

    /// The day on which it was handed over.
    pub fn collected_on(&self) -> Option<NaiveDate> {
        self.moves(Gate::Collected).last().map(|(_, on)| on)
    }

    /// The first sign that a pair had come: when it was kept, and the day of its readings where that
    /// is known and earlier.
    pub fn first_delivery(&self) -> Option<(NaiveDate, NaiveDate)> {
        let ordered_on = self.ordered_on()?;
        self.events.iter().find_map(|e| {
            let read_on = match &e.what {
                EventKind::SentBack { read_on, .. } => *read_on,
                EventKind::Moved {
                    gate: Gate::Verified,
                    ..
                } => self.read_on,
                _ => return None,
            };
            // An entry error: a pair is not read before its order.
            let read_on = read_on.filter(|d| *d >= ordered_on);
            Some((e.on, read_on.map_or(e.on, |d| d.min(e.on))))
        })
    }

    /// Its send-backs, each with its place among the events.
    pub fn sent_back(&self) -> impl Iterator<Item = (usize, &CountedEvent)> {
        self.events
            .iter()
            .enumerate()
            .filter(|(_, e)| matches!(e.what, EventKind::SentBack { .. }))
    }

    fn moves(&self, through: Gate) -> impl Iterator<Item = (usize, NaiveDate)> + '_ {
        self.events
            .iter()
            .enumerate()
            .filter(
                move |(_, e)| matches!(e.what, EventKind::Moved { gate, .. } if gate == through),
            )
            .map(|(at, e)| (at, e.on))
    }

    /// The day on which it was begun as a recheck.
    pub fn recheck_begun(&self) -> Option<NaiveDate> {
        let first = self.events.first()?;
        (first.what == EventKind::RecheckBegun).then_some(first.on)
    }

    /// Whether the pair is one that was not supplied before.
    pub fn is_new_pair(&self) -> bool {
        !matches!(self.reason, Some(Reason::Recheck | Reason::Remake))
    }
}
