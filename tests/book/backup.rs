//! Backups: whole, checked, kept as the practice says.

use std::path::{Path, PathBuf};

use crate::practice::{ASSISTANT, OPTICIAN, Practice, copies, names, past_the_program, said};
use chrono::NaiveDate;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::{BackupPlan, Desk, Occasion, PlanChange};
use rimbook::testing::book::store::{Store, moment_of};
use serde_json::json;

const THREE: [&str; 3] = ["Gethin Maddox", "Marguerite Abernethy", "Wanda Holt"];

fn on(day: &str) -> Clock {
    Clock {
        fixed: Some(day.parse::<NaiveDate>().unwrap()),
    }
}

#[test]
fn a_backup_is_a_whole_book_of_its_own() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let file = practice.back_up(&dir);
    let name = file.file_name().unwrap().to_str().unwrap();
    assert!(moment_of(Path::new(name)).is_some(), "{name}");
    assert_eq!(copies(&dir), [name], "one file, nothing beside it");
    assert_eq!(practice.wearers(&file), THREE);
    let (there, here) = (
        Store::open(&file).unwrap().head().unwrap(),
        Store::open(&practice.book()).unwrap().head().unwrap(),
    );
    assert_eq!(there, here, "history to its end");
}

#[cfg(unix)]
#[test]
fn a_backup_can_be_read_by_its_owner_alone() {
    use std::os::unix::fs::PermissionsExt;
    let practice = Practice::begin();
    let dir = practice.path("made/for/it");
    let file = practice.back_up(&dir);
    let mode = |p: &Path| std::fs::metadata(p).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&file), 0o600);
    assert_eq!(mode(&dir), 0o700);
}

#[test]
fn the_book_remembers_its_last_backup() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    let store = Store::open(&practice.book()).unwrap();
    let last = store.last_backup().unwrap().unwrap();
    assert_eq!(Path::new(&last.file), file);
    assert_eq!(last.head, store.head().unwrap());
    assert!(store.has_entry(&last.head).unwrap());
}

#[test]
fn every_job_acknowledged_before_a_backup_began_is_in_it() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let mut acknowledged: Vec<String> = THREE.map(str::to_owned).to_vec();
    for round in 0..4 {
        // Writers and backups run at the same time.
        let before = acknowledged.clone();
        let writers: Vec<_> = (0..3)
            .map(|n| {
                let name = format!("Wearer {round} {n}");
                let file = practice.path(&format!("{round}-{n}.json"));
                std::fs::write(
                    &file,
                    json!({"format": "rimbook-job", "version": 1, "wearer": {"name": name}})
                        .to_string(),
                )
                .unwrap();
                (name, practice.start(&["import", file.to_str().unwrap()]))
            })
            .collect();
        let backups: Vec<_> = (0..2)
            .map(|_| practice.start(&["backup", dir.to_str().unwrap()]))
            .collect();
        for (name, writer) in writers {
            let said = said(&writer.wait_with_output().unwrap());
            assert_eq!(said.status, 0, "{} {}", said.json, said.err);
            acknowledged.push(name);
        }
        for backup in backups {
            let said = said(&backup.wait_with_output().unwrap());
            assert_eq!(said.status, 0, "{} {}", said.json, said.err);
            let file: PathBuf = said.json["file"].as_str().unwrap().into();
            let kept = practice.wearers(&file);
            for wearer in &before {
                assert!(kept.contains(wearer), "{wearer} in {}", file.display());
            }
            for wearer in &kept {
                let known =
                    before.contains(wearer) || wearer.starts_with(&format!("Wearer {round} "));
                assert!(known, "{wearer}");
            }
        }
    }
    assert_eq!(
        copies(&dir).len(),
        8,
        "each under a name of its own: {:?}",
        copies(&dir)
    );
    assert!(
        copies(&dir)
            .iter()
            .all(|n| moment_of(Path::new(n)).is_some())
    );
}

#[test]
fn a_directory_that_cannot_be_one_is_named_and_nothing_is_left() {
    let practice = Practice::begin();
    let dir = practice.path("a-file");
    std::fs::write(&dir, "text").unwrap();
    let why = practice.fails(&["backup", dir.to_str().unwrap()]);
    assert!(
        why.contains("a-file") && why.contains("cannot take a backup"),
        "{why}"
    );
    assert_eq!(std::fs::read_to_string(&dir).unwrap(), "text");
    let store = Store::open(&practice.book()).unwrap();
    assert_eq!(store.last_backup().unwrap(), None, "a failure is no backup");
}

#[cfg(target_os = "linux")]
#[test]
fn a_backup_that_finds_no_room_leaves_nothing_behind() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let first = practice.back_up(&dir);
    // No file may grow beyond 40 KiB; the book is larger than that.
    assert!(std::fs::metadata(practice.book()).unwrap().len() > 60_000);
    let output = std::process::Command::new("sh")
        .args([
            "-c",
            "trap '' XFSZ; ulimit -f 80; exec \"$0\" --json backup \"$1\"",
            env!("CARGO_BIN_EXE_rimbook"),
            dir.to_str().unwrap(),
        ])
        .env("RIMBOOK_DB", practice.book())
        .env("HOME", practice.place.path())
        .output()
        .unwrap();
    let said = said(&output);
    assert_eq!(said.status, 1, "{} {}", said.json, said.err);
    let why = said.json["error"]["message"].as_str().unwrap();
    assert!(why.contains("the backup was not made"), "{why}");
    let first = first.file_name().unwrap().to_str().unwrap();
    assert_eq!(
        copies(&dir),
        [first],
        "no half file, and the older one is there"
    );
}

