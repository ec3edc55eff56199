//! Places that fail a book: no file, no room, no right to write. Each ends in a plain sentence and an
//! untouched file, or with nothing lost; none in a panic, none in a wait for ever.
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::faults;

use std::os::unix::ffi::OsStringExt;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::driver::{clock, scenario};
use crate::faults::{
    Child, OPTICIAN, book, clean, clean_beside, files, program, report, run, whole,
    whole_by_the_program, with,
};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::book::store::Store;
use rusqlite::Connection;
use serde_json::json;

#[test]
fn what_is_no_book_is_refused_by_a_sentence_and_never_waited_for() {
    let dir = tempfile::tempdir().unwrap();
    let place = |name: &str| dir.path().join(name);
    std::fs::create_dir(place("directory")).unwrap();
    std::fs::write(place("empty"), "").unwrap();
    std::fs::write(place("text"), "a letter\n".repeat(2000)).unwrap();
    std::fs::write(place("short"), "SQLite format 3\0").unwrap();
    std::os::unix::fs::symlink(place("nowhere"), place("dangling")).unwrap();
    std::os::unix::fs::symlink(place("loop"), place("loop")).unwrap();
    let _socket = std::os::unix::net::UnixListener::bind(place("socket")).unwrap();
    assert!(run(Command::new("mkfifo").arg(place("pipe"))).status == Some(0));
    let raw = Connection::open(place("foreign")).unwrap();
    raw.execute_batch("CREATE TABLE t (x)").unwrap();
    drop(raw);
    book(&place("newer"));
    let raw = Connection::open(place("newer")).unwrap();
    raw.pragma_update(None, "user_version", 99).unwrap();
    drop(raw);
    let before = files(dir.path());
    for (name, says) in [
        ("directory", "no file"),
        ("empty", "an empty file"),
        ("text", "no rimbook book"),
        ("short", "no rimbook book"),
        ("dangling", "no book at"),
        ("loop", "no rimbook book"),
        ("socket", "no file"),
        ("pipe", "no file"),
        ("foreign", "no rimbook book"),
        ("newer", "version 99"),
        ("not there", "no book at"),
        ("text/book.db", "no rimbook book"),
    ] {
        for words in [&["list"][..], &["--json", "list"]] {
            let mut command = program(&place("x"), words);
            let answer = run(command.env("RIMBOOK_DB", place(name)));
            if words.len() == 1 {
                let said = answer.is_a_refusal(name);
                assert!(said.contains(says), "{name}: {said}");
            } else {
                assert_eq!(answer.status, Some(1), "{name}: {answer:?}");
                assert!(answer.out.contains("\"error\""), "{name}: {answer:?}");
            }
        }
        let mut command = program(&place("x"), &["staff", "list"]);
        let answer = run(command.env("RIMBOOK_DB", place(name)));
        assert_ne!(answer.status, Some(0), "{name}: {answer:?}");
    }
    for device in ["/dev/null", "/dev/zero", "/dev/full"] {
        let mut command = program(&place("x"), &["list"]);
        let answer = run(command.env("RIMBOOK_DB", device));
        answer.is_a_refusal(device);
    }
    assert!(files(dir.path()) == before, "something was touched");
}

#[test]
fn a_book_works_by_a_link_and_under_any_name() {
    let dir = tempfile::tempdir().unwrap();
    let mut names: Vec<std::ffi::OsString> = [
        "with space.db",
        "100%?.db",
        "?mode=memory",
        "file:book.db",
        "#x&y=z.db",
        "'; DROP TABLE job; --",
        "Ωμέγα 本.db",
        "-wal",
        ":memory:",
        "tab\tand\nline.db",
    ]
    .map(Into::into)
    .to_vec();
    names.push(std::ffi::OsString::from_vec(b"not \xFF utf-8.db".to_vec()));
    for name in names {
        let path = dir.path().join(&name);
        book(&path);
        assert_eq!(whole_at(&path), 7, "{name:?}");
        let answer = run(&mut program(&path, &["--json", "list"]));
        assert_eq!(answer.status, Some(0), "{name:?}: {answer:?}");
        assert!(answer.out.contains("1003"), "{name:?}");
    }
    let link = dir.path().join("link");
    std::os::unix::fs::symlink(dir.path().join("with space.db"), &link).unwrap();
    let mut desk = Desk::open(&link, clock()).unwrap();
    desk.new_job("By the link", Some(OPTICIAN)).unwrap();
    drop(desk);
    assert_eq!(whole_at(&dir.path().join("with space.db")), 8);
}

/// Rows of history by the program alone: no other tool takes every name for a file's.
fn whole_at(path: &Path) -> u64 {
    let walk = Store::open(path).unwrap().walk_history().unwrap();
    assert_eq!(walk.faults, []);
    walk.rows
}

/// The job file of a large import.
fn large_file(at: &Path) -> PathBuf {
    let path = at.join("jobs.json");
    let job = scenario("S01")["job"].clone();
    std::fs::write(&path, json!(vec![job; 25]).to_string()).unwrap();
    path
}

