//! What the fault tests share: processes that are killed, chance, and whether a book is whole.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stderr,
    clippy::disallowed_methods,
    missing_docs,
    reason = "each test file uses its part"
)]

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;

use rimbook::testing::book::desk::Desk;
use rimbook::testing::book::store::Store;
use rimbook::testing::job::Section;
use serde_json::json;

use crate::driver::{clock, optician, scenario};

const BOOK: &str = "RIMBOOK_FAULT_BOOK";
const SEED: &str = "RIMBOOK_FAULT_SEED";
const MARK: &str = "told: ";

/// Says what a run found, for whoever runs it with `--nocapture`.
pub fn report(text: &str) {
    eprintln!("{text}");
}

/// Chance that can be had again.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next number (splitmix64, Steele, Lea and Flood 2014).
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below a bound.
    pub fn below(&mut self, bound: u64) -> u64 {
        self.next() % bound
    }

    /// A part of a time, now and then a little more than all of it.
    pub fn part_of(&mut self, time: Duration) -> Duration {
        time * u32::try_from(self.below(1100)).unwrap() / 1000
    }
}

/// This test binary, started again for one of its ignored tests.
pub struct Child {
    process: std::process::Child,
    lines: Receiver<String>,
    kept: Vec<String>,
}

impl Child {
    pub fn start(test: &str, book: &Path, seed: u64) -> Self {
        let mut process = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", test, "--ignored", "--nocapture"])
            .env(BOOK, book)
            .env(SEED, seed.to_string())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let out = BufReader::new(process.stdout.take().unwrap());
        let (send, lines) = channel();
        std::thread::spawn(move || {
            for line in out.lines().map_while(Result::ok) {
                if let Some((_, told)) = line.split_once(MARK)
                    && let Some(told) = told.strip_suffix('.')
                    && send.send(told.to_owned()).is_err()
                {
                    return;
                }
            }
        });
        Self {
            process,
            lines,
            kept: Vec::new(),
        }
    }

    /// The next thing the process says; nothing when it has ended.
    pub fn line(&mut self) -> Option<String> {
        self.lines.recv().ok()
    }

    /// Lets a process begin that waits for the others.
    pub fn go(&mut self) {
        drop(self.process.stdin.take());
    }

    /// Kills the process after a time, or when it has ended by itself.
    pub fn kill_within(&mut self, time: Duration) {
        let until = std::time::Instant::now() + time;
        loop {
            let left = until.saturating_duration_since(std::time::Instant::now());
            match self.lines.recv_timeout(left) {
                Ok(line) => self.kept.push(line),
                Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => break,
            }
        }
        self.process.kill().unwrap();
        self.process.wait().unwrap();
    }

    /// What it had said and nobody had listened to.
    pub fn rest(mut self) -> Vec<String> {
        let mut all = std::mem::take(&mut self.kept);
        all.extend(self.lines.iter());
        all
    }

    /// Waits for its end; says whether it went well and what it had said.
    pub fn end(mut self) -> (bool, Vec<String>) {
        let all: Vec<String> = self.lines.iter().collect();
        (self.process.wait().unwrap().success(), all)
    }
}

impl Drop for Child {
    fn drop(&mut self) {
        drop(self.process.kill());
        drop(self.process.wait());
    }
}

/// In a child: the book it was started for, and its chance.
pub fn given() -> (PathBuf, Dice) {
    let book = std::env::var_os(BOOK).expect("started by another test");
    let seed = std::env::var(SEED).unwrap().parse().unwrap();
    (book.into(), Dice::new(seed))
}

/// In a child: says that something is done, by one write, so that half a line is never taken for one.
pub fn say(text: &str) {
    let mut out = std::io::stdout().lock();
    // Nobody listens any more: the one who started this has ended.
    if out
        .write_all(format!("{MARK}{text}.\n").as_bytes())
        .is_err()
        || out.flush().is_err()
    {
        std::process::exit(1);
    }
}

/// In a child: waits for [`Child::go`], or for the end of the one who started it.
pub fn wait_for_the_other_side() {
    drop(std::io::copy(&mut std::io::stdin(), &mut std::io::sink()));
}

