//! Says which commit a release is built from, when that can be known.
//!
//! Only a release asks: a build for development would be built anew with every commit. A source
//! archive has no commits of its own, and what lies around it is not asked; whoever packs one may
//! name the commit in `RIMBOOK_COMMIT`.

use std::path::Path;
use std::process::Command;

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-env-changed=RIMBOOK_COMMIT");
    println!("cargo::rustc-env=RIMBOOK_PROFILE={}", set("PROFILE"));
    let named = set("RIMBOOK_COMMIT");
    let commit = if !named.is_empty() {
        named
    } else if set("PROFILE") == "release" {
        commit().unwrap_or_default()
    } else {
        String::new()
    };
    println!("cargo::rustc-env=RIMBOOK_COMMIT={commit}");
}

fn set(variable: &str) -> String {
    std::env::var(variable)
        .unwrap_or_default()
        .trim()
        .to_owned()
}

/// The commit the sources stand at, marked when they have been changed since.
fn commit() -> Option<String> {
    let here = set("CARGO_MANIFEST_DIR");
    let top = git(&here, &["rev-parse", "--show-toplevel"])?;
    // An archive unpacked inside somebody else's repository is not of that repository.
    if Path::new(&top).canonicalize().ok()? != Path::new(&here).canonicalize().ok()? {
        return None;
    }
    for name in ["HEAD", "refs", "packed-refs", "index"] {
        if let Some(path) = git(&here, &["rev-parse", "--git-path", name]) {
            let path = Path::new(&here).join(path);
            // What is not there would have this run every time.
            if path.exists() {
                println!("cargo::rerun-if-changed={}", path.display());
            }
        }
    }
    for watched in ["src", "Cargo.toml", "Cargo.lock"] {
        println!("cargo::rerun-if-changed={watched}");
    }
    let id = git(&here, &["rev-parse", "--short=12", "HEAD"])?;
    let changed = git(
        &here,
        &[
            "status",
            "--porcelain",
            "--untracked-files=no",
            "--",
            "src",
            "Cargo.toml",
            "Cargo.lock",
            "build.rs",
        ],
    )?;
    Some(if changed.is_empty() {
        id
    } else {
        format!("{id} with changes")
    })
}

fn git(here: &str, arguments: &[&str]) -> Option<String> {
    let done = Command::new("git")
        .arg("-C")
        .arg(here)
        .args(arguments)
        .output()
        .ok()?;
    let said = String::from_utf8(done.stdout).ok()?;
    done.status.success().then(|| said.trim().to_owned())
}
