//! Restores: a backup in the place of the book, nothing lost, refused where it cannot be right.

use std::path::{Path, PathBuf};

use crate::practice::{ASSISTANT, OPTICIAN, Practice, names, past_the_program, said, spoil};
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::{Desk, ErrorKind, Restore, restore};
use rimbook::testing::book::store::Store;
use serde_json::json;

const THREE: [&str; 3] = ["Gethin Maddox", "Marguerite Abernethy", "Wanda Holt"];

fn restored(practice: &Practice, file: &Path) -> serde_json::Value {
    practice.does(&["restore", file.to_str().unwrap(), "--as", OPTICIAN])
}

#[test]
fn a_restored_book_is_the_backup_and_the_replaced_one_is_kept() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    let bytes = std::fs::read(&file).unwrap();
    practice.import("Ada Quill");
    let before = Store::open(&practice.book()).unwrap().head().unwrap();
    let said = restored(&practice, &file);
    assert_eq!(said["was_alone"], true);
    assert_eq!(practice.wearers(&practice.book()), THREE);
    let kept: PathBuf = said["kept"].as_str().unwrap().into();
    let name = kept.file_name().unwrap().to_str().unwrap();
    assert!(name.starts_with("book.db.replaced-20"), "{name}");
    let mut all = THREE.to_vec();
    all.insert(0, "Ada Quill");
    assert_eq!(practice.wearers(&kept), all, "nothing of it is lost");
    assert_eq!(
        std::fs::read(&file).unwrap(),
        bytes,
        "the backup is as it was"
    );
    let store = Store::open(&practice.book()).unwrap();
    let event = store.practice_history().unwrap().pop().unwrap();
    assert_eq!(
        (event.1.as_deref(), event.2.as_str()),
        (Some(OPTICIAN), "restored")
    );
    assert_eq!(event.3["head_before"], json!(before));
    assert_eq!(event.3["from"], json!(file.file_name().unwrap().to_str()));
    assert_eq!(store.walk_history().unwrap().faults, []);
    let left: Vec<String> = names(practice.place.path())
        .into_iter()
        .filter(|n| n.contains("restore-") || n.contains(".part"))
        .collect();
    assert_eq!(left, Vec::<String>::new());
}

#[test]
fn the_first_book_of_a_new_machine_can_be_a_backup() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    let new = practice.path("new/book.db");
    let said = practice.does(&[
        "--db",
        new.to_str().unwrap(),
        "restore",
        file.to_str().unwrap(),
        "--as",
        OPTICIAN,
    ]);
    assert_eq!(said["kept"], json!(null));
    assert_eq!(practice.wearers(&new), THREE);
}

#[test]
fn only_a_registered_person_of_the_present_book_restores() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    practice.import("Ada Quill");
    let bytes = std::fs::read(practice.book()).unwrap();
    for (by, word) in [
        (ASSISTANT, "only a dispensing optician"),
        ("Nobody", "not on the staff list"),
    ] {
        let why = practice.fails(&["restore", file.to_str().unwrap(), "--as", by]);
        assert!(why.contains(word), "{why}");
    }
    assert_eq!(std::fs::read(practice.book()).unwrap(), bytes);
    // Somebody on the present list is enough, though the backup does not know them.
    practice.does(&[
        "staff",
        "add",
        "--name",
        "Owen Farr",
        "--role",
        "optometrist",
        "--registration",
        "R3307",
    ]);
    practice.does(&["restore", file.to_str().unwrap(), "--as", "Owen Farr"]);
}

#[test]
fn where_people_sign_in_a_restore_asks_for_the_secret() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    let mut desk = Desk::open(&practice.book(), Clock::default()).unwrap();
    desk.set_secret(OPTICIAN, "4711 and more", OPTICIAN)
        .unwrap();
    let security = rimbook::testing::book::desk::Security {
        sign_in: true,
        ..Default::default()
    };
    desk.set_security(security, OPTICIAN).unwrap();
    drop(desk);
    let book = practice.book();
    let ask = |secret| {
        let what = Restore {
            file: &file,
            book: &book,
            by: OPTICIAN,
            secret,
        };
        restore(what, Clock::default()).map_err(|e| e.kind)
    };
    assert_eq!(ask(None), Err(ErrorKind::Refused));
    assert_eq!(ask(Some("4711 and less")), Err(ErrorKind::Refused));
    assert!(ask(Some("4711 and more")).is_ok());
}

/// Asserts that a file is refused and that the book and the file stay as they are.
fn refuses(practice: &Practice, file: &Path, word: &str) {
    let (book, bytes) = (
        std::fs::read(practice.book()).unwrap(),
        std::fs::read(file).unwrap(),
    );
    let before = names(practice.place.path());
    let why = practice.fails(&["restore", file.to_str().unwrap(), "--as", OPTICIAN]);
    assert!(
        why.contains(word) && why.contains("was not put back"),
        "{why}"
    );
    assert!(std::fs::read(practice.book()).unwrap() == book, "the book");
    assert!(std::fs::read(file).unwrap() == bytes, "the file");
    assert_eq!(
        names(practice.place.path()),
        before,
        "nothing is left lying"
    );
}

