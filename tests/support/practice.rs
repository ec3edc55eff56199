//! A practice with a book of its own, worked in by the real program.
#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "each test file uses its part"
)]

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};

use rusqlite::Connection;
use serde_json::{Value, json};
use tempfile::TempDir;

pub const OPTICIAN: &str = "Ines Calloway";
pub const ASSISTANT: &str = "Nadia Brookwell";

pub struct Practice {
    pub place: TempDir,
}

pub struct Said {
    pub status: i32,
    pub json: Value,
    pub err: String,
}

impl Practice {
    /// Two people and three jobs.
    pub fn begin() -> Self {
        let practice = Self {
            place: tempfile::tempdir().unwrap(),
        };
        practice.private();
        practice.add_people();
        for wearer in ["Wanda Holt", "Gethin Maddox", "Marguerite Abernethy"] {
            practice.import(wearer);
        }
        practice
    }

    /// Adds a registered optician and an assistant.
    pub fn add_people(&self) {
        self.does(&[
            "staff",
            "add",
            "--name",
            OPTICIAN,
            "--role",
            "dispensing optician",
            "--registration",
            "R2041",
        ]);
        self.does(&["staff", "add", "--name", ASSISTANT, "--role", "assistant"]);
    }

    #[cfg(unix)]
    fn private(&self) {
        use std::os::unix::fs::PermissionsExt;
        let only_owner = std::fs::Permissions::from_mode(0o700);
        std::fs::set_permissions(self.place.path(), only_owner).unwrap();
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.place.path().join(name)
    }

    pub fn book(&self) -> PathBuf {
        self.path("book.db")
    }

    pub fn command(&self, words: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_rimbook"));
        command
            .arg("--json")
            .args(words)
            .env("RIMBOOK_DB", self.book())
            .env("HOME", self.place.path())
            .env_remove("RIMBOOK_TODAY")
            .current_dir(self.place.path())
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        command
    }

    pub fn start(&self, words: &[&str]) -> Child {
        self.command(words).spawn().unwrap()
    }

    pub fn run(&self, words: &[&str]) -> Said {
        said(&self.command(words).output().unwrap())
    }

    pub fn does(&self, words: &[&str]) -> Value {
        let said = self.run(words);
        assert_eq!(said.status, 0, "{words:?}: {} {}", said.json, said.err);
        said.json
    }

    /// Runs a command that must fail; returns the sentence.
    pub fn fails(&self, words: &[&str]) -> String {
        let said = self.run(words);
        assert_eq!(said.status, 1, "{words:?}: {} {}", said.json, said.err);
        said.json["error"]["message"].as_str().unwrap().to_owned()
    }

    pub fn import(&self, wearer: &str) -> String {
        let file = self.path("job.json");
        std::fs::write(
            &file,
            json!({"format": "rimbook-job", "version": 1, "wearer": {"name": wearer}}).to_string(),
        )
        .unwrap();
        let said = self.does(&["import", file.to_str().unwrap()]);
        said["numbers"][0].as_str().unwrap().to_owned()
    }

    /// Sets a directory for backups that keeps the newest one.
    pub fn keep_newest_in(&self, dir: &Path) {
        let set = ["backup", "--set", dir.to_str().unwrap(), "--as", OPTICIAN];
        let mut words = set.to_vec();
        words.extend(["--keep", "1"]);
        for kept in ["--keep-days", "--keep-weeks", "--keep-months"] {
            words.extend([kept, "0"]);
        }
        self.does(&words);
    }

    pub fn back_up(&self, dir: &Path) -> PathBuf {
        let said = self.does(&["backup", dir.to_str().unwrap()]);
        said["file"].as_str().unwrap().into()
    }

    /// Names of the jobs' wearers in a book.
    pub fn wearers(&self, book: &Path) -> Vec<String> {
        let list = self.does(&["--db", book.to_str().unwrap(), "list"]);
        let mut names: Vec<String> = list
            .as_array()
            .unwrap()
            .iter()
            .map(|j| j["wearer"].as_str().unwrap().to_owned())
            .collect();
        names.sort();
        names
    }

    pub fn doctor(&self, words: &[&str]) -> (i32, Value) {
        let said = self.run(&[&["doctor"], words].concat());
        (said.status, said.json)
    }

    /// The level and the sentence of one look of the doctor.
    pub fn finding(&self, id: &str) -> (String, String) {
        let (status, said) = self.doctor(&[]);
        let all = said["findings"].as_array().unwrap();
        let faulty = all.iter().any(|f| f["level"] == "fault");
        assert_eq!(status, i32::from(faulty), "{said}");
        assert_eq!(said["ok"], json!(!faulty));
        for found in all {
            let is_ok = found["level"] == "ok";
            assert_eq!(found["todo"].is_null(), is_ok, "what to do: {found}");
        }
        let word = |f: &Value, key: &str| f[key].as_str().unwrap().to_owned();
        let found = all.iter().find(|f| f["id"] == id);
        let found = found.unwrap_or_else(|| panic!("{id}: {said}"));
        (word(found, "level"), word(found, "message"))
    }
}

pub fn said(output: &Output) -> Said {
    Said {
        status: output.status.code().unwrap_or(-1),
        json: serde_json::from_slice(&output.stdout).unwrap_or(Value::Null),
        err: String::from_utf8_lossy(&output.stderr).into_owned(),
    }
}

/// The names in a directory, sorted.
pub fn names(dir: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(dir)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// The names in a directory, sorted, without the signed heads beside backups.
pub fn copies(dir: &Path) -> Vec<String> {
    let mut all = names(dir);
    all.retain(|name| !name.contains(".head"));
    all
}

/// The triggers that keep history from being changed.
const KEEPERS: [&str; 4] = [
    "history_is_not_changed",
    "history_is_not_deleted",
    "history_detail_is_not_changed",
    "history_detail_is_only_erased",
];

/// Does something to a book past the program, and leaves the triggers of history as they were, except
/// those that it names.
pub fn past_the_program(book: &Path, sql: &str) {
    #[allow(clippy::disallowed_methods, reason = "past the program")]
    let raw = Connection::open(book).unwrap();
    raw.pragma_update(None, "foreign_keys", false).unwrap();
    let mut again = Vec::new();
    for name in KEEPERS.iter().filter(|name| !sql.contains(**name)) {
        let made: rusqlite::Result<String> = raw.query_row(
            "SELECT sql FROM sqlite_schema WHERE name = ?1",
            [name],
            |r| r.get(0),
        );
        if let Ok(made) = made {
            raw.execute_batch(&format!("DROP TRIGGER {name}")).unwrap();
            again.push(made);
        }
    }
    raw.execute_batch(sql).unwrap();
    for made in again {
        raw.execute_batch(&made).unwrap();
    }
    raw.execute_batch("PRAGMA wal_checkpoint(TRUNCATE)")
        .unwrap();
}

/// Writes rubbish over pages in the middle of a file, past its first `keep` bytes.
pub fn spoil(file: &Path, keep: usize) {
    let mut bytes = std::fs::read(file).unwrap();
    assert!(bytes.len() > keep + 4096, "a file to spoil");
    for byte in bytes.iter_mut().skip(keep) {
        *byte = 0xA5;
    }
    std::fs::write(file, bytes).unwrap();
}
