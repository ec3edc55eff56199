//! The real program in a pseudo-terminal: keys in, the ends of frames out.

use std::io::{Read, Write};
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

use crate::table::ms;

/// What ends a frame: the program's own end of a synchronised update.
const FRAME: &[u8] = b"\x1b[?2026l";
/// How long a frame is waited for before the harness gives up.
const LONG: Duration = Duration::from_secs(30);

/// The program in a terminal of its own; each frame it ends is told with its time.
pub struct Screen {
    child: Box<dyn Child + Send + Sync>,
    _master: Box<dyn MasterPty + Send>,
    writer: Box<dyn Write + Send>,
    frames: Receiver<Instant>,
    pub started: Instant,
}

impl Screen {
    pub fn start(book: &Path) -> Self {
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

    pub fn frame(&self) -> Instant {
        self.frames.recv_timeout(LONG).expect("a frame")
    }

    /// Sends keys and returns how long the frame after them took, ms.
    pub fn press(&mut self, keys: &str) -> f64 {
        while self.frames.try_recv().is_ok() {}
        let sent = Instant::now();
        self.writer.write_all(keys.as_bytes()).unwrap();
        self.writer.flush().unwrap();
        ms(self.frame() - sent)
    }

    /// Types one letter after the other, each with its frame; returns the last one's time.
    pub fn type_in(&mut self, text: &str) -> f64 {
        let mut last = 0.0;
        for letter in text.chars() {
            last = self.press(&letter.to_string());
        }
        last
    }

    /// What the process holds of memory by now, MiB.
    pub fn memory(&self) -> f64 {
        let status = self
            .child
            .process_id()
            .and_then(|id| std::fs::read_to_string(format!("/proc/{id}/status")).ok())
            .unwrap_or_default();
        let kib = status
            .lines()
            .find(|l| l.starts_with("VmRSS"))
            .and_then(|l| l.split_whitespace().nth(1)?.parse::<f64>().ok());
        kib.unwrap_or(f64::NAN) / 1024.0
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        // Whatever it was doing, the measuring is over.
        drop(self.child.kill());
        drop(self.child.wait());
    }
}
