//! Books as earlier versions of the program left them, made by the SQL of their time.
//!
//! The files of `tests/data/books` were written by this; `RIMBOOK_WRITE_DOCS=1 cargo test --test book
//! old_books` writes one again that is missing. Invented people.
#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::disallowed_methods,
    missing_docs,
    reason = "each test file uses its part"
)]

use std::path::{Path, PathBuf};

use rusqlite::{Connection, params};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

/// The SQL of the versions, oldest first.
const SCHEMA: [&str; 8] = [
    include_str!("../../src/book/store/schema/0001_book.sql"),
    include_str!("../../src/book/store/schema/0002_history.sql"),
    include_str!("../../src/book/store/schema/0003_days.sql"),
    include_str!("../../src/book/store/schema/0004_figures.sql"),
    include_str!("../../src/book/store/schema/0005_sent_back.sql"),
    include_str!("../../src/book/store/schema/0006_visits.sql"),
    include_str!("../../src/book/store/schema/0007_made.sql"),
    include_str!("../../src/book/store/schema/0008_typed_names.sql"),
];

/// The versions whose history binds the content of a job alone.
pub const VERSIONS: std::ops::RangeInclusive<usize> = 1..=8;

/// Entries of history in each of these books that a job or a person left.
pub const ENTRIES: u64 = 5;

/// The file of a version that is kept.
pub fn file(version: usize) -> PathBuf {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/books");
    data.join(format!("version_{version}.db"))
}

/// Puts a copy of the kept file of a version at a path.
pub fn put(version: usize, at: &Path) {
    std::fs::copy(file(version), at).unwrap();
}

/// A hash as the versions from the second to the eighth took it: over parts with their lengths.
fn hash(parts: &[&[u8]]) -> Vec<u8> {
    let mut sha = Sha256::new();
    for part in parts {
        sha.update((part.len() as u64).to_le_bytes());
        sha.update(part);
    }
    sha.finalize().to_vec()
}

