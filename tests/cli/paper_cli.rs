//! `print` on the command line: where the file goes, who can read it, what runs, and that nothing is a shell.

#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests look into the file")]

use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::{Command, Output};

struct Book {
    dir: tempfile::TempDir,
}

impl Book {
    fn new() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let book = Self { dir };
        assert!(
            book.run(&["demo", "--into", "b.db", "--no-open"])
                .status
                .success()
        );
        book
    }

    fn run(&self, words: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(words)
            .current_dir(self.dir.path())
            .env("RIMBOOK_DB", "b.db")
            .env("RIMBOOK_TODAY", "2026-11-25")
            .env("XDG_RUNTIME_DIR", self.dir.path())
            .env("XDG_STATE_HOME", self.dir.path().join("state"))
            .output()
            .unwrap()
    }

    fn set(&self, key: &str, value: &str) {
        let done = self.run(&["practice", "set", key, value, "--as", "Hanne Sorrel"]);
        assert!(done.status.success(), "{done:?}");
    }

    fn path(&self) -> &Path {
        self.dir.path()
    }
}

fn mode(path: &Path) -> u32 {
    std::fs::metadata(path).unwrap().permissions().mode() & 0o777
}

#[test]
fn without_a_file_the_sheet_lies_under_a_name_of_number_and_sheet_for_its_owner_alone() {
    let book = Book::new();
    let done = book.run(&["print", "1001", "--what", "wearer"]);
    assert!(done.status.success(), "{done:?}");
    let file = book.path().join("rimbook/job-1001-wearer.pdf");
    assert_eq!(
        String::from_utf8(done.stdout).unwrap().trim(),
        file.to_str().unwrap()
    );
    assert_eq!(mode(&file), 0o600);
    assert_eq!(mode(&book.path().join("rimbook")), 0o700);
    assert!(std::fs::read(&file).unwrap().starts_with(b"%PDF-"));
    // Printed again, it takes the place of the one before and leaves nothing beside it.
    assert!(
        book.run(&["print", "1001", "--what", "wearer"])
            .status
            .success()
    );
    assert_eq!(
        std::fs::read_dir(book.path().join("rimbook"))
            .unwrap()
            .count(),
        1
    );
}

#[test]
fn a_file_that_exists_is_not_replaced() {
    let book = Book::new();
    std::fs::write(book.path().join("mine.pdf"), "mine").unwrap();
    for form in ["pdf", "text"] {
        let done = book.run(&[
            "print", "1001", "--what", "tray", "--format", form, "--out", "mine.pdf",
        ]);
        assert_eq!(done.status.code(), Some(1), "{done:?}");
    }
    assert_eq!(
        std::fs::read(book.path().join("mine.pdf")).unwrap(),
        b"mine"
    );
}

#[test]
fn the_print_command_gets_the_file_as_one_word_and_no_shell_sees_it() {
    let book = Book::new();
    let tool = book.path().join("tool");
    std::fs::write(
        &tool,
        "#!/bin/sh\nfor w in \"$@\"; do echo \"[$w]\"; done > got\n",
    )
    .unwrap();
    std::fs::set_permissions(&tool, std::fs::Permissions::from_mode(0o700)).unwrap();
    book.set(
        "print-command",
        &format!("{} -o 'a b' ; $(touch made)", tool.display()),
    );
    let done = book.run(&["print", "1001", "--what", "tray"]);
    assert!(done.status.success(), "{done:?}");
    let got = std::fs::read_to_string(book.path().join("got")).unwrap();
    let file = book.path().join("rimbook/job-1001-tray.pdf");
    let wanted = format!(
        "[-o]\n[a b]\n[;]\n[$(touch]\n[made)]\n[{}]\n",
        file.display()
    );
    assert_eq!(got, wanted);
    assert!(!book.path().join("made").exists());
}

#[test]
fn a_print_command_that_came_with_the_book_or_was_put_into_its_file_does_not_run() {
    let book = Book::new();
    let made = |name: &str| book.path().join(name).exists();
    let print = |state: &str| {
        let output = Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(["print", "1001", "--what", "tray"])
            .current_dir(book.path())
            .env("RIMBOOK_DB", "b.db")
            .env("RIMBOOK_TODAY", "2026-11-25")
            .env("XDG_RUNTIME_DIR", book.path())
            .env("XDG_STATE_HOME", book.path().join(state))
            .output()
            .unwrap();
        String::from_utf8(output.stderr).unwrap()
    };
    book.set("print-command", "sh -c 'touch ran'");
    print("state");
    assert!(made("ran"), "what was set here runs here");
    std::fs::remove_file(book.path().join("ran")).unwrap();
    // The book on another machine, or in another's account.
    let said = print("another");
    assert!(said.contains("was not set in this account"), "{said}");
    assert!(said.contains("touch ran"), "{said}");
    assert!(!made("ran"));
    // The command changed in the file, past the program.
    let file = rusqlite::Connection::open(book.path().join("b.db")).unwrap();
    let changed = file
        .execute(
            "UPDATE setting SET content = replace(content, 'touch ran', 'touch planted') WHERE name = 'practice'",
            [],
        )
        .unwrap();
    assert_eq!(changed, 1);
    drop(file);
    let said = print("state");
    assert!(said.contains("touch planted"), "{said}");
    assert!(!made("planted"));
}

#[test]
fn a_print_command_that_fails_says_so_and_the_sheet_stays() {
    let book = Book::new();
    for command in ["false", "/no/such/program"] {
        book.set("print-command", command);
        let done = book.run(&["print", "1001", "--what", "chart"]);
        assert_eq!(done.status.code(), Some(1));
        let said = String::from_utf8(done.stderr).unwrap();
        assert!(
            said.contains("is written to") && said.contains("print command"),
            "{said}"
        );
    }
    assert!(book.path().join("rimbook/job-1001-chart.pdf").exists());
}

#[test]
fn without_a_viewer_open_says_how_to_set_one() {
    let book = Book::new();
    let done = book.run(&["print", "1001", "--what", "chart", "--open"]);
    assert_eq!(done.status.code(), Some(2), "{done:?}");
    let said = String::from_utf8(done.stderr).unwrap();
    assert!(said.contains("rimbook practice set viewer"), "{said}");
}

#[test]
fn a_sheet_as_text_is_on_standard_output() {
    let book = Book::new();
    let done = book.run(&["print", "1001", "--what", "tray", "--format", "text"]);
    let text = String::from_utf8(done.stdout).unwrap();
    assert!(text.starts_with("Tray sheet, job 1001\n"), "{text}");
    assert!(text.contains("Code of the tray: R1001"), "{text}");
    assert_eq!(
        book.run(&["print", "9", "--what", "tray"]).status.code(),
        Some(1)
    );
}
