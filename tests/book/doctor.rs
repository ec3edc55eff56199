//! Every damage the doctor is for, made past the program, and found and repaired by it.

use std::path::Path;

use crate::practice::{ASSISTANT, OPTICIAN, Practice, past_the_program, spoil};
use chrono::NaiveDate;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::{Desk, PlanChange};
use rimbook::testing::book::store::Store;

fn pair(level: &str, found: &(String, String)) -> bool {
    found.0 == level
}

/// The events of repairs, newest last.
fn repairs(practice: &Practice) -> Vec<serde_json::Value> {
    let store = Store::open(&practice.book()).unwrap();
    let events = store.practice_history().unwrap();
    assert_eq!(store.walk_history().unwrap().faults, []);
    events
        .into_iter()
        .filter(|e| e.2 == "repaired")
        .map(|e| e.3["repair"].clone())
        .collect()
}

fn set(practice: &Practice, dir: &Path) {
    let change = PlanChange {
        dir: Some(dir.to_owned()),
        ..PlanChange::default()
    };
    let mut desk = Desk::open(&practice.book(), Clock::default()).unwrap();
    desk.set_backup_plan(&change, OPTICIAN).unwrap();
}

#[test]
fn a_sound_book_with_a_backup_has_no_faults() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    set(&practice, &dir);
    practice.does(&["backup"]);
    let (status, said) = practice.doctor(&[]);
    assert_eq!(status, 0, "{said}");
    let not_ok: Vec<&str> = said["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|f| f["level"] != "ok" && f["id"] != "space" && f["id"] != "drive")
        .map(|f| f["id"].as_str().unwrap())
        .collect();
    assert_eq!(
        not_ok,
        ["sign-in"],
        "that alone is for the practice to decide"
    );
    let (status, again) = practice.doctor(&["--repair"]);
    assert_eq!((status, &again["repaired"]), (0, &serde_json::json!([])));
    assert!(
        repairs(&practice).is_empty(),
        "nothing repaired, nothing noted"
    );
}

#[test]
fn the_answer_in_words_names_every_look() {
    let practice = Practice::begin();
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .args(["doctor", "--db"])
        .arg(practice.book())
        .env("HOME", practice.place.path())
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    for line in [
        "ok        library: SQLite 3.",
        "ok        integrity: ",
        "ok        search: ",
        "ok        jobs: ",
        "ok        history: history is one chain of 5 entries",
        "ok        since-backup: ",
        "warning   backup: no directory for backups is set\n          rimbook backup --set DIR",
        "ok        clock: ",
        "ok        erasing: ",
        "ok        left-over: ",
    ] {
        assert!(text.contains(line), "{line} in {text}");
    }
    assert!(!text.contains("Holt"), "no wearer is named");
}

#[test]
fn a_file_that_is_no_book_is_one_fault() {
    let practice = Practice::begin();
    spoil(&practice.book(), 0);
    let found = practice.finding("file");
    assert!(pair("fault", &found), "{found:?}");
    practice.fails(&["doctor", "--repair"]);
}

#[test]
fn a_damaged_file_is_a_fault() {
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "PRAGMA writable_schema = ON;
         UPDATE sqlite_schema SET sql = replace(sql, 'question      TEXT', 'question TEXT NOT NULL') WHERE name = 'job';",
    );
    let found = practice.finding("integrity");
    assert!(
        pair("fault", &found) && found.1.contains("3 faults"),
        "{found:?}"
    );
}

#[test]
fn a_row_that_points_nowhere_is_a_fault() {
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "INSERT INTO draft VALUES (99, 'order.lab', '', 'x')",
    );
    let found = practice.finding("integrity");
    assert!(
        pair("fault", &found) && found.1.contains("1 rows point"),
        "{found:?}"
    );
}