#[test]
fn a_damaged_book_gives_no_backup_and_the_older_ones_stay() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let first = practice.back_up(&dir);
    // A column that may not be empty and is: the file opens, and is not whole.
    past_the_program(
        &practice.book(),
        "PRAGMA writable_schema = ON;
         UPDATE sqlite_schema SET sql = replace(sql, 'question      TEXT', 'question TEXT NOT NULL') WHERE name = 'job';",
    );
    let why = practice.fails(&["backup", dir.to_str().unwrap()]);
    assert!(why.contains("not whole"), "{why}");
    assert_eq!(copies(&dir), [first.file_name().unwrap().to_str().unwrap()]);
}

fn plan(dir: &Path) -> PlanChange {
    PlanChange {
        dir: Some(dir.to_owned()),
        keep_last: Some(2),
        keep_days: Some(0),
        keep_weeks: Some(0),
        keep_months: Some(3),
        ..PlanChange::default()
    }
}

#[test]
fn old_backups_go_as_the_practice_has_set_and_nothing_else_does() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    // Another book's backup, a text of such a name, and something else lie there as well.
    let other = Practice::begin();
    let strange = other.back_up(&dir);
    let elsewhere = dir.join("book-2020-01-01T00-00-00.db");
    std::fs::rename(strange, &elsewhere).unwrap();
    std::fs::write(dir.join("book-2020-01-01T00-00-01.db"), "text").unwrap();
    std::fs::write(dir.join("letter.txt"), "text").unwrap();
    let days = [
        "2026-08-03",
        "2026-09-01",
        "2026-09-30",
        "2026-10-10",
        "2026-10-11",
        "2026-10-12",
    ];
    for day in days {
        let mut desk = Desk::open(&practice.book(), on(day)).unwrap();
        if day == days[0] {
            desk.set_backup_plan(&plan(&dir), OPTICIAN).unwrap();
        }
        desk.back_up(None).unwrap();
    }
    let kept: Vec<String> = copies(&dir)
        .into_iter()
        .map(|n| n.get(..15).unwrap_or(&n).to_owned())
        .collect();
    assert_eq!(
        kept,
        [
            "book-2020-01-01",
            "book-2020-01-01",
            "book-2026-08-03",
            "book-2026-09-30",
            "book-2026-10-11",
            "book-2026-10-12",
            "letter.txt"
        ]
    );
}

#[test]
fn a_backup_made_while_the_clock_is_behind_is_not_removed_at_once() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let change = PlanChange {
        keep_last: Some(1),
        keep_months: Some(0),
        ..plan(&dir)
    };
    let mut desk = Desk::open(&practice.book(), on("2026-10-12")).unwrap();
    desk.set_backup_plan(&change, OPTICIAN).unwrap();
    desk.back_up(None).unwrap();
    let mut desk = Desk::open(&practice.book(), on("2020-01-01")).unwrap();
    let made = desk.back_up(None).unwrap();
    assert!(made.copied.file.exists());
}

#[test]
fn nothing_is_removed_from_a_directory_that_is_not_the_one_set() {
    let practice = Practice::begin();
    let (set, other) = (practice.path("kept"), practice.path("stick"));
    for day in ["2026-10-09", "2026-10-10", "2026-10-11", "2026-10-12"] {
        let mut desk = Desk::open(&practice.book(), on(day)).unwrap();
        desk.set_backup_plan(&plan(&set), OPTICIAN).unwrap();
        let made = desk.back_up(Some(&other)).unwrap();
        assert_eq!(made.removed, Vec::<PathBuf>::new());
    }
    assert_eq!(names(&other).len(), 4);
}

#[test]
fn a_history_with_faults_lets_no_older_backup_go() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let change = PlanChange {
        keep_last: Some(1),
        ..plan(&dir)
    };
    let mut desk = Desk::open(&practice.book(), on("2026-10-10")).unwrap();
    desk.set_backup_plan(&change, OPTICIAN).unwrap();
    desk.back_up(None).unwrap();
    drop(desk);
    past_the_program(
        &practice.book(),
        "UPDATE job SET content = replace(content, 'Wanda', 'Wendy')",
    );
    let mut desk = Desk::open(&practice.book(), on("2026-10-11")).unwrap();
    let made = desk.back_up(None).unwrap();
    assert_eq!(made.copied.history_faults, 1);
    assert!(
        made.notes[0].contains("no older backup was removed"),
        "{:?}",
        made.notes
    );
    assert_eq!(copies(&dir).len(), 2);
}

