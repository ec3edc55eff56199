//! Every query that runs as a person works, with the way it is meant to be answered, for a test that
//! asks the library how it would answer it.

use super::made;
use super::reads::{DRAFTS, NUMBERS, collected_on, lines_before, open_lines};
use super::recall::{self, Asked};
use super::{chain, history, reading, row, same_wearer, search, typed_names, written_lately};

/// A query by name, and what the plan must name: an index, the table's own key, the full-text index.
pub(crate) type Query = (&'static str, String, &'static [&'static str]);

/// Returns the queries of the worklist, the look-up, a job and its history, the checks and what a
/// deed writes.
#[allow(clippy::too_many_lines, reason = "one row for each query")]
pub fn queries() -> Vec<Query> {
    vec![
        ("worklist", open_lines(), &["COVERING INDEX job_open"]),
        ("a page of a stage", lines_before(), &["PRIMARY KEY"]),
        ("a page of numbers", NUMBERS.to_owned(), &["PRIMARY KEY"]),
        (
            "collected on a day",
            collected_on(),
            &["job_given", "job_collection", "job_promised", "job_due"],
        ),
        ("look-up by number", search::by_number(), &["(number=?)"]),
        (
            "look-up by one letter",
            search::by_first_letter(),
            &["INDEX job_wearer"],
        ),
        (
            "look-up by the end of a telephone number",
            search::by_phone_tail(),
            &["COVERING INDEX job_phone"],
        ),
        (
            "look-up by words",
            search::matching(),
            &["job_search VIRTUAL TABLE INDEX", "PRIMARY KEY"],
        ),
        (
            "who has a lot",
            recall::having(&[Asked::Lot]),
            &["INDEX made_lot (lot=?)", "PRIMARY KEY"],
        ),
        (
            "who has a product",
            recall::having(&[Asked::Product]),
            &[
                "INDEX made_product (product>? AND product<?)",
                "PRIMARY KEY",
            ],
        ),
        (
            "who has a maker's",
            recall::having(&[Asked::Maker]),
            &["INDEX made_maker (maker>? AND maker<?)", "PRIMARY KEY"],
        ),
        (
            "who has a lot of a maker's product",
            recall::having(&[Asked::Maker, Asked::Product, Asked::Lot]),
            &["INDEX made_lot (lot=?)", "PRIMARY KEY"],
        ),
        (
            "what is kept of a job",
            made::OF_A_JOB.to_owned(),
            &["(job_id=?)"],
        ),
        ("a job", row::BY_NUMBER.to_owned(), &["(number=?)"]),
        ("the id of a job", row::ID_OF.to_owned(), &["(number=?)"]),
        (
            "acceptances",
            row::ACCEPTANCES.to_owned(),
            &["INDEX acceptance_job"],
        ),
        (
            "gates passed",
            row::PASSED.to_owned(),
            &["INDEX passed_job"],
        ),
        (
            "the wearer's other jobs",
            same_wearer::OTHERS.to_owned(),
            &["INDEX job_wearer"],
        ),
        (
            "the wearer's other open jobs",
            row::FORGET_HELD_OF_WEARER.to_owned(),
            &["INDEX job_wearer"],
        ),
        (
            "words to offer",
            written_lately::WRITTEN.to_owned(),
            &["SCAN job"],
        ),
        (
            "reasons to offer",
            written_lately::ACCEPTED.to_owned(),
            &["SCAN a", "PRIMARY KEY"],
        ),
        (
            "who looked at a job",
            reading::READS_OF.to_owned(),
            &["INDEX reads_number"],
        ),
        (
            "names that wait for their owner",
            typed_names::WITH_TYPED_NAMES.to_owned(),
            &["INDEX job_typed_names"],
        ),
        ("drafts", DRAFTS.to_owned(), &["(job_id=?)"]),
        (
            "history of a job",
            history::events_where(history::OF_A_JOB),
            &["INDEX history_job", "PRIMARY KEY"],
        ),
        (
            "the newest of history",
            chain::HEAD.to_owned(),
            &["SCAN history"],
        ),
        (
            "every job with its newest history",
            chain::STATES.to_owned(),
            &["COVERING INDEX history_job", "PRIMARY KEY"],
        ),
    ]
}
