//! Switches the terminal to raw mode and the alternate screen, and back, also after an error or panic.

use std::io::{self, Write};
use std::panic;
use std::sync::atomic::{AtomicBool, Ordering};

use ratatui::crossterm::cursor::{Hide, Show};
use ratatui::crossterm::event::{DisableBracketedPaste, EnableBracketedPaste};
use ratatui::crossterm::execute;
use ratatui::crossterm::terminal::{
    EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode,
    enable_raw_mode,
};

/// Whether the terminal is in raw mode with the alternate screen.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// Restores the terminal when it is dropped.
#[derive(Debug)]
pub(super) struct Guard(());

impl Guard {
    /// Switches the terminal; the returned guard restores it.
    pub(super) fn enter() -> io::Result<Self> {
        let guard = Self(());
        take()?;
        Ok(guard)
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        restore();
    }
}

/// Switches the terminal to raw mode and the alternate screen.
///
/// # Errors
/// The error of the terminal; [`restore`] then undoes the part that was done.
pub(super) fn take() -> io::Result<()> {
    TAKEN.store(true, Ordering::SeqCst);
    enable_raw_mode()?;
    execute!(
        io::stdout(),
        EnterAlternateScreen,
        EnableBracketedPaste,
        Hide
    )
}

/// Restores the terminal; a second call has no effect.
pub(super) fn restore() {
    if !TAKEN.swap(false, Ordering::SeqCst) {
        return;
    }
    // An error here cannot be shown, because the terminal itself has failed.
    drop(execute!(
        io::stdout(),
        EndSynchronizedUpdate,
        DisableBracketedPaste,
        LeaveAlternateScreen,
        Show
    ));
    drop(disable_raw_mode());
}

/// Makes a panic give the terminal back and say one plain sentence.
///
/// The panic's own text may hold a wearer's values, so only its place is said.
pub(super) fn hook_panics() {
    panic::set_hook(Box::new(|info| {
        restore();
        let place = info
            .location()
            .map_or_else(String::new, |l| format!(" ({}:{})", l.file(), l.line()));
        drop(writeln!(
            io::stderr(),
            "rimbook met a fault of its own{place} and ended. Everything kept is in the book, and \
             what was being typed is offered again when the job is opened."
        ));
    }));
}

#[cfg(test)]
mod tests {
    use std::process::Command;

    #[test]
    #[ignore = "the process that another test starts; it ends in a panic"]
    fn panics_with_a_wearers_name() {
        super::hook_panics();
        panic!("Maribel Thorncroft");
    }

    #[test]
    fn a_panic_says_its_place_and_one_sentence_and_no_value() {
        let output = Command::new(std::env::current_exe().unwrap())
            .args(["--ignored", "--exact", "--nocapture", "--test-threads=1"])
            .arg("tui::term::guard::tests::panics_with_a_wearers_name")
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(!output.status.success());
        assert!(
            said.contains("met a fault of its own (src/tui/term/guard.rs:"),
            "{said}"
        );
        assert!(said.contains("Everything kept is in the book"), "{said}");
        assert!(!said.contains("Maribel"), "{said}");
    }
}
