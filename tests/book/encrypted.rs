//! The book encrypted at rest: `cargo test --features encrypted --test book encrypted::`.
#![cfg(feature = "encrypted")]
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::driver::{assistant, clock, optician, scenario};
use rimbook::testing::book::desk::{Desk, ErrorKind, is_encrypted};
use rimbook::testing::job::Section;
use serde_json::json;

const OPTICIAN: &str = "Ines Calloway";
const PHRASE: &str = "seven blue herons";

/// A plain book with a wearer of a telling name.
fn plain() -> (tempfile::TempDir, PathBuf) {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut desk = Desk::create(&path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    desk.add_staff(assistant()).unwrap();
    for _ in 0..20 {
        let mut job = scenario("S12")["job"].clone();
        job["wearer"]["name"] = json!("Quillfeather");
        desk.import(&job.to_string(), Some(OPTICIAN)).unwrap();
    }
    (dir, path)
}

fn encrypted() -> (tempfile::TempDir, PathBuf, String) {
    let (dir, path) = plain();
    let desk = Desk::open(&path, clock()).unwrap();
    let code = desk.encrypt(&path, OPTICIAN, PHRASE).unwrap();
    (dir, path, code.to_string())
}

fn mentions(dir: &Path, name: &str) -> bool {
    std::fs::read_dir(dir).unwrap().any(|entry| {
        let bytes = std::fs::read(entry.unwrap().path()).unwrap();
        bytes.windows(name.len()).any(|w| w == name.as_bytes())
    })
}

#[test]
fn nothing_of_a_wearer_is_read_from_the_files_and_everything_from_the_book() {
    let (dir, path) = plain();
    assert!(
        mentions(dir.path(), "Quillfeather"),
        "the search finds it while it is plain"
    );
    let before: Vec<_> = {
        let desk = Desk::open(&path, clock()).unwrap();
        desk.numbers()
            .unwrap()
            .iter()
            .map(|n| (desk.load(n).unwrap(), desk.history(n).unwrap()))
            .collect()
    };
    let desk = Desk::open(&path, clock()).unwrap();
    desk.encrypt(&path, OPTICIAN, PHRASE).unwrap();
    assert!(is_encrypted(&path));
    assert!(!mentions(dir.path(), "Quillfeather"));
    let mut desk = Desk::unlock(&path, clock(), PHRASE).unwrap();
    assert_eq!(desk.signed_in(), Some(OPTICIAN));
    for (open, history) in &before {
        assert_eq!(&desk.load(&open.number).unwrap(), open);
        assert_eq!(&desk.history(&open.number).unwrap(), history);
    }
    assert_eq!(desk.find("quill", 50).unwrap().len(), 20);
    // While it is written, too: nothing in the log.
    desk.record(
        "1001",
        Section::Wearer,
        &json!({"notes": "Marrowby"}),
        None,
        Some(OPTICIAN),
    )
    .unwrap();
    assert!(!mentions(dir.path(), "Marrowby") && !mentions(dir.path(), "Quillfeather"));
    drop(desk);
    let walk = {
        use rimbook::testing::book::store::{Store, keyring::Keyring};
        let key = Keyring::of_book(&path).unwrap().open(PHRASE).unwrap().1;
        Store::open_with(&path, key)
            .unwrap()
            .walk_history()
            .unwrap()
    };
    assert_eq!(walk.faults, []);
}

#[test]
fn only_a_passphrase_or_the_code_opens_it() {
    let (dir, path, code) = encrypted();
    let before = std::fs::read(&path).unwrap();
    let error = Desk::open(&path, clock()).unwrap_err();
    assert_eq!(error.kind, ErrorKind::Locked, "{error}");
    for wrong in [
        "seven blue heron",
        "",
        "0000-0000-0000-0000-0000-0000-0000-0000",
    ] {
        let error = Desk::unlock(&path, clock(), wrong).unwrap_err();
        assert_eq!(error.kind, ErrorKind::Refused, "{error}");
    }
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let desk = Desk::unlock(&path, clock(), &code.to_lowercase()).unwrap();
    assert_eq!(desk.signed_in(), None, "the code is nobody's");
    assert_eq!(desk.worklist().unwrap().len(), 20);
    drop(desk);
    // Without the file of the keys it is nobody's book.
    std::fs::remove_file(dir.path().join("book.db.keys")).unwrap();
    assert_eq!(
        Desk::open(&path, clock()).unwrap_err().kind,
        ErrorKind::File
    );
}

#[test]
fn a_passphrase_is_changed_and_given_without_writing_the_book_again() {
    let (_dir, path, _) = encrypted();
    let mut desk = Desk::unlock(&path, clock(), PHRASE).unwrap();
    assert_eq!(
        desk.set_secret("Nadia Brookwell", "8253", OPTICIAN)
            .unwrap_err()
            .kind,
        ErrorKind::Input,
        "a PIN is no passphrase"
    );
    desk.set_secret("Nadia Brookwell", "eight green frogs", OPTICIAN)
        .unwrap();
    desk.set_secret(OPTICIAN, "nine red foxes run", OPTICIAN)
        .unwrap();
    let code = desk.new_recovery_code(&path, OPTICIAN).unwrap();
    drop(desk);
    assert!(Desk::unlock(&path, clock(), PHRASE).is_err());
    for (phrase, who) in [
        ("eight green frogs", Some("Nadia Brookwell")),
        ("nine red foxes run", Some(OPTICIAN)),
        (code.as_str(), None),
    ] {
        assert_eq!(
            Desk::unlock(&path, clock(), phrase).unwrap().signed_in(),
            who
        );
    }
}

#[test]
fn it_is_encrypted_by_a_registered_person_alone_and_not_while_somebody_reads() {
    let (_dir, path) = plain();
    let desk = Desk::open(&path, clock()).unwrap();
    assert_eq!(
        desk.encrypt(&path, "Nadia Brookwell", PHRASE)
            .unwrap_err()
            .kind,
        ErrorKind::Refused
    );
    let other = Desk::open(&path, clock()).unwrap();
    let desk = Desk::open(&path, clock()).unwrap();
    assert_eq!(
        desk.encrypt(&path, OPTICIAN, PHRASE).unwrap_err().kind,
        ErrorKind::Busy
    );
    assert_eq!(other.worklist().unwrap().len(), 20);
    assert!(!is_encrypted(&path));
    drop(other);
    assert_eq!(
        Desk::open(&path, clock())
            .unwrap()
            .worklist()
            .unwrap()
            .len(),
        20
    );
}

#[cfg(unix)]
#[test]
fn the_command_line_asks_for_the_passphrase_and_says_nothing_else() {
    use std::os::unix::fs::PermissionsExt;
    let (dir, path, _) = encrypted();
    let file = dir.path().join("phrase");
    let run = |phrase: &str, arguments: &[&str]| {
        std::fs::write(&file, phrase).unwrap();
        std::fs::set_permissions(&file, std::fs::Permissions::from_mode(0o600)).unwrap();
        Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args([
                "--db",
                path.to_str().unwrap(),
                "--pin-file",
                file.to_str().unwrap(),
            ])
            .args(arguments)
            .output()
            .unwrap()
    };
    let found = run(PHRASE, &["find", "quill"]);
    assert!(found.status.success());
    assert!(String::from_utf8_lossy(&found.stdout).contains("Quillfeather"));
    assert!(
        found.stderr.is_empty(),
        "{}",
        String::from_utf8_lossy(&found.stderr)
    );
    let wrong = run("nobody's phrase", &["find", "quill"]);
    assert_eq!(wrong.status.code(), Some(1));
    let said = String::from_utf8_lossy(&wrong.stderr);
    assert_eq!(
        said.trim(),
        "rimbook: that passphrase does not open the book"
    );
}

#[test]
fn backups_of_an_encrypted_book_are_encrypted_and_come_back() {
    use rimbook::testing::book::desk::{Restore, examine, restore};
    let (dir, path, _) = encrypted();
    let backups = dir.path().join("backups");
    let mut desk = Desk::unlock(&path, clock(), PHRASE).unwrap();
    let made = desk.back_up(Some(&backups)).unwrap();
    assert!(is_encrypted(&made.copied.file));
    assert!(!mentions(&backups, "Quillfeather"));
    desk.cancel("1001", OPTICIAN, "moved away").unwrap();
    drop(desk);
    let doctor = examine(&path, clock(), Some(PHRASE), None, None).unwrap();
    assert!(doctor.is_sound(), "{:?}", doctor.findings);
    assert!(
        !examine(&path, clock(), None, None, None)
            .unwrap()
            .is_sound(),
        "it says that it is locked"
    );
    let what = |secret| Restore {
        file: &made.copied.file,
        book: &path,
        by: OPTICIAN,
        secret,
    };
    assert_eq!(
        restore(what(None), clock()).unwrap_err().kind,
        ErrorKind::Locked
    );
    let restored = restore(what(Some(PHRASE)), clock()).unwrap();
    let kept = restored.kept.unwrap();
    assert!(is_encrypted(&kept), "with its keys beside it");
    let desk = Desk::unlock(&path, clock(), PHRASE).unwrap();
    assert!(desk.load("1001").unwrap().job.stage().is_open());
    // And where the book is gone altogether, with its keys.
    drop(desk);
    for entry in std::fs::read_dir(dir.path()).unwrap() {
        let file = entry.unwrap().path();
        if file.is_file() {
            std::fs::remove_file(file).unwrap();
        }
    }
    restore(what(Some(PHRASE)), clock()).unwrap();
    assert_eq!(
        Desk::unlock(&path, clock(), PHRASE)
            .unwrap()
            .worklist()
            .unwrap()
            .len(),
        20
    );
}