#[test]
fn a_search_index_that_differs_is_found_and_built_again() {
    for (damage, words) in [
        (
            "DELETE FROM job_search WHERE rowid = 2",
            "lacks 1 jobs as they are, has 0",
        ),
        (
            "UPDATE job_search SET wearer = 'Other' WHERE rowid = 1",
            "lacks 1 jobs",
        ),
        (
            "INSERT INTO job_search (rowid, number, wearer) VALUES (77, '1077', 'Nobody')",
            "lacks 0 jobs as they are, has 1",
        ),
        (
            "DELETE FROM job_search_data WHERE id > 10",
            "torn in itself",
        ),
        ("DELETE FROM job_search_content", "torn in itself"),
    ] {
        let practice = Practice::begin();
        past_the_program(&practice.book(), damage);
        let found = practice.finding("search");
        assert!(
            pair("fault", &found) && found.1.contains(words),
            "{damage}: {found:?}"
        );
        let whole = practice.finding("integrity");
        assert!(pair("ok", &whole), "the file itself is whole: {whole:?}");
        let (status, said) = practice.doctor(&["--repair"]);
        assert_eq!(status, 0, "{damage}: {said}");
        assert!(
            said["repaired"][0]
                .as_str()
                .unwrap()
                .contains("search index"),
            "{said}"
        );
        assert!(pair("ok", &practice.finding("search")), "{damage}");
        let hits = practice.does(&["find", "maddox"]);
        assert_eq!(hits[0]["number"], "1002", "{damage}");
        assert_eq!(repairs(&practice), ["search index"]);
    }
}

#[test]
fn the_index_built_anew_is_made_as_the_first_one_was() {
    use rusqlite::Connection;
    let practice = Practice::begin();
    let made = || -> Vec<String> {
        #[allow(clippy::disallowed_methods, reason = "past the program")]
        let raw = Connection::open(practice.book()).unwrap();
        let mut all = raw
            .prepare(
                "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND name LIKE 'job_search%'
                 UNION ALL SELECT k || '=' || v FROM job_search_config ORDER BY 1",
            )
            .unwrap();
        let rows = all.query_map([], |r| r.get(0)).unwrap();
        rows.map(Result::unwrap).collect()
    };
    let before = made();
    assert!(before.iter().any(|l| l == "secure-delete=1"), "{before:?}");
    past_the_program(&practice.book(), "DELETE FROM job_search");
    practice.doctor(&["--repair"]);
    assert_eq!(made(), before);
}

#[test]
fn a_job_that_cannot_be_read_is_named_by_its_number() {
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "UPDATE job SET content = '{\"wearer\":7}' WHERE id = 2",
    );
    let found = practice.finding("jobs");
    assert!(
        pair("fault", &found) && found.1 == "1 cannot be read: job 1002 (the job)",
        "{found:?}"
    );
    assert!(
        pair("fault", &practice.finding("history")),
        "and it stands otherwise than told"
    );
}

#[test]
fn a_question_that_cannot_be_read_is_a_fault_and_never_dropped() {
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "UPDATE job SET question = '{\"text\":1}' WHERE id = 2",
    );
    let found = practice.finding("jobs");
    assert!(
        pair("fault", &found) && found.1 == "1 cannot be read: job 1002 (the job)",
        "{found:?}"
    );
    for command in ["show", "check"] {
        let why = practice.fails(&[command, "1002"]);
        assert!(why.contains("a question"), "{command}: {why}");
    }
}

#[test]
fn a_change_past_the_program_is_a_fault_of_history() {
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "UPDATE history SET by = 'Somebody' WHERE id = 3",
    );
    let found = practice.finding("history");
    assert!(
        pair("fault", &found) && found.1.contains("entry 3"),
        "{found:?}"
    );
}

/// Cuts off the end of history together with the job it tells of: the chain stays whole.
const CUT: &str = "DELETE FROM history_detail WHERE id = 5; DELETE FROM history WHERE id = 5;
     DELETE FROM job WHERE id = 3; DELETE FROM job_search WHERE rowid = 3;";

#[test]
fn a_history_cut_off_since_the_last_backup_is_noticed() {
    let practice = Practice::begin();
    practice.back_up(&practice.path("kept"));
    assert!(pair("ok", &practice.finding("since-backup")));
    past_the_program(&practice.book(), CUT);
    assert!(
        pair("ok", &practice.finding("history")),
        "the chain alone does not show it"
    );
    let found = practice.finding("since-backup");
    assert!(
        pair("fault", &found) && found.1.contains("no longer holds entry 5"),
        "{found:?}"
    );
}

