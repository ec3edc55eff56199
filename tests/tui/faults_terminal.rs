//! Terminals that fail: hung up, told to end, suspended, of no size, flooded. Afterwards the program
//! has ended or works on, the terminal is given back where there is one, and nothing that was
//! acknowledged is lost.
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::faults;

use std::path::Path;
use std::time::{Duration, Instant};

use crate::driver::{Driver, clock, scenario};
use crate::faults::{Child, Dice, report, whole};
use crate::pty::{Pty, Seen, size_of};
use portable_pty::PtySize;
use rimbook::testing::book::desk::Desk;

const TYPED: &str = "01777 900";

fn book() -> Driver {
    Driver::with(&[scenario("S01")["job"].clone()])
}

/// Opened with a change that was acknowledged and an entry that is still being typed.
fn at_work(path: &Path) -> Pty {
    typing(Pty::start(path))
}

fn typing(mut pty: Pty) -> Pty {
    pty.wait_for("Maribel Thorncroft");
    pty.send("w\r");
    pty.wait_for("Ines Calloway");
    pty.send("\r");
    pty.wait_for("the wearer's name as it is written");
    pty.send("Maribel Holt\r");
    pty.wait("the change acknowledged", |s| {
        let shown = s.parser.screen().contents();
        shown.contains("Maribel Holt") && !shown.contains("Maribel Thorncroft")
    });
    pty.send("\x1b[B\x1b[B");
    pty.send(TYPED);
    pty.wait_for(TYPED);
    pty
}

/// What was acknowledged is in the book, what was being typed is offered again, the chain is whole.
fn nothing_is_lost(d: &Driver, what: &str) {
    let desk = Desk::open(&d.path, clock()).unwrap();
    let open = desk.load("1001").unwrap();
    assert_eq!(
        open.job.wearer.name.as_deref(),
        Some("Maribel Holt"),
        "{what}"
    );
    let drafts = desk.drafts("1001").unwrap();
    assert!(drafts.iter().any(|d| d.text == TYPED), "{what}: {drafts:?}");
    drop(desk);
    whole(&d.path);
    let mut again = Pty::start(&d.path);
    again.wait_for("Maribel Holt");
    again.send("\r");
    again.wait_for("This was typed earlier");
    again.wait_for(TYPED);
    again.send("\x11");
    assert_eq!(again.wait_for_end(), 0, "{what}");
}

#[test]
fn told_to_end_by_a_signal_it_keeps_everything_and_gives_the_terminal_back() {
    for signal in ["-TERM", "-HUP", "-INT"] {
        let d = book();
        let mut pty = at_work(&d.path);
        pty.kill(signal);
        assert_eq!(pty.wait_for_end(), 0, "{signal}: it ended in order");
        assert!(pty.is_restored(), "{signal}");
        nothing_is_lost(&d, signal);
    }
}

#[test]
fn with_its_window_closed_it_ends_and_keeps_everything() {
    ends_with_its_window("faults_terminal::has_a_window_until_it_is_killed");
}

#[test]
fn with_a_window_closed_that_sends_no_hang_up_it_ends_and_keeps_everything() {
    ends_with_its_window("faults_terminal::has_an_uncontrolling_window_until_it_is_killed");
}

fn ends_with_its_window(test: &str) {
    let d = book();
    let mut window = Child::start(test, &d.path, 0);
    let id = window.line().expect("the program's number");
    // With the process that has the other side of the terminal that side is gone.
    window.kill_within(Duration::ZERO);
    let from = Instant::now();
    while is_there(&id) {
        assert!(
            from.elapsed() < faults::HANGS,
            "it lives on without a terminal"
        );
    }
    nothing_is_lost(&d, "window closed");
}

/// Whether a process runs; one that has only not been asked for its status does not.
fn is_there(id: &str) -> bool {
    let mut ps = std::process::Command::new("ps");
    let said = ps.args(["-o", "stat=", "-p", id]).output().unwrap();
    let said = String::from_utf8_lossy(&said.stdout).trim().to_owned();
    !said.is_empty() && !said.starts_with('Z')
}

#[test]
#[ignore = "the process that another test kills"]
fn has_an_uncontrolling_window_until_it_is_killed() {
    let (path, _) = faults::given();
    let pty = typing(Pty::start_uncontrolled(&path));
    faults::say(&pty.started());
    faults::wait_for_the_other_side();
}

#[test]
#[ignore = "the process that another test kills"]
fn has_a_window_until_it_is_killed() {
    let (path, _) = faults::given();
    let pty = at_work(&path);
    faults::say(&pty.child.process_id().unwrap().to_string());
    faults::wait_for_the_other_side();
}

