//! Fields of the order.

use super::field::{Field, Kind};
use super::table::table;

pub(super) const FIELDS: &[Field] = table!(
    Order,
    [
        one(
            "laboratory",
            "laboratory",
            "",
            Kind::Text,
            "the laboratory that makes the pair"
        ),
        one(
            "ordered_on",
            "ordered",
            "",
            Kind::Date,
            "day of the order: 2026-12-03, 3/12/2026, today"
        ),
        one(
            "due_on",
            "due back",
            "",
            Kind::Date,
            "day on which the pair should be back: 2026-12-03, +7"
        ),
        one(
            "reference",
            "reference",
            "",
            Kind::Text,
            "the laboratory's reference"
        ),
        one(
            "notes",
            "notes",
            "",
            Kind::Notes,
            "anything else for the laboratory"
        ),
    ]
);