#[test]
fn a_file_that_may_grow_no_further_takes_all_of_a_change_or_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let jobs = large_file(dir.path());
    let (original, path) = (dir.path().join("original.db"), dir.path().join("book.db"));
    book(&original);
    let (mut refused, mut done, mut killed) = (0, 0, 0);
    // Blocks of 512 bytes, as POSIX has it; a shell that counts in 1024 tries twice as far.
    for blocks in (0..1400).step_by(100) {
        for ignore in ["trap '' XFSZ; ", ""] {
            clean(&path);
            std::fs::copy(&original, &path).unwrap();
            let mut command = Command::new("sh");
            command
                .arg("-c")
                .arg(format!("{ignore}ulimit -f {blocks}; exec \"$0\" \"$@\""))
                .arg(env!("CARGO_BIN_EXE_rimbook"))
                .arg("import")
                .arg(&jobs)
                .env("RIMBOOK_DB", &path)
                .env("RIMBOOK_TODAY", "2026-10-12")
                .env("HOME", dir.path());
            let answer = run(&mut command);
            let rows = whole_by_the_program(&path);
            match answer.status {
                Some(0) => {
                    assert_eq!(rows, 7 + 25, "{blocks}: {answer:?}");
                    done += 1;
                }
                Some(_) => {
                    let said = answer.is_a_refusal("a file that may grow no further");
                    assert!(said.contains("cannot be written"), "{blocks}: {said}");
                    assert_eq!(rows, 7, "{blocks}: {said}");
                    refused += 1;
                }
                // The system's own way where the signal is not ignored: the same as killed.
                None => {
                    assert!(rows == 7 || rows == 7 + 25, "{blocks}: {rows}");
                    killed += 1;
                }
            }
        }
    }
    assert!(refused > 0 && done > 0, "{refused} refused, {done} done");
    report(&format!(
        "file size limited: {refused} refused, {killed} ended by the system, {done} done; nothing lost"
    ));
}

/// A small disk of its own, where the system lets one be made.
struct SmallDisk(PathBuf);

impl SmallDisk {
    fn mount(at: PathBuf) -> Option<Self> {
        std::fs::create_dir(&at).unwrap();
        let mut command = Command::new("mount");
        command
            .args(["-t", "tmpfs", "-o", "size=1m", "tmpfs"])
            .arg(&at);
        // Where there is no such program, or no right to it, there is no disk.
        let done = command.output().is_ok_and(|o| o.status.success());
        done.then_some(Self(at))
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        drop(Command::new("umount").arg(&self.0).status());
    }
}

#[test]
fn on_a_full_disk_nothing_is_lost_and_with_room_again_work_goes_on() {
    let dir = tempfile::tempdir().unwrap();
    let Some(disk) = SmallDisk::mount(dir.path().join("disk")) else {
        report("skipped: this system lets no small disk be mounted");
        return;
    };
    let jobs = large_file(dir.path());
    let (path, filler) = (disk.0.join("book.db"), disk.0.join("filler"));
    book(&path);
    let (mut refused, mut done) = (0, 0);
    let original = std::fs::read(&path).unwrap();
    for free_kib in (0..760).step_by(40) {
        clean(&path);
        drop(std::fs::remove_file(&filler));
        std::fs::write(&path, &original).unwrap();
        fill(&filler, free_kib * 1024);
        let answer = run(&mut program(&path, &["import", jobs.to_str().unwrap()]));
        std::fs::remove_file(&filler).unwrap();
        let rows = whole_by_the_program(&path);
        if answer.status == Some(0) {
            assert_eq!(rows, 7 + 25, "{free_kib} KiB");
            done += 1;
        } else {
            let said = answer.is_a_refusal("full disk");
            assert!(said.contains("disk is full"), "{free_kib} KiB: {said}");
            assert_eq!(rows, 7, "{free_kib} KiB");
            refused += 1;
        }
        let mut desk = Desk::open(&path, clock()).unwrap();
        desk.new_job("With room again", Some(OPTICIAN)).unwrap();
        assert_eq!(whole(&path), rows + 1);
    }
    assert!(refused > 0 && done > 0, "{refused} refused, {done} done");
    report(&format!(
        "full disk: {refused} refused, {done} done; nothing lost"
    ));
}

/// Fills the disk with a file, leaving so many bytes free.
fn fill(filler: &Path, free: u64) {
    use std::io::Write;
    let mut file = std::fs::File::create(filler).unwrap();
    let block = [0x5A; 4096];
    while file.write_all(&block).is_ok() {}
    let full = file.metadata().unwrap().len();
    file.set_len(full.saturating_sub(free)).unwrap();
}