#[test]
fn what_is_no_whole_book_is_not_put_back() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    let copy = |name: &str| {
        let to = practice.path(name);
        std::fs::copy(&file, &to).unwrap();
        to
    };
    let text = practice.path("text.db");
    std::fs::write(&text, "a letter").unwrap();
    refuses(&practice, &text, "no rimbook book");
    let empty = practice.path("empty.db");
    std::fs::write(&empty, "").unwrap();
    refuses(&practice, &empty, "no rimbook book");
    let foreign = copy("foreign.db");
    past_the_program(&foreign, "PRAGMA application_id = 7");
    refuses(&practice, &foreign, "no rimbook book");
    let newer = copy("newer.db");
    past_the_program(&newer, "PRAGMA user_version = 99");
    refuses(&practice, &newer, "version 99");
    let torn = copy("torn.db");
    spoil(&torn, 8192);
    refuses(&practice, &torn, "damaged");
    let short = copy("short.db");
    let bytes = std::fs::read(&short).unwrap();
    std::fs::write(&short, &bytes[..bytes.len() / 2 / 4096 * 4096]).unwrap();
    refuses(&practice, &short, "damaged");
    let changed = copy("changed.db");
    past_the_program(
        &changed,
        "UPDATE job SET content = replace(content, 'Wanda', 'Wendy')",
    );
    refuses(&practice, &changed, "history shows 1 faults");
    let orphan = copy("orphan.db");
    past_the_program(&orphan, "INSERT INTO draft VALUES (77, 'a', '', 'b')");
    refuses(&practice, &orphan, "rows that are not there");
    let itself = practice.fails(&[
        "restore",
        practice.book().to_str().unwrap(),
        "--as",
        OPTICIAN,
    ]);
    assert!(itself.contains("the book itself"), "{itself}");
    let missing = practice.fails(&["restore", "nowhere.db", "--as", OPTICIAN]);
    assert!(missing.contains("no book at nowhere.db"), "{missing}");
}

#[test]
fn a_book_that_is_open_elsewhere_is_not_replaced() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    practice.import("Ada Quill");
    let other = Desk::open(&practice.book(), Clock::default()).unwrap();
    let _read = other.staff().unwrap();
    let why = practice.fails(&["restore", file.to_str().unwrap(), "--as", OPTICIAN]);
    assert!(why.contains("open in another terminal"), "{why}");
    drop(other);
    assert_eq!(practice.wearers(&practice.book()).len(), 4, "as it was");
    restored(&practice, &file);
    assert_eq!(practice.wearers(&practice.book()), THREE);
}

#[test]
fn a_book_that_cannot_be_read_is_replaced_by_somebody_on_the_backups_own_list() {
    for keep in [0, 1000] {
        let practice = Practice::begin();
        let file = practice.back_up(&practice.path("kept"));
        spoil(&practice.book(), keep);
        let spoilt = std::fs::read(practice.book()).unwrap();
        let why = practice.fails(&["restore", file.to_str().unwrap(), "--as", ASSISTANT]);
        assert!(why.contains("only a dispensing optician"), "{why}");
        let said = restored(&practice, &file);
        assert_eq!(
            said["was_alone"], false,
            "it is said that this is not known"
        );
        assert_eq!(practice.wearers(&practice.book()), THREE);
        let kept = Path::new(said["kept"].as_str().unwrap());
        assert!(std::fs::read(kept).unwrap() == spoilt, "kept as it was");
    }
}

/// A book as a crash leaves it: the newest entries are in the log alone.
fn crashed(practice: &Practice) {
    let (book, log) = (practice.book(), practice.path("book.db-wal"));
    let mut desk = Desk::open(&book, Clock::default()).unwrap();
    desk.new_job("Ada Quill", None).unwrap();
    let left = [&book, &log].map(|p| std::fs::read(p).unwrap());
    drop(desk);
    assert!(!log.exists() && left[1].len() > 1000);
    std::fs::write(&book, &left[0]).unwrap();
    std::fs::write(&log, &left[1]).unwrap();
}

#[test]
fn what_only_the_log_of_a_replaced_book_holds_is_kept_with_it() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    crashed(&practice);
    let said = restored(&practice, &file);
    assert_eq!(practice.wearers(&practice.book()), THREE);
    let kept: PathBuf = said["kept"].as_str().unwrap().into();
    assert!(practice.wearers(&kept).contains(&"Ada Quill".to_owned()));
}