#[test]
fn the_backups_themselves_show_a_cut_when_the_book_was_made_to_forget_them() {
    let practice = Practice::begin();
    set(&practice, &practice.path("kept"));
    practice.import("Ada Quill");
    practice.does(&["backup"]);
    past_the_program(
        &practice.book(),
        "DELETE FROM setting WHERE name = 'last_backup';
         DELETE FROM history_detail WHERE id = 7; DELETE FROM history WHERE id = 7;
         DELETE FROM job WHERE id = 4; DELETE FROM job_search WHERE rowid = 4;",
    );
    assert!(pair("ok", &practice.finding("history")));
    let found = practice.finding("since-backup");
    assert!(
        pair("fault", &found) && found.1.contains("entry 7"),
        "{found:?}"
    );
}

#[test]
fn an_older_backup_that_was_put_back_is_no_cut() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    set(&practice, &dir);
    let first = practice.does(&["backup"]);
    practice.import("Ada Quill");
    practice.does(&["backup"]);
    let file = first["file"].as_str().unwrap();
    practice.does(&["restore", file, "--as", OPTICIAN]);
    let found = practice.finding("since-backup");
    assert!(pair("ok", &found), "{found:?}");
}

#[test]
fn the_age_of_the_backups_and_a_missing_directory_are_said() {
    let practice = Practice::begin();
    assert!(pair("warning", &practice.finding("backup")));
    let dir = practice.path("kept");
    set(&practice, &dir);
    let missing = practice.finding("backup");
    assert!(
        pair("warning", &missing) && missing.1.contains("is not there"),
        "{missing:?}"
    );
    let old = Clock {
        fixed: NaiveDate::from_ymd_opt(2020, 1, 1),
    };
    let mut desk = Desk::open(&practice.book(), old).unwrap();
    desk.back_up(None).unwrap();
    drop(desk);
    let found = practice.finding("backup");
    assert!(
        pair("warning", &found) && found.1.contains("days ago"),
        "{found:?}"
    );
    practice.does(&["backup"]);
    assert!(pair("ok", &practice.finding("backup")));
}

#[test]
fn signing_in_switched_off_is_a_warning() {
    let practice = Practice::begin();
    assert!(pair("warning", &practice.finding("sign-in")));
    let mut desk = Desk::open(&practice.book(), Clock::default()).unwrap();
    desk.set_secret(OPTICIAN, "4711 and more", OPTICIAN)
        .unwrap();
    let security = rimbook::testing::book::desk::Security {
        sign_in: true,
        ..Default::default()
    };
    desk.set_security(security, OPTICIAN).unwrap();
    drop(desk);
    assert!(pair("ok", &practice.finding("sign-in")));
    // Then a repair needs somebody, too.
    let why = practice.fails(&["doctor", "--repair"]);
    assert!(why.contains("signed in"), "{why}");
}

#[test]
fn a_clock_that_was_set_back_is_a_warning() {
    let practice = Practice::begin();
    let ahead = Clock {
        fixed: NaiveDate::from_ymd_opt(2999, 1, 1),
    };
    let mut desk = Desk::open(&practice.book(), ahead).unwrap();
    desk.new_job("Ada Quill", Some(OPTICIAN)).unwrap();
    drop(desk);
    let found = practice.finding("clock");
    assert!(
        pair("warning", &found) && found.1.contains("2999-01-01"),
        "{found:?}"
    );
}

#[test]
fn a_half_done_erasure_is_cleared() {
    let practice = Practice::begin();
    past_the_program(&practice.book(), "INSERT INTO erasing VALUES (2)");
    assert!(pair("fault", &practice.finding("erasing")));
    let (status, said) = practice.doctor(&["--repair", "--as", ASSISTANT]);
    assert_eq!(status, 0, "{said}");
    assert_eq!(repairs(&practice), ["erasing"]);
    let store = Store::open(&practice.book()).unwrap();
    let event = store.practice_history().unwrap().pop().unwrap();
    assert_eq!(event.1.as_deref(), Some(ASSISTANT));
}

