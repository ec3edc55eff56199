//! The same by SQLite alone: what a minimal program needs for it.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use rusqlite::{Connection, OpenFlags, params};

use crate::table::ms;
use crate::{BARE, PRESSES};

/// The minimal program: opens the file and reads one page of the worklist.
pub fn page(book: &str) {
    let c = Connection::open_with_flags(
        book,
        OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX,
    )
    .unwrap();
    let mut statement = c
        .prepare(
            "SELECT number, stage, wearer, due_on, held FROM job
             WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified') ORDER BY stage, due_on, id LIMIT 24",
        )
        .unwrap();
    let rows = statement
        .query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, String>(2)?)))
        .unwrap();
    for row in rows {
        let (number, wearer) = row.unwrap();
        println!("{number} {wearer}");
    }
}

/// From starting that program to its end.
pub fn start(book: &Path) -> f64 {
    let started = Instant::now();
    let status = Command::new(std::env::current_exe().unwrap())
        .env(BARE, book)
        .stdout(Stdio::null())
        .status()
        .unwrap();
    assert!(status.success());
    ms(started.elapsed())
}

/// The query of a look-up, every row read.
pub fn find(book: &Path, text: &str) -> Option<Vec<f64>> {
    let words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(|w| format!("\"{w}\"*"))
        .collect();
    if words.is_empty() || text.chars().count() < 2 {
        return None;
    }
    let c = Connection::open_with_flags(book, OpenFlags::SQLITE_OPEN_READ_ONLY).unwrap();
    let mut statement = c
        .prepare(
            "SELECT number, wearer, born FROM job WHERE id IN
             (SELECT rowid FROM job_search WHERE job_search MATCH ?1 ORDER BY rowid DESC LIMIT 50) ORDER BY id DESC",
        )
        .unwrap();
    let wanted = words.join(" ");
    Some(
        (0..PRESSES)
            .map(|_| {
                let began = Instant::now();
                let rows = statement
                    .query_map([&wanted], |r| r.get::<_, String>(1))
                    .unwrap();
                assert!(rows.count() <= 50);
                ms(began.elapsed())
            })
            .collect(),
    )
}

/// Durable transactions of the very rows that a deed writes, into the tables of a copy of the book
/// with their indices, as safe as the book's own: nothing is judged, hashed or read.
pub struct Rows {
    c: Connection,
    /// Row, content, `held`.
    jobs: Vec<(i64, String, String)>,
}

impl Rows {
    pub fn of(book: &Path) -> Self {
        let c = Connection::open(book).unwrap();
        c.execute_batch(
            "PRAGMA synchronous = FULL; PRAGMA secure_delete = 1; PRAGMA foreign_keys = 1; PRAGMA temp_store = MEMORY;",
        )
        .unwrap();
        c.set_prepared_statement_cache_capacity(64);
        let jobs = c
            .prepare(
                "SELECT id, content, held FROM job WHERE past = 0 AND stage = 'measured' ORDER BY id LIMIT 40",
            )
            .unwrap()
            .query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))
            .unwrap()
            .collect::<Result<Vec<_>, _>>()
            .unwrap();
        assert!(!jobs.is_empty());
        Self { c, jobs }
    }

    fn event(&self, history: i64, job: i64, what: &str, detail: &str) {
        self.c
            .prepare_cached("INSERT INTO history (id, job_id, at, by, what, content, state, link) VALUES (?1, ?2, '2026-11-25T10:00:00', 'Sam Quill', ?3, ?4, ?4, ?4)")
            .unwrap()
            .execute(params![history, job, what, [7_u8; 32]])
            .unwrap();
        self.c
            .prepare_cached("INSERT INTO history_detail (id, salt, detail) VALUES (?1, ?2, ?3)")
            .unwrap()
            .execute(params![history, [7_u8; 16], detail])
            .unwrap();
    }

    fn newest(&self) -> i64 {
        self.c
            .query_row("SELECT max(id) FROM history", [], |r| r.get(0))
            .unwrap()
    }

    /// The rows of an entry: the job's, its draft's, an event's.
    pub fn entries(&self) -> Vec<f64> {
        let newest = self.newest();
        let (id, content, held) = &self.jobs[0];
        let detail = "y".repeat(110);
        (1..=i64::try_from(PRESSES).unwrap())
            .map(|n| {
                let content = format!("{content}{}", " ".repeat(usize::try_from(n).unwrap() % 2));
                let began = Instant::now();
                self.c.execute_batch("BEGIN IMMEDIATE").unwrap();
                self.c
                    .prepare_cached("UPDATE job SET revision = revision + 1, held = ?2, held_on = '2026-11-25', content = ?3 WHERE id = ?1")
                    .unwrap()
                    .execute(params![id, held, content])
                    .unwrap();
                self.c
                    .prepare_cached("DELETE FROM draft WHERE field = 'frame.colour' AND job_id = ?1")
                    .unwrap()
                    .execute([id])
                    .unwrap();
                self.event(newest + n, *id, "recorded", &detail);
                self.c.execute_batch("COMMIT").unwrap();
                ms(began.elapsed())
            })
            .collect()
    }

    /// The rows of a move: the job's, what passed, an event's.
    pub fn moves(&self) -> Vec<f64> {
        let newest = self.newest();
        let detail = "y".repeat(90);
        (1..)
            .zip(&self.jobs)
            .map(|(n, (id, content, _))| {
                let began = Instant::now();
                self.c.execute_batch("BEGIN IMMEDIATE").unwrap();
                self.c
                    .prepare_cached("INSERT INTO passed (job_id, gate, stands, content) VALUES (?1, 'ordered', 1, ?2)")
                    .unwrap()
                    .execute(params![id, content])
                    .unwrap();
                self.c
                    .prepare_cached("UPDATE job SET stage = 'ordered', revision = revision + 1, held = '[\"readings-missing\"]', held_on = '2026-11-25', content = ?2 WHERE id = ?1")
                    .unwrap()
                    .execute(params![id, content])
                    .unwrap();
                self.event(newest + n, *id, "moved", &detail);
                self.c.execute_batch("COMMIT").unwrap();
                ms(began.elapsed())
            })
            .collect()
    }
}