#[test]
fn a_restored_book_never_meets_the_log_of_a_damaged_one() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    crashed(&practice);
    spoil(&practice.book(), 0);
    let log = std::fs::read(practice.path("book.db-wal")).unwrap();
    let said = restored(&practice, &file);
    assert_eq!(practice.wearers(&practice.book()), THREE);
    let kept = format!("{}-wal", said["kept"].as_str().unwrap());
    assert!(
        std::fs::read(kept).unwrap() == log,
        "and the log is kept, too"
    );
}

#[test]
fn a_newer_book_is_not_replaced_by_an_older_program() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    past_the_program(&practice.book(), "PRAGMA user_version = 99");
    let why = practice.fails(&["restore", file.to_str().unwrap(), "--as", OPTICIAN]);
    assert!(why.contains("version 99"), "{why}");
}

/// Starts the program, and kills it as soon as an unfinished file is seen, or lets it end.
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
fn a_restore_that_is_killed_leaves_the_one_book_or_the_other() {
    for _ in 0..10 {
        let practice = Practice::begin();
        let file = practice.back_up(&practice.path("kept"));
        practice.import("Ada Quill");
        let words = ["restore", file.to_str().unwrap(), "--as", OPTICIAN];
        killed(&practice, &words, practice.place.path());
        let here = practice.wearers(&practice.book());
        assert!(here == THREE || here.len() == 4, "{here:?}");
        // The next attempt is not kept from it by what the first one left.
        restored(&practice, &file);
        assert_eq!(practice.wearers(&practice.book()), THREE);
    }
}

#[test]
fn a_database_of_another_program_is_never_replaced() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    past_the_program(&practice.book(), "PRAGMA application_id = 7");
    let why = practice.fails(&["restore", file.to_str().unwrap(), "--as", OPTICIAN]);
    assert!(why.contains("belongs to another program"), "{why}");
}

#[test]
fn backups_go_on_after_a_restore_and_rotation_knows_them_all() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let first = practice.back_up(&dir);
    practice.import("Ada Quill");
    practice.back_up(&dir);
    restored(&practice, &first);
    practice.back_up(&dir);
    let store = Store::open(&practice.book()).unwrap();
    assert_eq!(store.own_backups(&dir).unwrap().len(), 3);
}

#[cfg(unix)]
#[test]
fn a_link_to_the_book_stays_one() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    practice.import("Ada Quill");
    let (real, link) = (practice.path("drive/real.db"), practice.book());
    std::fs::create_dir(practice.path("drive")).unwrap();
    std::fs::rename(&link, &real).unwrap();
    std::os::unix::fs::symlink(&real, &link).unwrap();
    let said = restored(&practice, &file);
    assert!(link.is_symlink());
    assert_eq!(practice.wearers(&real), THREE);
    assert!(
        said["kept"]
            .as_str()
            .unwrap()
            .contains("/drive/real.db.replaced-")
    );
}

#[test]
fn nothing_acknowledged_is_written_into_a_book_that_was_replaced() {
    let practice = Practice::begin();
    let file = practice.back_up(&practice.path("kept"));
    let mut acknowledged: Vec<String> = Vec::new();
    let mut replaced: Vec<PathBuf> = Vec::new();
    for round in 0..12 {
        let writers: Vec<_> = (0..3)
            .map(|n| {
                let name = format!("Wearer {round} {n}");
                let job = json!({"format": "rimbook-job", "version": 1, "wearer": {"name": name}});
                let path = practice.path(&format!("{round}-{n}.json"));
                std::fs::write(&path, job.to_string()).unwrap();
                (name, practice.start(&["import", path.to_str().unwrap()]))
            })
            .collect();
        let words = ["restore", file.to_str().unwrap(), "--as", OPTICIAN];
        let restore = said(&practice.start(&words).wait_with_output().unwrap());
        if restore.status == 0 {
            assert_eq!(restore.json["was_alone"], true);
            replaced.push(restore.json["kept"].as_str().unwrap().into());
        } else {
            let why = restore.json["error"]["message"].as_str().unwrap();
            assert!(why.contains("another terminal"), "{why}");
        }
        for (name, writer) in writers {
            let done = said(&writer.wait_with_output().unwrap());
            if done.status == 0 {
                acknowledged.push(name);
            } else {
                assert_eq!(done.json["error"]["kind"], "busy", "{}", done.json);
            }
        }
    }
    let last = restored(&practice, &file);
    replaced.push(last["kept"].as_str().unwrap().into());
    let mut all = practice.wearers(&practice.book());
    for kept in &replaced {
        all.extend(practice.wearers(kept));
    }
    for name in &acknowledged {
        assert!(all.contains(name), "{name}");
    }
    // Each replaced book ends where the event of its replacement says that it ended.
    let book = practice.book();
    for (kept, next) in replaced.iter().zip(replaced.iter().skip(1).chain([&book])) {
        let events = Store::open(next).unwrap().practice_history().unwrap();
        let event = events.iter().rfind(|e| e.2 == "restored").unwrap();
        let ends = Store::open(kept).unwrap().head().unwrap();
        assert_eq!(event.3["head_before"], json!(ends));
    }
}
