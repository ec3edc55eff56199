//! `docs/checks.md`: what the program prints of its checks, then how often they hold ordinary pairs
//! and planted mistakes. `RIMBOOK_WRITE_DOCS=1 cargo test --test judge docs` writes both again.

use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

/// Begins the part that is counted.
pub const HEADING: &str = "\n## Noise and misses\n";

/// The two parts are written by two tests at the same time.
static WRITING: Mutex<()> = Mutex::new(());

fn path() -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "docs", "checks.md"]
        .iter()
        .collect()
}

/// A part of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    Printed,
    Counted,
}

/// Whether a part of the page is as wanted; where the pages are written again, it is made so.
pub fn is_current(part: Part, wanted: &str) -> bool {
    let _lock = WRITING.lock().unwrap_or_else(PoisonError::into_inner);
    let page = std::fs::read_to_string(path()).unwrap();
    let at = page.find(HEADING).unwrap_or(page.len());
    let (printed, counted) = page.split_at(at);
    if std::env::var_os("RIMBOOK_WRITE_DOCS").is_some() {
        let whole = match part {
            Part::Printed => format!("{wanted}{counted}"),
            Part::Counted => format!("{printed}{wanted}"),
        };
        std::fs::write(path(), whole).unwrap();
        return true;
    }
    wanted
        == match part {
            Part::Printed => printed,
            Part::Counted => counted,
        }
}