#[test]
fn suspended_and_continued_again_and_again_it_keeps_what_is_being_typed() {
    let d = book();
    let mut pty = typing(Pty::start_in_shell(&d.path));
    let program = pty.started();
    for round in 0..5 {
        pty.send("\x1a");
        pty.wait("the own screen left", |s| {
            !s.parser.screen().alternate_screen()
        });
        Pty::wait_until_stopped(&program);
        assert!(
            pty.has_modes(&["icanon", "echo"]),
            "round {round}: suspended"
        );
        pty.send("\n");
        pty.wait("the own screen taken again", |s| {
            s.parser.screen().alternate_screen()
        });
        pty.wait_for(TYPED);
        assert!(
            pty.has_modes(&["-icanon", "-echo"]),
            "round {round}: at work"
        );
    }
    pty.send("\x11");
    Pty::wait_until_gone(&program);
    pty.send("\x04");
    pty.wait_for_end();
    assert!(pty.is_restored());
    nothing_is_lost(&d, "suspended");
}

#[test]
fn the_key_that_suspends_does_nothing_where_no_shell_could_take_the_program_up_again() {
    let d = book();
    let mut pty = at_work(&d.path);
    for key in ["1", "2"] {
        pty.send("\x1a");
        pty.send(key);
    }
    pty.wait_for(&format!("{TYPED}12"));
    pty.send("\x7f\x7f\x11");
    assert_eq!(pty.wait_for_end(), 0);
    assert!(pty.is_restored());
    nothing_is_lost(&d, "not suspended");
}

#[test]
fn told_to_quit_or_to_abort_it_gives_the_terminal_back() {
    for signal in ["-QUIT", "-ABRT"] {
        let d = book();
        let mut pty = at_work(&d.path);
        pty.kill(signal);
        pty.wait_for_end();
        assert!(pty.is_restored(), "{signal}");
        nothing_is_lost(&d, signal);
    }
}

#[test]
fn a_book_that_goes_away_under_the_screen_ends_it_with_a_sentence_and_what_was_typed_in_a_file() {
    type GoesAway = fn(&Path);
    let ways: [(&str, GoesAway); 3] = [
        ("replaced", |path| {
            let other = path.with_file_name("other.db");
            std::fs::copy(path, &other).unwrap();
            std::fs::rename(&other, path).unwrap();
        }),
        ("removed", |path| std::fs::remove_file(path).unwrap()),
        ("emptied", |path| {
            let file = std::fs::File::options().write(true).open(path).unwrap();
            file.set_len(0).unwrap();
        }),
    ];
    for (what, go_away) in ways {
        let d = book();
        let mut pty = at_work(&d.path);
        go_away(&d.path);
        pty.wait("the end", |s| s.ended);
        assert_ne!(pty.wait_for_end(), 0, "{what}");
        assert!(pty.is_restored(), "{what}");
        let shown = pty.seen.0.lock().unwrap().parser.screen().contents();
        let shown = shown.replace('\n', " ");
        assert!(shown.contains("replaced or removed"), "{what}: {shown}");
        assert!(shown.contains("rimbook-typed-"), "{what}: {shown}");
        let kept = std::fs::read_dir(d.path.parent().unwrap())
            .unwrap()
            .map(|f| f.unwrap().path())
            .find(|f| f.extension().is_some_and(|e| e == "txt"))
            .unwrap();
        let text = std::fs::read_to_string(&kept).unwrap();
        assert_eq!(text, format!("1001 wearer.email: {TYPED}\n"), "{what}");
    }
}

#[test]
fn continued_while_it_was_not_suspended_and_stopped_from_outside_it_works_on() {
    let d = book();
    let mut pty = at_work(&d.path);
    pty.kill("-CONT");
    pty.kill("-STOP");
    pty.kill("-CONT");
    pty.send("7");
    pty.wait_for(&format!("{TYPED}7"));
    pty.send("\x7f");
    pty.wait("the last character taken back", |s| {
        !s.parser.screen().contents().contains(&format!("{TYPED}7"))
    });
    pty.kill("-TERM");
    assert_eq!(pty.wait_for_end(), 0);
    nothing_is_lost(&d, "stopped");
}

