//! Drives the real program in a pseudo-terminal and times key to frame; compares with SQLite alone
//! in the same run, and prints the tables of docs/performance.md.
//!
//! `cargo bench --bench frames` on an invented practice of its own; `cargo bench --bench frames --
//! BOOK… [TEXT…]` on copies of books that are there, a column for each, with texts to look for;
//! `--bench frames -- calc` for the calculations alone. Times are milliseconds, median and 95th
//! percentile.

#![allow(
    unreachable_pub,
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::disallowed_methods,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "a harness for people"
)]

mod bare;
mod calc_kinds;
mod screen;
mod table;
mod work;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use screen::Screen;
use table::{Column, ms};

const STARTS: usize = 40;
const PRESSES: usize = 40;
/// Set when the harness runs itself as the bare program.
const BARE: &str = "RIMBOOK_BENCH_BARE";
/// Of the jobs that nothing holds, one is for entries and one half for each way of moving.
const MOVED: usize = 40;

fn main() {
    if let Some(book) = std::env::var_os(BARE) {
        bare::page(&book.to_string_lossy());
        return;
    }
    // cargo hands its own words over.
    let words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| !a.starts_with("--"))
        .collect();
    let (mut books, mut texts): (Vec<PathBuf>, Vec<String>) = (Vec::new(), Vec::new());
    for word in &words {
        if Path::new(word).is_file() {
            books.push(word.into());
        } else if word != "calc" {
            texts.push(word.clone());
        }
    }
    if texts.is_empty() {
        texts = [
            "h", "ha", "hal", "halima", "noor hal", "0101", "1008", "zzqx",
        ]
        .map(str::to_owned)
        .to_vec();
    }
    if !words.iter().any(|w| w == "calc") {
        let dir = tempfile::tempdir().unwrap();
        if books.is_empty() {
            books.push(invented(dir.path()));
        }
        let columns: Vec<Column> = books.iter().map(|b| measured(b, &texts)).collect();
        table::print(&columns);
    }
    calc_kinds::print();
}

fn invented(dir: &Path) -> PathBuf {
    let book = dir.join("invented.db");
    let built = Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .args(["demo", "--no-open", "--into"])
        .arg(&book)
        .stdout(Stdio::null())
        .status()
        .unwrap();
    assert!(built.success());
    book
}

/// Everything that is measured on one book, on a copy of it.
fn measured(given: &Path, texts: &[String]) -> Column {
    let dir = tempfile::tempdir().unwrap();
    let book = dir.path().join("book.db");
    std::fs::copy(given, &book).unwrap();
    let mut column = Column {
        name: given.file_stem().unwrap().to_string_lossy().into_owned(),
        ..Column::default()
    };
    let column_of = &mut column;
    // The first opening works out what holds each job on a new day.
    Screen::start(&book).frame();
    starts(column_of, &book);
    let mut screen = looks(column_of, &book, texts);
    column_of.text("resident memory, MiB", format!("{:.1}", screen.memory()));
    deeds(column_of, given, &book, &mut screen);
    column_of.text(
        "resident memory after all this, MiB",
        format!("{:.1}", screen.memory()),
    );
    column
}

fn starts(column: &mut Column, book: &Path) {
    // One by turns, so that whatever else the machine does falls on both.
    let (mut bare, mut ours) = (Vec::new(), Vec::new());
    for _ in 0..STARTS {
        bare.push(bare::start(book));
        let screen = Screen::start(book);
        ours.push(ms(screen.frame() - screen.started));
    }
    let bare = column.times(
        "SQLite alone: start a program, open, read one page of the worklist",
        bare,
    );
    let ours = column.times("start to painted worklist", ours);
    column.ratio("ratio", ours, bare);
}

fn looks(column: &mut Column, book: &Path, texts: &[String]) -> Screen {
    let mut screen = Screen::start(book);
    screen.frame();
    screen.press("w");
    screen.press("\x1b[B");
    screen.press("\x1b[B");
    screen.press("\r");
    for text in texts {
        let mut times = Vec::new();
        for _ in 0..PRESSES {
            screen.press("/");
            times.push(screen.type_in(text));
            screen.press("\x1b");
        }
        column.times(&format!("look-up, last key of `{text}`"), times);
        if let Some(times) = bare::find(book, text) {
            column.times(&format!("SQLite alone: `{text}`"), times);
        }
    }
    let mut open = Vec::new();
    for _ in 0..PRESSES {
        open.push(screen.press("\r"));
        screen.press("\x1b");
    }
    column.times("opening a job", open);
    screen
}

fn deeds(column: &mut Column, given: &Path, book: &Path, screen: &mut Screen) {
    let free = work::free(book);
    let (shown, own) = free.split_at(free.len().min(MOVED * 2) / 2);
    let copy = book.with_file_name("bare.db");
    std::fs::copy(given, &copy).unwrap();
    let rows = bare::Rows::of(&copy);

    screen.press("\r");
    screen.press("\x1b4");
    screen.press("\x1b[B");
    let mut to_frame = Vec::new();
    for n in 0..PRESSES {
        screen.type_in(&format!("shade {n}"));
        to_frame.push(screen.press("\r"));
        screen.press("\x1b[A");
    }
    screen.press("\x1b");
    let to_frame = column.times("keeping an entry, durable, to its frame", to_frame);
    let number = free.last().cloned().unwrap_or_default();
    let own_entries = column.times(
        "keeping an entry, durable, the book's own transaction",
        work::entries(book, &number),
    );
    let bare_entries = column.times(
        "SQLite alone: the rows of an entry, durable",
        rows.entries(),
    );
    column.ratio("ratio, transaction", own_entries, bare_entries);
    column.ratio("ratio, to the frame", to_frame, bare_entries);

    let mut to_frame = Vec::new();
    for number in shown.iter().take(MOVED) {
        screen.press("/");
        screen.type_in(number);
        screen.press("\r");
        screen.press("\x07");
        to_frame.push(screen.press("m"));
        screen.press("\x1b");
        screen.press("\x1b");
        screen.press("\x1b");
    }
    let desk = rimbook::testing::book::desk::Desk::open(
        book,
        rimbook::testing::book::clock::Clock::default(),
    )
    .unwrap();
    for number in shown.iter().take(MOVED) {
        let stage = desk.load(number).unwrap().job.stage();
        assert_eq!(
            stage,
            rimbook::testing::job::Stage::Ordered,
            "{number} was moved"
        );
    }
    drop(desk);
    let to_frame = column.times(
        "a move that is let through, durable, to its frame",
        to_frame,
    );
    let own = own.iter().take(MOVED).cloned().collect::<Vec<_>>();
    let own_moves = column.times(
        "a move that is let through, durable, the book's own transaction",
        work::moves(book, &own),
    );
    let bare_moves = column.times("SQLite alone: the rows of a move, durable", rows.moves());
    column.ratio("ratio, transaction, of a move", own_moves, bare_moves);
    column.ratio("ratio, to the frame, of a move", to_frame, bare_moves);
}