#[cfg(unix)]
#[test]
fn files_that_others_can_read_are_closed() {
    use std::os::unix::fs::PermissionsExt;
    let mode = |p: &Path| std::fs::metadata(p).unwrap().permissions().mode() & 0o777;
    let open = |p: &Path, mode| {
        std::fs::set_permissions(p, std::fs::Permissions::from_mode(mode)).unwrap();
    };
    let practice = Practice::begin();
    // In a directory with other things the directory is not ours to change.
    open(&practice.book(), 0o644);
    open(practice.place.path(), 0o755);
    let found = practice.finding("permissions");
    assert!(
        pair("warning", &found) && found.1.contains("644"),
        "{found:?}"
    );
    // Its own files beside it while another terminal has it open.
    let other = Desk::open(&practice.book(), Clock::default()).unwrap();
    other.staff().unwrap();
    let log = practice.path("book.db-wal");
    open(&log, 0o640);
    practice.doctor(&["--repair"]);
    assert_eq!((mode(&practice.book()), mode(&log)), (0o600, 0o600));
    assert_eq!(mode(practice.place.path()), 0o755);
    drop(other);
    assert!(pair("ok", &practice.finding("permissions")));
    assert_eq!(
        repairs(&practice),
        ["permissions"; 3],
        "the book, its log and the index of that"
    );
    // One in which others may write is named, and one that is the book's alone is closed.
    open(practice.place.path(), 0o777);
    let found = practice.finding("permissions");
    assert!(
        pair("warning", &found) && found.1.contains("777"),
        "{found:?}"
    );
    std::fs::remove_file(practice.path("job.json")).unwrap();
    practice.doctor(&["--repair"]);
    assert_eq!(mode(practice.place.path()), 0o700);
}

#[test]
fn unfinished_files_older_than_a_day_are_removed_and_nothing_else_is() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    set(&practice, &dir);
    practice.does(&["backup"]);
    let place = |name: &str, days: u64| {
        let path = practice.path(name);
        let file = std::fs::File::create(&path).unwrap();
        let age = std::time::Duration::from_hours(24 * days + 1);
        let now = std::fs::metadata(&path).unwrap().modified().unwrap();
        file.set_modified(now - age).unwrap();
        path
    };
    let stale = [
        place("kept/book-2026-01-01T00-00-00.db.part", 1),
        place("kept/book-2026-01-01T00-00-00.db.part-journal", 1),
        place("book.db.restore-77.part", 2),
    ];
    let others = [
        place("kept/book-2026-01-01T00-00-01.db.part", 0),
        place("kept/book-club.part", 9),
        place("other.db.restore-77.part", 9),
        place("kept/letter.part", 9),
    ];
    let found = practice.finding("left-over");
    assert!(
        pair("warning", &found) && found.1.starts_with("3 files"),
        "{found:?}"
    );
    practice.doctor(&["--repair"]);
    assert!(stale.iter().all(|p| !p.exists()));
    assert!(others.iter().all(|p| p.exists()));
    assert!(pair("ok", &practice.finding("left-over")));
    assert_eq!(repairs(&practice).len(), 3);
}

#[test]
fn every_repair_at_once_leaves_a_sound_book() {
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "DELETE FROM job_search WHERE rowid = 1; INSERT INTO erasing VALUES (1)",
    );
    let (status, said) = practice.doctor(&["--repair"]);
    assert_eq!(status, 0, "{said}");
    assert_eq!(said["repaired"].as_array().unwrap().len(), 2);
    assert_eq!(repairs(&practice), ["search index", "erasing"]);
}

#[cfg(unix)]
#[test]
fn the_newest_backup_is_looked_into() {
    use std::os::unix::fs::PermissionsExt;
    let practice = Practice::begin();
    set(&practice, &practice.path("kept"));
    assert!(pair("ok", &practice.finding("backups")), "none yet");
    let said = practice.does(&["backup"]);
    let file = Path::new(said["file"].as_str().unwrap());
    assert!(pair("ok", &practice.finding("backups")));
    let all = std::fs::Permissions::from_mode(0o644);
    std::fs::set_permissions(file, all).unwrap();
    let found = practice.finding("backups");
    assert!(pair("warning", &found), "{found:?}");
    past_the_program(
        file,
        "UPDATE job SET content = replace(content, 'Wanda', 'Wendy')",
    );
    let found = practice.finding("backups");
    assert!(
        pair("fault", &found) && found.1.contains("history shows 1 faults"),
        "{found:?}"
    );
    past_the_program(file, "INSERT INTO draft VALUES (99, 'order.lab', '', 'x')");
    let found = practice.finding("backups");
    assert!(
        pair("fault", &found) && found.1.contains("1 rows point"),
        "{found:?}"
    );
}

#[test]
fn a_book_that_is_being_written_to_is_no_broken_one() {
    let practice = Practice::begin();
    let mut store = Store::open(&practice.book()).unwrap();
    let held = store.write().unwrap();
    let (status, said) = practice.doctor(&[]);
    drop(held);
    assert_eq!(status, 0, "{said}");
}
