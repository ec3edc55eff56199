//! Every row is read as the program would: what cannot be read is found, named by its job, kept out of
//! no other, never the reason that a good copy goes, and everything else can be taken out.
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::practice::{Practice, copies, past_the_program};
use serde_json::json;

/// A change that spoils a row of one job or of the practice, and what the doctor says cannot be read.
const SPOILT: [(&str, &str); 8] = [
    (
        "INSERT INTO passed (job_id, gate, stands, content) SELECT id, 'ordered', 1, 'x' || content FROM job WHERE number = '1001'",
        "job 1001 (the pair as it passed a gate)",
    ),
    (
        "INSERT INTO passed (job_id, gate, stands, content) SELECT id, 'orderee', 1, content FROM job WHERE number = '1001'",
        "job 1001 (the pair as it passed a gate)",
    ),
    (
        "INSERT INTO acceptance (job_id, content) SELECT id, '{' FROM job WHERE number = '1001'",
        "job 1001 (an acceptance)",
    ),
    (
        "UPDATE job SET content = replace(content, '\"wearer\"', '\"wearfr\"') WHERE number = '1001'",
        "job 1001 (the job)",
    ),
    (
        "UPDATE job SET question = '[{' WHERE number = '1001'",
        "job 1001 (the job)",
    ),
    (
        "UPDATE job SET wearer = CAST(x'ff61' AS TEXT) WHERE number = '1001'",
        "job 1001 (the job)",
    ),
    (
        "UPDATE history_detail SET detail = 'x' || detail WHERE id = (SELECT max(id) FROM history WHERE job_id = 1)",
        "job 1001 (an entry of history)",
    ),
    (
        "UPDATE history SET at = '2026-13-01T00:00:00' WHERE id = (SELECT max(id) FROM history WHERE job_id = 1)",
        "job 1001 (an entry of history)",
    ),
];

fn fault(practice: &Practice, id: &str) -> String {
    let (level, said) = practice.finding(id);
    assert_eq!(level, "fault", "{said}");
    said
}

#[test]
fn what_cannot_be_read_is_named_and_costs_no_good_copy() {
    for (change, words) in SPOILT {
        let practice = Practice::begin();
        let dir = practice.path("kept");
        practice.keep_newest_in(&dir);
        let good = copies(&dir);
        past_the_program(&practice.book(), change);
        let said = fault(&practice, "jobs");
        assert!(said.contains(words), "{change}: {said}");
        let said = practice.fails(&["backup"]);
        assert!(
            said.contains("cannot all be read: job 1001"),
            "{change}: {said}"
        );
        assert_eq!(copies(&dir), good, "{change}");
    }
}

#[test]
fn what_is_spoilt_of_the_practice_is_named() {
    for (change, words) in [
        (
            "UPDATE staff SET content = 'x' WHERE name = 'Nadia Brookwell'",
            "the staff list",
        ),
        (
            "INSERT INTO setting VALUES ('practice', '{\"name\":1}')",
            "a setting",
        ),
        ("INSERT INTO setting VALUES ('security', '{')", "a setting"),
    ] {
        let practice = Practice::begin();
        past_the_program(&practice.book(), change);
        let said = fault(&practice, "jobs");
        assert!(said.contains(words), "{change}: {said}");
        let dir = practice.path("kept");
        let said = practice.fails(&["backup", dir.to_str().unwrap()]);
        assert!(said.contains("be read"), "{change}: {said}");
        assert!(!dir.exists() || copies(&dir).is_empty());
    }
}

#[test]
fn a_spoilt_job_is_named_and_everything_else_works() {
    for (change, words) in SPOILT {
        let practice = Practice::begin();
        past_the_program(&practice.book(), change);
        let is_of_a_list = change.contains("SET wearer");
        let is_history = words.contains("history");
        if !is_of_a_list {
            let list = practice.does(&["list"]);
            assert_eq!(list.as_array().unwrap().len(), 3, "{change}");
        }
        practice.does(&["show", "1002"]);
        if !is_of_a_list && !is_history {
            let said = practice.fails(&["show", "1001"]);
            assert!(said.contains("job 1001 cannot be read"), "{change}: {said}");
            for format in ["json", "csv"] {
                let file = practice.path(&format!("all.{format}"));
                let all = [
                    "export",
                    "--all",
                    "--format",
                    format,
                    "--out",
                    file.to_str().unwrap(),
                ];
                let said = practice.fails(&all);
                assert!(said.contains("job 1001 cannot be read"), "{change}: {said}");
                let run = practice.run(&[&all[..], &["--skip-unreadable"]].concat());
                assert_eq!(run.status, 1, "{}", run.json);
                assert_eq!(
                    (&run.json["jobs"], &run.json["left_out"]),
                    (&json!(2), &json!(["1001"]))
                );
                let text = std::fs::read_to_string(&file).unwrap();
                assert!(text.contains("Gethin Maddox") && !text.contains("Wanda Holt"));
            }
        }
    }
}

