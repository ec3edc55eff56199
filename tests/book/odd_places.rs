//! Books in odd places: copies that cannot be written are looked into and put back and are not changed by
//! it; a book that is replaced or removed under somebody keeps nothing more; a place for backups that
//! takes none is not set.
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::os::unix::fs::PermissionsExt;
use std::os::unix::process::CommandExt;
use std::path::Path;

use crate::practice::{OPTICIAN, Practice, names, said};
use rimbook::testing::book::desk::Desk;

/// Somebody who is not root, so that permissions hold for them.
const NOBODY: u32 = 65534;

fn set_mode(path: &Path, mode: u32) {
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
}

#[test]
fn looking_into_a_copy_does_not_change_it() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let copy = practice.back_up(&dir);
    let before = (std::fs::read(&copy).unwrap(), names(&dir));
    for words in [
        &["list"][..],
        &["show", "1001"],
        &["export", "--all"],
        &["doctor"],
        &["find", "Holt"],
    ] {
        let words = [&["--db", copy.to_str().unwrap()], words].concat();
        practice.does(&words);
        assert!(std::fs::read(&copy).unwrap() == before.0, "{words:?}");
        assert_eq!(names(&dir), before.1, "{words:?}");
    }
    practice.does(&["backup", dir.to_str().unwrap()]);
    practice.doctor(&[]);
    assert!(std::fs::read(&copy).unwrap() == before.0);
    assert!(
        names(&dir)
            .iter()
            .all(|n| !n.ends_with("-wal") && !n.ends_with("-shm"))
    );
}

#[test]
fn a_copy_that_cannot_be_written_is_listed_examined_and_put_back() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let copy = practice.back_up(&dir);
    let old = dir.join("old.db");
    crate::old_books_of::put(5, &old);
    for file in [&copy, &old] {
        set_mode(file, 0o444);
    }
    set_mode(&dir, 0o555);
    // A program and a home that nobody may use as well.
    let program = practice.path("rimbook");
    std::fs::copy(env!("CARGO_BIN_EXE_rimbook"), &program).unwrap();
    let home = practice.path("home");
    std::fs::create_dir(&home).unwrap();
    for place in [practice.place.path(), &home, &program] {
        set_mode(place, 0o777);
    }
    let is_root =
        std::fs::metadata("/proc/self").is_ok_and(|m| std::os::unix::fs::MetadataExt::uid(&m) == 0);
    let run = |words: &[&str]| {
        let mut command = std::process::Command::new(&program);
        command
            .arg("--json")
            .args(words)
            .env("HOME", &home)
            .current_dir(&home);
        command.env_remove("RIMBOOK_TODAY");
        if is_root {
            command.uid(NOBODY).gid(NOBODY);
        }
        said(&command.output().unwrap())
    };
    let before = (
        std::fs::read(&copy).unwrap(),
        std::fs::read(&old).unwrap(),
        names(&dir),
    );
    for file in [&copy, &old] {
        let db = file.to_str().unwrap();
        for words in [
            &["list"][..],
            &["show", "1001"],
            &["export", "--all"],
            &["doctor"],
        ] {
            let done = run(&[&["--db", db], words].concat());
            assert_eq!(done.status, 0, "{db} {words:?}: {} {}", done.json, done.err);
        }
        let refused = run(&[
            "--db", db, "cancel", "1001", "--as", OPTICIAN, "--reason", "x",
        ]);
        assert_eq!(refused.status, 1, "{db}: {}", refused.json);
        let book = home.join("book.db");
        let put = run(&[
            "--db",
            book.to_str().unwrap(),
            "restore",
            db,
            "--as",
            OPTICIAN,
        ]);
        assert_eq!(put.status, 0, "{db}: {} {}", put.json, put.err);
        std::fs::remove_file(book).unwrap();
    }
    assert!(
        before
            == (
                std::fs::read(&copy).unwrap(),
                std::fs::read(&old).unwrap(),
                names(&dir)
            )
    );
    set_mode(&dir, 0o755);
}

#[test]
fn nothing_is_acknowledged_in_a_book_that_was_replaced_or_removed() {
    type Does = fn(&Path);
    let ways: [Does; 4] = [
        |book| std::fs::remove_file(book).unwrap(),
        |book| {
            let copy = book.with_extension("copy");
            std::fs::copy(book, &copy).unwrap();
            std::fs::rename(copy, book).unwrap();
        },
        |book| std::fs::rename(book, book.with_extension("away")).unwrap(),
        |book| std::fs::write(book, "").unwrap(),
    ];
    for (way, does) in ways.into_iter().enumerate() {
        let practice = Practice::begin();
        let mut desk = Desk::open(&practice.book(), crate::driver::clock()).unwrap();
        desk.new_job("Before", Some(OPTICIAN)).unwrap();
        does(&practice.book());
        let refused = desk.new_job("After", Some(OPTICIAN)).unwrap_err();
        assert!(
            refused.message.contains("replaced or removed"),
            "{way}: {refused}"
        );
        assert!(desk.is_in_its_place().is_err(), "{way}");
    }
}

#[test]
fn a_place_for_backups_that_takes_none_is_not_set() {
    let practice = Practice::begin();
    let file = practice.path("a file");
    std::fs::write(&file, "x").unwrap();
    let plan = || practice.does(&["backup", practice.path("ok").to_str().unwrap()])["plan"].clone();
    let before = plan();
    for dir in [file.to_str().unwrap(), "/proc", "not/there/../made"] {
        let said = practice.fails(&["backup", dir, "--set", "--as", OPTICIAN]);
        assert!(!said.is_empty());
        assert_eq!(plan(), before, "{dir}");
    }
    assert!(!practice.path("not").exists());
    let done = practice.does(&["backup", ".", "--set", "--as", OPTICIAN]);
    assert!(
        done["notes"].to_string().contains("beside the book"),
        "{done}"
    );
}
