//! Drives the real program in a pseudo-terminal and times key to frame; compares with SQLite alone.
//!
//! `cargo bench --bench frames` on an invented practice of its own; `cargo bench --bench frames -- BOOK
//! [TEXT…]` on a copy of a book that is there, with texts to look for. Printed are median, 95th
//! percentile and worst, in milliseconds, and what the process holds of memory.

#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "a harness for people"
)]

use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use rusqlite::{Connection, OpenFlags};

/// What ends a frame: the program's own end of a synchronised update.
const FRAME: &[u8] = b"\x1b[?2026l";
/// How long a frame is waited for before the harness gives up.
const LONG: Duration = Duration::from_secs(30);
const STARTS: usize = 20;
const PRESSES: usize = 40;
/// Set when the harness runs itself as the bare program.
const BARE: &str = "RIMBOOK_BENCH_BARE";

/// The program in a terminal of its own; each frame it ends is told with its time.
struct Screen {
    child: Box<dyn Child + Send + Sync>,
    _master: Box<dyn MasterPty + Send>,
    writer: Box<dyn Write + Send>,
    frames: Receiver<Instant>,
    started: Instant,
}

impl Screen {
    fn start(book: &Path) -> Self {
        let size = PtySize {
            rows: 24,
            cols: 80,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size).unwrap();
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_rimbook"));
        command.env_clear();
        command.env("TERM", "xterm-256color");
        command.env("RIMBOOK_DB", book);
        command.env("HOME", book.parent().unwrap());
        let mut reader = pair.master.try_clone_reader().unwrap();
        let writer = pair.master.take_writer().unwrap();
        let started = Instant::now();
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let (tell, frames) = channel();
        std::thread::spawn(move || {
            let mut buffer = [0; 16384];
            let mut tail: Vec<u8> = Vec::new();
            loop {
                let count = reader.read(&mut buffer).unwrap_or(0);
                if count == 0 {
                    return;
                }
                let now = Instant::now();
                tail.extend_from_slice(&buffer[..count]);
                while let Some(at) = tail.windows(FRAME.len()).position(|w| w == FRAME) {
                    tail.drain(..at + FRAME.len());
                    if tell.send(now).is_err() {
                        return;
                    }
                }
                let keep = tail.len().saturating_sub(FRAME.len());
                tail.drain(..keep);
            }
        });
        Self {
            child,
            _master: pair.master,
            writer,
            frames,
            started,
        }
    }

    fn frame(&self) -> Instant {
        self.frames.recv_timeout(LONG).expect("a frame")
    }

    /// Sends keys and returns how long the frame after them took, ms.
    fn press(&mut self, keys: &str) -> f64 {
        while self.frames.try_recv().is_ok() {}
        let sent = Instant::now();
        self.writer.write_all(keys.as_bytes()).unwrap();
        self.writer.flush().unwrap();
        ms(self.frame() - sent)
    }

    /// Types one letter after the other, each with its frame; returns the last one's time.
    fn type_in(&mut self, text: &str) -> f64 {
        let mut last = 0.0;
        for letter in text.chars() {
            last = self.press(&letter.to_string());
        }
        last
    }

    fn memory(&self) -> String {
        let status = self
            .child
            .process_id()
            .and_then(|id| std::fs::read_to_string(format!("/proc/{id}/status")).ok())
            .unwrap_or_default();
        status
            .lines()
            .filter(|l| l.starts_with("VmRSS") || l.starts_with("RssAnon"))
            .map(|l| l.split_whitespace().collect::<Vec<_>>().join(" "))
            .collect::<Vec<_>>()
            .join(", ")
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        // Whatever it was doing, the measuring is over.
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}

fn say(what: &str, mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    let at = |share: usize| times[(times.len() * share / 100).min(times.len() - 1)];
    println!(
        "{what:44} {:8.2} {:8.2} {:8.2}   of {}",
        at(50),
        at(95),
        times[times.len() - 1],
        times.len()
    );
    at(50)
}

fn bare(book: &str) {
    let c = Connection::open_with_flags(
        book,
        OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX,
    )
    .unwrap();
    let mut statement = c
        .prepare(
            "SELECT number, stage, wearer, due_on, held FROM job
             WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified') ORDER BY stage, due_on, id LIMIT 24",
        )
        .unwrap();
    let rows = statement
        .query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, String>(2)?)))
        .unwrap();
    for row in rows {
        let (number, wearer) = row.unwrap();
        println!("{number} {wearer}");
    }
}

/// From starting a minimal program that opens the file and reads one page of the worklist to its end.
fn start_bare(book: &Path) -> f64 {
    let started = Instant::now();
    let status = Command::new(std::env::current_exe().unwrap())
        .env(BARE, book)
        .stdout(Stdio::null())
        .status()
        .unwrap();
    assert!(status.success());
    ms(started.elapsed())
}