#[test]
fn all_that_can_be_read_is_written_into_a_new_book_and_the_rest_listed() {
    for (change, words) in SPOILT {
        let practice = Practice::begin();
        past_the_program(&practice.book(), change);
        let new = practice.path("new.db");
        let run = practice.run(&["doctor", "--salvage", new.to_str().unwrap()]);
        let listed = run.json["left_out"].as_array().unwrap();
        let all: Vec<String> = practice
            .does(&["--db", new.to_str().unwrap(), "list"])
            .as_array()
            .unwrap()
            .iter()
            .map(|j| j["number"].as_str().unwrap().to_owned())
            .collect();
        assert_eq!(run.json["jobs"], all.len(), "{change}");
        let is_of_a_list = change.contains("SET wearer");
        assert_eq!(
            run.status,
            i32::from(!is_of_a_list),
            "{change}: {}",
            run.json
        );
        assert_eq!(
            listed.len(),
            usize::from(!is_of_a_list),
            "{change}: {listed:?}"
        );
        let job_is_lost = words.ends_with("(the job)") && !is_of_a_list;
        assert_eq!(all.len(), if job_is_lost { 2 } else { 3 }, "{change}");
        // The new book is sound, worked in, and no other book's.
        let doctor = practice.run(&["--db", new.to_str().unwrap(), "doctor"]);
        assert_eq!(doctor.status, 0, "{change}: {}", doctor.json);
        let history = practice.does(&["--db", new.to_str().unwrap(), "show", "1002"]);
        assert!(history.to_string().contains("Gethin Maddox"));
        // Nothing is replaced.
        let said = practice.fails(&["doctor", "--salvage", new.to_str().unwrap()]);
        assert!(said.contains("there is a file"), "{said}");
    }
}

#[test]
fn a_file_with_lost_pages_gives_what_it_still_has() {
    let practice = Practice::begin();
    for n in 0..60 {
        practice.import(&format!("Wearer {n}"));
    }
    // Rubbish over one page in the middle of the jobs.
    let raw = rusqlite::Connection::open(practice.book()).unwrap();
    raw.execute_batch("PRAGMA wal_checkpoint(TRUNCATE)")
        .unwrap();
    let page: i64 = raw
        .query_row(
            "SELECT pageno FROM dbstat WHERE name = 'job' AND pagetype = 'leaf' LIMIT 1 OFFSET 2",
            [],
            |r| r.get(0),
        )
        .unwrap();
    drop(raw);
    let mut bytes = std::fs::read(practice.book()).unwrap();
    let from = usize::try_from(page - 1).unwrap() * 4096;
    bytes[from..from + 4096].fill(0xA5);
    std::fs::write(practice.book(), bytes).unwrap();
    assert_eq!(practice.doctor(&[]).0, 1);
    let new = practice.path("new.db");
    let run = practice.run(&["doctor", "--salvage", new.to_str().unwrap()]);
    let jobs = run.json["jobs"].as_u64().unwrap();
    let lost = run.json["left_out"].as_array().unwrap().len() as u64;
    assert!(jobs > 30 && jobs < 63 && lost >= 63 - jobs, "{}", run.json);
    let doctor = practice.run(&["--db", new.to_str().unwrap(), "doctor"]);
    assert_eq!(doctor.status, 0, "{}", doctor.json);
}

#[test]
fn a_wrong_number_of_the_version_is_said_plainly_and_put_right() {
    for version in [0, 1, 4, 8, 265, -7, 1 << 24] {
        let practice = Practice::begin();
        past_the_program(
            &practice.book(),
            &format!("PRAGMA user_version = {version}"),
        );
        let before = std::fs::read(practice.book()).unwrap();
        let said = practice.fails(&["list"]);
        assert!(
            said.contains("tables are not of that version"),
            "{version}: {said}"
        );
        assert!(
            std::fs::read(practice.book()).unwrap() == before,
            "{version}"
        );
        let said = fault(&practice, "file");
        assert!(
            said.contains("tables are not of that version"),
            "{version}: {said}"
        );
        let said = practice.does(&["doctor", "--repair"]);
        assert!(
            said["repaired"]
                .to_string()
                .contains("version was put right")
        );
        assert_eq!(practice.does(&["list"]).as_array().unwrap().len(), 3);
    }
}

#[test]
fn a_copy_is_kept_before_a_book_is_brought_up_to_date() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    crate::old_books_of::put(3, &path);
    let before = rusqlite::Connection::open(&path).unwrap();
    let count = |c: &rusqlite::Connection| -> (i64, i64) {
        let version = c
            .pragma_query_value(None, "user_version", |r| r.get(0))
            .unwrap();
        let rows = c
            .query_row("SELECT count(*) FROM history", [], |r| r.get(0))
            .unwrap();
        (version, rows)
    };
    let stood = count(&before);
    drop(before);
    drop(rimbook::testing::book::desk::Desk::open(&path, crate::driver::clock()).unwrap());
    let kept: Vec<_> = crate::practice::names(dir.path())
        .into_iter()
        .filter(|n| n.starts_with("book.db.version-3-"))
        .collect();
    assert_eq!(kept.len(), 1, "{kept:?}");
    let kept = rusqlite::Connection::open(dir.path().join(&kept[0])).unwrap();
    assert_eq!(count(&kept), stood);
}