#[test]
fn a_book_that_may_not_be_written_is_read_and_untouched_and_one_that_may_not_be_read_refused() {
    let dir = tempfile::tempdir().unwrap();
    let as_root = run(Command::new("id").arg("-u")).out.trim() == "0";
    // Root may everything: the program is started as somebody who may not.
    let nobody = ["--reuid=65534", "--regid=65534", "--clear-groups"];
    let drops = Command::new("setpriv").args(nobody).arg("true").output();
    if as_root && !drops.is_ok_and(|o| o.status.success()) {
        report("skipped: root may everything, and there is no setpriv to be somebody else");
        return;
    }
    let mode = |path: &Path, bits: u32| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(bits)).unwrap();
    };
    let place = dir.path().join("place");
    std::fs::create_dir(&place).unwrap();
    let (binary, path) = (dir.path().join("rimbook"), place.join("book.db"));
    std::fs::copy(env!("CARGO_BIN_EXE_rimbook"), &binary).unwrap();
    mode(&binary, 0o755);
    mode(dir.path(), 0o755);
    book(&path);
    let before = files(&place);
    for (of_file, of_place) in [
        (0o444, 0o555),
        (0o444, 0o777),
        (0o666, 0o555),
        (0o000, 0o755),
    ] {
        mode(&path, of_file);
        mode(&place, of_place);
        for words in [
            &["list"][..],
            &["staff", "add", "--name", "A", "--role", "assistant"],
        ] {
            let mut command = Command::new(if as_root {
                Path::new("setpriv")
            } else {
                &binary
            });
            if as_root {
                command.args(nobody).arg(&binary);
            }
            command
                .args(words)
                .env("RIMBOOK_DB", &path)
                .env("HOME", &place);
            let answer = run(&mut command);
            let what = format!("file {of_file:o}, directory {of_place:o}, {words:?}");
            if of_file != 0o000 && words == ["list"] {
                assert_eq!(answer.status, Some(0), "{what}: {answer:?}");
                continue;
            }
            let said = answer.is_a_refusal(&what);
            assert!(said.contains("cannot be"), "{what}: {said}");
        }
        mode(&place, 0o755);
        mode(&path, 0o600);
        let mut after = files(&place);
        // What reading alone needs beside the file may stay; it is as good as empty.
        after.retain(|name, _| name == "book.db");
        assert!(after == before, "{of_file:o} {of_place:o}: touched");
        clean_beside(&path);
    }
    whole(&path);
}

#[test]
fn with_the_clock_set_back_history_keeps_the_order_in_which_things_happened() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    book(&path);
    let change = dir.path().join("change.json");
    for (day, colour) in [("2026-10-20", "grey"), ("2019-01-01", "brown")] {
        std::fs::write(&change, json!({"colour": colour}).to_string()).unwrap();
        let words = ["record", "1001", "frame", change.to_str().unwrap()];
        let answer = run(program(&path, &words).env("RIMBOOK_TODAY", day));
        assert_eq!(answer.status, Some(0), "{answer:?}");
    }
    let desk = Desk::open(&path, clock()).unwrap();
    let history = desk.history("1001").unwrap();
    let colours: Vec<_> = history[2..]
        .iter()
        .map(|e| {
            (
                e.detail["change"]["colour"].clone(),
                e.at.date().to_string(),
            )
        })
        .collect();
    assert_eq!(
        colours,
        [
            (json!("grey"), "2026-10-20".to_owned()),
            (json!("brown"), "2019-01-01".to_owned())
        ],
        "in the order of the work, each with the day as it was told"
    );
    assert_eq!(
        desk.load("1001").unwrap().job.frame.colour.as_deref(),
        Some("brown")
    );
    drop(desk);
    whole(&path);
}

#[test]
fn a_lock_dies_with_the_process_that_held_it() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    book(&path);
    for what in ["BEGIN IMMEDIATE", "BEGIN EXCLUSIVE"] {
        std::fs::write(with(&path, ".lock"), what).unwrap();
        let mut holder = Child::start("faults_disk::holds_a_lock_until_it_is_killed", &path, 0);
        assert_eq!(holder.line().as_deref(), Some("holds"));
        let reads = Desk::open(&path, clock()).map(|d| d.load("1001").map(drop));
        assert!(
            matches!(reads, Ok(Ok(()))),
            "{what}: reading waits for nobody"
        );
        holder.kill_within(std::time::Duration::ZERO);
        let mut desk = Desk::open(&path, clock()).unwrap();
        desk.new_job("After the lock", Some(OPTICIAN)).unwrap();
    }
    assert_eq!(whole(&path), 9, "what was not committed is not there");
}

#[test]
#[ignore = "the process that another test kills"]
fn holds_a_lock_until_it_is_killed() {
    let (path, _) = faults::given();
    let raw = Connection::open(&path).unwrap();
    raw.execute_batch(&std::fs::read_to_string(with(&path, ".lock")).unwrap())
        .unwrap();
    raw.execute_batch("UPDATE job SET revision = revision + 100")
        .unwrap();
    faults::say("holds");
    // Nobody writes to this: it waits until it is killed, or until the other side has gone.
    faults::wait_for_the_other_side();
}
