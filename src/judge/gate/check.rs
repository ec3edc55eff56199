//! A check: what it is called, when it holds a job, who may accept it, and the code that decides.

use std::borrow::Cow;

use crate::job::Gate;
use crate::judge::gate::acceptance::Values;
use crate::judge::gate::context::Context;
use crate::judge::gate::finding::{About, Acceptable, Finding, Severity};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::practice::{Threshold, Thresholds, template};

/// One entry of the catalogue.
#[derive(Debug)]
pub struct Check {
    /// Fixed id.
    pub id: CheckId,
    /// Whose work it is about.
    pub about: Work,
    /// Gate at which it runs.
    pub gate: Gate,
    /// Whether it runs at every later gate too, whatever has changed since an earlier one was passed.
    pub at_every_gate: bool,
    /// Its severity unless a finding says otherwise.
    pub severity: Severity,
    /// Lowest role that may accept it.
    pub accept: Acceptable,
    /// When it holds the job, with the thresholds as [`template`] names them.
    pub holds_when: &'static str,
    /// How it is usually resolved, cheapest for the wearer first.
    pub ways_out: &'static [&'static str],
    /// Where its limit comes from while the practice has set none of its own.
    pub source: &'static str,
    /// The code that decides.
    pub run: fn(&Context<'_>, &mut Found<'_>),
}

impl Check {
    /// Returns when it holds the job, with the thresholds in force.
    pub fn holds_when(&self, thresholds: &Thresholds) -> String {
        template::in_force(self.holds_when, thresholds)
    }

    /// Returns where its limit comes from, with the thresholds in force.
    pub fn source(&self, thresholds: &Thresholds) -> Cow<'static, str> {
        let is_set = |t: Threshold| thresholds.get(t).total_cmp(&t.default_value()).is_ne();
        if template::named(self.holds_when).any(is_set) {
            Cow::Owned(format!("set by the practice; otherwise {}", self.source))
        } else {
            Cow::Borrowed(self.source)
        }
    }

    /// Whether it runs at a gate.
    pub fn runs_at(&self, gate: Gate) -> bool {
        self.gate == gate || self.at_every_gate && gate.earlier().contains(&self.gate)
    }
}

/// Common practice; no published source.
pub(crate) const PRACTICE: &str = "common practice";

/// Collects what one check finds.
#[derive(Debug)]
pub struct Found<'a> {
    check: &'static Check,
    gate: Gate,
    source: Cow<'static, str>,
    list: &'a mut Vec<Finding>,
}

impl<'a> Found<'a> {
    /// Starts collecting for one check at a gate at which it runs.
    pub fn at(
        gate: Gate,
        check: &'static Check,
        thresholds: &Thresholds,
        list: &'a mut Vec<Finding>,
    ) -> Self {
        Self {
            check,
            gate,
            source: check.source(thresholds),
            list,
        }
    }

    /// The gate at which the check runs.
    pub fn gate(&self) -> Gate {
        self.gate
    }

    /// Adds a finding of the check's own severity.
    pub fn add(
        &mut self,
        about: impl Into<About>,
        field: impl Into<String>,
        message: impl Into<String>,
        values: Values,
        limit: Option<String>,
    ) {
        self.add_as(self.check.severity, about, field, message, values, limit);
    }

    /// Adds a finding of another severity than the check's usual one.
    pub fn add_as(
        &mut self,
        severity: Severity,
        about: impl Into<About>,
        field: impl Into<String>,
        message: impl Into<String>,
        values: Values,
        limit: Option<String>,
    ) {
        let accept = match severity {
            Severity::Stop | Severity::Note => Acceptable::Nobody,
            Severity::Warning => self.check.accept,
        };
        self.list.push(Finding {
            check: self.check.id,
            work: self.check.about,
            gate: self.gate,
            severity,
            eye: about.into(),
            message: message.into(),
            values,
            limit,
            source: self.source.clone(),
            accept,
            ways_out: self.check.ways_out,
            settled: None,
            field: field.into(),
        });
    }
}
