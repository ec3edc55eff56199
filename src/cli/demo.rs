//! `demo`: an invented practice to try the program with.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use serde_json::json;

use super::output::{Outcome, Output, fail};
use crate::book::clock::Clock;
use crate::book::desk::{Desk, DeskError, ErrorKind};
use clap::Args;

#[derive(Debug, Args)]
pub(crate) struct Demo {
    /// A file that does not exist yet [default: a fresh one in the temporary directory]
    #[arg(long, value_name = "FILE")]
    into: Option<PathBuf>,
    /// Build the book only
    #[arg(long)]
    no_open: bool,
    /// How many jobs [default: a small, telling practice]
    #[arg(long, value_name = "N")]
    jobs: Option<usize>,
    /// The same seed gives the same book on the same day
    #[arg(long, value_name = "S")]
    seed: Option<u64>,
}

/// Most file names tried in the temporary directory; only left-over files occupy one.
const TRIES: u32 = 100;

/// Number of jobs where only a seed is given.
const USUAL_JOBS: usize = 1000;
/// The seed where none is given.
const USUAL_SEED: u64 = 1;

/// Builds the invented practice and opens it.
pub(crate) fn demo(mut out: Output, what: &Demo, clock: Clock) -> ExitCode {
    let (file, jobs) = match build(what, clock) {
        Ok(built) => built,
        Err(error) => return out.finish(&Err(error)),
    };
    if what.no_open {
        if out.json {
            out.value(&json!({"ok": true, "file": file.display().to_string(), "jobs": jobs}));
        } else {
            out.line(&format!("{jobs} jobs in {}", file.display()));
        }
        return out.finish(&Ok(Outcome::Done));
    }
    crate::tui::term::show_round(&file, clock)
}

fn build(what: &Demo, clock: Clock) -> Result<(PathBuf, usize), DeskError> {
    let (file, mut desk) = begin(what, clock)?;
    let built = match (what.jobs, what.seed) {
        (None, None) => crate::book::demo::build(&mut desk),
        (jobs, seed) => crate::book::demo::build_many(
            &mut desk,
            jobs.unwrap_or(USUAL_JOBS),
            seed.unwrap_or(USUAL_SEED),
        ),
    };
    match built {
        Ok(built) => Ok((file, built.jobs)),
        Err(error) => {
            drop(desk);
            remove(&file);
            Err(error)
        }
    }
}

/// Removes a half-built book and its side files.
fn remove(file: &Path) {
    for ending in ["", "-wal", "-shm"] {
        let mut name = file.as_os_str().to_owned();
        name.push(ending);
        // A missing file needs no removal, and the first failure is the one reported.
        std::fs::remove_file(name).unwrap_or_default();
    }
}

/// Begins an empty book in a file that does not exist yet.
fn begin(what: &Demo, clock: Clock) -> Result<(PathBuf, Desk), DeskError> {
    if let Some(file) = &what.into {
        if file.symlink_metadata().is_ok() {
            return Err(fail(
                ErrorKind::File,
                format!("{} exists already and is not replaced", file.display()),
                &["name a file that does not exist yet, or leave --into out"],
            ));
        }
        return Ok((file.clone(), Desk::create(file, clock)?));
    }
    let mut refused = None;
    for n in 0..TRIES {
        let name = format!("rimbook-demo-{}-{n}.db", std::process::id());
        let file = std::env::temp_dir().join(name);
        if file.symlink_metadata().is_ok() {
            continue;
        }
        match Desk::create(&file, clock) {
            Ok(desk) => return Ok((file, desk)),
            Err(error) => refused = Some(error),
        }
    }
    Err(refused.unwrap_or_else(|| {
        fail(
            ErrorKind::File,
            "the temporary directory holds too many invented practices",
            &["name a file with --into FILE"],
        )
    }))
}
