//! The invented practice to look around in.

use std::path::PathBuf;
use std::process::ExitCode;

use serde_json::json;

use super::args::Demo;
use super::doors;
use super::output::{Outcome, Output, fail};
use crate::clock::Clock;
use crate::desk::{Desk, DeskError, ErrorKind};

/// How many names of the temporary directory are tried; only left-over files take one.
const TRIES: u32 = 100;

/// Builds the invented practice and opens it.
pub(crate) fn demo(mut out: Output, what: &Demo, clock: Clock) -> ExitCode {
    let (file, jobs) = match build(what, clock) {
        Ok(built) => built,
        Err(error) => return out.finish(Err(error)),
    };
    if what.no_open {
        if out.json {
            out.value(&json!({"ok": true, "file": file.display().to_string(), "jobs": jobs}));
        } else {
            out.line(&format!("{jobs} jobs in {}", file.display()));
        }
        return out.finish(Ok(Outcome::Done));
    }
    doors::screens(&file, clock)
}

fn build(what: &Demo, clock: Clock) -> Result<(PathBuf, usize), DeskError> {
    let (file, mut desk) = begin(what, clock)?;
    let jobs = doors::demo(&mut desk, what.jobs, what.seed)?;
    Ok((file, jobs))
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
