//! The order: which laboratory, and when the pair is due.

use crate::job::fields::{Kind, Limits, Rules, Shown, record};
use chrono::NaiveDate;

record! {
    /// The order to the laboratory.
    pub struct Order {
        /// Laboratory.
        laboratory: Option<String> = {
            label: "laboratory", kind: Kind::Text, limits: Limits::OfKind,
            help: "the laboratory that makes the pair",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Day of the order.
        ordered_on: Option<NaiveDate> = {
            label: "ordered", kind: Kind::Date, limits: Limits::OfKind,
            help: "day of the order: 2026-12-03, 3/12/2026, today",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Day on which the pair should be back.
        due_on: Option<NaiveDate> = {
            label: "due back", kind: Kind::Date, limits: Limits::OfKind,
            help: "day on which the pair should be back: 2026-12-03, +7",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// The laboratory's reference.
        reference: Option<String> = {
            label: "reference", kind: Kind::Text, limits: Limits::OfKind,
            help: "the laboratory's reference",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Anything else.
        notes: Option<String> = {
            label: "notes", kind: Kind::Notes, limits: Limits::OfKind,
            help: "anything else for the laboratory",
            shown: Shown::Placed, rules: Rules::Plain,
        },
    }
}
