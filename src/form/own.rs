//! Fields of the job itself.

use super::field::{Field, Kind};
use super::table::{table, words_of};
use crate::job::Reason;

pub(super) const FIELDS: &[Field] = table!(
    Job,
    [
        one(
            "reason",
            "reason",
            "",
            Kind::Choice(words_of!(Reason)),
            "why the job was begun: new, second pair, reglaze, replacement, remake or recheck"
        ),
        one(
            "linked_to",
            "follows job",
            "",
            Kind::Text,
            "number of the job this one follows"
        ),
        one(
            "promised_on",
            "promised",
            "",
            Kind::Date,
            "day promised to the wearer: 2026-12-03, 3/12/2026, today, +7"
        ),
        one(
            "collection_at",
            "collection",
            "",
            Kind::Moment,
            "appointment to collect: day and time, as 2026-12-03 15:30 or +7 9:30"
        ),
    ]
);