#[test]
fn only_a_registered_person_sets_where_backups_go() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let words = |by| {
        [
            "backup",
            dir.to_str().unwrap(),
            "--set",
            "--keep",
            "3",
            "--as",
            by,
        ]
        .map(str::to_owned)
    };
    let run = |by: &str| {
        let words = words(by.to_owned().leak());
        practice.run(&words.iter().map(String::as_str).collect::<Vec<_>>())
    };
    let refused = run(ASSISTANT);
    assert_eq!(refused.status, 1);
    assert_eq!(refused.json["error"]["kind"], "refused");
    assert!(!dir.exists(), "refused before anything is made");
    let done = run(OPTICIAN);
    assert_eq!(done.status, 0, "{}", done.json);
    assert_eq!(done.json["plan"]["keep_last"], 3);
    assert_eq!(done.json["plan"]["dir"], json!(dir));
    // From now on the directory need not be named.
    let again = practice.does(&["backup"]);
    assert!(Path::new(again["file"].as_str().unwrap()).starts_with(&dir));
    let store = Store::open(&practice.book()).unwrap();
    let events = store.practice_history().unwrap();
    let set = events
        .iter()
        .find(|e| e.2 == "backups set")
        .expect("in history");
    assert_eq!(set.1.as_deref(), Some(OPTICIAN));
    let none = practice.run(&["backup", "--set", "--keep", "0", "--as", OPTICIAN]);
    assert_eq!(none.json["error"]["kind"], "input");
}

#[test]
fn without_a_directory_the_command_says_how_to_set_one() {
    let practice = Practice::begin();
    let said = practice.run(&["backup"]);
    assert_eq!(said.status, 2);
    let hint = said.json["error"]["hints"][0].as_str().unwrap();
    assert!(hint.contains("backup --set DIR --as NAME"), "{hint}");
}

#[test]
fn a_backup_is_due_once_a_day_and_after_changes() {
    let practice = Practice::begin();
    let book = practice.book();
    let mut desk = Desk::open(&book, on("2026-10-12")).unwrap();
    let due =
        |desk: &Desk| [Occasion::Start, Occasion::Quit].map(|o| desk.backup_is_due(o).unwrap());
    assert_eq!(due(&desk), [false, false], "no directory is set");
    desk.set_backup_plan(&plan(&practice.path("kept")), OPTICIAN)
        .unwrap();
    assert_eq!(due(&desk), [true, true]);
    desk.back_up(None).unwrap();
    assert_eq!(due(&desk), [false, false]);
    desk.new_job("Ada Quill", Some(OPTICIAN)).unwrap();
    assert_eq!(due(&desk), [false, true], "changed since");
    let tomorrow = Desk::open(&book, on("2026-10-13")).unwrap();
    assert_eq!(due(&tomorrow), [true, true]);
    let off = PlanChange {
        on_start: Some(false),
        on_quit: Some(false),
        ..PlanChange::default()
    };
    let plan: BackupPlan = desk.set_backup_plan(&off, OPTICIAN).unwrap();
    assert!(plan.dir.is_some(), "what is not named stays");
    let tomorrow = Desk::open(&book, on("2026-10-13")).unwrap();
    assert_eq!(due(&tomorrow), [false, false]);
}

fn killed(practice: &Practice, words: &[&str], watched: &Path) {
    let mut child = practice.start(words);
    let unfinished = || names(watched).iter().any(|n| n.contains(".part"));
    while !unfinished() && child.try_wait().unwrap().is_none() {
        std::thread::yield_now();
    }
    child.kill().unwrap();
    child.wait().unwrap();
}

#[test]
fn a_backup_that_is_killed_leaves_only_whole_files_under_final_names() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    practice.back_up(&dir);
    let mut unfinished = 0;
    for _ in 0..20 {
        killed(&practice, &["backup", dir.to_str().unwrap()], &dir);
        let (whole, parts): (Vec<_>, Vec<_>) = copies(&dir)
            .into_iter()
            .partition(|n| moment_of(Path::new(n)).is_some());
        for name in whole {
            let store = Store::open(&dir.join(&name)).unwrap();
            assert!(store.integrity().unwrap().is_whole(), "{name}");
            assert_eq!(store.walk_history().unwrap().faults, [], "{name}");
        }
        unfinished += parts.len();
    }
    assert!(unfinished > 0, "at least one was killed on its way");
    practice.does(&["backup", dir.to_str().unwrap()]);
}

#[test]
fn several_backups_of_one_second_are_told_in_the_order_they_were_made() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let file = practice.back_up(&practice.path("aside"));
    std::fs::create_dir_all(&dir).unwrap();
    let name = |n: u32| match n {
        1 => "book-2026-11-25T14-47-03.db".to_owned(),
        n => format!("book-2026-11-25T14-47-03-{n}.db"),
    };
    for n in 1..=11 {
        std::fs::copy(&file, dir.join(name(n))).unwrap();
    }
    let store = Store::open(&practice.book()).unwrap();
    let found = store.own_backups(&dir).unwrap();
    let found: Vec<_> = found.iter().map(|b| b.file.clone()).collect();
    let wanted: Vec<_> = (1..=11).map(|n| dir.join(name(n))).collect();
    assert_eq!(found, wanted);
}