#[test]
fn of_any_size_down_to_one_by_one_it_goes_on_and_draws_again() {
    let d = book();
    let mut pty = at_work(&d.path);
    for (rows, cols) in [
        (1, 1),
        (24, 80),
        (1, 300),
        (200, 1),
        (2, 2),
        (15, 59),
        (500, 400),
    ] {
        resize(&pty, rows, cols);
        // Whether the key still meets this size is the machine's choice.
        pty.send("7");
    }
    resize(&pty, 24, 80);
    pty.wait_for("Maribel Holt");
    pty.send("8");
    let behind = |s: &Seen| {
        let shown = s.parser.screen().contents();
        let typed = shown.split_once(TYPED)?.1.split_whitespace().next()?;
        typed.ends_with('8').then_some(typed.len())
    };
    pty.wait("the last key", |s| behind(s).is_some());
    let typed = behind(&pty.seen.0.lock().unwrap()).unwrap();
    pty.send(&"\x7f".repeat(typed));
    pty.wait("the last characters taken back", |s| {
        let shown = s.parser.screen().contents();
        shown.contains(&format!("{TYPED} ")) || shown.contains(&format!("{TYPED}\n"))
    });
    pty.kill("-TERM");
    assert_eq!(pty.wait_for_end(), 0);
    assert!(pty.is_restored());
    nothing_is_lost(&d, "resized");
}

fn resize(pty: &Pty, rows: u16, cols: u16) {
    let mut seen = pty.seen.0.lock().unwrap();
    seen.parser
        .screen_mut()
        .set_size(size_of(rows), size_of(cols));
    drop(seen);
    let size = PtySize {
        rows,
        cols,
        pixel_width: 0,
        pixel_height: 0,
    };
    pty.master.as_ref().unwrap().resize(size).unwrap();
}

#[test]
fn flooded_with_a_megabyte_of_pasted_text_it_takes_it_as_text_and_goes_on() {
    let d = book();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    pty.send("w\r");
    pty.wait_for("Ines Calloway");
    pty.send("n");
    pty.wait_for("Name of the wearer:");
    let line = "q Ctrl and \u{7} a letter \u{202e}\u{9b}31m; DROP TABLE job;\r\n";
    let pasted = line.repeat(1_000_000 / line.len() + 1);
    pty.send("\x1b[200~");
    pty.send(&pasted);
    pty.send("\x1b[201~");
    pty.wait_for("DROP TABLE job");
    pty.send("\x1b");
    pty.wait("the question given up", |s| {
        !s.parser.screen().contents().contains("Name of the wearer:")
    });
    pty.send("\x11");
    assert_eq!(pty.wait_for_end(), 0);
    assert!(pty.is_restored());
    let desk = Desk::open(&d.path, clock()).unwrap();
    assert_eq!(
        desk.numbers().unwrap(),
        ["1001"],
        "nothing was begun by what was pasted"
    );
    drop(desk);
    whole(&d.path);
}

/// What a terminal that has gone mad, or a file sent to it, types.
fn garbage(dice: &mut Dice, length: usize) -> Vec<u8> {
    let pieces: [&[u8]; 14] = [
        b"\x1b[",
        b"\x1b]0;",
        b"\x1bP",
        b"\x1b[200~",
        b"\x1b[201~",
        b"\x1b[<0;1;1M",
        b"\x1bO",
        b"\x1b[1;5A",
        b"\x1b[?1;2c",
        b"\x1b[24;80R",
        b"\x9b",
        b"\xff\xfe",
        b"\xf0\x9f\x98",
        b"\x1b[99999999999999999999;9u",
    ];
    let mut all = Vec::with_capacity(length + 32);
    while all.len() < length {
        if dice.below(3) == 0 {
            all.extend_from_slice(pieces[usize::try_from(dice.below(14)).unwrap()]);
        } else {
            let byte = u8::try_from(dice.below(256)).unwrap();
            // Not the keys that suspend or end it: whether it goes on is what is asked. Nor ctrl-\:
            // where a key ends it all the same, the terminal is its own again, and what is left of
            // the flood would end the process by a signal.
            if ![0x1a, 0x11, b'q', b'Q', 0x03, 0x1c].contains(&byte) {
                all.push(byte);
            }
        }
    }
    all
}

#[test]
fn flooded_with_escape_sequences_and_rubbish_it_ends_in_order_with_a_whole_book() {
    let mut ended_early = 0;
    for seed in 0..4 {
        let d = book();
        let mut pty = Pty::start(&d.path);
        pty.wait_for("Maribel Thorncroft");
        let mut dice = Dice::new(seed);
        for _ in 0..8 {
            // It may end on a key that means so; a write to it then fails.
            if pty.try_send(&garbage(&mut dice, 1000)).is_err() {
                break;
            }
        }
        if pty.child.try_wait().unwrap().is_some() {
            ended_early += 1;
        } else {
            pty.kill_if_there("-TERM");
        }
        assert_eq!(pty.wait_for_end(), 0, "seed {seed}");
        assert!(pty.is_restored(), "seed {seed}");
        let seen = String::from_utf8_lossy(&pty.seen.0.lock().unwrap().raw).into_owned();
        assert!(!seen.contains("fault of its own"), "seed {seed}");
        whole(&d.path);
    }
    report(&format!(
        "4 floods of 8 kB of rubbish: ended in order, {ended_early} by a key in it"
    ));
}
