//! The real program in a terminal of its own: keys go in, what is shown is looked at.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "each test file uses its part"
)]

use std::io::{Read, Write};
use std::path::Path;
use std::sync::{Arc, Condvar, Mutex};
use std::time::Duration;

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

/// What has been seen of the terminal so far.
pub struct Seen {
    pub parser: vt100::Parser,
    pub raw: Vec<u8>,
    pub ended: bool,
}

/// The program in a terminal of its own.
pub struct Pty {
    pub child: Box<dyn Child + Send + Sync>,
    pub master: Option<Box<dyn MasterPty + Send>>,
    pub writer: Box<dyn Write + Send>,
    pub seen: Arc<(Mutex<Seen>, Condvar)>,
}

pub fn size_of(count: u16) -> std::num::NonZeroU16 {
    std::num::NonZeroU16::new(count).unwrap()
}

const LONG: Duration = Duration::from_mins(1);

impl Pty {
    pub fn start(db: &Path) -> Self {
        Self::start_with(db, &[])
    }

    /// Starts the program with some variables of its environment set.
    pub fn start_with(db: &Path, set: &[(&str, &str)]) -> Self {
        let program = CommandBuilder::new(env!("CARGO_BIN_EXE_rimbook"));
        Self::start_by(db, program, set)
    }

    /// Starts the program from a shell that can take it up again: each line sent while the program is
    /// suspended does that, and the end of the input ends the shell.
    pub fn start_in_shell(db: &Path) -> Self {
        let mut shell = CommandBuilder::new("sh");
        shell.arg("-c");
        shell.arg("set -m; \"$0\"; while read -r line; do fg; done");
        shell.arg(env!("CARGO_BIN_EXE_rimbook"));
        Self::start_by(db, shell, &[])
    }

    /// Starts the program with a terminal that does not control it: that terminal sends no hang-up.
    pub fn start_uncontrolled(db: &Path) -> Self {
        let mut session = CommandBuilder::new("setsid");
        session.args(["--wait", env!("CARGO_BIN_EXE_rimbook")]);
        Self::start_by(db, session, &[])
    }

    fn start_by(db: &Path, mut command: CommandBuilder, set: &[(&str, &str)]) -> Self {
        let size = PtySize {
            rows: 24,
            cols: 80,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size).unwrap();
        let path = std::env::var_os("PATH").unwrap_or_default();
        command.env_clear();
        command.env("PATH", path);
        command.env("TERM", "xterm-256color");
        command.env("RIMBOOK_DB", db);
        command.env("RIMBOOK_TODAY", "2026-10-12");
        command.env("HOME", db.parent().unwrap());
        for (name, value) in set {
            command.env(name, value);
        }
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().unwrap();
        let writer = pair.master.take_writer().unwrap();
        let seen = Arc::new((
            Mutex::new(Seen {
                parser: vt100::Parser::new(size_of(24), size_of(80), 0),
                raw: Vec::new(),
                ended: false,
            }),
            Condvar::new(),
        ));
        let shared = Arc::clone(&seen);
        std::thread::spawn(move || {
            let mut buffer = [0; 4096];
            loop {
                let count = reader.read(&mut buffer).unwrap_or(0);
                let mut seen = shared.0.lock().unwrap();
                if count == 0 {
                    seen.ended = true;
                } else {
                    seen.parser.process(&buffer[..count]);
                    seen.raw.extend_from_slice(&buffer[..count]);
                }
                shared.1.notify_all();
                if count == 0 {
                    return;
                }
            }
        });
        Self {
            child,
            master: Some(pair.master),
            writer,
            seen,
        }
    }

    pub fn send(&mut self, text: &str) {
        self.writer.write_all(text.as_bytes()).unwrap();
        self.writer.flush().unwrap();
    }

    /// Sends bytes; fails when nobody is there to take them.
    pub fn try_send(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        self.writer.write_all(bytes)?;
        self.writer.flush()
    }

    /// Waits until the screen is as asked for.
    pub fn wait(&self, what: &str, ready: impl Fn(&Seen) -> bool) {
        let seen = self.seen.0.lock().unwrap();
        let (seen, timeout) = self
            .seen
            .1
            .wait_timeout_while(seen, LONG, |s| !ready(s))
            .unwrap();
        assert!(
            !timeout.timed_out(),
            "waited for {what:?}; shown:\n{}",
            seen.parser.screen().contents()
        );
    }

    pub fn wait_for(&self, text: &str) {
        self.wait(text, |s| s.parser.screen().contents().contains(text));
    }

    pub fn wait_for_end(&mut self) -> u32 {
        let status = self.child.wait().unwrap();
        status.exit_code()
    }

    /// The state of the program that was started by another, in the letter of `ps`; `None` once it has
    /// ended.
    fn state_of(id: &str) -> Option<u8> {
        let mut ps = std::process::Command::new("ps");
        let said = ps.args(["-o", "state=", "-p", id]).output().unwrap();
        said.stdout.first().copied().filter(|state| *state != b'Z')
    }

    /// The id of the program that a shell or another program has started.
    pub fn started(&self) -> String {
        let id = self.child.process_id().unwrap().to_string();
        let mut ps = std::process::Command::new("ps");
        let said = ps.args(["-o", "pid=", "--ppid", &id]).output().unwrap();
        String::from_utf8(said.stdout).unwrap().trim().to_owned()
    }

    /// Waits until a program is stopped: one that is told to go on before that stops for good.
    pub fn wait_until_stopped(id: &str) {
        Self::wait_for_state(id, "stopped", |state| state == Some(b'T'));
    }

    /// Waits until a program that another one has started has ended.
    pub fn wait_until_gone(id: &str) {
        Self::wait_for_state(id, "gone", |state| state.is_none());
    }

    fn wait_for_state(id: &str, what: &str, ready: impl Fn(Option<u8>) -> bool) {
        let begun = std::time::Instant::now();
        while !ready(Self::state_of(id)) {
            assert!(
                begun.elapsed() < LONG,
                "waited for the program to be {what}"
            );
        }
    }

    pub fn kill(&self, signal: &str) {
        let id = self.child.process_id().unwrap().to_string();
        let done = std::process::Command::new("kill")
            .args([signal, &id])
            .status()
            .unwrap();
        assert!(done.success(), "kill {signal}");
    }

    /// Sends a signal to a program that may have ended by now.
    pub fn kill_if_there(&self, signal: &str) {
        if let Some(id) = self.child.process_id() {
            let mut kill = std::process::Command::new("kill");
            drop(kill.args([signal, &id.to_string()]).output());
        }
    }

    /// Whether the terminal has all of these modes, in the words of `stty`.
    pub fn has_modes(&self, modes: &[&str]) -> bool {
        let name = self.master.as_ref().unwrap().tty_name().unwrap();
        let mut stty = std::process::Command::new("stty");
        let said = stty.arg("-a").arg("-F").arg(name).output().unwrap();
        let said = String::from_utf8_lossy(&said.stdout).into_owned();
        let words: Vec<&str> = said.split([' ', ';', '\n']).collect();
        modes.iter().all(|m| words.contains(m))
    }

    /// Whether the terminal was given back: own screen left, paste marks off, cursor shown.
    pub fn is_restored(&self) -> bool {
        self.wait("the end of the output", |s| s.ended);
        let seen = self.seen.0.lock().unwrap();
        let screen = seen.parser.screen();
        !screen.alternate_screen() && !screen.bracketed_paste() && !screen.hide_cursor()
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        // A test that failed must not leave the program behind.
        drop(self.child.kill());
    }
}