fn jobs() -> [(i64, &'static str, Value); 2] {
    let one = json!({
        "number": "1001", "stage": "ordered",
        "wearer": {"name": "Una Merrowby", "born": "1961-04-05", "phone": "01632 960 111"},
        "frame": {"maker": "Rowan", "name": "Alder 52"},
        "readings": {"left": {"lot": "L1"}},
        "order": {"laboratory": "Fell Optical", "due_on": "2026-10-20", "ordered_on": "2026-10-13"},
    });
    let two = json!({
        "number": "1002", "stage": "measured",
        "wearer": {"name": "Wanda Holt"},
    });
    [(1, "1001", one), (2, "1002", two)]
}

/// Makes a book of a version from nothing.
pub fn make(version: usize, at: &Path) {
    let c = Connection::open(at).unwrap();
    c.execute_batch("PRAGMA page_size = 1024").unwrap();
    let (first, later) = SCHEMA[..version].split_first().unwrap();
    c.execute_batch(first).unwrap();
    for sql in later {
        c.execute_batch(sql).unwrap();
    }
    if version >= 2 {
        // As the second migration leaves it.
        c.execute_batch("DROP TABLE event").unwrap();
    }
    c.execute(
        "INSERT INTO staff VALUES ('Ines Calloway', ?1)",
        [r#"{"name":"Ines Calloway","role":"optometrist","registration":"01-1"}"#],
    )
    .unwrap();
    for (name, content) in [
        ("practice", r#"{"name":"Fell Street"}"#),
        ("book_id", r#""00112233445566778899aabbccddeeff""#),
        ("erased_numbers", r#"["1000"]"#),
    ] {
        if name != "erased_numbers" || version >= 2 {
            c.execute("INSERT INTO setting VALUES (?1, ?2)", [name, content])
                .unwrap();
        }
    }
    for (id, number, job) in jobs() {
        let text = |path: &str| job.pointer(path).and_then(Value::as_str).map(str::to_owned);
        let wearer = text("/wearer/name").unwrap();
        let digits: String = text("/wearer/phone").unwrap_or_default();
        let digits: String = digits.chars().filter(char::is_ascii_digit).collect();
        // The one question that earlier versions kept.
        let question = (id == 2)
            .then_some(r#"{"text":"is the left axis 90?","by":"Ines Calloway","on":"2026-10-12"}"#);
        c.execute(
            "INSERT INTO job VALUES (?1, ?2, ?3, 0, 2, ?4, lower(?4), ?5, ?6, ?7, NULL, NULL, '[]', '0001-01-01', ?8, ?9)",
            params![
                id,
                number,
                text("/stage"),
                wearer,
                text("/wearer/born"),
                digits.chars().rev().collect::<String>(),
                text("/order/due_on"),
                question,
                job.to_string()
            ],
        )
        .unwrap();
        let born = text("/wearer/born").map_or_else(String::new, |_| {
            "1961-04-05 05/04/1961 5/4/1961 05 April 1961 Apr".to_owned()
        });
        c.execute(
            "INSERT INTO job_search (rowid, number, wearer, born, phone, frame) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![id, number, wearer, born, digits, text("/frame/name").unwrap_or_default()],
        )
        .unwrap();
    }
    c.execute(
        "INSERT INTO acceptance (job_id, content) VALUES (1, ?1)",
        [json!({"check": "cylinder-change", "eye": "left", "values": {"change_d": 1.0}, "limit": 0.5,
            "by": "Ines Calloway", "role": "optometrist", "reason": "tried in the frame", "on": "2026-10-13"})
        .to_string()],
    )
    .unwrap();
    let mut before = jobs()[0].2.clone();
    before["stage"] = json!("measured");
    c.execute(
        "INSERT INTO passed (job_id, gate, stands, content) VALUES (1, 'ordered', 1, ?1)",
        [before.to_string()],
    )
    .unwrap();
    if version >= 7 {
        c.execute_batch(
            "INSERT INTO made VALUES (1, 'frame', 'rowan', 'alder 52', ''), (1, 'left lens', '', '', 'l1')",
        )
        .unwrap();
    }
    tell(&c, version);
    c.execute_batch(&format!(
        "PRAGMA application_id = 1380535618; PRAGMA user_version = {version}; VACUUM; PRAGMA journal_mode = WAL"
    ))
    .unwrap();
}

/// What happened, by the table of the version.
fn tell(c: &Connection, version: usize) {
    let job = |n: usize| jobs()[n].2.to_string();
    let begun = |number| json!({"job": {"number": number}, "past": false}).to_string();
    let events: [(Option<i64>, &str, String, Option<String>); 5] = [
        (
            None,
            "person added",
            json!({"person": {"name": "Ines Calloway"}}).to_string(),
            None,
        ),
        (Some(1), "begun", begun("1001"), None),
        (
            Some(1),
            "moved",
            json!({"from": "measured", "to": "ordered"}).to_string(),
            Some(job(0)),
        ),
        (Some(2), "begun", begun("1002"), None),
        (
            Some(2),
            "asked",
            json!({"question": "is the left axis 90?"}).to_string(),
            Some(job(1)),
        ),
    ];
    let erased = (
        Some(9),
        "erased",
        json!({"number": "1000", "reason": "asked for"}).to_string(),
        None,
    );
    let mut link = vec![0; 32];
    let all = events.into_iter().chain((version >= 2).then_some(erased));
    for (id, (job_id, what, detail, state)) in (1_i64..).zip(all) {
        let at = format!("2026-10-13T09:0{id}:00");
        let by = "Ines Calloway";
        if version == 1 {
            // The first version kept only what happened to jobs.
            if let Some(job_id) = job_id {
                c.execute(
                    "INSERT INTO event (job_id, at, by, what, detail) VALUES (?1, ?2, ?3, ?4, ?5)",
                    params![job_id, at, by, what, detail],
                )
                .unwrap();
            }
            continue;
        }
        let salt = [u8::try_from(id).unwrap(); 16];
        let content = hash(&[&salt, detail.as_bytes()]);
        let state = state.map(|s| hash(&[&salt, s.as_bytes()]));
        let job_bytes = job_id.map(i64::to_le_bytes);
        link = hash(&[
            &link,
            &id.to_le_bytes(),
            job_bytes.as_ref().map_or(&[][..], |j| &j[..]),
            at.as_bytes(),
            by.as_bytes(),
            what.as_bytes(),
            &content,
            state.as_deref().unwrap_or_default(),
        ]);
        c.execute(
            "INSERT INTO history VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            params![id, job_id, at, by, what, content, state, link],
        )
        .unwrap();
        c.execute(
            "INSERT INTO history_detail VALUES (?1, ?2, ?3)",
            params![id, salt, detail],
        )
        .unwrap();
    }
}
