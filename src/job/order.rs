//! The order: which laboratory, and when the pair is due.

use crate::job::fields::{FieldKind, Limits, Rules, Shown, record};
use chrono::NaiveDate;

record! {
    /// The order to the laboratory.
    pub struct Order {
        /// Laboratory.
        laboratory: Option<String> = {
            label: "laboratory", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "the laboratory that makes the pair",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Day of the order.
        ordered_on: Option<NaiveDate> = {
            label: "ordered", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "day of the order: 2026-12-03, 3/12/2026, today",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Day on which the pair should be back.
        due_on: Option<NaiveDate> = {
            label: "due back", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "day on which the pair should be back: 2026-12-03, +7",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// The laboratory's reference.
        reference: Option<String> = {
            label: "reference", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "the laboratory's reference",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Anything else.
        notes: Option<String> = {
            label: "notes", kind: FieldKind::Notes, limits: Limits::OfKind,
            help: "anything else for the laboratory",
            shown: Shown::Placed, rules: Rules::Plain,
        },
    }
}
