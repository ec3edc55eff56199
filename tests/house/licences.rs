//! The work of others that goes into the program, as cargo knows it, and its licences.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// The systems that packages are made for; each is asked, and what any of them needs is listed.
pub const TARGETS: [&str; 2] = ["x86_64-unknown-linux-gnu", "aarch64-unknown-linux-gnu"];

const BEFORE: &str = "\
# Work of others in the program

Every crate that is compiled into `rimbook` on Linux, with its licence as the crate states it; then the texts of the
licences as they lie in the crates. What is only used to build or test is not in the program and not listed. Where a
crate offers a choice, its text of the MIT licence is the one printed. `RIMBOOK_WRITE_DOCS=1 cargo test --test house packages`
writes this page from `Cargo.lock`.

Not crates, but in the program as well: SQLite (in libsqlite3-sys), which its authors gave to the public domain
(<https://www.sqlite.org/copyright.html>); the Rust standard library, MIT or Apache-2.0
(<https://www.rust-lang.org/policies/licenses>); the typeface Noto Sans under the SIL Open Font Licence 1.1
(`src/exchange/paper/fonts/OFL.txt`). With the feature `encrypted` also SQLCipher, BSD-3-Clause
(`sqlcipher/LICENSE` in libsqlite3-sys), and OpenSSL 3, Apache-2.0 (from openssl-src), in place of plain SQLite.

| crate | version | licence | source |
|---|---|---|---|
";

/// A crate in the program.
pub struct Crate {
    name: String,
    version: String,
    licence: String,
    source: String,
    directory: PathBuf,
    /// Whether only the encrypted book needs it.
    encrypted: bool,
}

impl Crate {
    /// The crate's row of the page.
    pub fn row(&self) -> String {
        let when = if self.encrypted {
            " (only with `encrypted`)"
        } else {
            ""
        };
        format!(
            "| {}{when} | {} | {} | {} |\n",
            self.name, self.version, self.licence, self.source
        )
    }

    /// The texts of its licence: the MIT text where it offers one among others, else all.
    fn texts(&self) -> Vec<String> {
        let mut files: Vec<PathBuf> = std::fs::read_dir(&self.directory)
            .unwrap()
            .map(|e| e.unwrap().path())
            .filter(|p| p.is_file())
            .filter(|p| {
                let name = p.file_name().unwrap().to_string_lossy().to_uppercase();
                ["LICENSE", "LICENCE", "COPYING", "NOTICE", "UNLICENSE"]
                    .iter()
                    .any(|word| name.starts_with(word))
            })
            .collect();
        files.sort();
        let is_choice = !self.licence.contains("AND");
        let mit: Vec<PathBuf> = files
            .iter()
            .filter(|p| {
                let name = p.file_name().unwrap().to_string_lossy().to_uppercase();
                name.contains("MIT") || name.starts_with("NOTICE")
            })
            .cloned()
            .collect();
        if is_choice && mit.iter().any(|p| p.to_string_lossy().contains("MIT")) {
            files = mit;
        }
        files
            .into_iter()
            .map(|p| {
                let text = String::from_utf8_lossy(&std::fs::read(p).unwrap()).into_owned();
                let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
                lines.join("\n").trim().to_owned()
            })
            .collect()
    }
}

/// What cargo says, without the network where that is possible.
pub fn cargo(root: &Path, arguments: &[&str]) -> String {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let run = |more: &[&str]| {
        Command::new(&cargo)
            .args(arguments)
            .arg("--locked")
            .args(more)
            .current_dir(root)
            .output()
            .unwrap()
    };
    // A machine that never built the encrypted book has not all its crates yet.
    let mut done = run(&["--offline"]);
    if !done.status.success() {
        done = run(&[]);
    }
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    String::from_utf8(done.stdout).unwrap()
}

/// Name and version of every crate in the program, with some features.
fn tree(root: &Path, features: &[&str]) -> BTreeSet<(String, String)> {
    let mut found = BTreeSet::new();
    for target in TARGETS {
        let mut arguments = vec!["tree", "-e", "normal,no-proc-macro", "--target", target];
        arguments.extend(["--prefix", "none", "--no-dedupe", "-f", "{p}"]);
        arguments.extend(features);
        for line in cargo(root, &arguments).lines() {
            let mut words = line.split(' ');
            let name = words.next().unwrap_or_default().to_owned();
            let version = words.next().unwrap_or_default();
            let version = version.trim_start_matches('v').to_owned();
            if !name.is_empty() && name != "rimbook" {
                found.insert((name, version));
            }
        }
    }
    found
}

/// Returns every crate in the program, by name.
pub fn crates(root: &Path) -> Vec<Crate> {
    let metadata: Value = serde_json::from_str(&cargo(
        root,
        &[
            "metadata",
            "--format-version",
            "1",
            "--features",
            "encrypted",
            "--filter-platform",
            TARGETS[0],
        ],
    ))
    .unwrap();
    let packages = metadata["packages"].as_array().unwrap();
    let plain = tree(root, &[]);
    tree(root, &["--features", "encrypted"])
        .into_iter()
        .map(|(name, version)| {
            let package = packages
                .iter()
                .find(|p| p["name"] == *name && p["version"] == *version)
                .unwrap_or_else(|| panic!("cargo says nothing of {name} {version}"));
            let word = |key: &str| package[key].as_str().unwrap_or_default().to_owned();
            let licence = word("license");
            assert!(!licence.is_empty(), "{name} names no licence");
            Crate {
                licence,
                source: word("repository"),
                directory: Path::new(&word("manifest_path"))
                    .parent()
                    .unwrap()
                    .to_owned(),
                encrypted: !plain.contains(&(name.clone(), version.clone())),
                name,
                version,
            }
        })
        .collect()
}

/// Returns the whole page.
pub fn page(root: &Path) -> String {
    let crates = crates(root);
    let mut page = BEFORE.to_owned();
    let mut texts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut without = Vec::new();
    for one in &crates {
        page.push_str(&one.row());
        let label = format!("{} {}", one.name, one.version);
        let of_it = one.texts();
        if of_it.is_empty() {
            without.push(label.clone());
        }
        for text in of_it {
            let of = texts.entry(text).or_default();
            if !of.contains(&label) {
                of.push(label.clone());
            }
        }
    }
    if !without.is_empty() {
        writeln!(
            page,
            "\nNo text lies in the package of: {}. Their licence is the one in the table, its text at their source.",
            without.join(", ")
        )
        .unwrap();
    }
    page.push_str("\n## Texts\n");
    let mut listed: Vec<(&Vec<String>, &String)> = texts.iter().map(|(t, of)| (of, t)).collect();
    listed.sort();
    for (of, text) in listed {
        // Longer than any fence in a licence.
        writeln!(page, "\n### {}\n\n`````text\n{text}\n`````", of.join(", ")).unwrap();
    }
    page
}