/// Durable transactions of the rows that a move writes, by SQLite alone.
fn bare_moves(dir: &Path) -> Vec<f64> {
    let c = Connection::open(dir.join("bare.db")).unwrap();
    c.execute_batch(
        "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;
         CREATE TABLE job (id INTEGER PRIMARY KEY, content TEXT); CREATE TABLE passed (id INTEGER PRIMARY KEY, content TEXT);
         CREATE TABLE history (id INTEGER PRIMARY KEY, link BLOB); CREATE TABLE detail (id INTEGER PRIMARY KEY, detail TEXT);
         INSERT INTO job VALUES (1, '');",
    )
    .unwrap();
    let content = "x".repeat(2500);
    (0..PRESSES)
        .map(|_| {
            let began = Instant::now();
            c.execute_batch("BEGIN IMMEDIATE").unwrap();
            c.execute("UPDATE job SET content = ?1 WHERE id = 1", [&content])
                .unwrap();
            c.execute("INSERT INTO passed (content) VALUES (?1)", [&content])
                .unwrap();
            c.execute("INSERT INTO history (link) VALUES (zeroblob(96))", [])
                .unwrap();
            c.execute("INSERT INTO detail (detail) VALUES (?1)", ["y".repeat(300)])
                .unwrap();
            c.execute_batch("COMMIT").unwrap();
            ms(began.elapsed())
        })
        .collect()
}

/// The query of a look-up by SQLite alone, every row read.
fn bare_find(book: &Path, text: &str) -> Option<Vec<f64>> {
    let words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(|w| format!("\"{w}\"*"))
        .collect();
    if words.is_empty() || text.chars().count() < 2 {
        return None;
    }
    let c = Connection::open_with_flags(book, OpenFlags::SQLITE_OPEN_READ_ONLY).unwrap();
    let mut statement = c
        .prepare(
            "SELECT number, wearer, born FROM job WHERE id IN
             (SELECT rowid FROM job_search WHERE job_search MATCH ?1 ORDER BY rowid DESC LIMIT 50) ORDER BY id DESC",
        )
        .unwrap();
    let wanted = words.join(" ");
    Some(
        (0..PRESSES)
            .map(|_| {
                let began = Instant::now();
                let rows = statement
                    .query_map([&wanted], |r| r.get::<_, String>(1))
                    .unwrap();
                assert!(rows.count() <= 50);
                ms(began.elapsed())
            })
            .collect(),
    )
}

fn main() {
    if let Some(book) = std::env::var_os(BARE) {
        bare(&book.to_string_lossy());
        return;
    }
    // cargo hands its own words over.
    let mut words = std::env::args().skip(1).filter(|a| !a.starts_with("--"));
    let dir = tempfile::tempdir().unwrap();
    let book: PathBuf = dir.path().join("book.db");
    if let Some(given) = words.next() {
        std::fs::copy(given, &book).unwrap();
    } else {
        let built = Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(["demo", "--no-open", "--into"])
            .arg(&book)
            .stdout(Stdio::null())
            .status()
            .unwrap();
        assert!(built.success());
    }
    let mut texts: Vec<String> = words.collect();
    if texts.is_empty() {
        texts = [
            "h", "ha", "hal", "halima", "noor hal", "0101", "1008", "zzqx",
        ]
        .map(str::to_owned)
        .to_vec();
    }
    println!(
        "{} MB\n{:44} {:>8} {:>8} {:>8}",
        std::fs::metadata(&book).unwrap().len() / 1_000_000,
        "ms",
        "median",
        "95 %",
        "worst"
    );
    let plain = say(
        "SQLite alone: start, open, one page",
        (0..STARTS).map(|_| start_bare(&book)).collect(),
    );
    // The first opening works out what holds each job on a new day.
    Screen::start(&book).frame();
    let ours = say(
        "start to painted worklist",
        (0..STARTS)
            .map(|_| {
                let screen = Screen::start(&book);
                ms(screen.frame() - screen.started)
            })
            .collect(),
    );
    println!("{:44} {:8.2}", "  ratio", ours / plain);
    let mut screen = Screen::start(&book);
    screen.frame();
    screen.press("w");
    screen.press("\x1b[B");
    screen.press("\x1b[B");
    screen.press("\r");
    for text in &texts {
        let mut times = Vec::new();
        for _ in 0..PRESSES {
            screen.press("/");
            times.push(screen.type_in(text));
            screen.press("\x1b");
        }
        say(&format!("look up, last key of {text:?}"), times);
        if let Some(times) = bare_find(&book, text) {
            say("  SQLite alone", times);
        }
    }
    let mut open = Vec::new();
    for _ in 0..PRESSES {
        open.push(screen.press("\r"));
        screen.press("\x1b");
    }
    say("open the selected job", open);
    screen.press("\r");
    screen.press("\x1b4");
    screen.press("\x1b[B");
    let mut saved = Vec::new();
    for n in 0..PRESSES {
        screen.type_in(&format!("shade {n}"));
        saved.push(screen.press("\r"));
        screen.press("\x1b[A");
    }
    say("keep an entry, durable", saved);
    say(
        "  SQLite alone: a move's rows, durable",
        bare_moves(dir.path()),
    );
    println!("memory: {}", screen.memory());
}
