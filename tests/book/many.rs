//! Invented books of any size: the same for the same seed and day, whole, and let through by the
//! gate wherever they say so.
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::demo::build_many;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::book::store::{Store, queries};
use rimbook::testing::job::{Job, Stage};

const JOBS: usize = 2000;

fn clock() -> Clock {
    Clock {
        fixed: NaiveDate::from_ymd_opt(2026, 11, 25),
    }
}

fn book(dir: &Path, name: &str, seed: u64) -> PathBuf {
    let at = dir.join(name);
    let mut desk = Desk::create(&at, clock()).unwrap();
    assert_eq!(build_many(&mut desk, JOBS, seed).unwrap().jobs, JOBS);
    at
}

/// All rows of a book as text. Left out is what chance or the clock puts in: salts and the hashes
/// over them, and when the four people were added.
fn rows(at: &Path) -> Vec<String> {
    let c = rusqlite::Connection::open(at).unwrap();
    let mut out = Vec::new();
    for sql in [
        "SELECT id || '|' || number || '|' || stage || '|' || past || '|' || revision || '|' || wearer || '|' || wearer_key
         || '|' || coalesce(born, '') || '|' || phone_tail || '|' || coalesce(due_on, '') || '|' || coalesce(promised_on, '')
         || '|' || coalesce(collection_at, '') || '|' || held || '|' || held_on || '|' || content FROM job ORDER BY id",
        "SELECT job_id || gate || stands || content FROM passed ORDER BY id",
        "SELECT h.id || '|' || h.job_id || '|' || h.at || coalesce(h.by, '') || h.what || d.detail
         FROM history h JOIN history_detail d USING (id) WHERE h.job_id IS NOT NULL ORDER BY h.id",
        "SELECT name || content FROM staff ORDER BY rowid",
        "SELECT rowid || number || wearer || born || phone || frame FROM job_search ORDER BY rowid",
    ] {
        let mut statement = c.prepare(sql).unwrap();
        let texts = statement.query_map([], |r| r.get::<_, String>(0)).unwrap();
        out.extend(texts.map(Result::unwrap));
    }
    out
}

#[test]
fn the_same_seed_and_day_give_the_same_book_and_another_seed_another() {
    let dir = tempfile::tempdir().unwrap();
    let one = rows(&book(dir.path(), "one.db", 7));
    let again = rows(&book(dir.path(), "again.db", 7));
    assert!(one.len() > 3 * JOBS);
    assert!(one == again, "the two books differ");
    assert!(one != rows(&book(dir.path(), "other.db", 8)));
}

#[test]
fn every_invented_job_is_whole_and_where_it_says() {
    let dir = tempfile::tempdir().unwrap();
    let at = book(dir.path(), "book.db", 7);
    let c = rusqlite::Connection::open(&at).unwrap();
    let mut statement = c
        .prepare(
            "SELECT id, number, stage, past, content,
                    (SELECT group_concat(gate) FROM passed WHERE job_id = job.id) FROM job ORDER BY id",
        )
        .unwrap();
    let mut rows = statement.query([]).unwrap();
    let mut expected = 1_i64;
    let mut at_stage: BTreeMap<(Stage, bool), usize> = BTreeMap::new();
    while let Some(row) = rows.next().unwrap() {
        assert_eq!(row.get::<_, i64>(0).unwrap(), expected);
        let number: String = row.get(1).unwrap();
        assert_eq!(number, (1000 + expected).to_string());
        let job: Job = serde_json::from_str(&row.get::<_, String>(4).unwrap()).unwrap();
        assert_eq!(job.stage().word(), row.get::<_, String>(2).unwrap());
        assert_eq!(job.is_past(), row.get::<_, bool>(3).unwrap());
        assert!(job.wearer.born.unwrap() < job.fitting.taken_on.unwrap());
        let passed: Option<String> = row.get(5).unwrap();
        let gates = match job.stage() {
            _ if job.is_past() => None,
            Stage::Measured => None,
            Stage::Ordered => Some("ordered"),
            Stage::Verified => Some("ordered,verified"),
            Stage::Collected => Some("ordered,verified,collected"),
            Stage::Cancelled => panic!("{number} is cancelled"),
        };
        assert_eq!(passed.as_deref(), gates, "{number}");
        *at_stage.entry((job.stage(), job.is_past())).or_default() += 1;
        expected += 1;
    }
    assert_eq!(expected, 1 + i64::try_from(JOBS).unwrap());
    for kind in [
        (Stage::Measured, false),
        (Stage::Ordered, false),
        (Stage::Verified, false),
        (Stage::Collected, false),
        (Stage::Collected, true),
    ] {
        let n = at_stage.get(&kind).copied().unwrap_or(0);
        assert!(n >= 10, "{kind:?}: {n} of {at_stage:?}");
    }
    c.execute_batch("INSERT INTO job_search (job_search, rank) VALUES ('integrity-check', 1)")
        .unwrap();

    let walk = Store::open(&at).unwrap().walk_history().unwrap();
    assert_eq!(walk.faults, []);
    assert!(walk.rows > JOBS as u64);
}

#[test]
fn an_invented_book_is_found_in_and_refused_a_second_filling() {
    let dir = tempfile::tempdir().unwrap();
    let at = book(dir.path(), "book.db", 7);
    let mut desk = Desk::open(&at, clock()).unwrap();
    assert!(build_many(&mut desk, 10, 7).is_err());
    let open = desk.load("1100").unwrap();
    let name = open.job.wearer.name.clone().unwrap();
    let found = desk.find(&name, JOBS).unwrap();
    assert!(found.iter().any(|l| l.number == "1100"));
    let history = desk.history("1100").unwrap();
    assert_eq!(history[0].what, "invented");
    assert!(!desk.worklist().unwrap().is_empty());
}

#[test]
fn what_is_asked_as_a_person_types_reads_an_index() {
    let dir = tempfile::tempdir().unwrap();
    let store = Store::open(&book(dir.path(), "book.db", 7)).unwrap();
    // Walked along the newest end of its own key, or read whole because every job is asked for.
    let reads_all = [
        "the newest of history",
        "every job with its newest history",
        "words to offer",
        "reasons to offer",
    ];
    for (name, sql, wanted) in queries() {
        let plan = store.plan(&sql).unwrap();
        for part in wanted {
            assert!(plan.contains(part), "{name}: {plan}");
        }
        let scans: Vec<&str> = plan.split("; ").filter(|p| p.starts_with("SCAN")).collect();
        if reads_all.contains(&name) {
            assert_eq!(scans.len(), 1, "{name}: {plan}");
            continue;
        }
        // Only an index that holds nothing but open jobs, or jobs with a name that waits for its owner,
        // is read from end to end, and what the full-text index hands over.
        for scan in scans {
            assert!(
                scan.contains("job_open")
                    || scan.contains("job_typed_names")
                    || scan.contains("job_search")
                    || scan.contains("SUBQUERY"),
                "{name}: {plan}"
            );
        }
        // What is shown in an order that no index has is sorted, but never more than a page of it.
        assert!(
            !plan.contains("TEMP B-TREE FOR ORDER BY") || SORTED.contains(&name),
            "{name}: {plan}"
        );
    }
}

/// Sorted after they are found: one wearer's jobs, one day's, one page, one job's readers.
const SORTED: [&str; 6] = [
    "who looked at a job",
    "the wearer's other jobs",
    "collected on a day",
    "look-up by the end of a telephone number",
    "look-up by words",
    "worklist",
];