/// Asserts that a book is whole, by the library's own check and by the chain; returns its rows of
/// history.
pub fn whole(path: &Path) -> u64 {
    let raw = rusqlite::Connection::open(path).unwrap();
    let said: String = raw
        .query_row("PRAGMA integrity_check", [], |r| r.get(0))
        .unwrap();
    assert_eq!(said, "ok");
    drop(raw);
    let walk = Store::open(path).unwrap().walk_history().unwrap();
    assert_eq!(walk.faults, []);
    walk.rows
}

/// How long anything may take before it counts as hanging: far longer than it needs.
pub const HANGS: Duration = Duration::from_mins(1);

/// What the real program answered.
#[derive(Debug)]
pub struct Answer {
    /// Exit status; none when a signal ended it.
    pub status: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Answer {
    /// Asserts that it failed with one plain sentence and no fault of its own.
    pub fn is_a_refusal(&self, what: &str) -> &str {
        assert_eq!(self.status, Some(1), "{what}: {self:?}");
        let said = self.err.trim();
        assert!(!said.is_empty() && !said.contains("panicked"), "{what}");
        assert!(!said.contains("fault of its own"), "{what}: {said}");
        said
    }
}

/// Runs a command to its end, or kills it and fails when it hangs.
pub fn run(command: &mut Command) -> Answer {
    let child = command
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let id = child.id();
    let (send, ended) = channel();
    std::thread::spawn(move || send.send(child.wait_with_output()));
    let Ok(output) = ended.recv_timeout(HANGS) else {
        drop(
            Command::new("kill")
                .args(["-KILL", &id.to_string()])
                .status(),
        );
        panic!("it hangs: {command:?}");
    };
    let output = output.unwrap();
    Answer {
        status: output.status.code(),
        out: String::from_utf8_lossy(&output.stdout).into_owned(),
        err: String::from_utf8_lossy(&output.stderr).into_owned(),
    }
}

/// The real program at a book.
pub fn program(book: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rimbook"));
    command
        .args(words)
        .env_clear()
        .env("RIMBOOK_DB", book)
        .env("RIMBOOK_TODAY", "2026-10-12")
        .env("HOME", book.parent().unwrap());
    command
}

/// Every file of a directory with its content; what is no file, by its name alone.
pub fn files(directory: &Path) -> std::collections::BTreeMap<std::ffi::OsString, Vec<u8>> {
    std::fs::read_dir(directory)
        .unwrap()
        .map(Result::unwrap)
        .map(|e| {
            let is_file = e.file_type().unwrap().is_file();
            let content = is_file.then(|| std::fs::read(e.path()).unwrap());
            (e.file_name(), content.unwrap_or_default())
        })
        .collect()
}

/// Bytes of a page of the file.
pub const PAGE: usize = 4096;
pub const OPTICIAN: &str = "Ines Calloway";

/// A book with a few jobs, all of it in the one file.
pub fn book(path: &Path) {
    let mut desk = Desk::create(path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    for (id, colour) in [("S01", "red"), ("S12", "blue"), ("S01", "green")] {
        let file = scenario(id)["job"].to_string();
        let number = desk
            .import(&file, Some(OPTICIAN))
            .unwrap()
            .numbers
            .remove(0);
        let change = json!({"colour": colour});
        desk.record(&number, Section::Frame, &change, None, Some(OPTICIAN))
            .unwrap();
    }
}

pub fn clean(path: &Path) {
    for end in ["", "-wal", "-shm", "-journal"] {
        drop(std::fs::remove_file(with(path, end)));
    }
}

pub fn clean_beside(path: &Path) {
    for end in ["-wal", "-shm"] {
        drop(std::fs::remove_file(with(path, end)));
    }
}

pub fn with(path: &Path, end: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(end);
    name.into()
}

/// Opened by the program first, so that it is the program that puts file and log together.
pub fn whole_by_the_program(path: &Path) -> u64 {
    drop(Desk::open(path, clock()).unwrap());
    whole(path)
}
